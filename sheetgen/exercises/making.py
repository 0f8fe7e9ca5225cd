"""An exercise made: the sheets of one problem in one kind. A variant that cannot be printed right makes way for the next draw."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Any, Generic, TypeVar

from sheetgen.bank import Family
from sheetgen.exercises.coding import DRAWS, code_of
from sheetgen.exercises.help import NO_HELP, Help
from sheetgen.exercises.kind import Kind, Sheets
from sheetgen.exercises.kinds import kinds
from sheetgen.exercises.roles import ASKED, ONCE, Particulars, Role
from sheetgen.faults import Fault, FaultError
from sheetgen.placing import PictorialRead, ViewsRead
from sheetgen.problem import Problem, measure_faults, problem_of
from sheetgen.refusals import Reason, RefusedError, UnsuitedError
from sheetgen.sheet import Settings

T = TypeVar("T")
U = TypeVar("U")

MOST_TRIED, FEWEST_DRAWS = 10_000, 2
"""Squares of the numbers of measures of all draws of a seed, because placing sizes takes as long; 22 measures have all draws."""

CLEANEST_OF = 5
"""So many draws of a seed are made before the cleanest of them is taken, if a strict reader would send back a page of each. Half
the seeds need but one; more draws than five clear few of the others."""

MOST_UNSUITED = 5
"""Draws that are tried where the shape of each is refused: options of a family may change it, sizes do not."""

MOST_REASONS = 6
"""Reasons told of a seed that was given up."""

USUAL = "views"
"""The kind of who names none."""


class RefusedSeedError(FaultError):
    """None of the variants of a seed can be printed so that it would be right."""


@dataclass(frozen=True, eq=False)
class Exercise:
    """One problem asked in one kind, with its sheets. ``refused``: why earlier variants of the same seed were not printed;
    ``help``: what a page for practice helps with, if that was asked for."""

    kind: str
    problem: Problem
    particulars: Particulars
    sheets: Sheets
    refused: tuple[tuple[Reason, ...], ...] = ()
    help: Help = NO_HELP


def sheets_of(
    problem: Problem, settings: Settings, roles: Iterable[Role] = ASKED, kind: str = USUAL, particulars: Particulars | None = None
) -> Sheets:
    """The sheets of a problem by role, with a code of their own where the set gives none.

    Raises: RefusedError if they cannot be drawn right; TemplateError for a title block that cannot hold what it should.
    """
    asked: Kind[Any] = kinds()[kind]
    shared = asked.shared(problem, settings)
    return asked.drawn(shared, problem, settings, _named(problem, settings, particulars or Particulars(), asked, shared), roles)


def make_exercise(
    family: Family, seed: int, settings: Settings, roles: Sequence[Role] = ASKED, kind: str = USUAL,
    particulars: Particulars | None = None, draws: Sequence[int] = (), helped: bool = False,
) -> Exercise:
    """Draw the sheets of the first variant of ``seed`` that can be printed right and that no strict reader would send back, or of
    some the cleanest: with question and answer, whatever is asked for, so that what is printed today belongs to what was printed
    yesterday. ``draws``: those of the seed that may be taken, if not all; ``helped``: with what a page for practice helps with.

    Raises: BankError for a fault of the family, TemplateError for a title block that cannot hold what it should,
    RefusedSeedError if all its variants are refused.
    """
    asked: Kind[Any] = kinds()[kind]
    first = dict.fromkeys((*ASKED, *(role for role in roles if role not in ONCE)))

    def placed(problem: Problem) -> tuple[Any, _Marked]:
        shared = asked.shared(problem, settings)
        return shared, _Marked(asked.read(shared))

    def drawn(problem: Problem, shared: Any) -> tuple[Particulars, Any, Sheets]:
        said = _named(problem, settings, particulars or Particulars(), asked, shared)
        return said, shared, asked.drawn(shared, problem, settings, said, first)

    problem, (said, shared, sheets), refused = _cleanest(family, seed, draws, placed, drawn)
    # What is made beside them has no say in which variant is printed.
    more = asked.drawn(shared, problem, settings, said, [role for role in roles if role in ONCE])
    help = asked.help(problem, settings, shared) if helped and asked.help else NO_HELP
    return Exercise(kind, problem, said, {role: {**sheets, **more}[role] for role in roles}, refused, help)


def check_seed(family: Family, seed: int, serves: Callable[[Problem], object] = lambda _: None) -> None:
    """Find out before anything is drawn what would stop every sheet of a seed: the family, or measures that prove nothing, or
    that no variant ``serves``, which refuses those that do not.

    Raises: BankError for a fault of the family, RefusedSeedError if the measures of its variants do not tell the part, or none
    serves.
    """
    _cleanest(family, seed, (), lambda problem: (serves(problem), _Marked()), lambda problem, _: problem)


class _Marked:
    """How much a strict reader marks on an exercise's drawings, those with serious blemishes first."""

    def __init__(self, read: Sequence[PictorialRead | ViewsRead] = ()) -> None:
        self._read = read
        self.serious = sum(1 for drawing in read for _ in drawing.serious())

    @cached_property
    def order(self) -> tuple[int, int]:
        """By which drawings are preferred, the lesser the better."""
        return self.serious, sum(1 for drawing in self._read for _ in drawing.slight())


@dataclass(frozen=True, eq=False)
class _Found(Generic[T]):
    """A draw whose drawings found places: what a strict reader marks on them, and how many draws before were ``refused``."""

    problem: Problem
    placed: T
    marked: _Marked
    refused: int


def _cleanest(
    family: Family, seed: int, draws: Sequence[int], place: Callable[[Problem], tuple[T, _Marked]],
    draw: Callable[[Problem, T], U],
) -> tuple[Problem, U, tuple[tuple[Reason, ...], ...]]:
    """Of the problems of a seed that are proved and whose drawings find places, the first that no strict reader would send back,
    or of CLEANEST_OF the one in which there is least to mark; what was drawn of it, and why those before were refused. Pages are
    drawn of none but this; if they refuse, the others have their turn.

    Raises: BankError for a fault of the family, RefusedSeedError if there is none.
    """
    found: list[_Found[T]] = []
    refused: list[tuple[Reason, ...]] = []
    told: list[list[Fault]] = []
    unsuited = 0
    coming = _proved(family, seed, draws, refused, told)
    while (problem := next(coming, None)) or found:
        if problem:
            try:
                found.append(_Found(problem, *place(problem), len(refused)))
            except RefusedError as error:
                refused.append(error.reasons)
                unsuited += isinstance(error, UnsuitedError)
                if unsuited == len(refused) == MOST_UNSUITED:
                    break
                continue
            if found[-1].marked.serious and len(found) < CLEANEST_OF:
                continue
        # The last is the first without a serious one, if any is: the others need not be read again.
        best = min(found, key=lambda one: one.marked.order) if found[-1].marked.serious else found[-1]
        try:
            return best.problem, draw(best.problem, best.placed), tuple(refused[:best.refused])
        except RefusedError as error:
            found.remove(best)
            refused.append(error.reasons)
    raise RefusedSeedError(_always(told) or _given_up(family, seed, refused))


def _proved(
    family: Family, seed: int, draws: Sequence[int], refused: list[tuple[Reason, ...]], told: list[list[Fault]]
) -> Iterator[Problem]:
    """The problems of a seed, one after the other, whose measures tell the part; of the others, ``refused`` gets the reasons.
    ``told`` gets the faults of the measures of each."""
    most = DRAWS
    for tried, draw in enumerate(draws or range(DRAWS)):
        if tried >= most:
            break
        problem = problem_of(family.sample(seed, draw))
        most = min(most, max(FEWEST_DRAWS, MOST_TRIED // max(1, len(problem.measures)) ** 2))
        try:
            told.append(list(measure_faults(family, problem.proved)))
            problem.check()
        except RefusedError as error:
            refused.append(error.reasons)
            continue
        yield problem


def with_kind(name: str, kind: str) -> str:
    """The name of a file, with the kind unless it is the usual one, so that sheets of one kind do not replace those of another.

    >>> with_kind("questions", "views"), with_kind("questions", "lettering")
    ('questions', 'questions-lettering')
    """
    return name if kind == USUAL else f"{name}-{kind}"


def _named(problem: Problem, settings: Settings, particulars: Particulars, kind: Kind[T], shared: T) -> Particulars:
    """What a set says, with a code in any case."""
    if particulars.code:
        return particulars
    return replace(particulars, code=code_of(problem, settings, kind.mark, kind.option(shared)))


def _always(told: Sequence[Sequence[Fault]]) -> list[Fault]:
    """The faults of measures that all variants have: the family has them, not a seed. If each has others, all."""
    if not all(told):
        return []
    every = list(dict.fromkeys(fault for faults in told for fault in faults))
    return [fault for fault in every if all(fault in faults for faults in told)] or every[:MOST_REASONS]


def _given_up(family: Family, seed: int, refused: list[tuple[Reason, ...]]) -> list[Fault]:
    """Each reason with the number of variants that it stopped, the most frequent first."""
    wanted = "sizes, measures or paper that let at least one be printed right"
    told = Counter(what for reasons in refused for what in dict.fromkeys(reason.what for reason in reasons))
    such = {reason.what: reason for reasons in reversed(refused) for reason in reversed(reasons)}
    return [Fault(family.file, 0, f"seed {seed}", f"{count} of {len(refused)} variants refused: {such[what]}", wanted)
            for what, count in told.most_common(MOST_REASONS)]
