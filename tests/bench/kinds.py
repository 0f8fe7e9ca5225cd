"""How many exercises a second each kind makes, and how many floors one takes. Nothing is asserted.

    python tests/bench/kinds.py [--exercises 24] [--first 1] [--kinds match,section] [--families a,b]

An exercise is its question and answer as they are printed, from the bank to written pages, with all draws that are looked at
for it. Its floor is writing the same marks by a frozen copy of the writer (``tests/bench/floor``), with nothing
computed. Families take their turn; a seed that a kind refuses is counted and its time told apart. Processor time of one core.
"""

from __future__ import annotations

import argparse
import statistics
import sys
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))
from sheetgen.bank import Family, load_bank
from sheetgen.exercises import ASKED, RefusedSeedError, kinds, make_exercise
from sheetgen.ink import Page
from sheetgen.sheet import Settings, Style, settings_of
from tests.bench import floor
from tests.bench.stages import median_and_95th, written

LOOKS = [Style(projection=projection, side=side) for projection in ("first", "third") for side in ("left", "right")]


def made(family: Family, seed: int, settings: Settings, kind: str) -> tuple[float, list[Page]]:
    """Seconds that an exercise takes, and its pages, written; none if the seed is refused."""
    start = time.process_time()
    try:
        sheets = make_exercise(family, seed, settings, kind=kind).sheets
    except RefusedSeedError:
        return time.process_time() - start, []
    pages = [page for role in ASKED for page in sheets.get(role, ())]
    for page in pages:
        written(page)
    return time.process_time() - start, pages


def floor_of(pages: list[Page]) -> float:
    """Seconds that writing the same marks takes."""
    frozen = [floor.frozen(page) for page in pages]
    start = time.process_time()
    for page in frozen:
        floor.written([page])
    return time.process_time() - start


def main() -> None:
    """Time and print."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--exercises", type=int, default=24, help="of each kind")
    parser.add_argument("--first", type=int, default=1, help="the first seed")
    parser.add_argument("--kinds", default=",".join(kinds()))
    parser.add_argument("--families", default="")
    said = parser.parse_args()
    bank, looks = load_bank(), [settings_of(look) for look in LOOKS]
    names = said.families.split(",") if said.families else list(bank)
    made(bank[names[0]], said.first, looks[0], next(iter(kinds())))                      # loads fonts and libraries
    print("kind             made  refused   a second   floors: median    95th    mean   s a refusal")
    for kind in said.kinds.split(","):
        took, ratios, refused = list[float](), list[float](), list[float]()
        for number in range(4 * said.exercises):
            if len(took) == said.exercises:
                break
            # A step that shares no factor with so many families brings all of them in turn, unlike neighbours first.
            name, seed = names[5 * number % len(names)], said.first + number // len(names)
            seconds, pages = made(bank[name], seed, looks[number % len(looks)], kind)
            if not pages:
                refused.append(seconds)
                continue
            took.append(seconds)
            ratios.append(seconds / floor_of(pages))
        if not took:
            print(f"{kind:15} {0:6} {len(refused):8}")
            continue
        low, high = median_and_95th(ratios)
        print(f"{kind:15} {len(took):6} {len(refused):8} {len(took) / sum(took):10.2f} {low:16.1f} {high:7.1f} "
              f"{statistics.mean(ratios):7.1f} {statistics.mean(refused) if refused else 0.0:13.2f}", flush=True)


if __name__ == "__main__":
    main()
