"""What parts are made of: nouns, and what tells one piece from another."""

from __future__ import annotations

import pytest

from sheetgen.bank import load_bank
from sheetgen.exercises.hints.lists import counted, listed
from sheetgen.exercises.pieces import pieces_of
from sheetgen.problem import problem_of
from sheetgen.templating import load_wording
from tests.exercises.hints.odd import ODD

BANK, WORDING = load_bank(), load_wording()


def names(name: str, seed: int = 1) -> list[str]:
    pieces = pieces_of(problem_of(BANK[name].sample(seed)))
    return [piece.called(WORDING, several=piece.count > 1) for piece in pieces if piece.known]


@pytest.mark.parametrize(("name", "told"), [
    ("crossed-channels", ["the block", "the front-to-back channel", "the left-to-right channel"]),
    ("two-way-steps", ["the block", "the right step", "the front step", "the notch"]),
    ("cross-block", ["the upper block", "the lower block", "the channel"]),
    ("twin-ribbed-bracket", ["the plate", "the upright", "the front rib", "the back rib", "the Ø18 hole", "the Ø10 holes"]),
    ("vee-guide", ["the block", "the left step", "the right step", "the vee groove", "the holes"]),
    ("bearing-support", ["the plate", "the rounded upright", "the boss", "the hole", "the left round-ended slot",
                         "the right round-ended slot", "the channel"]),
    ("trestle", ["the plate", "the roof-shaped piece", "the tunnel"]),
])
def test_pieces_are_called_by_the_trades_words_and_told_apart(name, told):
    found = names(name)
    assert [each for each in found if "Ø" not in each] == [each for each in told if "Ø" not in each]
    assert len(found) == len(told) and len(set(found)) == len(found)


def test_pieces_of_one_noun_are_counted_together():
    pieces = pieces_of(problem_of(BANK["bearing-support"].sample(1)))
    cut = counted([piece for piece in pieces if piece.cut], WORDING)
    assert listed(cut, WORDING) == "a hole, two round-ended slots and a channel"


def test_a_row_of_words_has_commas_and_one_and():
    assert [listed(words, WORDING) for words in ([], ["a"], ["a", "b"], ["a", "b", "c"])] == ["", "a", "a and b", "a, b and c"]


@pytest.mark.parametrize(("name", "told"), [
    ("slots", ["block", "left slot", "middle slot", "right slot"]),
    ("runs", ["block", "left-to-right slot", "upright slot"]),
    ("turned", ["block", "pin", "recess", "bore", "tapered bore"]), ("linked", ["link", "rebate"]),
    ("sawn", ["block", "shaped gap"]),
    ("nose", ["block", "rounded end"]),
])
def test_what_no_family_of_the_bank_has_is_called_by_its_name_too(tmp_path, name, told):
    (tmp_path / f"{name}.yaml").write_text(ODD[name], encoding="utf-8")
    pieces = pieces_of(problem_of(load_bank(tmp_path)[name].sample(1)))
    assert [piece.called(WORDING) for piece in pieces] == [f"the {each}" for each in told]
