"""How large what a pack's page sends is, over all families. Not a unit test.

    python tests/bench/pictures.py [--seeds 1] [--families a,b] [--jobs 1]

Each problem is made as a pack makes it, in looks that differ, and its pieces are counted as they are sent, in kB of 1000: the
pictures of question and answer, each stage of the construction with its sentences, the solid, and all of the problem. Told are
the middle and the largest of each, whose these are, and what is above its limit: 8 kB for question and answer, 2 kB for a stage.
Exit code 1 if anything is.
"""

from __future__ import annotations

import argparse
import sys
from concurrent.futures import ProcessPoolExecutor
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))
from sheetgen.bank import load_bank
from sheetgen.exercises import Particulars, Role
from sheetgen.sets.packs.making import draw
from sheetgen.sets.packs.site import plain
from sheetgen.sets.worksheet import Job
from sheetgen.sheet import Style, settings_of

LIMITS = {"question": 8.0, "answer": 8.0, "stage": 2.0}
"""kB that a piece may have."""

SIDES = ("left", "right", "both")


def sizes_of(job: tuple[str, int, int]) -> tuple[str, dict[str, list[float]]]:
    """Of one problem the kB of each of its pieces."""
    name, seed, number = job
    style = Style(projection=("first", "third")[number % 2], side=SIDES[number % 3])
    told = draw(Job(load_bank()[name], seed, Particulars(), (Role.QUESTION, Role.ANSWER)), settings_of(style)).told
    pictures = told["pictures"]
    stages = [kb(stage) for stage in pictures["stages"]]
    found = {role: [sum(len(page[part]) for page in pictures["pages"][role] for part in ("drawing", "rest")) / 1000]
             for role in ("question", "answer")}
    whole = kb({key: told[key] for key in ("description", "task", "hints")}
               | {key: pictures[key] for key in ("common", "pages", "blank", "stages", "stages_box")})
    return f"{name} {seed} {style.projection} {style.side}", found | {
        "stage": stages, "stages": [sum(stages)], "problem": [whole], "solid": [kb(told["solid"])]}


def kb(piece: object) -> float:
    """Kilobytes of a piece of data as a script sends it."""
    return len(plain(piece)) / 1000                                                     # type: ignore[arg-type]


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--seeds", type=int, default=1)
    parser.add_argument("--families", default="")
    parser.add_argument("--jobs", type=int, default=1)
    said = parser.parse_args()
    families = said.families.split(",") if said.families else list(load_bank())
    jobs = [(family, seed, number) for number, (seed, family) in enumerate(
        (seed, family) for seed in range(1, said.seeds + 1) for family in families)]
    every: dict[str, list[tuple[float, str]]] = {}
    with ProcessPoolExecutor(said.jobs) as pool:
        for where, sizes in pool.map(sizes_of, jobs):
            for sort, its in sizes.items():
                every.setdefault(sort, []).extend((size, f"{where}, {k}" if len(its) > 1 else where)
                                                  for k, size in enumerate(its, 1))
    above = 0
    for sort, found in every.items():
        found.sort()
        print(f"{sort}: {len(found)}, middle {found[len(found) // 2][0]:.2f} kB, largest {found[-1][0]:.2f} kB ({found[-1][1]})")
        for size, where in found:
            if size > LIMITS.get(sort, size):
                above += 1
                print(f"    above {LIMITS[sort]:g} kB: {size:.2f} kB, {where}")
    return 1 if above else 0


if __name__ == "__main__":
    sys.exit(main())
