"""The paper: sizes, drawing space, and the lines and letters round it. Sheet mm, origin lower left.

All after ISO 5457:1999, from memory (landscape A4 after its amendment of 2010, from memory). Paper of 11 x 17 inch (the sheet
called B in ASME Y14.1, from memory) is not of ISO 216; its frame follows the same rules.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from sheetgen.geometry import Array
from sheetgen.ink import Fill, Mark, Pen, Stroke, Text, Vector

Box = tuple[float, float, float, float]
"""x0, y0, x1, y1 in sheet mm."""

FILING_BORDER, BORDER = 20.0, 10.0
"""mm from the left edge, and from the other three, to the frame (ISO 5457:1999 cl. 4.2, from memory)."""

REFERENCE_BORDER = 5.0
"""mm from the frame outwards to the border of the grid references (ISO 5457:1999 cl. 4.4, from memory)."""

FIELD = 50.0
"""mm, length of a field of the grid references, counted from the centring marks (cl. 4.4, from memory)."""

LEAST_FIELD = 25.0
"""mm: a shorter rest is added to the field at the corner. ISO 5457:1999 cl. 4.4 gives the differences to the corner fields (from
memory); its sizes leave rests from 27 mm on, which are fields, and those of 11 x 17 inch one of 6 mm."""

INCH = 25.4

CENTRING_INWARD = 10.0
"""mm that a centring mark reaches into the drawing space (ISO 5457:1999 cl. 4.3, from memory)."""

LETTER_HEIGHT = 3.5
"""mm, lettering of the grid references (cl. 4.4, from memory)."""

TRIMMING = (10.0, 5.0)
"""mm, sides of the rectangles of a trimming mark (cl. 4.5, from memory)."""

ROW_LETTERS = "ABCDEFGHJKLMNPQRSTUVWXYZ"
"""Letters of the rows, from the top; I and O are left out (cl. 4.4, from memory)."""


@dataclass(frozen=True, slots=True)
class Paper:
    """A landscape sheet: trimmed size and drawing space, mm.

    >>> paper = PAPERS["A3"]
    >>> paper.x1 - paper.x0, paper.y1 - paper.y0
    (390.0, 277.0)
    """

    name: str
    width: float
    height: float

    @property
    def x0(self) -> float:
        """Left side of the frame, mm."""
        return FILING_BORDER

    @property
    def y0(self) -> float:
        """Bottom of the frame, mm."""
        return BORDER

    @property
    def x1(self) -> float:
        """Right side of the frame, mm."""
        return self.width - BORDER

    @property
    def y1(self) -> float:
        """Top of the frame, mm."""
        return self.height - BORDER

    @property
    def frame(self) -> Box:
        """The drawing space."""
        return (self.x0, self.y0, self.x1, self.y1)


PAPERS = {paper.name: paper for paper in (Paper("A2", 594.0, 420.0), Paper("A3", 420.0, 297.0),
                                          Paper("A4", 297.0, 210.0), Paper("11x17", 17 * INCH, 11 * INCH))}
"""The papers by name, landscape: ISO 216 trimmed sizes, and for schools that have only that, 11 x 17 inch."""


def paper_name(text: str) -> str:
    """The name of a paper as it is spelt here; a text that is none stays as it is.

    >>> paper_name("a3"), paper_name("11 × 17"), paper_name("17x11"), paper_name("foolscap")
    ('A3', '11x17', '11x17', 'foolscap')
    """
    plain = "".join(text.casefold().replace("×", "x").split())
    return {"17x11": "11x17", **{name.casefold(): name for name in PAPERS}}.get(plain, text)


def frame_marks(paper: Paper, trimming: bool = False) -> list[Mark]:
    """Return frame and grid references; with ``trimming`` also the trimming marks at the corners.

    Trimming marks are off by default: a school printer does not reach the paper's edge, and all other ink stays 5 mm away from
    it.
    """
    x0, y0, x1, y1 = paper.frame
    out = REFERENCE_BORDER
    marks: list[Mark] = [_rectangle(paper.frame, Pen.FRAME), _rectangle((x0 - out, y0 - out, x1 + out, y1 + out), Pen.GRID)]
    marks += _references(paper)
    if trimming:
        marks += _trimming_marks(paper)
    return marks


def corner_marks(paper: Paper) -> list[Mark]:
    """Return the filled corners of the border between frame and grid references: all but that at the title block, so that whoever
    has scanned a sheet, or a program, sees which way up it is, and where its drawing space begins and ends."""
    x0, y0, x1, y1 = paper.frame
    out = REFERENCE_BORDER
    return [Fill(_corner_box(x, y, across, high)) for x, y, across, high in
            ((x0, y0, -out, -out), (x0, y1, -out, out), (x1, y1, out, out))]


def centring_marks(paper: Paper, clear: Sequence[Box] | Array = ()) -> list[Mark]:
    """Return the centring marks. One stops at the frame where its inward part would touch a box of ``clear``, (n, 4): x0, y0, x1,
    y1 (title block, views with their dimensions)."""
    return [Stroke(np.array(ends), Pen.FRAME) for ends in _centring_ends(paper, np.array(clear).reshape(-1, 4))]


def field_lines(start: float, end: float, centre: float) -> list[float]:
    """Return where grid lines stand between ``start`` and ``end``, every 50 mm from ``centre``, which is one; none so near an end
    that the rest would be no field.

    >>> field_lines(10.0, 287.0, 148.5)
    [48.5, 98.5, 148.5, 198.5, 248.5]
    """
    reach = int(max(centre - start, end - centre) // FIELD)
    places = (centre + FIELD * step for step in range(-reach, reach + 1))
    return [place for place in places if start + LEAST_FIELD <= place <= end - LEAST_FIELD]


def _rectangle(box: Box, pen: Pen) -> Stroke:
    x0, y0, x1, y1 = box
    return Stroke(np.array([(x0, y0), (x1, y0), (x1, y1), (x0, y1)]), pen, closed=True)


def _centring_ends(paper: Paper, clear: Array) -> Iterator[tuple[Vector, Vector]]:
    x0, y0, x1, y1 = paper.frame
    across, up = paper.width / 2, paper.height / 2
    for at, inward in (((across, y0), (0, 1)), ((across, y1), (0, -1)), ((x0, up), (1, 0)), ((x1, up), (-1, 0))):
        start = (at[0] - REFERENCE_BORDER * inward[0], at[1] - REFERENCE_BORDER * inward[1])
        tip = (at[0] + CENTRING_INWARD * inward[0], at[1] + CENTRING_INWARD * inward[1])
        yield (start, at if _touches(at, tip, clear) else tip)


def _touches(start: Vector, end: Vector, boxes: Array) -> bool:
    """Whether a line square to the paper comes nearer than 2 mm to any of the ``boxes`` (n, 4)."""
    (ax, bx), (ay, by) = sorted((start[0], end[0])), sorted((start[1], end[1]))
    x0, y0, x1, y1 = boxes.T
    return bool(((x0 - 2 < bx) & (ax < x1 + 2) & (y0 - 2 < by) & (ay < y1 + 2)).any())


def _references(paper: Paper) -> Iterator[Mark]:
    x0, y0, x1, y1 = paper.frame
    out, low = REFERENCE_BORDER, (REFERENCE_BORDER - LETTER_HEIGHT) / 2
    short = paper.name == "A4"      # references on top and right side only (cl. 4.4, from memory)
    columns, rows = field_lines(x0, x1, paper.width / 2), field_lines(y0, y1, paper.height / 2)
    for y in (y1,) if short else (y1, y0 - out):
        for x in columns:
            if x != paper.width / 2:        # there the centring mark is the line
                yield Stroke(np.array([(x, y), (x, y + out)]), Pen.GRID)
        for number, x in enumerate(_middles(x0, columns, x1), start=1):
            yield Text(str(number), (x, y + low), LETTER_HEIGHT, anchor="middle")
    for x in (x1,) if short else (x1, x0 - out):
        for y in rows:
            if y != paper.height / 2:
                yield Stroke(np.array([(x, y), (x + out, y)]), Pen.GRID)
        for letter, y in zip(ROW_LETTERS, reversed(_middles(y0, rows, y1)), strict=False):
            yield Text(letter, (x + out / 2, y - LETTER_HEIGHT / 2), LETTER_HEIGHT, anchor="middle")


def _middles(start: float, lines: list[float], end: float) -> list[float]:
    places = [start, *lines, end]
    return [(low + high) / 2 for low, high in pairwise(places)]


def _trimming_marks(paper: Paper) -> Iterator[Fill]:
    long, short = TRIMMING
    for corner_x, right in ((0.0, 1), (paper.width, -1)):
        for corner_y, up in ((0.0, 1), (paper.height, -1)):
            for across, high in ((long, short), (short, long)):
                yield Fill(_corner_box(corner_x, corner_y, right * across, up * high))


def _corner_box(x: float, y: float, across: float, high: float) -> Array:
    return np.array([(x, y), (x + across, y), (x + across, y + high), (x, y + high)])
