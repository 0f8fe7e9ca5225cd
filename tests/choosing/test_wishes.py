"""Wishes: rungs rise through a sheet, and families take turns."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass

import pytest

from sheetgen.bank import load_bank, outlines
from sheetgen.choosing import Entry, Wish, chosen, ring

SHIPPED = outlines(load_bank())
ALL = len(SHIPPED)


@dataclass(frozen=True)
class Rated:
    name: str
    rung: int
    topics: tuple[str, ...] = ("steps",)


def rungs_of(entries, families=SHIPPED):
    return [families[entry.family].rung for entry in entries]


@pytest.mark.parametrize("count", [2, 4, 8, 12, 30])
def test_a_sheet_of_the_whole_bank_goes_from_easy_to_hard_with_no_family_twice(count):
    entries = chosen(Wish(count=count), SHIPPED)
    rungs = rungs_of(entries)
    assert rungs == sorted(rungs) and len({entry.family for entry in entries}) == count
    shares = Counter(rungs)
    whole = Counter(outline.rung for outline in SHIPPED.values())
    assert all(abs(shares[rung] - count * whole[rung] / ALL) <= 1 for rung in whole)


def test_four_problems_are_of_four_rungs():
    assert len(set(rungs_of(chosen(Wish(count=4), SHIPPED)))) == 4


@pytest.mark.parametrize("first_seed", [1, 5, 38, 42, 1000])
def test_whatever_seed_a_sheet_begins_with_it_has_easy_and_hard_problems(first_seed):
    rungs = rungs_of(chosen(Wish(count=8, first_seed=first_seed), SHIPPED))
    assert rungs == sorted(rungs) and min(rungs) <= 2 and max(rungs) >= 4


def test_no_family_comes_again_before_all_others_have_come():
    times = Counter(entry.family for entry in chosen(Wish(count=2 * ALL + 5), SHIPPED))
    assert len(times) == ALL and set(times.values()) == {2, 3}


def test_in_the_ring_each_rung_stands_evenly_spread():
    families = [Rated(f"easy-{k}", 1) for k in range(6)] + [Rated(f"hard-{k}", 5) for k in range(3)]
    order = [name.partition("-")[0] for name in ring(families)]
    assert order == ["easy", "hard", "easy", "easy", "hard", "easy", "easy", "hard", "easy"]
    assert sorted(ring(families)) == sorted(family.name for family in families)


def test_another_term_begins_with_other_families():
    families = list(SHIPPED.values())
    assert len({ring(families, term)[:8] for term in ("", "Autumn", "Spring")}) == 3
    assert ring(families, "Autumn") == ring(reversed(families), "Autumn")


def test_of_one_rung_families_alternate():
    families = {name: Rated(name, 1) for name in ("aa", "bb", "cc")}
    names = [entry.family for entry in chosen(Wish(count=6), families)]
    assert names[:3] == names[3:] and sorted(names[:3]) == ["aa", "bb", "cc"]


def test_a_second_wish_takes_first_what_the_first_has_left():
    families = {name: Rated(name, 1) for name in ("aa", "bb", "cc", "dd")}
    first = chosen(Wish(count=2), families)
    second = chosen(Wish(count=2), families, first)
    assert {entry.family for entry in (*first, *second)} == set(families)


def test_a_problem_that_stands_on_the_sheet_already_is_not_taken_again():
    families = {"aa": Rated("aa", 1)}
    assert chosen(Wish(count=2), families, [Entry("aa", 1), Entry("aa", 2)]) == (Entry("aa", 3), Entry("aa", 4))


def test_a_wish_that_no_family_fits_comes_to_nothing():
    assert chosen(Wish(rungs=(5,), count=3), {"aa": Rated("aa", 1)}) == ()


def test_a_wish_among_some_families_takes_turns_with_these_alone():
    among = frozenset({"stepped-block", "corner-steps"})
    entries = chosen(Wish(("steps",), count=4, among=among), SHIPPED)
    assert Counter(entry.family for entry in entries) == dict.fromkeys(among, 2)
    assert chosen(Wish(rungs=(5,), among=among), SHIPPED) == ()
