"""Lines in words: how many there are of each sort, where they stand, and from which view they come."""

from __future__ import annotations

import math
from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator, Sequence

import numpy as np

from sheetgen.exercises.construction.board import DEPTH, Board, Need, needs_of
from sheetgen.exercises.construction.features import Group
from sheetgen.exercises.construction.order import Drawn
from sheetgen.exercises.construction.places import EDGES, WAYS, Places
from sheetgen.exercises.construction.record import AnswerLine
from sheetgen.measures.measures import number, times
from sheetgen.projection import Arc
from sheetgen.sheet import Settings

PLAIN = 0.05
"""mm: a level that comes from another view and is no multiple of this is not told: it has come out of a slope or a curve."""

RULED = 0.5
"""mm: what a ruler shows."""

SAME_ANGLE = 0.01
"""Degrees."""

BOX_EDGES = 4

COUNTED = (2, 4)
"""Circles or arcs whose number is a word: a pair, or one in each corner."""

QUARTER = math.pi / 2 + 0.01
"""The arc of a rounded corner turns by no more."""

FEW_SLOPES = 2
"""Sloping lines whose ends are told one by one."""


class Clauses:
    """Says what is drawn in a view for the sake of some features."""

    def __init__(self, board: Board, places: Places, groups: Sequence[Group], settings: Settings) -> None:
        self.board, self.places, self.groups, self.settings = board, places, groups, settings
        self._say = settings.wording.render

    def view(self, name: str) -> str:
        """A view as it is called in a sentence."""
        sides = [side for side in ("left", "right") if side in self.board.views]
        return self._say("construction.of_side" if name in sides and len(sides) == 1 else f"construction.of_{name}")

    def whence(self, source: str, target: str, axis: int) -> str:
        """How a level comes from one view to another."""
        if axis == DEPTH:
            by = "mitre"
        elif axis == 2:
            by = "across"
        else:
            above = self.board.views[source].origin[1] > self.board.views[target].origin[1]
            by = "down" if above else "up"
        return self._say(f"construction.by_{by}", view=self.view(source))

    def of(self, drawn: Drawn, only: Iterable[Need] | None = None) -> list[str]:
        """The lines of a view and a group, clause by clause; ``only``: those that need these levels."""
        lines = drawn.lines if only is None else [line for line in drawn.lines if set(needs_of(line)) & set(only)]
        return [*self._square(drawn, lines), *self._slopes(drawn, lines), *self._round(drawn, lines)]

    def sources(self, drawn: Drawn) -> list[str]:
        """From where what is drawn comes."""
        found = {(source, self.board.axis(drawn.view, need.across)) for need, source in drawn.whence.items()}
        return [self.whence(source, drawn.view, axis) for source, axis in sorted(found)]

    def _square(self, drawn: Drawn, lines: Sequence[AnswerLine]) -> Iterator[str]:
        """Level and upright lines."""
        edges, levels = list[tuple[int, int]](), defaultdict[tuple[int, str], list[float]](list)
        for line in lines:
            if line.way is None:
                continue
            across = 1 - line.way
            need = needs_of(line)[0]
            level, axis = self._level(drawn.view, need), self.board.axis(drawn.view, across)
            if self.places.on_edge(axis, level):
                edges.append((axis, int(level > self.places.size[axis] / 2)))
            else:
                levels[across, drawn.whence.get(need, "")].append(level)
        if edges:
            yield self._edges(edges)
        for (across, source), its in sorted(levels.items()):
            text = self._row(drawn, across, its, source)
            axis = self.board.axis(drawn.view, across)
            yield self._say("construction.carried", lines=text, whence=self.whence(source, drawn.view, axis)) if source else text

    def _edges(self, edges: Sequence[tuple[int, int]]) -> str:
        """Lines along edges of the box, each an axis and which of its two."""
        which = sorted(set(edges))
        broken = _pieces([edges.count(edge) for edge in which])
        if len(which) == BOX_EDGES:
            return self._say("construction.on_box_all", pieces=broken)
        names = [self._say(f"construction.box_{EDGES[axis][end]}") for axis, end in which]
        return self._say("construction.on_box", several=_several(len(which)), edges=self.places.listed(names), pieces=broken)

    def _row(self, drawn: Drawn, across: int, levels: Sequence[float], source: str) -> str:
        """Lines of one direction."""
        axis, which = self.board.axis(drawn.view, across), "upright" if across == 0 else "level"
        by_level = Counter(round(level, 2) for level in levels)
        alike = self.groups[drawn.group].count > 1
        plain = all(abs(level / PLAIN - round(level / PLAIN)) < 0.02 for level in levels)
        if apart := self.places.apart(axis, levels):
            where = self._say("construction.apart", size=apart)
        else:
            where = self.places.at(axis, levels) if plain or not source else ""
        return self._say(
            f"construction.{which}", several=_several(len(levels) if alike else len(by_level)), levels=where,
            pieces="no" if alike else _pieces(list(by_level.values())))

    def _slopes(self, drawn: Drawn, lines: Sequence[AnswerLine]) -> Iterator[str]:
        slopes = [line for line in lines if line.way is None and len(line.ends) and not isinstance(line.shape, Arc)]
        if not slopes:
            return
        if all(need in drawn.whence for line in slopes for need in needs_of(line)):
            whence = self.places.listed(self._sources_of(drawn, slopes))
            yield self._say("construction.ends", several=_several(len(slopes)), whence=whence)
            return
        if len(slopes) <= FEW_SLOPES:
            for line in slopes:
                yield self._with_ends(drawn, self._slope(drawn.view, line), [line])
            return
        ends = np.concatenate([line.ends for line in slopes])
        across, up = (self._all(drawn.view, k, ends[:, k]) for k in (0, 1))
        yield self._with_ends(drawn, self._say("construction.slopes", across=across, up=up), slopes)

    def _with_ends(self, drawn: Drawn, text: str, slopes: Sequence[AnswerLine]) -> str:
        """Of sloping lines what of their ends comes from other views: along which axis, and whether of all."""
        needs = [need for line in slopes for need in needs_of(line)]
        for across in (0, 1):
            mine = [need for need in needs if need.across == across]
            sources = {drawn.whence[need] for need in mine if need in drawn.whence}
            axis, ends = self.board.axis(drawn.view, across), "its" if len(slopes) == 1 else "their"
            if not all(need in drawn.whence for need in mine):
                ends = "some"
            if sources:
                whence = self.places.listed([self.whence(source, drawn.view, axis) for source in sorted(sources)])
                text = self._say(f"construction.ends_{WAYS[axis]}", lines=text, ends=ends, whence=whence)
        return text

    def _slope(self, view: str, line: AnswerLine) -> str:
        """A sloping line: by both ends or, where one of them has come out of its angle, by the other and the angle."""
        ends = sorted(line.ends.tolist(), key=lambda end: not self._plain(view, end))
        across, up = np.abs(line.ends[1] - line.ends[0]).tolist()
        angle = math.degrees(math.atan2(up, across))
        if self._plain(view, ends[0]) and not self._plain(view, ends[1]) and abs(angle - round(angle)) < SAME_ANGLE:
            return self._slope_at(view, ends[0], ends[1], round(angle))
        one, other = (self._point(view, end, last) for end, last in zip(line.ends, ("no", "yes"), strict=True))
        return self._say("construction.slope", first=one, second=other)

    def _slope_at(self, view: str, first: Sequence[float], last: Sequence[float], angle: int) -> str:
        """A sloping line by one end, its angle and which way it goes, and how far if that can be told."""
        fall = ("up" if last[1] > first[1] else "down") + ("_right" if last[0] > first[0] else "_left")
        text = self._say("construction.slope_at", first=self._point(view, first), angle=number(angle), fall=fall)
        for across in (0, 1):
            level = self.board.level(view, across, float(last[across]))
            if abs(level / RULED - round(level / RULED)) < 0.01:
                return self._say("construction.slope_until", slope=text, place=self._all(view, across, [last[across]]))
        return text

    def _plain(self, view: str, end: Sequence[float]) -> bool:
        """Whether an end stands at sizes that can be set off with a ruler."""
        levels = [self.board.level(view, across, float(end[across])) for across in (0, 1)]
        return all(abs(level / RULED - round(level / RULED)) < 0.01 for level in levels)

    def _round(self, drawn: Drawn, lines: Sequence[AnswerLine]) -> Iterator[str]:
        """Circles and arcs, those of one size whose centres stand in a grid together."""
        arcs = [(line, line.shape) for line in lines if isinstance(line.shape, Arc)]
        by = defaultdict[tuple[str, float], dict[tuple[float, float], list[AnswerLine]]](dict)
        for line, arc in arcs:
            by[_sort(line, arc), round(math.hypot(*arc.a.tolist()), 3)].setdefault(_centre(arc), []).append(line)
        for (sort, radius), centres in sorted(by.items(), key=lambda item: (item[0][0] != "circle", -item[0][1], item[0][0])):
            for some in _grids(list(centres)):
                its = [line for centre in some for line in centres[centre]]
                size = f"Ø{number(2 * radius)}" if sort == "circle" else f"R{number(radius)}"
                count = self._say(f"construction.count_{len(some)}") if len(some) in COUNTED else ""
                text = self._say(
                    f"construction.{sort}", several=_several(len(some)), count=count,
                    size=size if count else times(len(some)) + size,
                    across=self._all(drawn.view, 0, [u for u, _ in some]), up=self._all(drawn.view, 1, [v for _, v in some]))
                yield self._with_outermost(drawn, text, its)

    def _with_outermost(self, drawn: Drawn, text: str, arcs: Sequence[AnswerLine]) -> str:
        """Of circles and arcs from where their outermost points come; not of such as lie on an edge of the box."""
        needs = {need for line in arcs for need in needs_of(line) if need in drawn.whence and not self.places.on_edge(
            self.board.axis(drawn.view, need.across), self._level(drawn.view, need))}
        sources = sorted({(drawn.whence[need], self.board.axis(drawn.view, need.across)) for need in needs})
        if not sources:
            return text
        whence = self.places.listed([self.whence(source, drawn.view, axis) for source, axis in sources])
        return self._say("construction.outermost", lines=text, whence=whence, several=_several(len(needs)))

    def _sources_of(self, drawn: Drawn, lines: Iterable[AnswerLine]) -> list[str]:
        needs = [need for line in lines for need in needs_of(line) if need in drawn.whence]
        found = {(drawn.whence[need], self.board.axis(drawn.view, need.across)) for need in needs}
        return [self.whence(source, drawn.view, axis) for source, axis in sorted(found)]

    def _level(self, view: str, need: Need) -> float:
        return self.board.level(view, need.across, need.point[need.across])

    def _all(self, view: str, across: int, places: Iterable[float]) -> str:
        axis = self.board.axis(view, across)
        levels = [self.board.level(view, across, float(place)) for place in places]
        if apart := self.places.apart(axis, levels):
            return self._say("construction.apart", size=apart)
        return self.places.at(axis, levels)

    def _point(self, view: str, end: Sequence[float], last: str = "no") -> str:
        """A point by both its levels, that on an edge first."""
        across, up = (self._all(view, k, [end[k]]) for k in (0, 1))
        edge = [self.places.on_edge(self.board.axis(view, k), self.board.level(view, k, float(end[k]))) for k in (0, 1)]
        if not any(edge):
            return self._say("construction.point", across=across, up=up)
        first, second = (across, up) if edge[0] else (up, across)
        return self._say("construction.point_on", edge=first, place=second, last=last)


def _sort(line: AnswerLine, arc: Arc) -> str:
    """What a circle or an arc is called."""
    if arc.closed:
        return "circle"
    if not line.rounds_off:
        return "arc"
    return "arc_end" if abs(arc.stop - arc.start) > QUARTER else "arc_corner"


def _pieces(counts: Sequence[int]) -> str:
    """Whether of lines that have so many pieces each none, all, one or some have several."""
    broken = sum(count > 1 for count in counts)
    return "no" if not broken else "yes" if broken == len(counts) else "one" if broken == 1 else "some"


def _several(count: int) -> str:
    return "yes" if count > 1 else "no"


def _centre(arc: Arc) -> tuple[float, float]:
    u, v = arc.centre.tolist()
    return round(u, 3), round(v, 3)


def _grids(centres: Sequence[tuple[float, float]]) -> list[list[tuple[float, float]]]:
    """Centres in one list if they are all crossings of their columns and rows, else each alone."""
    columns, rows = ({centre[k] for centre in centres} for k in (0, 1))
    whole = len(columns) * len(rows) == len(centres)
    return [sorted(centres)] if whole else [[centre] for centre in sorted(centres)]


