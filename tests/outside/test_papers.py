"""A whole examination, plan to PDFs: three items for thirty candidates in two rooms, read back from the files alone."""

from __future__ import annotations

import csv
import re
from collections import Counter
from io import StringIO

import pdfplumber
import pytest
from click.testing import CliRunner
from pypdf import PdfReader

from sheetgen.cli import main
from tests import samples
from tests.sets.papers.mock import CODE, WEDGE, long

PLAN = """\
title: Thirty candidates
board: EXAMPLESHIRE BOARD
names: no
figures: upright
wording: %s
items:
  - {family: long-step, marks: 10, minutes: 20}
  - {family: long-slot, marks: 15, minutes: 30}
  - {family: long-step, marks: 5, minutes: 10}
rooms:
  - {name: Hall, rows: 5, columns: 6, gaps: [1-1, 4-4, 4-5, column 5]}
  - {name: Annexe, rows: 3, columns: 3}
candidates: 30
books: rooms
marking: yes
"""
TASK = {"en": "Dimension the views fully", "en-elevations": "Dimension the drawing fully"}


@pytest.fixture(scope="module", params=["en-elevations"])
def paper(request, tmp_path_factory):
    """The folder of a paper, and its wording: that which most other tests of papers have not."""
    place = tmp_path_factory.mktemp("thirty")
    samples.bank_of(place / "bank", long_step=long(samples.STEP), long_slot=long(WEDGE))
    (place / "plan.yaml").write_text(PLAN % request.param, encoding="utf-8")
    make = ["paper", place / "plan.yaml", "--key", place / "our.key", "--only-bank", place / "bank", "--out", place / "out"]
    for words in (["new", "key", place / "our.key"], [*make, "--jobs", "2"]):
        outcome = CliRunner().invoke(main, [str(word) for word in words])
        assert outcome.exit_code == 0, outcome.output
    return place / "out", request.param


def sizes_on(page):
    """The figures on a question's pictorial: what is left of its words above the title block and beside the text."""
    left = page.crop((0, 0, page.width * 0.62, page.height * 0.8))
    return Counter(word["text"] for word in left.extract_words() if re.fullmatch(r"\d{2,3}", word["text"]))


def test_every_candidate_has_three_questions_and_answers_with_marks_that_add_up(paper):
    folder, wording = paper
    assert sorted(path.name for path in folder.iterdir()) == [
        "answers-Annexe.pdf", "answers-Hall.pdf", "equity.pdf", "marking-Annexe.pdf", "marking-Hall.pdf", "marks.csv",
        "questions-Annexe.pdf", "questions-Hall.pdf", "record.json", "seating.pdf"]
    seen, codes = Counter(), {"questions": [], "answers": []}
    for role, room, count in ((role, *room) for role in codes for room in (("Hall", 23), ("Annexe", 7))):
        texts = [" ".join(page.extract_text().split()) for page in PdfReader(folder / f"{role}-{room}.pdf").pages]
        covers = [text for text in texts if not CODE.search(text)]
        assert len(covers) == (count if role == "questions" else 0)
        assert all(re.search(r"1 20 10 2 30 15 3 10 5 TOTAL 60 30", text) and "60 minutes" in text for text in covers)
        texts = [text for text in texts if text not in covers]
        assert len(texts) == 3 * count
        codes[role] += [CODE.search(text)[0] for text in texts]
        for number, text in enumerate(texts):
            marks = int(re.search(r"Item (\d): (\d+) marks, \d+ minutes", text)[2])
            assert (TASK[wording] in text) is (role == "questions")
            assert re.search(rf", seat {room} \d-\d", text)
            seen[role, room, number // 3] += marks
    assert set(seen.values()) == {30} and len(seen) == 60
    assert codes["questions"] == codes["answers"] and len(set(codes["questions"])) == 90
    heading, *rows = csv.reader(StringIO((folder / "marks.csv").read_bytes().decode("utf-8-sig"), newline=""))
    assert [row[0] for row in rows] == [str(number) for number in range(1, 31)] and heading[-1] == "Total (of 30)"
    listed = [cell for row in rows for cell in row if CODE.fullmatch(cell)]
    assert sorted(listed) == sorted(codes["questions"])
    for item, marks in ((1, 10.0), (2, 15.0), (3, 5.0)):
        of = [re.search(r"of ([\d.]+)\)", text) for text in heading if text.startswith(f"{item} ")]
        worth = [float(found[1]) for found in of if found]
        assert sum(worth[:-1]) == worth[-1] == marks


def test_the_markers_book_of_a_room_has_the_sheets_of_its_candidates_by_the_items_marks(paper):
    folder, _ = paper
    said = [" ".join(page.extract_text().split()) for page in PdfReader(folder / "marking-Annexe.pdf").pages]
    answers = [" ".join(page.extract_text().split()) for page in PdfReader(folder / "answers-Annexe.pdf").pages]
    assert [CODE.search(text)[0] for text in said] == [CODE.search(text)[0] for text in answers]
    assert len(said) == 21 and len(PdfReader(folder / "marking-Hall.pdf").pages) == 69
    for number, text in enumerate(said):
        marks = (10, 15, 5)[number % 3]
        assert f"MARKING: {marks} MARKS" in text and f"TOTAL {marks}" in text and f"Item {number % 3 + 1}: " in text
        assert re.search(r"(\d+), seat Annexe \d-\d", text)[1] == str(24 + number // 3)


def test_every_candidate_stands_at_the_seat_that_the_sheets_say(paper):
    """Read from the plan of each room: what stands in the box of a desk, against the title blocks."""
    folder, _ = paper
    said = set()
    for room in ("Hall", "Annexe"):
        for page in PdfReader(folder / f"answers-{room}.pdf").pages:
            said.add(re.search(r"(\d+), seat (\w+) (\d-\d)", " ".join(page.extract_text().split())).groups())
    desks = set()
    with pdfplumber.open(folder / "seating.pdf") as document:
        for page in document.pages:
            room = re.search(r"(\w+): \d+ candidates", page.extract_text())
            for box in page.rects if room else ():
                words = page.crop((box["x0"], box["top"], box["x1"], box["bottom"])).extract_text().split()
                if len(words) == 2:                         # the seat, and who sits there
                    desks.add((words[1], room[1], words[0]))
    assert len(said) == 30 and desks == said


def test_neighbours_have_few_figures_in_common(paper):
    """Read from the pictorials, whatever they measure: no two alike, and of all figures that neighbours could share under a
    quarter."""
    folder, _ = paper
    sheets = {}
    with pdfplumber.open(folder / "questions-Annexe.pdf") as document:
        for page in document.pages:
            text = " ".join(page.extract_text().split())
            if not CODE.search(text):                       # a cover
                continue
            row, column = map(int, re.search(r"seat Annexe (\d)-(\d)", text).groups())
            sheets[row, column, int(re.search(r"Item (\d)", text)[1])] = sizes_on(page)
    assert len(sheets) == 21 and all(sum(found.values()) >= 5 for found in sheets.values())
    pairs = [(one, other) for one in sheets for other in sheets
             if one < other and one[2] == other[2] and max(abs(one[0] - other[0]), abs(one[1] - other[1])) == 1]
    assert len(pairs) > 20
    assert all(sheets[one] != sheets[other] for one, other in pairs)
    shared = sum(sum((sheets[one] & sheets[other]).values()) for one, other in pairs)
    assert shared < sum(sum(sheets[one].values()) for one, _ in pairs) / 4
