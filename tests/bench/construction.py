"""Build many answers on construction sheets and count what is wrong with them. Not a unit test.

    python tests/bench/construction.py --seeds 5 [--first 1] [--families a,b] [--kind section] [--referee PATH/sheet_referee.py]

All families, so many seeds, both projections, with side views and papers in turn. Counted are lines that no stage or two
introduce, marks of the answer that the last page lacks, projectors that begin or end nowhere, are crooked or turn off the mitre
line, and numbers in sentences that are no sizes of the part; with ``--referee`` also the findings of a program that reads the
finished PDF and knows nothing of this one, on every ``--each``-th part. Exit code 1 if there is any.
"""

from __future__ import annotations

import argparse
import importlib.util
import sys
import tempfile
from collections import Counter
from collections.abc import Iterator
from concurrent.futures import ProcessPoolExecutor
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))
from sheetgen.bank import load_bank
from sheetgen.exercises import USUAL, Particulars, Role, kinds
from sheetgen.ink import Document, Page, write_pdf
from sheetgen.problem import problem_of
from sheetgen.sheet import Style
from tests.exercises.construction.made import Built, built, crooked, line_keys, missing, odd_numbers, stage_keys, strays

SHEETS = Role.CONSTRUCTION, Role.PROJECTORS
CODE = "AAAAAA-AAAAAA-AAAAAA"
SIDES, PAPERS = ("left", "right", "left", "both"), ("A3", "A3", "A2", "A3", "A4")


def style_of(number: int, projection: str) -> Style:
    """A look that differs from one number to the next."""
    return Style(
        projection=projection, side=SIDES[number % 4], paper=PAPERS[number % 5], wording=("en", "en-elevations")[number % 2],
        title_block=("harbour", "quarry")[number // 2 % 2], figures=("aligned", "upright")[number // 4 % 2])


def findings(made: Built) -> Iterator[str]:
    """What is wrong with a construction."""
    for key in ((line_keys(made) - stage_keys(made)) + (stage_keys(made) - line_keys(made))).elements():
        yield f"a line that is not introduced once: {key}"
    for check in (missing, strays, crooked, odd_numbers):
        yield from (f"{check.__name__}: {found}" for found in check(made))


def one(job: tuple[str, int, str, int, str, str]) -> tuple[int, int, list[str]]:
    """Pages, stages and findings of one part."""
    family, seed, projection, number, referee, kind = job
    where = f"{family} {seed} {projection}"
    made = built(family, seed, style_of(number, projection), kind)
    found = [f"{where}: {text}" for text in findings(made)]
    sheets = kinds()[kind].drawn(made.task, made.problem, made.settings, Particulars(code=CODE), SHEETS)
    pages = [page for role in SHEETS for page in sheets[role]]
    if referee:
        found += [f"{where}: referee: {text}" for text in judged(pages, referee)]
    return len(pages), len(made.stages), found


def judged(pages: list[Page], referee: str) -> list[str]:
    """The findings of the program at the path ``referee``."""
    spec = importlib.util.spec_from_file_location("referee", referee)
    assert spec is not None and spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    with tempfile.NamedTemporaryFile(suffix=".pdf") as file:
        write_pdf(Document(pages, title="Construction"), file)
        file.flush()
        return [str(finding) for finding in module.referee(file.name)]


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--seeds", type=int, default=5)
    parser.add_argument("--first", type=int, default=1)
    parser.add_argument("--families", default="")
    parser.add_argument("--referee", default="")
    parser.add_argument("--each", type=int, default=1)
    parser.add_argument("--kind", choices=(USUAL, "section"), default=USUAL)
    parser.add_argument("--jobs", type=int, default=2)
    said = parser.parse_args()
    families = said.families.split(",") if said.families else [
        name for name, family in load_bank().items() if said.kind == USUAL or problem_of(family.sample(1, 0)).planes]
    jobs = [(family, seed, projection) for seed in range(said.first, said.first + said.seeds) for family in families
            for projection in ("first", "third")]
    jobs = [(*job, number, said.referee if number % said.each == 0 else "", said.kind) for number, job in enumerate(jobs)]
    pages, stages, bad = 0, Counter[int](), 0
    with ProcessPoolExecutor(said.jobs) as pool:
        for count, steps, found in pool.map(one, jobs, chunksize=4):
            pages, bad = pages + count, bad + len(found)
            stages[steps] += 1
            for text in found:
                print(text, flush=True)
    print(f"{len(jobs)} parts, {pages} pages, {bad} findings; parts by stages: {dict(sorted(stages.items()))}")
    return 1 if bad else 0


if __name__ == "__main__":
    sys.exit(main())
