"""Whatever a stranger's file says, it becomes a part that can be drawn or is refused in plain lines, and soon."""

import json
import random
import re
import time

import pytest
import yaml
from hypothesis import given, settings
from hypothesis import strategies as st

from sheetgen.bank import BankError, load_text
from tests.bank.outcome import carried_on
from tests.bank.samples import BLOCK, EVERY_KIND

SCRAPS = [
    "open", "[", "]", "{", "}", ":", "- ", "\n", "  ", "\t", "&a", "*a", "<<: ", "!!int ", "'", '"', "#", "|",
    ">", "%", "0", "-1", "1e9", "yes", "~", "width/0", "999999", "\u202e", "é", "\x00", "x: ", "name: base",
    "add: block", "[0, 1]", "cut: hole", "\r",
]


@pytest.fixture(scope="module", autouse=True)
def started():
    """What is imported late is no fault of a file's."""
    carried_on(load_text(BLOCK))


def outcome(text):
    """A part that was built, measured and proved, or the faults; nothing else may come out. Seconds of the processor count."""
    begin = time.process_time()
    try:
        told = carried_on(load_text(text, "fuzzed"))
    except BankError as error:
        assert error.faults
        told = str(error).split("\n")
    for line in told:
        assert line.startswith(("fuzzed.yaml", "refused: ")) and line.isprintable()
    assert time.process_time() - begin < 2


@settings(deadline=None)
@given(st.text(max_size=300))
def test_any_text(text):
    outcome(text)


@settings(max_examples=150, deadline=None)
@given(st.sampled_from([BLOCK, EVERY_KIND]), st.randoms(use_true_random=False), st.integers(1, 4))
def test_any_file_with_a_few_scraps_put_in_or_taken_out(text, dice: random.Random, changes):
    for _ in range(changes):
        at = dice.randrange(len(text))
        gone = dice.choice([0, 0, 1, 3, 12])
        text = text[:at] + dice.choice(["", *SCRAPS]) + text[at + gone:]
    outcome(text)


ANY = st.recursive(
    st.one_of(st.none(), st.booleans(), st.integers(), st.floats(), st.text(max_size=8), st.sampled_from(SCRAPS)),
    lambda inner: st.one_of(st.lists(inner, max_size=4), st.dictionaries(st.sampled_from(
        ["add", "cut", "name", "x", "y", "z", "at", "from", "to", "step", "one of", "plane", "outline", "start", "measure",
         "rule"]),
        inner, max_size=5)), max_leaves=15)


@settings(max_examples=150, deadline=None)
@given(st.dictionaries(st.sampled_from(["title", "topics", "rung", "about", "sizes", "values", "rules", "symmetry", "features",
                                        "measures"]), ANY))
def test_any_shape_of_data(data):
    try:
        text = json.dumps(data)
    except ValueError:
        return
    outcome(text)


@settings(max_examples=100, deadline=None)
@given(st.data())
def test_any_entry_of_a_good_file_replaced_by_anything(data):
    tree = yaml.safe_load(EVERY_KIND)
    spot, key = tree, data.draw(st.sampled_from(sorted(tree)))
    while isinstance(spot[key], dict | list) and spot[key] and data.draw(st.booleans()):
        spot = spot[key]
        key = data.draw(st.sampled_from(sorted(spot) if isinstance(spot, dict) else range(len(spot))))
    spot[key] = data.draw(ANY)
    outcome(json.dumps(tree))


NUMBERS = st.one_of(
    st.integers(-20, 200), st.sampled_from([0, 1e-6, 2e-6, 0.001, 12, 20, 40, 60, 80, 100, 9999, 10_001, 999_999]))


@settings(max_examples=25, deadline=None)
@given(st.data())
def test_any_numbers_of_a_good_file_replaced_by_others(data):
    """Files that are read without a fault, so that solids and proofs meet what no workshop could make."""
    text = EVERY_KIND
    spots = list(re.finditer(r"(?<=[\[ ])\d+(?=[],}\n])", text))
    for spot in sorted(data.draw(st.sets(st.integers(0, len(spots) - 1), min_size=1, max_size=3)), reverse=True):
        text = text[:spots[spot].start()] + f"{data.draw(NUMBERS):f}" + text[spots[spot].end():]
    outcome(text)


WORDS = {"plane": ["front", "top", "right"], "toward": ["left", "right", "up", "down"], "axis": ["x", "y", "z"],
         "mouth": ["left", "right", "front", "back", "bottom", "top"], "remove": ["above", "below", "left", "right"]}


@settings(max_examples=60, deadline=None)
@given(st.data())
def test_features_of_a_good_file_left_out_repeated_in_another_order_or_turned(data):
    tree = yaml.safe_load(EVERY_KIND)
    features = data.draw(st.lists(st.sampled_from(tree["features"]), min_size=1, max_size=8))
    tree["features"] = [{**feature, "name": f"f{k}"} for k, feature in enumerate(features)]
    for feature in tree["features"]:
        for field in sorted(WORDS.keys() & feature.keys()):
            if data.draw(st.integers(0, 3)) == 0:
                feature[field] = data.draw(st.sampled_from(WORDS[field]))
    tree["measures"] = data.draw(st.lists(st.sampled_from([
        "f0.left to f0.right", "f0.front to f0.back", "diameter of f1", "f0.left to f1.axis", "radius of f1.round", "depth of f1",
        "angle of f1.face to f0.top", "edge of f1.left and f1.floor to f0.right", "f0.bottom to f1.bottom"]),
        min_size=1, unique=True))
    outcome(json.dumps(tree))
