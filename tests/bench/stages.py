"""Processor milliseconds a pair of sheets, stage by stage, and its ratio to a floor measured beside it. Nothing is asserted.

    python tests/bench/stages.py [--pairs 64] [--first 0] [--kernel] [--slowest 5]

A pair is all of it: solid, measures, views, proof, both pages, and writing them. Its floor is writing the same marks by a
frozen copy of the writer (``tests/bench/floor``), with nothing computed. ``--kernel`` also times an independent exact kernel's
hidden-line removal on the same solids (needs the test extra).
"""

from __future__ import annotations

import argparse
import io
import statistics
import sys
import time
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))
from sheetgen.bank import Variant, load_bank
from sheetgen.exercises import Particulars, Role, drawing, kinds, make_exercise, picture
from sheetgen.ink import Document, Page, write_pdf
from sheetgen.problem import Problem
from sheetgen.problem.choice import chosen
from sheetgen.problem.variants import alternatives_of
from sheetgen.projection import view_of
from sheetgen.refusals import RefusedError
from sheetgen.sheet import Settings, Style, settings_of
from sheetgen.solid import build
from tests.bench import floor

VIEWS = ("front", "top", "left", "isometric")
PLACING = ("pictorial_offers", "sight_arrow", "view_offers", "name_offers", "gathered", "choose", "marks_of")
"""What the pages call to place sizes."""


class Clock:
    """Collects processor milliseconds by stage."""

    def __init__(self) -> None:
        self.times: dict[str, list[float]] = {}

    def run(self, stage: str, work: Callable[[], Any]) -> Any:
        """Do ``work`` and add its time to ``stage``."""
        start = time.process_time()
        result = work()
        self.times.setdefault(stage, []).append(1000 * (time.process_time() - start))
        return result

    def begin(self, stage: str) -> None:
        """A new pair: what ``part`` adds up begins at nothing."""
        self.times.setdefault(stage, []).append(0.0)

    def part(self, stage: str, work: Callable[..., Any]) -> Callable[..., Any]:
        """``work`` that adds its time to the last entry of ``stage``."""
        def timed(*args: Any, **words: Any) -> Any:
            start = time.process_time()
            try:
                return work(*args, **words)
            finally:
                if self.times.get(stage):
                    self.times[stage][-1] += 1000 * (time.process_time() - start)

        return timed


def pair(clock: Clock, variant: Variant, settings: Settings) -> tuple[float, float] | None:
    """Draw and write one pair and time its stages; its milliseconds, and those of its floor. None if it was refused."""
    start, family, views, said = time.process_time(), variant.family, kinds()["views"], Particulars(str(variant.identity))
    solid = clock.run("solid", lambda: build(variant.features))
    alternatives = clock.run("measures", lambda: alternatives_of(variant, solid))
    measures = tuple(ways[0] for ways in alternatives)
    problem = Problem(
        variant.identity, family.title, family.topics, solid, measures, variant.symmetry, alternatives=alternatives,
        ranks=(0,) * len(measures), sizes=variant.sizes)
    clock.run("views", lambda: [problem.view(name) for name in VIEWS])
    if any(len(ways) > 1 for ways in alternatives):
        choice = clock.run("choice of measures, with their proof", lambda: chosen(alternatives, problem.sights, variant.symmetry))
        problem = problem.measured_by(choice.ranks, choice.proof)
    clock.run("proof", problem.check)
    clock.begin("placing (in the pages)")
    try:
        drawing = clock.run("drawing", lambda: views.shared(problem, settings))
        pages = [clock.run(f"{role} page", lambda role=role: views.pages[role](problem, settings, drawing, said))[0]
                 for role in (Role.QUESTION, Role.ANSWER)]
    except RefusedError:
        return None
    clock.run("reading, as a strict reader", lambda: [list(page.serious()) for page in views.read(drawing)])
    clock.run("writing", lambda: [written(page) for page in pages])
    took = 1000 * (time.process_time() - start)
    frozen = [floor.frozen(page) for page in pages]
    start = time.process_time()
    clock.run("floor", lambda: [floor.written([page]) for page in frozen])
    return took, 1000 * (time.process_time() - start)


def printed(variant: Variant, settings: Settings) -> float:
    """Milliseconds to make and write the pair that the variant's seed gives, with all draws that are looked at for it."""
    start = time.process_time()
    sheets = make_exercise(variant.family, variant.identity.seed, settings).sheets
    for role in (Role.QUESTION, Role.ANSWER):
        written(sheets[role][0])
    return 1000 * (time.process_time() - start)


def written(page: Page) -> bytes:
    """A page as PDF."""
    out = io.BytesIO()
    write_pdf(Document([page], title="timing"), out)
    return out.getvalue()


def kernel_ratio(variants: list[Variant]) -> None:
    """Hidden lines of the same solids: ours against the independent kernel's."""
    from tests.outside.kernel import reference_solid

    ours = theirs = 0.0
    for variant in variants:
        solid, reference = build(variant.features), reference_solid(variant.features)
        for name in VIEWS:
            start = time.process_time()
            view_of(solid, name)
            middle = time.process_time()
            reference.views(name)
            ours, theirs = ours + middle - start, theirs + time.process_time() - middle
    each = 1000 / len(variants)
    print(f"hidden lines: ours {ours * each:.1f} ms a part, kernel {theirs * each:.1f} ms, ratio {ours / theirs:.2f}")


def median_and_95th(values: Sequence[float]) -> tuple[float, float]:
    """The median, and what 95 of 100 do not exceed."""
    ordered = sorted(values)
    return statistics.median(ordered), ordered[int(0.95 * (len(ordered) - 1))]


def main() -> None:
    """Time and print."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--pairs", type=int, default=64)
    parser.add_argument("--first", type=int, default=0, help="the first seed")
    parser.add_argument("--families", default="")
    parser.add_argument("--kernel", action="store_true")
    parser.add_argument("--slowest", type=int, default=0, help="name so many pairs with the greatest ratios")
    options = parser.parse_args()
    bank, clock, settings = load_bank(), Clock(), settings_of(Style())
    names = options.families.split(",") if options.families else list(bank)
    variants = [bank[names[i % len(names)]].sample(options.first + i // len(names)) for i in range(options.pairs)]
    pair(Clock(), variants[0], settings)                       # loads fonts and libraries
    for page in (picture, drawing):
        for name in set(PLACING) & set(vars(page)):
            setattr(page, name, clock.part("placing (in the pages)", getattr(page, name)))
    found = [(variant, pair(clock, variant, settings)) for variant in variants]
    drawn = [(*times, str(variant.identity)) for variant, times in found if times]
    print(f"{len(found)} pairs, {len(found) - len(drawn)} refused; processor milliseconds a pair: median, 95th percentile")
    for stage, times in clock.times.items():
        print("  {:36} {:8.1f} {:8.1f}".format(stage, *median_and_95th(times)))
    print("  {:36} {:8.1f} {:8.1f}".format("a whole pair", *median_and_95th([took for took, _, _ in drawn])))
    ratios = sorted(((took / least, code) for took, least, code in drawn), reverse=True)
    print("floors a pair: median {:.2f}, 95th percentile {:.2f}".format(*median_and_95th([ratio for ratio, _ in ratios])))
    whole = [printed(variant, settings) / times[1] for variant, times in found if times]
    print("as it is printed, the cleanest of some draws: median {:.2f}, 95th percentile {:.2f}, mean {:.2f}".format(
        *median_and_95th(whole), statistics.mean(whole)))
    for ratio, code in ratios[:options.slowest]:
        print(f"  {ratio:6.1f} {code}")
    if options.kernel:
        kernel_ratio(variants[:16])


if __name__ == "__main__":
    main()
