"""What a strict reader marks on sizes placed by hand on the golden L-block S1 and the bracket. Sheet millimetres.

The lengths are judgement (common practice, no source).
"""

from __future__ import annotations

import numpy as np
import pytest

from sheetgen.ink import Text, text_width
from sheetgen.placing import Blemish, PictorialRead, Placement, ViewsRead, items_of
from sheetgen.placing.candidate import Arrowhead, Candidate
from sheetgen.projection import view_of
from sheetgen.sight import PlacedView, Sight
from tests.parts import BRACKET, ENGLISH, S1, Part

CORNERS = {"front": (100.0, 150.0), "top": (100.0, 50.0), "right": (250.0, 150.0)}
"""Where the views' own (0, 0) stand; S1 is 60 wide, 40 deep and 40 high."""


def views_of(part: Part = S1) -> list[PlacedView]:
    return [PlacedView(Sight(view_of(part.solid(), name)), 1.0, np.array(place)) for name, place in CORNERS.items()]


def length(a, b, *starts, view=0, text="50", shift=(0.0, 0.0)) -> Placement:
    """A dimension line from ``a`` to ``b``, extension lines from ``starts`` to its ends, figures over its middle."""
    a, b = np.array(a, dtype=float), np.array(b, dtype=float)
    along = (b - a) / np.hypot(*(b - a))
    across = np.array([-along[1], along[0]])
    heads = tuple(Arrowhead(tip, way * along, across) for tip, way in ((a, -1), (b, 1)))
    extensions = tuple(np.array([start, end]) for start, end in zip(starts, (a, b), strict=False))
    figures = Text(text, tuple((a + b) / 2 + across + np.array(shift)), 3.5, tuple(along), tuple(across), "middle")
    return Placement(0, view, Candidate((np.stack([a, b]),), extensions, heads, (figures,)))


def leader(*points, text="R10") -> Placement:
    tip, *_ = points = [np.array(point, dtype=float) for point in points]
    head = Arrowhead(tip, (tip - points[1]) / np.hypot(*(tip - points[1])), np.array([0.0, 1.0]))
    return Placement(0, 0, Candidate((np.stack(points),), (), (head,), (Text(text, tuple(points[-1] + [1, -1.75]), 3.5),)))


def name(at, view) -> Placement:
    return Placement(0, view, Candidate((), (), (), (Text("VIEW", at, 5.0, anchor="middle"),)))


NAMES = (name((130.0, 142.0), 0), name((120.0, 42.0), 1), name((270.0, 142.0), 2))
"""8 mm below the front view and the side view, and 10 left of the middle of the top view."""


ROUND = next(item for item in items_of(BRACKET.measures(), ENGLISH) if item.kind != "span")
"""A size of which it is not asked which view it stands on."""


def proper_names(views):
    """In the middle, 8 mm below each view."""
    return [name(((view.box[0] + view.box[2]) / 2, view.box[1] - 8.0), k) for k, view in enumerate(views)]


def marked(*sizes, names=None) -> set[Blemish]:
    """What is marked on the views."""
    views = views_of()
    read = ViewsRead(views, [ROUND] * len(sizes), sizes, names or proper_names(views))
    return {*read.serious(), *read.slight()}


def on_front(*sizes) -> set[Blemish]:
    """What is marked on a pictorial; the front view will do for one."""
    read = PictorialRead(views_of()[0], sizes)
    return {*read.serious(), *read.slight()}


OUTSIDE = length((100, 200), (120, 200), (100, 191), (120, 191))
"""The upright's width, 10 above the front view."""


def test_a_size_outside_its_view_in_the_first_tier_is_left_alone():
    assert marked(OUTSIDE) == set() and on_front(OUTSIDE) == set()


def test_a_dimension_line_across_an_outline():
    across = length((90, 180), (150, 180))             # the upright's right edge stands at 120
    assert Blemish.LINE_ACROSS_OUTLINE in marked(across) and Blemish.LINE_ACROSS_OUTLINE in on_front(across)


def test_an_arrow_may_touch_the_outline_that_it_measures_to():
    assert Blemish.LINE_ACROSS_OUTLINE not in marked(length((120, 180), (150, 180), shift=(0, 0)))


def test_on_a_pictorial_curves_are_told_from_straight_lines():
    view = PlacedView(Sight(view_of(BRACKET.solid(), "front")), 1.0, np.array([100.0, 100.0]))
    # the bore of 26 about (50, 50); within the lug's round end of 50 nothing else is met at this level
    read = PictorialRead(view, [length((140, 155), (170, 155))])
    assert Blemish.LINE_ACROSS_CURVE in set(read.serious()) and Blemish.LINE_ACROSS_OUTLINE not in set(read.serious())


@pytest.mark.parametrize(("start", "found"), [
    (100, {Blemish.LONG_EXTENSION}),                   # 40 over the upright, from its foot to its top
    (178, {Blemish.SOME_EXTENSION}), (185, set())])
def test_an_extension_line_over_a_view_for_long(start, found):
    size = length((110, 200), (130, 200), (110, start + 0.0 if start > 100 else 150), (130, 195))
    assert marked(size) & {Blemish.LONG_EXTENSION, Blemish.SOME_EXTENSION} == found


@pytest.mark.parametrize(("apart", "found"), [(2.0, True), (5.0, True), (7.0, False)])
def test_figures_side_by_side_in_one_line(apart, found):
    one, shift = length((100, 200), (120, 200)), apart + text_width("50", 3.5) - 20.0
    other = length((120, 200), (140, 200), shift=(shift, 0.0))
    assert (Blemish.NUMBERS_CLOSE in on_front(one, other)) is found


@pytest.mark.parametrize(("apart", "found"), [(0.5, True), (6.0, False)])
def test_figures_that_lie_different_ways_and_all_but_touch(apart, found):
    one = length((100, 200), (120, 200))
    other = length((114 + apart + 3.5, 195), (114 + apart + 3.5, 210))
    assert (Blemish.NUMBERS_CLOSE in on_front(one, other)) is found


@pytest.mark.parametrize(("at", "found"), [((155, 116), True), ((155, 120), False)])
def test_a_leaders_bend_close_to_an_outline(at, found):
    # the base's top lies at 165 in the view's place: 150 + 15
    bend = (at[0], at[1] + 50.0)
    assert (Blemish.CLOSE_TO_OUTLINE in on_front(leader((140, 200), bend, (bend[0] + 3, bend[1])))) is found


@pytest.mark.parametrize(("past", "found"), [(5.0, True), (2.0, False)])
def test_an_arrow_on_an_extension_line_of_a_size_along_another_axis_that_goes_on(past, found):
    arrow = length((100, 200), (140, 200))
    other = length((140, 200 + past), (180, 240), (140, 190))
    assert (Blemish.ARROW_PASSED in on_front(arrow, other)) is found


@pytest.mark.parametrize(("gap", "found"), [(0.6, True), (2.5, False)])
def test_figures_all_but_on_another_sizes_line(gap, found):
    figures = length((100, 200), (140, 200))           # "50" over 120, 201 to 204.5
    line = length((90, 204.5 + gap), (150, 204.5 + gap), text="9", shift=(-25.0, 5.0))
    assert (Blemish.FIGURES_BY_LINE in on_front(figures, line)) is found


@pytest.mark.parametrize(("at", "found"), [((120, 200), True), ((140, 200), False)])
def test_a_dimension_line_across_an_extension_line_of_another_size(at, found):
    line = length((100, 200), (140, 200))
    other = length((at[0], 230), (180, 230), (at[0], 190), (180, 190), text="9", shift=(0.0, 3.0))
    assert (Blemish.LINE_ACROSS_EXTENSION in on_front(line, other)) is found          # at its tip is no crossing


def test_names_aside_of_the_middle_and_at_different_heights():
    assert Blemish.NAME_ASIDE in marked(names=NAMES)
    level = (name((130.0, 142.0), 0), name((130.0, 42.0), 1), name((270.0, 134.0), 2))
    assert marked(names=level) & {Blemish.NAMES_UNEVEN, Blemish.NAME_ASIDE} == {Blemish.NAMES_UNEVEN}


def test_names_of_a_row_lower_than_there_is_room():
    low = (name((130.0, 132.0), 0), name((130.0, 42.0), 1), name((270.0, 132.0), 2))
    assert Blemish.NAME_LOW in marked(names=low)
    below = length((100, 140), (160, 140), (100, 149), (160, 149))
    assert Blemish.NAME_LOW not in marked(below, names=low)


@pytest.mark.parametrize(("level", "found"), [(200, False), (208, True)])
def test_a_size_a_tier_farther_out_than_there_is_room(level, found):
    size = length((100, level), (120, level), (100, 191), (120, 191))
    assert (Blemish.TOO_FAR_OUT in marked(size)) is found


def test_but_not_where_another_size_stands_between():
    outer = length((100, 208), (160, 208), (100, 191), (160, 166), text="60", shift=(20.0, 0.0))
    assert Blemish.TOO_FAR_OUT not in marked(OUTSIDE, outer)


def placed(part: Part, words: str, view: int) -> set[Blemish]:
    """What is marked of a size that stands on a view, the others left out."""
    views = views_of(part)
    [item] = [item for item in items_of(part.measures(), ENGLISH) if item.main.words == words]
    read = ViewsRead(views, (item,), (length((300, 300), (320, 300), view=view),), proper_names(views))
    return set(read.serious()) & {Blemish.SHAPELESS, Blemish.HIDDEN_END}


def test_a_size_measured_to_a_hidden_line_that_another_view_shows_full():
    # the slot of S1 is open at the top: the top view shows its left end full, the front view dashed
    assert placed(S1, "slot.left to base.right", 1) == set()
    assert Blemish.HIDDEN_END in placed(S1, "slot.left to base.right", 0)


def test_a_size_on_a_view_that_shows_nothing_of_its_features_shape():
    # the two holes of the bracket's base are circles in the top view and upright lines in the front view
    assert placed(BRACKET, "holes.1.axis to holes.2.axis", 1) == set()
    assert placed(BRACKET, "holes.1.axis to holes.2.axis", 0) == {Blemish.SHAPELESS}


def test_a_page_is_not_sent_back_for_what_is_hardly_seen_at_arms_length():
    size = length((110, 208), (130, 208), (110, 178), (130, 195))      # two tiers out, and 12 over the view
    read = ViewsRead(views_of(), [ROUND], (size,), proper_names(views_of()))
    assert set(read.serious()) == set() and set(read.slight()) == {Blemish.TOO_FAR_OUT, Blemish.SOME_EXTENSION}


@pytest.mark.parametrize(("start", "found"), [((120, 164), True), ((130, 164), False), ((120, 160), False)])
def test_an_extension_line_that_goes_on_from_an_edge_over_the_part(start, found):
    # the upright's right edge, at 120, ends in the base's top at 165; under it the base is 15 high
    assert (Blemish.EXTENSION_AS_EDGE in on_front(length((120, 140), (150, 140), start, (150, 149)))) is found


@pytest.mark.parametrize(("off", "found"), [(0.0, True), (3.0, False)])
def test_a_leader_through_a_corner(off, found):
    # to the base's top at (140, 165), from the upper left, by the corner of upright and base
    assert (Blemish.LEADER_AT_CORNER in on_front(leader((140, 165 + off), (110, 165 + off), (105, 165 + off)))) is found


@pytest.mark.parametrize(("other", "found"), [
    (((120, 200), (120, 230)), True), (((120, 204), (120, 230)), False), (((120, 200), (150, 200)), False)])
def test_arrows_of_two_axes_at_one_point(other, found):
    assert (Blemish.ARROWS_MEET in on_front(length((100, 200), (120, 200)), length(*other))) is found


@pytest.mark.parametrize(("foot", "found"), [(191, True), (197, False)])
def test_a_leader_across_an_extension_line(foot, found):
    # to the upright's right edge from the upper right, level with the start of a size's extension line
    size, note = length((140, 205), (160, 205), (140, foot - 2.0), (160, 191)), leader((120, 185), (150, 193.0), (155, 193.0))
    assert (Blemish.LEADER_ACROSS_EXTENSION in on_front(size, note)) is found
    assert (Blemish.LEADER_ACROSS_EXTENSION in marked(size, note)) is found


def test_a_leader_may_touch_an_extension_line_with_its_tip():
    size, note = length((140, 205), (160, 205), (140, 187), (160, 191)), leader((140, 195), (150, 198), (155, 198))
    assert Blemish.LEADER_ACROSS_EXTENSION not in on_front(size, note)


@pytest.mark.parametrize(("lower", "found"), [(0.0, False), (-20.0, True)])
def test_an_arrow_of_sight_beside_the_part_and_not_before_it(lower, found):
    view = PlacedView(Sight(view_of(S1.solid(), "isometric")), 1.0, np.array([100.0, 100.0]))
    along, foot = np.array(view.unit(1)), view.paper(np.array([[30.0, 0.0, 0.0]]))[0]
    tip = foot - 12 * along - (0.0, lower)
    arrow = Placement(0, -1, Candidate((np.stack([tip - 16 * along, tip]),), (), (Arrowhead(tip, along, along[::-1]),), ()))
    assert (Blemish.SIGHT_ASIDE in set(PictorialRead(view, [OUTSIDE], [arrow]).serious())) is found
