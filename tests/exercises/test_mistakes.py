"""The kind ``mistakes``: so many as are told, each of its own sort and place; what the sheets say of them."""

from __future__ import annotations

import re

import numpy as np
import pytest
import shapely

from sheetgen.bank import load_bank
from sheetgen.exercises import Particulars, Role, kinds
from sheetgen.exercises.hints.landmarks import landmarks_of
from sheetgen.exercises.kinds.mistakes.mistake import EXTRA, LEFT_OUT, MISSING, NO_CENTRE, PLACE, SIDE, TWICE, WRONG
from sheetgen.exercises.kinds.mistakes.of_lines import Spoiling
from sheetgen.exercises.kinds.mistakes.planted import COUNTS, OF_LINES, OF_SIZES, OF_VIEWS
from sheetgen.exercises.marking.record import Marking
from sheetgen.exercises.pieces import pieces_of
from sheetgen.exercises.saying import line_words
from sheetgen.ink import Pen, Stroke, Text, text_box
from sheetgen.problem import problem_of
from sheetgen.problem.difficulty import difficulty
from sheetgen.projection import LineKind, Straight
from sheetgen.refusals import RefusedError
from sheetgen.sheet import Style, settings_of
from sheetgen.sight import PlacedView
from sheetgen.solid import faces_of
from sheetgen.templating import load_marking

BANK = load_bank()
KIND = kinds()["mistakes"]
FIRST, THIRD = settings_of(Style()), settings_of(Style(projection="third", side="right", wording="en-elevations"))
QUARRY = settings_of(Style(projection="third", figures="upright", title_block="quarry", wording="en-elevations"))
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


def rings_of(task, pages):
    """Of each mistake what its ring points at on a drawing: the ends of leaders."""
    bare = {"told": task.drawing.marks, "ringed": task.made.drawing.marks}[pages]
    strokes = [mark for mark in getattr(task, pages)[len(bare):] if isinstance(mark, Stroke)]
    return [strokes[k + 1].points[0] for k, mark in enumerate(strokes) if mark.closed]


def nearest_view(drawing, point):
    boxes = [shapely.box(*view.box) for view in drawing.views]
    return int(np.argmin([box.distance(shapely.Point(point)) for box in boxes]))


@pytest.mark.parametrize(("name", "seed", "draw", "settings"), [("vee-guide", 5301, 0, FIRST), ("sloped-arm", 5303, 1, QUARRY)])
def test_a_size_given_twice_is_told_of_both_views_and_rings_stand_on_either(name, seed, draw, settings):
    problem = problem_of(BANK[name].sample(seed, draw))
    task = KIND.shared(problem, settings)
    [(number, twice)] = [(k, mistake) for k, mistake in enumerate(task.mistakes) if mistake.sort == TWICE]
    sentence = task.sentences[number]
    views = [task.drawing.name(task.drawing.views[k].view.name, settings) for k in (twice.view, twice.other)]
    assert sentence.startswith(f"{number + 1}. {views[0]} and {views[1]}: ") and sentence.endswith("either may be struck out")
    for pages, drawing in (("told", task.drawing), ("ringed", task.made.drawing)):
        assert nearest_view(drawing, rings_of(task, pages)[number]) in (twice.view, twice.other)
    where = words(KIND.drawn(task, problem, settings, Particulars("X"), [Role.HINTS])[Role.HINTS])
    assert f"{views[0]} and {views[1]}: 1" in where


def test_a_size_is_told_of_the_feature_it_is_of():
    """Two sizes of this sloped arm are 22."""
    task = KIND.shared(problem_of(BANK["sloped-arm"].sample(5303, 1)), QUARRY)
    assert sum(item.main.figures == "22" for item in task.drawing.items) > 1
    [sentence] = [sentence for sentence in task.sentences if "dimensioned twice" in sentence]
    assert "22 (from the bottom edge to the top of the foot)" in sentence


def test_each_line_is_told_by_its_length_and_its_distance_from_an_edge(made):
    """Both are taken from its ends and the size of the view, not from the sentences."""
    _, _, task = made
    for mistake, sentence in zip(task.mistakes, task.sentences, strict=True):
        if isinstance(mistake.shape, Straight):
            low, high = task.drawing.views[mistake.view].view.extent
            level = [k for k in (0, 1) if abs(mistake.shape.p[k] - mistake.shape.q[k]) < 0.01]
            if mistake.kind is not LineKind.CENTRE:
                assert f", {round(mistake.shape.length, 1):g} long" in sentence
            if level:
                away = min(abs(mistake.shape.p[level[0]] - low[level[0]]), abs(high[level[0]] - mistake.shape.p[level[0]]))
                assert ("vertical" in sentence) == (level[0] == 0)
                assert f" {round(away, 1):g} from the" in sentence or "centre line" in sentence


@pytest.mark.parametrize(("name", "seed", "settings"), [
    ("hinge-lug", 5302, settings_of(Style(projection="third", side="right"))), ("vee-guide", 5301, FIRST)])
def test_a_line_too_many_is_thin_and_crossed_out_on_the_answer_and_clear_of_sizes(name, seed, settings):
    task = KIND.shared(problem_of(BANK[name].sample(seed)), settings)
    extra = [(k, mistake) for k, mistake in enumerate(task.mistakes) if mistake.sort == EXTRA]
    assert extra
    for number, mistake in extra:
        view = task.drawing.views[mistake.view]
        line = shapely.LineString(mistake.shape.points() * view.scale + view.origin)
        strokes = [(mark.pen, shapely.LineString(mark.points)) for mark in task.told
                   if isinstance(mark, Stroke) and len(mark.points) == 2]
        along = [pen for pen, stroke in strokes if stroke.equals_exact(line, 0.01)]
        arms = [stroke for pen, stroke in strokes if pen is Pen.DIMENSION and stroke.length < 4.0
                and line.buffer(0.01).contains(stroke.centroid) and stroke.intersection(line.buffer(0.01)).length < 0.2]
        assert along == [Pen.DIMENSION] and len(arms) == 4
        assert line.distance(shapely.Point(rings_of(task, "told")[number])) < 0.01
        texts = [shapely.Polygon(text_box(mark, 0.0)) for mark in task.drawing.marks if isinstance(mark, Text)]
        assert min(text.distance(line) for text in texts) > 1.5
    assert "A line too many is drawn thin and crossed out." in " ".join(m.text for m in task.told if isinstance(m, Text))


def test_a_line_too_many_is_planted_nowhere_near_a_size_of_the_answer():
    """A dimension line 1.5 mm beside one of the lines that could be planted: that one is planted no more, farther ones are."""
    problem = problem_of(BANK["hinge-lug"].sample(5302))
    view = PlacedView(problem.sights["front"], 1.0, np.array((100.0, 80.0)))
    faces = faces_of(problem.solid)

    def lines(there):
        ways = Spoiling(0, view, faces, (), view, there).ways(EXTRA)
        return [shapely.LineString(way.shape.points() * view.scale + view.origin) for way in ways]

    free = lines(())
    size = Stroke(shapely.get_coordinates(free[0].parallel_offset(1.5)), Pen.DIMENSION)
    kept = lines([size])
    away = [shapely.LineString(size.points).distance(line) for line in free]
    assert min(away) < 2.0 and len(kept) == sum(each >= 2.0 for each in away) > 0


def test_a_line_that_others_are_in_a_row_with_is_told_by_its_end_nearer_to_an_edge():
    """The far cheek of the hinge, seen from above, is 12 thick and ends 6 from the back of the part, which is 52 deep."""
    problem = problem_of(BANK["hinge-lug"].sample(5302))
    view = PlacedView(problem.sights["top"], 1.0, np.zeros(2))
    landmarks = landmarks_of(view, pieces_of(problem), FIRST.wording)
    line = next(line for line in view.lines(LineKind.VISIBLE) if isinstance(line, Straight) and abs(line.length - 12) < 0.01
                and line.p[0] == line.q[0] and min(line.p[1], line.q[1]) > 26)
    assert line_words(line, LineKind.VISIBLE, view, landmarks, FIRST) == (
        "a visible vertical line, 12 long, 40 from the left edge, starting 6 from the back edge")


@pytest.mark.parametrize(("said", "sheets"), [(Particulars("X"), ["1/2", "2/2"]), (Particulars("X", 3, 5), ["3/5", "3/5"])])
def test_pages_of_a_lone_question_are_counted_and_those_in_a_set_have_their_problems_number(made, said, sheets):
    problem, settings, task = made
    pages = KIND.drawn(task, problem, settings, said, [Role.QUESTION])[Role.QUESTION]
    wanted = [settings.wording.render("sheet_of", sheet=one[0], sheets=one[2]) for one in sheets]
    assert [any(mark.text in (sheet, text) for mark in page.marks if isinstance(mark, Text))
            for page, sheet, text in zip(pages, sheets, wanted, strict=True)] == [True, True]
    assert "second page of this question" in words(pages[:1]) and "PAGE 2 OF THE QUESTION" in words(pages[1:])


@pytest.mark.parametrize(("name", "says"), [("hinge-lug", True), ("two-way-steps", False)])
def test_where_notes_of_the_pictorial_say_more_than_those_of_the_views_the_question_says_that_they_need_not(name, says):
    """The pictorial of the hinge has 2 × Ø12 THROUGH, its front view 2 × Ø12."""
    problem = problem_of(BANK[name].sample(5302 if says else 9))
    task = KIND.shared(problem, THIRD)
    [part, _] = KIND.drawn(task, problem, THIRD, Particulars("X"), [Role.QUESTION])[Role.QUESTION]
    assert ("THROUGH" in words([part])) == says == ("need not say where a hole ends" in words([part]))


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


@pytest.mark.parametrize("name", ["flanged-bush", "conical-boss", "bearing-cap"])
def test_a_side_view_that_is_alike_from_both_sides_is_never_in_the_wrong_place(name):
    """There it would be the right view from the other side by a wrong name, a second reading of one mistake."""
    for seed in range(1, 5):
        for settings in (FIRST, THIRD):
            try:
                task = KIND.shared(problem_of(BANK[name].sample(seed)), settings)
            except RefusedError:
                continue
            views = [task.drawing.views[mistake.view].view.name for mistake in task.mistakes if mistake.sort in OF_VIEWS]
            assert set(views) <= {"top"}
