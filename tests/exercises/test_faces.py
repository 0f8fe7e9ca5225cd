"""The kind ``faces``: letters on the pictorial, numbers in the views, a table of which is which."""

from __future__ import annotations

import numpy as np
import pytest
import shapely

from sheetgen.bank import load_bank
from sheetgen.exercises import ASKED, Particulars, Role, kinds, make_exercise
from sheetgen.exercises.kinds.faces.chosen import LETTERS
from sheetgen.exercises.kinds.faces.task import NAME
from sheetgen.exercises.marking.record import Marking
from sheetgen.ink import Pen, Stroke, Text
from sheetgen.problem import problem_of
from sheetgen.projection import LineKind
from sheetgen.sheet import Style, settings_of
from sheetgen.sheet.free import boxes_of
from sheetgen.templating import load_marking
from tests import samples

FACES = kinds()["faces"]
BANK = load_bank()
THIRD = settings_of(Style(projection="third", wording="en-elevations"))


@pytest.fixture(scope="module")
def family(tmp_path_factory):
    return samples.family_of(tmp_path_factory.mktemp("faces"), samples.STEP)


@pytest.fixture(scope="module")
def task(family):
    return FACES.shared(problem_of(family.sample(3)), samples.SETTINGS)


def words_on(page):
    return [mark.text for mark in page.marks if isinstance(mark, Text)]


def test_the_faces_of_a_plain_step_show_as_a_draughtsman_says(task):
    """In first angle with the view from the left: two faces to the front and right are lines in two views each; the riser looks
    away from the left."""
    rows = {face.letter: face.row for face in task.chosen.faces}
    kinds_of = {one.number: (view, "line" if one.area is None else "area")
                for view, those in zip(task.views, task.chosen.pointed, strict=True) for one in those}
    told = sorted(tuple(kinds_of[number][1] if number else "-" for number in row) for row in rows.values())
    assert told == sorted([
        ("line", "area", "line"),      # the top
        ("line", "area", "line"),      # the tread
        ("line", "line", "-"),         # the riser, and the right side
        ("line", "line", "-"),
        ("area", "line", "line"),      # the front
    ])


def test_no_two_rows_of_the_table_are_alike_and_letters_run_on(task):
    rows = [face.row for face in task.chosen.faces]
    assert len(set(rows)) == len(rows) >= 4
    assert [face.letter for face in task.chosen.faces] == [letter for letter in LETTERS if letter != "F"][:len(rows)]


def test_numbers_run_on_through_the_views_each_once(task):
    numbers = [one.number for those in task.chosen.pointed for one in those]
    assert numbers == list(range(1, len(numbers) + 1))


def test_the_question_leaves_empty_what_the_answer_fills_in(family):
    made = make_exercise(family, 3, samples.SETTINGS, ASKED, "faces")
    [question], [answer] = ([words_on(page) for page in made.sheets[role]] for role in ASKED)
    more = sorted(answer)
    for word in question:
        if word in more:
            more.remove(word)
    task = FACES.shared(made.problem, samples.SETTINGS)
    cells = [str(number) if number else "–" for face in task.chosen.faces for number in face.row]
    assert [word for word in more if word.isdigit() or word == "–"] == sorted(cells)


def test_the_marks_of_the_rows_add_up_to_those_of_the_item(family):
    worth = Particulars(marking=Marking.of(7.5, load_marking()))
    made = make_exercise(family, 3, samples.SETTINGS, (*ASKED, Role.MARKING), "faces", worth)
    [page] = made.sheets[Role.MARKING]
    rows = len(FACES.shared(made.problem, samples.SETTINGS).chosen.faces)
    texts = [mark for mark in page.marks if isinstance(mark, Text)]
    head = next(mark for mark in texts if mark.text == samples.SETTINGS.wording.render("marking.marks"))
    column = [float(mark.text) for mark in texts
              if abs(mark.at[0] - head.at[0]) < 0.01 and mark.at[1] < head.at[1] and mark.text.replace(".", "").isdigit()]
    assert len(column) == rows and sum(column) == 7.5
    assert "MARKING: 7.5 MARKS" in words_on(page)


def test_no_letter_or_number_touches_a_line_of_the_part(task):
    for view, those in zip(task.placed, task.chosen.pointed, strict=True):
        lines = shapely.multilinestrings([shapely.LineString(line) for line in view.coarse("visible")])
        for one in those:
            if one.inside is not None:
                assert shapely.distance(lines, shapely.Point(one.inside)) > 2.0
    lines = shapely.multilinestrings([shapely.LineString(line) for line in task.picture.coarse("visible")])
    assert all(shapely.distance(lines, shapely.Point(face.place)) > 3.0 for face in task.chosen.faces)
    assert np.isfinite([face.place for face in task.chosen.faces]).all()


CROWDED = [("bevelled-bracket", 5501, samples.SETTINGS), ("slotted-wedge", 5503, THIRD), ("dovetail-guide", 5502, THIRD)]


@pytest.fixture(scope="module", params=CROWDED, ids=lambda case: case[0])
def crowded(request):
    name, seed, settings = request.param
    return FACES.shared(make_exercise(BANK[name], seed, settings, ASKED, "faces").problem, settings)


def test_no_face_has_the_letter_of_an_arrow_of_sight(crowded):
    assert len(crowded.chosen.faces) >= 5 and not {"F", "L", "R", "I", "O", "Q"} & {face.letter for face in crowded.chosen.faces}


def boxes(texts):
    return [shapely.box(*box) for box in boxes_of(texts)]


def test_numbers_keep_6_mm_from_each_other_and_from_names(crowded):
    """But for what the boxes here are larger than the letters."""
    numbers = [mark for mark in crowded.marks if isinstance(mark, Text) and mark.text.isdigit()]
    named = [mark for mark in crowded.marks
             if isinstance(mark, Text) and mark.height == NAME and len(mark.text) > 1 and not mark.text.isdigit()]
    assert len(named) == 3
    of_lines = {one.number for those in crowded.chosen.pointed for one in those if one.line is not None}
    for k, (mark, box) in enumerate(zip(numbers, boxes(numbers), strict=True)):
        others = [other for n, other in enumerate(boxes(numbers)) if n != k] + boxes(named)
        assert int(mark.text) not in of_lines or shapely.distance(box, others).min() > 5.4


def test_no_number_of_a_line_stands_in_an_area_that_has_one(crowded):
    areas = [one.area for those in crowded.chosen.pointed for one in those if one.inside is not None]
    of_lines = {str(one.number) for those in crowded.chosen.pointed for one in those if one.line is not None}
    placed = boxes([mark for mark in crowded.marks if isinstance(mark, Text) and mark.text in of_lines])
    assert areas and placed and not any(shapely.intersects(area, box) for area in areas for box in placed)


def test_a_leader_ends_well_away_from_other_lines():
    task = FACES.shared(problem_of(BANK["bevelled-bracket"].sample(5500)), samples.SETTINGS)
    side = task.placed[2]
    [pointed] = [one for one in task.chosen.pointed[2] if one.line is not None and not one.area and one.number == 14]
    line = shapely.LineString(pointed.line.points() * side.scale + side.origin)
    ends = [mark.points[0] for mark in task.marks if isinstance(mark, Stroke) and mark.pen is Pen.DIMENSION
            and shapely.distance(line, shapely.Point(mark.points[0])) < 0.01]
    others = [shapely.LineString(each) for kind in ("visible", "hidden", "centre") for each in side.coarse(kind)]
    ends_of = [shapely.Point(point) for point in line.coords]
    others = shapely.union_all([each for each in others if sum(each.distance(end) for end in ends_of) > 1])
    assert len(ends) == 1 and shapely.distance(others, shapely.Point(ends[0])) > 3.0


def test_a_hidden_face_that_is_edge_on_has_a_number_and_the_question_says_so(crowded):
    """The floor of the bracket is hidden from the left and a line there; so is the end of the slot from the front."""
    hidden = {one.number for view, those in zip(crowded.placed, crowded.chosen.pointed, strict=True) for one in those
              if any(one.line is line for line in view.lines(LineKind.HIDDEN))}
    asked = {number for face in crowded.chosen.faces for number in face.row if number}
    assert hidden and hidden <= asked


def test_the_question_states_the_rule_of_the_table_and_explains_the_arrow(family):
    made = make_exercise(family, 3, samples.SETTINGS, ASKED, "faces")
    [question] = made.sheets[Role.QUESTION]
    asked = " ".join(words_on(question))
    assert "Arrow F gives the direction of the front view." in asked
    assert "edge-on has the number of its line, full or dashed, even if it lies behind other faces" in asked
    assert "neither edge-on nor seen, because it is hidden or faces away, has a dash" in asked
