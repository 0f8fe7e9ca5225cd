"""A worksheet: the exercises of a plan, made one after another or by several workers, the same either way."""

from __future__ import annotations

from collections.abc import Callable, Generator, Iterable, Iterator, Mapping, Sequence
from concurrent.futures import Executor
from contextlib import closing
from dataclasses import dataclass, field, replace

from sheetgen.bank import BankError, Family
from sheetgen.choosing import Entry
from sheetgen.exercises import (
    ASKED,
    USUAL,
    Particulars,
    RefusedSeedError,
    Role,
    block_faults,
    check_seed,
    kinds,
    make_exercise,
)
from sheetgen.faults import Fault, FaultError, Place
from sheetgen.sets.plan import Plan
from sheetgen.sets.shelf import Kept, Made, Shelf
from sheetgen.sets.workers import results
from sheetgen.sheet import Settings

FEW = 6
"""Up to so many exercises are made in this process, because another one takes a second to start."""


class SetError(FaultError):
    """Some problems of a set cannot be made; it tells of all of them."""


@dataclass(frozen=True, slots=True)
class Job:
    """One exercise to be made, and the sheets that are wanted of it; ``places``: where what its title blocks say of it, and of it
    alone, can be changed; ``draws``: those of the seed that may be printed, if not all."""

    family: Family
    seed: int
    particulars: Particulars
    roles: tuple[Role, ...] = ASKED
    kind: str = USUAL
    places: Mapping[str, Place] = field(default_factory=dict)
    draws: tuple[int, ...] = ()


def jobs_of(plan: Plan, bank: Mapping[str, Family], roles: Sequence[Role] = ASKED) -> list[Job]:
    """The exercises of a plan, in its order, each with those of the ``roles`` that its kind has.

    Raises: BankError with all faults of all families that the plan names; TemplateError for those of its marking template.
    """
    families: dict[str, Family] = {}
    faults: list[Fault] = []
    for name in dict.fromkeys(entry.family for entry in plan.entries):
        try:
            families[name] = bank[name]
        except BankError as error:
            faults += error.faults
    if faults:
        raise BankError(faults)
    count, marking = len(plan.entries), plan.marking.marking()
    return [Job(families[entry.family], entry.seed, Particulars(sheet=number, sheets=count, marking=marking),
                tuple(role for role in roles if kinds()[kind].gives(role)), kind, _places(plan, entry, families[entry.family]))
            for number, (entry, kind) in enumerate(zip(plan.entries, plan.kinds, strict=True), 1)]


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


def try_families(jobs: Iterable[Job], executor: Executor | None = None) -> None:
    """Find out before anything is drawn which families are at fault: of each, the first problem that is wanted must come to a
    part and to measures that tell it. Raises: SetError with all faults of all of them."""
    first: dict[str, Job] = {}
    for job in jobs:
        first.setdefault(job.family.name, job)
    faults = dict.fromkeys(fault for found in results(_family_faults, None, first.values(), executor) for fault in found)
    if faults:
        raise SetError(faults)


def make_all(
    jobs: Sequence[Job], settings: Settings, executor: Executor | None = None,
    draw: Callable[[Job, Settings], Made] | None = None,
) -> Generator[tuple[int, Made], None, None]:
    """Yield what comes of ``jobs``, in their order, each with its place among them; ``draw``: what makes one, if not as a
    worksheet has it.

    Raises: TemplateError and SetError at once for a title block that cannot hold what it should, and SetError for families at
    fault; SetError at the end with the faults of all jobs that came to nothing.
    """
    try_blocks(jobs, settings)
    try_families(jobs, executor)
    faults: dict[Fault, None] = {}
    with closing(results(_made, (settings, draw or _drawn), jobs, executor)) as outcomes:
        for place, outcome in enumerate(outcomes):
            if isinstance(outcome, Made):
                yield place, outcome
            else:
                faults.update(dict.fromkeys(outcome.faults))
    if faults:
        raise SetError(faults)


class WorksheetMaker:
    """Puts a plan's exercises on the ``shelf`` as they are made; what stands on it already is not made again. ``set_mark``: that
    the documents carry; ``draw``: what makes one, if not as a worksheet has it."""

    def __init__(
        self, plan: Plan, jobs: Sequence[Job], settings: Settings, shelf: Shelf, set_mark: str = "",
        draw: Callable[[Job, Settings], Made] | None = None,
    ) -> None:
        self.plan, self.jobs, self.settings, self.shelf, self.set_mark = plan, jobs, settings, shelf, set_mark
        self._draw = draw
        found = {number: shelf.get(number) for number in range(1, len(jobs) + 1)}
        self._kept = {number: kept for number, kept in found.items() if kept is not None}

    @property
    def kept(self) -> Mapping[int, Kept]:
        """What is known of the exercises that are on the shelf, by their numbers."""
        return dict(sorted(self._kept.items()))

    @property
    def refused(self) -> int:
        """How many variants were refused and drawn again."""
        return sum(one.refused for one in self._kept.values())

    def run(self, executor: Executor | None = None) -> Iterator[Kept]:
        """Make the exercises, and yield each when it is on the shelf (for a progress bar)."""
        yield from list(self._kept.values())
        todo = [number for number in range(1, len(self.jobs) + 1) if number not in self._kept]
        with closing(make_all([self.jobs[number - 1] for number in todo], self.settings, executor, self._draw)) as made:
            for place, one in made:
                self._kept[todo[place]] = kept = self.shelf.put(todo[place], one)
                yield kept


def put_made(job: Job, settings: Settings, shelf: Shelf) -> Kept:
    """Put one exercise on the shelf, as number 1, if it does not stand there already.

    Raises: BankError, RefusedSeedError, TemplateError; FolderError if there is no room.
    """
    return shelf.get(1) or shelf.put(1, _drawn(job, settings))


def _drawn(job: Job, settings: Settings) -> Made:
    exercise = make_exercise(job.family, job.seed, settings, job.roles, job.kind, job.particulars, job.draws)
    problem = exercise.problem
    return Made(exercise.particulars.code, problem.title, problem.topics, exercise.sheets, len(exercise.refused))


def _made(common: tuple[Settings, Callable[[Job, Settings], Made]], job: Job) -> Made | FaultError:
    settings, draw = common
    try:
        return draw(job, settings)
    except (BankError, RefusedSeedError) as error:
        return error


def _family_faults(_: None, job: Job) -> tuple[Fault, ...]:
    try:
        check_seed(job.family, job.seed)
    except (BankError, RefusedSeedError) as error:
        return error.faults
    return ()
