"""Papers of growing size: pairs a second a core, their ratio to the floor, and the memory of the whole process tree. Nothing is
asserted.

    python tests/bench/papers.py [--sizes 200,1000] [--pool N] [--jobs 2 | --scheduler ADDRESS]

A paper of three items for so many candidates: a question and an answer of each item, and a cover. Each is made by the command
line in a process of its own. The floor is writing as many pairs of the same three families by the frozen writer, with nothing
computed; a second a core is one of processor time, as the system counts it for the command and all its workers (save those of a
cluster).
"""

from __future__ import annotations

import argparse
import os
import subprocess
import sys
import tempfile
import time
from dataclasses import dataclass
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))
from sheetgen.bank import load_bank
from sheetgen.exercises import make_exercise
from sheetgen.sets.papers.secret import new_key
from sheetgen.sheet import Style, settings_of
from tests.bench import floor
from tests.bench.worksheets import COMMAND, EVERY, megabytes_of, tree_of

FAMILIES = ("stepped-block", "counterbored-block", "angle-bracket-bored")
COLUMNS = 25
"""Seats in a row of the one room."""

FLOOR_PAIRS = 20
"""Of each family, by which the floor is measured."""


@dataclass(frozen=True, slots=True)
class Taken:
    """What a run took: ``seconds`` by the clock, ``busy`` of processors, the most ``megabytes`` at once, ``bytes`` of its files,
    ``aside``: the most that lay in its hidden folder."""

    seconds: float
    busy: float
    megabytes: float
    bytes: int
    aside: int


def plan_text(count: int, pool: int = 0) -> str:
    """A plan of a paper for so many; ``pool``: variants that they share, 0: each their own."""
    shared = f", pool: {pool}" if pool else ""
    items = "".join(f"  - {{family: {family}, marks: 10, minutes: 20{shared}}}\n" for family in FAMILIES)
    return (f"title: Paper for {count}\ndate: 1 May 2031\nschool: EXAMPLEFORD\nitems:\n{items}"
            f"rooms: [{{name: Hall, rows: {-(-count // COLUMNS)}, columns: {COLUMNS}}}]\ncandidates: {count}\nbooks: hundreds\n")


def made(count: int, folder: Path, pool: int = 0, more: tuple[str, ...] = ()) -> Taken:
    """Make a paper for so many."""
    plan, key, out = folder / "paper.yaml", folder / "bench.key", folder / f"out-{count}-{pool}"
    plan.write_text(plan_text(count, pool), encoding="utf-8")
    if not key.exists():
        new_key(key)
    words = ["paper", str(plan), "--key", str(key), "--out", str(out), *more]
    before, start, most, aside, looked = sum(os.times()[2:4]), time.perf_counter(), 0.0, 0, 0
    process = subprocess.Popen([sys.executable, "-c", COMMAND, *words], stdout=subprocess.DEVNULL)
    while process.poll() is None:
        most, looked = max(most, megabytes_of(tree_of(process.pid))), looked + 1
        if looked % 25 == 0:
            aside = max(aside, bytes_in(out))
        time.sleep(EVERY)
    if process.returncode:
        raise SystemExit(f"a paper for {count} came to nothing")
    took = time.perf_counter() - start
    return Taken(took, sum(os.times()[2:4]) - before, most, bytes_in(out), aside)


def bytes_in(folder: Path) -> int:
    """Of all files in a folder and those in it."""
    total = 0
    for path in folder.rglob("*"):
        try:
            total += path.stat().st_size if path.is_file() else 0
        except OSError:
            continue                                       # moved meanwhile
    return total


def floor_seconds() -> float:
    """Processor seconds for writing a pair of the paper's families by the frozen writer, with nothing computed."""
    settings, bank = settings_of(Style()), load_bank()
    sheets = [make_exercise(bank[family], seed, settings).sheets.values() for family in FAMILIES for seed in range(FLOOR_PAIRS)]
    pages = [floor.frozen(page) for sheet in sheets for pages in sheet for page in pages]
    start = time.process_time()
    floor.written(pages)
    return (time.process_time() - start) / len(sheets)


def main() -> None:
    """Make and print."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--sizes", default="200,1000")
    parser.add_argument("--pool", type=int, default=0)
    parser.add_argument("--jobs", default="2")
    parser.add_argument("--scheduler")
    options = parser.parse_args()
    more = ("--scheduler", options.scheduler) if options.scheduler else ("--jobs", options.jobs)
    least = floor_seconds()
    print(f"floor: {1000 * least:.2f} ms a pair")
    with tempfile.TemporaryDirectory() as folder:
        for count in map(int, options.sizes.split(",")):
            taken, pairs = made(count, Path(folder), options.pool, more), 3 * count
            print(f"{count:6} candidates, pool {options.pool}: {taken.seconds:.0f} s, {pairs / taken.busy:.2f} pairs a second a "
                  f"core, {taken.busy / pairs / least:.1f} times the floor, {taken.megabytes:.0f} MB, files "
                  f"{taken.bytes / 1e6:.1f} MB, aside up to {taken.aside / 1e6:.1f} MB", flush=True)


if __name__ == "__main__":
    main()
