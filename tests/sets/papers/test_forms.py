"""Forms: which families an item has several of, and that neighbours have different ones."""

from __future__ import annotations

from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sheetgen.bank import load_bank
from sheetgen.sets.papers.equal import QUANTITIES, bound_of
from sheetgen.sets.papers.families import families_of
from sheetgen.sets.papers.forms import BEYOND, Wanted, chosen, common_middle
from sheetgen.sets.papers.plan import PaperError
from sheetgen.sets.papers.records import Bounds, Item, PaperPlan, Room
from sheetgen.sets.papers.secret import Key
from sheetgen.sheet import Style, settings_of
from tests.sets.papers.halls import seated

BOUNDS = Bounds()
MIDDLE = st.fixed_dictionaries({"index": st.floats(5, 8), **dict.fromkeys(QUANTITIES[1:], st.integers(0, 12))})


def cost(families, middles):
    """What it costs that some families lie apart, by the words of the rule: in units of the bounds, and dear beyond them."""
    total = 0.0
    for name in QUANTITIES:
        values = [middles[family][name] for family in families]
        apart, bound = max(values) - min(values), bound_of(name, BOUNDS)
        total += apart / bound + BEYOND * max(0.0, apart - 2 * bound) / bound
    return total


@settings(max_examples=15, deadline=None)
@given(middles=st.lists(MIDDLE, min_size=7, max_size=7))
def test_no_other_families_lie_nearer_each_other(middles):
    """Against all ways of taking three families for one item and two for another, tried one by one."""
    names = tuple("abcdefg")
    by_name = dict(zip(names, middles, strict=True))
    found = chosen([Wanted(names, 3), Wanted(names, 2)], by_name, BOUNDS)
    assert [len(one.families) for one in found] == [3, 2] and not set(found[0].families) & set(found[1].families)
    best = min(cost(one, by_name) + cost(other, by_name) for one in combinations(names, 3)
               for other in combinations([name for name in names if name not in one], 2))
    assert sum(cost(one.families, by_name) for one in found) == pytest.approx(best, rel=1e-6, abs=1e-3)


def test_of_families_that_are_equally_near_the_keys_first_are_taken():
    middle = dict.fromkeys(QUANTITIES, 5.0)
    [found] = chosen([Wanted(("d", "a", "c", "b"), 2)], dict.fromkeys("abcd", middle), BOUNDS)
    assert found.families == ("d", "a")


def test_how_far_forms_lie_beyond_the_bounds_is_told():
    middles = {name: {**dict.fromkeys(QUANTITIES, 5.0), "hidden": hidden} for name, hidden in (("a", 0), ("b", 9))}
    [found] = chosen([Wanted(("a", "b"), 2)], middles, BOUNDS)
    assert found.beyond == {"hidden": 5.0}
    assert common_middle(list(middles.values()))["hidden"] == 4.5


def test_too_few_families_are_refused():
    middle = dict.fromkeys(QUANTITIES, 5.0)
    with pytest.raises(ValueError, match="1 families for 2 forms"):
        chosen([Wanted(("a",), 2)], {"a": middle}, BOUNDS)
    with pytest.raises(ValueError, match="each in one item alone"):
        chosen([Wanted(("a", "b"), 2), Wanted(("a", "b"), 1)], dict.fromkeys("ab", middle), BOUNDS)


BANK = load_bank()
EASY = ("two-way-steps", "corner-steps", "stepped-block", "stepped-bridge", "cross-block")


def plan(*items, bounds=BOUNDS):
    return PaperPlan("Paper", Style(), items, (Room("Hall", 2, 2),), seated([Room("Hall", 2, 2)]), bounds)


def test_items_take_different_families_of_the_bank_by_the_key():
    items = [Item(number, EASY, 10) for number in (1, 2, 3)]
    found = [families_of(plan(*items), BANK, Key(bytes([n] * 32)), "p", settings_of(Style())) for n in range(6)]
    assert all(len({name for [name] in each}) == 3 for each in found)
    assert len({tuple(each) for each in found}) > 1, "another key takes others"


def test_forms_of_the_bank_are_none_that_another_item_has_and_too_unlike_ones_are_told():
    single, several = Item(1, ("stepped-block",), 10), Item(2, EASY, 10, forms=3)
    wide = Bounds(2.0, 20, 8)
    [_, forms] = families_of(plan(single, several, bounds=wide), BANK, Key(bytes(32)), "p", settings_of(Style()))
    assert len(forms) == 3 and "stepped-block" not in forms and set(forms) <= set(EASY)
    unlike = Item(2, ("cross-block", "bored-tee"), 10, forms=2)
    with pytest.raises(PaperError, match=r"item 2, forms of .*: their .* lie .* further apart than the bounds let them, wanted"):
        families_of(plan(single, unlike), BANK, Key(bytes(32)), "p", settings_of(Style()))


def test_what_lies_within_the_bounds_is_weighed_by_them():
    """Half a point of the index is most of what the bounds let; two lines are half of it."""
    middle = dict.fromkeys(QUANTITIES, 5.0)
    middles = {"a": middle, "b": {**middle, "index": 5.5}, "c": {**middle, "visible": 7}}
    [found] = chosen([Wanted(("a", "b", "c"), 2)], middles, BOUNDS)
    assert found.families == ("a", "c")
