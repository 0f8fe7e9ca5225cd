"""A worksheet: the exercises of a plan, made one after another or by several workers, the same either way."""

from __future__ import annotations

from collections.abc import Generator, Iterable, Iterator, Mapping, Sequence
from concurrent.futures import Executor
from contextlib import closing
from dataclasses import dataclass, field, replace

from sheetgen.bank import BankError, Family
from sheetgen.choosing import Entry
from sheetgen.exercises import ASKED, USUAL, Particulars, RefusedSeedError, Role, Sheets, block_faults, make_exercise
from sheetgen.faults import Fault, FaultError, Place
from sheetgen.ink import Document
from sheetgen.sets.documents import PageFile, described, title_of_set
from sheetgen.sets.plan import Plan
from sheetgen.sets.workers import results
from sheetgen.sheet import Settings

FEW = 6
"""Up to so many exercises are made in this process, because another one takes a second to start."""


class SetError(FaultError):
    """Some problems of a set cannot be made; it tells of all of them."""


@dataclass(frozen=True, slots=True)
class Job:
    """One exercise to be made, and the sheets that are wanted of it; ``places``: where what its title blocks say of it, and of it
    alone, can be changed."""

    family: Family
    seed: int
    particulars: Particulars
    roles: tuple[Role, ...] = ASKED
    kind: str = USUAL
    places: Mapping[str, Place] = field(default_factory=dict)


@dataclass(frozen=True, eq=False)
class Made:
    """A finished exercise, with what the documents say of it. ``refused``: how many earlier draws of the seed were."""

    code: str
    title: str
    topics: tuple[str, ...]
    sheets: Sheets
    refused: int


@dataclass(frozen=True, eq=False)
class Worksheet:
    """The documents by role, and how many variants were refused and drawn again."""

    documents: Mapping[Role, Document]
    refused: int


def jobs_of(plan: Plan, bank: Mapping[str, Family], roles: Sequence[Role] = ASKED) -> list[Job]:
    """The exercises of a plan, in its order. Raises: BankError with all faults of all families that the plan names."""
    families: dict[str, Family] = {}
    faults: list[Fault] = []
    for name in dict.fromkeys(entry.family for entry in plan.entries):
        try:
            families[name] = bank[name]
        except BankError as error:
            faults += error.faults
    if faults:
        raise BankError(faults)
    count = len(plan.entries)
    return [Job(families[entry.family], entry.seed, Particulars(sheet=number, sheets=count), tuple(roles), plan.kind,
                _places(plan, entry, families[entry.family]))
            for number, entry in enumerate(plan.entries, 1)]


def _places(plan: Plan, entry: Entry, family: Family) -> dict[str, Place]:
    """Where a problem's own values are said: its number in its line, how many sheets there are in all lines, the rest in its
    family."""
    places = {"title": Place(family.file, 0, "title"), "topic": Place(family.file, 0, "topics")} if family.file else {}
    places |= {"number": entry.place} if entry.place else {}
    return places | (dict.fromkeys(("sheet", "sheets", "sheet_of"), plan.place) if plan.place else {})


def try_blocks(jobs: Iterable[Job], settings: Settings) -> None:
    """Find out before anything is drawn what the title blocks of ``jobs`` cannot hold.

    Raises: TemplateError for labels, SetError for values; of each place in a file, the first that is too wide.
    """
    _ = replace(settings).stationery         # a copy's: what the settings have made goes with them to every worker
    faults: dict[Place, Fault] = {}
    for job in jobs:
        for fault in block_faults(job.family, job.seed, settings, job.roles, job.kind, job.particulars, job.places):
            faults.setdefault(Place(fault.file, fault.line, fault.field), fault)
    if faults:
        raise SetError(faults[place] for place in sorted(faults))


def make_all(jobs: Sequence[Job], settings: Settings, executor: Executor | None = None) -> Generator[Made, None, None]:
    """Yield what comes of ``jobs``, in their order.

    Raises: TemplateError and SetError at once for a title block that cannot hold what it should; SetError at the end with the
    faults of all jobs that came to nothing.
    """
    try_blocks(jobs, settings)
    faults: dict[Fault, None] = {}
    with closing(results(_made, settings, jobs, executor)) as outcomes:
        for outcome in outcomes:
            if isinstance(outcome, Made):
                yield outcome
            else:
                faults.update(dict.fromkeys(outcome.faults))
    if faults:
        raise SetError(faults)


class WorksheetMaker:
    """Puts the pages of a plan's exercises aside as they are made; ``with`` it, because they lie in temporary files."""

    def __init__(self, plan: Plan, jobs: Sequence[Job], settings: Settings) -> None:
        self.plan, self.jobs, self.settings = plan, jobs, settings
        self._pages = {role: PageFile() for job in jobs[:1] for role in job.roles}
        self._outline: dict[Role, list[tuple[str, int]]] = {role: [] for role in self._pages}
        self._topics: dict[str, None] = {}
        self._refused = 0

    def __enter__(self) -> WorksheetMaker:
        return self

    def __exit__(self, *_: object) -> None:
        for pages in self._pages.values():
            pages.close()

    def run(self, executor: Executor | None = None) -> Iterator[Made]:
        """Make the exercises, and yield each when it is put aside (for a progress bar)."""
        with closing(make_all(self.jobs, self.settings, executor)) as made:
            for number, one in enumerate(made, 1):
                for role, pages in self._pages.items():
                    self._outline[role].append((f"{number}. {one.title} ({one.code})", len(pages)))
                    for page in one.sheets[role]:
                        pages.append(page)
                self._topics.update(dict.fromkeys(one.topics))
                self._refused += one.refused
                yield one

    def worksheet(self) -> Worksheet:
        """The documents of what was made. They read their pages from the temporary files."""
        documents = {
            role: described(pages, title_of_set(self.plan.title, role, self.settings), self.settings, self._topics,
                            self._outline[role])
            for role, pages in self._pages.items()
        }
        return Worksheet(documents, self._refused)


def _made(settings: Settings, job: Job) -> Made | FaultError:
    try:
        exercise = make_exercise(job.family, job.seed, settings, job.roles, job.kind, job.particulars)
    except (BankError, RefusedSeedError) as error:
        return error
    problem = exercise.problem
    return Made(exercise.particulars.code, problem.title, problem.topics, exercise.sheets, len(exercise.refused))
