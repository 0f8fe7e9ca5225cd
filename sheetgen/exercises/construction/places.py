"""Places in words: levels from the edges of the part, as its measures are taken, and lists of them."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from sheetgen.exercises.construction.board import SAME_PLACE
from sheetgen.measures.measures import number
from sheetgen.problem import Problem
from sheetgen.templating import Wording

EDGES = (("left", "right"), ("front", "back"), ("bottom", "top"))
"""The low and the high edge along x, y and z, as the wording calls them."""

WAYS = ("width", "depth", "height")

MOST_LISTED = 8
"""Numbers in one list; more make another."""


class Places:
    """Says where things stand on one part. A level is told from the low edge of the part along its axis, or from the high one
    where the measures tell it from there."""

    def __init__(self, problem: Problem, wording: Wording) -> None:
        self.wording, self.size = wording, [float(size) for size in problem.solid.size]
        self._alike = [letter in problem.symmetry for letter in "xyz"]
        self._spans = [(measure.axis, sorted(float(end.point[measure.axis]) for end in measure.ends))
                       for measure in problem.measures if measure.kind == "span" and measure.axis is not None]

    def on_edge(self, axis: int, level: float) -> bool:
        """Whether a level is that of an edge of the part's box."""
        return level < SAME_PLACE or level > self.size[axis] - SAME_PLACE

    def at(self, axis: int, levels: Iterable[float]) -> str:
        """Where levels (mm, along an axis) stand: 20 and 45 from the left and 12 from the right; "" of none."""
        say, told = self.wording.render, list[str]()
        low, high = list[float](), list[float]()
        for level in sorted({round(level, 2) + 0.0 for level in levels}):
            if self._in_the_middle(axis, level):
                told.append(say(f"construction.middle_{WAYS[axis]}"))
            elif level < SAME_PLACE:
                told.append(say(f"construction.edge_{EDGES[axis][0]}"))
            elif level > self.size[axis] - SAME_PLACE:
                told.append(say(f"construction.edge_{EDGES[axis][1]}"))
            else:
                (high if self._from_high(axis, level) else low).append(level)
        for some, edge, base in ((low, 0, 0.0), (sorted(high, reverse=True), 1, self.size[axis])):
            for first in range(0, len(some), MOST_LISTED):
                numbers = [number(abs(level - base)) for level in some[first:first + MOST_LISTED]]
                told.append(say(f"construction.from_{EDGES[axis][edge]}", levels=self.listed(numbers)))
        return self.listed(told)

    def apart(self, axis: int, levels: Iterable[float]) -> str:
        """Of two levels that stand alike on either side of the middle of a symmetric part, or whose distance is a measure: that
        distance; else ""."""
        pair = sorted({round(level, 2) + 0.0 for level in levels})
        if len(pair) != 2 or abs(sum(pair) - self.size[axis]) > 2 * SAME_PLACE or self.on_edge(axis, pair[0]):
            return ""
        spans = [ends for on, ends in self._spans if on == axis]
        measured = any(max(abs(ends[0] - pair[0]), abs(ends[1] - pair[1])) < SAME_PLACE for ends in spans)
        return number(pair[1] - pair[0]) if measured or self._alike[axis] else ""

    def listed(self, texts: Sequence[str]) -> str:
        """Texts as a list: a, b and c."""
        if len(texts) < 2:
            return "".join(texts)
        text = texts[0]
        for one in texts[1:-1]:
            text = self.wording.render("construction.list", first=text, second=one)
        return self.wording.render("construction.list_end", first=text, second=texts[-1])

    def _in_the_middle(self, axis: int, level: float) -> bool:
        """Whether a level is told best as the middle: of a symmetric part, or where no measure tells it."""
        if abs(2 * level - self.size[axis]) > SAME_PLACE:
            return False
        return self._alike[axis] or not any(
            on == axis and any(abs(end - level) < SAME_PLACE for end in ends) for on, ends in self._spans)

    def _from_high(self, axis: int, level: float) -> bool:
        ends = [[end for end in ends if abs(end - level) > SAME_PLACE] for on, ends in self._spans
                if on == axis and any(abs(end - level) < SAME_PLACE for end in ends)]
        others = [other[0] for other in ends if len(other) == 1]
        high = any(other > self.size[axis] - SAME_PLACE for other in others)
        return high and not any(other < SAME_PLACE for other in others)
