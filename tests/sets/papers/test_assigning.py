"""Who gets which lot: neighbours, those who come later, what cannot be printed. Nothing is drawn."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sheetgen.sets.papers.assigning import MOST_ALIKE, Shared, ShortError, allowed, assigned, broken, form_of
from sheetgen.sets.papers.records import Room, Seat
from tests.sets.papers.halls import MEASURES, Drum, lot, rooms, seated

AROUND = [(row, column) for row in (-1, 0, 1) for column in (-1, 0, 1) if (row, column) != (0, 0)]


def near(candidates):
    """All pairs of neighbours, found by measuring from seat to seat."""
    return [(a, b) for a in candidates for b in candidates
            if a.place < b.place and a.seat.room == b.seat.room
            and max(abs(a.seat.row - b.seat.row), abs(a.seat.column - b.seat.column)) == 1]


def alike(one, other):
    return sum(pair in other.dimensions for pair in one.dimensions)


@settings(max_examples=200, deadline=None)
@given(rooms=rooms(), seed=st.integers(0, 1000))
def test_in_a_hall_of_any_shape_no_neighbours_share_a_variant_or_more_than_a_quarter_of_the_dimensions(rooms, seed):
    candidates = seated(rooms)
    given = assigned(candidates, [[Drum(seed, values=4)], [Drum(seed, values=9, family="wedge")]])
    assert list(given) == [one.number for one in candidates]
    for one, other in near(candidates):
        for mine, theirs in zip(given[one.number], given[other.number], strict=True):
            assert mine.block != theirs.block
            assert alike(mine, theirs) <= 2, "a quarter of eight"
    for item in (0, 1):
        indices = [lots[item].index for lots in given.values()]
        assert len(set(indices)) == len(indices), "each has lots of their own"
    assert list(broken(candidates, given)) == []


@settings(max_examples=60, deadline=None)
@given(rooms=rooms(), seed=st.integers(0, 1000), share=st.floats(0, 1), refused=st.sets(st.integers(0, 60)))
def test_who_is_added_at_the_end_changes_nobodys(rooms, seed, share, refused):
    everyone = seated(rooms)
    some = everyone[:max(1, round(share * len(everyone)))]
    pools = [[Drum(seed, values=5, refused=frozenset(refused))]]
    whole = assigned(everyone, pools)
    part = assigned(some, [[Drum(seed, values=5, refused=frozenset(refused))]])
    assert {number: whole[number] for number in part} == part


def test_what_cannot_be_printed_is_given_to_nobody_and_asked_of_once():
    drum = Drum(3, values=6, refused=frozenset({0, 3, 4}))
    candidates = seated([Room("Hall", 3, 4)])
    given = assigned(candidates, [[drum]])
    assert not {lots[0].index for lots in given.values()} & drum.refused
    assert len(set(drum.asked)) == len(drum.asked)


def test_who_is_passed_over_comes_first_for_the_next_who_may_have_it():
    """Four in a row; the second lot is like the first, so it waits until its candidate is no neighbour."""
    figures = [["1"] * 8, ["1"] * 3 + ["2"] * 5, ["3"] * 8, ["4"] * 8]

    class Few(Drum):
        def lots(self):
            return iter([lot(index, texts) for index, texts in enumerate(figures)])

    given = assigned(seated([Room("Hall", 1, 4)]), [[Few(0)]])
    assert [lots[0].index for lots in given.values()] == [0, 2, 1, 3]


def test_a_paper_that_has_too_few_lots_says_of_which_item_and_for_whom():
    with pytest.raises(ShortError) as short:
        assigned(seated([Room("Hall", 2, 2)]), [[Drum(1)], [Drum(1, family="wedge", most=3)]])
    assert (short.value.item, short.value.candidate) == (1, "104")


def test_two_items_of_one_family_keep_the_rule_with_each_other_too():
    candidates = seated([Room("Hall", 4, 4)])
    given = assigned(candidates, [[Drum(1, values=4)], [Drum(2, values=4)]])
    for one in candidates:
        assert given[one.number][0].block != given[one.number][1].block
    for one, other in near(candidates):
        assert all(alike(a, b) <= 2 for a in given[one.number] for b in given[other.number])


@settings(max_examples=40, deadline=None)
@given(rooms=rooms(most=6), seed=st.integers(0, 1000), count=st.integers(60, 150))
def test_lots_that_are_shared_come_again_but_never_beside_each_other(rooms, seed, count):
    candidates = seated(rooms)
    lots = [one for one, _ in zip(Drum(seed).lots(), range(count), strict=False)]
    given = assigned(candidates, [[Shared(lots, lambda place: (seed * place, seed + place))]])
    assert all(mine[0] in lots for mine in given.values())
    assert list(broken(candidates, given)) == []


def test_a_shared_pool_is_gone_through_whole_whatever_step_the_key_gives():
    lots = [lot(n, [str(n)] * 8) for n in range(12)]
    for step in range(12):
        pool = Shared(lots, lambda _, step=step: (5, step))
        assert sorted(one.index for one in pool.order(1)) == list(range(12))
        assert next(iter(pool.order(1))).index == 5


@pytest.mark.parametrize(("same", "may"), [(0, True), (2, True), (3, False), (8, False)])
def test_a_quarter_of_the_dimensions_may_be_the_same_and_no_more(same, may):
    one, other = lot(0, ["1"] * 8), lot(1, ["1"] * same + ["2"] * (8 - same))
    assert allowed(one, other) is may and allowed(other, one) is may
    assert MOST_ALIKE * len(MEASURES) == 2


def test_the_same_figures_of_another_measure_or_another_family_are_not_the_same():
    one = lot(0, ["7", "8", "9", "1", "2", "3", "4", "5"])
    assert allowed(one, lot(1, ["5", "4", "3", "2", "1", "9", "8", "7"]))
    assert allowed(one, lot(0, [text for _, text in one.dimensions], family="wedge"))


@pytest.mark.parametrize("forms", [4, 5, 6, 7, 8])
def test_with_four_forms_or_more_none_of_eight_neighbours_has_the_same(forms):
    """Four versions are enough and needed for neighbours on all sides: common practice, no source."""
    for row in range(1, 12):
        for column in range(1, 12):
            mine = form_of(Seat("", row, column), forms)
            assert 0 <= mine < forms
            assert all(form_of(Seat("", row + up, column + right), forms) != mine for up, right in AROUND
                       if row + up and column + right)
    assert {form_of(Seat("", row, column), forms) for row in range(1, 9) for column in range(1, 9)} == set(range(forms))


def test_with_two_forms_those_beside_each_other_in_a_row_differ():
    assert all(form_of(Seat("", row, column), 2) != form_of(Seat("", row, column + 1), 2) for row in (1, 2) for column in (1, 2))


def test_nobody_has_one_block_twice_though_both_items_are_of_one_family_and_one_sequence():
    given = assigned(seated([Room("Hall", 2, 2)]), [[Drum(1)], [Drum(1)]])
    assert all(one.block != other.block for one, other in given.values())
