"""Make many pairs at random over all families and count defects by kind. Not a unit test.

    python tests/bench/sweep.py --pairs 4000 [--families a,b] [--referee PATH/sheet_referee.py] [--read 8] [--keep FOLDER]

Each pair is drawn for one of both projection methods, side views and figure styles, in either wording; with ``--side`` all have
that side view, or both. Counted are refusals (with reasons),
families' faults, proof failures, and with ``--referee`` the findings of a program that reads the finished PDF and knows
nothing of this one. With ``--read N`` each Nth pair is read as a stranger would, from its PDF alone, and held against every check
of ``tests/outside`` that a finished sheet must pass. With ``--long-words`` words are twice as long as ours, as in other
languages. Exit code 1 if there is any defect, or a family refuses more than 2 %.
"""

from __future__ import annotations

import argparse
import importlib.util
import inspect
import io
import sys
import tempfile
import time
from collections import Counter
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass, field, replace
from pathlib import Path
from types import ModuleType

from sheetgen.bank import load_bank
from sheetgen.exercises import USUAL, kinds, sheets_of
from sheetgen.faults import FaultError
from sheetgen.ink import Document, Page, write_pdf
from sheetgen.measures import prove
from sheetgen.problem import Problem, problem_of
from sheetgen.refusals import RefusedError
from sheetgen.sheet import Style, settings_of

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))
from tests.outside import test_dimension_rules, test_every_sheet, test_isometric, test_reading_the_answer
from tests.outside.reader import read as reading
from tests.outside.sheets import Made, pdf_of
from tests.wordings import twice_as_long

MOST_REFUSED = 0.02
ALIGNED_ONLY = {
    "test_figures_on_views_read_from_below_or_from_the_right",
    "test_figures_stand_clear_over_an_unbroken_dimension_line",
    "test_every_number_in_the_drawing_stands_at_one_dimension_line_or_leader",
    "test_every_measure_of_the_part_is_printed_once_and_no_other_number",
    "test_figures_on_the_pictorial_never_stand_in_the_forbidden_sector",
    "test_on_the_question_every_length_measures_true_along_an_isometric_axis",
    "test_on_the_question_every_extension_line_runs_along_an_isometric_axis",
}
"""Checks that look for figures over unbroken lines."""
CHECKS = [
    (name, check, page) for module in (test_reading_the_answer, test_dimension_rules, test_every_sheet, test_isometric)
    for name, check in vars(module).items() if name.startswith("test_")
    for page in inspect.signature(check).parameters if page in ("asked", "made", "page")]
"""The checks of one finished sheet, each with what it looks at: a question, an answer, or either."""
STYLES = [
    Style(projection=p, side=s, figures=f, title_block=b, wording=w)
    for f, b, w in (("aligned", "harbour", "en"), ("upright", "quarry", "en-elevations"))
    for p in ("first", "third")
    for s in ("left", "right")
]


@dataclass
class Tally:
    """What a share of the sweep found. ``refused``: reasons by family; ``defects``: (kind, family, seed, style, words)."""

    pairs: Counter[str] = field(default_factory=Counter)
    refused: dict[str, Counter[str]] = field(default_factory=dict)
    defects: list[tuple[str, str, int, int, str]] = field(default_factory=list)
    seconds: float = 0.0

    def add(self, other: Tally) -> None:
        """Take in another share."""
        self.pairs += other.pairs
        for family, reasons in other.refused.items():
            self.refused.setdefault(family, Counter()).update(reasons)
        self.defects += other.defects
        self.seconds += other.seconds


def share_of(
    jobs: list[tuple[str, int, int]], referee_path: str | None, keep: str | None, read: int = 0, long_words: bool = False,
    side: str | None = None, kind: str = USUAL,
) -> Tally:
    """Draw the pairs of ``jobs``: (family, seed, style number), in one kind; read each ``read``-th, if that is not 0."""
    tally, bank = Tally(), load_bank()
    referee = _referee(referee_path) if referee_path else None
    styles = [replace(style, side=side) if side else style for style in STYLES]
    settings = [settings_of(style) for style in styles]
    if long_words:
        settings = [replace(each, wording=twice_as_long()) for each in settings]
    start = time.process_time()
    for number, (family, seed, style) in enumerate(jobs):
        tally.pairs[family] += 1
        try:
            problem = problem_of(bank[family].sample(seed))
            proof = prove(problem.solid, problem.measures, problem.symmetry)
            tally.defects += [("proof", family, seed, style, str(fault)) for fault in proof.faults()]
            pages = [page for sheet in sheets_of(problem, settings[style], kind=kind).values() for page in sheet]
        except RefusedError as error:
            tally.refused.setdefault(family, Counter())[error.reasons[0].what] += 1
            continue
        except FaultError as error:
            tally.defects.append(("family", family, seed, style, str(error)))
            continue
        if read and number % read == 0:
            tally.defects += [(kind, family, seed, style, words) for kind, words in _misread(problem, pages, styles[style])]
        out = io.BytesIO()
        write_pdf(Document(pages, title=str(problem.identity)), out)
        if referee is not None:
            with tempfile.NamedTemporaryFile(suffix=".pdf") as file:
                file.write(out.getvalue())
                file.flush()
                found = [f for f in referee.referee(file.name) if f.severity == "defect"]
            tally.defects += [(f.kind, family, seed, style, str(f)) for f in found]
            if found and keep:
                Path(keep, f"{family}-{seed}-{style}.pdf").write_bytes(out.getvalue())
    tally.seconds = time.process_time() - start
    return tally


def _misread(problem: Problem, pages: list[Page], style: Style) -> list[tuple[str, str]]:
    """What a stranger who reads the finished sheets finds wrong: (name of the check, what it says)."""
    asked, made = (Made(problem, data, reading(data)) for data in map(pdf_of, pages))
    read = {"asked": (asked,), "made": (made,), "page": (asked, made)}
    found = []
    for name, check, page in CHECKS:
        if not (style.figures == "upright" and name in ALIGNED_ONLY):
            for sheet in read[page]:
                try:
                    check(sheet)
                except AssertionError as error:
                    found.append((name.removeprefix("test_"), str(error).split("\n")[0]))
    return found


def _referee(path: str) -> ModuleType:
    spec = importlib.util.spec_from_file_location("referee", path)
    assert spec is not None and spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    sys.modules["referee"] = module
    spec.loader.exec_module(module)
    return module


def main() -> int:
    """Run the sweep and print its summary."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--pairs", type=int, default=400)
    parser.add_argument("--first-seed", type=int, default=1000)
    parser.add_argument("--families", default="")
    parser.add_argument("--referee", default=None)
    parser.add_argument("--read", type=int, default=0, help="read each Nth pair from its PDF")
    parser.add_argument("--keep", default=None, help="keep PDFs with findings in this folder")
    parser.add_argument("--long-words", action="store_true", help="print in words twice as long")
    parser.add_argument("--side", choices=("left", "right", "both"), default=None)
    parser.add_argument("--kind", choices=tuple(kinds()), default=USUAL)
    parser.add_argument("--jobs", type=int, default=2)
    options = parser.parse_args()
    if options.read and options.long_words:
        parser.error("the reader knows no long words: either --read or --long-words")
    if options.read and options.kind != USUAL:
        parser.error(f"the reader knows the kind {USUAL} only: either --read or --kind")
    names = options.families.split(",") if options.families else list(load_bank())
    rounds = [(names[i % len(names)], i // len(names)) for i in range(options.pairs)]
    jobs = [(name, options.first_seed + turn, turn % len(STYLES)) for name, turn in rounds]
    shares = [jobs[i:i + 40] for i in range(0, len(jobs), 40)]
    tally, start = Tally(), time.perf_counter()
    with ProcessPoolExecutor(options.jobs) as pool:
        given = (options.referee, options.keep, options.read, options.long_words, options.side, options.kind)
        same = [[value] * len(shares) for value in given]
        for part in pool.map(share_of, shares, *same):
            tally.add(part)
    return report(tally, time.perf_counter() - start)


def report(tally: Tally, elapsed: float) -> int:
    """Print the summary; 1 if there is a defect or a family refuses too often."""
    total, lost = sum(tally.pairs.values()), sum(reasons.total() for reasons in tally.refused.values())
    print(f"{total} pairs in {elapsed:.0f} s, {1000 * tally.seconds / total:.0f} ms of processor time a pair; {lost} refused")
    print("defects by kind:", dict(Counter(kind for kind, *_ in tally.defects)) or "none")
    for defect in tally.defects[:40]:
        print("  ", *defect)
    bad = bool(tally.defects)
    for family in sorted(tally.pairs):
        reasons = tally.refused.get(family, Counter())
        share = reasons.total() / tally.pairs[family]
        bad |= share > MOST_REFUSED
        much = " TOO MANY" if share > MOST_REFUSED else ""
        print(f"{family:28} {tally.pairs[family]:5} pairs, {100 * share:5.1f} % refused{much}")
        for reason, count in reasons.most_common(4):
            print(f"      {count:4} x {reason}")
    return int(bad)


if __name__ == "__main__":
    raise SystemExit(main())
