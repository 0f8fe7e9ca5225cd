"""A paper printed: all of it, one candidate's sheets again, or a spare of one. What is to be made in; files and record out."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from concurrent.futures import Executor
from dataclasses import dataclass, replace
from itertools import chain

from sheetgen.faults import Fault
from sheetgen.ink import Document
from sheetgen.sets.papers.books import PaperBooks, Printed
from sheetgen.sets.papers.equal import QUANTITIES
from sheetgen.sets.papers.equity import EquitySheets
from sheetgen.sets.papers.paper import Paper, PaperMaker
from sheetgen.sets.papers.plan import PaperError
from sheetgen.sets.papers.record import NAME, Given, Record, changes, record_text, same_sheets, tells_of
from sheetgen.sets.papers.records import Assignment, Candidate, Lot, Reached, Spare
from sheetgen.sets.papers.seating import SeatingSheets
from sheetgen.sets.papers.secret import Key
from sheetgen.sets.run import Run
from sheetgen.sets.shelf import Shelf

SEATING, EQUITY = "seating.pdf", "equity.pdf"


@dataclass(frozen=True)
class Made:
    """What came of it. ``files``: the books, each made when it is asked for; ``lists``: files that are no documents;
    ``record``: the new record, None if the old one stays; ``refused``: variants that could not be given."""

    files: Iterator[tuple[str, Document]]
    lists: Iterator[tuple[str, bytes]]
    record: bytes | None
    refused: int


class Printing:
    """What is to be printed of a ``paper``: all, or of the candidate called ``only``, or the ``spare``-th set of other sheets for
    that one. ``record``: of an earlier run, if there is one that the key has sealed."""

    def __init__(self, paper: Paper, key: Key, record: Record | None, only: str | None = None, spare: int = 0) -> None:
        """Raises: PaperError if no candidate is called so."""
        self.paper, self._key, self._spare = paper, key, spare
        self._record = record if record and record.paper == paper.name else None
        self._same = self._record is not None and same_sheets(self._record, paper, key)
        self._only = None if only is None else _called(only, paper)

    @property
    def changed(self) -> Sequence[str]:
        """What has changed since the earlier run of this paper, in words."""
        return list(changes(self._record, self.paper, self._key)) if self._record else []

    @property
    def lost_spares(self) -> int:
        """Spares of the earlier run that can no longer be printed as they were, and that a new record leaves out."""
        return len(self._record.spares) if self._record and not self._same and self._writes_record else 0

    @property
    def names(self) -> list[str]:
        """Of the files that there will be."""
        printed = [self._only] if self._only else self.paper.plan.candidates
        names = self._books([Printed(candidate, (), self._spare) for candidate in printed]).names
        office = [EQUITY] if self._spare else [] if self._only else [SEATING, EQUITY]
        return [*names, *office, *([NAME] if self._writes_record else [])]

    @property
    def run(self) -> Run:
        """By which work begun is known again."""
        return self.paper.run((self._only.number, self._spare) if self._only else None)

    @property
    def count(self) -> int:
        """About how many lots are to be drawn."""
        known = self._only and self._same
        return len(self.paper.plan.items) * (1 if known else len(self.paper.plan.candidates))

    def make(self, shelf: Shelf, executor: Executor | None = None, ready: Callable[[], None] = lambda: None) -> Made:
        """Find out who gets what, and draw it; ``ready`` is called for each lot that is. Raises: PaperError."""
        maker = PaperMaker(self.paper, shelf, executor, ready)
        if self._only is None:
            return self._whole(maker)
        if self._spare:
            return self._spared(maker, self._only)
        given = self._known(self._only.place)
        if given is None:
            found = maker.assign(self.paper.plan.candidates[:self._only.place])
            given = _indices(found.lots)
        return self._finished(maker, [Printed(self._only, given[self._only.number])], None)

    def _whole(self, maker: PaperMaker) -> Made:
        paper = self.paper
        assignment = maker.assign(paper.plan.candidates)
        spares = self._spares_before(maker)
        assignment = replace(assignment, spares=spares)
        reached = paper.reached(assignment, maker.pools)
        record = record_text(paper, self._key, _indices(assignment.lots),
                             {(one.candidate, one.number): tuple(lot.index for lot in one.lots) for one in spares},
                             maker.refusals(), maker.pools.clean, reached)
        made = self._finished(maker, [Printed(one, tuple(lot.index for lot in assignment.lots[one.number]))
                                      for one in paper.plan.candidates], record)
        return replace(made, files=chain(made.files, self._for_the_office(assignment, reached)))

    def _for_the_office(self, assignment: Assignment, reached: Sequence[Reached]) -> Iterator[tuple[str, Document]]:
        """Where candidates sit, for who watches over the paper, and how even it is, for the board."""
        plan, settings, mark = self.paper.plan, self.paper.settings, self.paper.mark
        yield SEATING, SeatingSheets(plan, settings, mark).document
        yield self._even(assignment, reached)

    def _even(self, assignment: Assignment, reached: Sequence[Reached]) -> tuple[str, Document]:
        paper = self.paper
        return EQUITY, EquitySheets(paper.plan, assignment, reached, paper.settings, paper.mark).document

    def _spares_before(self, maker: PaperMaker) -> tuple[Spare, ...]:
        """The spares that the earlier record has, if they are still the same."""
        if not self._record or not self._same:
            return ()
        by_number = {one.number: one for one in self.paper.plan.candidates}
        return tuple(Spare(number, spare, maker.lots_of(by_number[number], lots, spare))
                     for (number, spare), lots in self._record.spares.items() if number in by_number)

    def _spared(self, maker: PaperMaker, candidate: Candidate) -> Made:
        """A spare; the record then tells of it."""
        paper, everyone = self.paper, len(self.paper.plan.candidates)
        given, before = self._known(everyone), dict[tuple[str, int], tuple[int, ...]]()
        told = given is not None
        lots: Mapping[str, Sequence[Lot]]
        if given is None:
            assignment = maker.assign(paper.plan.candidates)
            given, lots = _indices(assignment.lots), assignment.lots
            reached = paper.reached(assignment, maker.pools)
            refused = maker.refusals()
        else:
            assert self._record is not None
            maker.pools.settle(self._record.clean)
            lots = _Measured(maker, given, paper)
            before = dict(self._record.spares)
            reached = [Reached(**one) for one in self._record.said["reached"]]
            refused = self._record.refused
        earlier = list(reached)
        if (candidate.number, self._spare) not in before:
            known = [Spare(number, spare, maker.lots_of(_called(number, paper), some, spare))
                     for (number, spare), some in before.items()]
            spare = maker.pools.spare(candidate, self._spare, lots, known)
            before[candidate.number, self._spare] = tuple(lot.index for lot in spare.lots)
            reached = _widened(reached, spare)
        record = record_text(paper, self._key, given, before, refused, maker.pools.clean, reached)
        made = self._finished(maker, [Printed(candidate, before[candidate.number, self._spare], self._spare)], record)
        if told and list(reached) == earlier:
            return made                                # no page of it says anything else than before
        found = Assignment({one.number: tuple(lots[one.number]) for one in paper.plan.candidates})
        return replace(made, files=chain(made.files, [self._even(found, reached)]))

    def _finished(self, maker: PaperMaker, printed: Sequence[Printed], record: bytes | None) -> Made:
        """The books, once their sheets are on the shelf."""
        if self._only:
            maker.draw(self._only, printed[0].lots, self._spare)
        books = self._books(printed)
        return Made(books.files(maker), books.lists(), record, maker.refused)

    def _known(self, place: int) -> Given | None:
        """Who got what of the first ``place`` candidates, if the record tells it and nothing has changed that decides it."""
        if self._record and self._same and tells_of(self._record, self.paper, place):
            return self._record.given
        return None

    def _books(self, printed: Sequence[Printed]) -> PaperBooks:
        return PaperBooks(self.paper, printed, alone=self._only is not None)

    @property
    def _writes_record(self) -> bool:
        return self._only is None or bool(self._spare)


class _Measured(Mapping[str, Sequence[Lot]]):
    """Lots by candidate, measured when they are asked for."""

    def __init__(self, maker: PaperMaker, given: Given, paper: Paper) -> None:
        self._maker, self._given, self._paper = maker, given, paper

    def __getitem__(self, number: str) -> Sequence[Lot]:
        return self._maker.lots_of(_called(number, self._paper), self._given[number])

    def __iter__(self) -> Iterator[str]:
        return iter(self._given)

    def __len__(self) -> int:
        return len(self._given)


def _called(number: str, paper: Paper) -> Candidate:
    """The candidate of that number. Raises: PaperError."""
    found = next((one for one in paper.plan.candidates if one.number.casefold() == number.strip().casefold()), None)
    if found is None:
        raise PaperError([Fault(paper.plan.file, 0, "candidates", f"no candidate {number[:40]!r}", "a number of the list")])
    return found


def _indices(lots: Mapping[str, Sequence[Lot]]) -> Given:
    return {number: tuple(lot.index for lot in some) for number, some in lots.items()}


def _widened(reached: Sequence[Reached], spare: Spare) -> list[Reached]:
    """What was reached, with a spare too."""
    assert len(reached) == len(QUANTITIES) * len(spare.lots)
    values = {(item, name): value for item, lot in enumerate(spare.lots, 1) for name, value in lot.quantities().items()}
    return [replace(one, least=min(one.least, values[one.item, one.quantity]),
                    greatest=max(one.greatest, values[one.item, one.quantity])) for one in reached]

