"""Worksheets: the order of the plan, the same bytes however they were made, and documents that say what they are."""

from __future__ import annotations

import re
from dataclasses import replace
from io import BytesIO
from pathlib import Path
from tempfile import mkdtemp

import numpy as np
import pytest
from pypdf import PdfReader

from sheetgen.bank import BankError, load_bank
from sheetgen.exercises import ASKED, PRINTED, Role, kinds, make_exercise, making, tried
from sheetgen.ink import Text, write_pdf
from sheetgen.sets import (
    FEW,
    SetError,
    Shelf,
    WorksheetMaker,
    document_of_one,
    edition_of,
    jobs_of,
    load_plan,
    local_workers,
    make_all,
    worksheet,
)
from sheetgen.shared import shipped
from sheetgen.sheet import Style, settings_of
from tests import samples


def maker_of(plan, jobs, folder):
    """What makes a worksheet, with a shelf in a new folder of ``folder``."""
    return WorksheetMaker(plan, jobs, settings_of(plan.style), Shelf(Path(mkdtemp(dir=folder))))


@pytest.fixture(scope="module")
def made(tmp_path_factory):
    """A small worksheet, its PDFs by what they are called."""
    folder = tmp_path_factory.mktemp("worksheet")
    bank = load_bank(samples.bank_of(folder / "bank", step=samples.STEP))
    (folder / "plan.yaml").write_text(samples.PLAN, encoding="utf-8")
    plan = load_plan(folder / "plan.yaml", bank)
    edition = edition_of(plan, settings_of(plan.style), PRINTED)
    maker = maker_of(plan, edition.jobs, folder)
    codes = [exercise.code for exercise in maker.run()]
    files = {}
    for name, document in edition.files(maker):
        write_pdf(document, files.setdefault(name.removesuffix(".pdf"), BytesIO()))
    return codes, files


def test_problems_come_in_the_order_of_the_plan(made):
    codes, files = made
    assert [samples.told(code)[0] for code in codes] == [4, 1, 2]
    for file in files.values():
        pages = [page.extract_text() for page in PdfReader(file).pages]
        assert [code in page for code, page in zip(codes, pages, strict=True)] == [True] * 3


@pytest.mark.parametrize(("block", "numbers"), [
    ("quarry", ["1 OF 3", "2 OF 3", "3 OF 3"]), ("harbour", ["1/3", "2/3", "3/3"])])
def test_sheets_are_numbered_from_1_to_as_many_as_there_are_on_questions_and_answers_alike(tmp_path, block, numbers):
    bank = load_bank(samples.bank_of(tmp_path / "bank", step=samples.STEP))
    (tmp_path / "plan.yaml").write_text(f"title_block: {block}\n{samples.PLAN}", encoding="utf-8")
    plan = load_plan(tmp_path / "plan.yaml", bank)
    for number, (_, made) in zip(numbers, make_all(jobs_of(plan, bank), settings_of(plan.style)), strict=True):
        for [page] in made.sheets.values():
            said = [mark.text for mark in page.marks if isinstance(mark, Text)]
            assert [text for text in said if text in numbers] == [number]


def test_all_exercises_of_a_plan_are_of_its_kind(tmp_path, monkeypatch):
    bank = load_bank(samples.bank_of(tmp_path / "bank", step=samples.STEP))
    (tmp_path / "plan.yaml").write_text(samples.PLAN, encoding="utf-8")
    plan, usual = load_plan(tmp_path / "plan.yaml", bank), kinds()["views"]
    for module in (making, tried, worksheet):
        monkeypatch.setattr(module, "kinds", lambda: {"trial": replace(usual, name="trial", mark="T")})
    made = make_all(jobs_of(replace(plan, kind="trial"), bank), settings_of(plan.style))
    assert [samples.told(exercise.code) for _, exercise in made] == [(4, 0, "T"), (1, 0, "T"), (2, 0, "T")]


def test_every_sheet_has_its_bookmark(made):
    codes, files = made
    reader = PdfReader(files["questions"])
    assert [(mark.title, reader.get_destination_page_number(mark)) for mark in reader.outline] == [
        (f"{number}. Plain step ({code})", number - 1) for number, code in enumerate(codes, 1)]


def test_all_files_say_what_they_are_whose_and_in_which_language(made):
    for part, file in made[1].items():
        reader = PdfReader(file)
        about = reader.metadata
        assert (about.title, about.author) == (f"Week 3: {part}", "T. SQUARE")
        assert about.subject == "DRAWING 1: orthographic views, first angle projection"
        assert about.keywords == "steps"
        assert reader.root_object["/Lang"] == "en-GB"


def test_pages_are_exactly_a3_landscape(made):
    for page in PdfReader(made[1]["answers"]).pages:
        size = np.array([page.mediabox.width, page.mediabox.height], float) * 25.4 / 72
        assert np.allclose(size, [420, 297], atol=0.01)


def test_workers_change_neither_order_nor_bytes(tmp_path):
    bank = load_bank(samples.bank_of(tmp_path / "bank", step=samples.STEP))
    (tmp_path / "plan.yaml").write_text(f"problems:\n  - {{family: step, count: {FEW + 1}}}\n", encoding="utf-8")
    plan = load_plan(tmp_path / "plan.yaml", bank)
    edition = edition_of(plan, settings_of(plan.style), ASKED)
    files = []
    for workers in (1, 2):
        with local_workers(workers) as executor:
            maker = maker_of(plan, edition.jobs, tmp_path)
            assert [samples.told(made.code)[0] for made in maker.run(executor)] == list(range(1, FEW + 2))
            files.append(BytesIO())
            write_pdf(dict(edition.files(maker))["answers.pdf"], files[-1])
    assert files[0].getvalue() == files[1].getvalue()


@pytest.mark.parametrize(("count", "workers"), [(1, 1), (FEW, 2)])
def test_all_problems_that_come_to_nothing_are_told_together(tmp_path, count, workers):
    bank = load_bank(samples.bank_of(tmp_path / "bank", step=samples.STEP, parts=samples.TWO_PIECES, open=samples.UNMEASURED))
    (tmp_path / "plan.yaml").write_text("problems:\n  - {family: parts, seed: 3}\n  - {family: open, seed: 4}\n"
                                        f"  - {{family: step, count: {count}}}\n", encoding="utf-8")
    plan = load_plan(tmp_path / "plan.yaml", bank)
    with local_workers(workers) as executor, pytest.raises(SetError) as caught:
        list(make_all(jobs_of(plan, bank), settings_of(plan.style), executor))
    told = [(fault.file.rpartition("/")[2], fault.found) for fault in caught.value.faults]
    assert [file for file, _ in told] == ["parts.yaml", "open.yaml"]
    assert "falls apart into 2 pieces" in told[0][1] and told[1][1] == "nothing fixes step.bottom"


def test_the_faults_of_all_families_of_a_plan_are_told_together(tmp_path):
    broken = samples.STEP.replace("rung: 1", "rung: high")
    bank = load_bank(samples.bank_of(tmp_path / "bank", one=broken, two=broken, step=samples.STEP))
    (tmp_path / "plan.yaml").write_text(
        "problems:\n  - {family: one, seed: 1}\n  - {family: step, seed: 1}\n  - {family: two, seed: 1}\n", encoding="utf-8")
    with pytest.raises(BankError) as caught:
        jobs_of(load_plan(tmp_path / "plan.yaml", bank), bank)
    assert [fault.file.rpartition("/")[2] for fault in caught.value.faults] == ["one.yaml", "two.yaml"]


NARROW = """\
title: Narrow cells
width: 116
height: 20
cells:
  - {box: [0, 10, 40, 10], text: "{{ number }}"}
  - {box: [40, 10, 18, 10], text: "{{ sheet_of }}", height: 3.5, least: 3.5}
  - {box: [58, 10, 18, 10], text: "{{ document_type }}; {{ set_title }}; {{ scale }}"}
  - {box: [76, 10, 40, 10], symbol: projection}
  - {box: [0, 0, 116, 10], text: "{{ notice }}"}
"""
"""A title block for a few short texts."""


def refused_before_drawing(folder, monkeypatch, plan, name="step"):
    """What is told of a plan for the block NARROW, if nothing has been drawn by then."""
    (folder / "narrow.yaml").write_text(NARROW, encoding="utf-8")
    (folder / "plan.yaml").write_text(plan, encoding="utf-8")
    bank = load_bank(samples.bank_of(folder / "bank", **{name: samples.STEP}))
    read = load_plan(folder / "plan.yaml", bank, "plan.yaml")
    monkeypatch.setattr(worksheet, "make_exercise", lambda *_: pytest.fail("something was drawn"))
    with pytest.raises(SetError) as caught:
        list(make_all(jobs_of(read, bank), settings_of(read.style)))
    return [(fault.file, fault.line, fault.field, fault.found.partition(",")[0]) for fault in caught.value.faults]


def test_a_set_of_a_hundred_that_its_block_cannot_count_is_refused_before_anything_is_drawn(tmp_path, monkeypatch):
    plan = "title_block: narrow.yaml\nproblems:\n  - {family: step, count: %d}\n"
    found = refused_before_drawing(tmp_path, monkeypatch, plan % 100)
    assert found == [("plan.yaml", 2, "problems", "'2 OF 100'")]        # 1 OF 100 would have had room


def test_the_longest_number_that_a_problem_can_come_to_is_tried_and_told_with_its_line(tmp_path, monkeypatch):
    # a seed too large for a practice code is printed in words, and the draw with it: the first variants of a seed may be refused
    plan = ("title_block: narrow.yaml\nproblems:\n  - {family: so-very-much-longer-named-a-step, seed: 1}\n"
            "  - {family: so-very-much-longer-named-a-step, seed: 99999999, }\n")
    [(file, line, field, found)] = refused_before_drawing(tmp_path, monkeypatch, plan, "so_very_much_longer_named_a_step")
    assert (file, line, field) == ("plan.yaml", 4, "problems[2]")
    assert re.fullmatch(r"'so-very-much-longer-named-a-step-99999999\.1\d'", found)


def test_what_a_plan_says_that_does_not_fit_is_told_once_with_the_plans_line(tmp_path, monkeypatch):
    title = "A wide title of many worksheets " * 2 + "and more"
    plan = f"title_block: narrow.yaml\ntitle: {title}\nproblems:\n  - {{family: step, count: 5}}\n"
    [(file, line, field, _)] = refused_before_drawing(tmp_path, monkeypatch, plan)
    assert (file, line, field) == ("plan.yaml", 2, "title")


def test_a_text_of_the_wording_that_does_not_fit_is_told_with_the_wordings_line(tmp_path, monkeypatch):
    english = (shipped("templates") / "wording" / "en.yaml").read_text(encoding="utf-8")
    ours = english.replace("question: Question sheet", f"question: Sheet {'that asks for everything ' * 4}")
    (tmp_path / "ours.yaml").write_text(ours, encoding="utf-8")
    plan = "title_block: narrow.yaml\nwording: ours.yaml\nproblems:\n  - {family: step, seed: 5}\n"
    [(file, line, field, _)] = refused_before_drawing(tmp_path, monkeypatch, plan)
    assert file.endswith("ours.yaml") and field == "documents.question"
    assert ours.splitlines()[line - 1].strip().startswith("question: Sheet that asks")


def test_the_title_of_a_plan_its_approval_and_a_status_of_its_own_stand_on_its_sheets(tmp_path):
    bank = load_bank(samples.bank_of(tmp_path / "bank", step=samples.STEP))
    (tmp_path / "plan.yaml").write_text(samples.PLAN + "approved_by: N. FERROUS\nstatus: FOR HOMEWORK\n", encoding="utf-8")
    plan = load_plan(tmp_path / "plan.yaml", bank)
    [(_, made), *_] = make_all(jobs_of(plan, bank)[:1], settings_of(plan.style))
    for [page] in made.sheets.values():
        assert {"Week 3", "N. FERROUS", "FOR HOMEWORK"} <= {mark.text for mark in page.marks if isinstance(mark, Text)}


def test_sheets_of_a_plan_without_a_status_say_that_they_are_for_practice(tmp_path):
    bank = load_bank(samples.bank_of(tmp_path / "bank", step=samples.STEP))
    for status in ("", 'status: ""\n'):
        (tmp_path / "plan.yaml").write_text(samples.PLAN + status, encoding="utf-8")
        plan = load_plan(tmp_path / "plan.yaml", bank)
        [(_, made), *_] = make_all(jobs_of(plan, bank)[:1], settings_of(plan.style))
        for [page] in made.sheets.values():
            assert "FOR PRACTICE" in {mark.text for mark in page.marks if isinstance(mark, Text)}


def test_refused_variants_are_counted(tmp_path):
    bank = load_bank(samples.bank_of(tmp_path / "bank", step=samples.SOMETIMES))
    (tmp_path / "plan.yaml").write_text("problems:\n  - {family: step, count: 4}\n", encoding="utf-8")
    plan = load_plan(tmp_path / "plan.yaml", bank)
    long = [next(draw for draw in range(20) if bank["step"].sample(seed, draw).sizes["width"] == 60) for seed in range(1, 5)]
    assert sum(long) > 0
    maker = maker_of(plan, jobs_of(plan, bank), tmp_path)
    for _ in maker.run():
        pass
    assert maker.refused == sum(long)


def test_one_sheet_is_named_after_its_part_and_code(tmp_path):
    settings = settings_of(Style(projection="third"))
    exercise = make_exercise(samples.family_of(tmp_path, samples.STEP), 3, settings)
    code, problem = exercise.particulars.code, exercise.problem
    document = document_of_one(exercise.sheets[Role.ANSWER], Role.ANSWER, problem.title, code, problem.topics, settings)
    assert samples.told(code) == (3, 0, "") and document.title == f"Plain step: answer sheet {code}"
    assert document.subject == "orthographic views, third angle projection"
    assert list(document.outline) == [(f"Plain step ({code})", 0)]
