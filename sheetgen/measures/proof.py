"""The proof that a question can be solved: the printed measures, and what the drawing shows, fix the solid and do so once."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from sheetgen.geometry import Array
from sheetgen.measures.equations import printed_equations, shown_equations
from sheetgen.measures.measures import Measure
from sheetgen.measures.system import System, system_of
from sheetgen.measures.unknowns import TURN_LENGTH, Loose, Unknowns
from sheetgen.refusals import Reason
from sheetgen.solid import Solid
from sheetgen.units import NO_RANK

SAME_SUM = 1e-5
"""Share of a row, of length 1, that stands in a sum of rows that comes to nothing, above what is left of rounding."""

SOLVED = 0.01
"""mm: how near the solid solved from the printed numbers must come to the true one."""


@dataclass(frozen=True)
class Same:
    """Measures each of which follows from the others, and perhaps from what the drawing shows; ``over``: how many must go."""

    measures: tuple[Measure, ...]
    over: int


@dataclass(frozen=True)
class Proof:
    """What was found. ``loose``: what nothing fixes; ``doubled``: measures that follow from the others, and ``same``: these in
    groups that say the same thing;
    ``error``: greatest distance, mm, of the solved shape from the true one (nan if unsolved for want of measures)."""

    unknowns: int
    equations: int
    loose: tuple[Loose, ...]
    doubled: tuple[Measure, ...]
    error: float
    same: tuple[Same, ...] = ()

    @property
    def free(self) -> tuple[str, ...]:
        """What nothing fixes, in trade words."""
        return tuple(loose.what for loose in self.loose)

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
    system = system_of(unknowns, equations, _anchors(unknowns))
    loose: tuple[Loose, ...] = ()
    doubled: tuple[Measure, ...] = ()
    same: tuple[Same, ...] = ()
    error = float("nan")
    if _fixed(system):
        doubled = tuple(measures[i] for i in _doubled(system, len(measures)))
        same = _same(system, measures) if doubled else ()
        error = _solved_error(system)
    else:
        loose = _free(unknowns, system.matrix)
    return Proof(unknowns.count, len(equations), loose, doubled, error, same)


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
                moves[i] = unknowns.axis_slopes(k)[axis, i]
        row = np.zeros(unknowns.count)
        row[int(np.argmax(np.abs(moves)))] = 1.0
        rows.append(row)
    return np.array(rows)


def _fixed(system: System) -> bool:
    """True if the equations leave nothing free."""
    values = [np.linalg.svd(block.of(system.matrix), compute_uv=False) for block in system.blocks if len(block.rows)]
    least = NO_RANK * max(float(found[0]) for found in values)
    return sum(int((found > least).sum()) for found in values) == system.unknowns.count


def _free(unknowns: Unknowns, matrix: Array) -> tuple[Loose, ...]:
    """What the equations leave free: the unknowns that move most in their null space, one for each dimension of it."""
    _, values, rows = np.linalg.svd(matrix, full_matrices=True)
    rank = int((values > NO_RANK * values[0]).sum())
    space = rows[rank:].copy()
    found = []
    while len(space):
        # Peel off one unknown at a time, so that each free direction is named once.
        strongest = int(np.argmax(np.round(np.abs(space).max(axis=0), 9)))
        found.append(unknowns.loose(strongest))
        row = int(np.argmax(np.abs(space[:, strongest])))
        pivot = space[row] / space[row, strongest]
        space = np.delete(space - np.outer(space[:, strongest], pivot), row, axis=0)
    return tuple(found)


def _doubled(system: System, count: int) -> list[int]:
    """Measures whose equations can be taken away and leave the rank whole: their rows are not independent of all others.

    With Q an orthonormal basis of the columns, rows g can go without loss exactly if I - Qg Qg' is not singular.
    """
    q = np.zeros(system.matrix.shape)
    for block in system.blocks:
        part = block.of(system.matrix)
        q[block.rows[:, None], block.columns] = np.linalg.qr(part / np.sqrt(np.einsum("ij,ij->i", part, part))[:, None])[0]
    rows: list[list[int]] = [[] for _ in range(count)]
    for k, equation in enumerate(system.equations):
        if equation.measure is not None:
            rows[equation.measure].append(k)
    left = 1 - np.einsum("ij,ij->i", q, q)                           # of a measure with one equation
    return [i for i, mine in enumerate(rows) if (left[mine[0]] if len(mine) == 1 else _least_left(q[mine])) > NO_RANK]


def _same(system: System, measures: Sequence[Measure]) -> tuple[Same, ...]:
    """The doubled measures in groups: two are of one group if their rows stand together in a sum of rows that comes to nothing.

    With U an orthonormal basis of the columns, I - UU' projects on all such sums: its entries tell which rows are bound to which,
    and its rank over a group's rows how many of them are too many.
    """
    length = np.linalg.norm(system.matrix, axis=1)
    matrix = system.matrix / np.where(length > 0, length, 1.0)[:, None]
    basis, values, _ = np.linalg.svd(matrix, full_matrices=False)
    basis = basis[:, values > NO_RANK * values[0]]
    rows = [(k, equation.measure) for k, equation in enumerate(system.equations) if equation.measure is not None]
    numbers = np.array([k for k, _ in rows])
    bound = np.eye(len(numbers)) - basis[numbers] @ basis[numbers].T
    group = {i: {i} for i in sorted({i for _, i in rows})}
    for (_, i), line in zip(rows, np.abs(bound) > SAME_SUM, strict=True):
        for (_, j), together in zip(rows, line.tolist(), strict=True):
            if together and group[i] is not group[j]:
                group[i] |= group[j]
                for member in group[j]:
                    group[member] = group[i]
    found = []
    for members in {id(group[i]): group[i] for i in group}.values():
        mine = np.array([k for k, (_, i) in enumerate(rows) if i in members])
        over = int((np.linalg.eigvalsh(bound[np.ix_(mine, mine)]) > SAME_SUM).sum())
        if over:
            found.append(Same(tuple(measures[i] for i in sorted(members)), over))
    return tuple(found)


def _least_left(part: Array) -> float:
    return float(np.linalg.eigvalsh(np.eye(len(part)) - part @ part.T).min())


def _solved_error(system: System) -> float:
    """Solve for the unknowns, and return how far the result is from the true shape, mm."""
    unknowns, (x, left) = system.unknowns, system.solution()
    turning = max(1.0, _reach(unknowns) / TURN_LENGTH)
    reach = np.array([turning if what == "slope" or what.startswith("turn") else 1.0 for _, what in unknowns.owner])
    return float(max(np.abs((x - unknowns.true) * reach).max(), np.abs(left).max(initial=0.0)))


def _reach(unknowns: Unknowns) -> float:
    """mm: how far a turned face can reach from where it turns."""
    return float(np.linalg.norm(unknowns.solid.size))


def fixed_surfaces(solid: Solid, measures: Sequence[Measure], symmetry: tuple[str, ...] = ()) -> frozenset[int]:
    """The surfaces of a solid that some ``measures``, with what the drawing shows, fix in shape and place to the part's first
    levels; ``symmetry``: as of ``prove``. All of them if the measures are complete."""
    unknowns = Unknowns(solid, symmetry)
    equations = [*printed_equations(unknowns, measures), *shown_equations(unknowns, symmetry)]
    _, values, rows = np.linalg.svd(system_of(unknowns, equations, _anchors(unknowns)).matrix, full_matrices=True)
    free = np.abs(rows[int((values > NO_RANK * values[0]).sum()):]).max(axis=0, initial=0.0) > SAME_SUM
    about = unknowns.axis_of
    loose = {k for (k, _), moves in zip(unknowns.owner, free.tolist(), strict=True) if moves}
    placed = {k for (k, what), moves in zip(unknowns.owner, free.tolist(), strict=True) if moves and what.startswith("place")}
    return frozenset(k for k in range(len(solid.surfaces)) if k not in loose and about[k] not in placed)
