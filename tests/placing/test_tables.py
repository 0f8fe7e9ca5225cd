"""Offers in tables: taken, gathered, and worked out again; and weights that a trial may set otherwise."""

from __future__ import annotations

from dataclasses import fields, replace

import numpy as np
import pytest

from sheetgen.placing import WEIGHTS, Offers, Surroundings, choose, gathered, items_of, view_offers
from sheetgen.placing.candidate import ARROW
from sheetgen.placing.columns import Elements
from sheetgen.placing.offers.linear import DimensionLines, Lettering
from sheetgen.projection import view_of
from sheetgen.sight import PlacedView, Sight
from tests.parts import ENGLISH, S1, S2

AREA = (26.0, 16.0, 404.0, 281.0)
PLACES = {"front": (70.0, 60.0), "top": (70.0, 175.0), "right": (240.0, 60.0)}


def views_of(part):
    return [PlacedView(Sight(view_of(part.solid(), name)), 1.0, np.array(place)) for name, place in PLACES.items()]


def surroundings_of(views):
    visible = [line for view in views for line in view.coarse("visible")]
    return Surroundings(visible, [], [], AREA, [view.shadow for view in views])


def elements_of(offers, k):
    """All that an offer is drawn of, by name."""
    parts = {each.name: getattr(offers, each.name) for each in fields(Offers)}
    return {name: part.shapes[part.offer == k].tolist() for name, part in parts.items() if isinstance(part, Elements)}


def test_an_offer_that_is_taken_keeps_its_lines_and_figures():
    offers = view_offers(views_of(S1), items_of(S1.measures(), ENGLISH))
    rows = np.array([7, 3, 11])
    taken = offers.take(rows)
    for k, row in enumerate(rows.tolist()):
        assert np.array_equal(elements_of(taken, k)["lines"], elements_of(offers, row)["lines"])
        assert np.array_equal(elements_of(taken, k)["boxes"], elements_of(offers, row)["boxes"])
        assert taken.drawn(k).texts == offers.drawn(row).texts


def test_offers_that_are_gathered_are_still_worked_out_by_those_who_made_them():
    one, other = (view_offers(views_of(part), items_of(part.measures(), ENGLISH)) for part in (S1, S2))
    both = gathered([one, other])
    assert len(both) == len(one) + len(other)
    assert both.drawn(5).texts == one.drawn(5).texts
    assert both.drawn(len(one) + 5).texts == other.drawn(5).texts
    assert np.array_equal(elements_of(both, len(one) + 5)["extensions"], elements_of(other, 5)["extensions"])


def test_each_placement_tells_its_item_and_its_view():
    views, items = views_of(S1), items_of(S1.measures(), ENGLISH)
    chosen = choose(surroundings_of(views), view_offers(views, items), len(items))
    assert [placement.item for placement in chosen] == list(range(len(items)))
    for placement in chosen:
        [text], (x0, y0, x1, y1) = placement.drawn.texts, views[placement.view].box
        assert text.text == items[placement.item].lines[0]
        assert x0 - 45 < text.at[0] < x1 + 45 and y0 - 45 < text.at[1] < y1 + 45


def test_a_trial_may_weigh_otherwise_where_outer_tiers_are_cheaper_the_outermost_is_taken():
    views, [width, *_] = views_of(S1)[:1], items_of(S1.measures(), ENGLISH)
    near, far = (
        choose(surroundings_of(views), view_offers(views, [width], weights=weights), 1, weights)[0].drawn.texts[0].at[1]
        for weights in (WEIGHTS, replace(WEIGHTS, view_tier=-10.0)))
    middle = (views[0].box[1] + views[0].box[3]) / 2
    assert abs(far - middle) == pytest.approx(abs(near - middle) + 4 * 8.0)


@pytest.mark.parametrize("length", range(8, 30, 2))
@pytest.mark.parametrize("turn", [30.0, 90.0, 150.0])
def test_a_line_broken_for_upright_figures_shows_beyond_its_arrowheads(length, turn):
    # else the heads stand against the figures with no line between (common practice, no source)
    way = np.array([np.cos(np.radians(turn)), np.sin(np.radians(turn))])
    out = np.array([-way[1], way[0]])
    nowhere = np.full((1, 2, 3), np.nan)
    row = DimensionLines(
        np.array([0]), np.zeros(1), np.array([[0 * way, length * way]]), np.array([[-10 * out, length * way - 10 * out]]),
        out[None], np.array([-1]), np.array([0]), np.array([-1]), nowhere, np.zeros((1, 2)))
    offers = Lettering(["14"], upright=True).offers(row, WEIGHTS)
    assert len(offers)
    within = 0
    for drawn in map(offers.drawn, range(len(offers))):
        middle = float(np.array(drawn.texts[0].at) @ way)
        if 0 < middle < length and drawn.heads[0].along @ way < 0:              # figures and arrows between the ends
            within += 1
            pieces = [np.hypot(*(line[-1] - line[0])) for line in drawn.lines]
            assert len(pieces) == 2 and min(pieces) >= ARROW + 1.4
    assert (within > 0) is (length >= {30.0: 18, 90.0: 16, 150.0: 18}[turn])
