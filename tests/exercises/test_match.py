"""The kind ``match``: four candidates of which one is right, or four pairs; any two differ so that everybody sees it."""

from __future__ import annotations

from itertools import combinations

import numpy as np
import pytest

from sheetgen.bank import load_bank
from sheetgen.exercises import Particulars, Role, kinds
from sheetgen.exercises.differing import differ, lines_drawn
from sheetgen.exercises.kinds.match.one import RIGHT, WHOLE, options_of
from sheetgen.exercises.kinds.match.sets import lines_of_set
from sheetgen.exercises.kinds.match.sheet import LETTERS
from sheetgen.exercises.kinds.match.sheet_of_four import four_of
from sheetgen.exercises.kinds.match.sheet_of_one import one_of, whole_of_one
from sheetgen.exercises.kinds.match.siblings import siblings
from sheetgen.exercises.marking.record import Marking
from sheetgen.ink import Text
from sheetgen.problem import problem_of
from sheetgen.projection import LineKind
from sheetgen.sheet import Style, settings_of
from sheetgen.templating import load_marking

BANK = load_bank()
KIND = kinds()["match"]
FIRST, THIRD = settings_of(Style()), settings_of(Style(projection="third", side="right", wording="en-elevations"))
WAYS = [("stepped-block", 7, one_of, FIRST), ("vee-guide", 5, whole_of_one, FIRST), ("stepped-block", 7, four_of, FIRST),
        ("slotted-slide", 3, four_of, THIRD), ("counterbored-block", 3, one_of, THIRD)]


def straight(*points):
    return {LineKind.VISIBLE: [np.array(points, dtype=float)]}


@pytest.fixture(scope="module", params=WAYS, ids=lambda way: f"{way[0]}-{way[2].__name__}")
def made(request):
    name, seed, way, settings = request.param
    problem = problem_of(BANK[name].sample(seed))
    return problem, settings, way(problem, settings, list(siblings(problem)))


def words(pages):
    return " ".join(mark.text for page in pages for mark in page.marks if isinstance(mark, Text))


@pytest.mark.parametrize(("one", "other", "seen"), [
    (straight((0, 0), (20, 0)), straight((0, 0), (20, 0)), False),
    (straight((0, 0), (20, 0)), straight((0, 2), (20, 2)), False),          # moved by less than 3 mm
    (straight((0, 0), (20, 0)), straight((0, 4), (20, 4)), True),
    (straight((0, 0), (20, 0)), straight((0, 0), (13, 0)), False),          # 7 mm shorter
    (straight((0, 0), (20, 0)), straight((0, 0), (11, 0)), True),
    (straight((0, 0), (20, 0)), {LineKind.HIDDEN: [np.array([(0.0, 0.0), (20.0, 0.0)])]}, True),
])
def test_drawings_differ_by_a_line_of_8_mm_or_one_moved_by_3(one, other, seen):
    assert differ(one, other) is differ(other, one) is seen


def test_any_two_candidates_differ_and_so_do_any_two_pictorials(made):
    _, _, task = made
    assert len(task.placed) == 4
    for one, other in combinations(map(lines_of_set, task.placed), 2):
        assert differ(one, other)
    for one, other in combinations([lines_drawn(view, hidden=False) for view in task.pictorials], 2):
        assert differ(one, other)


def test_one_candidate_is_the_parts_own_view_or_each_pictorial_has_one_set(made):
    problem, _, task = made
    if len(task.slots) == 1:
        own = [all(view.view is problem.view(view.view.name) for view in views) for views in task.placed]
        right = LETTERS.index(task.slots[0].right)
        assert own[right]
        names = {view.view.name for view in task.placed[right]}
        same = [k for k, views in enumerate(task.placed) if own[k] and {view.view.name for view in views} == names]
        # The same views once more are those in the places of the other angle.
        assert same == [right] or len(names) > 1
        return
    solids = [view.view.solid for view in task.pictorials]
    for slot, solid in zip(task.slots, solids, strict=True):
        assert all(view.view.solid is solid for view in task.placed[int(slot.right) - 1])
    assert sorted(slot.right for slot in task.slots) == ["1", "2", "3", "4"]


def test_the_question_tells_no_answer_and_answer_and_marking_sheet_do(made):
    problem, settings, task = made
    worth = Particulars("X", marking=Marking.of(4, load_marking()))
    sheets = KIND.drawn(task, problem, settings, worth, KIND.roles)
    asked, told = words(sheets[Role.QUESTION]), words(sheets[Role.ANSWER])
    assert all(reason not in asked for reason in task.reasons) and all(reason[:20] in told for reason in task.reasons)
    marks = [float(part.split(")")[0]) for part in words(sheets[Role.MARKING]).split("(marks: ")[1:]]
    assert len(marks) == len(task.slots) and sum(marks) == 4
    usage = "elevation" if settings is THIRD else "view"
    assert usage in asked and ("first angle" in asked or "third angle" in asked or len(task.placed[0]) == 1)


def test_the_right_one_stands_in_every_place_for_one_seed_or_another():
    places = set()
    for seed in range(1, 12):
        problem = problem_of(BANK["stepped-block"].sample(seed))
        options = options_of(problem, FIRST, [], "front", 1.0)
        places.add(next(k for k, option in enumerate(options) if option.sort == RIGHT))
    assert places == {0, 1, 2, 3}


def test_views_in_the_places_of_the_other_angle_are_wrong_and_not_offered_where_they_would_be_right():
    problem = problem_of(BANK["stepped-block"].sample(7))
    found = options_of(problem, FIRST, list(siblings(problem)), WHOLE, 0.5)
    [right] = [option for option in found if option.sort == RIGHT]
    for option in found:
        front, top = option.views[:2]
        assert (top.box[1] > front.box[3]) == (option.sort == "places")
    assert right.views[1].box[3] < right.views[0].box[1]
