"""Strokes: what must be added to views of which lines have been left out, counted as a student would draw it.

A stroke is the longest straight run of one kind, of what is not given. A view is made of pieces, each on a straight line; what is
not given are those at which the part that was drawn shows nothing, and those of the lines that were left out.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from sheetgen.certainty.clauses import Clauses
from sheetgen.certainty.encoding import Shown
from sheetgen.certainty.sights import State
from sheetgen.geometry import Array, IntArray, Mask
from sheetgen.projection import LineKind, Straight, lines_of, view_of
from sheetgen.refusals import Reason, RefusedError
from sheetgen.solid import Solid
from sheetgen.units import NO_WIDTH

STATES = {LineKind.VISIBLE: State.VISIBLE, LineKind.HIDDEN: State.HIDDEN}


@dataclass(frozen=True, slots=True)
class LeftOut:
    """A line that is left out: of ``view``, ``kind``, and its ``number`` among ``lines_of`` that view and kind, from 0."""

    view: str
    kind: LineKind
    number: int


@dataclass(frozen=True, eq=False)
class Pieces:
    """The pieces of a view.

    ``line`` (p,): the straight line on which a piece lies; those with one number follow one another in their order. ``axis``
    (p,): 0, 1, 2, along which that line's level is counted, and ``level`` (p,) its number. ``ends`` (p, 2 ends, 3): mm, part
    frame.
    """

    view: str
    line: IntArray
    axis: IntArray
    level: IntArray
    ends: Array


def blank_pieces(solid: Solid, pieces: Pieces, states: IntArray, left_out: Sequence[LeftOut]) -> Mask:
    """Which pieces (p,) of a view are not given, if the part shows ``states`` (p,) and lines are ``left_out``, some of them of
    this view.

    Raises: ValueError for a line that there is not; RefusedError for one that is not made of these pieces, or if the part's own
    strokes are not as many as its lines.
    """
    mine = [line for line in left_out if line.view == pieces.view]
    view, blank = view_of(solid, pieces.view), states == State.NONE
    ends = view.frame.flat(pieces.ends.reshape(-1, 3)).reshape(-1, 2, 2)
    lengths = np.abs(ends[:, 1] - ends[:, 0]).sum(axis=1)
    for line in mine:
        drawn = lines_of(view, line.kind) if line.kind in STATES else ()
        if not 0 <= line.number < len(drawn):
            raise ValueError(f"no {line.kind} line {line.number} in the {line.view} view; there are {len(drawn)}, counted from 0")
        shape = drawn[line.number]
        assert isinstance(shape, Straight)
        low, high = np.minimum(shape.p, shape.q) - NO_WIDTH, np.maximum(shape.p, shape.q) + NO_WIDTH
        its = ((ends >= low) & (ends <= high)).all(axis=(1, 2))
        if (states[its] != STATES[line.kind]).any() or abs(lengths[its].sum() - shape.length) > NO_WIDTH:
            raise _unlike(pieces.view)
        blank |= its
    if strokes_in(pieces.line, states, blank) != len(mine):
        raise _unlike(pieces.view)
    return np.asarray(blank)


def _unlike(view: str) -> RefusedError:
    return RefusedError([Reason("its lines are not those that the proof reckons with", f"in the {view} view")])


def strokes_in(line: IntArray, states: IntArray, blank: Mask) -> int:
    """How many strokes there are where pieces (p,) are ``blank``, if they show ``states``."""
    count, goes_on = 0, np.concatenate([[False], line[1:] == line[:-1]])
    for kind in (State.VISIBLE, State.HIDDEN):
        added = (states == kind) & blank
        count += int((added & ~(goes_on & np.roll(added, 1))).sum())
    return count


def given_lines_stand(clauses: Clauses, shown: Shown, states: IntArray, given: Mask) -> None:
    """Each piece (p,) that is ``given`` shows what it does."""
    visible, hidden = given & (states == State.VISIBLE), given & (states == State.HIDDEN)
    clauses.each(-shown.level[visible])
    clauses.each(shown.level[hidden])
    clauses.each(-shown.same[hidden])


def strokes_of(clauses: Clauses, line: IntArray, shown: Shown, blank: Mask) -> list[int]:
    """A literal for each piece and kind: here a stroke of that kind begins."""
    hidden = clauses.new(len(blank))
    clauses.each(-hidden, shown.level)
    clauses.each(-hidden, -shown.same)
    clauses.each(hidden, -shown.level, shown.same)
    after = np.flatnonzero((line[1:] == line[:-1]) & blank[1:] & blank[:-1]) + 1
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


def as_many_as_told(clauses: Clauses, literals: IntArray, told: int) -> None:
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
