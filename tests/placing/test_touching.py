"""Dimension lines within a recess, and on the pictorial at the part's own edges: where an arrow touches the part. Millimetres."""

from __future__ import annotations

import numpy as np
import pytest
import shapely

from sheetgen.bank.features import Block
from sheetgen.placing import Surroundings, choose, items_of, pictorial_offers, view_offers
from sheetgen.projection import view_of
from sheetgen.sight import PlacedView, Sight
from tests.parts import ENGLISH, Part, span

ORIGIN = np.array([100.0, 100.0])
OPEN = (None, None)
BASE = Block("base", False, (0, 90), (0, 120), (0, 60))


def pocketed(x=(30, 60), y=(40, 80)) -> Part:
    """A block with a pocket in its top, whose width is measured."""
    return Part((BASE, Block("pocket", True, x, y, (40, None))), (span("pocket.left", "pocket.right"),), 1)


POCKET, NARROW, SLIT = pocketed(), pocketed((30, 37)), pocketed((30, 32.5))
NEAR_THE_FRONT = pocketed(y=(5, 80))
ANGLED = Part((*POCKET.features, Block("corner", True, (45, 60), (34, 50), (40, None))), POCKET.specs, 1)
"""The pocket's right side is longer than its left."""
SLOTTED = Part((BASE, Block("slot", True, (30, 60), OPEN, (20, None))), (span("slot.left", "slot.right"),), 1)


def placed(part, name="front", scale=1.0) -> PlacedView:
    return PlacedView(Sight(view_of(part.solid(), name)), scale, ORIGIN)


def touching(view, offers):
    """What touches: each way of which an arrow has no extension line, with its arrows' tips that have none."""
    lines = [shapely.LineString(line) for line in view.visible_straights]
    for k in range(len(offers)):
        drawn = offers.drawn(k)
        bare = [head for head in drawn.heads
                if not any(shapely.LineString(line).distance(shapely.Point(head.tip)) < 1e-6 for line in drawn.extensions)]
        if bare:
            yield drawn, bare, lines


def on_view(part, **more):
    view = placed(part, "top", **more)
    return list(touching(view, view_offers([view], items_of(part.measures(), ENGLISH))))


def test_a_pockets_width_may_stand_in_the_pocket_where_both_arrows_touch_its_sides():
    found = on_view(POCKET)
    assert any(len(bare) == 2 and not drawn.extensions for drawn, bare, _ in found)
    for drawn, _, _ in found:
        low, high = np.sort([head.tip[0] for head in drawn.heads])
        assert (low, high) == pytest.approx((130, 160))


def test_an_arrow_that_has_no_extension_line_touches_a_seen_edge_well_away_from_its_ends():
    found = on_view(POCKET)
    assert found
    for _, bare, lines in found:
        for head in bare:
            assert from_ends(head, lines) > 4.5


def test_where_one_side_is_shorter_than_the_other_no_arrow_touches_it_near_its_end():
    # 9 mm from the right side's end is 3 mm from the left side's
    found = on_view(ANGLED)
    assert found
    for _, bare, lines in found:
        assert all(from_ends(head, lines) > 4.5 for head in bare)


def from_ends(head, lines) -> float:
    """mm from an arrow's tip to the nearer end of the edge that it touches; less than 0 if it touches none."""
    tip = shapely.Point(head.tip)
    own = [line for line in lines if line.distance(tip) < 1e-6]
    return max((min(tip.distance(shapely.Point(end)) for end in line.coords) for line in own), default=-1.0)


def test_in_a_narrow_pocket_the_arrows_point_at_its_sides_from_outside():
    found = on_view(NARROW)
    assert found
    for drawn, bare, _ in found:
        middle = sum(head.tip for head in drawn.heads) / 2
        assert all((middle - head.tip) @ head.along > 0 for head in bare)


@pytest.mark.parametrize("part", [NEAR_THE_FRONT, SLIT])
def test_a_pocket_near_the_edge_or_one_in_which_arrows_would_meet_is_measured_from_outside(part):
    # a short extension line to the outside reads well; arrows that point at each other stand 3 mm apart
    assert on_view(part) == []


def test_so_is_one_that_is_small_on_paper():
    assert on_view(POCKET, scale=0.2) == []
    assert on_view(POCKET, scale=0.5) != []


def test_and_a_width_that_is_that_of_the_whole_view():
    assert on_view(Part((BASE,), (span("base.left", "base.right"),), 1)) == []


def test_where_an_extension_line_would_run_far_over_the_part_the_pocket_is_taken():
    view, items = placed(POCKET, "top"), items_of(POCKET.measures(), ENGLISH)
    offers, area = view_offers([view], items), (0.0, 0.0, 400.0, 400.0)
    [chosen] = choose(Surroundings(view.coarse("visible"), [], [], area, [view.shadow]), offers, 1)
    assert all(140 < head.tip[1] < 180 for head in chosen.drawn.heads)
    outside = [k for k in range(len(offers)) if not view.box[1] < offers.drawn(k).heads[0].tip[1] < view.box[3]]
    assert outside                                        # it was offered, and is dearer


def on_pictorial(part):
    view = placed(part, "isometric")
    return view, list(touching(view, pictorial_offers(view, items_of(part.measures(), ENGLISH))))


@pytest.mark.parametrize("part", [SLOTTED, POCKET, ANGLED])
def test_on_the_pictorial_an_arrow_without_extension_line_touches_an_edge_away_from_its_ends(part):
    view, found = on_pictorial(part)
    assert found
    for drawn, bare, lines in found:
        x, y = drawn.heads[0].tip - drawn.heads[1].tip
        assert any(abs(x * up - y * across) < 1e-6 for across, up in (view.unit(k) for k in range(3)))
        assert all(from_ends(head, lines) > 4.5 for head in bare)


def test_on_the_pictorial_a_space_too_small_for_its_figures_and_arrows_is_not_measured_so():
    assert on_pictorial(NARROW)[1] == []


def test_sizes_between_arrows_that_touch_are_the_true_ones():
    _, found = on_pictorial(SLOTTED)
    assert {round(float(np.hypot(*(drawn.heads[0].tip - drawn.heads[1].tip))), 6) for drawn, _, _ in found} == {30.0}


RIB = Part((BASE, Block("rib", False, (40, 50), (20, 100), (60, 90))), (span("rib.left", "rib.right"),), 1)
WIDE_RIB = Part((BASE, Block("rib", False, (32, 58), (20, 100), (60, 90))), (span("rib.left", "rib.right"),), 1)


@pytest.mark.parametrize(("part", "beyond", "between"), [(RIB, True, False), (WIDE_RIB, True, True)])
def test_the_figures_of_a_line_across_a_feature_stand_beyond_its_edges_or_aside_of_its_middle(part, beyond, between):
    # in the middle they would stand on its centre line
    found = [drawn for drawn, bare, _ in on_view(part) if len(bare) == 2]
    at = [drawn.texts[0].at[0] - 100 for drawn in found]
    low, high = (40, 50) if part is RIB else (32, 58)
    assert any(place < low or place > high for place in at) is beyond
    assert any(low < place < high and abs(place - 45) > 4 for place in at) is between


def test_but_those_of_a_line_across_half_the_part_stand_in_its_middle():
    across = pocketed(x=(20, 60))
    assert {round(drawn.texts[0].at[0], 3) for drawn, bare, _ in on_view(across) if len(bare) == 2} == {140.0}
