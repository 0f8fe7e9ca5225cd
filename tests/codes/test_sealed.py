"""Codes of papers: they hold digits of a keyed digest, and are told from practice codes."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sheetgen.codes import Code, CodeError, sealed_code, sealed_read
from sheetgen.codes.signs import LENGTH, SIGNS


@given(digest=st.binary(min_size=16, max_size=32))
def test_a_code_has_twenty_signs_at_most_and_no_letters_that_are_mistaken_for_each_other(digest):
    code = sealed_code(digest)
    assert len(code) <= 20 and set(code) <= set(SIGNS) | {"-"}
    assert sealed_read(code.lower().replace("-", " ")) == code
    with pytest.raises(CodeError, match="a code of a paper, wanted --key and --record"):
        Code.read(code)


@given(digest=st.binary(min_size=32, max_size=32), place=st.integers(0, LENGTH - 1), other=st.sampled_from(SIGNS))
def test_a_mistyped_code_is_found_out(digest, place, other):
    signs = sealed_code(digest).replace("-", "")
    wrong = signs[:place] + other + signs[place + 1:]
    swapped = signs[:place] + signs[place:place + 2][::-1] + signs[place + 2:]
    for text in {wrong, swapped} - {signs}:
        with pytest.raises(CodeError, match="mistyped"):
            sealed_read(text)


def test_a_practice_code_is_told_from_one_of_a_paper():
    with pytest.raises(CodeError, match="a practice code needs no key"):
        sealed_read(str(Code(*[0] * 11)))
