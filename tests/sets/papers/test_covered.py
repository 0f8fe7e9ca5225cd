"""What a paper's command makes besides sheets: covers in the book of questions, the seating, how even it is, locked answers."""

from __future__ import annotations

import pytest
from click.testing import CliRunner
from pypdf import PasswordType, PdfReader

from sheetgen.cli import main
from sheetgen.sets.papers.secret import new_key
from sheetgen.shared import shipped
from tests import samples
from tests.sets.papers.mock import LIST, WEDGE, long

PLAN = """\
title: Mock paper
board: EXAMPLESHIRE BOARD
items:
  - {family: long-step, marks: 10, minutes: 20}
  - {family: long-slot, marks: 15, minutes: 30}
rooms: [{name: Hall, rows: 3, columns: 3, gaps: [2-2]}]
class_list: people.csv
"""
NUMBERS = ["21", "22", "23", "24", "25", "26"]
SEATS = ["1-1", "1-2", "1-3", "2-1", "2-3", "3-1"]


def run(place, *words, code=0, command="paper"):
    outcome = CliRunner().invoke(main, [command, *map(str, words)])
    assert outcome.exit_code == code, outcome.output
    assert "Traceback" not in outcome.output
    return outcome


def make(place, *words, plan=PLAN, code=0):
    (place / "plan.yaml").write_text(plan, encoding="utf-8")
    given = ("--key", place / "our.key", "--only-bank", place / "bank", "--out", place / "out")
    return run(place, place / "plan.yaml", *given, *words, code=code)


@pytest.fixture(scope="module")
def furnished(tmp_path_factory):
    """A folder with families, a list and a key, and a paper made."""
    place = tmp_path_factory.mktemp("paper")
    samples.bank_of(place / "bank", long_step=long(samples.STEP), long_slot=long(WEDGE))
    (place / "people.csv").write_text(LIST, encoding="utf-8")
    (place / "word.txt").write_text("four plain words here", encoding="utf-8")
    new_key(place / "our.key")
    make(place)
    return place


def texts(path):
    return [page.extract_text() for page in PdfReader(path).pages]


def cover(text):
    return "READ THIS FIRST" in text


def test_each_candidates_questions_stand_under_their_cover_and_answers_have_none(furnished):
    pages = texts(furnished / "out" / "questions.pdf")
    assert [cover(text) for text in pages] == [True, False, False] * 6
    for number, seat, (first, *rest) in zip(NUMBERS, SEATS, (pages[k:k + 3] for k in range(0, 18, 3)), strict=True):
        assert number in first and seat in first and "Hall" in first and "EXAMPLESHIRE BOARD" in first
        assert "50 minutes" in first and "worth 25 marks in all" in first
        assert all(f"{number}, seat {seat}" in text.replace("\n", " ") for text in rest)
    assert not any(map(cover, texts(furnished / "out" / "answers.pdf")))


def test_bookmarks_lead_to_covers(furnished):
    reader = PdfReader(furnished / "out" / "questions.pdf")
    assert [reader.get_destination_page_number(entry) for entry in reader.outline] == [0, 3, 6, 9, 12, 15]


def test_seating_and_equity_lie_beside_the_books_and_carry_the_mark_of_the_set(furnished):
    files = sorted(path.name for path in (furnished / "out").iterdir())
    assert files == ["answers.pdf", "equity.pdf", "questions.pdf", "record.json", "seating.pdf"]
    seating = "\n".join(texts(furnished / "out" / "seating.pdf")).split()
    assert all(seating.count(number) == 2 for number in NUMBERS)             # at the desk, and in the list
    assert len(PdfReader(furnished / "out" / "equity.pdf").pages) == 3
    assert len({PdfReader(furnished / "out" / name).metadata.creator for name in files if name.endswith(".pdf")}) == 1


def test_answers_are_locked_and_what_is_handed_out_is_not(furnished):
    others = ("questions.pdf", "seating.pdf", "equity.pdf", "record.json")
    before = {name: (furnished / "out" / name).read_bytes() for name in others}
    make(furnished, "--lock-with", furnished / "word.txt")
    reader = PdfReader(furnished / "out" / "answers.pdf")
    assert reader.is_encrypted and reader.decrypt("four plain words here") is not PasswordType.NOT_DECRYPTED
    assert {name: (furnished / "out" / name).read_bytes() for name in before} == before
    assert (furnished / "out" / "answers.pdf").stat().st_mode & 0o777 == 0o600


def test_one_candidates_sheets_come_again_with_their_cover_and_nothing_for_the_office(furnished):
    whole = texts(furnished / "out" / "questions.pdf")[3:6]
    make(furnished, "--only", 22)
    assert texts(furnished / "out" / "questions-22.pdf") == whole
    reader = PdfReader(furnished / "out" / "questions-22.pdf")
    assert [reader.get_destination_page_number(entry) for entry in reader.outline] == [1, 2]


def test_on_both_sides_of_paper_a_covers_back_is_blank_and_every_candidate_begins_on_a_front(furnished):
    make(furnished, "--only", 22, plan=PLAN + "double_sided: yes\n")
    pages = texts(furnished / "out" / "questions-22.pdf")
    assert [cover(text) for text in pages] == [True, False, False, False]
    assert pages[1].strip() == "This page is left blank."


def test_a_paper_may_go_without_covers(furnished):
    make(furnished, "--only", 22, plan=PLAN + "cover: no\n")
    assert len(texts(furnished / "out" / "questions-22.pdf")) == 2


def test_a_file_of_instructions_beside_the_plan_is_printed_and_the_one_to_begin_with_works(furnished):
    (furnished / "ours.yaml").write_bytes((shipped("templates") / "start" / "instructions.yaml").read_bytes())
    make(furnished, "--only", 22, plan=PLAN + "instructions: ours.yaml\n")
    first = texts(furnished / "out" / "questions-22.pdf")[0].replace("\n", " ")
    assert "Answer all 2 items. They are worth 25 marks, and you have 50 minutes." in first
    assert "Pocket calculators stay in your bag." in first and "Take sizes from their figures" not in first


@pytest.mark.parametrize(("said", "told"), [
    ("instructions: ../ours.yaml", "plan.yaml:8: instructions: found '../ours.yaml', wanted the name of a .yaml file beside"),
    ("instructions: none.yaml", "plan.yaml:8: instructions: found 'none.yaml'"),
    ("instructions: '{{ seed }}'", "plan.yaml:8: instructions[1]: found the unknown value seed"),
    ("instructions: bad.yaml", "bad.yaml:2: instructions[1]: found the construction 'call'"),
    ("instructions: bad.yaml", "bad.yaml:3: instructions[2]: found the sign"),
    ("instructions: other.yaml", "this is a title block"),
])
def test_instructions_at_fault_are_told_with_file_and_line_before_anything_is_made(furnished, said, told):
    (furnished / "bad.yaml").write_text("instructions:\n  - \"{{ minutes() }}\"\n  - Ж\n", encoding="utf-8")
    (furnished / "other.yaml").write_bytes((shipped("templates") / "start" / "title-block.yaml").read_bytes())
    assert told in make(furnished, plan=PLAN + said + "\n", code=2).stderr
