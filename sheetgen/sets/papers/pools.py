"""The pools of a paper: which variants the key's sequence has, which of them may be given, and who gets which.

A lot is given as if all could be printed; those that are given are drawn; if one cannot be, all is given anew without it, until
what is given is drawn. That comes to the same as if every lot had been drawn before the first was given: a lot is asked whether
it can be printed only where it would be given, and the answer hangs on nothing but the lot. So the order of the work, and how
many share it, change nothing.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import islice

from sheetgen.faults import Fault, Place
from sheetgen.sets.papers.assigning import Pool, Shared, ShortError, assigned, fits, form_of
from sheetgen.sets.papers.decided import seed_of, shared_turn
from sheetgen.sets.papers.equal import FIRST, LEAST_SHARE, Middle, middle_of, missed, within, words_of
from sheetgen.sets.papers.forms import common_middle, family_middle
from sheetgen.sets.papers.lots import Slot, Variant
from sheetgen.sets.papers.plan import PaperError
from sheetgen.sets.papers.records import Bounds, Candidate, Dimension, Item, Lot, PaperPlan, Spare
from sheetgen.sets.papers.seats import beside
from sheetgen.sets.papers.secret import Key

Measuring = Callable[[Sequence[Variant]], Iterable[Lot | None]]
"""Measures variants, several at a time."""

Drawing = Callable[[Sequence[Variant]], Iterable[int | None]]
"""Draws variants, and tells of each for how many blemishes a strict reader would send it back; None: it cannot be printed."""

CHUNK = 32
"""Variants that are measured at a time."""

MOST_MEASURED = 20_000
"""Variants of one family that are looked at before it is said to have too few."""

SPENT = 400
"""Variants, one after another, that give nothing new: then a family is said to have no more."""

PROBED, LEAST_CLEAN = 8, 2
"""Of the first lots of a slot so many are drawn to see whether there are enough that no strict reader would send back; if so, no
others are given. Three of four variants of the bank are such (see ``exercises/making.py``)."""

SPARES = 99
"""Sets of other sheets that a candidate can have."""


def spare_id(candidate: Candidate, number: int) -> int:
    """What tells the sequences of spares from each other; none has 0."""
    return candidate.place * (SPARES + 1) + number


class Lots:
    """The lots of one slot in the order of a sequence of the key's, of which ``seed_of`` gives the seeds: those that lie within
    the bounds, each block once. ``clean``: whether only those are given that no strict reader would send back; ``drawn``: of each
    index whether it can be given, as far as that is known; ``wanted``: those that were given without its being known."""

    def __init__(
        self, seed_of: Callable[[int], int], slot: int, measure: Measuring, middle: Middle | None, bounds: Bounds, spare: int = 0
    ) -> None:
        self._seed_of, self._slot, self._measure, self._spare = seed_of, slot, measure, spare
        self.middle, self._bounds = middle, bounds
        self._measured: list[Lot | None] = []
        self._lots: list[Lot] = []
        self._blocks: set[bytes] = set()
        self._known: dict[Dimension, Dimension] = {}
        self._seen = self._last_new = 0
        self.clean = False
        self.drawn: dict[int, bool] = {}
        self.wanted: set[int] = set()

    def first(self, count: int) -> list[Lot]:
        """What is measured of the first ``count`` variants, whatever the bounds."""
        while len(self._measured) < count:
            self._more()
        return [lot for lot in self._measured[:count] if lot is not None]

    def variant(self, index: int) -> Variant:
        """The variant of a place in the sequence."""
        return Variant(self._slot, index, self._seed_of(index), self._spare)

    def lot(self, index: int) -> Lot | None:
        """What is measured of one place."""
        while len(self._measured) <= index and len(self._measured) < MOST_MEASURED:
            self._more()
        return self._measured[index] if index < len(self._measured) else None

    def lots(self) -> Iterator[Lot]:
        """All that may be given, from the first on."""
        place = 0
        while True:
            while place < len(self._lots):
                place += 1
                yield self._lots[place - 1]
            if not self._sift():
                return

    def takes(self, marked: int | None) -> bool:
        """Whether a lot that was drawn, with so many blemishes, can be given."""
        return marked is not None and not (self.clean and marked)

    def holds(self, lot: Lot) -> bool:
        """Whether a lot can be given; where that is not known yet, it is wanted, and held to be so."""
        if lot.index not in self.drawn:
            self.wanted.add(lot.index)
        return self.drawn.get(lot.index, True)

    def _sift(self) -> bool:
        """Look at some more variants; False if there are none."""
        if self._seen >= MOST_MEASURED or self._seen - self._last_new >= SPENT:
            return False
        if self._seen >= len(self._measured):
            self._more()
        for lot in self._measured[self._seen:]:
            if lot and self.middle and lot.block not in self._blocks and within(lot, self.middle, self._bounds):
                self._blocks.add(lot.block)
                self._lots.append(lot)
                self._last_new = lot.index
        self._seen = len(self._measured)
        return True

    def _more(self) -> None:
        start = len(self._measured)
        found = self._measure([self.variant(index) for index in range(start, start + CHUNK)])
        self._measured += [lot and replace(lot, dimensions=tuple(self._known.setdefault(one, one) for one in lot.dimensions))
                           for lot in found]           # the same few texts, once: there are thousands of lots


class Pools:
    """The pools of all items of a paper, drawn from the ``key``. ``slots``: families by item and form; ``name``: what tells this
    paper from others of the same key."""

    def __init__(self, plan: PaperPlan, slots: Sequence[Slot], name: str, key: Key, measure: Measuring, draw: Drawing) -> None:
        self.plan, self.slots, self.name, self._key, self._measure, self._draw = plan, slots, name, key, measure, draw
        self.sequences = [self._sequence(number) for number in range(len(slots))]
        self.middles: list[Middle] = []
        self.rounds = 0

    def settle(self, clean: Sequence[bool] | None = None) -> None:
        """Find the middle of every item, and of every slot whether only clean lots are given; ``clean``: if that is known.
        Raises: PaperError naming each item whose bounds cannot be kept, and by how much."""
        faults = []
        self.middles = []
        for item in self.plan.items:
            its = self._of(item)
            first = [lot for number in its for lot in self.sequences[number].first(FIRST)]
            families = "; ".join(dict.fromkeys(str(self.slots[number].form) for number in its))
            if not first:
                faults.append(Fault(*_place(item, self.plan), f"item {item.number}, {families}: no variant that makes a problem",
                                    "another family; `sheetgen bank vet` tells what is wrong with it"))
                continue
            middle, share = middle_of(first, self.plan.bounds)
            if len(its) > 1:
                middle = common_middle([family_middle(self.sequences[number].first(FIRST)) for number in its])
            self.middles.append(middle)
            for number in its:
                self.sequences[number].middle = middle
                own = self.sequences[number].first(FIRST)
                share = min(share, sum(within(lot, middle, self.plan.bounds) for lot in own) / FIRST)
            if share < LEAST_SHARE:
                faults.append(self._unequal(item, families, first, share))
        if faults:
            raise PaperError(faults)
        for number, sequence in enumerate(self.sequences):
            sequence.clean = clean[number] if clean else self._probed(sequence)

    @property
    def clean(self) -> list[bool]:
        """Of each slot, whether only lots are given that no strict reader would send back."""
        return [sequence.clean for sequence in self.sequences]

    def _probed(self, sequence: Lots) -> bool:
        """Whether enough of a slot's first lots are such that no strict reader would send them back."""
        first = [sequence.variant(lot.index) for lot in islice(sequence.lots(), PROBED)]
        return sum(marked == 0 for marked in self._draw(first)) >= LEAST_CLEAN

    def assign(self, candidates: Sequence[Candidate]) -> Mapping[str, tuple[Lot, ...]]:
        """Give every candidate a lot of each item, and draw those that are given. Raises: PaperError."""
        while True:
            self.rounds += 1
            try:
                given = assigned(candidates, [[self._pool(number) for number in self._of(item)] for item in self.plan.items])
            except ShortError as short:                # told before anything is drawn: what cannot be printed leaves still fewer
                raise PaperError([self._short(short)]) from None
            if not self._refused_of_wanted():
                return given

    def spare(self, candidate: Candidate, number: int, given: Mapping[str, Sequence[Lot]], spares: Sequence[Spare]) -> Spare:
        """The ``number``-th set of other sheets for a candidate: within the same bounds, none of a neighbour's or much like it,
        nor like one of the candidate's own before. ``spares``: those that were printed. Raises: PaperError."""
        near = [lot for other in beside(self.plan.candidates)[candidate.number] for lot in given.get(other, ())]
        near += [lot for spare in spares if spare.candidate in beside(self.plan.candidates)[candidate.number]
                 for lot in spare.lots]
        own = [*given[candidate.number], *(lot for spare in spares if spare.candidate == candidate.number for lot in spare.lots)]
        lots: list[Lot] = []
        for item in self.plan.items:
            its = self._of(item)
            spare = self.spares_of(its[form_of(candidate.seat, len(its))], candidate, number)
            lot = next((lot for lot in spare.lots() if fits(lot, near, [*own, *lots]) and self._printable(spare, lot)), None)
            if lot is None:
                raise PaperError([self._short(ShortError(item.number - 1, candidate.number, MOST_MEASURED))])
            lots.append(lot)
        return Spare(candidate.number, number, tuple(lots))

    def spares_of(self, slot: int, candidate: Candidate, number: int) -> Lots:
        """The sequence that a spare of a candidate is found in."""
        sequence = self._sequence(slot, candidate, number)
        sequence.middle, sequence.clean = self.sequences[slot].middle, self.sequences[slot].clean
        return sequence

    def _printable(self, sequence: Lots, lot: Lot) -> bool:
        return all(sequence.takes(marked) for marked in self._draw([sequence.variant(lot.index)]))

    def _of(self, item: Item) -> list[int]:
        """The slots of an item, by their places."""
        return [number for number, slot in enumerate(self.slots) if slot.item.number == item.number]

    def _pool(self, number: int) -> Pool | Shared:
        sequence, item = self.sequences[number], self.slots[number].item
        if not item.pool:
            return sequence
        lots = list(islice((lot for lot in sequence.lots() if sequence.holds(lot)), item.pool))
        if len(lots) < item.pool:
            found = f"item {item.number}: {len(lots)} different variants within the bounds"
            raise PaperError([Fault(*_place(item, self.plan), found, f"`pool: {len(lots)}`, or a family with more sizes")])

        return Shared(lots, lambda place: shared_turn(self._key, self.name, number, place, len(lots)))

    def _refused_of_wanted(self) -> bool:
        """Draw what was given without its being known whether it can be; whether any of it cannot."""
        variants = [(sequence, index) for sequence in self.sequences for index in sorted(sequence.wanted)]
        found = self._draw([sequence.variant(index) for sequence, index in variants]) if variants else []
        refused = False
        for (sequence, index), marked in zip(variants, found, strict=True):
            sequence.drawn[index] = holds = sequence.takes(marked)
            refused |= not holds
        for sequence in self.sequences:
            sequence.wanted.clear()
        return refused

    def _sequence(self, slot: int, candidate: Candidate | None = None, spare: int = 0) -> Lots:
        item, form = self.slots[slot].item.number, str(self.slots[slot].form)

        def seed(index: int) -> int:
            return seed_of(self._key, self.name, item, form, index, candidate.number if candidate else "", spare)
        told = spare_id(candidate, spare) if candidate else 0
        return Lots(seed, slot, self._measure, None, self.plan.bounds, told)

    def _unequal(self, item: Item, families: str, first: Sequence[Lot], share: float) -> Fault:
        quantity, bound, needed, spread = missed(first, self.plan.bounds)
        found = (f"item {item.number}, {families}: of {len(first)} variants {share * 100:.0f} % lie within the bounds of one "
                 f"middle; {words_of(quantity)} spread over {spread:.4g}")
        return Fault(*_place(item, self.plan), found,
                     f"±{needed:.3g} where the bound is ±{bound:.3g}; or a family whose variants are more alike")

    def _short(self, short: ShortError) -> Fault:
        item = self.plan.items[short.item]
        found = (f"item {item.number}: no variant is left for candidate {short.candidate} that is neither a neighbour's nor "
                 f"shares more than a quarter of its dimensions with one, of {short.tried} that were free")
        return Fault(*_place(item, self.plan), found, "a family with more sizes, more seats between candidates, or a larger pool")


def _place(item: Item, plan: PaperPlan) -> Place:
    return item.place or Place(plan.file or "the paper", 0, f"items[{item.number}]")
