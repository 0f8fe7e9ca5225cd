"""The kind ``mistakes``: so many as are told, each of its own sort and place; what the sheets say of them."""

from __future__ import annotations

import re

import numpy as np
import pytest
import shapely

from sheetgen.bank import load_bank
from sheetgen.exercises import Particulars, Role, kinds
from sheetgen.exercises.kinds.mistakes.mistake import EXTRA, LEFT_OUT, MISSING, NO_CENTRE, PLACE, SIDE, TWICE, WRONG
from sheetgen.exercises.kinds.mistakes.planted import COUNTS, OF_LINES, OF_SIZES, OF_VIEWS
from sheetgen.exercises.marking.record import Marking
from sheetgen.ink import Stroke, Text, text_box
from sheetgen.problem import problem_of
from sheetgen.problem.difficulty import difficulty
from sheetgen.projection import LineKind
from sheetgen.sheet import Style, settings_of
from sheetgen.templating import load_marking

BANK = load_bank()
KIND = kinds()["mistakes"]
FIRST, THIRD = settings_of(Style()), settings_of(Style(projection="third", side="right", wording="en-elevations"))
PARTS = [("two-way-steps", 9, THIRD), ("counterbored-block", 3, FIRST), ("slotted-slide", 2, FIRST), ("vee-guide", 3, THIRD)]


@pytest.fixture(scope="module", params=PARTS, ids=lambda part: part[0])
def made(request):
    name, seed, settings = request.param
    problem = problem_of(BANK[name].sample(seed))
    return problem, settings, KIND.shared(problem, settings)


def words(pages):
    return " ".join(mark.text for page in pages for mark in page.marks if isinstance(mark, Text))


def test_a_harder_part_has_more_mistakes_and_lines_and_sizes_are_both_wrong(made):
    problem, _, task = made
    sorts = [mistake.sort for mistake in task.mistakes]
    assert len(sorts) == COUNTS[difficulty(problem).rung - 1]
    assert set(sorts) & set(OF_LINES) and set(sorts) & set(OF_SIZES) and sum(sort in OF_VIEWS for sort in sorts) <= 1


def test_no_two_mistakes_are_at_one_line_or_one_size(made):
    mistakes = made[2].mistakes
    lines = [id(mistake.shape) for mistake in mistakes if mistake.shape is not None]
    items = [mistake.item for mistake in mistakes if mistake.item is not None]
    assert len(set(lines)) == len(lines) and len(set(items)) == len(items)
    for view in range(4):
        assert not {MISSING, EXTRA} <= {mistake.sort for mistake in mistakes if mistake.view == view}      # a line moved


def test_each_view_has_just_the_lines_that_are_told_too_few_or_too_many(made):
    _, _, task = made
    for k, (wrong, base) in enumerate(zip(task.made.drawing.views, task.made.base.views, strict=True)):
        own = [mistake.sort for mistake in task.mistakes if mistake.view == k]
        count = [sum(len(view.lines(kind)) for kind in (LineKind.VISIBLE, LineKind.HIDDEN)) for view in (wrong, base)]
        assert count[0] - count[1] == own.count(EXTRA) - own.count(MISSING)
        assert len(base.centre_lines) - len(wrong.centre_lines) == own.count(NO_CENTRE)


def test_the_sizes_are_those_of_the_answer_but_for_what_is_told(made):
    _, _, task = made
    sorts = [mistake.sort for mistake in task.mistakes]
    assert len(task.made.drawing.items) - len(task.drawing.items) == sorts.count(TWICE) - sorts.count(LEFT_OUT)
    for mistake in task.mistakes:
        if mistake.sort == WRONG:
            numbers = [float(re.sub(r"[^\d.]", "", text.replace("2 ×", ""))) for text in mistake.said.values()]
            assert abs(numbers[0] - numbers[1]) >= 4.0


def test_the_question_tells_their_number_and_shows_part_and_drawing(made):
    problem, settings, task = made
    part, wrong = KIND.drawn(task, problem, settings, Particulars("X"), [Role.QUESTION])[Role.QUESTION]
    count = len(task.mistakes)
    assert f"There are {count} mistakes" in words([part]) and f"A DRAWING WITH {count} MISTAKES" in words([wrong])
    assert ("front elevation" if settings is THIRD else "front view") in words([part])
    assert all(row not in words([part, wrong]) for row in task.sentences)


def test_answer_and_marking_sheet_number_and_list_every_mistake_and_marks_add_up(made):
    problem, settings, task = made
    worth = Particulars("X", marking=Marking.of(12.5, load_marking()))
    sheets = KIND.drawn(task, problem, settings, worth, [Role.ANSWER, Role.MARKING, Role.HINTS])
    told = words(sheets[Role.ANSWER]).replace("  ", " ")
    for number, row in enumerate(task.sentences, 1):
        assert row.startswith(f"{number}. ") and row[-12:] in told
    marks = [float(value) for value in re.findall(r"\(marks: ([\d.]+)\)", words(sheets[Role.MARKING]))]
    assert len(marks) == len(task.mistakes) and sum(marks) == 12.5


def test_no_ring_touches_a_line_or_a_text(made):
    _, _, task = made
    for whole, bare in ((task.told, task.drawing.marks), (task.ringed, task.made.drawing.marks)):
        rings = [shapely.Polygon(mark.points[::3]).buffer(0.5) for mark in whole[len(bare):]
                 if isinstance(mark, Stroke) and mark.closed]
        assert len(rings) == len(task.mistakes)
        ink = [shapely.LineString(mark.points) for mark in bare if isinstance(mark, Stroke)]
        ink += [shapely.Polygon(text_box(mark, 0.0)) for mark in bare if isinstance(mark, Text)]
        assert not shapely.intersects(np.array(rings)[:, None], np.array(ink)[None]).any()


def test_a_view_from_the_wrong_side_keeps_its_name_and_one_in_the_wrong_place_its_picture():
    found = set()
    for name, seed, settings in [PARTS[0], ("two-way-steps", 19, THIRD)]:
        task = KIND.shared(problem_of(BANK[name].sample(seed)), settings)
        [mistake] = [mistake for mistake in task.mistakes if mistake.sort in OF_VIEWS]
        wrong, right = (drawing.views[mistake.view] for drawing in (task.made.base, task.drawing))
        names = [drawing.chosen[len(drawing.items) + mistake.view].drawn.texts[0].text
                 for drawing in (task.made.base, task.drawing)]
        assert names[0] == names[1]
        assert (wrong.view is right.view) == (mistake.sort == PLACE)
        found.add(mistake.sort)
    assert found == {SIDE, PLACE}
