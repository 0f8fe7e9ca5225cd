"""Is the referee to be trusted? The outside kernel against solids, volumes and views worked by hand."""

from __future__ import annotations

import math

import numpy as np
import pytest

from sheetgen.bank import features as f
from tests.outside import golden
from tests.outside.bodies import ALL, GOLDEN, block, profile, slot
from tests.outside.kernel import compare, compare_hidden, reference_solid

EXACT = 1e-4   # mm: the hand lists are exact, the kernel's ends are good to about 1e-7
ROOM = block((0, 40), (0, 40), (0, 40))


@pytest.mark.parametrize("name", GOLDEN)
def test_a_golden_solid_has_the_volume_worked_by_hand(name):
    assert reference_solid(GOLDEN[name]).volume == pytest.approx(golden.VOLUMES[name], rel=1e-9)


@pytest.mark.parametrize(("name", "view"), golden.LINEWORK)
def test_a_golden_solid_shows_the_lines_listed_by_hand(name, view):
    by_hand = tuple(golden.lines(part) for part in golden.LINEWORK[name, view])
    drawn = reference_solid(GOLDEN[name]).views(view)
    seen, hidden = compare(drawn[0], by_hand[0], EXACT), compare_hidden(drawn, by_hand, EXACT)
    assert seen.agree, seen
    assert hidden.agree, hidden
    assert seen.length_ours == pytest.approx(seen.length_theirs, abs=0.01)


def test_in_the_isometric_the_slot_of_the_l_block_hides_one_edge_but_for_its_last_millimetre():
    by_hand = golden.isometric(golden.S1_VISIBLE), golden.isometric(golden.S1_HIDDEN)
    drawn = reference_solid(GOLDEN["S1"]).views("isometric")
    seen, hidden = compare(drawn[0], by_hand[0], EXACT), compare_hidden(drawn, by_hand, EXACT)
    assert seen.agree, seen
    assert hidden.agree, hidden


def test_the_counterbored_plate_shows_two_full_circles_from_above_and_none_hidden():
    angle = np.linspace(0, math.tau, 1441)
    circles = [np.column_stack([25 + r * np.cos(angle), 25 + r * np.sin(angle)]) for r in (10, 15)]
    drawn = reference_solid(GOLDEN["S3"]).views("top")
    seen = compare(drawn[0], [*golden.lines(golden.rectangle(50, 50)), *circles], 0.003)
    assert seen.agree, seen
    assert compare_hidden(drawn, (circles, []), 0.02).extra == ()


def test_a_circle_on_top_is_an_isometric_ellipse_with_its_long_axis_level():
    angle = np.linspace(0, math.tau, 2881)
    # 1.2247 d by 0.7071 d at full scale along the axes (ISO 5456-3, from memory; checked by sqrt(3/2), sqrt(1/2))
    rim = np.column_stack([43.3013 + 36.7423 / 2 * np.cos(angle), 30 + 21.2132 / 2 * np.sin(angle)])
    assert compare(reference_solid(GOLDEN["S3"]).views("isometric")[0], [rim], 0.003).missing == ()


def test_from_behind_and_from_below_a_notched_block_is_turned_the_right_way_round():
    notched = reference_solid([block((0, 30), (0, 20), (0, 12)), slot(x=(22, None), y=(None, 5), z=(7, None))])
    rear, bottom = notched.views("rear"), notched.views("bottom")
    hidden_rear = golden.lines(((8, 12, 8, 7), (0, 7, 8, 7)))               # u = 30 - x
    hidden_bottom = golden.lines(((22, 20, 22, 15), (22, 15, 30, 15)))      # v = 20 - y
    for drawn, size, hidden in ((rear, (30, 12), hidden_rear), (bottom, (30, 20), hidden_bottom)):
        by_hand = golden.lines(golden.rectangle(*size)), hidden
        assert compare(drawn[0], by_hand[0], EXACT).agree
        assert compare_hidden(drawn, by_hand, EXACT).agree


R3 = math.sqrt(3)
VOLUMES = {   # one feature in (or beside) a 40 mm cube: what it takes away or adds, by formula
    "through hole": (f.Hole("h", "left", ((20, 20),), 10), -math.pi * 25 * 40),
    "two blind holes": (f.Hole("h", "back", ((10, 20), (30, 20)), 8, depth=15), -2 * math.pi * 16 * 15),
    "hole from a level": (f.Hole("h", "top", ((20, 20),), 10, level=30), -math.pi * 25 * 30),
    "hole from a low level": (f.Hole("h", "bottom", ((20, 20),), 10, level=30, depth=4), -math.pi * 25 * 4),
    "drilled hole": (f.Hole("h", "right", ((20, 20),), 12, depth=10, point_angle=90), -math.pi * 36 * (10 + 6 / 3)),
    "counterbore": (f.Hole("h", "front", ((20, 20),), 10, counterbore=(20, 6)), -math.pi * (25 * 40 + 75 * 6)),
    "countersink": (f.Hole("h", "bottom", ((20, 20),), 10, countersink=(20, 90)),
                    -math.pi * (25 * 35 + 5 / 3 * (100 + 50 + 25))),
    "boss": (f.Cylinder("c", False, "x", ((20, 20),), 10, (40, 47)), math.pi * 25 * 7),
    "round cut": (f.Cylinder("c", True, "y", ((0, 0),), 20, ALL), -math.pi * 100 * 40 / 4),
    "frustum": (f.Cone("c", False, "y", (20, 20), (0, 12), (-9, 0)), math.pi * 36 * 9 / 3),
    "conical cut": (f.Cone("c", True, "z", (20, 20), (6, 12), (25, 40)), -math.pi * 15 / 3 * (9 + 18 + 36)),
    "lug": (f.Lug("l", False, "front", (20, 52), 16, "up", 40, (10, 15)), (16 * 12 + math.pi * 32) * 5),
    "open lug slot": (f.Lug("l", True, "top", (30, 20), 10, "left", None, (35, None)), -(10 * 10 + math.pi * 12.5) * 5),
    "half-round pocket": (f.Lug("l", True, "right", (20, 20), 10, "down", 20, (30, None)), -math.pi * 12.5 * 10),
    "obround": (f.Obround("o", True, "right", ((20, 28), (20, 12)), 6, (None, 9)), -(16 * 6 + math.pi * 9) * 9),
    "pad": (f.Obround("o", False, "top", ((12, 20), (28, 20)), 6, (40, 43)), (16 * 6 + math.pi * 9) * 3),
    "rib": (f.Rib("r", "front", (40, 0), (12, 20), (5, 9)), 12 * 20 / 2 * 4),
    "vee": (f.Vee("v", "front", (20, 30), "up", 60, (None, 30)), -10 * 10 / R3 * 30),
    "vee from the left": (f.Vee("v", "top", (10, 20), "left", 90, ALL), -10 * 10 * 40),
    "slant": (f.Slant("s", "right", ((30, 40), (40, 25)), "right", (10, 20)), -10 * 15 / 2 * 10),
    "slant below": (f.Slant("s", "front", ((0, 8), (16, 0)), "below", ALL), -8 * 16 / 2 * 40),
    "dovetail groove": (f.Dovetail("d", True, "front", (20, 30), 24, 10, 60, "up", ALL), -(24 - 10 / R3) * 10 * 40),
    "sideways groove": (f.Dovetail("d", True, "top", (8, 20), 24, 8, 60, "left", (20, 40)), -(24 - 8 / R3) * 8 * 20),
    "dovetail tongue": (f.Dovetail("d", False, "right", (20, 50), 24, 10, 60, "up", (5, 35)), (24 - 10 / R3) * 10 * 30),
    "corner": (f.Corner("k", ((0, 0, 12), (0, 15, 0), (18, 0, 0)), (-1, -1, -1)), -12 * 15 * 18 / 6),
    "quarter round": (profile("right", (40, 20), (60, 40, 40, 40, "left"), (40, 40), (40, 20), along=(0, 10)),
                      math.pi * 400 / 4 * 10),
    "hollow round": (profile("right", (60, 20), (40, 40, 60, 40, "right"), (40, 20), (60, 20), along=(0, 10)),
                     (400 - math.pi * 100) * 10),
    "long way round": (profile("top", (20, 12), (12, 20, 20, 20, "left"), (20, 20), (20, 12), along=(38, None), cut=True),
                       -math.pi * 64 * 0.75 * 2),
}


@pytest.mark.parametrize("kind", VOLUMES)
def test_each_feature_adds_or_takes_the_volume_of_its_formula(kind):
    feature, change = VOLUMES[kind]
    assert reference_solid([ROOM, feature]).volume == pytest.approx(64_000 + change, rel=1e-8)


def test_a_hole_sunk_from_the_outermost_face_starts_at_the_boss_built_before_it():
    boss = f.Cylinder("boss", False, "z", ((20, 20),), 24, (40, 48))
    sunk = f.Hole("h", "top", ((20, 20),), 6, depth=10)
    assert reference_solid([ROOM, boss, sunk]).volume == pytest.approx(64_000 + math.pi * (144 * 8 - 9 * 10), rel=1e-8)


def test_the_lowest_leftmost_foremost_corner_becomes_the_origin():
    low, high = reference_solid([block((5, 20), (-7, 3), (2, 9)), f.Cylinder("c", False, "y", ((12, 9),), 6, (-12, 0))]).bounds
    assert low == pytest.approx((0, 0, 0), abs=1e-6)
    assert high == pytest.approx((15, 15, 10), abs=1e-6)


def test_no_line_is_drawn_where_a_rounded_end_runs_tangent_into_its_flats():
    upright = reference_solid([block((0, 60), (0, 40), (0, 10)), f.Lug("lug", False, "front", (30, 35), 24, "up", 10, (30, 40))])
    end = golden.lines(((0, 0, 40, 0), (0, 0, 0, 10), (0, 10, 40, 10), (40, 0, 40, 47), (30, 10, 30, 47), (30, 47, 40, 47)))
    assert compare(upright.views("right")[0], end, EXACT).agree        # nothing at z = 35
    plan = golden.lines((*golden.rectangle(60, 40), (18, 30, 42, 30), (18, 30, 18, 40), (42, 30, 42, 40)))
    assert compare(upright.views("top")[0], plan, EXACT).agree         # but its width bounds it from above


def test_the_comparison_notices_a_line_too_many_too_few_astray_and_of_the_wrong_kind():
    square = golden.lines(golden.rectangle(10, 10))
    middle = golden.lines(((0, 5, 10, 5),))
    assert compare(square, square[::-1]).agree
    assert compare([*square, *square], square).length_ours == pytest.approx(40)
    assert compare([*square, *middle], square).extra
    assert compare(square[1:], square).missing
    assert compare([line + 0.03 for line in square], square).worst_ours == pytest.approx(0.03 * math.sqrt(2), rel=0.5)
    assert compare_hidden((square, middle), (square, [])).extra
    assert compare_hidden((square, []), (square, middle)).missing
    assert compare_hidden((square, []), (square, square)).agree        # a hidden line under a visible one is not drawn
