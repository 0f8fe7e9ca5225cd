"""Lines in words: how many there are of each sort, where they stand, and from which view they come."""

from __future__ import annotations

import math
from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator, Sequence

import numpy as np

from sheetgen.exercises.construction.board import DEPTH, SAME_PLACE, Board, Need, needs_of, plain_level
from sheetgen.exercises.construction.features import ROUND, Group
from sheetgen.exercises.construction.mirrored import mirrored
from sheetgen.exercises.construction.order import Drawn
from sheetgen.exercises.construction.places import ALONG, EDGES, Places
from sheetgen.exercises.construction.record import AnswerLine
from sheetgen.measures.measures import number, times
from sheetgen.projection import Arc
from sheetgen.sheet import Settings

RULED = 0.5
"""mm: what a ruler shows."""

SAME_ANGLE = 0.01
"""Degrees."""

BOX_EDGES = 4

COUNTED = (2, 4)
"""Circles or arcs whose number is a word: a pair, or one in each corner."""

QUARTER = math.pi / 2 + 0.01
"""The arc of a rounded corner turns by no more."""


class Clauses:
    """Says what is drawn in a view for the sake of some features."""

    def __init__(self, board: Board, places: Places, groups: Sequence[Group], settings: Settings) -> None:
        self.board, self.places, self.groups, self.settings = board, places, groups, settings
        self._say = settings.wording.render

    @property
    def both(self) -> str:
        """Both side views in a sentence."""
        return self._say("construction.of_sides")

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
        plain = all(map(plain_level, levels))
        where = self._spread(axis, levels) or (self.places.at(axis, levels) if plain or not source else "")
        return self._say(
            f"construction.{which}", several=_several(len(levels) if alike else len(by_level)), levels=where,
            pieces="no" if alike else _pieces(list(by_level.values())))

    def _slopes(self, drawn: Drawn, lines: Sequence[AnswerLine]) -> Iterator[str]:
        slopes = [line for line in lines if line.way is None and len(line.ends) and not isinstance(line.shape, Arc)]
        if not slopes:
            return
        needs = {need for line in slopes for need in needs_of(line)} - drawn.settled
        if needs and needs <= drawn.whence.keys():
            whence = self.places.listed(self._sources_of(drawn, slopes))
            yield self._say("construction.ends", several=_several(len(slopes)), whence=whence)
            return
        about_axes = self.groups[drawn.group].noun in ROUND
        for line, about in mirrored(self.board, self.places, drawn.view, slopes, about_axes=about_axes):
            text = self._with_ends(drawn, self._slope(drawn.view, line), line)
            yield self._say("construction.mirrored", lines=text, about=about) if about else text

    def _with_ends(self, drawn: Drawn, text: str, slope: AnswerLine) -> str:
        """Of a sloping line what of its ends comes from other views: along which axis, and whether of both."""
        for across in (0, 1):
            mine = [need for need in needs_of(slope) if need.across == across]
            carried = [need for need in mine if need in drawn.whence and need not in drawn.settled]
            if sources := {drawn.whence[need] for need in carried}:
                axis = self.board.axis(drawn.view, across)
                whence = self.places.listed([self.whence(source, drawn.view, axis) for source in sorted(sources)])
                text = self._say("construction.ends_of", lines=text, ends="both" if len(carried) == len(mine) else "one",
                                 whence=whence, way=ALONG[axis])
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
        by = defaultdict[tuple[str, float], dict[tuple[float, float], list[AnswerLine]]](dict)
        for line in lines:
            if isinstance(line.shape, Arc):
                key = _sort(line, line.shape), round(math.hypot(*line.shape.a.tolist()), 3)
                by[key].setdefault(_centre(line.shape), []).append(line)
        rows = defaultdict[tuple[str, tuple[tuple[float, float], ...]], list[tuple[float, list[AnswerLine]]]](list)
        for (sort, radius), centres in sorted(by.items(), key=lambda item: (item[0][0] != "circle", -item[0][1], item[0][0])):
            for some in _grids(list(centres)):
                rows[sort, tuple(some)].append((radius, [line for centre in some for line in centres[centre]]))
        for (sort, centres_), sized in rows.items():
            if sort != "circle":
                for one in sized:
                    yield self._arcs(drawn, sort, centres_, [one])
            else:
                yield self._arcs(drawn, sort, centres_, sized)

    def _arcs(
        self, drawn: Drawn, sort: str, centres: Sequence[tuple[float, float]], sized: Sequence[tuple[float, list[AnswerLine]]]
    ) -> str:
        """Arcs of one size, or circles of several, about the same centres; ``sized``: radii, each with its lines."""
        sizes = [self._size(radius, closed=sort == "circle") for radius, _ in sized]
        count = self._say(f"construction.count_{len(centres)}") if len(centres) in COUNTED else ""
        if len(sized) == 1 and not count:
            sizes = [times(len(centres)) + sizes[0]]
        corners = sort == "arc_corner" and self._of_box(drawn.view, centres, sized[0][0])
        text = self._say(
            f"construction.{sort if len(sized) == 1 else 'circles'}", several=_several(len(centres)), count=count,
            size=self.places.listed(sizes), place="" if corners else self._centres(drawn.view, centres))
        return self._with_outermost(drawn, text, [line for _, its in sized for line in its])

    def _size(self, radius: float, *, closed: bool) -> str:
        """The diameter of a circle; the radius of an arc, or its diameter where that is what is printed."""
        across, half = f"Ø{number(2 * radius)}", f"R{number(radius)}"
        return across if closed or (across in self.places.printed and half not in self.places.printed) else half

    def _of_box(self, view: str, centres: Sequence[tuple[float, float]], radius: float) -> bool:
        """Whether arcs about these centres round off all corners of the box."""
        far = np.abs(self.board.box(view)[:, None] - np.array(centres)[None]).max(axis=2)        # from each corner to each centre
        return len(centres) == BOX_EDGES and bool((np.abs(far.min(axis=1) - radius) < SAME_PLACE).all())

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
        needs = [need for line in lines for need in needs_of(line) if need in drawn.whence and need not in drawn.settled]
        found = {(drawn.whence[need], self.board.axis(drawn.view, need.across)) for need in needs}
        return [self.whence(source, drawn.view, axis) for source, axis in sorted(found)]

    def _level(self, view: str, need: Need) -> float:
        return self.board.level(view, need.across, need.point[need.across])

    def _all(self, view: str, across: int, places: Iterable[float]) -> str:
        axis = self.board.axis(view, across)
        levels = [self.board.level(view, across, float(place)) for place in places]
        return self._spread(axis, levels) or self.places.at(axis, levels)

    def _spread(self, axis: int, levels: Sequence[float]) -> str:
        """Where levels stand that lie alike on either side of the middle; "" of others."""
        if inset := self.places.inset(axis, levels):
            return self._say("construction.inset", size=inset, way=ALONG[axis])
        apart = self.places.apart(axis, levels)
        return self._say("construction.apart", size=apart) if apart else ""

    def _centres(self, view: str, centres: Sequence[tuple[float, float]]) -> str:
        """Where the centres of circles or arcs stand."""
        axes = [self.board.axis(view, k) for k in (0, 1)]
        levels = [[self.board.level(view, k, centre[k]) for centre in centres] for k in (0, 1)]
        both = ["" if self.places.inset(axis, its) else self.places.apart(axis, its)
                for axis, its in zip(axes, levels, strict=True)]
        if all(both):
            across, up = (self._say("construction.apart_along", size=size, way=ALONG[axis])
                          for axis, size in zip(axes, both, strict=True))
            return self._say("construction.apart_both", across=across, up=up)
        if len(centres) == 1 and all(self.places.in_the_middle(axis, its[0]) for axis, its in zip(axes, levels, strict=True)):
            return self._say("construction.middle_both")
        across, up = (self._all(view, k, [centre[k] for centre in centres]) for k in (0, 1))
        several = len({round(level, 2) for level in levels[0]}) > 1
        return self._say("construction.points" if several else "construction.point", across=across, up=up)

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


