"""Sampling: round sizes out of the ranges, all rules kept, and the same seed gives the same part on every machine."""

import os
import pickle
import subprocess
import sys
from hashlib import sha256

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sheetgen.bank import BankError, load_bank, load_text
from tests.bank.samples import BLOCK, changed

FAMILY = load_text(BLOCK, "plain-block")
DEMO = load_bank()


@given(st.integers())
def test_sizes_lie_in_their_ranges_on_round_steps(seed):
    sizes = FAMILY.sample(seed).sizes
    assert list(sizes) == ["width", "height"]
    assert 60 <= sizes["width"] <= 120 and sizes["width"] % 5 == 0
    assert 20 <= sizes["height"] <= sizes["width"] / 3 and sizes["height"] % 4 == 0


def test_the_choice_is_a_digest_that_anyone_can_work_out_again():
    def index(size, count):
        return int.from_bytes(sha256(f"plain-block/7/0/0/{size}".encode()).digest()[:8], "big") % count

    width = 60 + 5 * index("width", 13)
    count = int(width / 3 // 4) - 5 + 1
    assert dict(FAMILY.sample(7).sizes) == {"width": width, "height": 20 + 4 * index("height", count)}


SIZES_OF_TEN = """[(name, dict(bank[name].sample(seed, draw).sizes)) for name in ("angle-bracket-bored", "stepped-block")
    for seed in range(5) for draw in (0, 1)]"""


def test_a_seed_gives_the_same_variant_in_another_process_whatever_its_hash_seed():
    code = f"from sheetgen.bank import load_bank; bank = load_bank(); print({SIZES_OF_TEN})"
    runs = {subprocess.run([sys.executable, "-c", code], env={**os.environ, "PYTHONHASHSEED": hash_seed}, check=True,
                           capture_output=True, text=True).stdout for hash_seed in ("1", "2")}
    assert runs == {f"{eval(SIZES_OF_TEN, {'bank': DEMO})}\n"}


def test_a_size_that_begins_between_steps_starts_at_the_next_multiple():
    family = load_text(changed(BLOCK, ("from: 60, to: 120, step: 5", "from: 61, to: 69.9, step: 4")), "plain-block")
    assert {family.sample(seed).sizes["width"] for seed in range(40)} == {64.0, 68.0}


def test_tenths_stay_tenths():
    family = load_text(changed(BLOCK, ("from: 60, to: 120, step: 5", "from: 60.1, to: 60.5, step: 0.1")), "plain-block")
    assert {family.sample(seed).sizes["width"] for seed in range(60)} == {60.1, 60.2, 60.3, 60.4, 60.5}


def test_every_option_and_every_step_turns_up():
    assert {FAMILY.sample(seed).sizes["width"] for seed in range(300)} == set(range(60, 121, 5))
    family = load_text(changed(BLOCK, ("{from: 60, to: 120, step: 5}", "{one of: [60, 75, 100.5]}")), "plain-block")
    assert {family.sample(seed).sizes["width"] for seed in range(60)} == {60.0, 75.0, 100.5}


def test_another_draw_of_a_seed_is_another_variant_and_the_same_each_time():
    draws = [FAMILY.sample(3, draw).sizes for draw in range(20)]
    assert draws == [FAMILY.sample(3, draw).sizes for draw in range(20)]
    assert len({tuple(sizes.items()) for sizes in draws}) > 10
    assert FAMILY.sample(3, 2).draw == 2


RULED = changed(BLOCK, ("features:", "values:\n  half: width/2\n  flat: height\nrules:\n  - half >= 50\n"
                        "  - rule: flat != 24\n    because: 24 is the thickness of the wall\nfeatures:"))


@given(st.integers(0, 10_000))
def test_every_variant_keeps_every_rule(seed):
    variant = load_text(RULED, "ruled").sample(seed)
    assert variant.values == {"half": variant.sizes["width"] / 2, "flat": variant.sizes["height"]}
    assert variant.values["half"] >= 50
    assert variant.sizes["height"] != 24


def test_a_family_whose_rules_leave_nothing_names_the_rules_that_refused_most():
    text = changed(RULED, ("half >= 50", "half >= 500"), ("flat != 24", "width > 0 and flat != 24"))
    with pytest.raises(BankError) as caught:
        load_text(text, "ruled").sample(1)
    worst, *rest = caught.value.faults
    assert (worst.line, worst.field) == (11, "rules[1]")
    assert worst.found == "500 of 500 choices of sizes refused: not half >= 500"
    assert "24 is the thickness of the wall" in rest[0].found


def test_a_range_with_nothing_in_it_is_told_as_such():
    with pytest.raises(BankError, match=r"plain-block.yaml:6: sizes.height: found 500 of 500 .* nothing from 20 to 10"):
        load_text(changed(BLOCK, ("width/3", "10")), "plain-block").sample(1)
    with pytest.raises(BankError, match="a step of 0"):
        load_text(changed(BLOCK, ("step: 4", "step: 4 - 4")), "plain-block").sample(1)
    with pytest.raises(BankError, match="fewer than 100000"):
        load_text(changed(BLOCK, ("step: 5", "step: 0.0001")), "plain-block").sample(1)


def test_given_sizes_make_the_variant_that_a_seed_would_have_made():
    for seed in range(5):
        drawn = FAMILY.sample(seed)
        given_sizes = FAMILY.variant(drawn.sizes, seed=seed)
        assert given_sizes.features == drawn.features
        assert given_sizes.sizes == drawn.sizes


@pytest.mark.parametrize(("sizes", "found", "wanted"), [
    ({"width": 100}, "nothing", "a number of mm"),
    ({"width": 100, "height": "tall"}, "'tall'", "a number of mm"),
    ({"width": 100, "height": 20, "hieght": 3}, "an unknown size", "height"),
    ({"width": float("inf"), "height": 20}, "a huge number", "a number of mm"),
    ({"width": True, "height": 20}, "yes", "a number of mm"),
    ({"width": 100, "height": 24}, "24 is the thickness of the wall", "sizes that fit"),
])
def test_given_sizes_that_do_not_fit_are_refused(sizes, found, wanted):
    with pytest.raises(BankError) as caught:
        load_text(RULED, "ruled").variant(sizes)
    assert any(found in fault.found and wanted in fault.wanted for fault in caught.value.faults)


def test_a_variant_can_be_sent_to_another_process():
    variant = DEMO["angle-bracket-bored"].sample(3)
    again = pickle.loads(pickle.dumps(variant))
    assert again == variant
    assert again.family.sample(9) == variant.family.sample(9)
