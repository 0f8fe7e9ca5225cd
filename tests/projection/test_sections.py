"""Parts in section: what is taken away, what is drawn of the rest, what is hatched."""

from __future__ import annotations

import math

import numpy as np
import pytest
import shapely

from sheetgen.bank.features import Block, Hole, Rib
from sheetgen.problem.cutting import CuttingPlane, without_ribs
from sheetgen.projection import Arc, Straight, goes_on, section_of, view_of
from sheetgen.solid import SolidError, build
from tests.outside.bodies import S1, S3, block

BRACKET = (
    block((0, 60), (0, 40), (0, 10)), Block("wall", False, (0, 60), (30, 40), (10, 50)),
    Rib("rib", "right", (30, 10), (-20, 25), (26, 34)))
TWO_HOLES = (
    block((0, 80), (0, 50), (0, 20)), Hole("near", "top", ((20, 15),), 12), Hole("far", "top", ((60, 35),), 10, depth=12))


def section(features, sort, view, *levels, turns=()):
    plane = CuttingPlane(sort, view, levels, turns)
    solid = build(features)
    bare = without_ribs(features, plane)
    drawn = "left" if view == "side" else view
    return section_of(plane.cut(solid, drawn), drawn, bare=plane.cut(bare, drawn) if bare else None)


def verticals(view, at):
    """Lengths of the upright visible lines at ``at`` mm of a view."""
    return [line.length for line in view.visible_lines
            if isinstance(line, Straight) and max(abs(line.p[0] - at), abs(line.q[0] - at)) < 1e-6]


def test_a_counterbored_plate_cut_through_its_hole_shows_the_hole_with_full_lines_and_none_hidden():
    cut = section(S3, "full", "front", 25.0)
    assert not cut.view.hidden_lines
    assert cut.area == pytest.approx(50 * 30 - 20 * 20 - 30 * 10, rel=1e-12)         # by hand, sizes of the golden solid S3
    assert sorted(verticals(cut.view, 15.0)) == [20.0] and sorted(verticals(cut.view, 10.0)) == [10.0]
    floor = [line for line in cut.view.visible_lines if isinstance(line, Straight) and line.p[1] == line.q[1] == 20.0]
    assert [line.length for line in floor] == [pytest.approx(30.0)]      # the rim of the bore goes on behind


def test_what_lies_before_the_plane_is_gone_and_what_lies_beyond_is_drawn():
    whole, cut = view_of(build(S1), "left"), section(S1, "full", "side", 30.0).view
    assert len(whole.hidden_lines) == 3 and not cut.hidden_lines
    assert not any(line.p[1] > 15.0 + 1e-6 for line in cut.visible_lines)            # the upright stood before the plane
    assert sorted(verticals(cut, 12.0) + verticals(cut, 28.0)) == [] and cut.extent[0].tolist() == [0.0, 0.0]


def test_views_in_section_count_from_where_the_whole_part_begins():
    cut = section(S1, "full", "side", 30.0)
    assert cut.view.frame.flat(np.array([0.0, 40.0, 0.0])).tolist() == view_of(build(S1), "left").frame.flat(
        np.array([0.0, 40.0, 0.0])).tolist()


def test_no_line_is_drawn_where_an_offset_plane_turns():
    cut = section(TWO_HOLES, "offset", "front", 15.0, 35.0, turns=(40.0,))
    assert verticals(cut.view, 40.0) == []
    assert cut.area == pytest.approx(80 * 20 - 12 * 20 - 10 * 12, rel=1e-12)
    assert [verticals(cut.view, at) for at in (14.0, 26.0)] == [[20.0], [20.0]]
    assert [verticals(cut.view, at) for at in (55.0, 65.0)] == [[12.0], [12.0]]
    level = [line for line in cut.view.visible_lines if isinstance(line, Straight) and line.p[1] == line.q[1] == 0.0]
    assert sorted(line.length for line in level) == [80.0]                           # the outline runs through below the turn


def test_the_cut_has_to_go_on_where_its_plane_turns():
    shapes = (*TWO_HOLES, Block("pocket", True, (44, None), (10, 20), (8, None)))
    for turn, whole in ((40.0, True), (50.0, True)):
        plane = CuttingPlane("offset", "front", (15.0, 35.0), (turn,))
        assert goes_on(plane.cut(build(TWO_HOLES), "front"), "front") is whole
    assert not goes_on(CuttingPlane("offset", "front", (15.0, 35.0), (50.0,)).cut(build(shapes), "front"), "front")


def test_half_a_section_is_cut_at_the_readers_right_and_shows_the_outside_at_the_left():
    cut = section(S3, "half", "front", 25.0, turns=(25.0,))
    assert cut.area == pytest.approx((50 * 30 - 20 * 20 - 30 * 10) / 2, rel=1e-12)
    assert cut.cut.bounds[0] > 25.0 and verticals(cut.view, 15.0) == [] and verticals(cut.view, 35.0) == [20.0]
    assert verticals(cut.view, 25.0) == []
    left = CuttingPlane("half", "side", (25.0,), (25.0,))
    seen = section_of(left.cut(build(S3), "left"), "left")
    assert seen.cut.bounds[0] > 25.0                                                  # whose right is at the front


def test_a_rib_cut_along_is_outlined_and_not_hatched_and_one_cut_across_is():
    along = section(BRACKET, "full", "side", 30.0)
    assert along.ribs.area == pytest.approx(20 * 25 / 2, rel=1e-6) and along.hatched.area == pytest.approx(40 * 10 + 10 * 40)
    # Looked at from the left the wall's face stands at 40 - 30; its line and that of the base's top run through behind the rib.
    assert verticals(along.view, 10.0) == [pytest.approx(40.0)]
    assert [line.length for line in along.view.visible_lines if isinstance(line, Straight)
            and abs(line.p[1] - 10.0) + abs(line.q[1] - 10.0) < 1e-6] == [pytest.approx(30.0)]
    across = section(BRACKET, "full", "front", 20.0)
    assert across.ribs.is_empty and across.hatched.area == pytest.approx(across.area, rel=1e-9)


def test_a_bore_cut_across_keeps_its_circle_as_an_arc():
    cut = section(S3, "full", "top", 10.0)
    circles = [piece for outline in cut.outlines for piece in outline.pieces if isinstance(piece, Arc)]
    assert [round(math.hypot(*arc.a), 9) for arc in circles] == [10.0] and circles[0].closed
    assert cut.area == pytest.approx(50 * 50 - math.pi * 100, rel=1e-12)


def test_holes_that_only_hidden_lines_would_show_have_no_centre_lines_in_section():
    before = section(TWO_HOLES, "full", "front", 35.0).view
    assert {round(float(line.p[0]), 6) for line in before.centre_lines} == {60.0}
    behind = section(TWO_HOLES, "full", "front", 15.0).view
    assert {round(float(line.p[0]), 6) for line in behind.centre_lines} == {20.0}


@pytest.mark.parametrize(("features", "plane", "told"), [
    (S1, CuttingPlane("full", "side", (20.0,)), "the cutting plane lies in a face of the part"),
    (S1, CuttingPlane("offset", "side", (10.0, 30.0), (12.0,)), "it turns in a face of the part"),
    (S3, CuttingPlane("full", "front", (90.0,)), "misses the part|nothing is left"),
    (S3, CuttingPlane("full", "front", (15.0,)), "touch along an edge"),
], ids=["in a face", "turns in a face", "before the part", "touches a bore"])
def test_a_plane_that_no_section_can_show_is_refused_with_its_reason(features, plane, told):
    with pytest.raises(SolidError, match=told):
        plane.cut(build(features), "left" if plane.view == "side" else "front")


def test_the_faces_of_a_cut_close_and_do_not_overlap():
    for cut in (section(BRACKET, "full", "side", 30.0), section(TWO_HOLES, "offset", "front", 15.0, 35.0, turns=(40.0,))):
        assert shapely.is_valid(cut.cut) and cut.cut.area == pytest.approx(cut.area, rel=1e-6)
        for outline in cut.outlines:
            for one, other in zip(outline.pieces, (*outline.pieces[1:], outline.pieces[0]), strict=True):
                assert np.allclose(one.last, other.first, atol=1e-9)
