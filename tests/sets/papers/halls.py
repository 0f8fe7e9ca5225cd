"""Halls and lots for tests: rooms of random shape, and lots of an invented family of which nothing is drawn."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from random import Random

from hypothesis import strategies as st

from sheetgen.sets.papers.records import Candidate, Lot, Room

MEASURES = tuple(f"base.left to step-{n}.left" for n in range(8))


@st.composite
def rooms(draw, most=8):
    """One to three rooms with gaps, each with a seat at least."""
    found = []
    for number in range(draw(st.integers(1, 3))):
        rows, columns = draw(st.integers(1, most)), draw(st.integers(1, most))
        places = [(row, column) for row in range(1, rows + 1) for column in range(1, columns + 1)]
        gaps = draw(st.sets(st.sampled_from(places), max_size=len(places) - 1))
        found.append(Room(f"Room {number}", rows, columns, frozenset(gaps)))
    return tuple(found)


def seated(rooms, count=None) -> tuple[Candidate, ...]:
    """Candidates on the first seats of some rooms, or on all."""
    seats = [seat for room in rooms for seat in room.seats()]
    return tuple(Candidate(str(100 + n), seat, n) for n, seat in enumerate(seats[:count], 1))


def lot(index: int, texts, family="step") -> Lot:
    """A lot with these figures."""
    dimensions = tuple(zip(MEASURES, texts, strict=False))
    return Lot(index, family, 1.0, (10, 2, 1), dimensions, f"{family} {' '.join(texts)}".encode())


@dataclass
class Drum:
    """A pool without end: of each index a lot with figures drawn at random from so many ``values``; ``refused``: those that
    cannot be printed; ``asked``: for which it was asked whether they can."""

    seed: int
    values: int = 12
    family: str = "step"
    refused: frozenset[int] = frozenset()
    most: int = 20_000
    asked: list[int] = field(default_factory=list)

    def lots(self) -> Iterator[Lot]:
        seen = set()
        for index in range(self.most):
            random = Random(f"{self.seed}/{self.family}/{index}")
            found = lot(index, [str(random.randrange(self.values)) for _ in MEASURES], self.family)
            if found.block not in seen:
                seen.add(found.block)
                yield found

    def holds(self, lot: Lot) -> bool:
        self.asked.append(lot.index)
        return lot.index not in self.refused
