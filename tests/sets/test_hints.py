"""Hint sheets of a set: who gets them, how they are bound, and how they are asked for."""

from __future__ import annotations

from pathlib import Path

import pytest
from click.testing import CliRunner

from sheetgen.bank import load_bank
from sheetgen.cli import main
from sheetgen.cli.helping import SHEETS
from sheetgen.exercises import ASKED, FOR_STUDENTS, ONCE, Role, make_exercise
from sheetgen.ink import Text, page_text
from sheetgen.sets import WorksheetMaker, edition_of, load_plan
from sheetgen.sets.plan import Plan
from sheetgen.sets.shelf import Shelf
from sheetgen.sheet import Style, settings_of
from tests import samples

LIST = "No,Name,Class\n1,Ann,10A\n2,Ben,10B\n"


def planned(folder: Path, said: str) -> Plan:
    (folder / "list.csv").write_text(LIST, encoding="utf-8")
    (folder / "plan.yaml").write_text(f"{said}problems:\n  - {{family: step, count: 2}}\n", encoding="utf-8")
    return load_plan(folder / "plan.yaml", load_bank(samples.bank_of(folder / "bank", step=samples.STEP)))


def pages_of(folder: Path, said: str) -> dict[str, list]:
    """The pages of hints of a plan, by the names of their files."""
    plan = planned(folder, said)
    edition = edition_of(plan, settings_of(plan.style), ASKED)
    (folder / "shelf").mkdir()
    maker = WorksheetMaker(plan, edition.jobs, edition.settings, Shelf(folder / "shelf"))
    assert len(list(maker.run())) == len(edition.jobs)
    files = dict(edition.files(maker))
    assert set(files) == set(edition.names)
    return {name: list(document.pages) for name, document in files.items() if name.startswith("hints")}


def texts(page) -> list[str]:
    return [mark.text for mark in page.marks if isinstance(mark, Text)]


def test_a_plan_asks_for_hints(tmp_path):
    assert planned(tmp_path, "hints: yes\n").helps == (Role.HINTS,)
    assert planned(tmp_path, "").helps == ()


def test_hints_are_made_once_for_all_who_draw_the_same(tmp_path):
    [(name, pages)] = pages_of(tmp_path, "class_list: list.csv\nbooks: groups\nhints: yes\n").items()
    assert name == "hints.pdf" and len(pages) == 2


def test_each_student_with_problems_of_their_own_has_hints_with_the_name(tmp_path):
    found = pages_of(tmp_path, "class_list: list.csv\nproblems_for: each\nbooks: groups\nhints: yes\n")
    assert {name: len(pages) for name, pages in found.items()} == {"hints-10A.pdf": 2, "hints-10B.pdf": 2}
    assert all("Ann" in " ".join(texts(page)) for page in found["hints-10A.pdf"])


def test_of_paper_printed_on_both_sides_the_back_of_what_is_folded_is_free(tmp_path):
    [pages] = pages_of(tmp_path, "hints: yes\ndouble_sided: yes\n").values()
    assert ["HINTS" in " ".join(texts(page)) for page in pages] == [True, False, True, False]
    assert len({(page.width, page.height) for page in pages}) == 1
    assert all(len(texts(page)) == 1 for page in pages[1::2])


def test_question_and_answer_are_the_same_with_hints_and_without():
    family, settings = load_bank()["slotted-angle"], settings_of(Style())
    plain, more = (make_exercise(family, 3, settings, roles).sheets for roles in (ASKED, (*ASKED, Role.HINTS)))
    for role in ASKED:
        assert [page_text(page) for page in plain[role]] == [page_text(page) for page in more[role]]


def test_hints_are_for_students_and_so_not_locked_away_with_the_answers():
    assert Role.HINTS in FOR_STUDENTS and set(FOR_STUDENTS) <= set(ONCE)
    assert not Role.HINTS.tells


def test_the_command_line_has_an_option_for_each_sheet_for_students():
    assert set(SHEETS) == {role.value for role in FOR_STUDENTS}


@pytest.mark.parametrize(("words", "files"), [
    (["sheet", "step"], {"step-1-question.pdf", "step-1-answer.pdf", "step-1-hints.pdf"}),
    (["worksheet", "--count", "1"], {"questions.pdf", "answers.pdf", "hints.pdf"}),
])
def test_the_commands_write_hint_sheets(tmp_path, words, files):
    bank = samples.bank_of(tmp_path / "bank", step=samples.STEP)
    done = CliRunner().invoke(main, [*words, "--only-bank", str(bank), "--out", str(tmp_path / "out"), "--hints"])
    assert done.exit_code == 0, done.output
    assert {path.name for path in (tmp_path / "out").iterdir()} == files
