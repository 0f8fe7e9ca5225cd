"""Which kinds of exercise a family serves: counted over a few of its variants, without drawing a page, and kept between calls."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from hashlib import sha256
from typing import Any

from sheetgen.bank import Bank, BankError, Family, Outline
from sheetgen.bank.cache import Cache
from sheetgen.exercises.kinds import edition_of_kind, kinds
from sheetgen.exercises.making import MOST_UNSUITED, RefusedSeedError, check_seed
from sheetgen.faults import Fault
from sheetgen.problem import Problem, problem_of
from sheetgen.refusals import RefusedError, UnsuitedError
from sheetgen.sheet import Settings, Style, settings_of
from sheetgen.version import __version__

FIRST_SEED = 7000
"""Of the variants that are looked at: away from those that authors and vetting have looked at."""

ENOUGH, MOST = 2, 8
"""Variants after which a family serves a kind, if none has been refused by then; and those that are looked at otherwise."""

SHARES = ("all", "most", "some", "none")


@dataclass(frozen=True, slots=True)
class Served:
    """How a family serves a ``kind``: with ``served`` of the ``looked`` variants that were looked at (none of them: the kind is
    of every family); ``reason``: for which most of the others were refused, "" if there are none."""

    kind: str
    served: int = 0
    looked: int = 0
    reason: str = ""

    @property
    def share(self) -> str:
        """In a word, one of SHARES.

        >>> Served("faces", 2, 2).share, Served("faces", 5, 8).share, Served("faces", 4, 8).share, Served("faces", 0, 8).share
        ('all', 'most', 'some', 'none')
        """
        if self.served == self.looked:
            return "all"
        return "most" if 2 * self.served > self.looked else "some" if self.served else "none"

    @property
    def never(self) -> bool:
        """Whether the family does not serve the kind at all."""
        return self.share == "none"


def deciding(style: Style) -> Style:
    """What of a style decides which families serve a kind; the rest is the usual one."""
    return Style(projection=style.projection, side=style.side, paper=style.paper, missing=style.missing,
                 any_answer=style.any_answer, pictorial=style.pictorial, drawn=style.drawn,
                 whole=style.whole)


def look_at(asked: tuple[Style, Sequence[str]], family: Family) -> tuple[Served, ...]:
    """How a family serves each of some kinds in a style. Seeds are the same on every machine, and so is what comes of them.

    Raises: BankError for a fault of the family.
    """
    style, names = asked
    settings = settings_of(deciding(style))
    problems: list[Problem | RefusedError] = []

    def problem(number: int) -> Problem:
        """One of the variants that are looked at. Raises: RefusedError if its measures do not tell the part."""
        if number == len(problems):
            problems.append(_problem(family, FIRST_SEED + number))
        found = problems[number]
        if isinstance(found, RefusedError):
            raise found
        return found

    return tuple(_served(name, problem, settings) for name in names)


def serves_seed(style: Style, kind: str, family: Family, seed: int) -> bool:
    """Whether any variant of a seed can be asked in a kind: of a family of which no other variant could, one may.

    Raises: BankError for a fault of the family.
    """
    settings, asked = settings_of(deciding(style)), kinds()[kind]
    try:
        check_seed(family, seed, lambda problem: (asked.serves or asked.shared)(problem, settings))
    except RefusedSeedError:
        return False
    return True


def _problem(family: Family, seed: int) -> Problem | RefusedError:
    found = problem_of(family.sample(seed))
    try:
        found.check()
    except RefusedError as error:
        return error
    return found


def _served(name: str, problem: Callable[[int], Problem], settings: Settings) -> Served:
    """Looks at variants until nothing more is to be expected of others."""
    kind = kinds()[name]
    if kind.of_every:
        return Served(name)
    reasons, unsuited = Counter[str](), 0
    for number in range(MOST):
        if (number == ENOUGH and not reasons) or unsuited == number == MOST_UNSUITED:
            return _counted(name, number, reasons)
        try:
            (kind.serves or kind.shared)(problem(number), settings)
        except RefusedError as error:
            reasons[error.reasons[0].what] += 1
            unsuited += isinstance(error, UnsuitedError)
    return _counted(name, MOST, reasons)


def _counted(name: str, looked: int, reasons: Counter[str]) -> Served:
    return Served(name, looked - reasons.total(), looked, reasons.most_common(1)[0][0] if reasons else "")


Looked = tuple[Served, ...] | BankError
"""What comes of looking at a family."""

Work = Callable[[tuple[Style, Sequence[str]], Family], Looked]

Workers = Callable[[Work, tuple[Style, Sequence[str]], Sequence[Family]], Iterable[Looked]]
"""Who does the work: given the function, what all pieces need, and the pieces, gives what comes of each, in their order."""


def _here(work: Work, common: tuple[Style, Sequence[str]], families: Sequence[Family]) -> Iterator[Looked]:
    return (work(common, family) for family in families)


def _looked(asked: tuple[Style, Sequence[str]], family: Family) -> Looked:
    """As ``look_at``; a fault of one family is not to stop the others."""
    try:
        return look_at(asked, family)
    except BankError as error:
        return error


class Serving:
    """Which kinds the families of a ``bank`` serve, each by its outline, in a ``style``. What is known of the same file, program,
    kind and style is not found out again; ``told`` gets to know of how many families it must be, before any is looked at."""

    def __init__(
        self, bank: Bank, outlines: Mapping[str, Outline], style: Style, told: Callable[[int], None] = lambda count: None,
        cache: Cache | None = None,
    ) -> None:
        self._bank, self._outlines, self._style, self._told = bank, outlines, deciding(style), told
        self._cache = cache or Cache.of_user()

    def unknown(self, names: Iterable[str], asked: Sequence[str]) -> list[str]:
        """The families of which it must be found out how they serve any of some kinds."""
        of_some = [kind for kind in asked if not kinds()[kind].of_every]
        with self._cache as cache:
            return [name for name in names if len(self._kept(cache, name, of_some)) < len(of_some)]

    def of(self, names: Iterable[str], kind: str) -> dict[str, Served]:
        """How families serve a kind, by their names. Raises: BankError with all faults of all of them."""
        found: dict[str, Served] = {}
        faults: list[Fault] = []
        for name, looked in self.each(names, [kind]):
            if isinstance(looked, BankError):
                faults += looked.faults
            else:
                [found[name]] = looked
        if faults:
            raise BankError(faults)
        return found

    def each(self, names: Iterable[str], asked: Sequence[str], workers: Workers = _here) -> Iterator[tuple[str, Looked]]:
        """Each family with how it serves the kinds that are ``asked``, in their order, as it is found out."""
        names, of_some = list(names), [kind for kind in asked if not kinds()[kind].of_every]
        with self._cache as cache:
            known = {name: self._kept(cache, name, of_some) for name in names}
            todo = self.unknown(names, asked)
            if todo:
                self._told(len(todo))
            coming = iter(workers(_looked, (self._style, of_some), [self._bank[name] for name in todo]))
            for name in names:
                if name in todo:
                    looked = next(coming)
                    if isinstance(looked, BankError):
                        yield name, looked
                        continue
                    known[name] = {one.kind: one for one in looked}
                    for one in looked:
                        cache.put(self._key(name, one.kind), {"served": one.served, "looked": one.looked, "reason": one.reason})
                yield name, tuple(known[name].get(kind, Served(kind)) for kind in asked)

    def _kept(self, cache: Cache, name: str, asked: Sequence[str]) -> dict[str, Served]:
        """What the cache has."""
        rows = {kind: cache.get(self._key(name, kind)) for kind in asked}
        return {kind: Served(kind, **row) for kind, row in rows.items() if row is not None and _is_row(row)}

    def _key(self, name: str, kind: str) -> str:
        said = ("kinds", __version__, edition_of_kind(kind), name, self._outlines[name].content, kind, self._style)
        return sha256(repr(said).encode()).hexdigest()


def _is_row(row: Mapping[str, Any]) -> bool:
    """Whether a row of the cache is such as was put there."""
    return (row.keys() == {"served", "looked", "reason"} and isinstance(row["reason"], str)
            and all(type(row[key]) is int for key in ("served", "looked")) and 0 <= row["served"] <= row["looked"] <= MOST)
