"""What a paper is made of: plain records, without anything of files, of ink or of the key.

A paper (an examination) has items, each a problem of which every candidate gets a variant of their own. A variant that may be
printed is a *lot*; the lots of an item are its pool, and each candidate is given one of every pool. Lots are told by their place
in a sequence that only the key can make again, so these records give no sheet away.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from pathlib import Path

from sheetgen.exercises import USUAL
from sheetgen.faults import Fault, Place
from sheetgen.sheet import Style

Dimension = tuple[str, str]
"""A dimension as it is printed: the measure by its ends (``base.left to slot.left``), and its figures (``42``)."""

LINES = ("visible", "hidden", "centre")
"""Kinds of lines that are counted, in the views that the paper asks for."""


@dataclass(frozen=True, slots=True, order=True)
class Seat:
    """A seat: ``room`` by its name, ``row`` and ``column`` from 1; row 1 is the front row, column 1 at its left as the candidates
    look."""

    room: str
    row: int
    column: int

    @property
    def place(self) -> str:
        """Where in its room, as plans and class lists write it.

        >>> Seat("Hall", 3, 4).place
        '3-4'
        """
        return f"{self.row}-{self.column}"


@dataclass(frozen=True, slots=True)
class Room:
    """A room with seats in rows and columns. ``gaps``: (row, column) of places where there is no seat: a pillar, an aisle, a wall
    that is not straight. A gap keeps its place, so who sits beyond it is no neighbour."""

    name: str
    rows: int
    columns: int
    gaps: frozenset[tuple[int, int]] = frozenset()

    def seats(self) -> Iterator[Seat]:
        """Its seats, row by row from the front, each row from the left."""
        for row in range(1, self.rows + 1):
            for column in range(1, self.columns + 1):
                if (row, column) not in self.gaps:
                    yield Seat(self.name, row, column)

    @property
    def count(self) -> int:
        """How many seats it has."""
        return self.rows * self.columns - len(self.gaps)


@dataclass(frozen=True, slots=True)
class Candidate:
    """Who sits the paper. ``number``: unique in the paper, letters, digits and hyphens; ``name``: empty if the plan gives none;
    ``line``: of the class list, 0 if there is none; ``place``: in the list, from 1."""

    number: str
    seat: Seat
    place: int
    name: str = ""
    line: int = 0


@dataclass(frozen=True, slots=True)
class Bounds:
    """How far the lots of an item may lie from its middle, each way: the difficulty's ``index``, the ``lines`` of each kind, the
    printed ``dimensions``."""

    index: float = 0.3
    lines: int = 2
    dimensions: int = 1


@dataclass(frozen=True, slots=True)
class Item:
    """One problem of a paper. ``number`` from 1, in the order of the sheets; ``families``: those that it may be of: one that is
    named, or all of the ``topics`` and ``rungs`` that are wished for, of which the key chooses; ``forms``: in how many
    forms its lots are: of so many different families, or of one that is named in so many options and hands (1: all candidates get
    one family, with sizes of their own); ``pool``: how many lots are shared by all
    candidates (0: as many as there are candidates, each their own); ``minutes``: 0 if the plan says none; ``place``: its line in
    the plan."""

    number: int
    families: tuple[str, ...]
    marks: int
    kind: str = USUAL
    minutes: int = 0
    topics: tuple[str, ...] = ()
    rungs: tuple[int, ...] = ()
    forms: int = 1
    pool: int = 0
    place: Place | None = None


@dataclass(frozen=True, slots=True)
class PaperPlan:
    """A paper to be made. ``date``, ``board``, ``instructions``: as the plan writes them, for the cover sheet; ``minutes``: of
    the whole paper; ``named``: whether candidates' names are printed; ``text``: of the plan's file, for the record; ``listed``:
    the bytes of the class list, empty if there is none; ``books``: what a file holds (None: whole, or parted if it is large);
    ``places``: where fields of the plan stand, by name; ``remarks``: what had better be changed in the file; ``covered``: whether
    each candidate's questions have a cover; ``list_file``: the class list, as messages call it;
    ``marked``: whether there is a marking sheet for each question, by the marking template ``scheme`` (as of ``load_marking``;
    None for the usual); ``overlaid``: whether there are overlays; ``by_item``: whether the books for markers have all
    candidates' first item together, then the second …; ``series``: what tells it from papers of the same title and date."""

    title: str
    style: Style
    items: tuple[Item, ...]
    rooms: tuple[Room, ...]
    candidates: tuple[Candidate, ...]
    bounds: Bounds = Bounds()
    minutes: int = 0
    named: bool = True
    board: str = ""
    date: str = ""
    instructions: tuple[str, ...] = ()
    file: str = ""
    text: str = ""
    listed: bytes = b""
    books: str | None = None
    double_sided: bool = False
    places: Mapping[str, Place] = field(default_factory=dict)
    remarks: tuple[Fault, ...] = ()
    covered: bool = True
    list_file: str = ""
    marked: bool = False
    scheme: str | Path | None = None
    overlaid: bool = False
    by_item: bool = False
    series: str = ""

    @property
    def marks(self) -> int:
        """Of all items together."""
        return sum(item.marks for item in self.items)


@dataclass(frozen=True)
class Lot:
    """One variant that may be printed. ``index``: its place in the sequence that the key makes for its item (spares have
    sequences of their own); ``difficulty``: its index; ``lines``: of each kind of LINES, in the views asked for;
    ``dimensions``: all that are printed; ``block``: digest of family and sizes, the same for the same block; ``form``: which of
    its family's, in words, empty where there is one."""

    index: int
    family: str
    difficulty: float
    lines: tuple[int, ...]
    dimensions: tuple[Dimension, ...]
    block: bytes = field(default=b"", repr=False)
    form: str = ""

    @cached_property
    def printed(self) -> frozenset[Dimension]:
        """Its dimensions, to be compared with those of another."""
        return frozenset(self.dimensions)

    def quantities(self) -> dict[str, float]:
        """What is bounded, by name.

        >>> Lot(0, "stepped-block", 1.5, (20, 3, 2), (("depth", "40"),)).quantities()["hidden"]
        3
        """
        return {"index": self.difficulty, **dict(zip(LINES, self.lines, strict=True)), "dimensions": len(self.dimensions)}


@dataclass(frozen=True, slots=True)
class Spare:
    """The ``number``-th set of other sheets for a candidate (from 1), for sheets that were spoilt: a lot for every item."""

    candidate: str
    number: int
    lots: tuple[Lot, ...]


@dataclass(frozen=True, slots=True)
class Assignment:
    """Who gets what: to the number of each candidate, in the order of the list, a lot for every item in the order of the paper;
    and the spares that were printed."""

    lots: Mapping[str, tuple[Lot, ...]]
    spares: tuple[Spare, ...] = ()

    def of_item(self, number: int) -> Sequence[Lot]:
        """The lots of an item (from 1), in the order of the candidates."""
        return [lots[number - 1] for lots in self.lots.values()]


@dataclass(frozen=True, slots=True)
class Reached:
    """What a paper comes to in one thing that is bounded: ``quantity`` of an item (as of ``Lot.quantities``), how far from the
    ``middle`` it may lie (``bound``, each way), and the ``least`` and ``greatest`` over all candidates."""

    item: int
    quantity: str
    middle: float
    bound: float
    least: float
    greatest: float
