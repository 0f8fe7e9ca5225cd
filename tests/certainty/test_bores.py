"""Round holes that centre line and diameter tell: what else fits, tried with round holes that are drawn by the projection."""

from __future__ import annotations

from itertools import combinations, product

import numpy as np
import pytest
import shapely

from sheetgen.bank import load_bank
from sheetgen.bank.features import Block, Hole
from sheetgen.certainty import Assumption, Grid, certainty
from sheetgen.problem import solid_of
from sheetgen.projection import view_of
from sheetgen.refusals import RefusedError
from sheetgen.solid import SolidError, build

BANK = load_bank()
VIEWS = ("front", "top", "right")
LEVELS = tuple(np.array(levels, dtype=float) for levels in ((0, 10, 34, 50), (0, 8, 32, 40), (0, 15, 35)))
"""A grid whose middle column, seen from above, holds a hole of 20."""

HOLES = {
    "through": (Hole("hole", "top", ((22.0, 20.0),), 20.0),),
    "blind, as drills end": (Hole("hole", "top", ((22.0, 20.0),), 20.0, depth=20.0, point_angle=120.0),),
    "counterbored": (Hole("hole", "top", ((22.0, 20.0),), 12.0, counterbore=(20.0, 10.0)),),
    "countersunk": (Hole("hole", "top", ((22.0, 20.0),), 12.0, countersink=(20.0, 90.0)),),
}


def part_of(cells, holes):
    """Cells with their holes; None if they make no part."""
    boxes = [Block(f"box{k}", False, *map(tuple, box.T.tolist())) for k, box in enumerate(Grid(LEVELS, cells).boxes)]
    try:
        return build([*boxes, *holes])
    except SolidError:
        return None


def drawn(solid, view):
    found = view_of(solid, view)
    return [shapely.union_all([shapely.LineString(points) for points in getattr(found, kind)]) for kind in ("visible", "hidden")]


def alike(one, other):
    return all(a.difference(b.buffer(0.02)).length + b.difference(a.buffer(0.02)).length < 0.1
               for a, b in zip(one, other, strict=True))


def cells_without(*gone):
    cells = np.ones((3, 3, 2), dtype=bool)
    for place in gone:
        cells[place] = False
    return cells


PARTS = {"a step": cells_without((2, slice(None), 1)), "two steps": cells_without((2, slice(None), 1), (0, 0, 1)),
         "a notch": cells_without((2, 1, slice(None)))}


@pytest.mark.parametrize("asked", ["front", "right"])
@pytest.mark.parametrize("part", PARTS)
@pytest.mark.parametrize("hole", HOLES)
def test_of_a_certain_third_view_no_part_with_other_cells_and_the_same_hole_has_another(hole, part, asked):
    own = part_of(PARTS[part], HOLES[hole])
    given = [view for view in VIEWS if view != asked]
    found = certainty(own, "third-view", asked, side="right")
    views = {view: drawn(own, view) for view in VIEWS}
    other_answers = 0
    cells = [cell for cell in product(range(3), range(3), range(2)) if cell[:2] != (1, 1)]
    for turned in (*((cell,) for cell in cells), *list(combinations(cells, 2))[::7]):
        filling = PARTS[part].copy()
        for cell in turned:
            filling[cell] ^= True
        other = part_of(filling, HOLES[hole])
        if other is not None and all(alike(drawn(other, view), views[view]) for view in given):
            other_answers += not alike(drawn(other, asked), views[asked])
    assert not (found.certain and other_answers)
    assert found.assuming.bored or found.assuming is Assumption.UPRIGHT_IN_TOP


@pytest.mark.parametrize(("name", "asked"), [
    ("counterbored-block", "front"), ("countersunk-plate", "right"), ("slotted-slide", "right"), ("vee-guide", "right"),
    ("cross-drilled-boss", "front")])
def test_families_with_holes_across_their_other_faces_have_certain_third_views(name, asked):
    found = certainty(solid_of(BANK[name].sample(2)), "third-view", asked)
    assert found.certain and found.assuming.bored and found.others == ()
    assert "HOLES ABOUT CENTRE LINES" in found.assuming and not found.assuming.plain.bored


def test_what_else_fits_a_part_with_holes_is_counted_and_not_drawn():
    found = certainty(solid_of(BANK["vee-guide"].sample(1)), "third-view", "top", side="left", limit=5)
    assert not found.certain and found.count == 5 and found.others == () and not found.complete


def test_a_hole_whose_square_breaks_out_of_the_part_is_refused():
    """Its circle clears the corner of a notch by a millimetre; a square round it would not."""
    notched = [Block("block", False, (0.0, 60.0), (0.0, 60.0), (0.0, 30.0)),
               Block("notch", True, (38.0, None), (38.0, None), (None, None)), Hole("hole", "top", ((30.0, 30.0),), 20.0)]
    with pytest.raises(RefusedError, match="breaks out of the part"):
        certainty(build(notched), "third-view", "top", side="right")
