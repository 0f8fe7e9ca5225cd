"""What a code holds: every field comes back, and the order in which they are packed stays as it is."""

from __future__ import annotations

from dataclasses import fields
from math import log2, prod

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sheetgen.codes import MOST_CODED_SEED, SIGNS, Code, CodeError, family_number, scanned, sizes_number
from sheetgen.codes.record import COUNTS, PAPERS
from sheetgen.codes.signs import CAPACITY, written

CODES = st.builds(Code, **{name: st.integers(0, count - 1) for name, count in COUNTS.items() if name != "later"},
                  later=st.integers(0, PAPERS - 1))

PRINTED = Code(family=4660, sizes=22136, seed=7, draw=2, kind=20, projection=1, side=2, paper=1, figures=1, arrows=0, measures=5)


@given(CODES)
def test_every_field_comes_back(code):
    assert Code.read(str(code)) == code


def test_a_code_printed_years_ago_is_read():
    assert str(PRINTED) == "7VGXPU-2EXH91-MVWG3G"
    assert Code.read("7vgxpu 2exh91 mvwg3g") == PRINTED


def test_the_fields_have_room_in_the_signs_and_no_sign_could_be_saved():
    assert [field.name for field in fields(Code)] == list(COUNTS)
    room = prod(COUNTS.values())
    assert CAPACITY / len(SIGNS) < room <= CAPACITY and (round(log2(room), 2), round(log2(CAPACITY), 2)) == (77.66, 77.73)
    assert MOST_CODED_SEED == 2 ** 24 - 1


@pytest.mark.parametrize("name", COUNTS)
def test_a_value_without_room_is_refused(name):
    values = dict.fromkeys(COUNTS, 0)
    for value in (-1, COUNTS[name]):
        with pytest.raises(ValueError, match=f"{name} {value} is not from 0 to"):
            Code(**{**values, name: value})


@pytest.mark.parametrize(("text", "told"), [
    (str(Code(**{**dict.fromkeys(COUNTS, 0), "later": PAPERS})), "a code of a paper"),
    (written(CAPACITY - 1), "which no sheet of this sheetgen carries")])
def test_a_code_that_holds_what_no_practice_sheet_has_is_not_misread(text, told):
    with pytest.raises(CodeError, match=told):
        Code.read(text)


def test_the_figure_holds_the_signs_and_texts_in_capitals():
    assert scanned(str(PRINTED)) == "7VGXPU2EXH91MVWG3G"
    assert scanned("stepped-block-16777216.2") == "STEPPED-BLOCK-16777216.2"


def test_digits_of_digests_hang_on_each_size_each_measure_and_nothing_else():
    sizes, measures = {"width": 60.0, "way": "left"}, ["span 60", "diameter 2 × Ø12"]
    usual = sizes_number(sizes, measures)
    assert usual == sizes_number({"width": 60.0 + 1e-9, "way": "left"}, list(measures))
    others = [sizes_number({**sizes, "width": 61.0}, measures), sizes_number({**sizes, "way": "right"}, measures),
              sizes_number(sizes, ["span 60", "diameter Ø12"]), sizes_number(sizes, measures[:1])]
    assert len({usual, *others}) == 5
    assert family_number("stepped-block") == family_number("stepped-block") != family_number("stepped-block2")
