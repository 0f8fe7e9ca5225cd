"""The kind ``match``: four candidates of which one is right, or four pairs; any two differ so that everybody sees it."""

from __future__ import annotations

from itertools import combinations

import numpy as np
import pytest
import shapely

from sheetgen.bank import load_bank
from sheetgen.exercises import Particulars, Role, kinds
from sheetgen.exercises.differing import differ, lines_drawn
from sheetgen.exercises.kinds.match.alike import Clearance, keeps_its_look, mirrors_of
from sheetgen.exercises.kinds.match.one import MIRRORED, RIGHT, TURNED, WHOLE, Option, options_of
from sheetgen.exercises.kinds.match.reasons import reason_of
from sheetgen.exercises.kinds.match.sets import alone, lines_of_set
from sheetgen.exercises.kinds.match.sheet import LETTERS
from sheetgen.exercises.kinds.match.sheet_of_four import four_of
from sheetgen.exercises.kinds.match.sheet_of_one import one_of, whole_of_one
from sheetgen.exercises.kinds.match.siblings import BLIND, DROPPED, MOVED, THROUGH, siblings
from sheetgen.exercises.kinds.match.spoiling import SORTS, spoilings
from sheetgen.exercises.marking.record import Marking
from sheetgen.ink import Text
from sheetgen.problem import problem_of
from sheetgen.projection import LineKind
from sheetgen.sheet import Style, settings_of
from sheetgen.sight.walls import LEAST_FACE, least_face, least_wall
from sheetgen.templating import load_marking

BANK = load_bank()
KIND = kinds()["match"]
FIRST, THIRD = settings_of(Style()), settings_of(Style(projection="third", side="right", wording="en-elevations"))
WAYS = [("stepped-block", 7, one_of, FIRST), ("vee-guide", 5, whole_of_one, FIRST), ("stepped-block", 7, four_of, FIRST),
        ("hinge-lug", 3, four_of, THIRD), ("counterbored-block", 3, one_of, THIRD)]


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


NEAR = [("trestle", 5402, WHOLE, THIRD, 0.5), ("cross-block", 5401, "right", FIRST, 1.0),
        ("vee-guide", 5403, "front", THIRD, 1.0),
        ("pipe-saddle", 5404, "left", FIRST, 1.0), ("slotted-slide", 3, WHOLE, FIRST, 0.5), ("tool-post", 8, "front", FIRST, 1.0)]


@pytest.fixture(scope="module", params=NEAR, ids=lambda case: f"{case[0]}-{case[2]}")
def chosen(request):
    name, seed, view, settings, scale = request.param
    problem = problem_of(BANK[name].sample(seed))
    return problem, options_of(problem, settings, list(siblings(problem)), view, scale)


def test_no_candidate_is_of_a_part_with_walls_or_faces_too_thin_to_be_drawn(chosen):
    _, options = chosen
    for solid in {id(option.views[0].view.solid): option.views[0].view.solid for option in options}.values():
        assert least_wall(solid)[0] > LEAST_FACE - 0.01 and least_face(solid)[0] > LEAST_FACE - 0.01


def test_a_tunnel_moved_up_to_the_slopes_of_a_roof_makes_no_sound_part():
    problem = problem_of(BANK["trestle"].sample(5402))
    thin = [each for each in siblings(problem) if not each.is_sound]
    assert [(each.sort, each.feature, each.axis) for each in thin] == [(MOVED, "tunnel", 2)]
    assert least_face(thin[0].solid)[0] < 0.5


def test_lines_of_a_candidate_are_no_nearer_than_those_of_the_part_or_3_mm(chosen):
    _, options = chosen
    [right] = [option for option in options if option.sort == RIGHT]
    clearance = Clearance.of(right.views)
    assert clearance.least <= 3.0 and all(clearance.keeps(option.views) for option in options)


def test_wrong_ones_are_near_misses_and_one_at_most_is_only_turned_over(chosen):
    _, options = chosen
    [right] = [option for option in options if option.sort == RIGHT]
    assert sum(option.sort in TURNED for option in options) <= 1
    assert all(option.sort == "places" or keeps_its_look(option.views, right.views) for option in options)


def test_of_a_part_upside_down_or_with_its_limb_elsewhere_the_look_is_not_kept():
    problem = problem_of(BANK["vee-guide"].sample(5403))
    right = alone(problem.sights["front"], 1.0)
    for sibling in siblings(problem):
        if (sibling.sort, sibling.feature, sibling.axis) in ((MOVED, "body", 0), (MIRRORED, "", 2)):
            assert not keeps_its_look(alone(sibling.sights["front"], 1.0), right)
    assert keeps_its_look(right, right)


@pytest.mark.parametrize(("name", "seed", "view"), [("vee-guide", 5403, "front"), ("cross-block", 5401, "right")])
def test_a_spoilt_view_is_as_symmetrical_as_the_right_one_and_no_line_ends_in_nothing(name, seed, view):
    problem = problem_of(BANK[name].sample(seed))
    [right] = alone(problem.sights[view], 1.0)
    assert mirrors_of(right.view)
    found = [spoilt.view for sort in SORTS for spoilt in spoilings(right, sort)]
    assert found
    for spoilt in found:
        assert keeps_its_look((spoilt,), (right,))
        lines = [shape.points() for kind in (LineKind.VISIBLE, LineKind.HIDDEN) for shape in spoilt.lines(kind)]
        drawn = [shapely.LineString(line) for line in lines]
        for k, line in enumerate(lines):
            others = shapely.union_all(drawn[:k] + drawn[k + 1:])
            assert all(shapely.distance(others, shapely.Point(end)) < 0.05 for end in line[[0, -1]])


def test_candidates_stand_in_line_whatever_centre_lines_they_have(made):
    _, _, task = made
    corners = np.array([np.min([view.box[:2] for view in views], axis=0) for views in task.placed])
    assert np.allclose(corners[::2, 1], corners[1::2, 1]) and np.allclose(corners[:2, 0], corners[2:, 0])


def reasons_of(name, seed, *, usage=FIRST):
    problem = problem_of(BANK[name].sample(seed))
    return [(each, reason_of(Option((), each.sort, each), "A", problem, usage, WHOLE)) for each in siblings(problem)]


def test_reasons_name_the_feature_and_what_is_wrong_with_it():
    told = {(each.sort, each.feature, each.axis): reason for each, reason in reasons_of("trestle", 5402)}
    assert told[MIRRORED, "", 0] == "A shows the part with left and right changed over."
    assert told[MOVED, "tunnel", 2] == "A has the tunnel too high."
    assert told[DROPPED, "tunnel", None] == "A lacks the tunnel."
    assert told[BLIND, "tunnel", None] == "A has the tunnel running only part of the way, not right through."
    told = {(each.sort, each.axis): reason for each, reason in reasons_of("cross-block", 5401)}
    assert told[MIRRORED, 2] == "A shows the part upside down." and told[MOVED, 2] == "A has the channel too low."
    told = [reason for each, reason in reasons_of("counterbored-block", 3) if each.sort in (THROUGH, MOVED)]
    assert "A has the blind hole running right through." in told and "A has the blind hole on the opposite side." in told


def test_lines_that_are_wrong_are_told_by_the_feature_that_they_are_of():
    problem = problem_of(BANK["trestle"].sample(5402))
    [front] = alone(problem.sights["left"], 1.0)
    told = {reason_of(Option((each.view,), sort, spoilt=each), "A", problem, FIRST, "left")
            for sort in SORTS for each in spoilings(front, sort)}
    assert "A lacks a hidden line of the tunnel." in told
    assert "A has a hidden line of the tunnel drawn as an outline." in told


def test_reasons_are_as_large_as_the_question_where_there_is_room():
    problem = problem_of(BANK["cross-block"].sample(5401))
    task = one_of(problem, FIRST, list(siblings(problem)))
    pages = KIND.drawn(task, problem, FIRST, Particulars("X"), (Role.ANSWER,))[Role.ANSWER]
    heights = {mark.height for page in pages for mark in page.marks if isinstance(mark, Text) and mark.text in task.reasons}
    assert heights == {3.5}


@pytest.mark.parametrize("way", [one_of, whole_of_one, four_of])
def test_the_arrow_on_the_pictorial_is_explained(way):
    problem = problem_of(BANK["stepped-block"].sample(7))
    task = way(problem, FIRST, list(siblings(problem)))
    asked = words(KIND.drawn(task, problem, FIRST, Particulars("X"), (Role.QUESTION,))[Role.QUESTION])
    assert "Arrow F gives the direction of the front view." in asked or "in the direction of arrow F" in asked
    assert "the correct drawing" in asked or way is four_of
