"""Marks of a set: what plans and commands say, the sheets once for all, and the list that no spreadsheet takes for formulas."""

from __future__ import annotations

import csv
from io import StringIO

import pytest
from click.testing import CliRunner
from hypothesis import given
from hypothesis import strategies as st

from sheetgen.bank import load_bank
from sheetgen.cli import main
from sheetgen.exercises import ASKED, Particulars, Role, kinds
from sheetgen.exercises.marking import Marking
from sheetgen.sets import Job, PlanError, Shelf, WorksheetMaker, edition_of, load_plan, marks, run_of
from sheetgen.sets.classes import Student
from sheetgen.sets.marks import MarkingRoleError, check_roles, marks_list, plain_cell
from sheetgen.sheet import Style, settings_of
from sheetgen.templating import TemplateError, load_marking
from tests import samples
from tests.templating.test_marking import GOOD

SETTINGS = settings_of(Style())
PROBLEMS = "problems:\n  - {family: stepped-block, seed: 7}\n  - {family: slotted-wedge, seed: 2}\n"


def rows(content: bytes) -> list[list[str]]:
    return list(csv.reader(StringIO(content.decode("utf-8-sig"), newline="")))


def planned(folder, said="", listed=None):
    (folder / "plan.yaml").write_text(said + PROBLEMS, encoding="utf-8")
    if listed:
        (folder / "list.csv").write_text(listed, encoding="utf-8")
    return load_plan(folder / "plan.yaml", load_bank())


def test_a_row_a_student_a_column_a_part_with_the_codes_of_the_problems():
    students = [Student(2, 1, "Ann Ashby", "17", "10A"), Student(3, 2, "Ben Brook", "18", "10B")]
    codes = {(student, problem): f"C{student}{problem}" for student in (0, 1) for problem in (0, 1)}
    content = marks_list(students, codes, [Marking.of(20.0, load_marking())] * 2, SETTINGS)
    heading, *found = rows(content)
    assert heading[:5] == ["Number", "Name", "Group", "1 code", "1 Arrangement and projection (of 3)"]
    assert heading[5] == "1 FRONT VIEW (of 5)" and heading[11] == "1 total (of 20)" and heading[12] == "2 code"
    assert [row[:4] for row in found] == [["17", "Ann Ashby", "10A", "C00"], ["18", "Ben Brook", "10B", "C10"]]
    assert all(len(row) == len(heading) for row in found) and found[0][12] == "C01" and found[0][4] == ""
    # lines end as RFC 4180 has it, and the mark tells spreadsheets that it is UTF-8
    assert content.startswith(b"\xef\xbb\xbf") and content.count(b"\r\n") == 3


@given(st.text(st.characters(codec="utf-8", exclude_categories=("Cs",)), max_size=20))
def test_no_cell_begins_a_formula_whatever_a_student_is_called(name):
    content = marks_list([Student(2, 1, name, name, name)], {(0, 0): "C"}, [None], SETTINGS)
    for cell in rows(content)[1]:
        assert not cell.lstrip(" \u00a0").startswith(tuple("=+-@\t\r\n\uff1d\uff0b\uff0d\uff20"))


@pytest.mark.parametrize("cell", ["=1+1", "+1", "-1", "@SUM(A1)", "\t=1", "\r=1", " =1", "\uff1d1"])
def test_what_begins_like_a_formula_gets_an_apostrophe_and_stays_legible(cell):
    # the signs are those of general advice on CSV injection (from memory)
    assert plain_cell(cell) == f"'{cell}"


def test_a_plan_says_marks_scheme_and_sheets(tmp_path):
    (tmp_path / "ours.yaml").write_text(GOOD, encoding="utf-8")
    plan = planned(tmp_path, "marks: 12.5\nscheme: ours.yaml\nmarking: yes\noverlay: yes\n")
    assert plan.marking.sheets == (Role.MARKING, Role.OVERLAY)
    marking = plan.marking.marking()
    assert marking is not None and marking.halves == 25 and marking.template.parts["title_block"] == 0
    assert planned(tmp_path).marking.marking() is None


@pytest.mark.parametrize(("said", "fault"), [
    ("marks: 7.3\n", "1: marks: found '7.3', wanted a number of marks, whole or with a half, from 0.5 to 200"),
    ("marks: 0\n", "1: marks: found '0', wanted a number of marks"),
    ("scheme: ../ours.yaml\n", "1: scheme: found '../ours.yaml', wanted one of by-deductions, by-parts, even-split"),
    ("marking: perhaps\n", "1: marking: found 'perhaps'"),
])
def test_what_a_plan_says_wrongly_of_marks_is_told(tmp_path, said, fault):
    with pytest.raises(PlanError) as caught:
        planned(tmp_path, said)
    assert fault in str(caught.value)


def test_a_faulty_scheme_of_ones_own_is_told_before_anything_is_drawn(tmp_path):
    (tmp_path / "ours.yaml").write_text(GOOD.replace("award", "give"), encoding="utf-8")
    with pytest.raises(TemplateError, match="way: found 'give'"):
        edition_of(planned(tmp_path, "scheme: ours.yaml\n"), SETTINGS, ASKED)


@pytest.mark.parametrize(("whose", "count"), [("all", 2), ("each", 4)])
def test_marking_sheets_are_made_once_for_all_who_draw_the_same(tmp_path, whose, count):
    plan = planned(tmp_path, f"class_list: list.csv\nproblems_for: {whose}\nbooks: groups\nmarking: yes\n",
                   "No,Name,Class\n1,Ann,10A\n2,=Ben,10B\n")
    edition = edition_of(plan, settings_of(plan.style), ASKED)
    (tmp_path / "shelf").mkdir()
    maker = WorksheetMaker(plan, edition.jobs, edition.settings, Shelf(tmp_path / "shelf"))
    assert len(list(maker.run())) == len(edition.jobs)
    files = dict(edition.files(maker))
    sheets = {name: len(document.pages) for name, document in files.items() if name.startswith("marking")}
    assert sum(sheets.values()) == count
    assert set(sheets) == ({"marking.pdf"} if whose == "all" else {"marking-10A.pdf", "marking-10B.pdf"})
    [(name, content)] = edition.lists(maker)
    assert name == "marks.csv" and {*edition.names} == {*files, name}
    _, ann, ben = rows(content)
    assert (ann[1], ben[1]) == ("Ann", "'=Ben") and (ann[3] == ben[3]) == (whose == "all")
    assert {ann[3], ben[3]} <= {kept.code for kept in maker.kept.values()}


def test_what_students_get_carries_the_same_mark_whatever_the_problems_are_worth():
    family = load_bank()["stepped-block"]

    def run(marking, roles=ASKED):
        return run_of("", [Job(family, 1, Particulars(marking=marking), roles)], SETTINGS, "1")

    plain, twelve, ten = run(None), run(Marking.of(12.0, load_marking())), run(Marking.of(10.0, load_marking()))
    assert plain.mark == twelve.mark == ten.mark and len({plain.digest, twelve.digest, ten.digest}) == 3


def test_a_kind_without_marking_sheets_is_told(monkeypatch):
    usual = kinds()["views"]
    pages = {role: made for role, made in usual.pages.items() if role not in (Role.MARKING, Role.OVERLAY)}
    other = type(usual)("trial", "T", "nothing much", usual.shared, usual.scale, pages)
    monkeypatch.setattr(marks, "kinds", lambda: {"views": usual, "trial": other})
    check_roles(["views"], [Role.MARKING, Role.OVERLAY])
    with pytest.raises(MarkingRoleError, match="marking: found the kind trial, which has none, wanted another kind: views"):
        check_roles(["trial"], [Role.MARKING])


def test_the_commands_write_marking_sheets_overlays_and_the_list(tmp_path):
    bank = samples.bank_of(tmp_path / "bank", step=samples.STEP)
    said = ["--bank", str(bank), "--out", str(tmp_path / "out"), "--marking", "--overlay", "--marks", "10"]
    said += ["--scheme", "even-split"]
    done = CliRunner().invoke(main, ["sheet", "step", *said])
    assert done.exit_code == 0, done.output
    assert {path.name for path in (tmp_path / "out").iterdir()} == {
        f"step-1-{role}.pdf" for role in ("question", "answer", "marking", "overlay")}
    done = CliRunner().invoke(main, ["worksheet", "--count", "1", *said])
    assert done.exit_code == 0, done.output
    assert {"marking.pdf", "overlays.pdf", "marks.csv"} <= {path.name for path in (tmp_path / "out").iterdir()}
    heading, row = rows((tmp_path / "out" / "marks.csv").read_bytes())
    assert heading[-1] == "1 total (of 10)" and row[:3] == ["", "", ""]


@pytest.mark.parametrize(("said", "told"), [
    (["--marks", "7.3"], "'7.3' is not a number of marks, whole or with a half, from 0.5 to 200"),
    (["--marks", "nan"], "'nan' is not a number of marks"),
    (["--scheme", "nosuch"], "wanted one of by-deductions, by-parts, even-split"),
])
def test_the_command_line_tells_what_would_be_right(tmp_path, said, told):
    done = CliRunner().invoke(main, ["sheet", "stepped-block", "--out", str(tmp_path), *said])
    assert done.exit_code == 2 and told in done.output and not list(tmp_path.iterdir())
