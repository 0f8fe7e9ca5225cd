"""What two sizes cost together, in cases worked by hand. Sheet millimetres."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from sheetgen.ink import Text
from sheetgen.placing.candidate import Candidate
from sheetgen.placing.columns import Elements, stacked
from sheetgen.placing.costs.pairs import pair_costs
from sheetgen.placing.offers.leaders import leader_offers, leaders_from
from sheetgen.placing.offers.linear import DimensionLines, Lettering
from sheetgen.placing.table import Offer, Offers, gathered, table_of
from sheetgen.placing.weights import HARD, WEIGHTS, Weights

UP = (0.0, 1.0)

PRICES = Weights(
    seem_chain=31.0, figures_close=33.0, figures_at_line=37.0, arrow_passed=41.0,
    apart=3.0, arrow_at_line=5.25, arrows_meet=7.5, extensions_close=9.75, extensions_cross=12.0,
    line_through_extension=14.25, lined_up=16.5, notes_close=18.75, shorter_outside=21.0)
"""Of this test: each thing its own, so that none is taken for another."""


NOWHERE = (np.nan,) * 6


def row(item, a, b, starts, outward, axis=0, view=-1, feet=NOWHERE):
    whole = (np.array([value]) for value in (item, -1, axis, view))
    ends, starts, outward, feet = (np.array([value], dtype=float) for value in ((a, b), starts, outward, feet))
    number, no_crossing, axis, view = whole
    feet, no_chain = feet.reshape(1, 2, 3), np.zeros((1, 2))
    return DimensionLines(number, np.zeros(1), ends, starts, outward, no_crossing, axis, view, feet, no_chain)


def together(*rows):
    """The cost of two sizes of 90 and 50 beside each other."""
    offers = Lettering(["90", "50"], upright=False).offers(stacked(rows), WEIGHTS)
    pair = pair_costs(offers, PRICES)
    i, j = (int(np.flatnonzero(offers.item == item)[0]) for item in (0, 1))        # figures midway
    assert pair[i, j] == pair[j, i] and pair[i, i] == pair[j, j] == 0.0
    return pair[i, j]


LONG = row(0, (0, 20), (90, 20), ((0, 0), (90, 0)), UP)


def test_a_shorter_size_inside_a_longer_one_costs_nothing():
    assert together(LONG, row(1, (20, 10), (70, 10), ((20, 0), (70, 0)), UP)) == 0.0


def test_a_shorter_size_outside_a_longer_one_is_dear():
    # shorter inside longer, so that extension lines cross no dimension line (ISO 129-1, from memory)
    crossed = 2 * PRICES.line_through_extension
    assert together(LONG, row(1, (20, 30), (70, 30), ((20, 0), (70, 0)), UP)) == pytest.approx(crossed + PRICES.shorter_outside)


def test_it_is_so_too_where_it_starts_beyond_the_longer_one():
    assert together(LONG, row(1, (20, 30), (70, 30), ((20, 24), (70, 24)), UP)) == pytest.approx(PRICES.shorter_outside)


def test_links_of_a_chain_share_an_extension_line():
    assert together(LONG, row(1, (90, 20), (140, 20), ((90, 0), (140, 0)), UP)) == 0.0


def test_an_arrow_at_a_line_of_another_size_seems_to_belong_to_it():
    # on a pictorial: its extension line runs past the arrow at the longer size's right end, and crosses the one there
    way = np.array([np.cos(np.radians(30)), 0.5])
    one, other = np.array([91.0, 19.6]), np.array([91.0, -40.0])
    past = row(1, other + 40 * way, one + 40 * way, (other - 10 * way, one - 10 * way), way, axis=2)
    assert together(LONG, past) == pytest.approx(PRICES.arrow_at_line + PRICES.extensions_cross)


def test_two_dimension_lines_side_by_side_keep_their_distance():
    assert together(LONG, row(1, (20, 16), (70, 16), ((20, 0), (70, 0)), UP)) >= HARD


def test_sizes_along_one_axis_belong_on_one_view():
    long = row(0, (0, 20), (90, 20), ((0, 0), (90, 0)), UP, view=0)
    assert together(long, row(1, (20, -80), (70, -80), ((20, -90), (70, -90)), UP, view=1)) == PRICES.apart
    assert together(long, row(1, (20, -80), (70, -80), ((20, -90), (70, -90)), UP, axis=2, view=1)) == 0.0


def on_pictorial(item, low, level):
    """A size of 50 or 90 that starts at so low a place, from a level of the part to one 50 or 90 on."""
    length = (90, 50)[item]
    return row(item, (0, low + 10), (length, low + 10), ((0, low), (length, low)), UP, feet=(level, 0, 0, level + length, 0, 0))


def test_an_extension_line_in_line_with_one_of_another_level_seems_to_measure_that():
    # the left ends lie in one line on paper, 6 mm apart, but not in the part
    assert together(on_pictorial(0, 18, 0.0), on_pictorial(1, 0, 30.0)) == PRICES.lined_up


def test_but_not_with_one_of_the_same_level():
    assert together(on_pictorial(0, 18, 0.0), on_pictorial(1, 0, 0.0)) == 0.0


def test_extension_lines_side_by_side_read_as_one():
    beside = row(1, (2, 40), (52, 40), ((2, 0), (52, 0)), UP, axis=1)
    assert together(LONG, beside) >= PRICES.extensions_close


def test_arrows_of_two_sizes_that_meet_in_one_point_are_dear_unless_they_are_links_of_a_chain():
    # on a pictorial: round a corner, from the end of an extension line that both share
    way = 50 * np.array([np.cos(np.radians(30)), 0.5])
    corner, foot = np.array([90.0, 20.0]), np.array([90.0, 0.0])
    round_the_corner = row(1, corner, corner + way, (foot, foot + way), UP, axis=1)
    assert together(LONG, round_the_corner) == PRICES.arrows_meet


def in_line(gap: float, drop: float = 0.0, *, text="50"):
    """The cost of sizes of 90 and 50 one after the other: so far apart, and so much lower, from different levels of the part."""
    start = 90 + gap
    after = row(1, (start, 20 - drop), (start + 50, 20 - drop), ((start, 4), (start + 50, 4)), UP)
    return together(LONG, after)


@pytest.mark.parametrize(("gap", "drop", "price"), [
    (3.0, 0.0, 31.0), (6.0, 0.0, 31.0), (3.0, 0.8, 31.0),
    (0.0, 0.0, 0.0),                               # links of a chain they are
    (8.0, 0.0, 0.0), (3.0, 9.0, 0.0)])             # well apart, or beside each other
def test_sizes_in_one_line_whose_arrows_stand_almost_point_to_point_seem_links_of_a_chain(gap, drop, price):
    # arrows of neighbouring links meet point to point (MD p. 30); extension lines 3 mm apart do not read as one
    found = in_line(gap, drop)
    assert found == pytest.approx(price)


def side_by_side(apart: float, lower: float = 0.0, *, name=False) -> float:
    """The cost of two sets of figures on one base line, or one lower: so many mm between the figures themselves."""
    width = 10.0
    def box(x, y):
        return [[x - 0.8, y - 0.8], [x + width + 0.8, y - 0.8], [x + width + 0.8, y + 4.3], [x - 0.8, y + 4.3]]
    boxes = Elements(np.array([box(0, 0), box(width + apart, -lower)]), np.arange(2))
    offers = Offers.made(lambda _: pytest.fail("not drawn"), np.arange(2), np.zeros(2), 0.0, boxes=boxes)
    if name:
        offers = replace(offers, row=np.array([-1, 0]))
    return float(pair_costs(offers, PRICES)[0, 1])


@pytest.mark.parametrize(("apart", "lower", "price"), [(2.0, 0.0, 33.0), (5.8, 0.0, 33.0), (6.2, 0.0, 0.0), (2.0, 12.0, 0.0)])
def test_figures_beside_each_other_in_one_line_keep_6_mm_apart_or_read_as_one_number(apart, lower, price):
    # common practice, no source
    assert side_by_side(apart, lower) == pytest.approx(price)


@pytest.mark.parametrize(("apart", "price"), [(4.2, 33.0), (5.8, 33.0), (6.2, 0.0)])
def test_and_6_from_a_views_name(apart, price):
    assert side_by_side(apart, name=True) == pytest.approx(price)


@pytest.mark.parametrize(("apart", "price"), [(6.2, 37.0), (7.2, 37.0), (7.7, 0.0), (8.0, 0.0)])
def test_figures_keep_3_mm_from_a_dimension_line_of_another_size_or_seem_to_stand_on_it(apart, price):
    # 3.5 high, 1 over their own line: under the other's they have the rest (common practice, no source)
    inner = row(0, (0, 20), (50, 20), ((0, 8), (50, 8)), UP)
    outer = row(1, (-20, 20 + apart), (70, 20 + apart), ((-20, 8), (70, 8)), UP)
    assert together(inner, outer) == pytest.approx(price)


PITCH = 5.25
"""mm from one line of a note to the next: one and a half times the figures' height (ISO 3098, from memory)."""


def test_notes_one_under_the_other_stand_farther_apart_than_the_lines_of_one_note():
    def notes(apart):
        texts = [("2 × Ø8", "CSK Ø20"), ("R10",)]
        several = [
            leaders_from(np.array([[0.0, height]]), np.array([[1.0, 0.0]]), item, np.zeros(1))
            for item, height in ((0, PITCH / 2), (1, -apart))]            # base line to base line
        return pair_costs(leader_offers(several, texts, [10.0], WEIGHTS), PRICES)[0, 1]

    assert notes(PITCH) == pytest.approx(PRICES.notes_close + PRICES.figures_close)
    assert notes(1.5 * PITCH) == 0.0


@pytest.mark.parametrize(("axis", "past", "price"), [
    (2, 10, PRICES.arrow_passed), (2, 1, PRICES.arrows_meet), (0, 10, 0.0)])
def test_an_extension_line_that_goes_on_past_the_arrow_of_a_size_along_another_axis_seems_drawn_to_it(axis, past, price):
    # from one corner, drawn out the same way; of sizes along one axis the shorter one stands within the longer one
    out = np.array([-np.cos(np.pi / 6), 0.5])
    near, far = 10 * out, (10 + past) * out
    width = row(0, near, near + np.array([60, 30]), ((0, 0), (60, 30)), out)
    other = row(1, far, far + np.array([0, -50]), ((0, 0), (0, -50)), out, axis=axis)
    assert together(width, other) == pytest.approx(price)


def test_sizes_on_different_views_have_no_order():
    # the longer one nearer to the top of the sheet than the shorter one below it, on the view under it
    long = row(0, (0, 20), (90, 20), ((0, 0), (90, 0)), UP, view=1)
    short = row(1, (20, 130), (70, 130), ((20, 110), (70, 110)), UP, axis=2, view=0)
    assert together(long, short) == 0.0
    same = row(1, (20, 130), (70, 130), ((20, 110), (70, 110)), UP, axis=2, view=1)
    assert together(long, same) > 0.0


@pytest.mark.parametrize(("aside", "price"), [(1.0, 43.0), (1.3, 43.0), (1.6, 0.0), (3.0, 0.0)])
def test_figures_all_but_on_an_extension_line_of_another_size_are_struck_out_by_it(aside, price):
    # an upright line at the right of figures 10 wide reads as a 1 after them
    box = np.array([[[-0.8, -0.8], [10.8, -0.8], [10.8, 4.3], [-0.8, 4.3]]])
    line = np.array([[10 + aside, -20.0, 10 + aside, 20.0]])
    offers = Offers.made(lambda _: pytest.fail("not drawn"), np.arange(2), np.zeros(2), 0.0, boxes=Elements(box, np.array([0])),
                         extensions=Elements(line, np.array([1])))
    assert pair_costs(offers, replace(PRICES, figures_by_extension=43.0))[0, 1] == pytest.approx(price)


@pytest.mark.parametrize(("apart", "price"), [(2.0, 33.0), (2.5, 33.0), (2.7, 0.0)])
def test_figures_that_lie_different_ways_keep_2_6_mm_apart_or_read_as_one_note(apart, price):
    level = [[-0.8, -0.8], [10.8, -0.8], [10.8, 4.3], [-0.8, 4.3]]
    upright = [[10 + apart - 0.8, 8.0], [10 + apart - 0.8, -8.0], [10 + apart + 4.3, -8.0], [10 + apart + 4.3, 8.0]]
    boxes = Elements(np.array([level, upright]), np.arange(2))
    offers = Offers.made(lambda _: pytest.fail("not drawn"), np.arange(2), np.zeros(2), 0.0, boxes=boxes)
    assert pair_costs(offers, PRICES)[0, 1] == pytest.approx(price)


@pytest.mark.parametrize(("level", "price"), [(20.6, 47.0), (19.4, 47.0), (17.0, 0.0)])
def test_an_extension_line_that_ends_at_a_dimension_line_of_another_size_seems_to_be_its(level, price):
    # as the leg of an angle, drawn on up to the dimension line of a length, or past it; well short of it is no harm
    leg = np.array([[30.0, 2.0, 45.0, level]])
    line = np.array([[0.0, 20.0, 90.0, 20.0]])
    offers = Offers.made(
        lambda _: pytest.fail("not drawn"), np.arange(2), np.zeros(2), 0.0, lines=Elements(line, np.array([0])),
        extensions=Elements(leg, np.array([1])))
    through = PRICES.line_through_extension if level > 20.0 else 0.0
    found = pair_costs(offers, replace(PRICES, ends_at_line=47.0))[0, 1]
    assert found == pytest.approx(max(price if level < 20.0 else 0.0, through))


@pytest.mark.parametrize(("level", "dear", "may"), [
    (20.4, True, False), (22.0, True, True), (26.0, False, True), (34.0, False, True)])
def test_an_angles_arc_keeps_off_the_dimension_line_of_a_length(level, dear, may):
    """The arc reaches to 20 over its corner; 0.4 from it a dimension line prints as its tangent."""
    turn = np.linspace(0.4, np.pi - 0.4, 25)
    arc = Candidate((20 * np.stack([np.cos(turn), np.sin(turn)], axis=1),), (), (), (Text("130", (0, 10), 3.5, anchor="middle"),))
    size = Lettering(["60"], upright=False).offers(
        row(0, (-30, level), (30, level), ((-30, level - 10), (30, level - 10)), UP), WEIGHTS)
    offered = gathered([size, table_of([Offer(1, 0.0, arc, -1, own=True)], 0.0)])
    cost = float(pair_costs(offered, WEIGHTS)[0, -1])
    assert (cost < HARD) is may and (cost >= WEIGHTS.arc_at_line) is dear
