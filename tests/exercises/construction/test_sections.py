"""How a part in section is built: the cutting plane first, then the views, then the hatching of what it cuts."""

from __future__ import annotations

from functools import cache

import pytest

from sheetgen.exercises import Particulars, Role, kinds
from sheetgen.exercises.construction import Part
from sheetgen.ink import Pen, Stroke, Text
from sheetgen.sheet import Style
from tests.exercises.construction.made import Built, built, crooked, line_keys, mark_key, missing, odd_numbers, stage_keys, strays

SORTS = {
    "along a plane that turns": ("countersunk-plate", 1, Style()),
    "along a rib": ("flanged-foot", 2, Style(projection="third", side="right")),
    "half in section": ("forked-foot", 2, Style(projection="third", figures="upright")),
}


@cache
def made(sort: str) -> Built:
    family, seed, style = SORTS[sort]
    return built(family, seed, style, "section")


def stage(sort: str, part: Part):
    [found] = [one for one in made(sort).stages if one.part is part]
    return found


@pytest.mark.parametrize("sort", SORTS)
def test_each_line_comes_once_from_what_is_there_with_sizes_of_the_part(sort):
    one = made(sort)
    assert stage_keys(one) == line_keys(one)
    assert [*missing(one), *strays(one), *crooked(one), *odd_numbers(one)] == []


@pytest.mark.parametrize("sort", SORTS)
def test_the_cutting_plane_comes_before_the_views_and_the_hatching_when_their_lines_are_there(sort):
    parts = [one.part for one in made(sort).stages]
    assert parts.index(Part.BOXES) + 1 == parts.index(Part.PLANE) == parts.index(Part.VIEW) - 1
    assert parts[-2:] == [Part.HATCHING, Part.SIZES]


@pytest.mark.parametrize("sort", SORTS)
def test_plane_and_hatching_are_drawn_in_stages_of_their_own(sort):
    pens = {mark.pen for mark in stage(sort, Part.HATCHING).new if isinstance(mark, Stroke)}
    assert pens == {Pen.HATCHING}
    plane = stage(sort, Part.PLANE).new
    assert {mark.text for mark in plane if isinstance(mark, Text)} == {"A"}
    assert Pen.CUTTING in {mark.pen for mark in plane if isinstance(mark, Stroke)}
    for one in made(sort).stages:
        if one.part not in (Part.PLANE, Part.HATCHING):
            assert not any(isinstance(mark, Stroke) and mark.pen in (Pen.HATCHING, Pen.CUTTING) for mark in one.new)


def test_what_is_said_of_the_hatching_is_what_is_drawn():
    assert any("rib" in text for text in stage("along a rib", Part.HATCHING).sentences)
    assert not any("rib" in text for text in stage("along a plane that turns", Part.HATCHING).sentences)
    assert any("centre line" in text for text in stage("half in section", Part.HATCHING).sentences)
    assert any("steps at right angles" in text for text in stage("along a plane that turns", Part.PLANE).sentences)


@pytest.mark.parametrize("sort", SORTS)
def test_the_last_page_has_all_that_the_answer_draws_of_the_section(sort):
    one = made(sort)
    sheets = kinds()["section"].drawn(
        one.task, one.problem, one.settings, Particulars(code="AAAAAA-AAAAAA-AAAAAA"), (Role.CONSTRUCTION, Role.ANSWER))
    last, [answer] = sheets[Role.CONSTRUCTION][-1], sheets[Role.ANSWER]
    pens = Pen.HATCHING, Pen.CUTTING
    keys = [{mark_key(mark) for mark in page.marks if isinstance(mark, Stroke) and mark.pen in pens} for page in (last, answer)]
    assert keys[0] == keys[1] != set()
    earlier = [mark for page in sheets[Role.CONSTRUCTION][:-1] for mark in page.marks if isinstance(mark, Stroke)]
    assert Pen.EARLIER_CUTTING in {mark.pen for mark in earlier} and Pen.EARLIER_HATCHING not in {mark.pen for mark in earlier}
