"""A paper for a whole country, as far as it can be without a drawing: who sits where, who gets what, codes, how even it is.

    python tests/bench/national.py [--candidates 100000] [--pool 200] [--seed 1]        (--pool 0: each variants of their own)

Halls of random shape are filled with candidates; three items have pools of so many variants, which are measured as for a paper
that is printed, by all processors, and not drawn (all are held to be printable). Then it prints how long each part takes and the
most memory that the process has held; and it looks from outside whether any neighbours break the rule, whether two sheets have
one code, and how far apart the candidates' variants lie.
"""

from __future__ import annotations

import argparse
import random
import resource
import sys
import time
from collections import Counter
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))
from sheetgen.bank import load_bank
from sheetgen.faults import Place
from sheetgen.sets import cores, local_workers, results
from sheetgen.sets.classes import Student
from sheetgen.sets.papers.assigning import broken
from sheetgen.sets.papers.lots import measured
from sheetgen.sets.papers.paper import Paper
from sheetgen.sets.papers.pools import Pools
from sheetgen.sets.papers.record import record_text
from sheetgen.sets.papers.records import Assignment, Item, PaperPlan, Room
from sheetgen.sets.papers.seats import Seating
from sheetgen.sets.papers.secret import Key
from sheetgen.sheet import Style, settings_of
from tests.bench.papers import FAMILIES


@contextmanager
def timed(what: str) -> Iterator[None]:
    """Print how long a part takes, and the most memory until then."""
    start = time.perf_counter()
    yield
    print(f"{what}: {time.perf_counter() - start:.1f} s, at most {megabytes():.0f} MB", flush=True)


def megabytes() -> float:
    """The most that this process has held at once."""
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1000


def halls_for(count: int, chance: random.Random) -> list[Room]:
    """Halls of random shape with so many seats at least: up to 20 by 20, with aisles and pillars."""
    rooms: list[Room] = []
    seats = 0
    while seats < count:
        rows, columns = chance.randint(3, 20), chance.randint(3, 20)
        aisles = {(row, column) for column in chance.sample(range(1, columns + 1), chance.randint(0, columns // 4))
                  for row in range(1, rows + 1)}
        pillars = {(chance.randint(1, rows), chance.randint(1, columns)) for _ in range(chance.randint(0, 6))}
        rooms.append(Room(f"Hall {len(rooms) + 1}", rows, columns, frozenset(aisles | pillars)))
        seats += rooms[-1].count
    return rooms


def main() -> None:
    """Simulate and print."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--candidates", type=int, default=100_000)
    parser.add_argument("--pool", type=int, default=200)
    parser.add_argument("--seed", type=int, default=1)
    options = parser.parse_args()
    chance, began = random.Random(options.seed), time.perf_counter()
    rooms, key = halls_for(options.candidates, chance), Key(bytes(chance.randrange(256) for _ in range(32)))
    with timed(f"{options.candidates} candidates seated in {len(rooms)} halls"):
        students = [Student(0, n, "", f"{n:07d}", "", "", "") for n in range(1, options.candidates + 1)]
        candidates = Seating(rooms, "", Place("", 0, "")).seated(students, named=False)
    items = tuple(Item(n, (family,), 20, pool=options.pool) for n, family in enumerate(FAMILIES, 1))
    plan = PaperPlan("National paper", Style(), items, tuple(rooms), candidates, date="1 May 2031", named=False)
    with timed("what their title blocks say"):
        paper = Paper(plan, load_bank(), settings_of(plan.style), key, "bench")
    looked = Counter[int]()
    with local_workers(cores()) as executor:
        def measure(variants):
            looked.update(variant.slot for variant in variants)
            return results(measured, paper.slots, variants, executor)

        pools = Pools(plan, paper.slots, paper.name, key, measure, lambda variants: [0 for _ in variants])
        with timed(f"pools of {options.pool or 'no'} shared variants of 3 families measured"):
            pools.settle()
            for number in range(len(paper.slots)):
                pools._pool(number)
        with timed("who gets what"):
            assignment = Assignment(pools.assign(candidates))
    with timed("codes"):
        codes = {paper.code(one, item, lot.index) for one in candidates for item, lot in enumerate(assignment.lots[one.number])}
    with timed("how even it is, and its record"):
        reached = paper.reached(assignment, pools)
        given = {number: tuple(lot.index for lot in lots) for number, lots in assignment.lots.items()}
        record = record_text(paper, key, given, {}, [[] for _ in paper.slots], pools.clean, reached)
    with timed("the rule for neighbours looked at"):
        breaches = len(list(broken(candidates, assignment.lots)))
    twice = 3 * len(candidates) - len(codes)
    wanted = 3 * (options.pool or len(candidates))
    print(f"measured {sum(looked.values())} variants for {wanted}; {twice} codes twice; {breaches} neighbours break "
          f"the rule; the record has {len(record) / 1e6:.1f} MB")
    uses = [Counter(lot.index for lot in assignment.of_item(item.number)) for item in items]
    print("a variant is given to " + "; ".join(f"{min(one.values())} to {max(one.values())} candidates" for one in uses))
    for one in reached:
        print(f"item {one.item}, {one.quantity}: {one.least:g} to {one.greatest:g}, bounds {one.middle - one.bound:g} to "
              f"{one.middle + one.bound:g}")
    print(f"in all {time.perf_counter() - began:.0f} s, at most {megabytes():.0f} MB")


if __name__ == "__main__":
    main()
