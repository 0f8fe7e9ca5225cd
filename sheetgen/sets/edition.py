"""Sheets for a class: which exercises are to be made, for whom, and which files they go to; or for nobody in particular, which is
a class of one without a name."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from sheetgen.exercises import ONCE, PRINTED, USUAL, Role, kinds, with_kind
from sheetgen.exercises.key_sheets import title_of_key
from sheetgen.faults import Fault, Place
from sheetgen.ink import Document
from sheetgen.sets.classes import (
    MOST_PAIRS,
    OWN,
    Book,
    Bound,
    BoundPages,
    Cells,
    ClassList,
    ClassListError,
    Namer,
    Student,
    books_of,
    key_of,
    load_class_list,
    outline_of,
    own_problems,
    without_own,
)
from sheetgen.sets.documents import described, title_of_set
from sheetgen.sets.marks import FIELDS, LIST_NAME, check_roles, lacked, marks_list
from sheetgen.sets.plan import Plan
from sheetgen.sets.worksheet import Job, WorksheetMaker, jobs_of
from sheetgen.sheet import Settings

KEY = "answer-key"
"""What the files of the key are called."""

NOBODY = ClassList("", (Student(0, 1),))
"""Who gets a worksheet that names no class."""


@dataclass(frozen=True, eq=False)
class Edition:
    """``jobs``: the exercises to be made, in these ``settings``; ``roles``: those of which there are sheets; ``remarks``: of
    names that are not printed as they are written, and of kinds that lack sheets of some roles.

    Where all have the same problems, each is drawn once, and what the title block says of a student is added when the student's
    sheet is bound (``shared``); so a class takes no longer than one student."""

    plan: Plan
    students: tuple[Student, ...]
    cells: tuple[Cells, ...]
    jobs: Sequence[Job]
    roles: tuple[Role, ...]
    settings: Settings
    shared: bool
    remarks: tuple[Fault, ...]
    own: Settings                # in which the title block has all its cells

    @property
    def decides(self) -> object:
        """What decides the files beside the jobs, for the mark of the set."""
        people = self.plan.people
        printed = [(cells, student.called) for cells, student in zip(self.cells, self.students, strict=True)]
        return (printed, people.order, people.books, people.double_sided) if people.path or people.double_sided else None

    @property
    def names(self) -> list[str]:
        """Of the files that there will be."""
        return self._names_of(self.roles)

    @property
    def answers(self) -> list[str]:
        """Those of the names whose files have answers in them."""
        return [name for name in self._names_of([role for role in self.roles if role.tells]) if not name.endswith(".csv")]

    def _names_of(self, roles: Sequence[Role]) -> list[str]:
        books, once = self._books(self.plan.people.books), self._key_books()
        named = [self._name(role.book, book) for role in roles if role in PRINTED for book in books]
        named += [self._name(role.book, book) for role in roles if role in ONCE for book in once]
        lists = [f"{self._with_kind(LIST_NAME)}.csv"] if Role.MARKING in roles else []
        return [*named, *(self._name(KEY, book) for book in once if Role.KEY in roles), *lists]

    def files(self, maker: WorksheetMaker) -> Iterator[tuple[str, Document]]:
        """The files by name, of what the ``maker`` has made: for each book one of every role, and what there is of the key."""
        books, once, bound = self._books(self.plan.people.books), self._key_books(), self._bound(maker)
        for role in (role for role in self.roles if role is not Role.KEY):
            for book in once if role in ONCE else books:
                yield self._name(role.book, book), self._document(role, book, bound, maker.set_mark)
        if Role.KEY in self.roles:
            yield from self._keys(bound, maker.set_mark)

    def lists(self, maker: WorksheetMaker) -> Iterator[tuple[str, bytes]]:
        """The files by name that are no documents: the list of marks, where the scheme is wanted."""
        if Role.MARKING in self.roles:
            count, bound = len(self.plan.entries), self._bound(maker)
            codes = {(student.place - 1, problem): bound.of(student.place - 1, problem).code
                     for student in self.students for problem in range(count)}
            marking = self.jobs[0].particulars.marking
            yield f"{self._with_kind(LIST_NAME)}.csv", marks_list(
                self.students, codes, [marking] * count, self.own, asked=self.plan.kinds)

    def _bound(self, maker: WorksheetMaker) -> Bound:
        return Bound(maker.kept, maker.shelf, self.cells, len(self.plan.entries), self.shared, self.own)

    def _document(self, role: Role, book: Book, bound: Bound, mark: str) -> Document:
        by_problem = self.plan.people.order == "problem"
        pages = BoundPages(bound, role, book, by_problem=by_problem, double_sided=self.plan.people.double_sided)
        title = self._titled(title_of_set(self.own.set_title, role, self.own), book)
        return described(pages, title, self.own, bound.topics, outline_of(pages, self.students, bound, by_problem), mark)

    def _keys(self, bound: Bound, mark: str) -> Iterator[tuple[str, Document]]:
        """The key: one where all have the same problems, else one for each book, and for 100 students where each has a book."""
        people, title = self.plan.people, title_of_key(self.own.set_title, self.own)
        for book in self._key_books():
            called = self._titled(title, book)
            whose = [student.called for student in self.students] if people.each else []
            pages, outline = key_of(bound, book, called, whose, people.order == "problem")
            yield self._name(KEY, book), described(pages, called, self.own, bound.topics, outline, mark)

    def _key_books(self) -> list[Book]:
        people = self.plan.people
        by = people.books if people.each and people.books != "students" else None
        return self._books(by) if people.each else [Book("", "", (0,))]

    def _name(self, what: str, book: Book) -> str:
        return "-".join(filter(None, [self._with_kind(what), book.file])) + ".pdf"

    def _with_kind(self, what: str) -> str:
        """The name of a file, with the kind of its exercises if that is one, and not the usual one."""
        found = set(self.plan.kinds)
        return with_kind(what, found.pop() if len(found) == 1 else USUAL)

    def _books(self, by: str | None) -> list[Book]:
        return books_of(self.students, by, len(self.plan.entries), self.own)

    def _titled(self, title: str, book: Book) -> str:
        return self.own.wording.render("files.book", title=title, book=book.title) if book.title else title


def edition_of(plan: Plan, settings: Settings, roles: Sequence[Role]) -> Edition:
    """What a plan comes to, for its class if it has one.

    Raises: ClassListError for the list, or for names that the plan will not have printed otherwise than they are written;
    SpentError for families with too few blocks; BankError for faulty ones; MarkingRoleError for a kind without sheets that
    are wanted; TemplateError for the marking template.
    """
    people = plan.people
    listed = load_class_list(people) if people.path else NOBODY
    _check(plan, listed)
    namer = Namer(listed, settings)
    if people.refuse and namer.remarks:
        raise ClassListError(namer.remarks)
    wanted = (*roles, *plan.marking.sheets, *plan.helps, *((Role.KEY,) if people.answer_key else ()))
    jobs, made_in = jobs_of(plan, plan.problems.bank, wanted), settings
    shared = bool(people.path) and not people.each and _separable(settings)
    if shared:
        made_in = replace(settings, block=without_own(settings.block))
    elif people.path:
        jobs = list(_for_each(plan, jobs, namer.cells))
    made = tuple(role for role in wanted if any(role in job.roles for job in jobs))
    remarks = (*_lacking(plan, made), *namer.remarks)
    return Edition(plan, listed.students, namer.cells, jobs, made, made_in, shared, remarks, settings)


def _lacking(plan: Plan, wanted: Sequence[Role]) -> Iterator[Fault]:
    """Of sheets that are wanted and that the kinds of some problems lack: which kinds these are."""
    first: dict[str, Place] = {}
    for entry, kind in zip(plan.entries, plan.kinds, strict=True):
        first.setdefault(kind, entry.place or Place(plan.file or "the command line", 0, ""))
    for role in wanted:
        without = [kind for kind in first if not kinds()[kind].gives(role)]
        if without:
            place, (found, _) = first[without[0]], lacked(without, role)
            yield Fault(place.file, place.line, FIELDS.get(role, role), found, "other kinds; the other problems have theirs")


def _for_each(plan: Plan, jobs: Sequence[Job], cells: Sequence[Cells]) -> Iterator[Job]:
    """The jobs of each student in turn."""
    owned = own_problems(plan.entries, plan.problems.bank, len(cells), plan.problems.earlier) if plan.people.each else None
    for number, own in enumerate(cells):
        for place, job in enumerate(jobs):
            problem = owned[number][place] if owned else None
            mine = replace(job, particulars=own.on(job.particulars))
            yield replace(mine, seed=problem.seed, draws=problem.draws) if problem else mine


def _separable(settings: Settings) -> bool:
    """Whether what the title block says of a student can be added to a sheet that is drawn: all it needs is known then but the
    scale."""
    shown = [cell.text.names for cell in settings.block.cells if cell.text]
    return not any("scale" in names and names & set(OWN) for names in shown)


def _check(plan: Plan, listed: ClassList) -> None:
    """Find out before the work what cannot be. Raises: ClassListError, MarkingRoleError."""
    people = plan.people
    key = (Role.KEY,) if people.answer_key else ()
    check_roles(plan.kinds, (*plan.marking.sheets, *plan.helps, *key), plan.file or "the command line")
    if people.path is None:
        said: Mapping[str, object] = {"problems_for": "each" if people.each else None, "books": people.books}
        faults = [Fault(plan.file or "the command line", 0, field, f"{word} without a class list",
                        "`class_list: …` in the plan, or --class-list") for field, word in said.items() if word]
        if faults:
            raise ClassListError(faults)
    pairs = len(plan.entries) * len(listed.students)
    if pairs > MOST_PAIRS:
        raise ClassListError([Fault(listed.file, 0, "", f"{len(listed.students)} students with {len(plan.entries)} problems each",
                                    f"at most {MOST_PAIRS:,} questions in one run")])
    what = {"groups": "group", "rooms": "room"}.get(people.books or "")
    if what and not any(getattr(student, what) for student in listed.students):
        wanted = f"a column for them, or another word at `books` than {people.books}"
        raise ClassListError([Fault(listed.file, 0, what, f"a list without {what}s", wanted)])
