"""Marks: ink on paper as data. Sheet millimetres, origin at the lower left corner, y up."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from enum import Enum
from typing import overload

import numpy as np

from sheetgen.geometry import Array

Vector = tuple[float, float]


class Pen(Enum):
    """A role a line plays; its width and pattern live in ``pens.py``."""

    FRAME = "frame"                # frame of the drawing space, centring marks: 0.7
    OUTLINE = "outline"            # visible edges and outlines: 0.5
    SMALL = "small"                # visible edges and outlines of a small pictorial: 0.35
    HIDDEN = "hidden"              # 0.25 dashed
    CENTRE = "centre"              # 0.25 long-dashed dotted
    DIMENSION = "dimension"        # 0.25: dimension lines, extension lines, leaders, arrows' shafts
    HATCHING = "hatching"          # 0.25: the faces of a cut
    CUTTING = "cutting"            # 0.5: a cutting plane's ends and bends, and its arrows
    EARLIER_OUTLINE = "earlier outline"    # of a stage of a construction, what was drawn before: 0.35
    EARLIER_HIDDEN = "earlier hidden"      # the same, 0.18 dashed
    EARLIER_CENTRE = "earlier centre"      # the same, 0.18 long-dashed dotted
    EARLIER_CUTTING = "earlier cutting"    # the same, of a cutting plane: 0.35
    EARLIER_HATCHING = "earlier hatching"  # the same, of a cut: 0.18
    CONSTRUCTION = "construction"  # 0.13: boxes, projectors, mitre line
    GRID = "grid"                  # 0.35: reference grid, trimming marks
    TABLE = "table"                # 0.25: inner lines of the title block
    BORDER = "border"              # 0.5: outer lines of the title block, arrow of sight

    __hash__ = object.__hash__     # each is one object; by name it would cost more than what is looked up


class Face(Enum):
    """A lettering face, always upright."""

    REGULAR = "regular"
    NARROW = "narrow"

    __hash__ = object.__hash__     # as of pens


@dataclass(frozen=True, eq=False)
class Stroke:
    """A line on paper.

    ``points`` (n, 2) mm: a polyline; with ``curved`` the control points of joined cubic Béziers, n = 3 k + 1.
    ``dash`` lengths in mm (dash, gap, ...) and ``phase`` are filled in by ``dashed``; ``gap_first`` / ``gap_last``: the dashes
    begin / end with a gap because the line continues a visible one.
    """

    points: Array
    pen: Pen
    curved: bool = False
    closed: bool = False
    gap_first: bool = False
    gap_last: bool = False
    dash: tuple[float, ...] = ()
    phase: float = 0.0


@dataclass(frozen=True, eq=False)
class Fill:
    """A filled polygon, ``points`` (n, 2) mm; ``shade`` 0 is black, 1 is white."""

    points: Array
    shade: float = 0.0


@dataclass(frozen=True)
class Text:
    """One line of lettering.

    ``at``: mm, the point of the baseline that ``anchor`` names (start, middle, end). ``height``: of capitals, mm.
    ``along`` and ``up``: paper vectors of one unit along the baseline and one unit up the letters, so that lettering may be
    turned and sheared (``along`` (cos30, sin30), ``up`` (0, 1) lies in an isometric plane).
    """

    text: str
    at: Vector
    height: float
    along: Vector = (1.0, 0.0)
    up: Vector = (0.0, 1.0)
    anchor: str = "start"
    face: Face = Face.REGULAR


Colour = tuple[float, float, float]
"""Red, green and blue, from 0 to 1."""


@dataclass(frozen=True, eq=False)
class Shape:
    """A shape of somebody's own artwork, in colours of its own.

    ``points`` (n, 2) mm: the control points of joined cubic Béziers, run after run; ``runs``: for each the number of its points,
    3 k + 1, and whether it is closed. ``fill``: of its inside, by the rule of even and odd crossings if ``even_odd``, else by
    that of windings; ``line``: of its rim, ``width`` mm wide; None: not painted. ``ends`` and ``corners`` as SVG calls them.
    """

    points: Array
    runs: tuple[tuple[int, bool], ...]
    fill: Colour | None
    line: Colour | None = None
    width: float = 0.0
    even_odd: bool = False
    ends: str = "butt"
    corners: str = "miter"


@dataclass(frozen=True, eq=False)
class Picture:
    """A picture of dots: ``points`` (2, 2) mm, its lower left and its upper right corner; ``png``: its file."""

    points: Array
    png: bytes


Mark = Stroke | Fill | Text | Shape | Picture


def moved(marks: Iterable[Mark], dx: float, dy: float) -> list[Mark]:
    """Return ``marks`` moved by (``dx``, ``dy``) mm."""
    return [_moved(mark, dx, dy) for mark in marks]


def enlarged(marks: Iterable[Shape | Picture], factor: float) -> list[Shape | Picture]:
    """Return artwork ``factor`` times as large, from the origin."""
    return [replace(mark, points=mark.points * factor, width=mark.width * factor) if isinstance(mark, Shape)
            else replace(mark, points=mark.points * factor) for mark in marks]


def _moved(mark: Mark, dx: float, dy: float) -> Mark:
    if isinstance(mark, Text):
        return replace(mark, at=(mark.at[0] + dx, mark.at[1] + dy))
    return replace(mark, points=mark.points + np.array([dx, dy]))


@dataclass(frozen=True, eq=False)
class Page:
    """One page: paper size in mm and its marks, painted in order."""

    width: float
    height: float
    marks: Sequence[Mark]


class MadePages(Sequence[Page]):
    """So many pages, of which each is made by its number when it is asked for, so that memory stays flat."""

    def __init__(self, count: int, make: Callable[[int], Page]) -> None:
        self._numbers, self._make = range(count), make

    def __len__(self) -> int:
        return len(self._numbers)

    @overload
    def __getitem__(self, place: int) -> Page: ...
    @overload
    def __getitem__(self, place: slice) -> list[Page]: ...
    def __getitem__(self, place: int | slice) -> Page | list[Page]:
        numbers = self._numbers[place]
        return list(map(self._make, numbers)) if isinstance(numbers, range) else self._make(numbers)

    def __iter__(self) -> Iterator[Page]:
        return map(self._make, self._numbers)


@dataclass(frozen=True, eq=False)
class Document:
    """What goes into one file. ``set_mark``: what it has in common with the other files of its set, and with no others."""

    pages: Sequence[Page]
    title: str
    language: str = "en-GB"
    author: str = ""
    subject: str = ""
    keywords: str = ""
    outline: Sequence[tuple[str, int]] = field(default_factory=tuple)   # bookmark, page index
    set_mark: str = ""
