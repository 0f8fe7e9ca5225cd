"""The pools of a paper: what cannot be printed, the sequences that the key makes, spares. Measured and drawn by stand-ins."""

from __future__ import annotations

from dataclasses import replace

import pytest

from sheetgen.bank import Form, load_bank
from sheetgen.sets.papers.assigning import broken
from sheetgen.sets.papers.lots import Slot
from sheetgen.sets.papers.plan import PaperError
from sheetgen.sets.papers.pools import Pools
from sheetgen.sets.papers.records import Item, Lot, PaperPlan, Room, Spare
from sheetgen.sets.papers.seats import neighbours
from sheetgen.sets.papers.secret import Key
from sheetgen.sheet import Style, settings_of
from tests.sets.papers.halls import MEASURES, seated

HALL = Room("Hall", 4, 5)
SETTINGS = settings_of(Style())
FAMILY = load_bank()["stepped-block"]
KEY = Key(bytes(32))


class Workshop:
    """Stands in for the workers: a lot's figures are digits of its seed; every third seed cannot be printed if ``refuses``; of
    seven, ``blemished`` have one."""

    def __init__(self, refuses=True, apart=0.0, blemished=0):
        self.refuses, self.apart, self.blemished = refuses, apart, blemished
        self.drawn, self.measured = list[int](), 0

    def measure(self, variants):
        for variant in variants:
            self.measured += 1
            figures = [str(variant.seed // 9 ** n % 9) for n in range(len(MEASURES))]
            yield Lot(variant.index, "step", 1.0 + self.apart * (variant.seed % 100), (10, 2, 1),
                      tuple(zip(MEASURES, figures, strict=True)), str(figures).encode())

    def holds(self, variant):
        return not self.refuses or variant.seed % 3 != 0

    def draw(self, variants):
        for variant in variants:
            self.drawn.append(variant.index)
            yield (variant.seed % 7 < self.blemished) if self.holds(variant) else None


def pools(workshop, items=1, pool=0, key=KEY, name="paper", count=None):
    its = tuple(Item(n, ("step",), 10, pool=pool) for n in range(1, items + 1))
    plan = PaperPlan("Paper", Style(), its, (HALL,), seated([HALL], count))
    slots = [Slot(item, 0, Form(FAMILY.name), FAMILY, FAMILY, items, SETTINGS, SETTINGS) for item in its]
    found = Pools(plan, slots, name, key, workshop.measure, workshop.draw)
    found.settle()
    return found


def indices(given):
    return {number: [lot.index for lot in lots] for number, lots in given.items()}


def test_what_cannot_be_printed_is_given_to_nobody_and_nothing_is_drawn_twice():
    workshop = Workshop()
    made = pools(workshop)
    given = made.assign(made.plan.candidates)
    sequence = made.sequences[0]
    assert all(workshop.holds(sequence.variant(lots[0].index)) for lots in given.values())
    assert any(not holds for holds in sequence.drawn.values()), "some were refused, or this tells nothing"
    assert len(set(workshop.drawn[8:])) == len(workshop.drawn[8:]), "eight were drawn before, to see whether they are clean"
    assert list(broken(made.plan.candidates, given)) == []


def test_who_gets_what_is_as_if_all_had_been_drawn_before():
    lazily, before = pools(Workshop()), pools(Workshop())
    workshop = Workshop()
    before.sequences[0].drawn = {n: workshop.holds(before.sequences[0].variant(n)) for n in range(500)}
    everybody = lazily.plan.candidates
    assert indices(lazily.assign(everybody)) == indices(before.assign(everybody))
    assert lazily.rounds > 1 and before.rounds == 1


def test_blemished_lots_are_given_to_nobody_if_there_are_clean_ones_and_else_they_must_do():
    clean, poor = pools(Workshop(blemished=3)), pools(Workshop(blemished=7))
    assert (clean.clean, poor.clean) == ([True], [False])
    for made, few in ((clean, 0), (poor, 20)):
        given = made.assign(made.plan.candidates)
        assert sum(made.sequences[0].variant(lots[0].index).seed % 7 < 3 for lots in given.values()) <= few
    assert pools(Workshop(blemished=7)).clean == [False]


def test_the_first_of_a_list_get_the_same_whoever_follows():
    made = pools(Workshop(), items=2)
    whole = indices(made.assign(made.plan.candidates))
    part = pools(Workshop(), items=2)
    assert indices(part.assign(part.plan.candidates[:7])) == dict(list(whole.items())[:7])


def test_items_keys_and_papers_have_sequences_of_their_own():
    made = pools(Workshop(), items=2)
    other, named = pools(Workshop(), key=Key(bytes([1] * 32))), pools(Workshop(), name="another")
    candidate = made.plan.candidates[0]
    all_of = [*made.sequences, *other.sequences, *named.sequences, made.spares_of(0, candidate, 1),
              made.spares_of(0, candidate, 2), made.spares_of(0, made.plan.candidates[1], 1)]
    seeds = [tuple(lots.variant(n).seed for n in range(20)) for lots in all_of]
    assert len({seed for some in seeds for seed in some}) == 20 * len(all_of)


def test_a_shared_pool_has_so_many_lots_that_can_be_printed_and_no_more_are_drawn():
    workshop = Workshop()
    made = pools(workshop, pool=15, count=20)
    given = made.assign(made.plan.candidates)
    used = {lots[0].index for lots in given.values()}
    assert len(used) <= 15 < 20
    assert sum(workshop.holds(made.sequences[0].variant(n)) for n in workshop.drawn[8:]) == 15
    assert list(broken(made.plan.candidates, given)) == []


def test_a_spare_is_like_none_of_the_neighbours_nor_of_the_candidates_own():
    made = pools(Workshop(), items=2)
    given = made.assign(made.plan.candidates)
    spares: list[Spare] = []
    for candidate in made.plan.candidates[6:9]:
        for number in (1, 2):
            spares.append(made.spare(candidate, number, given, spares))
    by_seat = {one.seat: one.number for one in made.plan.candidates}
    for spare in spares:
        seat = next(one.seat for one in made.plan.candidates if one.number == spare.candidate)
        near = [by_seat[place] for place in neighbours(seat) if place in by_seat]
        beside = [lot for number in near for lot in given[number]]
        beside += [lot for other in spares if other.candidate in near for lot in other.lots]
        assert all(len(lot.printed & other.printed) <= 2 and lot.block != other.block for lot in spare.lots for other in beside)
        own = [*given[spare.candidate], *(lot for other in spares if other.candidate == spare.candidate for lot in other.lots)]
        assert len({lot.block for lot in own}) == len(own)


def test_bounds_that_cannot_be_kept_are_told_of_every_item_before_anything_is_drawn():
    workshop = Workshop(apart=1.0)
    with pytest.raises(PaperError) as error:
        pools(workshop, items=2)
    assert [fault.field for fault in error.value.faults] == ["items[1]", "items[2]"]
    assert "their indices spread over" in str(error.value) and "where the bound is ±0.3" in str(error.value)
    assert workshop.drawn == []


def test_nothing_is_given_that_lies_beyond_the_bounds():
    made = pools(Workshop(apart=0.03, refuses=False))
    given = made.assign(made.plan.candidates)
    found = [lots[0].difficulty for lots in given.values()]
    assert max(found) - min(found) <= 0.6 + 1e-6
    middle = made.middles[0]["index"]
    assert all(abs(value - middle) <= 0.3 + 1e-6 for value in found)


def test_a_hall_whose_family_is_spent_is_told_with_the_candidate():
    class Poor(Workshop):
        def measure(self, variants):
            return (replace(lot, dimensions=lot.dimensions[:1], block=lot.dimensions[0][1].encode())
                    for lot in super().measure(variants))

    made = pools(Poor())
    with pytest.raises(PaperError, match="item 1: no variant is left for candidate 1"):
        made.assign(made.plan.candidates)
