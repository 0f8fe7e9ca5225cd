"""Pages of a class's books: each student's sheets together or each problem's, with blank backs where paper is printed on both
sides. They are read from the shelf when they are asked for, so that memory stays flat."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

from sheetgen.exercises import ONCE, Particulars, Role
from sheetgen.exercises.cells import cells_of
from sheetgen.exercises.key_sheets import Entry, KeySheets
from sheetgen.ink import MadePages, Mark, Page, Text
from sheetgen.sets.classes.books import Book
from sheetgen.sets.classes.names import Cells, own_cells
from sheetgen.sets.classes.students import Student
from sheetgen.sets.shelf import Kept, Shelf
from sheetgen.sheet import Settings
from sheetgen.sheet.titleblock_ink import filled_marks

AT_HAND = 64
"""Exercises whose pages are kept at hand: all of a worksheet that a class shares, as a rule."""

BLANK_HEIGHT = 5.0
"""mm: of the words on a page that is left blank."""


@dataclass(frozen=True, slots=True)
class Spot:
    """One page: ``student`` and ``problem`` by their places from 0, and the place of the page in its exercise; or a back that is
    left ``blank``."""

    student: int
    problem: int
    page: int
    blank: bool = False


class Bound:
    """All exercises of a class, by student and problem: on the shelf, numbered student by student, or once for all if they are
    ``shared``; then what the title block says of each student, ``cells``, is added here."""

    def __init__(
        self, kept: Mapping[int, Kept], shelf: Shelf, cells: Sequence[Cells], problems: int, shared: bool, settings: Settings
    ) -> None:
        self.kept, self.cells, self.problems, self.shared, self.settings = kept, cells, problems, shared, settings
        self._sheets = lru_cache(maxsize=AT_HAND)(shelf.sheets)
        self._own = own_cells(settings.block)

    @property
    def topics(self) -> Sequence[str]:
        """Of all problems, each once."""
        return list(dict.fromkeys(topic for one in self.kept.values() for topic in one.topics))

    def number(self, student: int, problem: int) -> int:
        """Of an exercise on the shelf."""
        return problem + 1 + (0 if self.shared else student * self.problems)

    def of(self, student: int, problem: int) -> Kept:
        """What is known of an exercise."""
        return self.kept[self.number(student, problem)]

    def page(self, role: Role, spot: Spot) -> Page:
        """One page, with what is the student's own in its title block; or one that is left blank."""
        page = self._sheets(self.number(spot.student, spot.problem), role)[spot.page]
        if spot.blank:
            return self.left_blank(page)
        if not self.adds_to(role):
            return page
        return replace(page, marks=[*page.marks, *self._own_marks(role, spot)])

    @property
    def one_code(self) -> bool:
        """Whether all students' sheets of a problem have the same code."""
        return self.shared

    def adds_to(self, role: Role) -> bool:
        """Whether what is a student's own is added to sheets of a role: not to those that are made once for all."""
        return self.shared and role is not Role.KEY and role not in ONCE

    def left_blank(self, front: Page | None = None) -> Page:
        """The back of a sheet that nothing is printed on, but that it is meant to be so; ``front``: the page on its other side,
        where that is not on the course's paper."""
        paper = front or self.settings.paper
        say = Text(self.settings.wording.render("students.left_blank"), (paper.width / 2, paper.height / 2), BLANK_HEIGHT,
                   anchor="middle")
        return Page(paper.width, paper.height, [say])

    def _own_marks(self, role: Role, spot: Spot) -> list[Mark]:
        kept, paper = self.of(spot.student, spot.problem), self.settings.paper
        said = self.cells[spot.student].on(Particulars(kept.code, spot.problem + 1, self.problems))
        return filled_marks(self._own, cells_of(kept, self.settings, role, "", said), (paper.x1, paper.y0))


class BoundPages(MadePages):
    """The pages of one role of a book. ``by_problem``: the sheets of a problem stand together, not those of a student;
    ``double_sided``: each student's begin on a front."""

    def __init__(self, bound: Bound, role: Role, book: Book, *, by_problem: bool, double_sided: bool) -> None:
        spots = _spots(bound, role, book, by_problem)
        backed = _backed(spots) if role is Role.HINTS else _on_fronts(spots)
        self.spots = list(backed if double_sided else spots)
        super().__init__(len(self.spots), lambda number: bound.page(role, self.spots[number]))


def in_order(book: Book, problems: int, by_problem: bool) -> Iterator[tuple[int, int]]:
    """Student and problem of each exercise of a book, in its order."""
    if by_problem:
        yield from ((student, problem) for problem in range(problems) for student in book.students)
    else:
        yield from ((student, problem) for student in book.students for problem in range(problems))


def _spots(bound: Bound, role: Role, book: Book, by_problem: bool) -> Iterator[Spot]:
    for student, problem in in_order(book, bound.problems, by_problem):
        for page in range(bound.of(student, problem).counts.get(role, 0)):      # some kinds have none
            yield Spot(student, problem, page)


def _backed(spots: Iterator[Spot]) -> Iterator[Spot]:
    """The same with a back of its own for each page that is folded: of what is printed there, all would show."""
    for spot in spots:
        yield from (spot, replace(spot, blank=True))


def _on_fronts(spots: Iterator[Spot]) -> Iterator[Spot]:
    """The same, where two pages are printed on a sheet of paper: no sheet has pages of two students. The last is filled up too,
    so that what is printed after it begins on a front."""
    before: Spot | None = None
    count = 0
    for spot in spots:
        if before and count % 2 and spot.student != before.student:
            yield replace(before, blank=True)
            count += 1
        yield spot
        before, count = spot, count + 1
    if before and count % 2:
        yield replace(before, blank=True)


def outline_of(pages: BoundPages, students: Sequence[Student], bound: Bound, by_problem: bool) -> list[tuple[str, int]]:
    """Bookmarks: of each student, or of each problem where its sheets stand together or are one student's."""
    alone = len({spot.student for spot in pages.spots}) == 1
    marks: dict[int, tuple[str, int]] = {}
    for page, spot in enumerate(pages.spots):
        if alone or by_problem:
            kept = bound.of(spot.student, spot.problem)
            code = f" ({kept.code})" if alone or bound.one_code else ""
            marks.setdefault(spot.problem, (f"{spot.problem + 1}. {kept.title}{code}", page))
        else:
            marks.setdefault(spot.student, (students[spot.student].called, page))
    return list(marks.values())


def key_of(
    bound: Bound, book: Book, title: str, called: Sequence[str], by_problem: bool
) -> tuple[KeySheets, list[tuple[str, int]]]:
    """The key to a book, in its order, and its bookmarks: where each student's answers begin. ``called``: the students, if each
    has answers of its own."""
    spots = list(_spots(bound, Role.KEY, book, by_problem))
    firsts = bool(called) and not by_problem                       # then a student's first answer begins a row
    entries = [_entry(bound, spot, called, firsts and (k == 0 or spots[k - 1].student != spot.student))
               for k, spot in enumerate(spots)]
    key = KeySheets(title, entries, lambda number: bound.page(Role.KEY, spots[number]), bound.settings)
    marks: dict[int, tuple[str, int]] = {}
    for spot, page in zip(spots, key.pages_of_entries(), strict=True):
        if called and not by_problem:
            marks.setdefault(spot.student, (called[spot.student], page))
    return key, list(marks.values())


def _entry(bound: Bound, spot: Spot, called: Sequence[str], begins: bool) -> Entry:
    page, kept, say = bound.page(Role.KEY, spot), bound.of(spot.student, spot.problem), bound.settings.wording.render
    sheet = spot.problem + 1
    whose = (say("key.of_student", student=called[spot.student], sheet=sheet) if called
             else say("key.sheet", sheet=sheet, title=kept.title))
    return Entry(page.width, page.height, kept.code, whose, begins)
