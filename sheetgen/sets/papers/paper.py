"""A paper made: plan, bank and key in; who gets what, the books and the record out."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from concurrent.futures import Executor
from dataclasses import replace

from sheetgen.bank import Bank, BankError, Family
from sheetgen.codes import WIDEST, sealed_code
from sheetgen.exercises import ASKED, Particulars, Role, block_faults, check_seed
from sheetgen.faults import Fault, FaultError
from sheetgen.sets.classes import Cells, Student
from sheetgen.sets.papers.cells import Numberer, impersonal, item_settings
from sheetgen.sets.papers.equal import reached
from sheetgen.sets.papers.lots import Slot, Variant, drawn, masked, measured
from sheetgen.sets.papers.pools import MOST_MEASURED, Pools
from sheetgen.sets.papers.records import Assignment, Candidate, Item, Lot, PaperPlan, Reached, Spare
from sheetgen.sets.papers.secret import Key
from sheetgen.sets.run import MARK, Run, digest_of, program_parts
from sheetgen.sets.shelf import Shelf
from sheetgen.sets.workers import results
from sheetgen.sheet import Settings


class Paper:
    """A paper that is being made. ``mark``: what all its files carry; ``remarks``: of names that are not printed as they are
    written."""

    def __init__(self, plan: PaperPlan, bank: Bank, settings: Settings, key: Key, version: str) -> None:
        """Look at everything that can be wrong before anything is measured.

        Raises: BankError for families at fault; CellsError, TemplateError or BlocksError for what title blocks cannot hold.
        """
        self.plan, self.settings, self._key, self.version = plan, settings, key, version
        self.name = digest_of(("paper", plan.title, plan.date))
        self.families = _families(plan, bank)
        self.slots = tuple(self._slot(item, form, name) for item in plan.items for form, name in enumerate(self.chosen(item)))
        _try_blocks(self.slots)
        numberer = Numberer(plan, settings, plan.file)
        self.cells: Mapping[str, Cells] = numberer.cells(plan.candidates)
        self.remarks = tuple(numberer.remarks)
        decides = (version, plan.title, plan.date, [(slot.item.number, slot.item.kind, slot.family) for slot in self.slots],
                   [slot.own for slot in self.slots], plan.bounds)
        self.mark = key.digest("mark", digest_of(decides)).hex()[:MARK]

    def chosen(self, item: Item) -> tuple[str, ...]:
        """The families of an item: of those that are wished for the key takes as many as there are forms, others for each
        item as far as there are others."""
        before = {name for other in self.plan.items if other.number < item.number for name in self._order(other)[:other.forms]}
        order = self._order(item)
        return tuple([name for name in order if name not in before][:item.forms] or order[:item.forms])

    def _order(self, item: Item) -> Sequence[str]:
        return sorted(item.families, key=lambda name: self._key.digest("family", self.name, item.number, name))

    def _slot(self, item: Item, form: int, name: str) -> Slot:
        family, own = self.families[name], item_settings(self.settings, self.plan, item)
        shown = masked(family, self.plan.title, own.wording.render("paper.item", item=item.number))
        return Slot(item, form, family, shown, len(self.plan.items), own, impersonal(own))

    def run(self, wanted: object = None) -> Run:
        """The run in which it is made; ``wanted``: what of it, if not all."""
        return Run(self.mark, digest_of((self.mark, self._key.digest("run", self.mark).hex(), wanted, program_parts())))

    def code(self, candidate: str, item: int, spare: int = 0) -> str:
        """The code of a candidate's item (from 1), or of that of a spare."""
        return sealed_code(self._key.digest("code", self.name, candidate, item, spare))

    def reached(self, assignment: Assignment, pools: Pools) -> list[Reached]:
        """What it comes to in all that is bounded."""
        return list(reached(self.plan.items, assignment, pools.middles, self.plan.bounds))

    def student(self, candidate: Candidate) -> Student:
        """A candidate as the books of a class know a student."""
        return Student(candidate.line, candidate.place, candidate.name, candidate.number, "", candidate.seat.place,
                       candidate.seat.room)


class PaperMaker:
    """Measures and draws a paper's lots, and puts their sheets on the ``shelf``; what stands there already is not drawn again.
    ``progress`` is told of each lot that is ready."""

    def __init__(self, paper: Paper, shelf: Shelf, executor: Executor | None = None) -> None:
        self.paper, self.shelf, self.executor = paper, shelf, executor
        self.refused = 0
        self.ready = 0
        self.pools = Pools(paper.plan, paper.slots, paper.name, paper._key, self._measure, self._draw)

    def assign(self, candidates: Sequence[Candidate]) -> Assignment:
        """Who gets what of some of the candidates, the first ones of the list. Raises: PaperError."""
        self.pools.settle()
        return Assignment(self.pools.assign(candidates))

    def number(self, lot: Lot, slot: int, spare: int = 0) -> int:
        """Where a lot's sheets stand on the shelf."""
        return (spare * MOST_MEASURED + lot.index) * len(self.paper.slots) + slot + 1

    def _measure(self, variants: Sequence[Variant]) -> Iterable[Lot | None]:
        return results(measured, self.paper.slots, variants, self.executor)

    def _draw(self, variants: Sequence[Variant]) -> Iterator[bool]:
        """Draw those that are not on the shelf."""
        numbers = [(variant.spare * MOST_MEASURED + variant.index) * len(self.paper.slots) + variant.slot + 1
                   for variant in variants]
        there = [self.shelf.get(number) is not None for number in numbers]
        made = results(drawn, self.paper.slots, [v for v, has in zip(variants, there, strict=True) if not has], self.executor)
        found = []
        for number, has in zip(numbers, there, strict=True):
            one = None if has else next(made)
            if one is not None:
                self.shelf.put(number, one)
            self.refused += not has and one is None
            self.ready += 1
            found.append(has or one is not None)
        return iter(found)


class BlocksError(FaultError):
    """Title blocks that cannot hold what they should."""


def _families(plan: PaperPlan, bank: Bank) -> Mapping[str, Family]:
    """The families that a paper may be of. Raises: BankError with all faults of those that are named."""
    families: dict[str, Family] = {}
    faults: list[Fault] = []
    for name in dict.fromkeys(name for item in plan.items for name in item.families):
        try:
            families[name] = bank[name]
            if any(item.families == (name,) for item in plan.items):
                check_seed(families[name], 0)
        except BankError as error:
            faults += error.faults
    if faults:
        raise BankError(faults)
    return families


def _try_blocks(slots: Sequence[Slot]) -> None:
    """Find out what the title blocks cannot hold, save what is a candidate's own. Raises: BlocksError, TemplateError."""
    faults: dict[Fault, None] = {}
    for slot in slots:
        _ = replace(slot.own).stationery
        said = Particulars(WIDEST, slot.item.number, slot.items)
        faults.update(dict.fromkeys(block_faults(slot.shown, 0, slot.own, ASKED, slot.item.kind, said)))
    if faults:
        raise BlocksError(faults)


def roles_wanted() -> tuple[Role, ...]:
    """The sheets of every item."""
    return ASKED
