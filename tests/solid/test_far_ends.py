"""Where holes end, what turns right round, and what is one round feature or several."""

from __future__ import annotations

import pytest

from sheetgen.bank.features import Block, Cylinder, Feature, Hole, Lug, Obround
from sheetgen.solid import FarEnd, IntoBore, IntoHollow, Through, build, far_ends, is_open, rows_of, turns_right_round

OPEN = (None, None)
ROOM = Block("base", False, (0, 60), (0, 40), (0, 30))
FORK = (Block("foot", False, (0, 60), (0, 40), (0, 10)), Lug("fork", False, "right", (20, 40), 30, "up", 10, (10, 50)),
        Block("gap", True, (20, 40), OPEN, (15, None)))


def said(*features: Feature) -> dict[str, FarEnd]:
    solid = build(features)
    names = {solid.sides[name]: name for name in solid.sides if name.endswith((".wall", ".round"))}
    return {names[k]: end for k, end in far_ends(solid).items()}


def rows(side: str, *features: Feature) -> int:
    solid = build(features)
    return len(rows_of(solid, solid.sides[side]))


def test_a_hole_without_a_floor_goes_through_whether_its_far_rim_shows_or_not():
    assert said(ROOM, Hole("bore", "top", ((30, 20),), 10)) == {"bore.wall": Through()}
    thin = Block("base", False, (0, 60), (0, 40), (0, 5))
    assert said(thin, Hole("bore", "top", ((30, 20),), 24)) == {"bore.wall": Through()}


@pytest.mark.parametrize("point", [None, 120.0])
def test_a_blind_hole_does_not_go_through_be_its_bottom_flat_or_drilled(point):
    assert said(ROOM, Hole("pit", "top", ((30, 20),), 10, depth=12, point_angle=point)) == {}


def test_a_countersink_closes_nothing():
    assert said(ROOM, Hole("screw", "top", ((30, 20),), 10, countersink=(18, 90)))["screw.wall"] == Through()


@pytest.mark.parametrize(("mouth", "depth"), [("top", 15), ("bottom", 10)])
def test_a_hole_may_end_in_a_bore_that_crosses_it_from_whichever_side_one_drills(mouth, depth):
    cross = Hole("cross", "right", ((20, 12),), 16)
    ends = said(ROOM, cross, Hole("oil", mouth, ((30, 20),), 6, depth=depth))
    assert ends == {"oil.wall": IntoBore(16.0), "cross.wall": Through()}


def test_a_hole_that_goes_on_beyond_the_bore_goes_through():
    ends = said(ROOM, Hole("cross", "right", ((20, 12),), 16), Hole("oil", "top", ((30, 20),), 6))
    assert ends["oil.wall"] == Through()


def test_a_hole_into_a_vault_is_not_said_to_end_in_a_bore():
    # a tunnel with a half-round roof has a radius, and no diameter
    tunnel = Lug("tunnel", True, "right", (20, 12), 16, "up", None, OPEN)
    assert said(ROOM, tunnel, Hole("oil", "top", ((30, 20),), 6, depth=15))["oil.wall"] == IntoHollow(8.0)


def test_a_hole_through_both_cheeks_of_a_fork_goes_through_though_the_cheeks_face_each_other():
    assert said(*FORK, Hole("pin", "right", ((20, 40),), 12)) == {"pin.wall": Through()}


def test_the_cheeks_of_a_fork_are_two_and_so_are_the_holes_in_them():
    pin = Hole("pin", "right", ((20, 40),), 12)
    assert (rows("fork.round", *FORK, pin), rows("pin.wall", *FORK, pin)) == (2, 2)
    assert rows("fork.round", *FORK[:2]) == 1


def test_a_hole_that_a_bore_crosses_is_one():
    tube = (Cylinder("tube", False, "z", ((20, 20),), 40, (0, 50)), Hole("bore", "top", ((20, 20),), 24))
    assert rows("pin.wall", *tube, Hole("pin", "front", ((20, 25),), 8)) == 1


def test_a_boss_that_a_slot_divides_lengthwise_is_one():
    boss = Cylinder("boss", False, "z", ((30, 20),), 30, (30, 50))
    assert rows("boss.wall", ROOM, boss, Block("slot", True, (26, 34), OPEN, (40, None))) == 1


def test_an_arc_that_shows_by_more_than_half_turns_right_round():
    # arcs over 180 degrees have a diameter, others a radius (ISO 129-1, from memory)
    pad = Obround("pad", False, "top", ((15, 20), (45, 20)), 30, (0, 10))
    boss = Cylinder("boss", False, "z", ((15, 20),), 30, (0, 30))
    plain, topped = build([pad]), build([pad, boss])
    assert not turns_right_round(plain, plain.sides["pad.1.round"])
    assert turns_right_round(topped, topped.sides["pad.1.round"])
    assert not turns_right_round(topped, topped.sides["pad.2.round"])
    keyed = build([ROOM, Hole("bore", "top", ((30, 20),), 16), Block("key", True, (27, 33), (20, 32), OPEN)])
    assert turns_right_round(keyed, keyed.sides["bore.wall"])


def test_a_hole_with_a_drill_point_goes_nowhere():
    assert said(ROOM, Hole("pit", "top", ((30, 20),), 10, depth=14, point_angle=120)) == {}


def test_a_countersink_closes_no_hole_however_short_what_is_left_of_it():
    plate = build([Block("base", False, (0, 60), (0, 40), (0, 10)), Hole("bore", "top", ((30, 20),), 14, countersink=(22, 90))])
    assert is_open(plate, plate.sides["bore.wall"])
