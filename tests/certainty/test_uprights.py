"""Parts with inclined faces about one axis: held against all parts of small grids whose squares are halved by a diagonal."""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest
from pysat.solvers import Glucose4

from sheetgen.bank import load_bank
from sheetgen.bank.features import Block, Piece, Profile
from sheetgen.certainty import certainty, views_given
from sheetgen.certainty.assumptions import UPRIGHT
from sheetgen.certainty.clauses import Clauses
from sheetgen.certainty.encoding import pieces
from sheetgen.certainty.grid import is_square
from sheetgen.certainty.prisms import prism_axis, prism_of
from sheetgen.certainty.sights import looks_along
from sheetgen.certainty.uprights import lengths_across, prism_makes_a_part
from sheetgen.problem import solid_of
from sheetgen.projection import view_of
from sheetgen.refusals import RefusedError
from sheetgen.solid import SolidError, build
from tests.certainty import brute, halved

VIEWS = ("front", "rear", "left", "right", "top", "bottom")
GRIDS = {
    "two squares in a row, three slabs": (np.array([[1], [-1]]), 3),
    "two squares in depth, three slabs": (np.array([[1, -1]]), 3),
    "two squares with one slope, two slabs": (np.array([[1, 1]]), 2),
    "four squares, a rhombus": (np.array([[-1, 1], [1, -1]]), 1),
    "four squares, a cross": (np.array([[1, -1], [-1, 1]]), 1),
}
SEVERAL = {("two squares in a row, three slabs", "front"), ("two squares in a row, three slabs", "rear"),
           ("two squares in depth, three slabs", "right"), ("two squares in depth, three slabs", "bottom")}
"""Grids and asked views of which many parts have several answers: the view has the most pieces."""


@cache
def all_of(name):
    """All parts of a grid, and what each view shows of them."""
    slopes, slabs = GRIDS[name]
    count = slopes.size * 2 * slabs
    fillings = ((np.arange(1, 2**count)[:, None] >> np.arange(count)) & 1).astype(bool).reshape(-1, *slopes.shape, 2, slabs)
    parts = [part for part in fillings if halved.is_a_part(part, slopes)]
    return parts, [{view: halved.view(part, slopes, view) for view in VIEWS} for part in parts]


@pytest.mark.parametrize(("given", "asked"), [
    (("top", "front"), "right"), (("top", "right"), "front"), (("bottom", "left"), "rear"), (("top", "front"), "bottom"),
    (("top", "front", "left"), None)])
@pytest.mark.parametrize("grid", GRIDS)
def test_all_answers_are_found_and_no_others_on_halved_grids(grid, given, asked):
    parts, views = all_of(grid)
    slopes, _ = GRIDS[grid]
    tried, several = 0, 0
    for k in np.random.default_rng(len(grid)).permutation(len(parts)).tolist():
        try:
            solid = halved.solid_of(parts[k], slopes)
        except SolidError:                            # two hollows that meet in a point
            continue
        if is_square(solid):
            continue
        fits = [i for i, shown in enumerate(views) if all(shown[view] == views[k][view] for view in given)]
        true = {views[i][asked] if asked else parts[i].tobytes() for i in fits}
        found = views_given(solid, given, asked, 100)
        assert found.count == len(true) and found.certain == (len(true) == 1)
        tried, several = tried + 1, several + (len(true) > 1)
        if tried == 12:
            break
    assert tried > 3 and (several > 2) == ((grid, asked) in SEVERAL)


def wedge_in_steps():
    """Three steps in a row, the first with an inclined end."""
    plan = (Piece((60.0, 0.0)), Piece((60.0, 40.0)), Piece((10.0, 40.0)), Piece((0.0, 0.0)))
    return build([Profile("wedge", False, "top", (0.0, 0.0), plan, (0.0, 30.0)),
                  Block("low", True, (None, 20), (None, None), (10, None)),
                  Block("middle", True, (20, 40), (None, None), (20, None))])


@pytest.mark.parametrize(("solid", "places", "is_a_part", "least"), [
    (wedge_in_steps(), ((15, 20), (30, 20), (50, 20)), lambda cells: brute.is_a_part(cells[:, None]), 4),
    (halved.solid_of(np.arange(3) < np.array([[[[1], [2]], [[3], [1]]]]), np.array([[1, -1]])),
     ((8, 2), (2, 8), (2, 12), (8, 18)), lambda cells: halved.is_a_part(cells.reshape(1, 2, 2, 3), np.array([[1, -1]])), 20),
], ids=["in a row", "round a point"])
def test_fillings_that_touch_themselves_in_an_edge_or_a_corner_are_no_parts(solid, places, is_a_part, least):
    """All fillings of one piece of a few faces and three slabs: whether the clauses allow them, against rules written apart."""
    prism, count, touching = prism_of(solid, 2), 3 * len(places), 0
    faces = np.array([prism.plan.face_at(*place) for place in places])
    assert sorted(faces) == list(range(1, len(places) + 1)) and prism.filled.shape[1] == 3
    clauses, numbers = Clauses(count), np.arange(1, count + 1)
    prism_makes_a_part(clauses, prism)
    with Glucose4(bootstrap_with=clauses.all_lists()) as solver:
        for filling in range(1, 2**count):
            cells = ((filling >> np.arange(count)) & 1).astype(bool)
            if len(set(pieces(count, prism.neighbours, cells)[cells])) == 1:
                fine = is_a_part(cells.reshape(-1, 3)[faces - 1])
                assert solver.solve(assumptions=np.where(cells, numbers, -numbers).tolist()) == fine
                touching += not fine
    assert touching >= least


def families_along_one_axis():
    bank = load_bank()
    return [(name, bank[name]) for name in ("roofed-slide", "round-ended-link", "slotted-wedge", "trestle")]


@pytest.mark.parametrize(("name", "family"), families_along_one_axis())
def test_families_whose_other_faces_run_along_one_axis_are_certain_if_the_view_along_it_is_given(name, family):
    for seed in (1, 2):
        solid = solid_of(family.sample(seed))
        axis = prism_axis(solid)
        along = ("right", "front", "top")[axis]
        for asked in {"front", "top", "right"} - {along}:
            found = certainty(solid, "third-view", asked)
            assert found.certain and found.assuming is UPRIGHT[axis]
        assert certainty(solid, "pictorial").certain
        with pytest.raises(RefusedError, match="edge-on in a view that is not given"):
            certainty(solid, "third-view", along)


@pytest.mark.parametrize(("name", "family"), families_along_one_axis())
def test_parts_of_the_same_cells_have_the_lines_that_the_rule_tells(name, family):
    """Any filling of its cells that makes a part, with round faces and limbs, drawn by the projection."""
    solid = solid_of(family.sample(3))
    prism = prism_of(solid, prism_axis(solid))
    draw, tried = np.random.default_rng(4), 0
    while tried < 6:
        other = prism.filled_as(draw.random(prism.filled[1:].size) < 0.6)
        try:
            body = build(other.features) if other.filled.any() else None
        except SolidError:
            continue
        if body is None:
            continue
        for view in VIEWS:
            if looks_along(view)[0] != prism.axis:
                linework = view_of(body, view).linework
                drawn = [sum(line.length for line in lines) for lines in (linework.visible, linework.hidden)]
                assert drawn == pytest.approx(lengths_across(other, view), abs=0.05)
        tried += 1


def test_parts_along_several_axes_and_with_cones_are_refused():
    for name in ("chamfered-saddle", "conical-boss", "bearing-support", "bevelled-block", "skew-ended-tunnel"):
        with pytest.raises(RefusedError, match="in their true shape in one view"):
            certainty(solid_of(load_bank()[name].sample(1)), "pictorial")
