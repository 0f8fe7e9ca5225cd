"""Lines in words: how many there are of each sort, where they stand, and from which view they come."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence

import numpy as np

from sheetgen.exercises.construction.board import DEPTH, Board, Need, needs_of
from sheetgen.exercises.construction.order import Drawn
from sheetgen.exercises.construction.places import Places
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

FEW_SLOPES = 2
"""Sloping lines whose ends are told one by one."""


class Clauses:
    """Says what is drawn in a view for the sake of some features."""

    def __init__(self, board: Board, places: Places, settings: Settings) -> None:
        self.board, self.places, self.settings = board, places, settings
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
        told = [*self._square(drawn, lines), *self._slopes(drawn, lines), *self._round(drawn, lines)]
        return [self._carried(text, sources) for text, sources in told]

    def sources(self, drawn: Drawn) -> list[str]:
        """From where what is drawn comes."""
        found = {(source, self.board.axis(drawn.view, need.across)) for need, source in drawn.whence.items()}
        return [self.whence(source, drawn.view, axis) for source, axis in sorted(found)]

    def _carried(self, text: str, sources: Sequence[str]) -> str:
        return self._say("construction.carried", lines=text, whence=self.places.listed(sources)) if sources else text

    def _square(self, drawn: Drawn, lines: Sequence[AnswerLine]) -> Iterator[tuple[str, list[str]]]:
        """Level and upright lines."""
        edges, levels = 0, defaultdict[tuple[int, str], list[float]](list)
        for line in lines:
            if line.way is None:
                continue
            across = 1 - line.way
            need = needs_of(line)[0]
            level, axis = self._level(drawn.view, need), self.board.axis(drawn.view, across)
            if self.places.on_edge(axis, level):
                edges += 1
            else:
                levels[across, drawn.whence.get(need, "")].append(level)
        if edges:
            yield self._say("construction.on_box", several=_several(edges)), []
        for (across, source), its in sorted(levels.items()):
            axis = self.board.axis(drawn.view, across)
            yield self._row(drawn.view, across, its, source), [self.whence(source, drawn.view, axis)] if source else []

    def _row(self, view: str, across: int, levels: Sequence[float], source: str) -> str:
        """Lines of one direction."""
        axis, which = self.board.axis(view, across), "upright" if across == 0 else "level"
        count = len({round(level, 2) for level in levels})
        plain = all(abs(level / PLAIN - round(level / PLAIN)) < 0.02 for level in levels)
        if apart := self.places.apart(axis, levels):
            where = self._say("construction.apart", size=apart)
        else:
            where = self.places.at(axis, levels) if plain or not source else ""
        return self._say(f"construction.{which}", several=_several(count), levels=where)

    def _slopes(self, drawn: Drawn, lines: Sequence[AnswerLine]) -> Iterator[tuple[str, list[str]]]:
        slopes = [line for line in lines if line.way is None and len(line.ends) and not isinstance(line.shape, Arc)]
        if not slopes:
            return
        sources = self._sources_of(drawn, slopes)
        if all(need in drawn.whence for line in slopes for need in needs_of(line)):
            yield self._say("construction.ends", several=_several(len(slopes)), whence=self.places.listed(sources)), []
            return
        if len(slopes) <= FEW_SLOPES:
            for line in slopes:
                yield self._slope(drawn.view, line), self._sources_of(drawn, [line])
            return
        ends = np.concatenate([line.ends for line in slopes])
        across, up = (self._all(drawn.view, k, ends[:, k]) for k in (0, 1))
        yield self._say("construction.slopes", across=across, up=up), sources

    def _slope(self, view: str, line: AnswerLine) -> str:
        """A sloping line: by both ends or, where one of them has come out of its angle, by the other and the angle."""
        ends = sorted(line.ends.tolist(), key=lambda end: not self._plain(view, end))
        across, up = np.abs(line.ends[1] - line.ends[0]).tolist()
        angle = math.degrees(math.atan2(up, across))
        if self._plain(view, ends[0]) and not self._plain(view, ends[1]) and abs(angle - round(angle)) < SAME_ANGLE:
            return self._say("construction.slope_at", first=self._point(view, ends[0]), angle=number(round(angle)))
        one, other = (self._point(view, end) for end in line.ends)
        return self._say("construction.slope", first=one, second=other)

    def _plain(self, view: str, end: Sequence[float]) -> bool:
        """Whether an end stands at sizes that can be set off with a ruler."""
        levels = [self.board.level(view, across, float(end[across])) for across in (0, 1)]
        return all(abs(level / RULED - round(level / RULED)) < 0.01 for level in levels)

    def _round(self, drawn: Drawn, lines: Sequence[AnswerLine]) -> Iterator[tuple[str, list[str]]]:
        """Circles and arcs, those of one size whose centres stand in a grid together."""
        arcs = [(line, line.shape) for line in lines if isinstance(line.shape, Arc)]
        by = defaultdict[tuple[bool, float], dict[tuple[float, float], list[AnswerLine]]](dict)
        for line, arc in arcs:
            by[arc.closed, round(math.hypot(*arc.a.tolist()), 3)].setdefault(_centre(arc), []).append(line)
        for (closed, radius), centres in sorted(by.items(), key=lambda item: (not item[0][0], -item[0][1])):
            for some in _grids(list(centres)):
                its = [line for centre in some for line in centres[centre]]
                size = f"Ø{number(2 * radius)}" if closed else f"R{number(radius)}"
                text = self._say(
                    f"construction.{'circle' if closed else 'arc'}", several=_several(len(some)), size=times(len(some)) + size,
                    across=self._all(drawn.view, 0, [u for u, _ in some]), up=self._all(drawn.view, 1, [v for _, v in some]))
                yield text, self._sources_of(drawn, its)

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

    def _point(self, view: str, end: Sequence[float]) -> str:
        return self._say("construction.point", across=self._all(view, 0, [end[0]]), up=self._all(view, 1, [end[1]]))


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


