"""Sheets of the answer key: as many drawings as a page holds, row by row, their codes beneath. Sheet millimetres.

Only the sizes of the drawings are kept; their marks are asked for page by page, so that a key may have thousands of answers.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from sheetgen.exercises.contact import fitted_line
from sheetgen.exercises.roles import Role
from sheetgen.ink import Face, MadePages, Mark, Page, Text, moved, text_width
from sheetgen.sheet import PAPERS, Paper, Settings
from sheetgen.sheet.checkbar import check_bar_on
from sheetgen.sheet.paper import centring_marks, frame_marks
from sheetgen.sheet.textblock import PITCH

HEAD = 17.0
"""mm from the top of the frame to the drawings."""

INSET = 5.0
"""mm between the frame and what stands in it."""

BETWEEN, ABOVE = 8.0, 5.0
"""mm between two drawings of a row, at least; and above each row."""

CODE, SMALL = 3.5, 2.5
"""mm, heights of lettering: of codes, and of what stands beneath them."""

UNDER = (2.5 + CODE, 1.5 + SMALL)
"""mm from the foot of a drawing to the base line of its code, and on to that beneath."""

FOOT = sum(UNDER) + 1.0
"""mm that both take, the latter with one line."""

MOST_LINES = 2
"""Of what stands beneath a code: a long name with the number of a sheet."""


@dataclass(frozen=True, slots=True)
class Entry:
    """An answer of the key: ``width`` and ``height`` of its drawing, its ``code``, and whose and which sheet it is. ``begins``: a
    new row, because the answers of another student come."""

    width: float
    height: float
    code: str
    about: str
    begins: bool = False


@dataclass(frozen=True, slots=True)
class _Place:
    """Where an entry stands on its page: its number, and the lower left corner of its drawing."""

    number: int
    x: float
    y: float


class KeySheets(MadePages):
    """The pages of a key that is called ``title``; ``drawing``: gives that of each entry by its number."""

    def __init__(self, title: str, entries: Sequence[Entry], drawing: Callable[[int], Page], settings: Settings) -> None:
        self._title, self._entries, self._drawing, self._settings = title, entries, drawing, settings
        self._paper = _paper(settings)
        self.pages = _arranged(entries, self._paper)
        super().__init__(len(self.pages), self._page)

    def pages_of_entries(self) -> Iterator[int]:
        """The page of each entry in turn, from 0."""
        return (number for number, page in enumerate(self.pages) for _ in page)

    def _page(self, number: int) -> Page:
        paper, marks = self._paper, [*self._head(number)]
        for place in self.pages[number]:
            entry = self._entries[place.number]
            marks += moved(self._drawing(place.number).marks, place.x, place.y)
            marks += _beneath(entry, place)
        return Page(paper.width, paper.height, marks)

    def _head(self, number: int) -> Iterator[Mark]:
        """Frame, check bar, and what the page is."""
        paper, say = self._paper, self._settings.wording.render
        yield from frame_marks(paper)
        yield from centring_marks(paper, [paper.frame])
        yield from check_bar_on(paper, say("check_bar"))
        base, sheet = paper.y1 - 9.0, say("contact.sheet", sheet=number + 1, sheets=len(self))
        room = paper.x1 - paper.x0 - 3 * INSET - text_width(sheet, CODE)
        yield fitted_line(self._title, (paper.x0 + INSET, base), room, 5.0)
        yield Text(sheet, (paper.x1 - INSET, base), CODE, anchor="end")
        yield fitted_line(say("key.reduced"), (paper.x0 + INSET, base - 6.0), paper.x1 - paper.x0 - 2 * INSET, SMALL)


def title_of_key(name: str, settings: Settings) -> str:
    """What the key of a set called ``name`` is called."""
    say = settings.wording.render
    return say(f"files.{Role.KEY.book}", title=name or say("files.worksheet"))


def _paper(settings: Settings) -> Paper:
    """A3; where the sheets are on paper in inches, that."""
    return settings.paper if settings.paper.name == "11x17" else PAPERS["A3"]


def _beneath(entry: Entry, place: _Place) -> list[Mark]:
    room, y = _width(entry), place.y - UNDER[0]
    lines = [fitted_line(line, (place.x, y - UNDER[1] - number * PITCH * SMALL), room, SMALL)
             for number, line in enumerate(_lines(entry))]
    return [fitted_line(entry.code, (place.x, y), room, CODE), *lines]


def _width(entry: Entry) -> float:
    """mm of a drawing with its code; what stands beneath the code is broken if it is wider."""
    return max(entry.width, text_width(entry.code, CODE, Face.NARROW))


def _lines(entry: Entry) -> list[str]:
    """What stands beneath the code, in one line if it fits, else broken at a blank; what is too long even so is cut in the last
    line."""
    lines = [""]
    for word in entry.about.split():
        longer = f"{lines[-1]} {word}".strip()
        if lines[-1] and len(lines) < MOST_LINES and text_width(longer, SMALL, Face.NARROW) > _width(entry):
            lines.append(word)
        else:
            lines[-1] = longer
    return lines


def _foot(entry: Entry) -> float:
    """mm under a drawing."""
    return FOOT + (len(_lines(entry)) - 1) * PITCH * SMALL


def _arranged(entries: Sequence[Entry], paper: Paper) -> list[list[_Place]]:
    """The places of each page: rows filled from the left, pages from the top; what is left over stands between them."""
    wide, high = paper.x1 - paper.x0 - 2 * INSET, paper.y1 - HEAD - paper.y0 - INSET
    rows: list[list[int]] = []
    for number, entry in enumerate(entries):
        if rows and not entry.begins and sum(_width(entries[k]) + BETWEEN for k in rows[-1]) + _width(entry) <= wide:
            rows[-1].append(number)
        else:
            rows.append([number])
    pages: list[list[list[int]]] = []
    for row in rows:
        if pages and sum(_height(entries, each) for each in [*pages[-1], row]) <= high:
            pages[-1].append(row)
        else:
            pages.append([row])
    return [list(_placed(page, entries, paper, wide, high)) for page in pages]


def _height(entries: Sequence[Entry], row: Sequence[int]) -> float:
    return ABOVE + max(entries[number].height for number in row) + max(_foot(entries[number]) for number in row)


def _placed(
    rows: Sequence[Sequence[int]], entries: Sequence[Entry], paper: Paper, wide: float, high: float
) -> Iterator[_Place]:
    spare, top = (high - sum(_height(entries, row) for row in rows)) / (len(rows) + 1), paper.y1 - HEAD
    for row in rows:
        top -= spare + _height(entries, row)
        foot = max(_foot(entries[number]) for number in row)
        gap = (wide - sum(_width(entries[number]) for number in row)) / (len(row) + 1)
        x = paper.x0 + INSET + gap
        for number in row:
            yield _Place(number, x, top + foot)
            x += _width(entries[number]) + gap
