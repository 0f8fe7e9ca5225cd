"""Parts whose inclined and round faces run along one axis: which answers fit given views, that along the axis among them."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

import numpy as np

from sheetgen.certainty.assumptions import UPRIGHT
from sheetgen.certainty.clauses import Clauses
from sheetgen.certainty.encoding import Shown, cells_agree, columns_are_shown, view_is_given
from sheetgen.certainty.plan import Gap, Meeting, Plan
from sheetgen.certainty.prisms import Prism
from sheetgen.certainty.record import Certainty
from sheetgen.certainty.seams import facing, seam_is_shown, seam_states
from sheetgen.certainty.search import Search, found_by
from sheetgen.certainty.sights import Pairs, State, looks_along, states_of
from sheetgen.geometry import IntArray, Mask


def upright_certainty(
    prism: Prism, given: Sequence[str], asked: str | None, limit: int, symmetry: Sequence[str] = (), holes: Mask | None = None,
) -> Certainty:
    """Which answers fit the ``given`` views of a part: views ``asked``, or solids if that is None; of parts that have its
    ``symmetry``, if that is told. ``holes`` (faces + 1, slabs): cells that are known to be empty; then others are counted and not
    told.

    That along its axis is given. Raises: RefusedError for too many cells.
    """
    cells = prism.cells
    clauses = Clauses(int(cells.max()))
    prism_makes_a_part(clauses, prism)
    cells_agree(clauses, prism.mirrored(symmetry))
    if holes is not None:
        clauses.each(-prism.cells[holes])
    for view in given:
        if looks_along(view)[0] == prism.axis:
            pairs = along_axis(prism, view)
            view_is_given(clauses, pairs, states_of(pairs, prism.filled[1:].ravel()))
            continue
        for shown, states in zip(shown_in(clauses, prism, view), states_in(prism, view), strict=True):
            clauses.each(np.where(states == State.NONE, shown.same, -shown.same))
            clauses.each(np.where(states == State.VISIBLE, -shown.level, shown.level))
    asked_ones = shown_in(clauses, prism, asked) if asked else ()

    def unlike(filled: Mask) -> list[int]:
        if asked is None:
            return list(map(int, np.where(filled, -1, 1) * np.arange(1, clauses.cells + 1)))
        other = states_in(prism.filled_as(filled), asked)
        return [literal for shown, states in zip(asked_ones, other, strict=True) for literal in shown.not_as(states)]

    with Search(clauses, prism.neighbours, prism.filled[1:].ravel()) as search:
        found, ended = found_by(search, unlike, max(limit, 2))
    if holes is not None:
        assuming = UPRIGHT[prism.axis].but_for_holes()
        return Certainty(ended and not found, 1 + len(found[:limit - 1]), assuming, (), ended and not found)
    others = tuple(prism.filled_as(other) for other in found[:limit - 1])
    return Certainty(ended and not found, 1 + len(others), UPRIGHT[prism.axis], others, ended and len(others) == len(found))


def along_axis(prism: Prism, view: str) -> Pairs:
    """Neighbouring columns in the view along the axis."""
    cells = prism.cells[:, ::-1] if looks_along(view)[1] else prism.cells
    one, other = np.array(prism.beside).T
    return Pairs(cells[one], cells[other])


def strips_of(prism: Prism, view: str) -> Plan:
    """The plan in strips along which a view across looks."""
    return prism.plan if looks_along(view)[0] == max(axis for axis in range(3) if axis != prism.axis) else prism.across


def _strips(prism: Prism, view: str) -> tuple[tuple[int, ...], ...]:
    """For a view across the faces of each strip from the eye on, as many for each."""
    from_high, plan = looks_along(view)[1], strips_of(prism, view)
    depth = max(map(len, plan.faces))
    rows = [faces[::-1] if from_high else faces for faces in plan.faces]
    return tuple((*row, *(0,) * (depth - len(row))) for row in rows)


def _rises(prism: Prism, view: str) -> Pairs:
    """Neighbouring columns, one above the other, in a view across: strip by strip, level by level."""
    strips = _strips(prism, view)
    cells = np.pad(prism.cells, ((0, 0), (1, 1)))[np.array(strips)]       # strips, depth, slabs and the air below and above
    columns = np.moveaxis(cells, 1, 2)
    return Pairs(*(part.reshape(-1, columns.shape[2]) for part in (columns[:, :-1], columns[:, 1:])))


def _seams(prism: Prism, view: str) -> list[tuple[Gap | Meeting, ...]]:
    """The seams of a view across, from the eye on."""
    return [facing(seam, from_high=looks_along(view)[1]) for seam in strips_of(prism, view).seams]


def states_in(prism: Prism, view: str) -> list[IntArray]:
    """What a view shows: of one along the axis, between each two faces of the plan; of one across, level by level of each strip,
    then slab by slab of each seam."""
    if looks_along(view)[0] == prism.axis:
        return [states_of(along_axis(prism, view), prism.filled[1:].ravel())]
    rises = states_of(_rises(prism, view), prism.filled[1:].ravel())
    return [rises, *(seam_states(seam, prism.filled) for seam in _seams(prism, view))]


def shown_in(clauses: Clauses, prism: Prism, view: str) -> list[Shown]:
    """The same told by variables."""
    if looks_along(view)[0] == prism.axis:
        return [columns_are_shown(clauses, along_axis(prism, view))]
    cells = np.where(prism.cells == 0, clauses.false, prism.cells)
    return [columns_are_shown(clauses, _rises(prism, view)),
            *(seam_is_shown(clauses, seam, cells) for seam in _seams(prism, view))]


def row_by_row(prism: Prism, parts: Sequence[IntArray]) -> IntArray:
    """What was told of a view across in the order of ``states_in``, level by level over all strips, then seam by seam."""
    rises, *seams = parts
    return np.concatenate([rises.reshape(-1, len(prism.levels)).T.ravel(), *seams])


def lengths_across(prism: Prism, view: str) -> tuple[float, float]:
    """The lengths of the visible and of the hidden lines of a view across, mm."""
    rises, *seams = states_in(prism, view)
    steps = np.repeat(np.diff(strips_of(prism, view).places), len(prism.levels))
    slabs = np.diff(prism.levels)
    visible, hidden = (
        float(steps[rises == state].sum() + sum(slabs[states == state].sum() for states in seams))
        for state in (State.VISIBLE, State.HIDDEN))
    return visible, hidden


def prism_makes_a_part(clauses: Clauses, prism: Prism) -> None:
    """Material nowhere touches other material in an edge or a corner alone."""
    cells = np.where(prism.cells == 0, clauses.false, prism.cells)
    for one, other in prism.beside:
        for low, high in pairwise(range(cells.shape[1])):
            a, b, c, d = cells[one, low], cells[one, high], cells[other, low], cells[other, high]
            clauses.add(np.array([[-a, -d, b, c], [-b, -c, a, d]]))
    for ring in prism.rings:
        _ring_is_whole(clauses, cells[list(ring)])


def _ring_is_whole(clauses: Clauses, ring: IntArray) -> None:
    """Round a point of the plan (faces, slabs) what is filled lies together, in each slab and from slab to slab."""
    count, slabs = ring.shape
    for i in range(count):
        for k in range(i + 2, count):
            for j in range(i + 1, k):
                for m in [*range(k + 1, count), *range(i)]:
                    clauses.each(-ring[i], ring[j], -ring[k], ring[m])
    if slabs < 2:
        return
    low, high = ring[:, :-1], ring[:, 1:]
    for sense in (1, -1):                                                 # material, and the air round it
        both = clauses.new(*low.shape)
        clauses.each(-both, sense * low)
        clauses.each(-both, sense * high)
        for i in range(count):
            for j in range(count):
                if i != j:
                    clauses.each(-sense * low[i], -sense * high[j], *both)
