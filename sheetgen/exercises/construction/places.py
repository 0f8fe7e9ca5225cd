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
"""Along x, y and z, as the names of texts call them."""

ALONG = ("wide", "deep", "up")
"""The same as values that texts choose by."""

MOST_LISTED = 8
"""Numbers in one list; more make another."""


class Places:
    """Says where things stand on one part. A level is told from the low edge of the part along its axis, or from the high one
    where the measures tell it from there. ``printed``: the diameters and radii of the part as they are printed."""

    def __init__(self, problem: Problem, wording: Wording) -> None:
        self.wording, self.size = wording, [float(size) for size in problem.solid.size]
        self.printed = frozenset(measure.size for measure in problem.measures if measure.kind in ("diameter", "radius"))
        self._alike = [letter in problem.symmetry for letter in "xyz"]
        self._spans = [(measure.axis, sorted(float(end.point[measure.axis]) for end in measure.ends))
                       for measure in problem.measures if measure.kind == "span" and measure.axis is not None]

    def alike(self, axis: int) -> bool:
        """Whether both halves of the part along an axis are alike."""
        return self._alike[axis]

    def on_edge(self, axis: int, level: float) -> bool:
        """Whether a level is that of an edge of the part's box."""
        return level < SAME_PLACE or level > self.size[axis] - SAME_PLACE

    def at(self, axis: int, levels: Iterable[float]) -> str:
        """Where levels (mm, along an axis) stand: 20 and 45 from the left and 12 from the right; "" of none."""
        say, told = self.wording.render, list[str]()
        low, high = list[float](), list[float]()
        for level in sorted({round(level, 2) + 0.0 for level in levels}):
            if self.in_the_middle(axis, level):
                told.append(say(f"construction.middle_{WAYS[axis]}"))
            elif level < SAME_PLACE:
                told.append(self._edge(axis, 0))
            elif level > self.size[axis] - SAME_PLACE:
                told.append(self._edge(axis, 1))
            else:
                (high if self._from_high(axis, level) else low).append(level)
        for some, edge, base in ((low, 0, 0.0), (sorted(high, reverse=True), 1, self.size[axis])):
            for first in range(0, len(some), MOST_LISTED):
                numbers = [number(abs(level - base)) for level in some[first:first + MOST_LISTED]]
                told.append(say(f"construction.from_{EDGES[axis][edge]}", levels=self.listed(numbers)))
        return self.listed(told)

    def apart(self, axis: int, levels: Iterable[float]) -> str:
        """Of levels that stand in pairs alike on either side of the middle, whose distances are measures or, of one pair,
        which the part's symmetry tells: their distances; else ""."""
        pairs = self._pairs(axis, levels)
        if pairs and (all(self._measured(axis, *pair) for pair in pairs) or (len(pairs) == 1 and self._alike[axis])):
            return self.listed([number(high - low) for low, high in pairs])
        return ""

    def inset(self, axis: int, levels: Iterable[float]) -> str:
        """Of two levels that stand alike on either side of the middle of a symmetric part, of which one is measured from an edge,
        and not from the other: how far from it; else ""."""
        pairs = self._pairs(axis, levels)
        if len(pairs) != 1 or not self._alike[axis] or self._measured(axis, *pairs[0]):
            return ""
        low, high = pairs[0]
        measured = self._measured(axis, 0.0, low) or self._measured(axis, high, self.size[axis])
        return number(low) if measured else ""

    def _pairs(self, axis: int, levels: Iterable[float]) -> list[tuple[float, float]]:
        """Levels in pairs about the middle, the outermost first; none if they do not stand so."""
        its = sorted({round(level, 2) + 0.0 for level in levels})
        pairs = list(zip(its[:len(its) // 2], its[:-len(its) // 2 - 1:-1], strict=False))
        even = len(its) > 0 and len(its) % 2 == 0 and not self.on_edge(axis, its[0])
        return pairs if even and all(abs(sum(pair) - self.size[axis]) < 2 * SAME_PLACE for pair in pairs) else []

    def _measured(self, axis: int, low: float, high: float) -> bool:
        """Whether a size is printed between two levels."""
        return any(on == axis and max(abs(ends[0] - low), abs(ends[1] - high)) < SAME_PLACE for on, ends in self._spans)

    def _edge(self, axis: int, end: int) -> str:
        return self.wording.render("construction.on_edge", edge=self.wording.render(f"construction.box_{EDGES[axis][end]}"))

    def listed(self, texts: Sequence[str]) -> str:
        """Texts as a list: a, b and c."""
        if len(texts) < 2:
            return "".join(texts)
        text = texts[0]
        for one in texts[1:-1]:
            text = self.wording.render("construction.list", first=text, second=one)
        return self.wording.render("construction.list_end", first=text, second=texts[-1])

    def in_the_middle(self, axis: int, level: float) -> bool:
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
