"""Kinds of exercise: found by being there, giving sheets by role, everything their sheets share worked out once."""

from __future__ import annotations

import re
from dataclasses import replace

import numpy as np
import pytest

from sheetgen.bank import load_bank
from sheetgen.exercises import ASKED, PRINTED, USUAL, Kind, Particulars, Role, kinds, make_exercise, making, sheets_of
from sheetgen.exercises.coding import code_of
from sheetgen.exercises.roles import TITLED
from sheetgen.ink import Page, Text
from sheetgen.problem import problem_of
from sheetgen.sheet import Style, settings_of
from tests import samples

SUITED = {"auxiliary": "slotted-wedge"}
"""Families for kinds that the usual one does not serve."""


@pytest.fixture(scope="module")
def problem():
    return problem_of(load_bank()["stepped-block"].sample(7))


def test_the_kind_of_who_names_none_asks_for_the_views():
    assert "views" in kinds()


@pytest.mark.parametrize("kind", kinds().values(), ids=kinds())
def test_every_kind_has_a_question_an_answer_and_a_blank_sheet_in_the_courses_title_block(kind, problem):
    problem = problem_of(load_bank()[SUITED[kind.name]].sample(1)) if kind.name in SUITED else problem
    assert {*ASKED, Role.BLANK} <= set(kind.roles)
    sheets = sheets_of(problem, samples.SETTINGS, kind.roles, kind.name)
    option = kind.option(kind.shared(problem, samples.SETTINGS))
    assert tuple(sheets) == kind.roles
    for role, pages in sheets.items():
        assert pages
        for page in pages if role in TITLED else ():
            said = {mark.text for mark in page.marks if isinstance(mark, Text)}
            assert code_of(problem, samples.SETTINGS, kind.mark, option) in said and "PRACTICE PART - NOT FOR MANUFACTURE" in said
            assert (page.width, page.height) == (420.0, 297.0)


def test_no_two_kinds_share_a_mark_of_one_letter_and_only_the_usual_kind_has_none():
    marks = [kind.mark for kind in kinds().values()]
    assert len(set(marks)) == len(marks) and all(re.fullmatch("[A-Z]", mark) for mark in marks if mark)
    assert kinds()[USUAL].mark == ""


def test_every_kind_has_a_name_on_the_pages_of_packs_and_no_name_is_of_none():
    names = {key.removeprefix("pack.kind_") for key in samples.SETTINGS.wording.phrases if key.startswith("pack.kind_")}
    assert names == set(kinds())


def test_what_the_sheets_of_an_exercise_share_is_worked_out_once_and_handed_to_each(problem):
    drawn, handed = [], []

    def draw(problem, settings):
        drawn.append(object())
        return drawn[-1]

    def page(problem, settings, drawing, particulars):
        handed.append(drawing)
        return (Page(420.0, 297.0, ()),)

    kind = Kind("trial", "T", "nothing much", draw, lambda drawing: "1:2", {Role.QUESTION: page, Role.ANSWER: page})
    sheets = kind.sheets(problem, samples.SETTINGS, Particulars("T-1"), PRINTED)
    assert len(drawn) == 1 and handed == drawn * 2
    [blank] = sheets[Role.BLANK]
    assert {"1:2", "T-1"} <= {mark.text for mark in blank.marks if isinstance(mark, Text)}


def test_sheets_of_another_kind_have_another_code(problem, monkeypatch):
    usual = kinds()["views"]
    monkeypatch.setattr(making, "kinds", lambda: {"views": usual, "trial": replace(usual, name="trial", mark="T")})
    for kind, mark in (("views", ""), ("trial", "T")):
        for [page] in sheets_of(problem, samples.SETTINGS, PRINTED, kind).values():
            assert code_of(problem, samples.SETTINGS, mark) in {mark.text for mark in page.marks if isinstance(mark, Text)}
    family = load_bank()["stepped-block"]
    made = [make_exercise(family, 7, samples.SETTINGS, kind=kind) for kind in ("views", "trial")]
    assert [samples.told(each.particulars.code) for each in made] == [(7, 0, ""), (7, 0, "T")]


def test_a_sheet_is_the_same_whatever_else_is_made_with_it(problem):
    settings = settings_of(Style(projection="third", side="both"))
    everything, alone = sheets_of(problem, settings, PRINTED), sheets_of(problem, settings, [Role.ANSWER])
    for one, other in zip(everything[Role.ANSWER][0].marks, alone[Role.ANSWER][0].marks, strict=True):
        assert type(one) is type(other)
        assert one == other if isinstance(one, Text) else np.array_equal(one.points, other.points)
