"""A week's worksheet for a class of 32, plan to PDFs: problems of their own, marking sheets and the list of marks, all read back
from the files alone."""

from __future__ import annotations

import csv
import re
from collections import Counter
from functools import cache
from io import StringIO

import pdfplumber
import pytest
from click.testing import CliRunner
from pypdf import PdfReader

from sheetgen.cli import main
from tests import samples
from tests.sets.papers.mock import CODE, WEDGE, long

MM = 72 / 25.4

PLAN = """\
title: Parts with steps
term: Autumn
school: EXAMPLEFORD
class_list: class.csv
problems_for: each
answer_key: yes
marking: yes
marks: 12.5
figures: upright
wording: %s
problems:
  - {family: long-step}
  - {family: long-slot}
"""
FIRST = ("Ada", "Brook", "Cass", "Dara", "Eli", "Flo", "Gus", "Hal")
LAST = ("Example", "Sample", "Specimen", "Pattern")
CLASS = [(str(101 + number), f"{FIRST[number % 8]} {LAST[number // 8]}") for number in range(32)]

TASK = {"en": "Dimension the views fully", "en-elevations": "Dimension the drawing fully"}
VIEWS = {"en": {"FRONT", "TOP", "SIDE"}, "en-elevations": {"PLAN", "ELEVATION"}}


@pytest.fixture(scope="module", params=["en"])
def week(request, tmp_path_factory):
    """The folder of the second week's worksheet, and its wording: of another one, ``test_papers.py`` makes a paper."""
    place = tmp_path_factory.mktemp("class")
    samples.bank_of(place / "bank", long_step=long(samples.STEP), long_slot=long(WEDGE))
    (place / "plan.yaml").write_text(PLAN % request.param, encoding="utf-8")
    (place / "class.csv").write_text("No,Name,Group\n" + "".join(f"{n},{name},10B\n" for n, name in CLASS), encoding="utf-8")
    words = ["worksheet", place / "plan.yaml", "--week", "2", "--only-bank", place / "bank", "--out", place / "out", "--jobs", 2]
    outcome = CliRunner().invoke(main, [str(word) for word in words])
    assert outcome.exit_code == 0, outcome.output
    return place / "out", request.param


@cache
def texts(folder, name):
    return [" ".join(page.extract_text().split()) for page in PdfReader(folder / name).pages]


def codes(folder, name):
    return [CODE.search(text)[0] for text in texts(folder, name)]


def test_every_student_has_two_questions_and_answers_with_name_and_codes_of_their_own(week):
    folder, wording = week
    assert sorted(path.name for path in folder.iterdir()) == [
        "answer-key.pdf", "answers.pdf", "marking.pdf", "marks.csv", "questions.pdf"]
    for name in ("questions.pdf", "answers.pdf"):
        said = texts(folder, name)
        assert len(said) == 64
        for number, text in enumerate(said):
            student, called = CLASS[number // 2]
            assert f"{called}, {student}" in text and "10B" in text and f"{number % 2 + 1}/2" in text
            assert "EXAMPLEFORD" in text and (name == "questions.pdf" or VIEWS[wording] <= set(text.split()))
            assert (TASK[wording] in text) is (name == "questions.pdf")
        assert all(re.search("week 2", text, re.I) for text in said)
    assert codes(folder, "questions.pdf") == codes(folder, "answers.pdf")
    assert len(set(codes(folder, "questions.pdf"))) == 64


def test_no_two_students_have_the_same_sizes(week):
    """The figures of each pictorial: what is left of the words, above the title block and beside the text."""
    seen = Counter()
    with pdfplumber.open(week[0] / "questions.pdf") as document:
        for number, page in enumerate(document.pages):
            left = page.crop((0, 0, page.width * 0.62, page.height * 0.8))
            figures = sorted(word["text"] for word in left.extract_words() if re.fullmatch(r"\d{2,3}", word["text"]))
            assert len(figures) >= 5
            seen[number % 2, tuple(figures)] += 1
    # the same figures may be of other measures, so of 64 a few may be alike by chance
    assert len(seen) >= 60


def test_the_marking_sheets_are_of_the_same_problems_and_their_marks_add_up(week):
    folder, _ = week
    said = texts(folder, "marking.pdf")
    assert [CODE.search(text)[0] for text in said] == codes(folder, "questions.pdf")
    assert all("MARKING: 12.5 MARKS" in text and "TOTAL 12.5" in text for text in said)
    with pdfplumber.open(folder / "marking.pdf") as document:
        for page in document.pages[:6]:
            assert column_of_marks(page) == [12.5, 12.5]


def column_of_marks(page):
    """Of the table's column MARKS: the sum of its parts, and what stands in its last row."""
    [head] = [word for word in page.extract_words() if word["text"] == "MARKS" and word["bottom"] - word["top"] < 4 * MM
              and word["x0"] > page.width * 0.8]
    found = [float(word["text"]) for word in page.crop((head["x0"] - 2, head["bottom"], head["x1"] + 2, page.height * 0.8))
             .extract_words() if re.fullmatch(r"\d+(\.5)?", word["text"])]
    return [sum(found[:-1]), found[-1]]


def test_the_list_has_a_row_a_student_with_the_codes_of_the_sheets_and_marks_that_add_up(week):
    folder, _ = week
    heading, *found = csv.reader(StringIO((folder / "marks.csv").read_bytes().decode("utf-8-sig"), newline=""))
    assert [row[:3] for row in found] == [[student, called, "10B"] for student, called in CLASS]
    places = [place for place, text in enumerate(heading) if text.endswith(" code")]
    assert len(places) == 2
    assert [row[place] for row in found for place in places] == codes(folder, "questions.pdf")
    for item in (1, 2):
        worth = [float(re.search(r"of ([\d.]+)\)", text)[1]) for text in heading
                 if text.startswith(f"{item} ") and not text.endswith(" code")]
        assert sum(worth[:-1]) == worth[-1] == 12.5


def test_the_key_has_the_codes_of_all_and_figures_that_a_copier_keeps(week):
    folder, _ = week
    with pdfplumber.open(folder / "answer-key.pdf") as document:
        said = [word["text"] for page in document.pages for word in page.extract_words() if CODE.fullmatch(word["text"])]
        assert sorted(said) == sorted(codes(folder, "questions.pdf"))
        page = document.pages[1]
        heights = {round(float(char["size"]) * 0.7 / MM, 1) for char in page.chars
                   if 30 * MM < char["x0"] < page.width - 20 * MM and 40 * MM < char["top"] < page.height - 20 * MM}
    assert min(heights) >= 2.5                                  # capitals are 0.7 of the type's size
