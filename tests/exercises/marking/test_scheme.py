"""Schemes: they add up for every family by every template, and count the lines that the answer shows."""

from __future__ import annotations

from collections import Counter
from functools import cache

import pytest

from sheetgen.bank import Identity, load_bank
from sheetgen.exercises.drawing import Drawing, drawing_of
from sheetgen.exercises.marking import Marking, columns_of, scheme_of
from sheetgen.ink import Pen
from sheetgen.problem import Problem, problem_of
from sheetgen.refusals import RefusedError
from sheetgen.sheet import Style, settings_of
from sheetgen.templating import load_marking, marking_names
from sheetgen.templating.marking import SORTS
from tests.families import sample
from tests.parts import S1, S2, S4

BANK, SOME = load_bank(), sample("scheme")
STYLES = (Style(), Style(side="right", projection="third"), Style(side="both", paper="A2"))
MARKS = (20.0, 0.5, 3.5, 7.0, 12.5, 50.0, 100.0, 200.0)


@cache
def drawn(name: str, look: int = 0) -> tuple[Drawing, str]:
    """The answer of a variant of a family, and the course's side view, in one of the looks."""
    settings = settings_of(STYLES[look % len(STYLES)])
    for draw in range(8):
        try:
            return drawing_of(problem_of(BANK[name].sample(1, draw)), settings), settings.side
        except RefusedError:
            continue
    raise AssertionError(f"{name}: no draw can be drawn")


@pytest.mark.parametrize("name", SOME)
def test_the_marks_of_every_family_add_up_by_every_scheme(name):
    drawing, side = drawn(name, SOME.index(name))
    for template in marking_names():
        for marks in MARKS:
            scheme = scheme_of(drawing, side, Marking.of(marks, load_marking(template)))
            assert sum(part.halves for part in scheme.parts) == 2 * marks
            for part in scheme.parts:
                assert sum(row.halves for row in part.rows) == part.halves and all(row.halves > 0 for row in part.rows)
                assert all((row.off > 0) == scheme.deducts and row.off <= row.halves for row in part.rows)


@pytest.mark.parametrize("name", SOME[::2])
def test_a_scheme_counts_every_line_that_the_answer_shows_once(name):
    drawing, side = drawn(name, SOME.index(name))
    scheme = scheme_of(drawing, side, Marking.of(100.0, load_marking()))
    ink = Counter(getattr(mark, "pen", None) for mark in drawing.marks)
    rows = Counter[str]()
    for part in (part for part in scheme.parts if part.view):
        numbers = [number for row in part.rows for number in range(row.first, row.first + row.count)]
        assert numbers == [line.number for line in scheme.lines[part.name]] == list(range(1, len(numbers) + 1))
        for row in part.rows:
            rows[row.sort] += row.count
    assert rows["outlines"] + rows["curves"] == ink[Pen.OUTLINE] and rows["hidden"] == ink[Pen.HIDDEN]
    # where a size's extension line goes on a centre line, that is drawn on, as one more stroke of the pen
    assert 0 < rows["centre"] <= ink[Pen.CENTRE] or rows["centre"] == 0


@pytest.mark.parametrize(("part", "counts"), [
    # visible and hidden lines of front, top and left view, and sizes needed, worked out by hand (see test_lines.py)
    (S1, {"front": (6, 1), "top": (9, 0), "left": (4, 3), "dimensions": 8}),
    (S2, {"front": (9, 1), "top": (7, 2), "left": (8, 2), "dimensions": 11}),
    (S4, {"front": (8, 3), "top": (7, 0), "left": (6, 2), "dimensions": 8}),
])
def test_lines_and_sizes_are_as_many_as_were_counted_by_hand(part, counts):
    problem = Problem(Identity("block", 1), "Block", (), part.solid(), part.measures())
    scheme = scheme_of(drawing_of(problem, settings_of(Style())), "left", Marking.of(20.0, load_marking()))
    found = {each.name: {row.sort: row.count for row in each.rows} for each in scheme.parts}
    for name in ("front", "top", "left"):
        assert (found[name].get("outlines", 0), found[name].get("hidden", 0)) == counts[name]
    assert found["dimensions"] == {"dimensions": counts["dimensions"]}


def test_with_fewer_half_marks_than_sorts_all_lines_of_a_view_are_counted_together():
    drawing, side = drawn("bored-tee", 1)
    scheme = scheme_of(drawing, side, Marking.of(3.5, load_marking()))
    front = next(part for part in scheme.parts if part.name == "front")
    assert [(row.sort, row.first, row.count) for row in front.rows] == [("lines", 1, len(scheme.lines["front"]))]


def test_both_side_views_have_the_share_of_one_each():
    columns = dict(columns_of("both", Marking.of(24.0, load_marking())))
    assert columns["left"] == columns["right"] == 8                           # of 3 + 5 + 4 + 4 + 4 + 2 + 1 + 1 = 24
    assert dict(columns_of("left", Marking.of(20.0, load_marking()))) == {
        # trade practice of 20 marks (common practice, no source)
        "arrangement": 6, "front": 10, "top": 8, "left": 8, "dimensions": 4, "line_work": 2, "title_block": 2}


@pytest.mark.parametrize("name", marking_names())
def test_the_shares_of_each_scheme_stay_within_what_boards_print(name):
    parts, whole = load_marking(name).parts, 0.0
    whole = sum(parts.values())
    views = (parts["front"] + parts["top"] + parts["side"]) / whole
    # views: 63 % of a mock paper of the Irish Junior Certificate (two views of 70 marks), 80 % of the CBSE key of 2019-20
    assert 0.6 <= views <= 0.8
    # positions: up to 14 % (the Irish mock paper); dimensions: 6 % there, 20 % of the CBSE key
    assert parts["arrangement"] / whole <= 0.15 and 0.05 <= parts["dimensions"] / whole <= 0.2
    # drafting: 17 % of the Irish mock paper; line work and dimensions together 33 % of an older CBSE scheme
    assert (parts["line_work"] + parts["title_block"]) / whole <= 0.17 + 1e-9
    assert set(load_marking(name).lines) == set(SORTS)


def test_deductions_of_100_marks_are_those_of_a_universitys_scheme():
    # wrong quadrant 10, each hidden edge missing 2, left for right side view 5 (a university course's marking scheme)
    drawing, side = drawn("bored-tee", 1)
    scheme = scheme_of(drawing, side, Marking.of(100.0, load_marking("by-deductions")))
    off = {row.sort: row.off for part in scheme.parts for row in part.rows}
    assert (off["arrangement"], off["hidden"], scheme.wrong_side) == (20, 4, 10)


def test_marks_are_whole_or_halves():
    for marks in (0.0, 0.25, -1.0, 1000.0, 7.3):
        with pytest.raises(ValueError, match="wanted a number of marks, whole or with a half"):
            Marking.of(marks, load_marking())
