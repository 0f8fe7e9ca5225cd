"""Names of views in one row, in cases worked by hand. Sheet millimetres."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from sheetgen.bank.features import Block
from sheetgen.placing import Surroundings, choose, gathered, name_offers
from sheetgen.placing.costs.pairs import pair_costs
from sheetgen.placing.weights import WEIGHTS
from sheetgen.projection import view_of
from sheetgen.sight import PlacedView, Sight
from sheetgen.solid import build

AREA = (0.0, 0.0, 400.0, 280.0)
SIGHT = Sight(view_of(build([Block("base", False, (0, 60), (0, 40), (0, 30))]), "front"))
LEFT, RIGHT = (PlacedView(SIGHT, 1.0, np.array([x, 150.0])) for x in (60.0, 220.0))
PRICES = replace(WEIGHTS, names_uneven=7.0)


def names(*rows) -> list:
    return [name_offers(view, "FRONT VIEW", k, k, rows[k]) for k, view in enumerate((LEFT, RIGHT))]


def together(tiers, rows=(0, 0)) -> float:
    """The cost of two names so many tiers under their views."""
    several = names(*rows)
    both, first = gathered(several), len(several[0])
    heights = [150 - 9 - 8 * tier for tier in tiers]
    i, j = (next(k for k in range(start, start + first) if both.drawn(k).texts[0].at == (x, height))
            for start, x, height in ((0, 90, heights[0]), (first, 250, heights[1])))
    return float(pair_costs(both, PRICES)[i, j])


@pytest.mark.parametrize(("tiers", "price"), [((0, 0), 0.0), ((2, 2), 0.0), ((0, 1), 7.0), ((1, 0), 7.0), ((0, 3), 21.0)])
def test_names_of_one_row_at_different_heights_cost_by_the_tiers_that_they_differ(tiers, price):
    assert together(tiers) == pytest.approx(price)


def test_names_of_different_rows_may_stand_at_any_height():
    assert together((0, 2), rows=(0, 1)) == 0.0


def test_a_name_with_nothing_under_it_goes_down_with_its_neighbour():
    # something lies in the first tier under the left view only; both names stand a tier lower (common practice, no source)
    bar = np.array([(70.0, 143.0), (110.0, 143.0)])
    ground = Surroundings([*LEFT.coarse("visible"), *RIGHT.coarse("visible"), bar], [], [], AREA, [LEFT.shadow, RIGHT.shadow])
    left, right = (placement.drawn.texts[0].at for placement in choose(ground, gathered(names(0, 0)), 2))
    assert left[1] == right[1] < 141
    assert (left[0], right[0]) == (90, 250)
    apart = [placement.drawn.texts[0].at[1] for placement in choose(ground, gathered(names(0, 1)), 2)]
    assert apart[1] == 141 > apart[0]
