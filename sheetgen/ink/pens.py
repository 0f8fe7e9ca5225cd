"""Pens: what each role looks like on paper. In: strokes; out: the same strokes with dashes fitted to their length.

Widths are the 0.25 / 0.5 group of ISO 128-24:1999 cl. 4; the lengths of dashes, dots and gaps are those of
ISO 128-20:1996 Table 3 (ISO 128-2:2020), both from memory. All lengths are millimetres on paper.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from enum import IntEnum
from types import MappingProxyType

from sheetgen.ink.curves import legs, stroke_length
from sheetgen.ink.marks import Mark, Pen, Stroke


class Cap(IntEnum):
    """How a line ends."""

    BUTT = 0     # at its last point: dashes and dimension lines measure true
    ROUND = 1    # half a width beyond: edges that meet in a corner leave no notch
    SQUARE = 2


class Join(IntEnum):
    """How a line turns a corner."""

    MITRE = 0
    ROUND = 1


@dataclass(frozen=True)
class Nib:
    """What a pen leaves on paper: ``width`` mm, its ends and its corners."""

    width: float
    cap: Cap = Cap.BUTT
    join: Join = Join.ROUND


NIBS: Mapping[Pen, Nib] = MappingProxyType({
    Pen.FRAME: Nib(0.7, join=Join.MITRE),
    Pen.OUTLINE: Nib(0.5, cap=Cap.ROUND),
    Pen.BORDER: Nib(0.5, cap=Cap.SQUARE, join=Join.MITRE),
    Pen.GRID: Nib(0.35, join=Join.MITRE),
    Pen.TABLE: Nib(0.25, join=Join.MITRE),
    Pen.HIDDEN: Nib(0.25),
    Pen.CENTRE: Nib(0.25),
    Pen.DIMENSION: Nib(0.25),
    Pen.CONSTRUCTION: Nib(0.25),
})
"""The nib of every pen."""

DASH, LONG_DASH, DOT, GAP = 12.0, 24.0, 0.5, 3.0
"""Lengths of the elements of a line in line widths (ISO 128-20:1996 Table 3, from memory)."""

SHORTEST_DASH = 0.5
"""Part of a nominal dash that is still a dash (common practice, no source)."""

SHORTEST_LONG_DASH, LONGEST_LONG_DASH = 0.6, 1.5
"""Parts of a nominal long dash between which it is fitted (common practice, no source)."""

SHORTEST_OF_THREE = 0.4
"""The same for the three long dashes of a short centre line; shorter ones are drawn as one dash."""

MICRONS = 1000.0
"""Dashes are rounded up to a whole micron, so that a gap at the end of a line is never followed by a speck of a dash."""

Pattern = tuple[tuple[float, ...], float]


def width_of(pen: Pen) -> float:
    """Return the width of ``pen``'s line in mm.

    >>> width_of(Pen.OUTLINE) / width_of(Pen.HIDDEN)
    2.0
    """
    return NIBS[pen].width


def dashed(marks: Iterable[Mark]) -> list[Mark]:
    """Return ``marks`` with the dashes of hidden and centre lines fitted to the length of each.

    Hidden lines begin and end with a dash (with ``gap_first`` / ``gap_last`` a gap); a hidden polyline with sharp
    corners comes back as one stroke per leg, so that its corners are touching dashes. Centre lines begin and end with a
    long dash and have an odd number of them, so that their middle, where they mostly cross, lies on a dash. Closed
    curves carry a whole number of periods. Other marks pass through. What comes out depends on the stroke alone.

    >>> import numpy as np
    >>> dashed([Stroke(np.array([[0, 0], [33, 0]]), Pen.HIDDEN)])[0].dash
    (3.0, 0.75)
    """
    done: list[Mark] = []
    for mark in marks:
        if isinstance(mark, Stroke) and mark.pen is Pen.HIDDEN:
            done.extend(_with(leg, hidden_pattern(stroke_length(leg), first=leg.gap_first, last=leg.gap_last,
                                                  closed=leg.closed)) for leg in legs(mark))
        elif isinstance(mark, Stroke) and mark.pen is Pen.CENTRE:
            done.append(_with(mark, centre_pattern(stroke_length(mark), closed=mark.closed)))
        else:
            done.append(mark)
    return done


def hidden_pattern(length: float, *, first: bool = False, last: bool = False, closed: bool = False) -> Pattern:
    """Return (dash, gap) and phase in mm for a hidden line ``length`` mm long; an empty dash means one solid dash.

    n dashes and the gaps between them fill the line: the gap stays, the dash is stretched. ``first`` / ``last``: a gap
    stands at that end. A closed line is one that ends with a gap.

    >>> hidden_pattern(2.0), hidden_pattern(10.5, first=True)
    (((), 0.0), ((2.75, 0.75), 2.75))
    """
    width = width_of(Pen.HIDDEN)
    nominal, gap = DASH * width, GAP * width
    ends = 1 if closed else int(first) + int(last)
    two_fit = length >= 2 * SHORTEST_DASH * nominal + (1 + ends) * gap
    count = max(_nearest((length + gap - ends * gap) / (nominal + gap)), 2 if two_fit else 1)
    if count == 1 and ends == 0:
        return (), 0.0
    if count == 1:
        gap = min(gap, round(length / 3, 3))
    dash = _up((length - (count - 1 + ends) * gap) / count)
    return (dash, gap), dash if first and not closed else 0.0


def centre_pattern(length: float, *, closed: bool = False) -> Pattern:
    """Return (long dash, gap, dot, gap) and phase in mm for a centre line ``length`` mm long; empty: one solid dash.

    A circle has a multiple of four periods where they fit and starts in the middle of a long dash, so that its own
    centre lines cross it on long dashes.

    >>> centre_pattern(6.0), centre_pattern(21.25)
    (((), 0.0), ((6.0, 0.75, 0.125, 0.75), 0.0))
    """
    width = width_of(Pen.CENTRE)
    nominal, gap, dot = LONG_DASH * width, GAP * width, DOT * width
    between = 2 * gap + dot
    if closed:
        count = _periods(length, nominal, between)
        long_dash = length / count - between
        if long_dash < SHORTEST_LONG_DASH * nominal:
            return (), 0.0
        return (_up(long_dash), gap, dot, gap), round(long_dash / 2, 3)
    count = 2 * _nearest(((length + between) / (nominal + between) - 1) / 2) + 1
    if count == 1 and length >= 3 * SHORTEST_OF_THREE * nominal + 2 * between:
        count = 3
    if count == 1:
        return (), 0.0
    return (_up((length - (count - 1) * between) / count), gap, dot, gap), 0.0


def _periods(length: float, nominal: float, between: float) -> int:
    """Return how many periods a closed centre line takes."""
    periods = length / (nominal + between)
    fours = 4 * max(1, _nearest(periods / 4))
    if SHORTEST_LONG_DASH <= (length / fours - between) / nominal <= LONGEST_LONG_DASH:
        return fours
    return max(1, _nearest(periods))


def _nearest(value: float) -> int:
    """Round; a half goes down on every machine, whatever the last bits say."""
    return math.floor(value + 0.5 - 1e-9)


def _up(value: float) -> float:
    return math.ceil(value * MICRONS - 1e-6) / MICRONS


def _with(stroke: Stroke, pattern: Pattern) -> Stroke:
    return replace(stroke, dash=pattern[0], phase=pattern[1])
