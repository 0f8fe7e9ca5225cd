"""Seating: for each room the plan of its seats and the list of its candidates by number, for who watches over a paper. Sheet
millimetres.

A plan shows a room as the candidates look, its front at the top. A room that is too large for a page is cut into parts, all to
one scale; a small map tells which part a page is. Pages are made one by one, for a paper may have a thousand of them.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from sheetgen.ink import Document, MadePages, Mark, Page, Pen
from sheetgen.sets.documents import described
from sheetgen.sets.papers.desks import TICK, Part, desks_marks, parts_of
from sheetgen.sets.papers.office import (
    Column,
    column_width,
    head_marks,
    name_text,
    paper_of,
    parted,
    rectangle,
    room_of,
    seat_text,
    table_marks,
)
from sheetgen.sets.papers.records import Candidate, PaperPlan
from sheetgen.sheet import Settings

BETWEEN = 6.0
"""mm between two columns of a list."""

LONGEST_NAME = 75.0
"""mm of a name in a list; a longer one is cut."""

TICKED = 6.5
"""mm, width of the column of squares that are ticked."""

LIST_ROW = 5.6
"""mm, height of a row of a list."""


@dataclass(frozen=True, slots=True)
class _Sheet:
    """A page of a room: a ``part`` of its plan, or the candidates ``listed``, counted in the order of their numbers."""

    room: int
    part: Part | None = None
    listed: range = range(0)


class SeatingSheets(MadePages):
    """The pages: if there are several rooms, first the list of these; then the plans and lists of each in which somebody sits."""

    def __init__(self, plan: PaperPlan, settings: Settings, mark: str = "") -> None:
        self._plan, self._settings, self._mark = plan, settings, mark
        self._say = settings.wording.render
        self._box = room_of(paper_of(settings))
        by_room: dict[str, list[Candidate]] = {room.name: [] for room in plan.rooms}
        for candidate in plan.candidates:
            by_room[candidate.seat.room].append(candidate)
        self._seated = [sorted(by_room[room.name], key=lambda each: in_order(each.number)) for room in plan.rooms]
        self._columns = [self._columns_of(seated) for seated in self._seated]
        self._sheets = [sheet for number in range(len(plan.rooms)) for sheet in self._sheets_of(number)]
        self._rooms = parted(len(plan.rooms) + 1, self._rows()) if len(plan.rooms) > 1 else []
        super().__init__(len(self._rooms) + len(self._sheets), self._page)

    @property
    def document(self) -> Document:
        """The file, with a bookmark for each room."""
        first: dict[int, int] = {}
        for number, sheet in enumerate(self._sheets, len(self._rooms)):
            first.setdefault(sheet.room, number)
        outline = [(self._plan.rooms[room].name or self._plan.title, page) for room, page in first.items()]
        title = self._say("files.seating", title=self._plan.title)
        return described(self, title, self._settings, (), outline, self._mark)

    def _sheets_of(self, number: int) -> Iterator[_Sheet]:
        room, seated = self._plan.rooms[number], self._seated[number]
        if seated:
            parts = parts_of(room, seated, self._box, self._plan.named, self._settings.wording)
            yield from (_Sheet(number, part) for part in parts)
            across = self._across(self._columns[number])
            yield from (_Sheet(number, listed=part) for part in parted(len(seated), across * self._rows()))

    def _page(self, number: int) -> Page:
        paper = paper_of(self._settings)
        if number < len(self._rooms):
            marks = self._rooms_page(number)
        else:
            sheet = self._sheets[number - len(self._rooms)]
            marks = self._plan_page(sheet, sheet.part, number) if sheet.part else self._list_page(sheet, number)
        return Page(paper.width, paper.height, list(marks))

    def _plan_page(self, sheet: _Sheet, part: Part, number: int) -> Iterator[Mark]:
        room, seated = self._plan.rooms[sheet.room], self._seated[sheet.room]
        said = self._say("seating.room", room=room.name, candidates=len(seated), seats=room.count, rows=room.rows)
        if part.of_several:
            said = f"{said}. " + self._say("seating.part", rows=self._span(part.rows), columns=self._span(part.columns))
        yield from self._head(said, number, part.map_width)
        yield from desks_marks(room, seated, part, self._box, self._plan.named, self._settings.wording)

    def _list_page(self, sheet: _Sheet, page: int) -> Iterator[Mark]:
        """The candidates in columns, each full before the next begins."""
        room, columns = self._plan.rooms[sheet.room], self._columns[sheet.room]
        yield from self._head(self._say("seating.list", room=room.name), page)
        rows, wide = self._rows(), sum(column.width for column in columns)
        seated = [self._seated[sheet.room][place] for place in sheet.listed]
        for place, first in enumerate(range(0, len(seated), rows)):
            texts = [self._listed(candidate) for candidate in seated[first:first + rows]]
            left, top = self._box[0] + place * (wide + BETWEEN), self._box[3]
            yield from table_marks(columns, texts, left, top, LIST_ROW)
            for number in range(2, len(texts) + 2):
                foot = top - number * LIST_ROW + (LIST_ROW - TICK) / 2
                yield rectangle((left + 1.0, foot, left + 1.0 + TICK, foot + TICK), Pen.TABLE)

    def _rooms_page(self, number: int) -> Iterator[Mark]:
        """Some rooms, and after the last the sum."""
        say, plan = self._say, self._plan
        yield from self._head(say("seating.rooms"), number)
        x0, _, x1, top = self._box
        columns = [Column(say(f"seating.{name}"), 28.0, right=True) for name in ("seats", "taken", "free", "sheets")]
        rows = [self._room_row(room) if room < len(plan.rooms) else self._sum_row() for room in self._rooms[number]]
        yield from table_marks([Column(say("seating.of_room"), x1 - x0 - 4 * 28.0), *columns], rows, x0, top, LIST_ROW)

    def _room_row(self, number: int) -> list[str]:
        room, taken = self._plan.rooms[number], len(self._seated[number])
        pages = [page for page, sheet in enumerate(self._sheets, len(self._rooms)) if sheet.room == number]
        sheets = self._span(range(pages[0], pages[-1] + 1)) if pages else ""
        return [room.name, str(room.count), str(taken), str(room.count - taken), sheets]

    def _span(self, places: range) -> str:
        """Some places, counted from 1."""
        first, last = places[0] + 1, places[-1] + 1
        return self._say("seating.span", first=first, last=last) if last > first else str(first)

    def _sum_row(self) -> list[str]:
        seats, taken = sum(room.count for room in self._plan.rooms), len(self._plan.candidates)
        return [self._say("seating.total"), str(seats), str(taken), str(seats - taken), ""]

    def _head(self, below: str, number: int, kept: float = 0.0) -> Iterator[Mark]:
        title = self._say("seating.plan", title=self._plan.title, date=self._plan.date)
        yield from head_marks(self._settings, title, below, number + 1, len(self), kept)

    def _columns_of(self, seated: Sequence[Candidate]) -> list[Column]:
        """The columns of the list of a room."""
        say = self._say
        seats = [seat_text(each.seat, self._settings.wording) for each in seated]
        texts = [[each.number for each in seated], [name_text(each) for each in seated], seats]
        wide = [Column(say(f"seating.{name}"), column_width(column, say(f"seating.{name}"), LONGEST_NAME))
                for name, column in zip(("number", "name", "place"), texts, strict=True)]
        return [Column("", TICKED), *(wide if self._plan.named else [wide[0], wide[2]])]

    def _listed(self, candidate: Candidate) -> list[str]:
        name = [name_text(candidate)] if self._plan.named else []
        return ["", candidate.number, *name, seat_text(candidate.seat, self._settings.wording)]

    def _across(self, columns: Sequence[Column]) -> int:
        """How many columns of a list a page holds."""
        wide = sum(column.width for column in columns)
        return max(1, int((self._box[2] - self._box[0] + BETWEEN) // (wide + BETWEEN)))

    def _rows(self) -> int:
        """How many rows a page holds under the headings."""
        return int((self._box[3] - self._box[1]) // LIST_ROW) - 1


def in_order(number: str) -> list[tuple[int, int, str]]:
    """By what candidates' numbers are sorted: figures count as numbers.

    >>> sorted(["A-10", "A-9", "7", "B"], key=in_order)
    ['7', 'A-9', 'A-10', 'B']
    """
    parts = re.findall(r"[0-9]+|[^0-9]+", number)
    return [(0, int(part), part) if part[0].isdigit() else (1, 0, part) for part in parts]
