"""Problems of their own for each student of a class: the same families in the same order, with other sizes.

No two students get the same sizes, and in a term no student gets the same sizes twice. Which draw of a seed will be printed is
known only when it is drawn, so each problem sets some draws aside that are no one else's. What a student gets depends on those
before it in the list, so that one who is added at the end changes nobody's sheets.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from sheetgen.bank import MOST_SEED, Bank, BankError, Family
from sheetgen.bank.features import Feature
from sheetgen.choosing import Entry
from sheetgen.exercises import DRAWS
from sheetgen.faults import Fault, FaultError

RESERVE = 5
"""Draws that a problem sets aside. One in some dozens is refused when it is drawn, so five in a row are not in years."""

TRIES = 400
"""Seeds that are looked at for one problem before its family is called spent."""

Block = tuple[Feature, ...]
"""A variant, told by what it is made of."""


class SpentError(FaultError):
    """Families that have not enough different blocks for a class."""


@dataclass(frozen=True, slots=True)
class Own:
    """A problem of a student's own: ``draws`` of the seed that may be printed."""

    entry: Entry
    seed: int
    draws: tuple[int, ...]


def own_problems(
    entries: Sequence[Entry], bank: Bank, count: int, earlier: Sequence[Sequence[Entry]] = ()
) -> list[tuple[Own, ...]]:
    """For each of ``count`` students the problems that ``entries`` come to; ``earlier``: those of the weeks before, if in a term.

    Raises: SpentError if a family has not enough blocks, with the line of the plan; BankError for a faulty family.
    """
    families = {entry.family for entry in entries}
    sharing = _Sharing(bank, count)
    for week in earlier:
        sharing.week([entry for entry in week if entry.family in families])     # others have no blocks to lose
    return sharing.week(entries)


class _Sharing:
    """Who has which blocks."""

    def __init__(self, bank: Bank, count: int) -> None:
        self.bank, self.count = bank, count
        self._had: list[dict[str, set[Block]]] = [defaultdict(set) for _ in range(count)]     # by student and family, in the term

    def week(self, entries: Sequence[Entry]) -> list[tuple[Own, ...]]:
        """The problems of every student in one week."""
        self._taken: dict[str, set[Block]] = defaultdict(set)
        last: dict[str, int] = {}
        for entry in entries:
            last[entry.family] = max(last.get(entry.family, 0), entry.seed)
        self._seeds = {family: _from(seed + 1) for family, seed in last.items()}
        return [tuple(self._own(entry, student) for entry in entries) for student in range(self.count)]

    def _own(self, entry: Entry, student: int) -> Own:
        """A problem for a student: of the first one the plan's own seed, of the others those that follow."""
        family, seeds = self.bank[entry.family], self._seeds[entry.family]
        if student == 0 and (own := self._claimed(entry, family, entry.seed, student)):
            return own
        for _ in range(TRIES):
            if own := self._claimed(entry, family, next(seeds), student):
                return own
        raise SpentError([self._spent(entry)])

    def _claimed(self, entry: Entry, family: Family, seed: int, student: int) -> Own | None:
        """The problem of a seed, if enough of its draws are free; they are no one else's then."""
        taken, had = self._taken[family.name], self._had[student][family.name]
        free: dict[Block, int] = {}
        for draw in range(DRAWS):
            try:
                block = family.sample(seed, draw).features
            except BankError:
                continue                                          # no sizes, no block: told if a sheet should be made of it
            if block not in taken and block not in had:
                free.setdefault(block, draw)
            if len(free) == RESERVE:
                taken.update(free)
                had.update(free)
                return Own(entry, seed, tuple(free.values()))
        return None

    def _spent(self, entry: Entry) -> Fault:
        found = (f"{entry.family}, of which about {len(self._taken[entry.family])} blocks are all there is: too few for "
                 f"{self.count} students, each with {RESERVE} to choose from")
        wanted = "a family with more sizes; or `problems_for: all`"
        return Fault(*entry.place, found, wanted) if entry.place else Fault(entry.family, 0, "", found, wanted)


def _from(seed: int) -> Iterator[int]:
    """All seeds from one on, the first after the last."""
    while True:
        yield seed % (MOST_SEED + 1)
        seed += 1
