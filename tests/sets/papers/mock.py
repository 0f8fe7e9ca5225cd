"""A mock paper: two items for six candidates, of families that are quickly drawn; made by the command, and read back."""

from __future__ import annotations

import re

import pdfplumber
from click.testing import CliRunner
from pypdf import PdfReader

from sheetgen.cli import main
from sheetgen.sets.papers.secret import new_key
from sheetgen.templating import load_title_block
from tests import samples

MM = 72 / 25.4

CODE = re.compile(r"\b[0-9A-Y]{6}-[0-9A-Y]{6}-[0-9A-Y]{6}\b")

WEDGE = samples.STEP.replace("Plain step", "Plain slot").replace("x: [30, open]", "x: [30, 45]").replace(
    "  - base.left to step.left\n", "  - base.left to step.left\n  - step.left to step.right\n")

MORE_SIZES = """\
  high: {from: 35, to: 70, step: 1}
  up: {from: 10, to: 25, step: 1}
  at: {from: 20, to: 40, step: 1}
rules:
"""

BLOCKS = {"en": "harbour", "en-elevations": "quarry"}
"""A title block for each wording."""

PLAN = """\
title: Mock paper
school: EXAMPLEFORD
items:
  - {family: long-step, marks: 10, minutes: 20}
  - {family: long-slot, marks: 15}
rooms: [{name: Hall, rows: 3, columns: 3, gaps: [2-2]}]
class_list: people.csv
wording: %s
title_block: %s
cover: no
"""
LIST = "No,Name\n" + "".join(f"{n},{name}\n" for n, name in enumerate(
    ["Ada Example", "Brook Sample", "Cass Specimen", "Dara Model", "Eli Pattern", "Flo Template"], 21))


def long(text: str) -> str:
    """The family with so many sizes that no two candidates need have the same, nor much alike."""
    for was, becomes in (
        ("from: 60, to: 90, step: 5", "from: 70, to: 120, step: 1"), ("from: 30, to: 45, step: 5", "from: 30, to: 60, step: 1"),
        ("rules:\n", MORE_SIZES), ("z: [0, 40]", "z: [0, high]"), ("x: [30, open]", "x: [at, open]"),
        ("x: [30, 45]", "x: [at, at + 15]"), ("z: [15, open]", "z: [up, open]"),
    ):
        text = text.replace(was, becomes)
    return text


def invoke(place, *words, code=0):
    outcome = CliRunner().invoke(main, [str(word) for word in words])
    assert outcome.exit_code == code, outcome.output
    assert "Traceback" not in outcome.output
    return outcome


def paper(place, *words, out="out", key="our.key", plan="plan.yaml", code=0):
    return invoke(place, "paper", place / plan, "--key", place / key, "--only-bank", place / "bank", "--out", place / out, *words,
                  code=code)


def furnish(place, wording="en", block="harbour", said=""):
    """A folder with a bank, a plan that says something more, a list and two keys."""
    samples.bank_of(place / "bank", long_step=long(samples.STEP), long_slot=long(WEDGE))
    (place / "plan.yaml").write_text(PLAN % (wording, block) + said, encoding="utf-8")
    (place / "people.csv").write_text(LIST, encoding="utf-8")
    for name in ("our.key", "other.key"):
        new_key(place / name)
    return place


def printed(factory, said="", wording="en"):
    """A folder in which such a paper is made by two workers, in a wording, with a title block that goes with it."""
    place = furnish(factory.mktemp("paper"), wording, BLOCKS[wording], said)
    paper(place, "--jobs", 2)
    return place


def pages(place, name="questions.pdf", out="out"):
    return [page.extract_text() for page in PdfReader(place / out / name).pages]


def codes(place, name="questions.pdf", out="out"):
    return [CODE.search(text)[0] for text in pages(place, name, out)]


def streams(place, name, out="out"):
    """What is drawn on each page, and in which words: the letters' numbers in a font hang on the pages before."""
    return [(re.sub(rb"/F[0-9+]+ |<[0-9a-f]*> Tj", b"", page.get_contents().get_data()), page.extract_text())
            for page in PdfReader(place / out / name).pages]


def in_the_corner(place, name):
    """The words in each page's title block, which stands in the frame's lower right corner, 10 mm from the paper's edges."""
    said = re.search("title_block: (.*)", (place / "plan.yaml").read_text())[1]
    block = load_title_block(said)
    with pdfplumber.open(place / "out" / name) as document:
        return [page.crop((page.width - (10 + block.width) * MM, page.height - (10 + block.height) * MM, page.width - 10 * MM,
                           page.height - 10 * MM)).extract_text().split() for page in document.pages]
