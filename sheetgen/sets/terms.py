"""A term: the weeks of a course, each with problems of its own. What a week gets depends on the wishes, the term's name and the
week (and on the bank), and on nothing that would have to be kept: whoever asks for week 9 has weeks 1 to 8 chosen again."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from hashlib import sha256

from sheetgen.bank import Bank, BankError, Outline, digest_of
from sheetgen.bank.features import Feature
from sheetgen.choosing import Entry, Wish, easiest_first, ring, topic_tree
from sheetgen.exercises import DRAWS

USUAL_WEEKS = 16
"""Of a term that tells no number."""

MOST_WEEKS = 52
"""Of a term."""

TERMS, WEEKS, OF_A_WEEK = 512, 64, 512
"""Seeds: 512 terms have 64 weeks, a week 512 seeds less the first: all below 2 to the power of 24, as codes have room for. Which
of the 512 a term is, is drawn by lot from its name, and so is which seed of a week comes first: two terms drawn alike still begin
at other seeds."""

MOST_OF_A_TERM = 1500
"""Problems of all its weeks: what a week gets is chosen anew from the first week on, each problem against all that were."""


Block = tuple[Feature, ...]
"""A variant, told by what it is made of."""


class SpentError(Exception):
    """No family of a wish has a block left that the term has not had."""

    def __init__(self, wish: Wish, week: int) -> None:
        self.wish, self.week = wish, week
        super().__init__(wish, week)


@dataclass(frozen=True, slots=True)
class Term:
    """A term by its ``name``, the number of its ``weeks``, and the ``week`` that is asked for."""

    name: str
    weeks: int
    week: int

    def seeds(self, week: int) -> Sequence[int]:
        """The seeds that belong to a week, in the order in which they are tried.

        >>> [len(Term("Autumn", 16, 1).seeds(week)) for week in (1, 2)]
        [511, 511]
        """
        start, lot = divmod(int.from_bytes(sha256(self.name.encode()).digest()[:8], "big"), TERMS)
        first = (lot * WEEKS + week) * OF_A_WEEK + 1
        own = range(first, first + OF_A_WEEK - 1)
        begin = start % len(own)
        return (*own[begin:], *own[:begin])


def week_of(term: Term, wishes: Sequence[Wish], outlines: Mapping[str, Outline], bank: Bank) -> list[tuple[Entry, ...]]:
    """The problems of the term's week, as ``weeks_of`` has them last."""
    return weeks_of(term, wishes, outlines, bank)[-1]


def weeks_of(term: Term, wishes: Sequence[Wish], outlines: Mapping[str, Outline], bank: Bank) -> list[list[tuple[Entry, ...]]]:
    """The problems of each week up to the term's, for each wish those it comes to, the easiest first.

    Families take turns: of those that fit a wish, that one comes whose last turn is longest ago. Wishes that fewer families fit
    choose before others. Raises: SpentError if the blocks of all families of a wish are used up; BankError for a faulty family.
    """
    turns = _Turns(term, bank)
    rings = [ring((outline for outline in outlines.values() if wish.fits(outline)), term.name) for wish in wishes]
    narrow = sorted(range(len(wishes)), key=lambda number: len(rings[number]))
    weeks: list[list[tuple[Entry, ...]]] = []
    for week in range(1, term.week + 1):
        turns.begin(week)
        found: list[tuple[Entry, ...]] = [()] * len(wishes)
        weeks.append(found)
        for number in narrow:
            entries = [turns.next(wishes[number], rings[number]) for _ in range(wishes[number].count)]
            found[number] = easiest_first(entries, outlines)
    return weeks


def wishes_digest(wishes: Iterable[Wish], term: str = "") -> str:
    """Some signs that stay the same as long as a plan wishes for the same in the same term."""
    return digest_of([term, *(f"{sorted(map(topic_tree().key, wish.topics))} {sorted(wish.rungs)} {wish.count} {wish.family} "
                              f"{wish.first_seed}" for wish in wishes)])


def bank_digest(wishes: Iterable[Wish], outlines: Mapping[str, Outline]) -> str:
    """Some signs that stay the same as long as the families that fit any of the wishes do."""
    fitting = {name for wish in wishes for name, outline in outlines.items() if wish.fits(outline)}
    return digest_of(part for name in sorted(fitting) for part in (name, outlines[name].content))


class _Turns:
    """Who has had a turn in the term, when, and with which seeds."""

    def __init__(self, term: Term, bank: Bank) -> None:
        self.term, self.bank = term, bank
        self._turn = 0
        self._last: dict[str, int] = {}                           # by family: the number of its last turn
        self._first: dict[str, int] = {}                          # by family: its first seed, until it has another
        self._used: dict[str, set[Block]] = {}                    # by family: the blocks of its seeds, if there are several
        self._tried = Counter[str]()
        self._spent: set[str] = set()                             # families without a seed that gives new blocks only

    def begin(self, week: int) -> None:
        """Go on with another week."""
        self.week, self._own = week, self.term.seeds(week)
        self._tried.clear()

    def next(self, wish: Wish, names: Sequence[str]) -> Entry:
        """The next problem for a wish that the families ``names`` fit. Raises: SpentError."""
        for name in sorted(names, key=lambda name: self._last.get(name, 0)):      # of those without a turn, as the ring says
            for seed in self._seeds_left(name):
                if self._is_new(name, seed):
                    self._turn += 1
                    self._last[name] = self._turn
                    return Entry(name, seed)
            self._spent.add(name)                                 # for the rest of the term: of all seeds of a week, none
        raise SpentError(wish, self.week)

    def _seeds_left(self, name: str) -> Iterator[int]:
        """The week's seeds that the family has not tried."""
        while name not in self._spent and self._tried[name] < len(self._own):
            self._tried[name] += 1
            yield self._own[self._tried[name] - 1]

    def _is_new(self, name: str, seed: int) -> bool:
        """Whether no draw of the seed gives a block that a draw of an earlier one has given; then all of its own count as used.

        Which draw will be printed is known only when it is drawn on paper. Blocks are looked at from the second seed of a family
        on, because in most weeks most families are at their first.
        """
        if name not in self._last:
            self._first[name] = seed
            return True
        if name not in self._used:
            self._used[name] = set(self._blocks(name, self._first[name]))
        blocks = set[Block]()
        for block in self._blocks(name, seed):                    # one by one: the first that has been ends it
            if block in self._used[name]:
                return False
            blocks.add(block)
        self._used[name] |= blocks
        return True

    def _blocks(self, name: str, seed: int) -> Iterator[Block]:
        """What the draws of a seed give. Equal sizes give equal features; and where two variants differ in the size of a feature
        that neither has, so do other sizes."""
        family = self.bank[name]
        for draw in range(DRAWS):
            try:
                yield family.sample(seed, draw).features
            except BankError:
                continue                                          # no sizes, no block: told if a sheet should be made of it
