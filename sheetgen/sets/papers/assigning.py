"""Who gets which lot: the candidates one after another, in the order of the list, each what the neighbours before allow.

Pure: lots in, lots out, nothing drawn. The rule for neighbours is symmetric, so what holds of each candidate and those before
holds of all. Lots are looked at in their order, and those that a candidate may not have wait for the next: so a candidate who is
added at the end changes nobody's.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from math import gcd
from typing import Protocol

from sheetgen.sets.papers.records import Candidate, Lot, Seat
from sheetgen.sets.papers.seats import beside

MOST_ALIKE = 0.25
"""Of the printed dimensions of two neighbours' problems, the fewer of both, that may be the same: same measure, same figures."""


TRIES = 1000
"""New lots that are looked at for one candidate: of the family whose variants are most alike one in a hundred will do."""


def allowed(one: Lot, other: Lot) -> bool:
    """Whether two neighbours may have these lots.

    >>> a, b = (Lot(0, "x", 1.0, (1, 1, 1), (("depth", "40"), ("width", w)), block=w.encode()) for w in ("50", "60"))
    >>> allowed(a, a), allowed(a, b)
    (False, False)
    """
    if one.family != other.family:
        return True
    if one.block == other.block:
        return False
    alike = len(one.printed & other.printed)
    return alike <= MOST_ALIKE * min(len(one.printed), len(other.printed))


class Pool(Protocol):
    """The lots of an item, in their order, as far as they are wanted."""

    def lots(self) -> Iterator[Lot]:
        """All that may be given, from the first on; each time the same."""

    def holds(self, lot: Lot) -> bool:
        """Whether a lot can be printed. It is asked only of one that would be given."""


class ShortError(Exception):
    """No lot is left that a candidate may have. ``item``: from 0; ``tried``: lots that were looked at."""

    def __init__(self, item: int, candidate: str, tried: int) -> None:
        super().__init__(item, candidate, tried)
        self.item, self.candidate, self.tried = item, candidate, tried


@dataclass(frozen=True, slots=True)
class Shared:
    """Lots that candidates share: which of them a candidate is to begin with, and by what step to go on, by the candidate's
    place in the list; both are the key's."""

    lots: Sequence[Lot]
    turn: Callable[[int], tuple[int, int]]

    def order(self, place: int) -> Iterator[Lot]:
        """All lots, as a candidate looks at them."""
        count = len(self.lots)
        start, step = self.turn(place)
        step = next(step for step in range(1 + step % count, 2 * count + 2) if gcd(step, count) == 1)
        for turn in range(count):
            yield self.lots[(start + turn * step) % count]


@dataclass
class _Own:
    """Lots of which each is given once: those that were passed over come first."""

    pool: Pool
    waiting: list[Lot] = field(default_factory=list)
    _left: list[Lot] = field(default_factory=list)
    _unseen: Iterator[Lot] | None = None

    def take(self, fits: Callable[[Lot], bool]) -> Lot | None:
        """The first that fits and can be printed; those that cannot are never looked at again."""
        passed, found = list[Lot](), None
        for lot in self._all():
            if not fits(lot):
                passed.append(lot)
            elif self.pool.holds(lot):
                found = lot
                break
        self.waiting = [*passed, *self._left]
        return found

    def _all(self) -> Iterator[Lot]:
        """Those that wait, then those that nobody has looked at."""
        self._left, waiting = [], self.waiting
        for number, lot in enumerate(waiting, 1):
            self._left = waiting[number:]
            yield lot
        self._left = []
        if self._unseen is None:
            self._unseen = self.pool.lots()
        for _ in range(TRIES):
            if (unseen := next(self._unseen, None)) is None:
                return
            yield unseen


def form_of(seat: Seat, forms: int) -> int:
    """Which of an item's forms, from 0, belongs to a seat: with four or more, no two of the eight neighbours' are the same; with
    two, no two in a row; with three, only those at a corner may be.

    >>> [[form_of(Seat("", row, column), 4) for column in (1, 2, 3)] for row in (1, 2)]
    [[3, 2, 3], [1, 0, 1]]
    """
    colour = seat.row % 2 * 2 + seat.column % 2
    fitting = [form for form in range(forms) if form % 4 == colour] or [colour % forms]
    return fitting[(seat.row // 2 + seat.column // 2) % len(fitting)]


def assigned(candidates: Sequence[Candidate], pools: Sequence[Sequence[Pool | Shared]]) -> Mapping[str, tuple[Lot, ...]]:
    """Give every candidate a lot of each item: none that is a neighbour's or much like it, none twice. ``pools``: of each item
    one for every form that it has.

    Raises: ShortError.
    """
    around = beside(candidates)
    own = [[pool if isinstance(pool, Shared) else _Own(pool) for pool in forms] for forms in pools]
    given: dict[str, tuple[Lot, ...]] = {}
    for candidate in candidates:
        near = [lot for other in around[candidate.number] for lot in given.get(other, ())]
        mine: list[Lot] = []
        for item, forms in enumerate(own):
            pool = forms[form_of(candidate.seat, len(forms))]
            lot = _taken(pool, candidate.place, near, mine)
            if lot is None:
                raise ShortError(item, candidate.number, len(pool.lots if isinstance(pool, Shared) else pool.waiting))
            mine.append(lot)
        given[candidate.number] = tuple(mine)
    return given


def fits(lot: Lot, near: Iterable[Lot], mine: Iterable[Lot]) -> bool:
    """Whether a candidate may have a lot who has ``mine`` of other items, beside neighbours who have ``near``."""
    return all(allowed(lot, other) for other in near) and all(lot.block != other.block for other in mine)


def _taken(pool: _Own | Shared, place: int, near: Sequence[Lot], mine: Sequence[Lot]) -> Lot | None:
    if isinstance(pool, Shared):
        return next((lot for lot in pool.order(place) if fits(lot, near, mine)), None)
    return pool.take(lambda lot: fits(lot, near, mine))


def broken(candidates: Sequence[Candidate], lots: Mapping[str, Sequence[Lot]]) -> Iterator[tuple[str, str, int]]:
    """The rule for neighbours, looked at from outside: pairs of candidates, and the item (from 1) in which they break it."""
    for number, others in beside(candidates).items():
        for other in others:
            if number < other:
                for item, lot in enumerate(lots[number], 1):
                    if not all(allowed(lot, theirs) for theirs in lots[other]):
                        yield number, other, item
