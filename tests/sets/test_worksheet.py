"""Worksheets: the order of the plan, the same bytes however they were made, and documents that say what they are."""

from __future__ import annotations

from dataclasses import replace
from io import BytesIO

import numpy as np
import pytest
from pypdf import PdfReader

from sheetgen.bank import BankError, load_bank
from sheetgen.exercises import Role, kinds, make_exercise, making
from sheetgen.ink import Page, Pen, Stroke, write_pdf
from sheetgen.sets import FEW, SetError, WorksheetMaker, document_of, jobs_of, load_plan, local_workers, make_all
from sheetgen.sets.documents import PageFile
from sheetgen.sheet import Style, settings_of
from tests import samples


@pytest.fixture(scope="module")
def made(tmp_path_factory):
    """A small worksheet, its PDFs by what they are called."""
    folder = tmp_path_factory.mktemp("worksheet")
    bank = load_bank(samples.bank_of(folder / "bank", step=samples.STEP))
    (folder / "plan.yaml").write_text(samples.PLAN, encoding="utf-8")
    plan = load_plan(folder / "plan.yaml", bank)
    with WorksheetMaker(plan, jobs_of(plan, bank, tuple(Role)), settings_of(plan.style)) as maker:
        codes = [exercise.code for exercise in maker.run()]
        files = {role.book: BytesIO() for role in Role}
        for role, document in maker.worksheet().documents.items():
            write_pdf(document, files[role.book])
    return codes, files


def test_problems_come_in_the_order_of_the_plan(made):
    codes, files = made
    assert codes == ["step-4", "step-1", "step-2"]
    for file in files.values():
        pages = [page.extract_text() for page in PdfReader(file).pages]
        assert [code.upper() in page for code, page in zip(codes, pages, strict=True)] == [True] * 3


def test_all_exercises_of_a_plan_are_of_its_kind(tmp_path, monkeypatch):
    bank = load_bank(samples.bank_of(tmp_path / "bank", step=samples.STEP))
    (tmp_path / "plan.yaml").write_text(samples.PLAN, encoding="utf-8")
    plan, usual = load_plan(tmp_path / "plan.yaml", bank), kinds()["views"]
    monkeypatch.setattr(making, "kinds", lambda: {"trial": replace(usual, name="trial", mark="T")})
    made = make_all(jobs_of(replace(plan, kind="trial"), bank), settings_of(plan.style))
    assert [exercise.code for exercise in made] == ["step-4-T", "step-1-T", "step-2-T"]


def test_every_sheet_has_its_bookmark(made):
    reader = PdfReader(made[1]["questions"])
    assert [(mark.title, reader.get_destination_page_number(mark)) for mark in reader.outline] == [
        ("1. Plain step (step-4)", 0), ("2. Plain step (step-1)", 1), ("3. Plain step (step-2)", 2)]


def test_all_files_say_what_they_are_whose_and_in_which_language(made):
    for part, file in made[1].items():
        reader = PdfReader(file)
        about = reader.metadata
        assert (about.title, about.author) == (f"Week 3: {part}", "I. MARLOWE")
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
    jobs = jobs_of(plan, bank)
    files = []
    for workers in (1, 2):
        with local_workers(workers) as executor, WorksheetMaker(plan, jobs, settings_of(plan.style)) as maker:
            assert [made.code for made in maker.run(executor)] == [f"step-{seed}" for seed in range(1, FEW + 2)]
            files.append(BytesIO())
            write_pdf(maker.worksheet().documents[Role.ANSWER], files[-1])
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
    assert "falls apart into 2 pieces" in told[0][1] and "nothing fixes where step.bottom is" in told[1][1]


def test_the_faults_of_all_families_of_a_plan_are_told_together(tmp_path):
    broken = samples.STEP.replace("rung: 1", "rung: high")
    bank = load_bank(samples.bank_of(tmp_path / "bank", one=broken, two=broken, step=samples.STEP))
    (tmp_path / "plan.yaml").write_text(
        "problems:\n  - {family: one, seed: 1}\n  - {family: step, seed: 1}\n  - {family: two, seed: 1}\n", encoding="utf-8")
    with pytest.raises(BankError) as caught:
        jobs_of(load_plan(tmp_path / "plan.yaml", bank), bank)
    assert [fault.file.rpartition("/")[2] for fault in caught.value.faults] == ["one.yaml", "two.yaml"]


def test_refused_variants_are_counted(tmp_path):
    bank = load_bank(samples.bank_of(tmp_path / "bank", step=samples.SOMETIMES))
    (tmp_path / "plan.yaml").write_text("problems:\n  - {family: step, count: 4}\n", encoding="utf-8")
    plan = load_plan(tmp_path / "plan.yaml", bank)
    long = [next(draw for draw in range(20) if bank["step"].sample(seed, draw).sizes["width"] == 60) for seed in range(1, 5)]
    assert sum(long) > 0
    with WorksheetMaker(plan, jobs_of(plan, bank), settings_of(plan.style)) as maker:
        for _ in maker.run():
            pass
        assert maker.worksheet().refused == sum(long)


def test_one_sheet_is_named_after_its_part_and_code(tmp_path):
    settings = settings_of(Style(projection="third"))
    exercise = make_exercise(samples.family_of(tmp_path, samples.STEP), 3, settings)
    document = document_of(exercise, Role.ANSWER, settings)
    assert document.title == "Plain step: answer sheet step-3"
    assert document.subject == "orthographic views, third angle projection"
    assert list(document.outline) == [("Plain step (step-3)", 0)]


def test_pages_put_aside_come_back_as_they_were():
    pages = PageFile()
    for place in range(3):
        pages.append(Page(100.0 + place, 50.0, [Stroke(np.array([[0.0, place], [1.0, 2.0]]), Pen.OUTLINE)]))
    assert len(pages) == 3
    assert [page.width for page in pages] == [100.0, 101.0, 102.0]
    assert pages[1].marks[0].points.tolist() == [[0.0, 1.0], [1.0, 2.0]]
    assert [page.width for page in pages[1:]] == [101.0, 102.0]
    with pytest.raises(IndexError):
        pages[3]
    pages.close()
