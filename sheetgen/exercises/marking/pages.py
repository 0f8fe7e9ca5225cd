"""The marking sheet: the scheme as a table, the errors that are likely, and the views with their lines numbered.

All on one page where that has room; on smaller paper the views have a page of their own, at the scale asked for and where they
stand on the answer.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from sheetgen.exercises.drawing import INSET, Drawing
from sheetgen.exercises.marking.likely import Doubled, Likely, likely_errors
from sheetgen.exercises.marking.pictures import Picture, picture_in, picture_on_its_own, pictures_one_by_one, wrong_ones
from sheetgen.exercises.marking.record import marks_text, usual_marking
from sheetgen.exercises.marking.scheme import Scheme, scheme_of
from sheetgen.exercises.marking.table import Block, own_details, table_of
from sheetgen.exercises.page import page_of
from sheetgen.exercises.roles import Particulars, Role
from sheetgen.faults import Fault, FaultError
from sheetgen.ink import LetteringError, Mark, Page, Text, moved
from sheetgen.problem import Problem
from sheetgen.projection import View
from sheetgen.sheet import Settings
from sheetgen.sheet.paper import Box
from sheetgen.sheet.textblock import TextBlock, block_of
from sheetgen.sheet.titleblock_ink import titleblock_box

HEADING, NOTE = 5.0, 2.5
"""mm, heights of lettering: of headings, and of notes and errors."""

WIDTHS = (176.0, 160.0, 146.0, 134.0)
"""mm: of the table, the widest that leaves room for what stands beside it."""

WIDEST = 240.0
"""mm: of a table on a page of its own."""

ROWS, WORDS = (3.5, 2.5), (3.5, 2.5)
"""mm, heights of the lettering of the table, and of the errors."""

BESIDE, BELOW = 8.0, 5.0
"""mm between the table and what stands beside it; between blocks one below the other."""

CAPTION = 5.0
"""mm kept for the words over a picture."""

MOST_UNDER = 100.0
"""mm: of the errors under a picture."""

LEAST_BESIDE = 84.0
"""mm: of the column of errors beside a table."""

WRONG = (52.0, 44.0, 36.0, 30.0)
"""mm: height of what is shown as wrong, with its words."""


class MarkingError(FaultError):
    """A marking sheet that has no room for what it must say. It is no reason to print another variant: the question has been
    printed already."""


@dataclass(frozen=True, eq=False)
class SchemeSheet:
    """What all pages of a marking sheet are made of."""

    problem: Problem
    settings: Settings
    drawing: Drawing
    scheme: Scheme
    likely: Likely

    @property
    def room(self) -> Box:
        """The drawing space, less what is kept free along the frame."""
        paper = self.settings.paper
        return paper.x0 + INSET, paper.y0 + INSET, paper.x1 - INSET, paper.y1 - INSET

    @property
    def block(self) -> Box:
        """Of the title."""
        return titleblock_box(self.settings.block, self.settings.paper)

    def table(self, width: float, height: float, most: float, *, compact: bool = False) -> Block | None:
        """Heading, table and notes; None if they are higher than ``most``, or a text is too wide. ``compact``: without details
        and notes; what of these is the problem's own then stands before the errors."""
        say, halves = self.settings.wording.render, self.scheme.marking.halves
        marks: list[Mark] = [Text(say("marking.heading", marks=marks_text(halves)), (0.0, -HEADING), HEADING)]
        how = block_of([say("marking.deduct" if self.scheme.deducts else "marking.award")], width, NOTE)
        marks += how.marks(0.0, -HEADING - 3.0)
        down = HEADING + 3.0 + how.breadth + 3.0
        try:
            table = table_of(self.scheme, self.drawing, self.settings, width, height, compact=compact)
        except LetteringError:
            return None
        marks += moved(table.marks, 0.0, -down)
        down += table.breadth
        if not compact:
            notes = block_of(self.notes, width, NOTE)
            marks += notes.marks(0.0, -down - 3.5)
            down += 3.5 + notes.breadth
        return Block(tuple(marks), width, down) if down <= most else None

    @property
    def notes(self) -> list[str]:
        """How exact lines must be, what counts once, and what a line is."""
        say = self.settings.wording.render
        tolerance = say("marking.tolerance", scale=self.drawing.layout.scale_name)
        also = (say(f"marking.{note}") for note in ("figures", "wrong_view", "line"))
        return [f"{tolerance} {say('marking.forward')}", *also]

    def errors(self, width: float, most: float, *, compact: bool = False) -> Block | None:
        """The likely errors in words and small pictures, after details and notes if the table is ``compact``; None if they are
        higher than ``most``."""
        before: list[Mark] = []
        start = 0.0
        if compact:
            told = self._told(width)
            before, start = told.marks(0.0, 0.0), told.breadth + BELOW
        heading = Text(self.settings.wording.render("marking.likely"), (0.0, -start - HEADING), HEADING)
        for letters in WORDS:
            words = block_of(list(_words(self.likely, self.drawing, self.settings)), width, letters)
            top = start + HEADING + 3.0
            down = top + (words.breadth + 4.0 if words.lines else 0.0)
            for height in (height for height in WRONG if down + height <= most):
                wrong = self._wrong(width, height)
                marks = [*before, heading, *words.marks(0.0, -top), *moved(wrong.marks, 0.0, -down)]
                return Block(tuple(marks), width, down + wrong.breadth)
        return None

    def errors_parted(self, width: float, most: float) -> list[Block] | None:
        """The same after a compact table, for two pages: the words, and what is shown as wrong; None if the words are higher than
        ``most``."""
        told = self._told(width)
        heading = Text(self.settings.wording.render("marking.likely"), (0.0, -told.breadth - BELOW - HEADING), HEADING)
        top = told.breadth + BELOW + HEADING + 3.0
        for letters in WORDS:
            words = block_of(list(_words(self.likely, self.drawing, self.settings)), width, letters)
            if top + words.breadth <= most:
                marks = (*told.marks(0.0, 0.0), heading, *words.marks(0.0, -top))
                return [Block(marks, width, top + words.breadth), self._wrong(width, min(WRONG[0], most))]
        return None

    def _told(self, width: float) -> TextBlock:
        """What a compact table leaves out."""
        return block_of([*own_details(self.scheme, self.drawing, self.settings, width), "", *self.notes[:-1]], width, NOTE)

    def _wrong(self, width: float, height: float) -> Block:
        """What is shown as wrong, in a row ``height`` mm high."""
        off = marks_text(self.scheme.wrong_side) if self.scheme.wrong_side else ""
        return wrong_ones(self.problem, self.drawing, self.settings, self.likely, off, width, height)

    def picture(self, area: Box) -> Picture | None:
        """The numbered views in an area, as ``picture_in``."""
        return picture_in(self.drawing, self.settings, self.scheme.lines, self.likely, area)

    def fault(self, what: str) -> MarkingError:
        """That there is no room for ``what``."""
        found = f"no room on {self.settings.paper.name} for {what}"
        return MarkingError([Fault(str(self.problem.identity), 0, "marking sheet", found, "larger paper, or a shorter wording")])


def marking_pages(
    problem: Problem, settings: Settings, drawing: Drawing, pictorial: View, particulars: Particulars
) -> tuple[Page, ...]:
    """The marking sheet of the answer that ``drawing`` is of; ``pictorial``: that of the question. Marks and scheme are those of
    the ``particulars``.

    Raises: MarkingError if it has no room for the scheme or for the numbers of lines.
    """
    scheme = scheme_of(drawing, settings.side, particulars.marking or usual_marking())
    sheet = SchemeSheet(problem, settings, drawing, scheme, likely_errors(problem, settings, drawing, pictorial, scheme.lines))
    scale = drawing.layout.scale_name
    pages = _one_page(sheet) or _two_pages(sheet)
    return tuple(page_of(problem, settings, Role.MARKING, scale, particulars, marks) for marks in pages)


def _one_page(sheet: SchemeSheet) -> list[list[Mark]] | None:
    """The table at the right, over the title block, the picture at its left, and the errors under one of them; None if that is
    too much for one page."""
    x0, y0, x1, y1 = sheet.room
    over = y1 - sheet.block[3] - INSET
    for height in ROWS:
        for width in WIDTHS:
            table, edge = sheet.table(width, height, over), x1 - width - BESIDE
            if table is None or sheet.block[0] < edge:
                continue
            marks = [*moved(table.marks, x1 - width, y1)]
            if errors := sheet.errors(width, over - table.breadth - BELOW):
                if picture := sheet.picture((x0, y0, edge, y1 - CAPTION)):
                    low = y1 - table.breadth - BELOW
                    return [[*marks, *moved(errors.marks, x1 - width, low), *_captioned(sheet, picture)]]
            elif errors := sheet.errors(edge - x0, MOST_UNDER):
                low = y0 + errors.breadth
                if picture := sheet.picture((x0, low + BELOW, edge, y1 - CAPTION)):
                    return [[*marks, *moved(errors.marks, x0, low), *_captioned(sheet, picture)]]
    return None


def _two_pages(sheet: SchemeSheet) -> list[list[Mark]]:
    """Table at the left and errors at the right of a page, the picture on the next. Raises: MarkingError."""
    pages = _table_pages(sheet)
    if pages is None:
        raise sheet.fault("the scheme")
    (x0, y0, x1, y1), (u0, v0, u1, v1) = sheet.room, sheet.block
    picture = picture_on_its_own(
        sheet.drawing, sheet.settings, sheet.scheme.lines, sheet.likely, (x0, y0, x1, y1 - CAPTION), (u0 - 4.0, v0, u1, v1 + 4.0))
    pictures = [picture] if picture else pictures_one_by_one(
        sheet.drawing, sheet.settings, sheet.scheme.lines, sheet.likely, (x0, v1 + INSET, x1, y1 - CAPTION))
    if pictures is None:
        raise sheet.fault("the numbers of the lines")
    return [*pages, *(_captioned(sheet, picture) for picture in pictures)]


def _table_pages(sheet: SchemeSheet) -> list[list[Mark]] | None:
    """Table and errors side by side or, if that is too much, each on a page, the errors on two if need be; None if even that has
    no room."""
    x0, _, x1, y1 = sheet.room
    over = y1 - sheet.block[3] - INSET
    for compact, height, width in ((compact, height, width) for compact in (False, True) for height in ROWS for width in WIDTHS):
        beside = x1 - x0 - width - BESIDE
        if beside < LEAST_BESIDE:
            continue
        table, errors = sheet.table(width, height, over, compact=compact), sheet.errors(beside, over, compact=compact)
        if table and errors:
            return [[*moved(table.marks, x0, y1), *moved(errors.marks, x0 + width + BESIDE, y1)]]
    tables = (sheet.table(width, ROWS[-1], over, compact=True) for width in (min(x1 - x0, WIDEST), *WIDTHS))
    table, errors = next(filter(None, tables), None), sheet.errors(x1 - x0, over, compact=True)
    parts = [errors] if errors else sheet.errors_parted(x1 - x0, over)
    return [moved(block.marks, x0, y1) for block in (table, *parts) if block.marks] if table and parts else None


def _captioned(sheet: SchemeSheet, picture: Picture) -> list[Mark]:
    """A picture, with what it is and at which scale."""
    say, (left, _, _, top) = sheet.settings.wording.render, sheet.room
    words = (say("marking.picture", scale=sheet.drawing.layout.scale_name) if picture.share == 1.0
             else say("marking.picture_other"))
    return [*picture.marks, Text(words, (left, top - NOTE), NOTE)]


def _words(likely: Likely, drawing: Drawing, settings: Settings) -> Iterator[str]:
    """The likely errors, each in a line."""
    say = settings.wording.render
    named = {view: drawing.name(view, settings) for view in drawing.layout.places}
    for view, reasons in likely.missed.items():
        for why, numbers in reasons.items():
            yield say(f"marking.{why}", view=named[view], lines=", ".join(map(str, numbers)))
    for view, joins in likely.joins.items():
        yield say("marking.joins", view=named[view], count=len(joins))
    for (home, others), sizes in _grouped(likely.doubled).items():
        yield say("marking.doubled", sizes=", ".join(sizes), view=named[home],
                  other=", ".join(named[other] for other in others))
    if likely.alike:
        yield say("marking.alike")
    elif likely.other_side is None:
        yield say("marking.swapped")


def _grouped(doubled: Sequence[Doubled]) -> dict[tuple[str, tuple[str, ...]], list[str]]:
    """Sizes by the view on which they stand and those on which they show too."""
    found: dict[tuple[str, tuple[str, ...]], list[str]] = {}
    for each in doubled:
        found.setdefault((each.view, each.others), []).append(each.text)
    return found
