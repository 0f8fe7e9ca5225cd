"""Pens: what each role looks like on paper. In: strokes; out: the same strokes with dashes fitted to their length.

Widths are the 0.25 / 0.5 group of ISO 128-24:1999 cl. 4; the lengths of dashes, dots and gaps are those of
ISO 128-20:1996 Table 3 (ISO 128-2:2020), both from memory. All lengths are millimetres on paper.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import IntEnum
from types import MappingProxyType

from tests.bench.floor.marks import Pen


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
    Pen.CONSTRUCTION: Nib(0.25),
})
"""The nib of every pen."""
