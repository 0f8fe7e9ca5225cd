"""Views with lines left out, and their number told: which lines would complete them.

A part fits if its views have all lines that are given, each of its kind, and beyond them exactly the number told. Lines are
counted as strokes that a student would add: longest straight runs of one kind, of what is not given. Whole lines are left out,
so those of the part are as many strokes; and other parts are not spared because a stroke of theirs lengthens a given line.

Such a part may have levels that no given line shows. But the faces at a level of its own show as a stroke at least in each of
the two views that do not look along its axis, so there are at most half as many such levels as strokes; and between two levels
of the part that was drawn it does not matter where they lie. So the grid gets that many more levels in each gap, shared out
over the axes in every way, and the proof is complete. Beyond its outermost level a part would need three strokes in each of
two views (its end, and two sides to there); with a second new level anywhere, there or elsewhere, eight in all.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from sheetgen.certainty.assumptions import Assumption
from sheetgen.certainty.clauses import Clauses
from sheetgen.certainty.encoding import Shown, cells_agree, cells_make_a_part, columns_are_shown, neighbours
from sheetgen.certainty.grid import Grid, grid_of, used_levels
from sheetgen.certainty.record import Certainty
from sheetgen.certainty.search import Search, found_by
from sheetgen.certainty.sights import Sight, State, looks_along, sight_of, states_of
from sheetgen.geometry import Array, IntArray, Mask
from sheetgen.projection import LineKind, Straight, frame_of, lines_of, view_of
from sheetgen.refusals import Reason, RefusedError
from sheetgen.solid import Solid
from sheetgen.units import SAME_LEVEL

BEYOND = 6
"""Strokes from which on a part may reach beyond what is drawn."""

MOST_LINES = 7
"""Lines of which it can be proved: with eight, a part might reach beyond what is drawn and have other new levels too."""


@dataclass(frozen=True, slots=True)
class LeftOut:
    """A line that is left out: of ``view``, ``kind``, and its ``number`` among ``lines_of`` that view and kind, from 0."""

    view: str
    kind: LineKind
    number: int


def lines_missing(
    solid: Solid, views: Sequence[str], left_out: Iterable[LeftOut], limit: int, symmetry: Sequence[str] = ()
) -> Certainty:
    """Which lines would complete the three ``views`` without the lines ``left_out``, whose number is told; at most ``limit``
    answers are counted. ``symmetry``: the axes to whose mid-planes the part is told to be symmetric.

    Raises: RefusedError for parts with other faces than square ones, or of too many cells or lines; ValueError for lines that
    there are not, and for views that do not look along all three axes.
    """
    whole, missing = grid_of(solid), tuple(dict.fromkeys(left_out))
    absent = sorted({line.view for line in missing} - set(views))
    if absent:
        raise ValueError(f"lines are left out of views that are not given: {', '.join(absent)}")
    if len({looks_along(view)[0] for view in views}) < 3:
        raise ValueError(f"the views {', '.join(views)} do not look along all three axes")
    if limit < 1:
        raise ValueError(f"a limit of {limit} answers; at least 1")
    if len(missing) > MOST_LINES:
        raise RefusedError([Reason(f"more than {MOST_LINES} lines are left out, too many for a proof that there is one answer")])
    others: dict[object, Grid] = {}
    ended = True
    for finer in _refinements(whole, len(missing)):
        if len(others) < max(limit, 2) - 1:
            found, all_found = _completions(solid, finer, views, missing, max(limit, 2) - len(others), symmetry)
            ended &= all_found
            for other in found:
                others.setdefault(finer.drawn(other, views), Grid(finer.grid.levels, other).tidied())
    shown = tuple(others.values())[:limit - 1]
    complete = ended and len(shown) == len(others) < max(limit, 2) - 1
    return Certainty(ended and not others, 1 + len(shown), Assumption.SQUARE, shown, complete)


@dataclass(frozen=True, eq=False)
class _Finer:
    """A part on a grid with ``more`` new levels in each gap along x, y and z, or with one ``beyond`` each outermost level."""

    grid: Grid
    more: tuple[int, int, int]
    beyond: bool

    def place(self, axis: int, level: int) -> tuple[int, int]:
        """Which of the part's own levels is next below a level, and how many new ones from there on."""
        return divmod(level - self.beyond, self.more[axis] + 1)

    def drawn(self, filled: Mask, views: Sequence[str]) -> object:
        """What is equal for parts whose views show equal lines, on grids of whatever new levels."""
        kept, shape = [], []
        for axis in range(3):
            used = used_levels(filled, axis)
            kept.append(tuple(self.place(axis, level) for level in used.tolist()))
            shape.append(used[:-1])
        tidied = filled[np.ix_(*shape)]
        return tuple(kept), tuple(states_of(sight_of(view, tidied.shape), tidied.ravel()).tobytes() for view in views)


def _refinements(grid: Grid, told: int) -> Iterator[_Finer]:
    """All ways in which the new levels that so many strokes allow may be shared out."""
    most = told // 2
    for x in range(most, -1, -1):
        for y in range(most - x, -1, -1):
            yield _refined(grid, (x, y, most - x - y), beyond=False)
    if told >= BEYOND:
        yield _refined(grid, (0, 0, 0), beyond=True)


def _refined(grid: Grid, more: tuple[int, int, int], *, beyond: bool) -> _Finer:
    levels, filled = [], grid.filled
    for own, count in zip(grid.levels, more, strict=True):
        share = np.arange(count + 1) / (count + 1)
        finer = np.append((own[:-1, None] + share * np.diff(own)[:, None]).ravel(), own[-1])
        step = (own[-1] - own[0]) / 10
        levels.append(np.concatenate([[own[0] - step], finer, [own[-1] + step]]) if beyond else finer)
    for axis, count in enumerate(more):
        filled = np.repeat(filled, count + 1, axis=axis)
    return _Finer(Grid((levels[0], levels[1], levels[2]), np.pad(filled, int(beyond))), more, beyond)


def _completions(
    solid: Solid, finer: _Finer, views: Sequence[str], missing: Sequence[LeftOut], limit: int,
    symmetry: Sequence[str],
) -> tuple[tuple[Mask, ...], bool]:
    """Parts on a grid that complete the views by other lines, fewer than ``limit``, and whether these are all."""
    shape, part = finer.grid.filled.shape, finer.grid.filled.ravel()
    clauses = Clauses(part.size)
    cells_make_a_part(clauses, shape)
    cells_agree(clauses, finer.grid.mirrored(symmetry))
    seen: list[tuple[Sight, Shown]] = []
    strokes: list[int] = []
    for view in views:
        sight = sight_of(view, shape)
        states = states_of(sight, part)
        lines = [line for line in missing if line.view == view]
        blank = (states == State.NONE) | _pieces_of(solid, finer.grid, sight, lines)
        shown = columns_are_shown(clauses, sight)
        _given_lines_stand(clauses, shown, states, ~blank)
        strokes += strokes_of(clauses, sight, shown, blank)
        seen.append((sight, shown))
    _as_many_as_told(clauses, np.array(strokes), len(missing))
    _new_levels_in_order(clauses, finer, seen)

    def unlike(filled: Mask) -> list[int]:
        return [literal for sight, shown in seen for literal in shown.not_as(states_of(sight, filled))]

    with Search(clauses, neighbours(shape), part) as search:
        found, ended = found_by(search, unlike, limit)
    return tuple(other.reshape(shape) for other in found), ended


def _pieces_of(solid: Solid, grid: Grid, sight: Sight, lines: Sequence[LeftOut]) -> Mask:
    """The pieces (p,) of a view of which these lines of it are made. Raises: ValueError for a line that there is not."""
    found = np.zeros(len(sight.line), dtype=bool)
    if not lines:
        return found
    view, ends = view_of(solid, sight.view), _ends(solid, grid, sight)
    for line in lines:
        drawn = lines_of(view, line.kind) if line.kind is not LineKind.CENTRE else ()
        if not 0 <= line.number < len(drawn):
            raise ValueError(f"no {line.kind} line {line.number} in the {line.view} view; there are {len(drawn)}, counted from 0")
        shape = drawn[line.number]
        assert isinstance(shape, Straight)
        low, high = np.minimum(shape.p, shape.q) - SAME_LEVEL, np.maximum(shape.p, shape.q) + SAME_LEVEL
        found |= ((ends >= low) & (ends <= high)).all(axis=(1, 2))
    return found


def _ends(solid: Solid, grid: Grid, sight: Sight) -> Array:
    """Both ends (p, 2 ends, 2) of each piece in the view's own axes, mm."""
    frame = frame_of(sight.view, solid.size)
    sighted = int(np.argmax(np.abs(frame.toward)))
    points = np.zeros((len(sight.line), 2, 3))
    for axis in range(3):
        mine = sight.axis == axis
        along = 3 - axis - sighted
        if mine.any():
            level, begin = sight.at[mine].T
            points[mine, :, axis] = grid.levels[axis][level][:, None]
            points[mine, :, along] = grid.levels[along][begin[:, None] + [0, 1]]
    return frame.flat(points.reshape(-1, 3)).reshape(-1, 2, 2)


def _given_lines_stand(clauses: Clauses, shown: Shown, states: IntArray, given: Mask) -> None:
    visible, hidden = given & (states == State.VISIBLE), given & (states == State.HIDDEN)
    clauses.each(-shown.level[visible])
    clauses.each(shown.level[hidden])
    clauses.each(-shown.same[hidden])


def strokes_of(clauses: Clauses, sight: Sight, shown: Shown, blank: Mask) -> list[int]:
    """A literal for each piece and kind: here a stroke of that kind begins."""
    hidden = clauses.new(len(blank))
    clauses.each(-hidden, shown.level)
    clauses.each(-hidden, -shown.same)
    clauses.each(hidden, -shown.level, shown.same)
    after = np.flatnonzero((sight.line[1:] == sight.line[:-1]) & blank[1:] & blank[:-1]) + 1
    first = blank.copy()
    first[after] = False
    found: list[int] = []
    for kind in (-shown.level, hidden):
        begins = clauses.new(len(after))
        clauses.each(-begins, kind[after])
        clauses.each(-begins, -kind[after - 1])
        clauses.each(begins, -kind[after], kind[after - 1])
        found += kind[first].tolist() + begins.tolist()
    return found


def _as_many_as_told(clauses: Clauses, literals: IntArray, told: int) -> None:
    """Exactly ``told`` of the literals (n,) hold. Variables (n + 1, told + 2) tell whether so many of the first ones do."""
    least = clauses.new(len(literals) + 1, told + 2)
    clauses.each(least[:, 0])
    clauses.each(-least[0, 1:])
    before, here, fewer, it = least[:-1, 1:], least[1:, 1:], least[:-1, :-1], literals[:, None]
    clauses.each(-before, here)
    clauses.each(-fewer, -it, here)
    clauses.each(-here, before, fewer)
    clauses.each(-here, before, it)
    clauses.each(least[-1:, told])
    clauses.each(-least[-1:, told + 1])


def _new_levels_in_order(clauses: Clauses, finer: _Finer, seen: Sequence[tuple[Sight, Shown]]) -> None:
    """Of the new levels in one gap the first ones are used: else one part would be found several times."""
    for axis in range(3):
        pieces: dict[int, list[int]] = {}
        for sight, shown in seen:
            mine = sight.axis == axis
            for level, same in zip(sight.at[mine, 0].tolist(), shown.same[mine].tolist(), strict=True):
                pieces.setdefault(level, []).append(same)
        for level in sorted(pieces):
            if finer.place(axis, level)[1] >= 2:
                used = clauses.new(1)
                clauses.any_of(-np.array([[*pieces[level - 1], used[0]]]))
                clauses.each(np.array(pieces[level]), used)
