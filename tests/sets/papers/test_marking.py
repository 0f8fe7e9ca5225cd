"""Marking sheets and the list of marks of a paper, read back from its files; and what a spare and own files do to the rest."""

from __future__ import annotations

import csv
import json
import os
import re
import secrets
import shutil
from dataclasses import replace
from io import StringIO

import pytest
from pypdf import PdfReader

from sheetgen.bank import load_bank
from sheetgen.exercises import Role, kinds
from sheetgen.exercises.marking.pages import MarkingError
from sheetgen.faults import Fault
from sheetgen.sets.papers.paper import Paper
from sheetgen.sets.papers.plan import load_paper
from sheetgen.sets.papers.secret import load_key
from sheetgen.shared import shipped as shipped_files
from sheetgen.sheet import settings_of
from tests.sets.papers.mock import CODE, LIST, codes, furnish, in_the_corner, pages, paper, printed, streams

MARKING = "marking: yes\n"
FILES = ["answers.pdf", "equity.pdf", "marking.pdf", "marks.csv", "questions.pdf", "record.json", "seating.pdf"]


@pytest.fixture(scope="module")
def made(tmp_path_factory):
    """A paper with marking sheets."""
    return printed(tmp_path_factory, MARKING)


def add(place, said, plan):
    """Say something more in the plan, for the first two candidates alone."""
    (place / "two.csv").write_text("".join(LIST.splitlines(keepends=True)[:3]), encoding="utf-8")
    text = (place / "plan.yaml").read_text(encoding="utf-8").replace("people.csv", "two.csv")
    (place / plan).write_text(text + said, encoding="utf-8")


def rows(place, name="marks.csv", out="out"):
    return list(csv.reader(StringIO((place / out / name).read_bytes().decode("utf-8-sig"), newline="")))


def test_every_candidate_has_a_marking_sheet_of_each_item_with_number_seat_and_code(made):
    assert sorted(path.name for path in (made / "out").iterdir()) == FILES
    said = [" ".join(page.split()) for page in pages(made, "marking.pdf")]
    assert len(said) == 12 and [CODE.search(page)[0] for page in said] == codes(made)
    seats = ["1-1", "1-2", "1-3", "2-1", "2-3", "3-1"]
    for n, page in enumerate(said):
        assert f"{21 + n // 2}, seat {seats[n // 2]}" in page and f"Item {1 + n % 2}: " in page
        assert f"MARKING: {(10, 15)[n % 2]} MARKS" in page
        assert f"TOTAL {(10, 15)[n % 2]}" in page


def test_bookmarks_and_title_blocks_of_marking_sheets_tell_nothing_of_the_family(made):
    reader = PdfReader(made / "out" / "marking.pdf")
    assert [mark["/Title"] for mark in reader.outline] == LIST.replace(",", " ").splitlines()[1:]
    told = [*map(str, reader.metadata.values()), *(word for corner in in_the_corner(made, "marking.pdf") for word in corner)]
    assert not re.search("step|slot|plain|seed|draw[^i]", " ".join(told).lower())


def test_the_list_has_a_row_a_candidate_and_marks_that_add_up(made):
    heading, *found = rows(made)
    assert heading[:3] == ["Number", "Name", "1 code"] and heading[-1] == "Total (of 25)"
    assert [row[:2] for row in found] == [line.split(",") for line in LIST.splitlines()[1:]]
    assert all(len(row) == len(heading) for row in found)
    places = [place for place, text in enumerate(heading) if text.endswith(" code")]
    assert [row[place] for row in found for place in places] == codes(made)
    for item, marks in ((1, 10.0), (2, 15.0)):
        its = [text for text in heading if text.startswith(f"{item} ") and " code" not in text]
        worth = [float(re.search(r"of ([\d.]+)", text)[1]) for text in its]
        assert worth[-1] == marks == sum(worth[:-1]) and len(worth) > 4


def test_questions_and_answers_are_the_same_bytes_with_marking_sheets_and_without(made):
    text = (made / "plan.yaml").read_text(encoding="utf-8")
    (made / "without.yaml").write_text(text.replace(MARKING, ""), encoding="utf-8")
    paper(made, plan="without.yaml", out="without")
    for name in ("questions.pdf", "answers.pdf", "seating.pdf", "equity.pdf"):
        assert (made / "without" / name).read_bytes() == (made / "out" / name).read_bytes(), name
    assert not {"marking.pdf", "marks.csv"} & {path.name for path in (made / "without").iterdir()}


def test_work_begun_without_marking_sheets_is_not_gone_on_with_for_them_and_the_mark_stays(made):
    """The mark is what questions and answers carry; what waits in the hidden folder has marking sheets or has none."""
    plan, bank = load_paper(made / "plan.yaml", load_bank(made / "bank"))
    key, settings = load_key(made / "our.key"), settings_of(plan.style)
    runs = [Paper(one, bank, settings, key, "1").run() for one in (
        plan, replace(plan, marked=False), replace(plan, scheme="even-split"), plan)]
    assert len({run.mark for run in runs}) == 1
    assert len({run.digest for run in runs}) == 3 and runs[0] == runs[-1]


def test_any_number_of_workers_makes_the_same_bytes(made):
    """Two have made the paper."""
    paper(made, "--jobs", 1, out="one")
    for name in FILES:
        assert (made / "one" / name).read_bytes() == (made / "out" / name).read_bytes()


def test_sheets_of_one_candidate_and_of_a_spare_come_with_their_marking(made):
    shutil.copytree(made / "out", made / "again", dirs_exist_ok=True)
    paper(made, "--only", 24, out="again")
    assert streams(made, "marking-24.pdf", "again") == streams(made, "marking.pdf")[6:8]
    assert rows(made, "marks-24.csv", "again") == [rows(made)[0], rows(made)[4]]
    paper(made, "--only", 24, "--spare", 1, out="again")
    [heading, row] = rows(made, "marks-24-spare-1.csv", "again")
    spare = codes(made, "marking-24-spare-1.pdf", "again")
    assert spare == [cell for cell in row if CODE.fullmatch(cell)] == codes(made, "questions-24-spare-1.pdf", "again")
    assert row[:2] == ["24", "Dara Model"] and heading == rows(made)[0] and not set(spare) & set(codes(made))


def test_marking_sheets_are_locked_and_nobody_else_reads_them(made):
    (made / "word.txt").write_text("four plain words here\n", encoding="utf-8")
    add(made, "", "locked.yaml")
    paper(made, "--lock-with", made / "word.txt", plan="locked.yaml", out="locked")
    asks = {path.name for path in (made / "locked").glob("*.pdf") if PdfReader(path).is_encrypted}
    assert asks == {"answers.pdf", "marking.pdf"}
    if os.name == "posix":
        for name in ("marking.pdf", "marks.csv"):
            assert (made / "out" / name).stat().st_mode & 0o777 == 0o600


def test_a_paper_without_names_has_none_in_its_list(made):
    add(made, "names: no\n", "nameless.yaml")
    paper(made, plan="nameless.yaml", out="nameless")
    assert rows(made, out="nameless")[0][:2] == ["Number", "1 code"]
    assert not re.search("Ada|Brook", (made / "nameless" / "marks.csv").read_text(encoding="utf-8-sig"))
    assert not re.search("Ada|Brook", " ".join(pages(made, "marking.pdf", "nameless")))


def test_candidates_who_share_a_variant_have_each_a_marking_sheet_with_their_own_number(made):
    text = (made / "plan.yaml").read_text(encoding="utf-8")
    one = re.sub(r"  - \{family: long-slot.*\n", "", text).replace("marks: 10", "marks: 10, pool: 4").replace(
        "rows: 3, columns: 3, gaps: [2-2]", "rows: 1, columns: 11, gaps: [column 2, column 4, column 6, column 8, column 10]")
    (made / "pooled.yaml").write_text(one, encoding="utf-8")
    paper(made, plan="pooled.yaml", out="pooled")
    found = streams(made, "marking.pdf", "pooled")
    assert len(found) == 6 and len(set(codes(made, "marking.pdf", "pooled"))) == 6
    assert codes(made, "marking.pdf", "pooled") == codes(made, "questions.pdf", "pooled")


def test_an_own_scheme_and_own_instructions_stand_in_the_record_and_their_change_is_told(made):
    shipped = (shipped_files("templates") / "marking" / "by-deductions.yaml").read_text(encoding="utf-8")
    (made / "ours.yaml").write_text(shipped, encoding="utf-8")
    (made / "said.yaml").write_text("instructions:\n  - Draw item {{ items }} last.\n", encoding="utf-8")
    add(made, "scheme: ours.yaml\ninstructions: said.yaml\n", "own.yaml")
    paper(made, plan="own.yaml", out="own")
    said = json.loads((made / "own" / "record.json").read_text(encoding="utf-8"))
    assert said["scheme"] == shipped and said["instructions"] == ["Draw item {{ items }} last."]
    assert "something is taken off for each fault" in " ".join(pages(made, "marking.pdf", "own"))
    (made / "ours.yaml").write_text(shipped.replace("front: 25", "front: 30"), encoding="utf-8")
    (made / "said.yaml").write_text("instructions:\n  - Draw item {{ items }} first.\n", encoding="utf-8")
    assert "there have changed: the instructions, the marking scheme." in paper(made, plan="own.yaml", out="own").output


@pytest.mark.parametrize(("said", "fault"), [
    ("scheme: by-parts\n", "scheme: found a scheme, and no marking sheets, wanted `marking: yes` too, or no scheme"),
    ("marking: yes\nscheme: ../ours.yaml\n", "scheme: found '../ours.yaml', wanted one of by-deductions, by-parts, even-split"),
    ("marking: perhaps\n", "marking: found 'perhaps', wanted"),
])
def test_what_a_plan_says_wrong_of_marking_is_told(tmp_path, said, fault):
    place = furnish(tmp_path, said=said)
    assert fault in paper(place, code=2).output and not (place / "out").exists()


def test_a_marking_sheet_that_has_no_room_is_told_of_its_item_and_not_of_a_variant(tmp_path, monkeypatch):
    def full(*_):
        raise MarkingError([Fault("long-step-77", 0, "marking sheet", "no room on A4 for the scheme", "larger paper")])

    place = furnish(tmp_path, said=MARKING)
    monkeypatch.setitem(kinds()["views"].pages, Role.MARKING, full)
    said = paper(place, "--jobs", 1, code=2).output
    assert "plan.yaml:4: items[1]: found item 1: no room on A4 for the scheme, wanted larger paper" in said
    assert "long-step-77" not in said and not (place / "out").exists()


def test_a_spare_that_lies_further_from_the_middle_than_all_others_brings_the_report_up_to_date(tmp_path, monkeypatch):
    """The report after a spare is that which the whole paper has when it is made again, with the record that lies there; of two
    candidates and four spares some lie so, and some do not."""
    monkeypatch.setattr(secrets, "token_bytes", lambda count: bytes([7] * count))
    place = furnish(tmp_path)
    text = (place / "plan.yaml").read_text(encoding="utf-8")
    (place / "plan.yaml").write_text(text.replace("class_list: people.csv", "candidates: 2"), encoding="utf-8")
    paper(place)
    reports, reached = [], []
    for number in range(5):
        if number:
            paper(place, "--only", 2, "--spare", number)
        reports.append((place / "out" / "equity.pdf").read_bytes())
        reached.append(json.loads((place / "out" / "record.json").read_text(encoding="utf-8"))["reached"])
    assert all(one == other for one, other, before, after in zip(
        reports, reports[1:], reached, reached[1:], strict=False) if before == after)
    assert 1 < len(set(reports)) < 5
    paper(place)
    assert (place / "out" / "equity.pdf").read_bytes() == reports[-1]
