"""The cover of a candidate's sheets: whose they are, what the paper is, what is to be kept to, and where marks are entered. Sheet
millimetres.

It is on the paper of the sheets, in two columns: at the left the paper and its instructions, at the right who sits where and the
marks. What all covers of a paper have in common is worked out once.
"""

from __future__ import annotations

from collections.abc import Generator, Iterator, Sequence
from functools import cached_property

from sheetgen.exercises.contact import fitted_line
from sheetgen.faults import Fault, FaultError, Place
from sheetgen.ink import LetteringError, Mark, Page, Pen, Text, wrapped
from sheetgen.sets.papers.office import INSET, SMALL, line, name_text, rectangle, seat_text
from sheetgen.sets.papers.records import Candidate, Item, PaperPlan
from sheetgen.sheet import Paper, Settings
from sheetgen.sheet.checkbar import check_bar_on
from sheetgen.sheet.paper import Box, centring_marks, corner_marks, frame_marks
from sheetgen.sheet.textblock import TextBlock, block_of
from sheetgen.templating import said_instructions, usual_instructions

RIGHT = 0.42
"""Share of the width that the right column takes."""

NUMBER = 10.0
"""mm, height of the candidate's number: read from a man's height above the desk (common practice, no source)."""

CELL, TALL = 15.0, 20.0
"""mm, heights of the cells of seat, room and name, and of that of the number."""

ROWS = (12.0, 7.0)
"""mm, height of a row of the table of marks, at most and at least: a mark of two figures and a half is written in it."""

TIMED = 60.0
"""mm, least width of a table that has a column for the minutes of items."""

COLUMN = 48.0
"""mm, least width of the table; where the rows do not fit under each other, several such stand side by side."""

INSTRUCTION_HEIGHTS = (5.0, 3.5, 2.5)
"""mm, of lettering; the first in which all instructions find room."""

NARROWER = 1.0
"""mm between the texts of a cell and its edge."""


class CoverError(FaultError):
    """A cover that has no room for what should stand on it."""


class Cover:
    """The covers of a paper in these ``settings``. ``page`` makes that of a candidate.

    Raises: CoverError, TemplateError for instructions that find no room or cannot be printed.
    """

    def __init__(self, plan: PaperPlan, settings: Settings) -> None:
        self._plan, self._settings, self._say = plan, settings, settings.wording.render
        paper = settings.paper
        x0, y0, x1, y1 = paper.x0 + INSET, paper.y0 + INSET, paper.x1 - INSET, paper.y1 - INSET
        middle = x1 - RIGHT * (x1 - x0)
        self._left: Box = (x0, y0, middle - INSET, y1)
        self._right: Box = (middle + INSET, y0, x1, y1)
        self._common = [*_stationery(paper, self._say("check_bar")), *self._paper(), *self._cells_of_candidate(),
                        *self._table()]

    def page(self, candidate: Candidate) -> Page:
        """The cover of one candidate's sheets."""
        paper = self._settings.paper
        return Page(paper.width, paper.height, [*self._common, *self._whose(candidate)])

    def _whose(self, candidate: Candidate) -> Iterator[Mark]:
        """Number, seat, room, and the name where names are printed."""
        (x0, _, x1, y), say = self._right, self._say
        middle = (x0 + x1) / 2
        yield from _cell((x0, y - TALL, x1, y), say("cover.number"), candidate.number, NUMBER)
        seat = seat_text(candidate.seat, self._settings.wording)
        yield from _cell((x0, y - TALL - CELL, middle, y - TALL), say("cover.seat"), seat, 7.0)
        if candidate.seat.room:
            yield from _cell((middle, y - TALL - CELL, x1, y - TALL), say("cover.room"), candidate.seat.room, 7.0)
        if self._plan.named:
            yield from _cell((x0, self._under_whose, x1, y - TALL - CELL), say("cover.name"), name_text(candidate), 5.0)

    def _cells_of_candidate(self) -> Iterator[Mark]:
        """The lines round these."""
        (x0, _, x1, top), under = self._right, self._under_whose
        middle, seats = (x0 + x1) / 2, top - TALL
        yield line((x0, seats), (x1, seats), Pen.TABLE)
        if any(room.name for room in self._plan.rooms):
            yield line((middle, seats - CELL), (middle, seats), Pen.TABLE)
        if self._plan.named:
            yield line((x0, seats - CELL), (x1, seats - CELL), Pen.TABLE)
        yield rectangle((x0, under, x1, top), Pen.BORDER)

    @property
    def _under_whose(self) -> float:
        return self._right[3] - TALL - CELL * (2 if self._plan.named else 1)

    def _paper(self) -> Iterator[Mark]:
        """The left column: board, title, date, time and marks, instructions."""
        plan, say, (x0, y0, x1, y1) = self._plan, self._say, self._left
        y = y1
        for text in filter(None, (plan.board or self._settings.values.school, self._settings.values.course)):
            y -= 5.0
            yield fitted_line(text, (x0, y), x1 - x0, 5.0)
            y -= 4.0
        y -= 3.0
        for text, height in self._title:
            y -= height
            yield fitted_line(text, (x0, y), x1 - x0, height)
            y -= 0.7 * height
        y = yield from self._facts(y - 1.0)
        y -= 9.0
        yield fitted_line(say("cover.instructions"), (x0, y), x1 - x0, 3.5)
        y -= 3.0
        yield line((x0, y), (x1, y), Pen.GRID)
        yield from self._instructions(y - 4.0 - y0, x1 - x0).marks(x0, y - 4.0)

    @cached_property
    def _title(self) -> list[tuple[str, float]]:
        """The title in one line or two, with the height of its lettering."""
        width = self._left[2] - self._left[0]
        for height, most in ((10.0, 1), (7.0, 2), (5.0, 2)):
            try:
                lines = wrapped(self._plan.title, width, height)
            except LetteringError:
                continue
            if len(lines) <= most:
                return [(each, height) for each in lines]
        return [(self._plan.title, 5.0)]

    def _facts(self, y: float) -> Generator[Mark, None, float]:
        """Date, time, items and marks in a row of cells; gives the foot of the row."""
        plan, say, (x0, _, x1, _) = self._plan, self._say, self._left
        facts = [(say("cover.items"), str(len(plan.items))), (say("cover.marks"), str(plan.marks))]
        if plan.minutes:
            facts.insert(0, (say("cover.time"), say("cover.minutes", minutes=plan.minutes)))
        if plan.date:
            facts.insert(0, (say("cover.date"), plan.date))
        weights = [1.0 if value.isdigit() else 2.0 for _, value in facts]
        places = [x0 + (x1 - x0) * sum(weights[:number]) / sum(weights) for number in range(len(facts) + 1)]
        for (label, value), left, right in zip(facts, places, places[1:], strict=False):
            yield from _cell((left, y - CELL, right, y), label, value, 5.0)
        for place in places[1:-1]:
            yield line((place, y - CELL), (place, y), Pen.TABLE)
        yield rectangle((x0, y - CELL, x1, y), Pen.BORDER)
        return y - CELL

    def _instructions(self, room: float, width: float) -> TextBlock:
        """The instructions in the largest lettering in which they fit. Raises: CoverError."""
        plan = self._plan
        own = said_instructions(plan.instructions, self._place) if plan.instructions else ()
        said = own or usual_instructions(self._settings.wording)
        values = {"items": len(plan.items), "marks": plan.marks, "minutes": plan.minutes or ""}
        texts = [text.render(values) for text, _ in said]
        for height in INSTRUCTION_HEIGHTS:
            block = block_of(_spaced(texts), width, height)
            if block.breadth <= room:
                return block
        place, lines = said[0][1], len(block.lines)
        raise CoverError([Fault(place.file, place.line, place.field, f"instructions that take {lines} lines",
                                f"fewer or shorter ones: the cover on {self._settings.paper.name} has room for {room:.0f} mm")])

    @property
    def _place(self) -> Place:
        return self._plan.places.get("instructions", Place(self._plan.file, 0, "instructions"))

    def _table(self) -> Iterator[Mark]:
        """The table of marks: for each item what it is worth, and a cell to be written in; at the end the total."""
        (x0, y0, x1, _), say = self._right, self._say
        top = self._under_whose - 6.0
        room = top - y0 - 6.0
        rows: list[Item | None] = [*self._plan.items, None]
        beside = next((count for count in range(1, int((x1 - x0) // COLUMN) + 1)
                       if (-(-len(rows) // count) + 1) * ROWS[1] <= room), 0)
        if not beside:
            place = self._plan.places.get("items", Place(self._plan.file, 0, "items"))
            raise CoverError([Fault(place.file, place.line, place.field, f"{len(rows) - 1} items",
                                    f"fewer: the cover on {self._settings.paper.name} has no room for their marks")])
        each = -(-len(rows) // beside)
        high, gap = min(ROWS[0], room / (each + 1)), 3.0
        wide = (x1 - x0 - gap * (beside - 1)) / beside
        note = say("cover.for_examiner", awarded=say("cover.awarded"))
        yield fitted_line(note, (x0, top - (each + 1) * high - 2.0 - SMALL), x1 - x0, SMALL)
        for number in range(beside):
            part = rows[number * each:(number + 1) * each]
            if part:
                yield from self._part(part, x0 + number * (wide + gap), top, wide, high)

    def _part(self, rows: Sequence[Item | None], x: float, top: float, wide: float, high: float) -> Iterator[Mark]:
        """Some rows of the table, under their headings."""
        say, timed = self._say, wide >= TIMED and any(item.minutes for item in self._plan.items)
        shares = [0.25, 0.22, 0.22, 0.31] if timed else [0.3, 0.3, 0.4]
        places = [x + wide * sum(shares[:number]) for number in range(len(shares) + 1)]
        heads = ["item", *(["time_of_item"] if timed else []), "out_of", "awarded"]
        texts = [[say(f"cover.{head}") for head in heads], *([*self._cells(item, timed), ""] for item in rows)]
        for number, row in enumerate(texts):
            foot, height = top - (number + 1) * high, SMALL if number == 0 else 5.0
            for text, left, right in zip(row, places, places[1:], strict=False):
                if text:
                    yield _centred(text, left, right, foot + (high - height) / 2, height)
            if number + 1 < len(texts):
                yield line((x, foot), (x + wide, foot), Pen.GRID if number == 0 or rows[number] is None else Pen.TABLE)
        foot = top - len(texts) * high
        for place in places[1:-1]:
            yield line((place, foot), (place, top), Pen.TABLE)
        yield rectangle((x, foot, x + wide, top), Pen.BORDER)

    def _cells(self, item: Item | None, timed: bool) -> list[str]:
        """Item, minutes and marks; of None the totals."""
        if item is None:
            together = sum(each.minutes for each in self._plan.items)
            minutes = [str(together) if together == self._plan.minutes else ""] * timed      # else they would not seem to add up
            return [self._say("cover.total"), *minutes, str(self._plan.marks)]
        return [str(item.number), *[str(item.minutes or "")] * timed, str(item.marks)]


def _stationery(paper: Paper, bar: str) -> Iterator[Mark]:
    yield from frame_marks(paper)
    yield from corner_marks(paper)
    yield from centring_marks(paper, [paper.frame])
    yield from check_bar_on(paper, bar)


def _cell(box: Box, label: str, value: str, height: float) -> Iterator[Text]:
    """What a cell says: a small label at its top, the value under it."""
    x0, y0, x1, y1 = box
    yield fitted_line(label, (x0 + NARROWER, y1 - NARROWER - SMALL), x1 - x0 - 2 * NARROWER, SMALL)
    if value:
        cut = fitted_line(value, (x0 + 2 * NARROWER, y0), x1 - x0 - 4 * NARROWER, height)
        low = y0 + (y1 - y0 - SMALL - NARROWER - cut.height) / 2
        yield Text(cut.text, (cut.at[0], low), cut.height, face=cut.face)


def _centred(text: str, left: float, right: float, base: float, height: float) -> Text:
    cut = fitted_line(text, (left, base), right - left - 2 * NARROWER, height)
    return Text(cut.text, ((left + right) / 2, base), cut.height, anchor="middle", face=cut.face)


def _spaced(texts: Sequence[str]) -> list[str]:
    """Texts with half a line between them."""
    return [each for text in texts for each in (text, "")][:-1]
