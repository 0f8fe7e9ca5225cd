"""Count printed pages by what a strict reader marks on them, over random pairs of all families and styles.

    python tests/bench/legibility.py [--pairs 252] [--first-seed 0] [--jobs 2] [--families a,b] [--list DEFECT] [--first-draws]

Nothing here is wrong on a page; it is what an examiner marks in pencil (``placing/legible.py``). ``--list`` names the pages that
have a defect; ``--first-draws`` takes of each seed the first variant that can be drawn, as if the program did not choose the
cleanest of some: what it does to where sizes stand shows there.
"""

from __future__ import annotations

import argparse
import sys
from collections import Counter
from collections.abc import Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor
from functools import partial
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))
from sheetgen.bank import load_bank
from sheetgen.exercises import USUAL, RefusedSeedError, kinds, make_exercise
from sheetgen.placing import Blemish
from sheetgen.problem import problem_of
from sheetgen.refusals import RefusedError
from sheetgen.sheet import Settings, settings_of
from tests.bench.sweep import STYLES

SHEETS = ("question", "answer")
Job = tuple[str, int, int]
Defects = tuple[frozenset[Blemish], frozenset[Blemish]]
"""Serious ones of one sheet, and slight ones."""


def judged(job: Job, first_draws: bool = False, kind: str = USUAL) -> tuple[Job, list[Defects] | str]:
    """The defects of the sheets of one pair, or why it was refused."""
    family, seed, style = job
    settings = settings_of(STYLES[style])
    try:
        return job, defects_of(family, seed, settings, first_draws, kind)
    except (RefusedError, RefusedSeedError) as error:
        return job, str(error)


def defects_of(family: str, seed: int, settings: Settings, first_draws: bool, kind: str = USUAL) -> list[Defects]:
    """Of the question and of the answer that a seed gives; of a kind of which both have the same views, these twice. Raises:
    RefusedError, RefusedSeedError."""
    known = load_bank()[family]
    problem = problem_of(known.sample(seed)) if first_draws else make_exercise(known, seed, settings, kind=kind).problem
    read = kinds()[kind].read(kinds()[kind].shared(problem, settings))
    found = [(frozenset(page.serious()), frozenset(page.slight())) for page in read]
    return [found[0], found[-1]]


def jobs_of(names: Sequence[str], pairs: int, first_seed: int) -> Iterator[Job]:
    """Families in turn, each with seeds and styles of its own."""
    for k in range(pairs):
        yield names[k % len(names)], first_seed + k // len(names), (k * 5 + k // len(names)) % len(STYLES)


def main() -> None:
    """Count and print."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--pairs", type=int, default=252)
    parser.add_argument("--first-seed", type=int, default=0)
    parser.add_argument("--jobs", type=int, default=2)
    parser.add_argument("--families", default="")
    parser.add_argument("--kind", default=USUAL, choices=kinds())
    parser.add_argument("--first-draws", action="store_true", help="of each seed the first variant that can be drawn")
    parser.add_argument("--list", type=int, default=-1, metavar="DEFECT", help="name the pages with the defect of that number")
    options = parser.parse_args()
    names = options.families.split(",") if options.families else list(load_bank())
    jobs = list(jobs_of(names, options.pairs, options.first_seed))
    with ProcessPoolExecutor(options.jobs) as pool:
        found = list(pool.map(partial(judged, first_draws=options.first_draws, kind=options.kind), jobs, chunksize=4))
    drawn = [(job, defects) for job, defects in found if not isinstance(defects, str)]
    refused = Counter(job[0] for job, defects in found if isinstance(defects, str))
    sheets = SHEETS[:min((len(defects) for _, defects in drawn), default=0)]         # some kinds have one drawing with sizes
    counts = [Counter(defect for _, defects in drawn for defect in defects[page][0] | defects[page][1])
              for page in range(len(sheets))]
    print("  ", *sheets)
    for number, defect in enumerate(Blemish):
        print(f"{number:2} {' '.join(f'{count[defect]:6}' for count in counts)}  {defect.value}")
    sound = [f"{sum(not defects[page][0] for _, defects in drawn)} {sheet}s" for page, sheet in enumerate(sheets)]
    clean = [f"{sum(not any(defects[page]) for _, defects in drawn)}" for page in range(len(sheets))]
    print(f"{len(found)} pairs; nothing serious on {', '.join(sound)}; nothing at all on {', '.join(clean)}; "
          f"refused: {dict(refused) or 'none'}")
    if options.list >= 0:
        wanted = list(Blemish)[options.list]
        for (family, seed, style), defects in drawn:
            on = [sheet for sheet, sets in zip(sheets, defects, strict=True) if wanted in sets[0] | sets[1]]
            if on:
                print(f"  {family} {seed} style {style}: {', '.join(on)}")


if __name__ == "__main__":
    main()
