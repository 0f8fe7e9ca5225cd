"""Make many hint sheets over all families, look at what they say, and have the pages refereed. Not a unit test.

    python tests/bench/hints.py --sheets 2000 [--families a,b] [--first 1] [--referee PATH/sheet_referee.py] [--long-words]
        [--say]

Each sheet is made in one of the looks of ``sweep.py``, some with both side views, or on other paper. Told are hints that say
nothing, or something twice, sentences that had to be left out, and lengths that are too few or are whole widths of views; with
``--referee`` the findings of a program that reads the finished PDF; with ``--say`` all sentences. Exit code 1 if there is
anything.
"""

from __future__ import annotations

import argparse
import io
import sys
import tempfile
from collections import Counter
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

from sheetgen.bank import load_bank
from sheetgen.exercises import Particulars
from sheetgen.exercises.hints import Hints, hint_pages
from sheetgen.ink import Document, Page, Text, write_pdf
from sheetgen.problem import Problem, problem_of
from sheetgen.refusals import RefusedError
from sheetgen.sheet import Settings, Style, settings_of

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))
from tests.bench.sweep import STYLES, _referee
from tests.exercises.hints.bare import hinted
from tests.wordings import twice_as_long

LOOKS = [*STYLES, Style(side="both", paper="A2"), Style(paper="11x17", projection="third"), Style(paper="A4"),
         Style(side="both", projection="third", wording="en-elevations")]


def made(problem: Problem, settings: Settings) -> tuple[Hints, tuple[Page, ...]]:
    """Hints and their pages, of views whose sizes need not be placed. Raises: RefusedError for a part that fits on no paper."""
    _, hints = hinted(problem, settings)
    return hints, hint_pages(problem, settings, hints, Particulars(code="AAAA-BBBB-CCCC"))


def doubts(hints: Hints, pages: tuple[Page, ...]) -> Iterator[str]:
    """What a reader would stumble over."""
    said = " ".join(mark.text for page in pages for mark in page.marks if isinstance(mark, Text))
    for name in ("look", "begin", "missed"):
        sentences = getattr(hints, name)
        if not sentences:
            yield f"{name} says nothing"
        if missing := [each for each in sentences if each.split(" ", 1)[0] not in said or each.split()[-1] not in said]:
            yield f"{name} was left out: {missing}"
        if len(set(sentences)) < len(sentences):
            yield f"{name} says something twice"
    if len(hints.lengths) != 5 or len({(each.view, each.words) for each in hints.lengths}) != 5:
        yield f"lengths: {[(each.view, each.words) for each in hints.lengths]}"
    if whole := [each.words for each in hints.lengths if "whole" in each.words]:
        yield f"whole lengths: {whole}"


def main() -> None:
    """The command."""
    parser = argparse.ArgumentParser()
    parser.add_argument("--sheets", type=int, default=200)
    parser.add_argument("--families", default="")
    parser.add_argument("--first", type=int, default=1)
    parser.add_argument("--referee")
    parser.add_argument("--long-words", action="store_true")
    parser.add_argument("--say", action="store_true")
    asked = parser.parse_args()
    bank, count, found = load_bank(), Counter[str](), 0
    names = asked.families.split(",") if asked.families else list(bank)
    looks = [settings_of(style) for style in LOOKS]
    if asked.long_words:
        looks = [replace(look, wording=twice_as_long()) for look in looks]
    kept: list[Page] = []
    for number in range(asked.sheets):
        name, seed = names[number % len(names)], asked.first + number // len(names)
        style = (number + number // len(names)) % len(looks)
        try:
            hints, pages = made(problem_of(bank[name].sample(seed, 0)), looks[style])
        except RefusedError:
            count["not drawn"] += 1
            continue
        count["made"] += 1
        kept += pages
        for doubt in doubts(hints, pages):
            found += 1
            print(f"{name} {seed} look {style}: {doubt}", flush=True)
        if asked.say:
            print(f"== {name} {seed}", *hints.look, "-", *hints.begin, "-", *hints.missed, "-",
                  *(f"{each.view}: {each.words}: {each.value:g}" for each in hints.lengths), sep="\n")
        if asked.referee and (len(kept) >= 100 or number == asked.sheets - 1):
            found += refereed(kept, asked.referee)
            kept = []
            print(f"{number + 1} sheets, {found} to look at", file=sys.stderr, flush=True)
    if asked.referee and kept:
        found += refereed(kept, asked.referee)
    print(dict(count), f"{found} to look at")
    sys.exit(found > 0)


def refereed(pages: list[Page], path: str) -> int:
    """How much the referee finds on some pages."""
    file = io.BytesIO()
    write_pdf(Document(pages, title="hints"), file)
    with tempfile.NamedTemporaryFile(suffix=".pdf") as place:
        place.write(file.getvalue())
        place.flush()
        findings = _referee(path).referee(place.name)
    for finding in findings:
        print(finding, flush=True)
    return len(findings)


if __name__ == "__main__":
    main()
