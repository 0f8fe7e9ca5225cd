"""Milliseconds to prove that given views have one answer, and how many the families of the bank have. Nothing is asserted.

    python tests/bench/certainty.py [--seeds 3] [--families a,b] [--lines 4]

Third views: of front, top and right each is asked once of each variant; then three views are given and the solid is asked; with
``--lines`` also so many lines of the three views, drawn by lot, are left out. Times are processor time on one core, with
everything that comes after the solid; no proof is kept from one question to the next.
"""

from __future__ import annotations

import argparse
import statistics
import sys
import time
from collections import Counter
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))
from sheetgen.bank import load_bank
from sheetgen.certainty import certainty, square, views_to_complete
from sheetgen.problem import solid_of
from sheetgen.projection import LineKind, lines_of, view_of
from sheetgen.refusals import RefusedError
from sheetgen.solid import Solid

VIEWS = ("front", "top", "right")
ASKED = {**{f"without {view}": ("third-view", view) for view in VIEWS}, "pictorial": ("pictorial", None)}


def timed(solid: Solid, kind: str, missing: str | None, left_out: list[tuple[str, str, int]]) -> tuple[int | str, float]:
    """How many answers a question has, or why it is refused; and its milliseconds."""
    square.forget_proofs()
    start = time.process_time()
    try:
        found: int | str = certainty(solid, kind, missing, left_out=left_out).count
    except RefusedError as refused:
        found = str(refused)
    return found, 1000 * (time.process_time() - start)


def some_lines(solid: Solid, count: int, seed: int) -> list[tuple[str, str, int]]:
    """Lines of the three views, or of those of which lines may be left out, drawn by lot."""
    try:
        names = views_to_complete(solid, VIEWS)
    except RefusedError:
        names = VIEWS
    views = {name: view_of(solid, name) for name in names}
    lines = [(name, str(kind), number) for name, view in views.items() for kind in (LineKind.VISIBLE, LineKind.HIDDEN)
             for number in range(len(lines_of(view, kind)))]
    return [lines[k] for k in np.random.default_rng(seed).permutation(len(lines))[:count]]


def main() -> None:
    """Ask, time and print."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--seeds", type=int, default=3)
    parser.add_argument("--families", default="")
    parser.add_argument("--lines", type=int, default=0)
    options = parser.parse_args()
    bank = load_bank()
    asked = {**ASKED, **({f"{options.lines} lines": ("missing-lines", None)} if options.lines else {})}
    answers, times, reasons = Counter[str](), list[float](), Counter[str]()
    print(f"{'family':24}" + "".join(f"{name:>20}" for name in asked))
    for name in options.families.split(",") if options.families else bank:
        row = []
        for question, (kind, missing) in asked.items():
            counts = []
            for seed in range(1, options.seeds + 1):
                solid = solid_of(bank[name].sample(seed))
                lines = some_lines(solid, options.lines, seed) if kind == "missing-lines" else []
                found, took = timed(solid, kind, missing, lines)
                if isinstance(found, str):
                    reasons[found] += 1
                else:
                    answers[f"{question}: {'certain' if found == 1 else 'several'}"] += 1
                    times.append(took)
                counts.append(str(found) if isinstance(found, int) else "-")
            row.append(" ".join(counts))
        print(f"{name:24}" + "".join(f"{text:>20}" for text in row))
    for question, count in sorted(answers.items()):
        print(f"{question}: {count}")
    for reason, count in reasons.most_common():
        print(f"refused {count}: {reason}")
    ordered = sorted(times)
    print(f"milliseconds a question: median {statistics.median(ordered):.1f}, 95th percentile "
          f"{ordered[int(0.95 * (len(ordered) - 1))]:.1f}, most {ordered[-1]:.1f}")


if __name__ == "__main__":
    main()
