"""Whether two checkouts draw the same sheets: makes them by the command line, and compares what two runs made byte by byte.

    python tests/bench/compare.py make DIR [--seeds 3] [--first 1] [--families a,b]   # with the sheetgen that is imported
    python tests/bench/compare.py diff DIR OTHER [--marks]                    # what differs; exit code 1 if anything does

Question and answer of every family are made, and the styles take turns: projection, side view, figures, title block, paper.
With ``--marks`` two files are alike if they hold the same marks in any order, and each mark that differs is printed.
With ``PYTHONPATH`` set to another checkout, ``make`` runs that one's code. What was refused is kept as text and compared too.
"""

from __future__ import annotations

import argparse
from collections import Counter
from itertools import product
from pathlib import Path

STYLES = tuple(product(
    ("A3", "A3", "A2", "A4"), ("harbour", "quarry"), ("aligned", "upright"), ("left", "right"), ("first", "third")))
"""Paper, title block, figures, side, projection; A3 twice as often as the others."""

STRIDE = 37
"""From one sheet's style to the next: prime to their number, so that all come in turn and neighbours differ in all."""


def made(family: str, seed: int, number: int, out: Path) -> None:
    """Make one pair in the ``number``-th style; a refusal is kept as text."""
    from click.testing import CliRunner

    from sheetgen.cli import main

    paper, block, figures, side, projection = STYLES[number * STRIDE % len(STYLES)]
    words = ["sheet", family, "--seed", str(seed), "--svg", "--out", str(out), "--paper", paper, "--title-block", block]
    words += ["--figures", figures, "--side", side, "--projection", projection]
    result = CliRunner().invoke(main, words)
    if result.exit_code:
        (out / f"{family}-{seed}-refused.txt").write_text(result.output, encoding="utf-8")


def make(out: Path, seeds: range, families: list[str]) -> None:
    """Make the pairs of all families on both cores."""
    from concurrent.futures import ProcessPoolExecutor

    from sheetgen import load_bank

    out.mkdir(parents=True, exist_ok=True)
    names = families or list(load_bank())
    jobs = [(name, seed, number) for number, (seed, name) in enumerate(product(seeds, names))]
    with ProcessPoolExecutor(2) as pool:
        waiting = [pool.submit(made, *job, out) for job in jobs]
        for future in waiting:
            future.result()
    print(f"{len(jobs)} pairs in {out}")


def diff(one: Path, other: Path, marks: bool) -> int:
    """Print what differs; the number of files that do."""
    names = sorted({path.name for folder in (one, other) for path in folder.iterdir() if not (marks and path.suffix == ".pdf")})
    found = 0
    for name in names:
        if not (one / name).exists() or not (other / name).exists():
            told = ["in one only"]
        elif marks:
            told = _other_marks((one / name).read_text(encoding="utf-8"), (other / name).read_text(encoding="utf-8"))
        else:
            told = [] if (one / name).read_bytes() == (other / name).read_bytes() else ["other bytes"]
        found += bool(told)
        print("".join(f"{name}: {what}\n" for what in told), end="")
    print(f"{len(names)} files compared, {found} differ")
    return found


def _other_marks(one: str, other: str) -> list[str]:
    """The lines of two files that only one of them has, or more often."""
    first, second = Counter(one.splitlines()), Counter(other.splitlines())
    return [*(f"- {line[:200]}" for line in first - second), *(f"+ {line[:200]}" for line in second - first)]


def main() -> None:
    """Parse and run."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    actions = parser.add_subparsers(dest="action", required=True)
    making = actions.add_parser("make")
    making.add_argument("out", type=Path)
    making.add_argument("--seeds", type=int, default=3)
    making.add_argument("--first", type=int, default=1)
    making.add_argument("--families", default="")
    comparing = actions.add_parser("diff")
    comparing.add_argument("one", type=Path)
    comparing.add_argument("other", type=Path)
    comparing.add_argument("--marks", action="store_true")
    options = parser.parse_args()
    if options.action == "diff":
        raise SystemExit(1 if diff(options.one, options.other, options.marks) else 0)
    make(options.out, range(options.first, options.first + options.seeds), [name for name in options.families.split(",") if name])


if __name__ == "__main__":
    main()
