"""Pages for those who run an examination: plans of rooms, lists, pictures of how even a paper is. Sheet millimetres.

They are A4, for a clipboard; where the sheets are on paper in inches, that. Their frame has no grid references, for those would
be taken for the rows and columns of seats.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

import numpy as np

from sheetgen.exercises.contact import fitted_line
from sheetgen.ink import Face, Mark, Pen, Stroke, Text, clean, missing_glyphs, text_width
from sheetgen.sets.papers.records import Candidate, Seat
from sheetgen.sheet import PAPERS, Paper, Settings
from sheetgen.sheet.paper import Box
from sheetgen.sheet.textblock import PITCH, block_of
from sheetgen.templating import Wording

INSET = 5.0
"""mm between the frame and what stands in it."""

HEAD = 20.0
"""mm from the top of the frame to what the page is for."""

TITLE, MAIN, SMALL = 5.0, 3.5, 2.5
"""mm, heights of lettering; what is smaller than 2.5 a copier loses (common practice, no source)."""

ROW = 5.6
"""mm, height of a row of a table in MAIN lettering."""


def paper_of(settings: Settings) -> Paper:
    """The paper of such pages."""
    return settings.paper if settings.paper.name == "11x17" else PAPERS["A4"]


def room_of(paper: Paper) -> Box:
    """Where the head and the frame leave room."""
    return (paper.x0 + INSET, paper.y0 + INSET, paper.x1 - INSET, paper.y1 - HEAD)


def head_marks(settings: Settings, title: str, below: str, sheet: int, sheets: int, kept: float = 0.0) -> Iterator[Mark]:
    """The frame, what the page is, and which of how many. ``kept``: mm at the right end of the head for something else."""
    paper, right = paper_of(settings), paper_of(settings).x1 - INSET - kept
    base, number = paper.y1 - 9.0, settings.wording.render("contact.sheet", sheet=sheet, sheets=sheets)
    yield rectangle(paper.frame, Pen.FRAME)
    yield Text(number, (right, base), MAIN, anchor="end")
    yield fitted_line(title, (paper.x0 + INSET, base), right - paper.x0 - 3 * INSET - text_width(number, MAIN), TITLE)
    yield fitted_line(below, (paper.x0 + INSET, base - 7.0), right - paper.x0 - INSET, MAIN)


def rectangle(box: Box, pen: Pen) -> Stroke:
    """The outline of a box."""
    x0, y0, x1, y1 = box
    return Stroke(np.array([(x0, y0), (x1, y0), (x1, y1), (x0, y1)]), pen, closed=True)


def line(start: tuple[float, float], end: tuple[float, float], pen: Pen) -> Stroke:
    """A straight line."""
    return Stroke(np.array([start, end]), pen)


@dataclass(frozen=True, slots=True)
class Column:
    """A column of a table: its heading, ``width`` mm, and whether its texts stand at its right end."""

    heading: str
    width: float
    right: bool = False


def table_marks(
    columns: Sequence[Column], rows: Sequence[Sequence[str]], left: float, top: float, row: float = ROW
) -> Iterator[Mark]:
    """A table with its upper left corner there, rows ``row`` mm apart: headings over a wide line, a thin line under each row.
    Texts that are too long for their column are cut."""
    wide = sum(column.width for column in columns)
    yield from _row([column.heading for column in columns], columns, left, top - row, SMALL, row)
    yield line((left, top - row), (left + wide, top - row), Pen.GRID)
    for number, texts in enumerate(rows, 2):
        yield from _row(texts, columns, left, top - number * row, MAIN, row)
        yield line((left, top - number * row), (left + wide, top - number * row), Pen.TABLE)


def _row(
    texts: Sequence[str], columns: Sequence[Column], left: float, foot: float, height: float, row: float
) -> Iterator[Text]:
    x = left
    for text, column in zip(texts, columns, strict=True):
        if text:
            cut = fitted_line(text, (x + 1.0, foot + (row - height) / 2), column.width - 2.0, height)
            yield replace(cut, at=(x + column.width - 1.0, cut.at[1]), anchor="end") if column.right else cut
        x += column.width


def column_width(texts: Sequence[str], heading: str, most: float) -> float:
    """mm for a column of these texts, no more than ``most``."""
    widest = max((text_width(text, MAIN) for text in texts), default=0.0)
    return min(most, max(widest, text_width(heading, SMALL)) + 3.0)


def paragraph(text: str, width: float) -> list[str]:
    """Lines of SMALL lettering."""
    return list(block_of([text], width, SMALL, Face.REGULAR).lines)


def lines_marks(lines: Sequence[str], left: float, top: float) -> Iterator[Text]:
    """Such lines, the capitals of the first at ``top``."""
    for number, text in enumerate(lines):
        yield Text(text, (left, top - SMALL - number * PITCH * SMALL), SMALL)


def parted(count: int, most: int) -> list[range]:
    """0 to ``count`` in as few parts as go, none larger than ``most``, all as large as each other or one larger.

    >>> parted(40, 16)
    [range(0, 14), range(14, 27), range(27, 40)]
    """
    parts = -(-count // most)
    size, more = divmod(count, parts)
    ends = [part * size + min(part, more) for part in range(parts + 1)]
    return [range(*pair) for pair in pairwise(ends)]


def seat_text(seat: Seat, wording: Wording) -> str:
    """A seat as it is printed, within its room."""
    return wording.render("paper.seat", row=seat.row, column=seat.column)


def name_text(candidate: Candidate) -> str:
    """A name as it is printed: none if the lettering lacks a sign of it, as on the sheets."""
    name = clean(candidate.name).strip()
    return "" if missing_glyphs(name, Face.NARROW) or missing_glyphs(name) else name
