"""How values are spread over candidates: counted, put into bins, drawn as a picture. Sheet millimetres.

However many candidates there are, a picture has at most some forty bars.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

import numpy as np

from sheetgen.exercises.contact import fitted_line
from sheetgen.ink import Face, Fill, Mark, Pen, Stroke, Text, dashed, text_width
from sheetgen.sets.papers.office import MAIN, SMALL
from sheetgen.sheet.paper import Box
from sheetgen.templating.phrases import number_text

MOST_BARS = 40

WITHIN = 6
"""Bins from the middle to a bound, each way, of a quantity that is no count."""

STEPS = (0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0)
"""Widths of bins where there is no bound to make them of."""

DIGITS = 6
"""Decimals of a value that are looked at: on which side of an edge it lies must not hang on the last bit of a sum."""

BAR = 0.8
"""Part of a bin's width that its bar takes."""

LEAST_BAR = 0.5
"""mm, height of the bar of a single one of a hundred thousand."""


@dataclass(frozen=True, slots=True)
class Spread:
    """How often each value comes. ``whole``: the values are counts; ``middle``, ``bound``: how far from where they may lie, each
    way; None where nothing is bounded."""

    counts: dict[float, int]
    whole: bool
    middle: float | None = None
    bound: float | None = None

    @property
    def least(self) -> float:
        """The least value."""
        return min(self.counts)

    @property
    def greatest(self) -> float:
        """The greatest value."""
        return max(self.counts)

    @property
    def mean(self) -> float:
        """The mean of all."""
        return sum(value * count for value, count in self.counts.items()) / sum(self.counts.values())


@dataclass(frozen=True, slots=True)
class Bins:
    """``counts`` of values in bins ``width`` wide, the first of which begins at ``start``; ``bounds``: the edges beyond which no
    value may lie."""

    start: float
    width: float
    counts: tuple[int, ...]
    bounds: tuple[float, float] | None = None


def spread_of(values: Iterable[float], *, whole: bool, middle: float | None = None, bound: float | None = None) -> Spread:
    """Count values. Raises: ValueError if there are none."""
    counts = Counter(round(value, DIGITS) for value in values)
    if not counts:
        raise ValueError("a spread needs at least one value")
    return Spread(dict(sorted(counts.items())), whole, middle, bound)


def bins_of(spread: Spread) -> Bins:
    """The values in bins; where there is a bound, as far as that and one bin beyond, even if they are empty.

    >>> bins_of(spread_of([4, 5, 5, 6], whole=True, middle=5, bound=2))
    Bins(start=1.5, width=1, counts=(0, 0, 1, 2, 1, 0, 0), bounds=(2.5, 7.5))
    """
    edges = None
    if spread.middle is not None and spread.bound is not None:
        edges = round(spread.middle - spread.bound, DIGITS), round(spread.middle + spread.bound, DIGITS)
        if spread.whole:
            edges = max(0, math.ceil(edges[0])) - 0.5, math.floor(edges[1]) + 0.5
    lowest, highest = min(spread.least, edges[0] if edges else math.inf), max(spread.greatest, edges[1] if edges else -math.inf)
    width = _width(spread, highest - lowest)
    origin = edges[0] if edges else math.floor(round(lowest / width, DIGITS)) * width - (0.5 if spread.whole else 0.0)
    first = math.floor(round((lowest - origin) / width, DIGITS)) - 1
    if spread.whole and origin + first * width < -width:         # counts have nothing below none
        first += 1
    last = math.ceil(round((highest - origin) / width, DIGITS))
    counts = [0] * (last - first + 1)
    for value, count in spread.counts.items():
        place = math.floor(round((value - origin) / width, DIGITS))
        if edges and round(value - edges[1], DIGITS) == 0:       # what lies at the bound is within it
            place -= 1
        counts[place - first] += count
    return Bins(origin + first * width, width, tuple(counts), edges)


def _width(spread: Spread, span: float) -> float:
    """Of a bin: so many that there are not too many bars."""
    if spread.whole:
        return max(1, math.ceil((span + 1) / (MOST_BARS - 2)))
    usual = spread.bound / WITHIN if spread.bound else STEPS[0]
    if span <= usual * (MOST_BARS - 4):
        return usual
    return next((step for step in STEPS if span <= step * (MOST_BARS - 4)), span / (MOST_BARS - 4))


def picture_marks(spread: Spread, title: str, box: Box) -> Iterator[Mark]:
    """The picture of a spread with its ``title``: bars, how many each stands for, values under them, bounds and middle."""
    bins, (x0, y0, x1, y1) = bins_of(spread), box
    yield fitted_line(title, (x0, y1 - MAIN), x1 - x0, MAIN)
    foot, top = y0 + SMALL + 2.5, y1 - MAIN - 4.0 - 2 * SMALL
    pitch, tallest = (x1 - x0) / len(bins.counts), max(bins.counts)
    yield Stroke(np.array([(x0, foot), (x1, foot)]), Pen.GRID)
    every = max(text_width(str(count), SMALL, Face.NARROW) for count in bins.counts) <= pitch - 0.6
    for number, count in enumerate(bins.counts):
        if count:
            middle, high = x0 + (number + 0.5) * pitch, max(LEAST_BAR, (top - foot) * count / tallest)
            left, right = middle - BAR * pitch / 2, middle + BAR * pitch / 2
            yield Fill(np.array([(left, foot), (right, foot), (right, foot + high), (left, foot + high)]), shade=0.65)
            if every or number == bins.counts.index(tallest):
                yield _held(str(count), middle, foot + high + 1.0, x0, x1)
    yield from _values(bins, spread, box, foot, pitch)
    yield from _bounds(bins, spread, x0, foot, top, pitch)


def _bounds(bins: Bins, spread: Spread, x0: float, foot: float, top: float, pitch: float) -> Iterator[Mark]:
    """The bounds as dashed lines, the middle as a triangle that points down to it."""
    if bins.bounds is None or spread.middle is None:
        return
    places = [x0 + (value - bins.start) / bins.width * pitch for value in bins.bounds if not (spread.whole and value < 0)]
    yield from dashed([Stroke(np.array([(x, foot + 0.5), (x, top)]), Pen.HIDDEN) for x in places])
    x = x0 + (spread.middle - bins.start) / bins.width * pitch
    high = top + SMALL + 2.5
    yield Fill(np.array([(x, high), (x + 1.2, high + 2.2), (x - 1.2, high + 2.2)]))


def _values(bins: Bins, spread: Spread, box: Box, foot: float, pitch: float) -> Iterator[Mark]:
    """Values under the bars: of counts in the middle of each bin, of others at its edges; as many as have room."""
    x0, y0, x1, _ = box
    half = (bins.width - 1) / 2 + 0.5 if spread.whole else 0.0
    values = [bins.start + number * bins.width + half for number in range(len(bins.counts) + (0 if spread.whole else 1))]
    texts = [number_text(float(round(value, DIGITS))) for value in values]
    needed = max(text_width(text, SMALL, Face.NARROW) for text in texts) + 2.0
    step = next(step for step in (1, 2, 3, 6, 12, 24, 48) if step * pitch >= needed or step == 48)
    aligned = round((bins.bounds[0] - bins.start) / bins.width) % step if bins.bounds and not spread.whole else 0
    for number in range(aligned, len(texts), step):
        if not spread.whole and number in (0, len(texts) - 1):   # the ends of the line, where a text would stand beside its place
            continue
        x = x0 + (number + (0.5 if spread.whole else 0.0)) * pitch
        yield Stroke(np.array([(x, foot), (x, foot - 1.0)]), Pen.TABLE)
        yield _held(texts[number], x, y0, x0, x1)


def _held(text: str, middle: float, base: float, left: float, right: float) -> Text:
    """A text in the middle of its place, held within the picture."""
    half = text_width(text, SMALL, Face.NARROW) / 2
    return Text(text, (min(max(middle, left + half), right - half), base), SMALL, anchor="middle", face=Face.NARROW)
