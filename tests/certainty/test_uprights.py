"""Parts with inclined faces about one axis: held against all parts of small grids whose squares are halved by a diagonal."""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest

from sheetgen.certainty import views_given
from sheetgen.certainty.given import is_square
from sheetgen.solid import SolidError
from tests.certainty import halved

VIEWS = ("front", "rear", "left", "right", "top", "bottom")
GRIDS = {
    "a square, three slabs": (np.array([[1]]), 3),
    "two squares in a row": (np.array([[1], [-1]]), 2),
    "two squares in depth": (np.array([[1, 1]]), 2),
    "four squares, a rhombus": (np.array([[-1, 1], [1, -1]]), 1),
    "four squares, a cross": (np.array([[1, -1], [-1, 1]]), 1),
    "three squares": (np.array([[1], [1], [-1]]), 1),
}


@cache
def all_of(name):
    """All parts of a grid, and what each view shows of them."""
    slopes, slabs = GRIDS[name]
    count = slopes.size * 2 * slabs
    fillings = ((np.arange(1, 2**count)[:, None] >> np.arange(count)) & 1).astype(bool).reshape(-1, *slopes.shape, 2, slabs)
    parts = [part for part in fillings if halved.is_a_part(part, slopes)]
    return parts, [{view: halved.view(part, slopes, view) for view in VIEWS} for part in parts]


@pytest.mark.parametrize(("given", "asked"), [
    (("top", "front"), "right"), (("top", "right"), "front"), (("bottom", "left"), "rear"), (("top", "front", "left"), None)])
@pytest.mark.parametrize("grid", GRIDS)
def test_all_answers_are_found_and_no_others_on_halved_grids(grid, given, asked):
    parts, views = all_of(grid)
    slopes, _ = GRIDS[grid]
    tried = 0
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
        tried += 1
        if tried == 12:
            break
    assert tried > 3
