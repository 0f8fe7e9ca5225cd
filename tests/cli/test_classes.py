"""A class on the command line: its options, what is told before the work, and the closing line."""

from __future__ import annotations

import re

import pytest
from click.testing import CliRunner
from pypdf import PdfReader

from sheetgen.cli import main
from tests import samples

LIST = "No,Name\n11,Ann Lee\n12,Ben Okoro\n"


@pytest.fixture
def place(tmp_path):
    """A folder with a bank of a small family, a plan for it and a list."""
    samples.bank_of(tmp_path / "bank", step=samples.STEP)
    (tmp_path / "plan.yaml").write_text(samples.PLAN, encoding="utf-8")
    (tmp_path / "list.csv").write_text(LIST, encoding="utf-8")
    return tmp_path


def run(place, *words, code=0):
    """The worksheet of the plan with these options."""
    command = ["worksheet", place / "plan.yaml", "--only-bank", place / "bank", "--out", place / "out", *words]
    outcome = CliRunner().invoke(main, [str(word) for word in command])
    assert outcome.exit_code == code, outcome.output
    assert "Traceback" not in outcome.output
    return outcome


def listing(place):
    return sorted(path.name for path in (place / "out").iterdir()) if (place / "out").exists() else []


def pages(place, name):
    return [page.extract_text() for page in PdfReader(place / "out" / name).pages]


def test_a_class_list_gives_every_student_the_plans_sheets(place):
    said = run(place, "--class-list", place / "list.csv").stdout
    assert said == f"3 problems for 2 students: {place}/out/questions.pdf and {place}/out/answers.pdf written\n"
    for name in ("questions.pdf", "answers.pdf"):
        assert ["Ann Lee, 11" in text for text in pages(place, name)] == [True] * 3 + [False] * 3
        assert ["Ben Okoro, 12" in text for text in pages(place, name)] == [False] * 3 + [True] * 3
        assert all(f"{number}/3" in text for number, text in zip([1, 2, 3] * 2, pages(place, name), strict=True))


def test_split_gives_each_student_files_by_number_and_many_files_are_counted(place):
    said = run(place, "--class-list", place / "list.csv", "--split", "--answer-key", "--blank").stdout
    assert listing(place) == ["answer-key.pdf", *(f"{book}-{number}.pdf" for book in ("answers", "blanks", "questions")
                                                  for number in (11, 12))]
    assert said == f"3 problems for 2 students: 7 files, {place}/out/questions-11.pdf to {place}/out/answer-key.pdf, written\n"


def test_double_sided_and_the_key_serve_without_a_class_too(place):
    run(place, "--double-sided", "--answer-key")
    assert listing(place) == ["answer-key.pdf", "answers.pdf", "questions.pdf"]
    assert pages(place, "questions.pdf")[3] == "This page is left blank." and len(pages(place, "questions.pdf")) == 4
    [key] = pages(place, "answer-key.pdf")
    codes = [re.findall(r"\b(?:[0-9A-Z]{6}-){2}[0-9A-Z]{6}\b", page) for page in pages(place, "questions.pdf")[:3]]
    assert all(len(found) == 1 for found in codes) and all(code in key for [code] in codes)


def test_without_a_class_nothing_has_changed(place):
    run(place)
    assert listing(place) == ["answers.pdf", "questions.pdf"] and len(pages(place, "questions.pdf")) == 3


def test_split_without_a_class_list_is_told(place):
    said = run(place, "--split", code=2).stderr
    assert "--split needs a class list: --class-list LIST.csv, or class_list in the plan" in said and listing(place) == []


def test_names_that_are_printed_otherwise_are_told_before_anything_is_made_and_a_dry_run_tells_them_too(place):
    (place / "list.csv").write_text("Name\nAnn Lee\nAnn Lee\n", encoding="utf-8")
    done = run(place, "--class-list", place / "list.csv", "--dry-run")
    assert done.stderr.startswith(f"Remark: {place}/list.csv:2: name: found 'Ann Lee'")
    assert "'Ann Lee, 2' is printed" in done.stderr
    assert done.stdout.endswith("For 2 students, with the same problems.\n") and listing(place) == []


def test_of_very_many_such_names_the_first_are_told_and_the_rest_counted(place):
    (place / "list.csv").write_text("Name\n" + "Ann\n" * 100, encoding="utf-8")
    said = run(place, "--class-list", place / "list.csv", "--dry-run").stderr.splitlines()
    assert len(said) == 41 and said[-1] == f"Remark: {place}/list.csv: 60 more such lines"


def test_a_list_at_fault_is_told_with_its_lines_and_nothing_is_written(place):
    (place / "list.csv").write_text("No,Name\n1,Ann,x\n2,Ben\n2,Cai\n", encoding="utf-8")
    said = run(place, "--class-list", place / "list.csv", code=2).stderr.splitlines()
    assert [line.partition(" found ")[0] for line in said] == [f"{place}/list.csv:2:", f"{place}/list.csv:4: number:"]
    assert listing(place) == []


def test_the_list_of_the_command_line_goes_before_that_of_the_plan(place):
    (place / "plans.csv").write_text("Name\nZed\n", encoding="utf-8")
    (place / "plan.yaml").write_text(f"class_list: plans.csv\n{samples.PLAN}", encoding="utf-8")
    run(place)
    assert all("Zed" in text for text in pages(place, "questions.pdf"))
    run(place, "--class-list", place / "list.csv")
    assert "Ann Lee, 11" in pages(place, "questions.pdf")[0]
