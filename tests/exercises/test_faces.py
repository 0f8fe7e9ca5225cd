"""The kind ``faces``: letters on the pictorial, numbers in the views, a table of which is which."""

from __future__ import annotations

import numpy as np
import pytest
import shapely

from sheetgen.exercises import ASKED, Particulars, Role, kinds, make_exercise
from sheetgen.exercises.kinds.faces.chosen import LETTERS
from sheetgen.exercises.marking.record import Marking
from sheetgen.ink import Text
from sheetgen.problem import problem_of
from sheetgen.templating import load_marking
from tests import samples

FACES = kinds()["faces"]


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
    kinds_of = {one.number: (view, "area" if one.area else "line")
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
    assert [face.letter for face in task.chosen.faces] == list(LETTERS[:len(rows)])


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
