"""The proof that a question can be solved: the printed measures, and what the drawing shows, fix the solid and do so once."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from sheetgen.geometry import Array
from sheetgen.measures.equations import Equation, printed_equations, shown_equations
from sheetgen.measures.measures import Measure
from sheetgen.measures.unknowns import TURN_LENGTH, Unknowns
from sheetgen.refusals import Reason
from sheetgen.solid import Solid
from sheetgen.units import NO_RANK, SETTLED

SOLVED = 0.01
"""mm: how near the solid solved from the printed numbers must come to the true one."""

START_OFF = 1.0
"""mm, and TURN_LENGTH-ths of a radian: how far off the start of the solution is, by turns one way and the other."""


@dataclass(frozen=True)
class Proof:
    """What was found. ``free``: what nothing fixes, in trade words; ``doubled``: measures that follow from the others;
    ``error``: greatest distance, mm, of the solved shape from the true one (nan if unsolved for want of measures)."""

    unknowns: int
    equations: int
    free: tuple[str, ...]
    doubled: tuple[Measure, ...]
    error: float

    @property
    def holds(self) -> bool:
        """True if the measures are complete, none is doubled and all are true."""
        return not self.free and not self.doubled and self.error <= SOLVED

    def faults(self) -> list[Reason]:
        """Every fault, in words for a teacher."""
        found = [Reason(f"nothing fixes {what}") for what in self.free]
        found += [Reason(f"the measure `{measure.words}` follows from the others") for measure in self.doubled]
        if not self.free and not self.error <= SOLVED:
            found.append(Reason(f"the printed numbers give a shape that is {self.error:.3g} mm off"))
        return found


def prove(solid: Solid, measures: Sequence[Measure], symmetry: tuple[str, ...] = ()) -> Proof:
    """Prove that ``measures`` determine ``solid``, none of them needlessly, and that their printed values are true.

    ``symmetry``: the axes along which the drawing shows the part to be symmetric, by a centre line.
    Raises: MeasureError if it is not.
    """
    unknowns = Unknowns(solid, symmetry)
    equations = [*printed_equations(unknowns, measures), *shown_equations(unknowns, symmetry)]
    anchors = _anchors(unknowns)
    rows = [equation.function(unknowns.true)[1] for equation in equations]
    matrix = np.concatenate([np.array(rows).reshape(-1, unknowns.count), anchors])
    free = _free(unknowns, matrix)
    doubled: tuple[Measure, ...] = ()
    error = float("nan")
    if not free:
        doubled = tuple(measures[i] for i in _doubled(matrix, equations, len(measures)))
        error = _solved_error(unknowns, equations, anchors)
    return Proof(unknowns.count, len(equations), free, doubled, error)


def _anchors(unknowns: Unknowns) -> Array:
    """Three equations that hold the part still: the first level or axis along x, y and z."""
    rows = []
    for axis in range(3):
        moves = np.zeros(unknowns.count)
        for i, (k, what) in enumerate(unknowns.owner):
            if k < 0:
                continue
            surface = unknowns.solid.surfaces[k]
            if what == "offset":
                moves[i] = surface.normal[axis]  # type: ignore[union-attr]
            elif what == "apex":
                moves[i] = surface.direction[axis]  # type: ignore[union-attr]
            elif what.startswith("place"):
                _, gradient = unknowns.axis_point(k, unknowns.true)
                moves[i] = gradient[axis, i]
        row = np.zeros(unknowns.count)
        row[int(np.argmax(np.abs(moves)))] = 1.0
        rows.append(row)
    return np.array(rows)


def _free(unknowns: Unknowns, matrix: Array) -> tuple[str, ...]:
    """What the equations leave free: the unknowns that move most in their null space, one for each dimension of it."""
    _, values, rows = np.linalg.svd(matrix, full_matrices=True)
    rank = int((values > NO_RANK * values[0]).sum())
    space = rows[rank:].copy()
    found = []
    while len(space):
        # Peel off one unknown at a time, so that each free direction is named once.
        strongest = int(np.argmax(np.round(np.abs(space).max(axis=0), 9)))
        found.append(unknowns.words(strongest))
        row = int(np.argmax(np.abs(space[:, strongest])))
        pivot = space[row] / space[row, strongest]
        space = np.delete(space - np.outer(space[:, strongest], pivot), row, axis=0)
    return tuple(found)


def _doubled(matrix: Array, equations: Sequence[Equation], count: int) -> list[int]:
    """Measures whose equations can be taken away and leave the rank whole: their rows are not independent of all others.

    With Q an orthonormal basis of the columns, rows g can go without loss exactly if I - Qg Qg' is not singular.
    """
    scaled = matrix / np.linalg.norm(matrix, axis=1, keepdims=True)
    q, _ = np.linalg.qr(scaled)
    found = []
    for i in range(count):
        rows = [k for k, equation in enumerate(equations) if equation.measure == i]
        part = q[rows]
        if np.linalg.eigvalsh(np.eye(len(rows)) - part @ part.T).min() > NO_RANK:
            found.append(i)
    return found


def _solved_error(unknowns: Unknowns, equations: Sequence[Equation], anchors: Array) -> float:
    """Solve for the unknowns from a start that is off, by Gauss-Newton, and return how far the result is from the true shape."""
    off = START_OFF * np.where(np.arange(unknowns.count) % 2, 1.0, -1.0) * (1 + 0.1 * (np.arange(unknowns.count) % 7)) / 2
    x = unknowns.true + off
    held = anchors @ unknowns.true
    for _ in range(25):
        values = [equation.function(x) for equation in equations]
        residual = np.concatenate([[value for value, _ in values], anchors @ x - held])
        matrix = np.concatenate([np.array([gradient for _, gradient in values]).reshape(-1, unknowns.count), anchors])
        step = np.linalg.lstsq(matrix, -residual, rcond=None)[0]
        x = x + step
        if np.abs(step).max() < SETTLED:
            break
    residual = np.array([equation.function(x)[0] for equation in equations])
    turning = max(1.0, _reach(unknowns) / TURN_LENGTH)
    reach = np.array([turning if what == "slope" or what.startswith("turn") else 1.0 for _, what in unknowns.owner])
    return float(max(np.abs((x - unknowns.true) * reach).max(), np.abs(residual).max(initial=0.0)))


def _reach(unknowns: Unknowns) -> float:
    """mm: how far a turned face can reach from where it turns."""
    return float(np.linalg.norm(unknowns.solid.size))
