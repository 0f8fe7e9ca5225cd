"""Equal difficulty: the middle of an item, what lies near enough, what was reached."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sheetgen.sets.papers.equal import middle_of, missed, reached, within
from sheetgen.sets.papers.records import Assignment, Bounds, Item, Lot, Spare

BOUNDS = Bounds()


def lot(index=5.0, visible=20, hidden=5, centre=3, dimensions=8, number=0):
    return Lot(number, "step", index, (visible, hidden, centre), tuple(("m", str(n)) for n in range(dimensions)),
               block=bytes([number]))


LOTS = st.lists(st.builds(lot, st.floats(0, 3), *[st.integers(0, 9)] * 4), min_size=1, max_size=40)


@given(lots=LOTS)
def test_whatever_lies_within_the_bounds_of_the_middle_is_at_most_twice_the_bounds_apart(lots):
    middle, share = middle_of(lots, BOUNDS)
    kept = [one for one in lots if within(one, middle, BOUNDS)]
    assert len(kept) == round(share * len(lots)) >= 1
    assert max(one.difficulty for one in kept) - min(one.difficulty for one in kept) <= 0.6 + 1e-6
    for kind in range(3):
        assert max(one.lines[kind] for one in kept) - min(one.lines[kind] for one in kept) <= 4
    assert max(len(one.dimensions) for one in kept) - min(len(one.dimensions) for one in kept) <= 2


@given(lots=LOTS)
def test_no_other_middle_among_them_would_keep_more(lots):
    _, share = middle_of(lots, BOUNDS)
    assert share == max(sum(within(one, other.quantities(), BOUNDS) for one in lots) for other in lots) / len(lots)


@pytest.mark.parametrize(("other", "is_within"), [
    (lot(5.3), True), (lot(5.31), False), (lot(4.7), True), (lot(4.6), False),
    (lot(visible=22), True), (lot(visible=23), False), (lot(hidden=3), True), (lot(hidden=2), False), (lot(centre=6), False),
    (lot(dimensions=9), True), (lot(dimensions=6), False),
])
def test_the_bounds_are_three_tenths_of_the_index_two_lines_of_each_kind_and_one_dimension(other, is_within):
    assert within(other, lot().quantities(), BOUNDS) is is_within


def test_what_keeps_variants_apart_is_named_with_the_bound_that_would_do():
    """Hidden lines 0, 10, 20 …: a fifth of ten are two, which lie 10 apart, so ±5 would hold them."""
    lots = [lot(hidden=10 * n, number=n) for n in range(10)]
    assert missed(lots, BOUNDS) == ("hidden", 2, 5.0, 90)


def test_what_is_reached_is_told_of_every_item_and_quantity_with_the_spares_too():
    items = [Item(1, ("step",), 10), Item(2, ("step",), 10)]
    given = Assignment({"1": (lot(5.0), lot(hidden=4)), "2": (lot(5.2), lot(hidden=6))},
                       (Spare("2", 1, (lot(4.8), lot(hidden=7))),))
    found = {(one.item, one.quantity): one for one in reached(items, given, [lot().quantities()] * 2, BOUNDS)}
    assert len(found) == 10
    assert (found[1, "index"].least, found[1, "index"].greatest, found[1, "index"].bound) == (4.8, 5.2, 0.3)
    assert (found[2, "hidden"].least, found[2, "hidden"].greatest, found[2, "hidden"].middle) == (4, 7, 5)
