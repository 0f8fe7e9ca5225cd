"""Whatever a stranger's file says, the bank answers with a family or with a BankError, and soon."""

import random
import time

from hypothesis import given, settings
from hypothesis import strategies as st

from sheetgen.bank import BankError, Family, load_text
from tests.bank.samples import BLOCK, EVERY_KIND

SCRAPS = [
    "open", "[", "]", "{", "}", ":", "- ", "\n", "  ", "\t", "&a", "*a", "<<: ", "!!int ", "'", '"', "#", "|",
    ">", "%", "0", "-1", "1e9", "yes", "~", "width/0", "999999", "\u202e", "é", "\x00", "x: ", "name: base",
    "add: block", "[0, 1]", "cut: hole", "\r",
]


def outcome(text):
    """A family that can be sampled, or the faults; nothing else may come out."""
    begin = time.perf_counter()
    try:
        family = load_text(text, "fuzzed")
        assert isinstance(family, Family)
        family.sample(1)
    except BankError as error:
        assert error.faults
        for line in str(error).split("\n"):
            assert line.startswith("fuzzed.yaml") and line.isprintable()
    assert time.perf_counter() - begin < 5


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
    import json

    try:
        text = json.dumps(data)
    except ValueError:
        return
    outcome(text)


@settings(max_examples=100, deadline=None)
@given(st.data())
def test_any_entry_of_a_good_file_replaced_by_anything(data):
    import json

    import yaml

    tree = yaml.safe_load(EVERY_KIND)
    spot, key = tree, data.draw(st.sampled_from(sorted(tree)))
    while isinstance(spot[key], dict | list) and spot[key] and data.draw(st.booleans()):
        spot = spot[key]
        key = data.draw(st.sampled_from(sorted(spot) if isinstance(spot, dict) else range(len(spot))))
    spot[key] = data.draw(ANY)
    outcome(json.dumps(tree))
