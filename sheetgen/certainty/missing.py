"""Views with lines left out, and their number told: which lines would complete them.

A part fits if its views have all lines that are given, each of its kind, and beyond them exactly the number told. Lines are
counted as strokes that a student would add: longest straight runs of one kind, of what is not given. Whole lines are left out,
so those of the part are as many strokes; and other parts are not spared because a stroke of theirs lengthens a given line.

Such a part may have levels that no given line shows. But the faces at a level of its own show as a stroke at least in each of
the two views that do not look along its axis, so there are at most half as many such levels as strokes; and between two levels
of the part that was drawn it does not matter where they lie. So the grid gets that many more levels in each gap, shared out
over the axes in every way, and the proof is complete. Beyond its outermost level a part would need three strokes in each of
two views (its end, and two sides to there); with a second new level anywhere, there or elsewhere, eight in all.

Of a part whose inclined and round faces run along one axis, lines are left out of the two views across that axis alone. All
walls of any such part, flat or round, stand over lines of the view along it, each with a line there (``prisms.py``); that view
is given whole, so those of a part that fits stand over lines of the same plan, which parts no more than its faces. Upright lines
of a view across stand where a line of the plan begins, ends, turns back or meets another, so at places that are known; new
may be levels along the axis alone, of which all is true that is said above: each shows in both views across, and beyond the
outermost one a part has an end and two sides in each of them.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

import numpy as np

from sheetgen.certainty.assumptions import UPRIGHT, Assumption
from sheetgen.certainty.clauses import Clauses
from sheetgen.certainty.encoding import Shown
from sheetgen.certainty.finer import Finer
from sheetgen.certainty.finer_grids import finer_grids
from sheetgen.certainty.finer_prisms import finer_prisms
from sheetgen.certainty.given import check_lines_across
from sheetgen.certainty.grid import Grid, grid_of, is_square
from sheetgen.certainty.prisms import Prism, prism_axis, prism_of
from sheetgen.certainty.record import Certainty
from sheetgen.certainty.search import Search, found_by
from sheetgen.certainty.sights import looks_along
from sheetgen.certainty.strokes import LeftOut, Pieces, as_many_as_told, blank_pieces, given_lines_stand, strokes_of
from sheetgen.geometry import Mask
from sheetgen.refusals import Reason, RefusedError
from sheetgen.solid import Solid

BEYOND = 6
"""Strokes from which on a part may reach beyond what is drawn."""

MOST_LINES = 7
"""Lines of which it can be proved: with eight, a part might reach beyond what is drawn and have other new levels too."""


def views_to_complete(solid: Solid, views: Sequence[str]) -> tuple[str, ...]:
    """Those of the ``views`` of which lines may be left out: of a part whose inclined and round faces run along one axis those
    across it. Raises: RefusedError for a part of which nothing can be proved."""
    if is_square(solid):
        return tuple(views)
    axis = prism_axis(solid)
    return tuple(view for view in views if looks_along(view)[0] != axis)


def lines_missing(
    solid: Solid, views: Sequence[str], left_out: Iterable[LeftOut], limit: int, symmetry: Sequence[str] = ()
) -> Certainty:
    """Which lines would complete the three ``views`` without the lines ``left_out``, whose number is told; at most ``limit``
    answers are counted. ``symmetry``: the axes to whose mid-planes the part is told to be symmetric.

    Raises: RefusedError for parts of which nothing can be proved, of too many cells or lines, and for lines of the view along
    their axis; ValueError for lines that there are not, and for views that do not look along all three axes.
    """
    missing = tuple(dict.fromkeys(left_out))
    open_ones = _checked(solid, views, missing, limit)
    most, beyond = len(missing) // 2, len(missing) >= BEYOND
    if is_square(solid):
        assuming, all_finer = Assumption.SQUARE, _of_grid(solid, most, beyond=beyond)
    else:
        axis = prism_axis(solid)
        assuming, all_finer = UPRIGHT[axis], _of_prism(solid, axis, open_ones, most, symmetry, beyond=beyond)
    others: dict[object, Grid | Prism] = {}
    ended = True
    for finer in all_finer:
        if len(others) < max(limit, 2) - 1:
            clauses = finer.clauses(views, symmetry)
            found, all_found = _completions(solid, finer, clauses, open_ones, missing, max(limit, 2) - len(others))
            ended &= all_found
            for other in found:
                others.setdefault(finer.drawn(other, views), finer.tidied(other))
    shown = tuple(others.values())[:limit - 1]
    complete = ended and len(shown) == len(others) < max(limit, 2) - 1
    return Certainty(ended and not others, 1 + len(shown), assuming, shown, complete)


def _checked(solid: Solid, views: Sequence[str], missing: Sequence[LeftOut], limit: int) -> tuple[str, ...]:
    """The views of which lines may be left out."""
    absent = sorted({line.view for line in missing} - set(views))
    if absent:
        raise ValueError(f"lines are left out of views that are not given: {', '.join(absent)}")
    if len({looks_along(view)[0] for view in views}) < 3:
        raise ValueError(f"the views {', '.join(views)} do not look along all three axes")
    if limit < 1:
        raise ValueError(f"a limit of {limit} answers; at least 1")
    if len(missing) > MOST_LINES:
        raise RefusedError([Reason(f"more than {MOST_LINES} lines are left out, too many for a proof that there is one answer")])
    found = views_to_complete(solid, views)
    if any(line.view not in found for line in missing):
        raise RefusedError([Reason("lines are left out of the view in which its inclined and round faces stand edge-on")])
    return found


def _of_grid(solid: Solid, most: int, *, beyond: bool) -> Iterator[Finer]:
    return finer_grids(grid_of(solid), most, beyond=beyond)


def _of_prism(
    solid: Solid, axis: int, across: Sequence[str], most: int, symmetry: Sequence[str], *, beyond: bool
) -> Iterator[Finer]:
    prism = prism_of(solid, axis)
    for view in across:
        check_lines_across(solid, prism, view)
    return finer_prisms(prism, most, symmetry, beyond=beyond)


def _completions(
    solid: Solid, finer: Finer, clauses: Clauses, views: Sequence[str], missing: Sequence[LeftOut], limit: int
) -> tuple[tuple[Mask, ...], bool]:
    """Parts of which the ``clauses`` are true that complete the ``views`` by other lines, fewer than ``limit``, and whether these
    are all."""
    seen: list[tuple[Pieces, Shown]] = []
    strokes: list[int] = []
    for view in views:
        pieces, states = finer.pieces(view), finer.states(view, finer.part)
        blank = blank_pieces(solid, pieces, states, missing)
        shown = finer.shown(clauses, view)
        given_lines_stand(clauses, shown, states, ~blank)
        strokes += strokes_of(clauses, pieces.line, shown, blank)
        seen.append((pieces, shown))
    as_many_as_told(clauses, np.array(strokes), len(missing))
    _new_levels_in_order(clauses, finer, seen)

    def unlike(filled: Mask) -> list[int]:
        return [literal for pieces, shown in seen for literal in shown.not_as(finer.states(pieces.view, filled))]

    with Search(clauses, finer.pairs, finer.part) as search:
        return found_by(search, unlike, limit)


def _new_levels_in_order(clauses: Clauses, finer: Finer, seen: Sequence[tuple[Pieces, Shown]]) -> None:
    """Of the new levels in one gap the first ones are used: else one part would be found several times."""
    for axis in range(3):
        lines: dict[int, list[int]] = {}
        for pieces, shown in seen:
            mine = pieces.axis == axis
            for level, same in zip(pieces.level[mine].tolist(), shown.same[mine].tolist(), strict=True):
                lines.setdefault(level, []).append(same)
        for level in sorted(lines):
            if finer.place(axis, level)[1] >= 2:
                used = clauses.new(1)
                clauses.any_of(-np.array([[*lines[level - 1], used[0]]]))
                clauses.each(np.array(lines[level]), used)
