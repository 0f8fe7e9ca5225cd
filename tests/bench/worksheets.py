"""Worksheets of growing size: pairs a second, and the memory of the whole process tree. Nothing is asserted.

    python tests/bench/worksheets.py [--sizes 50,200,500] [--out DIR]

Each is made by the command line in a process of its own, as a teacher would; the memory is the most that the command and its
workers together held at once (proportional set size where the system tells it, so that shared pages count once). The floor is
writing as many pages of the same marks by the frozen writer.
"""

from __future__ import annotations

import argparse
import subprocess
import sys
import tempfile
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))
from sheetgen.bank import load_bank
from sheetgen.exercises import make_exercise
from sheetgen.sheet import Style, settings_of
from tests.bench import floor

EVERY = 0.2
"""Seconds between two looks at the memory."""

COMMAND = "from sheetgen.cli import main; main()"


def tree_of(root: int) -> set[int]:
    """A process and all that it started, and they in turn."""
    parents: dict[int, list[int]] = {}
    for place in Path("/proc").glob("[0-9]*/stat"):
        try:
            rest = place.read_text(encoding="utf-8", errors="replace").rpartition(")")[2].split()
        except OSError:
            continue                                       # it has ended meanwhile
        parents.setdefault(int(rest[1]), []).append(int(place.parent.name))
    found, todo = set[int](), [root]
    while todo:
        found.add(one := todo.pop())
        todo += parents.get(one, [])
    return found


def megabytes_of(processes: set[int]) -> float:
    """What they hold together."""
    total = 0
    for number in processes:
        try:
            lines = Path(f"/proc/{number}/smaps_rollup").read_text(encoding="ascii").splitlines()
        except OSError:
            continue
        total += sum(int(line.split()[1]) for line in lines if line.startswith("Pss:"))
    return total / 1000


def made(count: int, out: Path) -> tuple[float, float]:
    """Make a worksheet of so many problems; seconds, and the most megabytes."""
    start, most = time.perf_counter(), 0.0
    words = ["worksheet", "--count", str(count), "--out", str(out)]
    process = subprocess.Popen([sys.executable, "-c", COMMAND, *words], stdout=subprocess.DEVNULL)
    while process.poll() is None:
        most = max(most, megabytes_of(tree_of(process.pid)))
        time.sleep(EVERY)
    if process.returncode:
        raise SystemExit(f"a worksheet of {count} came to nothing")
    return time.perf_counter() - start, most


def floor_seconds(count: int) -> float:
    """Seconds for writing so many pairs of the bank's families by the frozen writer, with nothing computed."""
    settings = settings_of(Style())
    sheets = [make_exercise(family, 1, settings).sheets.values() for family in load_bank().values()]
    pages = [floor.frozen(page) for sheet in sheets for pages in sheet for page in pages]
    start = time.perf_counter()
    floor.written(pages)
    return (time.perf_counter() - start) / len(sheets) * count


def main() -> None:
    """Make and print."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--sizes", default="50,200,500")
    parser.add_argument("--out", type=Path)
    options = parser.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        out = options.out or Path(folder)
        for count in map(int, options.sizes.split(",")):
            seconds, megabytes = made(count, out)
            ratio = seconds / floor_seconds(count)
            print(f"{count:5} problems: {count / seconds:5.1f} pairs a second, {ratio:4.1f} times the floor, {megabytes:5.0f} MB")


if __name__ == "__main__":
    main()
