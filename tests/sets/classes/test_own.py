"""Problems of their own: equal families in equal order, other sizes, and nothing that a newcomer would change."""

from __future__ import annotations

from collections import Counter

import pytest

from sheetgen.bank import load_bank
from sheetgen.choosing import Entry
from sheetgen.sets import Term
from sheetgen.sets.classes import RESERVE, SpentError, own_problems
from tests import samples

ENTRIES = (Entry("stepped-block", 7), Entry("slotted-wedge", 2), Entry("stepped-block", 3))


@pytest.fixture(scope="module")
def bank():
    return load_bank()


def blocks(bank, problem):
    family = bank[problem.entry.family]
    return [family.sample(problem.seed, draw).features for draw in problem.draws]


def test_all_have_the_same_families_in_the_same_order(bank):
    for problems in own_problems(ENTRIES, bank, 12):
        assert [problem.entry for problem in problems] == list(ENTRIES)


def test_the_first_student_has_the_seeds_that_the_plan_says(bank):
    assert [problem.seed for problem in own_problems(ENTRIES, bank, 12)[0]] == [7, 2, 3]


def test_whichever_draws_are_printed_no_two_students_get_the_same_sizes(bank):
    found = Counter((problem.entry.family, block) for problems in own_problems(ENTRIES, bank, 32) for problem in problems
                    for block in blocks(bank, problem))
    assert len(found) == 32 * 3 * RESERVE and set(found.values()) == {1}


def test_who_is_added_at_the_end_changes_nobodys_problems(bank):
    for fewer in (1, 7, 11):
        assert own_problems(ENTRIES, bank, 12)[:fewer] == own_problems(ENTRIES, bank, fewer)


def test_a_small_family_serves_as_many_as_it_has_blocks_for_and_is_told_with_its_line(tmp_path):
    small = load_bank(samples.bank_of(tmp_path, step=samples.STEP))          # 7 widths, 4 depths: 28 blocks less those not long
    entries = (Entry("step", 1, place=None),)
    assert len(own_problems(entries, small, 4)) == 4
    with pytest.raises(SpentError, match=r"step: found step, of which about 2\d blocks are all there is: too few for 9 students"):
        own_problems(entries, small, 9)


def test_in_a_term_no_student_gets_a_block_twice_and_in_a_week_no_two_the_same(bank):
    term = Term("Autumn 2031", 4, 1)
    weeks = [(Entry("stepped-block", term.seeds(week)[0]),) for week in range(1, 5)]
    made = [own_problems(week, bank, 6, weeks[:number]) for number, week in enumerate(weeks)]
    for student in range(6):
        had = [block for week in made for problem in week[student] for block in blocks(bank, problem)]
        assert len(had) == len(set(had)) == 4 * RESERVE
    for week in made:
        had = [block for problems in week for problem in problems for block in blocks(bank, problem)]
        assert len(had) == len(set(had)) == 6 * RESERVE


def test_in_a_small_family_a_term_gives_each_student_blocks_that_are_new_to_them(tmp_path):
    small = load_bank(samples.bank_of(tmp_path, step=samples.STEP))
    weeks = [(Entry("step", 1000 * week),) for week in (1, 2, 3)]
    made = [own_problems(week, small, 3, weeks[:number]) for number, week in enumerate(weeks)]
    for student in range(3):
        had = [block for week in made for block in blocks(small, week[student][0])]
        assert len(had) == len(set(had)) == 3 * RESERVE
