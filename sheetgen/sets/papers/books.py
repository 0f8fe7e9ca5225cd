"""The files of a paper: questions, answers and marking sheets of all candidates, or of one, and the list of marks."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import partial
from itertools import product

from sheetgen.exercises import ASKED, FOR_MARKERS, Role
from sheetgen.ink import Document, MadePages, Page
from sheetgen.sets.classes import Book, BoundPages, books_of, outline_of
from sheetgen.sets.classes.files import plain_names
from sheetgen.sets.documents import described, title_of_set
from sheetgen.sets.marks import LIST_NAME, OF_CLASS, marks_list
from sheetgen.sets.papers.cover import Cover
from sheetgen.sets.papers.covered import CoveredPages
from sheetgen.sets.papers.pages import PaperBound
from sheetgen.sets.papers.paper import Paper, PaperMaker
from sheetgen.sets.papers.pools import spare_id
from sheetgen.sets.papers.records import Candidate

SECRET = (*(role.book for role in (*ASKED, *FOR_MARKERS)), LIST_NAME)
"""How files begin that nobody else may read before the examination, nor ever without need."""


def tells_answers(name: str) -> bool:
    """Whether a file of this name has answers in it."""
    return name.startswith(tuple(role.book for role in Role if role.tells))


@dataclass(frozen=True, slots=True)
class Printed:
    """The sheets of one candidate: of each item the index of a lot; ``spare``: of which set of other sheets, 0 if of none."""

    candidate: Candidate
    lots: tuple[int, ...]
    spare: int = 0

    @property
    def sequence(self) -> int:
        """What tells the sequence that the lots are of; 0 if they are no spares."""
        return spare_id(self.candidate, self.spare) if self.spare else 0


class PaperBooks:
    """The books of the candidates ``printed``, in their order. ``alone``: they are one candidate's, in a file of its own."""

    def __init__(self, paper: Paper, printed: Sequence[Printed], alone: bool = False) -> None:
        """Raises: CoverError, TemplateError for covers that have no room for what they should say."""
        self.paper, self.printed, self._alone = paper, printed, alone
        self._cover = Cover(paper.plan, paper.settings) if paper.plan.covered else None
        self._students = [paper.student(one.candidate) for one in printed]
        by = {"candidates": "students"}.get(paper.plan.books or "", paper.plan.books)
        settings = paper.slots[0].own
        if alone:
            [name] = plain_names([printed[0].candidate.number], "candidate")
            spare = f"-spare-{printed[0].spare}" if printed[0].spare else ""
            self._books = [Book(f"{name}{spare}", self._students[0].called, (0,))]
        else:
            self._books = books_of(self._students, by, len(paper.plan.items), settings)

    @property
    def names(self) -> list[str]:
        """Of the files that there will be."""
        lists = [self._list] if self.paper.scheme else []
        return [*(_file(role, book) for role in self._roles for book in self._books), *lists]

    @property
    def _roles(self) -> tuple[Role, ...]:
        """Of the sheets that there are."""
        return self.paper.slots[0].roles

    @property
    def _list(self) -> str:
        """The file of the list of marks: one for all books."""
        return "-".join(filter(None, [LIST_NAME, self._books[0].file if self._alone else ""])) + ".csv"

    def files(self, maker: PaperMaker) -> Iterator[tuple[str, Document]]:
        """The files by name, of what the ``maker`` has made."""
        paper, slots = self.paper, self.paper.slots
        numbers = [[(paper.number(index, slot, one.sequence), slots[slot])
                    for index, slot in zip(one.lots, paper.slots_of(one.candidate), strict=True)] for one in self.printed]
        kept = {number: found for row in numbers for number, _ in row if (found := maker.shelf.get(number))}
        cells = [paper.cells[one.candidate.number] for one in self.printed]
        bound = PaperBound(kept, maker.shelf, cells, numbers, self._code_of)
        for role in self._roles:
            for book in self._books:
                yield _file(role, book), self._document(role, book, bound)

    def lists(self) -> Iterator[tuple[str, bytes]]:
        """The files by name that are no documents: the list of marks, where there are marking sheets."""
        if self.paper.scheme is None:
            return
        plan = self.paper.plan
        markings = [next(slot.marking for slot in self.paper.slots if slot.item == item) for item in plan.items]
        places = product(range(len(self.printed)), range(len(plan.items)))
        codes = {(place, item): self._code_of(place, item) for place, item in places}
        told = [what for what in OF_CLASS if any(getattr(student, what) for student in self._students)]
        yield self._list, marks_list(self._students, codes, markings, self.paper.settings, told, summed=True,
                                     asked=[item.kind for item in plan.items])

    def _code_of(self, place: int, item: int) -> str:
        """The code of one of the printed candidates' items, both from 0."""
        one = self.printed[place]
        return self.paper.code(one.candidate, item, one.lots[item], one.spare)

    def _document(self, role: Role, book: Book, bound: PaperBound) -> Document:
        plan, settings = self.paper.plan, self.paper.slots[0].own
        by_item = plan.by_item and role in FOR_MARKERS
        both_sides = plan.double_sided and role is not Role.OVERLAY        # film has one
        bound_pages = BoundPages(bound, role, book, by_problem=by_item, double_sided=both_sides)
        pages: MadePages = bound_pages
        outline = outline_of(bound_pages, self._students, bound, by_problem=by_item)
        if role is Role.QUESTION and self._cover is not None:
            back = bound.left_blank if plan.double_sided else None
            covered = CoveredPages(bound_pages, partial(self._cover_of, self._cover), back)
            pages, outline = covered, covered.outline(outline)
        title = title_of_set(plan.title, role, settings)
        if book.title:
            title = settings.wording.render("files.book", title=title, book=book.title)
        return described(pages, title, settings, (), outline, self.paper.mark)

    def _cover_of(self, cover: Cover, place: int) -> Page:
        return cover.page(self.printed[place].candidate)


def _file(role: Role, book: Book) -> str:
    return "-".join(filter(None, [role.book, book.file])) + ".pdf"
