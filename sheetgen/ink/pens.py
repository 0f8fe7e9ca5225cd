"""Pens: what each role looks like on paper. In: strokes; out: the same strokes with dashes fitted to their length.

Widths are the 0.25 / 0.5 group of ISO 128-24:1999 cl. 4, and the next narrower for what is to stand back; the lengths of
dashes, dots and gaps are those of ISO 128-20:1996 Table 3 (ISO 128-2:2020), both from memory. All lengths are millimetres on
paper.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from enum import IntEnum
from types import MappingProxyType

from sheetgen.ink.curves import legs, stroke_length
from sheetgen.ink.marks import Mark, Pen, Stroke
from sheetgen.units import PAPER_DIGITS, SAME_SHARE, WHOLE_STEP


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
    Pen.SMALL: Nib(0.35, cap=Cap.ROUND),
    Pen.BORDER: Nib(0.5, cap=Cap.SQUARE, join=Join.MITRE),
    Pen.GRID: Nib(0.35, join=Join.MITRE),
    Pen.TABLE: Nib(0.25, join=Join.MITRE),
    Pen.HIDDEN: Nib(0.25),
    Pen.CENTRE: Nib(0.25),
    Pen.DIMENSION: Nib(0.25),
    Pen.HATCHING: Nib(0.25),
    Pen.CUTTING: Nib(0.5, join=Join.MITRE),
    Pen.EARLIER_OUTLINE: Nib(0.35, cap=Cap.ROUND),
    Pen.EARLIER_HIDDEN: Nib(0.18),
    Pen.EARLIER_CENTRE: Nib(0.18),
    Pen.EARLIER_CUTTING: Nib(0.35, join=Join.MITRE),
    Pen.EARLIER_HATCHING: Nib(0.18),
    Pen.CONSTRUCTION: Nib(0.13),
})
"""The nib of every pen."""

EARLIER: Mapping[Pen, Pen] = MappingProxyType({
    Pen.OUTLINE: Pen.EARLIER_OUTLINE, Pen.HIDDEN: Pen.EARLIER_HIDDEN, Pen.CENTRE: Pen.EARLIER_CENTRE,
    Pen.CUTTING: Pen.EARLIER_CUTTING, Pen.HATCHING: Pen.EARLIER_HATCHING})
"""With which pen a line is drawn that stood there before what is new: the same type of line in the next narrower group of widths,
0.18 / 0.35. By width and never by grey, because sheets are photocopied."""

DASHED = (Pen.HIDDEN, Pen.EARLIER_HIDDEN)
CHAINS = (Pen.CENTRE, Pen.EARLIER_CENTRE)
"""The pens of dashed lines, and of long-dashed dotted ones."""

DASH, LONG_DASH, DOT, GAP = 12.0, 24.0, 0.5, 3.0
"""Lengths of the elements of a line in line widths (ISO 128-20:1996 Table 3, from memory)."""

DASH_RANGE = (0.5, 1.5)
"""Parts of a nominal dash between which it is stretched (common practice, no source)."""

LONG_DASH_RANGE = (0.6, 1.5)
"""The same for a long dash."""

SHORTEST_OF_THREE = 0.4
"""The same for the three long dashes of a short centre line; a shorter line is drawn as one dash."""

STEP = 10.0 ** -PAPER_DIGITS
"""mm: dashes are rounded up to whole steps, and two more where a gap ends the line, so that no speck of a dash follows it."""

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
        if isinstance(mark, Stroke) and mark.pen in (*DASHED, *CHAINS):
            done.extend(_dashed(leg) for leg in (legs(mark) if mark.pen in DASHED else [mark]))
        else:
            done.append(mark)
    return done


def _dashed(stroke: Stroke) -> Stroke:
    length = stroke_length(stroke)
    if stroke.closed:
        dash, phase = closed_pattern(length, stroke.pen)
    elif stroke.pen in DASHED:
        dash, phase = hidden_pattern(length, first=stroke.gap_first, last=stroke.gap_last, pen=stroke.pen)
    else:
        dash, phase = centre_pattern(length, stroke.pen)
    return replace(stroke, dash=dash, phase=phase)


def hidden_pattern(length: float, *, first: bool = False, last: bool = False, pen: Pen = Pen.HIDDEN) -> Pattern:
    """Return (dash, gap) and phase in mm for a hidden line ``length`` mm long; an empty dash means one solid dash.

    n dashes and the gaps between them fill the line: the gap stays, the dash is stretched. ``first`` / ``last``: a gap
    stands at that end.

    >>> hidden_pattern(2.0), hidden_pattern(10.5, first=True)
    (((), 0.0), ((2.75, 0.75), 2.75))
    """
    width = width_of(pen)
    nominal, gap = DASH * width, GAP * width
    ends = int(first) + int(last)
    two_fit = length >= 2 * DASH_RANGE[0] * nominal + (1 + ends) * gap
    count = max(_nearest((length + gap - ends * gap) / (nominal + gap)), 2 if two_fit else 1)
    if (count == 1 and ends == 0) or length <= 0:
        return (), 0.0
    if count == 1:
        gap = min(gap, round(length / 3, 3))
    dash = _up((length - (count - 1 + ends) * gap) / count) + (2 * STEP if last else 0.0)
    return (dash, gap), dash if first else 0.0


def centre_pattern(length: float, pen: Pen = Pen.CENTRE) -> Pattern:
    """Return (long dash, gap, dot, gap) and phase in mm for a centre line ``length`` mm long; empty: one solid dash.

    >>> centre_pattern(6.0), centre_pattern(21.25)
    (((), 0.0), ((6.0, 0.75, 0.125, 0.75), 0.0))
    """
    nominal, *between = _chain(pen)
    rest = sum(between)
    count = 2 * _nearest(((length + rest) / (nominal + rest) - 1) / 2) + 1
    if count == 1 and length >= 3 * SHORTEST_OF_THREE * nominal + 2 * rest:
        count = 3
    if count == 1:
        return (), 0.0
    return (_up((length - (count - 1) * rest) / count), *between), 0.0


def closed_pattern(length: float, pen: Pen) -> Pattern:
    """Return dashes and phase in mm for a closed hidden or centre line ``length`` mm long; an empty dash means solid.

    It has a multiple of four periods where they fit and starts in the middle of a dash, so that a circle's centre lines
    cross it on dashes.

    >>> closed_pattern(30.0, Pen.HIDDEN)
    ((3.0, 0.75), 1.5)
    """
    hidden = pen in DASHED
    nominal, *between = (DASH * width_of(pen), GAP * width_of(pen)) if hidden else _chain(pen)
    shortest, longest = DASH_RANGE if hidden else LONG_DASH_RANGE
    rest = sum(between)
    count = 4 * max(1, _nearest(length / (nominal + rest) / 4))
    if not shortest <= (length / count - rest) / nominal <= longest:
        count = max(1, _nearest(length / (nominal + rest)))
        if length / count - rest > longest * nominal:       # the nearest to one period may still be too long a dash: take two
            count += 1
    dash = length / count - rest
    if dash < shortest * nominal:
        return (), 0.0
    return (_up(dash), *between), round(dash / 2, 3)


def _chain(pen: Pen) -> tuple[float, float, float, float]:
    """Return the nominal elements of a centre line in mm: long dash, gap, dot, gap."""
    width = width_of(pen)
    return LONG_DASH * width, GAP * width, DOT * width, GAP * width


def _nearest(value: float) -> int:
    """Round; a half goes down on every machine, whatever the last bits say."""
    return math.floor(value + 0.5 - SAME_SHARE)


def _up(value: float) -> float:
    return round(math.ceil(value / STEP - WHOLE_STEP) * STEP, PAPER_DIGITS)
