"""How a hole ends whose far end the pictorial hides."""

from __future__ import annotations

from sheetgen.bank.features import Block, Cylinder, Hole, Lug
from sheetgen.projection import view_of
from sheetgen.sight import FarEnd, IntoBore, IntoHollow, Sight, Through, unseen_ends
from sheetgen.solid import build

ROOM = Block("base", False, (0, 60), (0, 40), (0, 30))
OPEN = (None, None)


def said(*features) -> dict[str, FarEnd]:
    solid = build([ROOM, *features])
    names = {solid.sides[name]: name for name in solid.sides if name.endswith(".wall")}
    return {names[k]: end for k, end in unseen_ends(Sight(view_of(solid, "isometric"))).items()}


def test_a_deep_hole_goes_through():
    assert said(Hole("bore", "top", ((30, 20),), 10)) == {"bore.wall": Through()}


def test_a_hole_of_which_the_far_rim_shows_need_not_be_told():
    thin = build([Block("base", False, (0, 60), (0, 40), (0, 5)), Hole("bore", "top", ((30, 20),), 24)])
    assert unseen_ends(Sight(view_of(thin, "isometric"))) == {}


def test_a_hole_may_end_in_a_bore_that_crosses_it():
    cross = Hole("cross", "right", ((20, 12),), 16)
    assert said(cross, Hole("oil", "top", ((30, 20),), 6, depth=15))["oil.wall"] == IntoBore(16.0)


def test_a_hole_right_through_a_bar_ends_in_no_bore_though_it_comes_out_of_a_round_side():
    bar = build([Cylinder("bar", False, "x", ((20, 20),), 30, (0, 60)), Hole("cross", "top", ((30, 20),), 8)])
    assert list(unseen_ends(Sight(view_of(bar, "isometric"))).values()) == [Through()]


def test_a_hole_into_a_vault_is_not_said_to_end_in_a_bore():
    # a tunnel with a half-round roof has a radius, and no diameter
    tunnel = Lug("tunnel", True, "right", (20, 12), 16, "up", None, OPEN)
    assert said(tunnel, Hole("oil", "top", ((30, 20),), 6, depth=15))["oil.wall"] == IntoHollow(8.0)
