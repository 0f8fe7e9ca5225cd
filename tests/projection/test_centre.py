"""Centre lines of a view, in cases worked by hand: axes, slots, planes of symmetry. View millimetres.

They reach 4 past the outline: 3 to 6 (print-reading textbook p. 20); the rest is common practice, no source, where none is named.
"""

from __future__ import annotations

import pytest

from sheetgen.bank.features import Block, Cylinder, Hole, Lug, Obround
from sheetgen.projection import view_of
from sheetgen.solid import build

PLATE = Block("base", False, (0, 60), (0, 40), (0, 20))
OPEN = (None, None)


def lines(features, name="top", symmetry=(), scale=1.0) -> list[tuple[float, ...]]:
    """The centre lines of a view as rows: both ends, the lower left first, in order."""
    found = view_of(build(features), name, symmetry=symmetry).centre_lines_at(scale)
    rows = [sorted((shape.p.round(6).tolist(), shape.q.round(6).tolist())) for shape in found]
    return sorted((*low, *high) for low, high in rows)


def same(found, *wanted) -> bool:
    return found == [pytest.approx(row, abs=1e-5) for row in sorted(wanted)]


def test_a_hole_has_two_lines_that_cross_in_its_circle_and_one_where_it_is_seen_from_the_side():
    bore = (PLATE, Hole("bore", "top", ((22, 15),), 12))
    assert same(lines(bore), (12, 15, 32, 15), (22, 5, 22, 25))
    assert same(lines(bore, "front"), (22, -4, 22, 24))
    assert same(lines(bore, "right"), (15, -4, 15, 24))
    assert lines(bore, "isometric") == []


def test_how_far_they_reach_past_the_outline_is_the_same_on_paper_at_any_scale():
    bore = (PLATE, Hole("bore", "top", ((30, 20),), 12))
    assert same(lines(bore, scale=0.5), (16, 20, 44, 20), (30, 6, 30, 34))


@pytest.mark.parametrize("slot", [
    Obround("slot", True, "top", ((15, 20), (45, 20)), 12, OPEN),
    Obround("pad", False, "top", ((15, 20), (45, 20)), 12, (20, 30))])
def test_a_slots_or_a_pads_round_ends_are_joined_by_one_line_along_its_middle(slot):
    assert same(lines((PLATE, slot)), (5, 20, 55, 20), (15, 10, 15, 30), (45, 10, 45, 30))


def test_half_rounds_that_look_at_each_other_are_no_slots_ends():
    # half-round notches in the left and in the right side: between them is metal, and no line
    notches = (PLATE, *(Cylinder(f"notch{x}", True, "z", ((x, 20),), 16, OPEN) for x in (0, 60)))
    assert not [row for row in lines(notches) if row[0] < 30 < row[2]]
    assert [row for row in lines(notches) if row[1] == row[3] == 20]


def test_nor_are_saddles_side_by_side():
    saddles = (PLATE, *(Cylinder(f"saddle{x}", True, "y", ((x, 20),), 16, OPEN) for x in (15, 45)))
    assert not [row for row in lines(saddles, "front") if row[0] < 30 < row[2]]
    assert {row[0] for row in lines(saddles, "front")} >= {15, 45}


def test_a_saddles_line_does_not_run_to_where_its_upper_half_would_be():
    [upright] = [row for row in lines((PLATE, Cylinder("saddle", True, "y", ((30, 20),), 16, OPEN)), "front") if row[0] == row[2]]
    assert upright == pytest.approx((30, 8, 30, 24))


def test_a_rounded_corner_is_no_feature_with_an_axis():
    assert lines((PLATE, Cylinder("corner", True, "z", ((0, 0),), 16, OPEN))) == []
    assert lines((PLATE, Cylinder("half", True, "z", ((30, 0),), 16, OPEN))) != []


def test_a_round_end_has_a_line_on_both_sides_of_its_centre():
    # a tongue with a half-round end: across its end and on along its flats
    lug = (PLATE, Lug("lug", False, "front", (30, 40), 20, "up", 20, (10, 30)))
    assert [row for row in lines(lug, "front") if row[1] == row[3] == 40] == [pytest.approx((16, 40, 44, 40))]


def test_a_plane_of_symmetry_has_its_trace_where_it_is_seen_edge_on_and_the_other_has_none():
    assert same(lines((PLATE,), "top", ("x",)), (30, -4, 30, 44))
    assert same(lines((PLATE,), "front", ("x",)), (30, -4, 30, 24))
    assert lines((PLATE,), "right", ("x",)) == []
    assert same(lines((PLATE,), "top", ("x", "y")), (-4, 20, 64, 20), (30, -4, 30, 44))
    assert lines((PLATE,), "top") == []


def test_a_centre_line_under_a_line_of_the_part_is_not_drawn_but_where_it_runs_past():
    # precedence: visible, hidden, centre (ISO 128:1982, from memory); a step's edge lies in the mid-plane
    stepped = (PLATE, Block("step", True, (30, None), OPEN, (10, None)))
    assert same(lines(stepped, "top", ("x",)), (30, -4, 30, 0), (30, 40, 30, 44))


def test_nor_on_a_hidden_line():
    stepped = (PLATE, Block("step", True, (30, None), OPEN, (None, 10)))
    assert same(lines(stepped, "top", ("x",)), (30, -4, 30, 0), (30, 40, 30, 44))


def test_holes_in_one_line_a_little_apart_share_one_line():
    # their ends come within 6 mm of each other
    near, far = ((PLATE, Hole("holes", "top", ((x, 20), (60 - x, 20)), 8)) for x in (19, 14))
    assert sum(row[1] == row[3] for row in lines(near)) == 1
    assert sum(row[1] == row[3] for row in lines(far)) == 2
