"""A pack made: which exercises, which files. What a plan comes to in; documents and texts by file name out."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from functools import cached_property
from pathlib import Path
from typing import Any

from sheetgen.exercises import Role, kinds, make_exercise
from sheetgen.exercises.description import description_of
from sheetgen.ink import Document, MadePages, Page
from sheetgen.projection import CORNERS, ISOMETRIC_CORNER
from sheetgen.refusals import RefusedError
from sheetgen.sets.documents import described, title_of_set
from sheetgen.sets.packs.pictures import pictured
from sheetgen.sets.packs.plan import PackPlan
from sheetgen.sets.packs.site import Book, Site
from sheetgen.sets.packs.solids import record_of
from sheetgen.sets.run import Run, run_of
from sheetgen.sets.shelf import Kept, Made, Shelf
from sheetgen.sets.worksheet import Job, WorksheetMaker, jobs_of
from sheetgen.sheet import Settings
from sheetgen.sheet.layout import views_asked

ROLES = ("question", "answer", "construction", "hints")
"""What a pack prints of an exercise, as far as its kind has it, by the names of roles and in their order."""


def roles_for(kind: str) -> tuple[Role, ...]:
    """What a pack prints of exercises of a kind."""
    return tuple(sorted((role for role in kinds()[kind].roles if role.value in ROLES), key=lambda role: ROLES.index(role.value)))


def draw(job: Job, settings: Settings) -> Made:
    """One exercise of a pack, with what its page tells of it. Raises: BankError, RefusedSeedError, TemplateError."""
    roles = (*job.roles, Role.BLANK)                   # by which a drawing is told from its sheet
    exercise = make_exercise(job.family, job.seed, settings, roles, job.kind, job.particulars, job.draws, helped=True)
    problem, help = exercise.problem, exercise.help
    variant = job.family.sample(problem.identity.seed, problem.identity.draw)
    names = dict.fromkeys(("front", "top", *views_asked(settings.side)))
    told = {
        "rung": job.family.rung,
        "description": description_of(variant, problem.solid, settings.wording),
        "task": list(help.task),
        "hints": [list(sentences) for sentences in help.hints],
        "lengths": [[length.where, length.value] for length in help.lengths],
        "pictures": pictured(exercise, settings),
        "solid": record_of(problem.solid, {name: problem.view(name) for name in names}, help.layout, _corner(problem)),
    }
    printed = {role: pages for role, pages in exercise.sheets.items() if role in job.roles}
    return Made(exercise.particulars.code, problem.title, problem.topics, printed, len(exercise.refused), told=told)


def _corner(problem: Any) -> str:
    """The upper corner of the part that its pictorial turns to the reader."""
    try:
        toward = problem.pictorial.view.frame.toward
    except RefusedError:
        return ISOMETRIC_CORNER
    return next(name for name, (sx, sy) in CORNERS.items() if sx * toward[0] > 0 and sy * toward[1] > 0)


class Pack:
    """What is to be made of a ``plan`` in these ``settings``; ``single``: the page has in it whatever is no PDF.

    Raises: BankError for faulty families.
    """

    def __init__(self, plan: PackPlan, settings: Settings, version: str, single: bool = False) -> None:
        self.plan, self.settings, self.single = plan, settings, single
        self.jobs = [Job(job.family, job.seed, job.particulars, roles_for(job.kind), job.kind, job.places)
                     for job in jobs_of(plan.plan, plan.plan.problems.bank)]
        self.run: Run = run_of(plan.plan.title, self.jobs, settings, version, ("pack", plan.about, single))
        self.site = Site(self)

    @cached_property
    def books(self) -> tuple[Book, ...]:
        """The PDF files: of each rung one for every role."""
        found: list[Book] = []
        for rung in sorted(set(self.plan.rungs)):
            numbers = [number for number, own in enumerate(self.plan.rungs, 1) if own == rung]
            for role in (role for role in Role if role.value in ROLES):
                own = tuple(number for number in numbers if role in self.jobs[number - 1].roles)
                if own:
                    found.append(Book(role, rung, own))
        return tuple(sorted(found, key=lambda book: (book.rung, ROLES.index(book.role.value))))

    @property
    def names(self) -> list[str]:
        """Of the files that there will be in the folder."""
        return [*(book.file for book in self.books), *self.site.names]

    def maker(self, shelf: Shelf) -> WorksheetMaker:
        """Who makes the exercises and puts them on the ``shelf``."""
        return WorksheetMaker(self.plan.plan, self.jobs, self.settings, shelf, self.run.mark, draw)

    def documents(self, maker: WorksheetMaker) -> Iterator[tuple[str, Document]]:
        """The PDF files by name, of what the ``maker`` has made."""
        for book in self.books:
            yield book.file, self._document(book, maker)

    def files(self, maker: WorksheetMaker) -> Iterator[tuple[str, bytes]]:
        """The files of the page by name, in the order of ``names``."""
        return self.site.files(maker.kept)

    def pages_of(self, book: Book, kept: Mapping[int, Kept]) -> dict[int, int]:
        """On which page of a book each of its exercises begins, from 1."""
        found: dict[int, int] = {}
        page = 1
        for number in book.numbers:
            found[number] = page
            page += kept[number].counts[book.role]
        return found

    def _document(self, book: Book, maker: WorksheetMaker) -> Document:
        kept, settings = maker.kept, self.settings
        places = [(number, page) for number in book.numbers for page in range(kept[number].counts[book.role])]
        pages = MadePages(len(places), lambda place: _page(maker.shelf, book.role, *places[place]))
        outline = [(f"{number}. {kept[number].title} ({kept[number].code})", page - 1)
                   for number, page in self.pages_of(book, kept).items()]
        title = settings.wording.render("files.book", title=title_of_set(self.title, book.role, settings),
                                        book=self.site.rung_title(book.rung))
        topics = dict.fromkeys(topic for number in book.numbers for topic in kept[number].topics)
        return described(pages, title, settings, topics, outline, maker.set_mark)

    @property
    def title(self) -> str:
        """What the pack is called."""
        return self.settings.set_title or self.settings.wording.render("pack.pack")


def _page(shelf: Shelf, role: Role, number: int, page: int) -> Page:
    return shelf.sheets(number, role)[page]


def written(folder: Path, names: Sequence[str]) -> list[Path]:
    """Where files stand."""
    return [folder / name for name in names]
