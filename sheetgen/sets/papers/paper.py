"""A paper made: plan, bank and key in; who gets what, the books and the record out."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from concurrent.futures import Executor
from dataclasses import replace

from sheetgen.bank import Bank, BankError, Family, Form
from sheetgen.codes import WIDEST
from sheetgen.exercises import ASKED, Particulars, Role, block_faults, check_seed
from sheetgen.exercises.marking import Marking
from sheetgen.faults import Fault, FaultError
from sheetgen.sets.classes import Cells, Student
from sheetgen.sets.papers.assigning import form_of
from sheetgen.sets.papers.cells import Numberer, impersonal, item_settings
from sheetgen.sets.papers.decided import code_of
from sheetgen.sets.papers.equal import reached
from sheetgen.sets.papers.families import families_of
from sheetgen.sets.papers.lots import Slot, Variant, drawn, masked, measured, shape_digest
from sheetgen.sets.papers.pools import MOST_MEASURED, Pools
from sheetgen.sets.papers.records import Assignment, Candidate, Item, Lot, PaperPlan, Reached
from sheetgen.sets.papers.secret import Key
from sheetgen.sets.run import MARK, Run, digest_of, program_parts
from sheetgen.sets.shelf import Shelf
from sheetgen.sets.workers import results
from sheetgen.sheet import Settings
from sheetgen.templating import load_marking
from sheetgen.templating.marking import USUAL_SCHEME


class Paper:
    """A paper that is being made. ``mark``: what all its files carry; ``remarks``: of names that are not printed as they are
    written."""

    def __init__(self, plan: PaperPlan, bank: Bank, settings: Settings, key: Key, version: str) -> None:
        """Look at everything that can be wrong before anything is measured.

        Raises: BankError for families at fault; CellsError, TemplateError or BlocksError for what title blocks cannot hold;
        TemplateError for the marking template.
        """
        self.plan, self.settings, self._key, self.version = plan, settings, key, version
        self.name = name_of(plan)
        self.families = _families(plan, bank)
        self.scheme = load_marking(plan.scheme or USUAL_SCHEME) if plan.marked else None
        chosen = families_of(plan, self.families, key, self.name, settings)
        self.slots = tuple(self._slot(item, number, form) for item, forms in zip(plan.items, chosen, strict=True)
                           for number, form in enumerate(forms))
        self.shapes = {str(slot.form): shape_digest(slot.family) for slot in self.slots}
        _try_blocks(self.slots)
        numberer = Numberer(plan, settings, plan.list_file or plan.file)
        self.cells: Mapping[str, Cells] = numberer.cells(plan.candidates)
        self.remarks = tuple(numberer.remarks)
        decides = (version, self.name, [(slot.item.number, slot.item.kind, slot.family) for slot in self.slots],
                   [slot.own for slot in self.slots], plan.bounds)
        self.mark = key.digest("mark", digest_of(decides)).hex()[:MARK]

    def _slot(self, item: Item, number: int, form: Form) -> Slot:
        family, own = form.of(self.families[form.family]), item_settings(self.settings, self.plan, item)
        shown = masked(family, self.plan.title, own.wording.render("paper.item", item=item.number))
        marking = Marking.of(item.marks, self.scheme) if self.scheme else None
        more = ((Role.MARKING, self.plan.marked), (Role.OVERLAY, self.plan.overlaid))
        roles = (*ASKED, *(role for role, asked in more if asked))
        return Slot(item, number, form, family, shown, len(self.plan.items), own, impersonal(own), roles, marking)

    def run(self, wanted: object = None) -> Run:
        """The run in which it is made; ``wanted``: what of it, if not all."""
        marked = [(slot.marking, slot.roles) for slot in self.slots]
        return Run(self.mark, digest_of((self.mark, self._key.digest("run", self.mark).hex(), wanted, marked, program_parts())))

    def code(self, candidate: Candidate, item: int, index: int, spare: int = 0) -> str:
        """The code of a candidate's item (from 0), which is the lot at ``index``; of a spare, if it is of one."""
        slot = self.slots[self.slots_of(candidate)[item]]
        return code_of(self._key, self.name, item + 1, slot.item.kind, str(slot.form), self.shapes[str(slot.form)], index,
                       candidate.number, spare)

    def reached(self, assignment: Assignment, pools: Pools) -> list[Reached]:
        """What it comes to in all that is bounded."""
        return list(reached(self.plan.items, assignment, pools.middles, self.plan.bounds))

    def slots_of(self, candidate: Candidate) -> list[int]:
        """Which slot each of a candidate's items is of, by its place: that of the form that belongs to the seat."""
        its = [[number for number, slot in enumerate(self.slots) if slot.item == item] for item in self.plan.items]
        return [numbers[form_of(candidate.seat, len(numbers))] for numbers in its]

    def number(self, index: int, slot: int, spare: int) -> int:
        """Where a lot's sheets stand on the shelf; ``spare``: which sequence of spares it is of, 0: of none."""
        return (spare * MOST_MEASURED + index) * len(self.slots) + slot + 1

    def student(self, candidate: Candidate) -> Student:
        """A candidate as the books of a class know a student."""
        return Student(candidate.line, candidate.place, candidate.name, candidate.number, "", candidate.seat.place,
                       candidate.seat.room)


class PaperMaker:
    """Measures and draws a paper's lots, and puts their sheets on the ``shelf``; what stands there already is not drawn again.
    ``ready`` is called for each lot that is."""

    def __init__(
        self, paper: Paper, shelf: Shelf, executor: Executor | None = None, ready: Callable[[], None] = lambda: None
    ) -> None:
        self.paper, self.shelf, self.executor, self._ready = paper, shelf, executor, ready
        self.pools = Pools(paper.plan, paper.slots, paper.name, paper._key, self._measure, self._draw)

    @property
    def refused(self) -> int:
        """How many lots could not be given."""
        return sum(map(len, self.refusals()))

    def assign(self, candidates: Sequence[Candidate]) -> Assignment:
        """Who gets what of some of the candidates, the first ones of the list. Raises: PaperError."""
        self.pools.settle()
        return Assignment(self.pools.assign(candidates))

    def lots_of(self, candidate: Candidate, indices: Sequence[int], spare: int = 0) -> tuple[Lot, ...]:
        """What is measured of the lots that a candidate has got, or has in a spare."""
        lots = list(self._measure(self._variants(candidate, indices, spare)))
        assert all(lots), "a lot that was printed makes a problem"
        return tuple(lot for lot in lots if lot)

    def draw(self, candidate: Candidate, indices: Sequence[int], spare: int = 0) -> None:
        """See to it that the sheets of a candidate are on the shelf."""
        held = list(self._draw(self._variants(candidate, indices, spare)))
        assert None not in held, "a lot that was printed can be printed"

    def refusals(self) -> list[list[int]]:
        """Of each slot, the indices that could not be given."""
        return [sorted(index for index, holds in lots.drawn.items() if not holds) for lots in self.pools.sequences]

    def _variants(self, candidate: Candidate, indices: Sequence[int], spare: int) -> list[Variant]:
        slots = self.paper.slots_of(candidate)
        sequences = [self.pools.spares_of(slot, candidate, spare) if spare else self.pools.sequences[slot] for slot in slots]
        return [lots.variant(index) for lots, index in zip(sequences, indices, strict=True)]

    def _measure(self, variants: Sequence[Variant]) -> Iterable[Lot | None]:
        return results(measured, self.paper.slots, variants, self.executor)

    def _draw(self, variants: Sequence[Variant]) -> Iterator[int | None]:
        """Draw those that are not on the shelf."""
        numbers = [self.paper.number(variant.index, variant.slot, variant.spare) for variant in variants]
        there = [self.shelf.get(number) for number in numbers]
        todo = [variant for variant, kept in zip(variants, there, strict=True) if kept is None]
        made, found = iter(results(drawn, self.paper.slots, todo, self.executor)), list[int | None]()
        for number, kept in zip(numbers, there, strict=True):
            one = next(made) if kept is None else None
            if one is not None:
                kept = self.shelf.put(number, one)
            self._ready()
            found.append(kept.marked if kept else None)
        return iter(found)


def name_of(plan: PaperPlan) -> str:
    """What tells a paper from others of the same key: title, date, and the series if the plan says one."""
    return digest_of(("paper", plan.title, plan.date, *([plan.series] if plan.series else [])))


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
        faults.update(dict.fromkeys(block_faults(slot.shown, 0, slot.own, slot.roles, slot.item.kind, said)))
    if faults:
        raise BlocksError(faults)
