"""The question sheet: at what scale the pictorial is drawn."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from sheetgen.bank import Identity
from sheetgen.bank.features import Block, Cylinder, Hole
from sheetgen.exercises import Role, column, picture, sheets_of
from sheetgen.ink import Pen, Stroke, Text, text_width
from sheetgen.placing import PlacingError
from sheetgen.problem import Problem
from sheetgen.projection import view_of
from sheetgen.refusals import RefusedError
from sheetgen.sheet import Style, settings_of
from sheetgen.solid import build
from sheetgen.templating import load_wording, wording_names
from tests.parts import S3, Part, outer
from tests.wordings import wording_with

SETTINGS = settings_of(Style())


def scales_tried(monkeypatch, works_at: float) -> tuple[list[float], list[str]]:
    """Scales at which the pictorial of a small block is tried if its sizes find place at one only; what the page says."""
    tried = []

    def choose(ground, offers, items):
        if tried[-1] != works_at:
            raise PlacingError(0, "no room")
        return []

    def offers(placed, items, **words):
        tried.append(placed.scale)
        return whole(placed, items, **words)

    whole = picture.pictorial_offers
    monkeypatch.setattr(picture, "pictorial_offers", offers)
    monkeypatch.setattr(picture, "choose", choose)
    problem = Problem(Identity("S3", 1), "Block", (), S3.solid(), S3.measures())
    [page] = sheets_of(problem, SETTINGS, [Role.QUESTION])[Role.QUESTION]
    return tried, [mark.text for mark in page.marks if isinstance(mark, Text)]


def test_the_pictorial_is_drawn_as_large_as_it_fits_or_one_step_smaller(monkeypatch):
    # ISO 5455: 1:1, 1:2
    tried, said = scales_tried(monkeypatch, 0.5)
    assert set(tried) == {1.0, 0.5}
    assert "ISOMETRIC DRAWN 1:2 ALONG THE AXES" in said               # while the views are asked for full size


def test_where_it_has_the_scale_of_the_views_nothing_is_said_of_it(monkeypatch):
    tried, said = scales_tried(monkeypatch, 1.0)
    assert set(tried) == {1.0} and not any("ISOMETRIC" in line for line in said)


@pytest.mark.parametrize("name", wording_names())
def test_each_view_that_is_asked_for_stands_in_one_line(name):
    # a letter alone in a line is easily overlooked
    say = load_wording(name).render
    for view in ("front", "top", "left", "right"):
        asked = say("question.view", letter="d", view=say(f"named.{view}", arrow="F"), last="no")
        assert text_width(asked, column.TEXT_HEIGHTS[0]) <= column.WIDTH


@pytest.mark.parametrize("name", wording_names())
@pytest.mark.parametrize("axis", ["x", "y"])
def test_a_symmetry_is_told_in_one_line(name, axis):
    assert text_width(load_wording(name).render(f"question.symmetry_{axis}"), column.TEXT_HEIGHTS[0]) <= column.WIDTH


def arrows_of(style: Style, role: Role) -> dict[str, tuple[float, float]]:
    """The arrows of sight on a sheet of a small block: the letter at the tail, and the way from tail to tip."""
    problem = Problem(Identity("S3", 1), "Block", (), S3.solid(), S3.measures())
    [page] = sheets_of(problem, settings_of(style), [role])[role]
    letters = [mark for mark in page.marks if isinstance(mark, Text) and mark.height == 5.0 and mark.text in ("F", "L", "R")]
    bold = [mark.points for mark in page.marks if isinstance(mark, Stroke) and mark.pen is Pen.BORDER and len(mark.points) == 2]
    found = {}
    for letter in letters:
        ends = [sorted(line, key=lambda end: float(np.hypot(*(end - letter.at)))) for line in bold]
        tail, tip = min(ends, key=lambda line: float(np.hypot(*(line[0] - letter.at))))
        found[letter.text] = tuple(np.sign(np.round(tip - tail, 6)))
    return found


@pytest.mark.parametrize("role", [Role.QUESTION, Role.ANSWER])
def test_a_course_can_have_an_arrow_of_sight_for_each_side_view(role):
    # seen from the front and the right, an isometric has the front face at the lower left: one looks up and to the right at it
    # and up and to the left at the right side, and from the left down and to the right
    upward, down = {"F": (1, 1), "R": (-1, 1)}, {"L": (1, -1)}
    assert arrows_of(Style(side="both"), role) == {"F": upward["F"]}
    assert arrows_of(Style(side="right", arrows="each"), role) == upward
    assert arrows_of(Style(side="both", arrows="each"), role) == upward | down


BLOCK = Block("base", False, (0, 60), (0, 40), (0, 20))


def asked_of(features, symmetry=()) -> str:
    """What the question of a part says, in one line."""
    part = Part((BLOCK, *features), outer(), 3)
    problem = Problem(Identity("block", 1), "Block", (), part.solid(), part.measures(), symmetry)
    [page] = sheets_of(problem, SETTINGS, [Role.QUESTION])[Role.QUESTION]
    return " ".join(mark.text for mark in page.marks if isinstance(mark, Text))


@pytest.mark.parametrize(("features", "symmetry", "asked"), [
    ((), (), False),                                                           # nothing has a centre line
    ((Hole("bore", "top", ((20, 15),), 12),), (), True),                       # round, and not symmetric
    ((Cylinder("notch", True, "y", ((20, 20),), 16, (None, None)),), (), True),
    ((), ("x",), True),                                                        # flat, and symmetric
    ((Hole("bore", "top", ((30, 20),), 12),), ("x", "y"), True),
])
def test_centre_lines_are_asked_for_where_the_answer_has_any(features, symmetry, asked):
    # what is marked must have been asked for (common practice, no source)
    said = asked_of(features, symmetry)
    assert (SETTINGS.wording.render("question.centre_lines") in said) is asked
    drawn = [view_of(build((BLOCK, *features)), name, symmetry=symmetry).centre_lines for name in ("front", "top", "left")]
    assert any(drawn) is asked


def test_of_the_views_that_are_asked_for_the_last_one_ends_the_sentence():
    said, say = asked_of(()), SETTINGS.wording.render
    views = ("front", "top", "left")
    for letter, view in zip(("first", "second", "third"), views, strict=True):
        named = say(f"named.{view}", arrow=say("letters.arrow_front") if view == "front" else "")
        last, middle = (say("question.view", letter=say(f"letters.{letter}"), view=named, last=word) for word in ("yes", "no"))
        assert last != middle
        assert (last in said) is (view == views[-1])
        assert (middle in said) is (view != views[-1])


@pytest.mark.parametrize("symmetry", [(), ("x",), ("x", "y")])
def test_hidden_detail_and_sizes_are_always_asked_for(symmetry):
    said = asked_of((), symmetry)
    for key in ("question.hidden", "question.dimension", "question.sheet"):
        assert SETTINGS.wording.render(key) in said


LONG = ("question.hidden", "question.dimension", "named.front", "named.top", "named.left", "named.right")


def asked_in(long: int) -> set[float]:
    """Heights of the question's text on the smallest paper, so many of its texts being as long as they may be."""
    texts = {key: phrase.source for key, phrase in SETTINGS.wording.phrases.items()}
    wording = wording_with(texts | dict.fromkeys(LONG[:long], "LOOK AT THE NEXT LINE TOO " * 11))
    settings = replace(settings_of(Style(paper="A4", side="both", title_block="quarry")), wording=wording)
    problem = Problem(Identity("S3", 1), "Block", (), S3.solid(), S3.measures())
    [page] = sheets_of(problem, settings, [Role.QUESTION])[Role.QUESTION]
    return {mark.height for mark in page.marks if isinstance(mark, Text) and mark.text.startswith("Draw")}


def test_a_text_that_fills_its_column_is_set_smaller_and_one_that_is_too_long_even_then_is_refused():
    assert (asked_in(0), asked_in(3)) == ({3.5}, {2.5})
    with pytest.raises(RefusedError, match="no room on the question sheet for what it asks"):
        asked_in(6)


def test_it_is_refused_rather_than_drawn_smaller_still(monkeypatch):
    with pytest.raises(RefusedError, match=r"on the pictorial, .*: no room"):
        scales_tried(monkeypatch, 0.2)
