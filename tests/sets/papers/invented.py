"""Records of invented papers, for tests of their pages."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import islice
from random import Random

from sheetgen.sets.papers.records import Assignment, Bounds, Candidate, Item, Lot, PaperPlan, Reached, Room
from sheetgen.sheet import Style

HALL = Room("Great Hall", 6, 5, frozenset({(2, 3), (3, 3), (6, 5)}))
"""Small, with a pillar and a corner cut off."""

BARN = Room("Barn", 40, 30, frozenset((row, 16) for row in range(1, 41)) | frozenset({(1, 1), (1, 2), (40, 30)}))
"""Large, with an aisle and odd corners."""

CORRIDOR = Room("Corridor", 25, 1)


def paper(
    count: int, rooms: Sequence[Room] = (HALL,), items: int = 3, named: bool = True, paper: str = "A3", skipped: int = 0,
    instructions: tuple[str, ...] = (), minutes: int = 150, timed: bool = True,
) -> PaperPlan:
    """A paper for so many candidates in the rooms' seats, in order, every ``skipped``-th seat left free."""
    seats = [seat for room in rooms for seat in room.seats()]
    if skipped:
        seats = [seat for number, seat in enumerate(seats, 1) if number % skipped]
    candidates = tuple(
        Candidate(f"EX-{7000 + 37 * place % 9973:04d}", seat, place, f"Quin Zeddle {place}" if named else "")
        for place, seat in enumerate(islice(seats, count), 1))
    assert len(candidates) == count
    return PaperPlan(
        "Drawing of parts, second paper", Style(paper=paper),
        tuple(Item(number, ("stepped-block",), 20 + 5 * (number % 3), minutes=30 * timed) for number in range(1, items + 1)),
        tuple(rooms), candidates, Bounds(), minutes, named, "EXAMPLEFORD BOARD OF DRAWING", "12 May 2031", instructions)


def lots(count: int, items: int = 3, pool: int = 60, seed: int = 1) -> Assignment:
    """So many candidates' lots, each item's drawn from a pool of so many within the usual bounds."""
    random = Random(seed)
    pools = [[_lot(random, item, number) for number in range(pool)] for item in range(items)]
    return Assignment({f"EX-{number}": tuple(random.choice(pool) for pool in pools) for number in range(count)})


def _lot(random: Random, item: int, number: int) -> Lot:
    lines = (24 + 3 * item + random.randint(-2, 2), 5 + random.randint(-2, 2), 4 + random.randint(-1, 2))
    sizes = tuple((f"measure {k}", str(20 + random.randint(0, 30))) for k in range(11 + item + random.randint(-1, 1)))
    return Lot(number, "stepped-block", 2.0 + item + round(random.uniform(-0.3, 0.3), 3), lines, sizes)


def reached(assignment: Assignment, items: int = 3) -> list[Reached]:
    """What such lots come to, with the middles that they were drawn round."""
    found = []
    for item in range(1, items + 1):
        middles = {"index": 1.0 + item, "visible": 21.0 + 3 * item, "hidden": 5, "centre": 4, "dimensions": 10.0 + item}
        bounds = {"index": 0.3, "dimensions": 1}
        for quantity, middle in middles.items():
            values = [lot.quantities()[quantity] for lot in assignment.of_item(item)]
            found.append(Reached(item, quantity, middle, bounds.get(quantity, 2), min(values), max(values)))
    return found
