"""Sizes placed on views and pictorial: the marks that stand on the sheet, without paper round them. Sheet millimetres."""

from __future__ import annotations

from itertools import combinations

import numpy as np
import pytest
import shapely

from sheetgen.bank.features import Block, Hole, MeasureSpec, Slant, Vee
from sheetgen.ink import Fill, Mark, Pen, Stroke, Text, text_box
from sheetgen.placing import (
    PlacingError,
    Surroundings,
    choose,
    gathered,
    items_of,
    marks_of,
    pictorial_offers,
    sight_arrow,
    view_offers,
)
from sheetgen.placing.weights import WEIGHTS
from sheetgen.projection import view_of
from sheetgen.sight import PlacedView, Sight, heights_before
from tests.parts import BRACKET, ENGLISH, PARTS, S1, S2, Part, end, outer, span

AREA = (26.0, 16.0, 404.0, 281.0)
ISOMETRIC = [np.array([np.cos(angle), np.sin(angle)]) for angle in np.radians([30, 90, 150])]


def on_views(part: Part, *, upright: bool = False, scale: float = 1.0) -> tuple[list[PlacedView], list[Mark]]:
    """Front, top and right view in third angle with all sizes."""
    solid = part.solid()
    places = {"front": (70.0, 60.0), "top": (70.0, 175.0), "right": (240.0, 60.0)}
    views = [PlacedView(Sight(view_of(solid, name)), scale, np.array(place)) for name, place in places.items()]
    visible = [line for view in views for line in view.coarse("visible")]
    thin = [line for view in views for kind in ("hidden", "centre") for line in view.coarse(kind)]
    surroundings = Surroundings(visible, thin, [], AREA, [view.shadow for view in views])
    items = items_of(part.measures(), ENGLISH)
    return views, marks_of(choose(surroundings, view_offers(views, items, upright=upright), len(items)))


def on_pictorial(part: Part, *, upright: bool = False) -> list[Mark]:
    """The isometric with all sizes and the arrow of sight."""
    view = PlacedView(Sight(view_of(part.solid(), "isometric")), 1.0, np.array([130.0, 130.0]))
    surroundings = Surroundings(view.coarse("visible"), [], [], AREA, [view.shadow])
    items = items_of(part.measures(), ENGLISH)
    offers = gathered([pictorial_offers(view, items, upright=upright), sight_arrow(view, "F", len(items))])
    return marks_of(choose(surroundings, offers, len(items) + 1))


def texts(marks: list[Mark]) -> list[Text]:
    return [mark for mark in marks if isinstance(mark, Text)]


def strokes(marks: list[Mark]) -> list[Stroke]:
    return [mark for mark in marks if isinstance(mark, Stroke)]


@pytest.mark.parametrize("name", PARTS)
def test_each_size_stands_on_the_views_once(name):
    _, marks = on_views(PARTS[name])
    wanted = [line for item in items_of(PARTS[name].measures(), ENGLISH) for line in item.lines]
    assert sorted(text.text for text in texts(marks)) == sorted(wanted)


@pytest.mark.parametrize("name", PARTS)
def test_each_size_and_the_arrow_of_sight_stand_on_the_pictorial_once(name):
    marks = on_pictorial(PARTS[name])
    wanted = [line for item in items_of(PARTS[name].measures(), ENGLISH) for line in item.lines]
    assert sorted(text.text for text in texts(marks)) == sorted([*wanted, "F"])


@pytest.mark.parametrize("name", PARTS)
@pytest.mark.parametrize("upright", [False, True])
def test_no_figure_touches_a_line_or_another_figure(name, upright):
    # text is not crossed or separated by any line (Machine Drawing p. 31)
    views, marks = on_views(PARTS[name], upright=upright)
    boxes = [shapely.Polygon(text_box(text)) for text in texts(marks)]
    drawn = [points for view in views for points in (*view.visible, *view.hidden, *view.centres)]
    lines = [shapely.LineString(points) for points in (*drawn, *(mark.points for mark in strokes(marks)))]
    assert not any(one.intersects(other) for one, other in combinations(boxes, 2))
    assert not any(box.intersects(line) for box in boxes for line in lines)


@pytest.mark.parametrize("name", PARTS)
def test_upright_figures_all_read_from_below_and_break_the_lines_they_stand_in(name):
    # unidirectional: all text upright, lines that are not level broken for it (Machine Drawing p. 31)
    for text in texts(on_views(PARTS[name], upright=True)[1]):
        assert (text.along, text.up) == ((1.0, 0.0), (0.0, 1.0))


def test_aligned_figures_read_from_below_or_from_the_right():
    # aligned method (Machine Drawing p. 30; SP 46, from memory)
    ways = {text.along for text in texts(on_views(BRACKET)[1])}
    assert ways == {(1.0, 0.0), (0.0, 1.0)}


@pytest.mark.parametrize("name", PARTS)
def test_figures_on_the_pictorial_lie_in_an_isometric_plane(name):
    # aligned to the plane of the face (NAVEDTRA 14276 p. 6-14); but those that would lean back in it, where a 7 reads as a 1,
    # stand square to their line (judgement)
    for text in texts(on_pictorial(PARTS[name])):
        if text.text != "F" and text.anchor == "middle":               # a leader's note is read as a whole
            forward = float(np.array(text.along) @ np.array(text.up))
            assert along_axis(text.along)
            assert forward == pytest.approx(0.0, abs=1e-9) or (along_axis(text.up) and forward > 0.4)
            assert text.along[0] * text.up[1] - text.along[1] * text.up[0] > 0, "mirrored"


def test_upright_figures_on_the_pictorial_are_not_sheared():
    # unidirectional is easier to read (NAVEDTRA 14276 p. 6-14)
    for text in texts(on_pictorial(S2, upright=True)):
        assert (text.along, text.up) == ((1.0, 0.0), (0.0, 1.0))


@pytest.mark.parametrize("name", PARTS)
def test_arrowheads_on_the_pictorial_lie_in_the_plane_of_their_dimension(name):
    # arrowheads lie in the plane of the face they measure (NAVEDTRA 14276 p. 6-14): their backs run along an isometric axis
    *heads, sight = [mark.points for mark in on_pictorial(PARTS[name]) if isinstance(mark, Fill)]
    level = [(tip - (one + other) / 2, one - other) for tip, one, other in heads if along_axis(tip - (one + other) / 2)]
    assert level
    assert all(along_axis(back) for _, back in level)
    tip, one, other = sight                                        # the arrow of sight is no size, and lies in no such plane
    assert float((tip - (one + other) / 2) @ (one - other)) == pytest.approx(0.0, abs=1e-9)


def along_axis(way) -> bool:
    """True if a vector runs along one of the isometric axes."""
    return any(abs(abs(float(axis @ way)) / np.linalg.norm(way) - 1) < 1e-6 for axis in ISOMETRIC)


def test_the_arrow_of_sight_points_into_the_front_from_before_it():
    # a viewing arrow is wanted on the pictorial (board marking schemes, CBSE 2015 and 2020)
    marks = on_pictorial(S1)
    [letter] = [text for text in texts(marks) if text.text == "F"]
    [shaft] = [mark for mark in strokes(marks) if mark.pen is Pen.BORDER]
    way = shaft.points[-1] - shaft.points[0]
    assert way / np.linalg.norm(way) == pytest.approx(ISOMETRIC[0], abs=1e-6)     # +y, away from the reader of the front view
    assert np.linalg.norm(np.array(letter.at) - shaft.points[0]) < np.linalg.norm(np.array(letter.at) - shaft.points[1])


def test_the_arrow_of_sight_rather_stands_before_the_part_than_beside_it():
    # of a tall part all that stand as far off and aim as high are dearer where they stand higher than the foot of the front
    view = PlacedView(Sight(view_of(S1.solid(), "isometric")), 1.0, np.array([150.0, 150.0]))
    offers = sight_arrow(view, "F", 0)
    tips = np.array([offers.drawn(k).heads[0].tip for k in range(len(offers))])
    beside = heights_before(view, tips, np.array(view.unit(1))) > 0.0
    assert beside.any() and offers.cost[beside].min() >= WEIGHTS.sight_beside > offers.cost[~beside].min()


@pytest.mark.parametrize("scale", [0.5, 0.2])
def test_arrows_and_figures_are_as_large_at_a_reduced_scale(scale):
    # ISO 3098 heights are heights on paper (from memory)
    _, full = on_views(S1)
    _, marks = on_views(S1, scale=scale)
    assert {text.height for text in texts(marks)} == {text.height for text in texts(full)} == {3.5}
    heads = [np.ptp(mark.points, axis=0).max() for mark in marks if isinstance(mark, Fill)]
    assert heads == pytest.approx([3.0] * len(heads), abs=1e-9)
    assert sorted(text.text for text in texts(marks)) == sorted(text.text for text in texts(full))


def test_the_same_part_is_dimensioned_the_same_way_every_time():
    one, other = (on_views(BRACKET)[1] for _ in range(2))
    assert [repr(mark) for mark in texts(one)] == [repr(mark) for mark in texts(other)]
    assert all(np.array_equal(a.points, b.points) for a, b in zip(strokes(one), strokes(other), strict=True))


def test_where_there_is_no_room_the_size_is_named_and_nothing_is_drawn():
    view = PlacedView(Sight(view_of(S1.solid(), "front")), 1.0, np.array([100.0, 100.0]))
    cramped = Surroundings(view.coarse("visible"), [], [], (98.0, 98.0, 162.0, 142.0), [view.shadow])
    items = items_of(S1.measures(), ENGLISH)[:1]
    with pytest.raises(PlacingError) as caught:
        choose(cramped, view_offers([view], items), 1)
    assert caught.value.item == 0
    assert "no placing" in caught.value.reason


def test_a_blocked_area_is_kept_free():
    view = PlacedView(Sight(view_of(S1.solid(), "front")), 1.0, np.array([100.0, 100.0]))
    block = shapely.box(90, 60, 250, 99)        # all below the view
    free = Surroundings(view.coarse("visible"), [], [block], AREA, [view.shadow])
    [width] = [item for item in items_of(S1.measures(), ENGLISH) if item.main.words == "base.left to base.right"]
    marks = marks_of(choose(free, view_offers([view], [width]), 1))
    assert not any(block.intersects(shapely.Polygon(text_box(text))) for text in texts(marks))
    assert not any(block.intersects(shapely.LineString(mark.points)) for mark in strokes(marks))


def test_heights_stand_on_one_view_though_two_show_them():
    # sizes of one direction together (common practice, no source)
    steps = Part(
        (Block("base", False, (0, 60), (0, 40), (0, 12)), Block("middle", False, (0, 40), (0, 40), (12, 26)),
         Block("up", False, (0, 20), (0, 40), (26, 44))),
        (*outer(), span("base.bottom", "middle.top"), span("base.bottom", "up.top")), 5)
    views, marks = on_views(steps)
    heights = [text for text in texts(marks) if text.text in ("12", "26", "44")]
    sides = {next(view.view.name for view in views if view.box[1] - 1 < text.at[1] < view.box[3] + 1
                  and view.box[0] - 50 < text.at[0] < view.box[2] + 50) for text in heights}
    assert len(heights) == 3 and sides == {"front"}


def test_figures_of_a_height_lean_forward_on_the_pictorial():
    # sheared against its reading direction a 4 or a 7 is hard to tell (common practice, no source)
    marks = on_pictorial(Part((Block("base", False, (0, 60), (0, 40), (0, 30)),), outer(), 3))
    [height] = [text for text in texts(marks) if text.text == "30"]
    assert float(np.array(height.along) @ np.array(height.up)) > 0.4


def test_a_size_between_holes_does_not_seem_to_be_of_edges_in_line_with_them():
    # an extension line continues what it measures; on the far side it would continue the lug's edges (common practice, no source)
    plate = Part(
        (Block("base", False, (0, 80), (0, 60), (0, 14)), Block("lug", False, (20, 60), (48, 60), (0, 60)),
         Hole("holes", "top", ((20, 20), (60, 20)), 10)),
        (*outer()[:2], span("holes.1.axis", "holes.2.axis"), span("base.front", "holes.1.axis")), 4)
    (_, top, _), marks = on_views(plate)
    [pitch] = [text for text in texts(marks) if text.text == "40"]
    assert pitch.at[1] < top.box[1]


def test_nor_a_size_between_edges_to_be_of_holes_in_line_with_them():
    plate = Part(
        (Block("base", False, (0, 80), (0, 60), (0, 14)), Block("lug", False, (20, 60), (30, 42), (0, 60)),
         Hole("holes", "top", ((20, 10), (60, 10)), 8)),
        (span("lug.left", "lug.right"),), 1)
    top = PlacedView(Sight(view_of(plate.solid(), "top")), 1.0, np.array([70.0, 175.0]))
    surroundings = Surroundings(top.coarse("visible"), top.coarse("centre"), [], AREA, [top.shadow])
    [width] = choose(surroundings, view_offers([top], items_of(plate.measures(), ENGLISH)), 1)
    holes = top.paper(np.array([[20.0, 10.0, 0.0]]))[0, 1]
    assert all(line[:, 1].min() > holes for line in (*width.drawn.lines, *width.drawn.extensions))


def test_an_arc_ends_on_a_drawn_line_or_on_an_extension_line():
    # a flank of 10 mm is shorter than the least radius: the arc's arrow would hang in the air
    block = Part(
        (Block("base", False, (0, 80), (0, 60), (0, 40)), Slant("slope", "front", ((70, 40), (80, 34)), "above", (None, None))),
        (MeasureSpec("angle", end("slope.face"), end("base.top")),), 1)
    front = PlacedView(Sight(view_of(block.solid(), "front")), 1.0, np.array([100.0, 100.0]))
    offers = view_offers([front], items_of(block.measures(), ENGLISH))
    assert len(offers) > 4
    for way in (offers.drawn(k) for k in range(len(offers))):
        lines = [shapely.LineString(line) for line in (*front.visible_straights, *way.extensions)]
        assert all(min(line.distance(shapely.Point(head.tip)) for line in lines) < 1e-6 for head in way.heads)


def test_nothing_comes_between_the_arrow_of_sight_and_its_room():
    # it is no size: one that stands among them reads as one
    view = PlacedView(Sight(view_of(S1.solid(), "isometric")), 1.0, np.array([150.0, 150.0]))
    offers = sight_arrow(view, "F", 0)
    for k in range(len(offers)):
        [arrow] = offers.drawn(k).lines
        fields = shapely.union_all([shapely.Polygon(box) for box in offers.boxes.shapes[offers.boxes.offer == k]])
        assert fields.buffer(1e-6).contains(shapely.LineString(arrow).buffer(3.5, cap_style="flat"))


def test_the_figures_of_an_upright_angle_lie_along_the_level_of_its_plane():
    # of a vee seen from the front and the left the front face runs down to the right
    vee = Part(
        (Block("base", False, (0, 90), (0, 60), (0, 60)),
         Vee("vee", "front", (45, 45), "up", 120, (None, None))),
        (MeasureSpec("angle", end("vee.left"), end("vee.right")),), 1)
    view = PlacedView(Sight(view_of(vee.solid(), "isometric")), 1.0, np.array([150.0, 150.0]))
    offers = pictorial_offers(view, items_of(vee.measures(), ENGLISH))
    level = np.array(view.unit(0)) / np.hypot(*view.unit(0))
    assert len(offers)
    for k in range(len(offers)):
        [figures] = offers.drawn(k).texts
        assert figures.along == pytest.approx(tuple(level)) and figures.up == (0.0, 1.0)
