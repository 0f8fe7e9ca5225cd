"""Our solids and views against an independent kernel's, for bodies that hold every kind of feature between them."""

from __future__ import annotations

from functools import cache
from typing import get_args

import pytest

from sheetgen.bank import features as f
from sheetgen.projection import view_of
from sheetgen.solid import build
from tests.outside.bodies import BODIES, GOLDEN
from tests.outside.kernel import VIEWS, compare, compare_hidden, reference_solid

EVERY = {**GOLDEN, **BODIES}
ours = cache(lambda name: build(EVERY[name]))
theirs = cache(lambda name: reference_solid(EVERY[name]))


def test_the_bodies_hold_every_kind_of_feature_and_every_mouth_of_a_hole():
    used = [feature for body in EVERY.values() for feature in body]
    assert {type(feature) for feature in used} == set(get_args(f.Feature))
    assert {feature.mouth for feature in used if isinstance(feature, f.Hole)} == set(get_args(f.Mouth))
    assert {(type(feature), feature.cut) for feature in used if hasattr(feature, "cut")} == {
        (kind, cut) for kind in (f.Block, f.Profile, f.Cylinder, f.Cone, f.Lug, f.Obround, f.Dovetail) for cut in (True, False)}


@pytest.mark.parametrize("name", EVERY)
def test_the_solid_fills_as_much_space_as_the_kernels(name):
    assert ours(name).volume == pytest.approx(theirs(name).volume, rel=VOLUME)


@pytest.mark.parametrize("view", VIEWS)
@pytest.mark.parametrize("name", EVERY)
def test_each_view_shows_and_hides_the_lines_the_kernel_does(name, view):
    drawn, reference = view_of(ours(name), view), theirs(name).views(view)
    seen = compare(drawn.visible, reference[0])
    hidden = compare_hidden((drawn.visible, drawn.hidden), reference)
    assert seen.agree, f"visible: {seen}"
    assert hidden.agree, f"hidden: {hidden}"


VOLUME = 1e-5
"""Relative: facets stand up to two microns off their cylinder."""
