"""Where the line of the third hint is: how it runs, how long it is, how far from what. Sizes of the part, mm."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Protocol

from sheetgen.exercises.hints.landmarks import SIDES, Landmark, ViewAxes
from sheetgen.exercises.hints.lists import counted_word, listed
from sheetgen.exercises.hints.sentences import view_words
from sheetgen.geometry import Array
from sheetgen.measures.measures import number
from sheetgen.projection import Shape, Straight
from sheetgen.sheet import Settings
from sheetgen.sight import PlacedView
from sheetgen.units import SAME_LEVEL


class Named(Protocol):
    """A line that is named."""

    @property
    def shape(self) -> Shape:
        """As it is drawn."""

    @property
    def why(self) -> str:
        """Why it is missed."""


def level_of(line: Straight) -> int | None:
    """The way of the view, across (0) or up (1), along which all of a line lies at one level; None if it slants."""
    return next((way for way in (0, 1) if abs(float(line.p[way] - line.q[way])) < SAME_LEVEL), None)


def place_of(mates: Sequence[Named], placed: PlacedView, marks: Sequence[Landmark], settings: Settings) -> str:
    """Where a line is, the first of ``mates``, and how it runs; the others are named with it."""
    say, view, line = settings.wording.render, view_words(placed, settings), mates[0]
    seen = "yes" if line.why == "shortest" else "no"
    if not isinstance(line.shape, Straight):
        return say("hints.missed_curve", view=view, seen=seen)
    lines, way = [each.shape for each in mates if isinstance(each.shape, Straight)], level_of(line.shape)
    count, length = counted_word(len(lines), settings.wording), number(round(line.shape.length, 1))
    if way is None:
        one, other = (point_of(end, placed, settings) for end in (line.shape.p, line.shape.q))
        key = "hints.missed_slant" if len(lines) == 1 else "hints.missed_slants"
        said = {"count": count} if len(lines) > 1 else {}
        return say(key, view=view, seen=seen, length=length, one=one, other=other, **said)
    run = "vertical" if way == 0 else "horizontal"
    at = where_of([float(each.p[way]) for each in lines], way, marks, settings)
    if len(lines) == 1:
        return say("hints.missed_at" if at else "hints.missed_line", view=view, run=run, seen=seen, length=length,
                   **({"at": at} if at else {}))
    levels = {round(float(each.p[way]), 3) for each in lines}
    if len(levels) > 1:
        return say("hints.missed_pair", view=view, run=run, seen=seen, count=count, length=length, at=at)
    lines.sort(key=lambda each: min(float(each.p[1 - way]), float(each.q[1 - way])))
    rounded = [number(round(each.length, 1)) for each in lines]
    lengths = say("hints.each", what=length) if len(set(rounded)) == 1 else listed(rounded, settings.wording)
    return say("hints.missed_row", view=view, run=run, seen=seen, count=count, length=lengths, at=at)


def where_of(levels: Sequence[float], way: int, marks: Sequence[Landmark], settings: Settings) -> str:
    """How far lines lie from the nearer edge of their view, or from a centre line if no edge is straight; empty if they lie on
    it, or there is nothing to measure from."""
    known = [mark for mark in marks if mark.way == way]
    near = [mark for mark in known if mark.edge] or [mark for mark in known if mark.centre]
    if not near:
        return ""
    nearest = min(near, key=lambda mark: (round(abs(mark.at - levels[0]), 3), mark.at))
    values = sorted({round(abs(nearest.at - level), 1) for level in levels})
    if values[0] <= SAME_LEVEL:
        return ""
    return settings.wording.render("hints.from_edge", value=listed(list(map(number, values)), settings.wording),
                                   edge=nearest.words)


def point_of(end: Array, placed: PlacedView, settings: Settings) -> str:
    """Where the end of a line is: how far from the nearer edges of the view's box."""
    return listed([from_box(float(end[way]), way, placed, settings) for way in (0, 1)], settings.wording)


def from_box(at: float, way: int, placed: PlacedView, settings: Settings) -> str:
    """Where a level ``at`` of a view lies, across (0) or up (1): how far from the nearer edge of the view's box."""
    say, view_axes = settings.wording.render, ViewAxes.of(placed)
    axis, size = view_axes.axes[way], float(placed.view.solid.size[view_axes.axes[way]])
    level = (at + view_axes.origin[way]) * view_axes.senses[way]
    high = level > size / 2 + SAME_LEVEL
    value, edge = (size - level if high else level), say(f"hints.edge_{SIDES[axis][high]}")
    if value <= SAME_LEVEL:
        return say("hints.on_edge", edge=edge)
    return say("hints.from_edge", value=number(round(value, 1)), edge=edge)
