"""Contact sheets: a small pictorial of every family, by rung, so that a teacher can choose by eye. Sheet millimetres."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import groupby

import numpy as np

from sheetgen.bank import BankError, Family
from sheetgen.exercises.coding import DRAWS
from sheetgen.ink import Document, Face, Mark, Page, Pen, Stroke, Text, fitted, missing_glyphs, text_width
from sheetgen.problem import problem_of
from sheetgen.refusals import RefusedError
from sheetgen.sheet import PAPERS
from sheetgen.sheet.checkbar import check_bar_on
from sheetgen.sheet.paper import Box, centring_marks, frame_marks
from sheetgen.sheet.textblock import PITCH, block_of
from sheetgen.sheet.viewmarks import view_marks
from sheetgen.sight import PlacedView, Sight
from sheetgen.templating import Wording

PAPER = PAPERS["A3"]
COLUMNS, ROWS = 4, 3
FEWER_ROWS = 2
"""Rows of a page that these are enough for, so that its pictures are larger."""

HEAD = 14.0
"""mm from the top of the frame to the cells."""

INSET = 5.0
"""mm between a cell's edge and what is in it."""

BELOW = 21.0
"""mm at the foot of a cell for name, title and topics."""

NAME, SMALL = 3.5, 2.5
"""mm, heights of lettering; what is smaller than 2.5 a copier loses (common practice, no source)."""

MOST_LINES = 2
"""Lines of topics; a family with more topics has them in its file."""


CUT = "..."
"""Ends a text that does not fit; the whole of it stands in the family's file."""


@dataclass(frozen=True, eq=False)
class Portrait:
    """A family and its pictorial; None if it has none."""

    family: Family
    sight: Sight | None


def portrait_of(family: Family, seed: int = 1) -> Portrait:
    """The pictorial of the first variant of ``seed`` that can be read."""
    for draw in range(DRAWS):
        try:
            return Portrait(family, problem_of(family.sample(seed, draw)).pictorial)
        except RefusedError:
            continue
        except BankError:
            break
    return Portrait(family, None)


def contact_sheets(portraits: Sequence[Portrait], wording: Wording) -> Document:
    """One document: a page for each rung, or several if it has more than twelve families."""
    ordered = sorted(portraits, key=lambda each: (each.family.rung, each.family.name))
    groups = [(rung, part) for rung, found in groupby(ordered, key=lambda each: each.family.rung) for part in _parts(list(found))]
    pages = [_page(rung, part, wording, number, len(groups)) for number, (rung, part) in enumerate(groups, 1)]
    return Document(
        pages, title=wording.render("contact.title"), language=wording.language, subject=wording.render("contact.subject"),
        outline=tuple((_heading(wording, rung), page) for page, (rung, _) in enumerate(groups)))


def _parts(portraits: list[Portrait]) -> Iterator[list[Portrait]]:
    most = COLUMNS * ROWS
    for first in range(0, len(portraits), most):
        yield portraits[first:first + most]


def _heading(wording: Wording, rung: int) -> str:
    return wording.render("contact.heading", rung=rung, what=wording.render(f"contact.rung_{rung}"))


def _page(rung: int, portraits: Sequence[Portrait], wording: Wording, number: int, count: int) -> Page:
    base, sheet = PAPER.y1 - 10.0, wording.render("contact.sheet", sheet=number, sheets=count)
    room = PAPER.x1 - PAPER.x0 - 3 * INSET - text_width(sheet, NAME)
    marks: list[Mark] = [
        *frame_marks(PAPER),
        *centring_marks(PAPER, [PAPER.frame]),
        *check_bar_on(PAPER, wording.render("check_bar")),
        fitted_line(_heading(wording, rung), (PAPER.x0 + INSET, base), room, 5.0),
        Text(sheet, (PAPER.x1 - INSET, base), NAME, anchor="end"),
    ]
    rows = ROWS if len(portraits) > COLUMNS * FEWER_ROWS else FEWER_ROWS
    for place, portrait in enumerate(portraits):
        marks += _cell(portrait, _cell_box(place, rows), wording)
    return Page(PAPER.width, PAPER.height, marks)


def _cell_box(place: int, rows: int) -> Box:
    """The box of the cell number ``place`` of a page with ``rows``, row by row from the top left."""
    row, column = divmod(place, COLUMNS)
    wide, high = (PAPER.x1 - PAPER.x0) / COLUMNS, (PAPER.y1 - HEAD - PAPER.y0) / rows
    x, y = PAPER.x0 + column * wide, PAPER.y1 - HEAD - (row + 1) * high
    return x + INSET, y + INSET, x + wide - INSET, y + high - 2.0


def _cell(portrait: Portrait, box: Box, wording: Wording) -> list[Mark]:
    """A pictorial as large as fits, over the name, the title and the topics."""
    family, (x0, y0, x1, y1) = portrait.family, box
    topics = wording.render("contact.below", rung=family.rung, topics=", ".join(family.topics))
    below = block_of([topics], x1 - x0, SMALL, Face.NARROW)
    rows = [(family.name, NAME), (family.title, SMALL), *((line, SMALL) for line in below.lines[:MOST_LINES])]
    marks: list[Mark] = []
    y = y0 + BELOW - INSET
    for text, height in rows:
        y -= height
        marks.append(fitted_line(text, (x0, y), x1 - x0, height))
        y -= (PITCH - 1.0) * height
    if portrait.sight is None:
        return [*marks, fitted_line(wording.render("contact.undrawn"), (x0, y0 + BELOW), x1 - x0, SMALL)]
    return [*marks, *picture(portrait.sight, (x0, y0 + BELOW, x1, y1))]


def fitted_line(text: str, at: tuple[float, float], width: float, height: float) -> Text:
    """A text made to fit, cut if need be; signs that the lettering lacks, which a stranger's file may have, as question marks."""
    known = "".join("?" if missing_glyphs(sign) else sign for sign in text)
    if text_width(known, SMALL, Face.NARROW) > width:
        ends = (known[:end] + CUT for end in range(len(known), 0, -1))
        known = next((short for short in ends if text_width(short, SMALL, Face.NARROW) <= width), CUT)
    known, height, face = fitted(known, width, height, least=SMALL)
    return Text(known, at, height, face=face)


def picture(sight: Sight, box: Box) -> list[Mark]:
    """The visible lines of a view, as large as they go into a box and in its middle, with pens for small pictures."""
    low, high = sight.view.extent
    room = np.array(box[2:]) - np.array(box[:2])
    scale = float((room / (high - low)).min())
    placed = PlacedView.cornered(sight, scale, np.array(box[:2]) + (room - (high - low) * scale) / 2)
    strokes = view_marks(placed, hidden=False, centres=False)
    return [replace(stroke, pen=Pen.SMALL) if isinstance(stroke, Stroke) else stroke for stroke in strokes]
