"""The board: the views as they stand on the sheet, and what of them is drawn so far. Which place can be carried where."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from sheetgen.exercises.construction.record import AnswerLine, Mitre, Projector
from sheetgen.exercises.drawing import Drawing
from sheetgen.geometry import Array
from sheetgen.projection import Arc, Straight
from sheetgen.sight import PlacedView
from sheetgen.units import SAME_TURN

SAME_PLACE = 0.004
"""mm in the part: places nearer than this stand at one level; ends found on facets of curves stray by less."""

PLAIN = 0.05
"""mm: a level that is no multiple of this has come out of a slope or a curve: it is carried if it can be, and then not told."""

LEVEL_DIGITS = 2
"""Of a millimetre by which levels are told apart."""

STICKS_OUT = 4.0
"""mm on paper that the mitre line runs on past the depths that turn on it (common practice, no source)."""

SIDES = ("left", "right")

DEPTH = 1
"""The axis of the part that turns on the mitre line."""


@dataclass(frozen=True, slots=True)
class Need:
    """A level that a line needs to be drawn: on the sheet's axis ``across`` (0: x, 1: y) at ``point`` of the view's own axes."""

    across: int
    point: tuple[float, float]


@dataclass(frozen=True, eq=False)
class Carried:
    """``new``: projectors that bring levels; ``again``: those drawn before that bring others; ``whence``: from which view each
    level comes."""

    new: tuple[Projector, ...]
    again: tuple[Projector, ...]
    whence: dict[Need, str]


class Board:
    """The views of a drawing by name, their mitre lines, and the places drawn so far. It forgets nothing."""

    def __init__(self, drawing: Drawing) -> None:
        self.views = {placed.view.name: placed for placed in drawing.views}
        self.size = drawing.views[0].view.solid.size
        self.mitres = {side: _mitre(self.views["top"], self.views[side]) for side in SIDES if side in self.views}
        self._drawn: dict[str, list[tuple[Array, int]]] = {name: [] for name in self.views}
        self._lines: dict[str, list[AnswerLine]] = {name: [] for name in self.views}
        self._carried: dict[tuple[int, float, str, str], Projector] = {}
        self._ways: dict[object, Projector] = {}
        self._axes = {name: _axes_of(placed) for name, placed in self.views.items()}

    def box(self, view: str) -> Array:
        """The corners (4, 2) of a view's box in its own axes, round from the lower left."""
        (u0, v0), (u1, v1) = np.zeros(2), self._box_size(view)
        return np.array([(u0, v0), (u1, v0), (u1, v1), (u0, v1)])

    def _box_size(self, view: str) -> Array:
        return np.abs(self.views[view].view.frame.axes) @ self.size

    def paper(self, view: str, points: Array) -> Array:
        """Points (n, 2) of a view on the sheet (n, 2)."""
        placed = self.views[view]
        return np.asarray(np.atleast_2d(points) * placed.scale + placed.origin)

    def axis(self, view: str, across: int) -> int:
        """The part's axis that the sheet's x or y (0, 1) is in a view."""
        return self._axes[view][across][0]

    def level(self, view: str, across: int, place: float) -> float:
        """The part's coordinate at a place on the view's u or v."""
        sense = self._axes[view][across][1]
        return float((place + self.views[view].view.frame.origin[across]) * sense)

    def draw(self, view: str, points: Array, group: int) -> None:
        """Places (n, 2) of a view from which projectors may now start."""
        if len(points):
            self._drawn[view].append((points, group))

    def draw_line(self, line: AnswerLine) -> None:
        """A line of the answer, from whose places projectors may now start."""
        self.draw(line.view, places_of(line), line.group)
        self._lines[line.view].append(line)

    def settles(self, view: str, need: Need, more: Sequence[AnswerLine]) -> bool:
        """Whether a point's level is told by what the view has already, its box, the lines drawn so far and some ``more``: one of
        them ends there, or runs through at that level."""
        level, size = self.level(view, need.across, need.point[need.across]), float(self.size[self.axis(view, need.across)])
        if min(abs(level), abs(size - level)) < SAME_PLACE:
            return True
        point = np.array(need.point)
        for line in (*self._lines[view], *more):
            if len(line.ends) and float(np.abs(line.ends - point).max(axis=1).min()) < SAME_PLACE:
                return True
            if line.way == 1 - need.across:
                low, high = line.ends.min(axis=0) - SAME_PLACE, line.ends.max(axis=0) + SAME_PLACE
                if bool(((point > low) & (point < high)).all()):
                    return True
        return False

    def reaches(self, view: str, need: Need) -> bool:
        """Whether a level can be carried from what is drawn."""
        level = self.level(view, need.across, need.point[need.across])
        return any(len(self._at(other, theirs, level, -1, alone=False)) for other, theirs in self.sources(view, need.across))

    def will_reach(self, line: AnswerLine, lines: Iterable[AnswerLine]) -> bool:
        """Whether a level or an upright line stands at a level that no size has, which cannot be carried from what is drawn
        so far, but from one of these lines when it is."""
        need = needs_of(line)[0]
        level = self.level(line.view, need.across, need.point[need.across])
        if plain_level(level) or self.reaches(line.view, need):
            return False
        sources = dict(self.sources(line.view, need.across))
        return any(abs(self.level(other.view, across, float(place)) - level) < SAME_PLACE
                   for other in lines if (across := sources.get(other.view)) is not None
                   for place in places_of(other)[:, across])

    def sources(self, view: str, across: int) -> Iterator[tuple[str, int]]:
        """The views from which a level on the sheet's axis ``across`` of a view may come, and on which of their axes it is."""
        axis = self.axis(view, across)
        for other in self.views:
            pair = {view, other}
            if other == view:
                continue
            for theirs in (0, 1):
                turns = axis == DEPTH and "top" in pair
                straight = "front" in pair and theirs == across
                if self.axis(other, theirs) == axis and (turns or straight):
                    yield other, theirs

    def carry(
        self, view: str, needs: Sequence[Need], group: int, far: frozenset[Need] = frozenset(),
        own: frozenset[Need] = frozenset(),
    ) -> Carried:
        """What brings the levels that new lines of a view need; what comes from nowhere is set off. To all of the needs ``far`` a
        projector reaches, not to the nearest only; ``own`` come from lines of the same features only."""
        found, again, whence = list[Projector](), list[Projector](), dict[Need, str]()
        for across, level, same in self._by_level(view, needs):
            for other, theirs in self.sources(view, across):
                drawn = self._at(other, theirs, level, group, alone=own.issuperset(same))
                if not len(drawn):
                    continue
                whence |= dict.fromkeys(same, other)
                key = (self.axis(view, across), round(level, LEVEL_DIGITS), min(view, other), max(view, other))
                if key in self._carried:
                    again.append(self._carried[key])
                else:
                    ends = self.paper(other, drawn), self.paper(view, np.array([need.point for need in _reached(same, far)]))
                    farthest = not far.isdisjoint(same)
                    found.append(self.kept(self._shortest(other, view, self.axis(view, across), level, *ends, farthest=farthest)))
                    self._carried[key] = found[-1]
                break
        return Carried(tuple(found), tuple(again), whence)

    def kept(self, projector: Projector) -> Projector:
        """The projector, or the one along the same way that was drawn before."""
        way = sorted(tuple(np.round(end, 2).tolist()) for end in projector.path[[0, -1]])
        return self._ways.setdefault(tuple(way), projector)

    def _by_level(self, view: str, needs: Iterable[Need]) -> Iterator[tuple[int, float, list[Need]]]:
        by: dict[tuple[int, float], list[Need]] = {}
        for need in needs:
            level = self.level(view, need.across, need.point[need.across])
            key = next((k for k in by if k[0] == need.across and abs(k[1] - level) < SAME_PLACE), (need.across, level))
            by.setdefault(key, []).append(need)
        for (across, level), same in sorted(by.items(), key=lambda item: item[0]):
            yield across, level, same

    def _at(self, view: str, across: int, level: float, group: int, alone: bool) -> Array:
        """The drawn places (n, 2) of a view at a level: those of the same features if there are any or none others may be."""
        mine, others = list[Array](), list[Array]()
        for points, of in self._drawn[view]:
            levels = np.array([self.level(view, across, place) for place in points[:, across]])
            here = points[np.abs(levels - level) < SAME_PLACE]
            (mine if of == group else others).extend(here)
        return np.array(mine if alone else mine or others).reshape(-1, 2)

    def _shortest(
        self, source: str, target: str, axis: int, level: float, starts: Array, stops: Array, farthest: bool
    ) -> Projector:
        """The shortest way from one of the places on the sheet to one of the others, or to the farthest of them."""
        def long(path: Array) -> tuple[float, list[float]]:
            return round(_length(path), 3), path[0].tolist()

        ways = [min((self.path(source, target, axis, level, start, stop) for start in starts), key=long) for stop in stops]
        return Projector(axis, level, source, target, (max if farthest else min)(ways, key=long))

    def path(self, source: str, target: str, axis: int, level: float, start: Array, stop: Array) -> Array:
        """From a place on the sheet to another: straight, or by way of the mitre line."""
        if axis != DEPTH:
            return np.stack([start, stop])
        mitre = self.mitres[source if source in SIDES else target]
        return np.stack([start, mitre.at(level), stop])


def plain_level(level: float) -> bool:
    """Whether a level is one that sizes can have.

    >>> plain_level(22.5), plain_level(60.96)
    (True, False)
    """
    return abs(level / PLAIN - round(level / PLAIN)) < SAME_PLACE / PLAIN


def _reached(same: Sequence[Need], far: frozenset[Need]) -> list[Need]:
    """The needs of one level from which a projector's end is chosen."""
    return [need for need in same if need in far] or list(same)


def needs_of(line: AnswerLine) -> list[Need]:
    """The levels that must be known before a line can be drawn: of a level or an upright line its own, of others those of both
    ends; of an arc of a circle those of its outermost points, where its tangent runs along the sheet."""
    shape = line.shape
    if isinstance(shape, Straight):
        ends = [(float(u), float(v)) for u, v in (shape.p, shape.q)]
        axes = (0, 1) if line.way is None else (1 - line.way,)
        return [Need(across, end) for end in ends for across in axes]
    if isinstance(shape, Arc):
        return [Need(across, point) for across, point in _outermost(shape)]
    return []


def places_of(line: AnswerLine) -> Array:
    """The places (n, 2) of a line, in the view's own axes, from which projectors start: its ends, and points where it is
    tangent to them."""
    outermost = [point for _, point in _outermost(line.shape)] if isinstance(line.shape, Arc) else []
    return np.concatenate([line.ends, np.array(outermost).reshape(-1, 2)])


def _outermost(arc: Arc) -> list[tuple[int, tuple[float, float]]]:
    """The points of an arc in which its tangent is upright (0) or level (1) on the sheet."""
    found = []
    for across in (0, 1):
        first = math.atan2(float(arc.b[across]), float(arc.a[across]))
        for turn in (first + k * math.pi for k in range(-4, 6)):
            if arc.start - SAME_TURN <= turn < (arc.stop - SAME_TURN if arc.closed else arc.stop + SAME_TURN):
                u, v = arc.at(turn).tolist()
                found.append((across, (u, v)))
    return found


def _axes_of(placed: PlacedView) -> list[tuple[int, float]]:
    """Of the sheet's x and y, the axis of the part that each is in a view, and its sense."""
    found = []
    for row in placed.view.frame.axes:
        axis = int(np.argmax(np.abs(row)))
        found.append((axis, float(np.sign(row[axis]))))
    return found


def _mitre(top: PlacedView, side: PlacedView) -> Mitre:
    """The mitre line between the top view and a side view."""
    size = top.view.solid.size
    corners = np.zeros(3), size * np.eye(3)[DEPTH]
    low, high = (np.array([side.paper(corner)[0, 0], top.paper(corner)[0, 1]]) for corner in corners)
    step = (high - low) / float(size[DEPTH])
    out = STICKS_OUT * step / np.abs(step).max()
    return Mitre(side.view.name, np.stack([low - out, high + out]), low, step)


def _length(path: Array) -> float:
    run = np.diff(path, axis=0)
    return float(np.hypot(run[:, 0], run[:, 1]).sum())
