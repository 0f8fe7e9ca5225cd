"""The signs of a code: read as written, and never when one sign is wrong or two have changed places."""

from __future__ import annotations

from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sheetgen.codes import SIGNS, WIDEST, CodeError
from sheetgen.codes.signs import CAPACITY, GROUP, LENGTH, PRIME, TYPED, is_sealed, number_read, plain_signs, written
from sheetgen.ink import text_width

NUMBERS = st.integers(0, CAPACITY - 1)
EXAMPLES = (0, 1, CAPACITY - 1, 161803398874989484820458, 31415926535897932384626)


def plain(number):
    return written(number).replace("-", "")


def test_a_code_has_twenty_capitals_digits_and_hyphens_and_none_that_is_mistaken_for_another():
    assert len(WIDEST) == len(written(0)) == 20 and LENGTH == 18
    assert len(set(SIGNS)) == PRIME == 29 and all(PRIME % factor for factor in range(2, PRIME))
    assert not set("BILOQSZ") & set(SIGNS) and set(SIGNS) <= set("0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ")


def test_no_code_takes_more_room_than_the_widest():
    assert max(SIGNS, key=lambda sign: text_width(sign, 2.5)) == WIDEST[0]


@given(NUMBERS)
def test_a_number_written_is_read_again(number):
    assert number_read(written(number)) == number


@given(NUMBERS, st.data())
def test_small_letters_blanks_missing_hyphens_and_letters_that_look_like_digits_are_understood(number, data):
    looks = {digit: [digit, *(chr(letter) for letter, meant in TYPED.items() if meant == ord(digit))] for digit in SIGNS}
    typed = "".join(data.draw(st.sampled_from(looks[sign])) for sign in plain(number))
    typed = "".join(f"{data.draw(st.sampled_from(['', ' ', '-', '–']))}{sign}" for sign in typed)
    assert number_read(data.draw(st.sampled_from([str.lower, str.upper]))(typed)) == number


def test_letters_that_no_code_has_are_read_as_the_digits_they_look_like():
    assert plain_signs("B-I-L-O-Q-S-Z") == plain_signs("bil oqsz") == "8110052"


@pytest.mark.parametrize("number", EXAMPLES)
def test_every_single_wrong_sign_is_refused_and_its_group_is_told(number):
    signs, tried = plain(number), 0
    for place, right in enumerate(signs):
        for wrong in SIGNS:
            if wrong != right:
                tried += 1
                with pytest.raises(CodeError, match=f"look at group {place // GROUP + 1}, "):
                    number_read(signs[:place] + wrong + signs[place + 1:])
    assert tried == 18 * 28


@pytest.mark.parametrize("number", EXAMPLES[3:])
def test_two_signs_that_have_changed_places_are_refused_wherever_they_stand(number):
    signs, tried = plain(number), 0
    for one, other in combinations(range(LENGTH), 2):
        if signs[one] != signs[other]:
            tried += 1
            swapped = list(signs)
            swapped[one], swapped[other] = swapped[other], swapped[one]
            with pytest.raises(CodeError, match="in their order"):
                number_read("".join(swapped))
    assert tried > 120                                        # of 153 pairs, those of equal signs are no mistake


@settings(max_examples=400)
@given(NUMBERS, st.integers(0, LENGTH - 1), st.integers(1, PRIME - 1))
def test_a_wrong_sign_is_refused_in_any_code(number, place, by):
    signs = plain(number)
    wrong = SIGNS[(SIGNS.index(signs[place]) + by) % PRIME]
    assert not is_sealed(signs[:place] + wrong + signs[place + 1:])


@settings(max_examples=400)
@given(NUMBERS, st.integers(0, LENGTH - 2))
def test_neighbours_that_have_changed_places_are_refused_in_any_code(number, place):
    signs = plain(number)
    swapped = signs[:place] + signs[place + 1] + signs[place] + signs[place + 2:]
    assert is_sealed(swapped) == (swapped == signs)


@settings(max_examples=400)
@given(NUMBERS, st.lists(st.integers(0, LENGTH - 1), min_size=2, max_size=2, unique=True),
       st.lists(st.integers(1, PRIME - 1), min_size=2, max_size=2))
def test_two_wrong_signs_are_refused_too(number, places, by):
    values = [SIGNS.index(sign) for sign in plain(number)]
    for place, step in zip(places, by, strict=True):
        values[place] = (values[place] + step) % PRIME
    assert not is_sealed("".join(SIGNS[value] for value in values))


@pytest.mark.parametrize(("typed", "told"), [
    ("", "found 0 signs in '', wanted 18 signs, in 3 groups of 6"),
    ("000000-000000-0010W", "found 17 signs in '000000-000000-0010W', wanted 18 signs"),
    ("000000-000000-0010W22", "found 19 signs in"),
    ("000000-00*000-0010W2", r"found '\*' in '000000-00\*000-0010W2', wanted a code of digits and capitals"),
    ("000000-000000-001\u0664W2", "found '\u0664' in"),
    ("000000-000000-0010W3", "found a mistyped code, 000000-000000-0010W3, wanted the signs that are printed; look at group 3"),
])
def test_what_is_no_code_is_told(typed, told):
    with pytest.raises(CodeError, match=f"^the code: {told}"):
        number_read(typed)


@pytest.mark.parametrize("number", [-1, CAPACITY])
def test_a_number_too_large_is_not_written(number):
    with pytest.raises(ValueError, match="is not from 0 to"):
        written(number)
