"""Sixty halls of random shape, with variants of each candidate's own and with shared pools: the rule for neighbours and the
bounds are kept in each, measured from outside. Nothing is drawn."""

from __future__ import annotations

from dataclasses import replace
from random import Random

import pytest

from sheetgen.bank import Form, load_bank
from sheetgen.sets.papers.lots import Slot
from sheetgen.sets.papers.pools import Pools
from sheetgen.sets.papers.records import Bounds, Item, Lot, PaperPlan, Room
from sheetgen.sets.papers.secret import Key
from sheetgen.sheet import Style, settings_of
from tests.sets.papers.halls import MEASURES, seated

HALLS = 60
FAMILY = load_bank()["stepped-block"]
SETTINGS = settings_of(Style())


def hall(chance: Random) -> list[Room]:
    """One or two rooms with aisles and pillars."""
    rooms = []
    for number in range(chance.randint(1, 2)):
        rows, columns = chance.randint(1, 9), chance.randint(1, 9)
        places = [(row, column) for row in range(1, rows + 1) for column in range(1, columns + 1)]
        aisle = chance.randint(1, 2 * columns)
        gaps = {place for place in places if place[1] == aisle or chance.random() < 0.1} - {places[chance.randrange(len(places))]}
        rooms.append(Room(f"Room {number}", rows, columns, frozenset(gaps if len(gaps) < len(places) else ())))
    return rooms


def measure(variants):
    """Lots that differ in all that is bounded, some far beyond the bounds, as digits of their seeds."""
    for one in variants:
        digits = Random(one.seed)
        figures = [str(digits.randrange(9)) for _ in range(len(MEASURES) - (one.seed % 3 == 0))]
        lines = (20 + digits.randint(-3, 3), 4 + digits.randint(-2, 2), 2 + digits.randint(0, 1))
        yield Lot(one.index, f"step-{one.slot}", round(digits.gauss(2.0, 0.25), 4), lines,
                  tuple(zip(MEASURES, figures, strict=False)), f"{one.slot} {figures}".encode())


@pytest.mark.parametrize("pool", [0, 60])
def test_in_sixty_halls_of_random_shape_neighbours_and_bounds_are_kept(pool):
    bounds, sizes, apart = Bounds(), [], 0.0
    for number in range(HALLS):
        chance = Random(f"hall {number}")
        rooms = hall(chance)
        candidates = seated(rooms)
        items = tuple(Item(n, ("stepped-block",), 10, pool=pool) for n in (1, 2, 3))
        plan = PaperPlan("Trial", Style(), items, tuple(rooms), candidates, bounds)
        slots = [Slot(item, 0, Form(f"step-{item.number}"), replace(FAMILY, name=f"step-{item.number}"), FAMILY, 3, SETTINGS,
                      SETTINGS) for item in items]
        pools = Pools(plan, slots, "trial", Key(number.to_bytes(32, "big")), measure,
                      lambda variants: [None if one.seed % 5 == 0 else 0 for one in variants])
        pools.settle()
        given = pools.assign(candidates)
        sizes.append(len(candidates))
        for one in candidates:
            for other in candidates:
                steps = max(abs(one.seat.row - other.seat.row), abs(one.seat.column - other.seat.column))
                if one.place < other.place and one.seat.room == other.seat.room and steps == 1:
                    for mine, theirs in zip(given[one.number], given[other.number], strict=True):
                        alike = len(set(mine.dimensions) & set(theirs.dimensions))
                        assert mine.block != theirs.block
                        assert alike <= 0.25 * min(len(mine.dimensions), len(theirs.dimensions))
        for item in range(3):
            lots = [lots[item] for lots in given.values()]
            for values, bound in (([lot.difficulty for lot in lots], bounds.index), ([len(lot.dimensions) for lot in lots],
                                  bounds.dimensions), *(([lot.lines[k] for lot in lots], bounds.lines) for k in range(3))):
                assert max(values) - min(values) <= 2 * bound + 1e-9, "both bounds together"
            apart = max(apart, max(lot.difficulty for lot in lots) - min(lot.difficulty for lot in lots))
    assert len(set(sizes)) > 25, "halls of many sizes"
    assert apart > 0.5, "the bounds were put to the test"
