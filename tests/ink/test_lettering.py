"""Lettering: heights, widths, boxes, fitting, and texts nobody should letter."""

import math
import struct
import subprocess
import sys
from itertools import pairwise
from pathlib import Path
from typing import NamedTuple

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

import sheetgen.ink
from sheetgen.ink import (
    HEIGHTS,
    Face,
    LetteringError,
    Text,
    checked,
    clean,
    fitted,
    missing_glyphs,
    reach,
    text_box,
    text_width,
    wrapped,
)
from sheetgen.ink.lettering import FONT_FILES, size_of

FONTS = Path(sheetgen.ink.__file__).parent / "fonts"


class Glyph(NamedTuple):
    """The box of a glyph's outline, and its advance, in em."""

    left: float
    foot: float
    right: float
    top: float
    advance: float


def glyph_of(face, sign):
    """Read a glyph's measures straight from the font's tables, without the library under test."""
    data = (FONTS / FONT_FILES[face]).read_bytes()
    count = struct.unpack(">H", data[4:6])[0]
    tables = {data[12 + 16 * i:16 + 16 * i]: struct.unpack(">II", data[20 + 16 * i:28 + 16 * i]) for i in range(count)}
    def at(tag, offset, kind):
        start = tables[tag][0] + offset
        return struct.unpack(">" + kind, data[start:start + struct.calcsize(">" + kind)])
    em, = at(b"head", 18, "H")
    long, = at(b"head", 50, "h")
    glyph = None
    for i in range(at(b"cmap", 2, "H")[0]):
        offset, = at(b"cmap", 8 + 8 * i, "I")
        if at(b"cmap", offset, "H") == (4,):
            segments = at(b"cmap", offset + 6, "H")[0] // 2
            ends = at(b"cmap", offset + 14, f"{segments}H")
            starts = at(b"cmap", offset + 16 + 2 * segments, f"{segments}H")
            deltas = at(b"cmap", offset + 16 + 4 * segments, f"{segments}h")
            ranges = at(b"cmap", offset + 16 + 6 * segments, f"{segments}H")
            k = next(k for k in range(segments) if ends[k] >= ord(sign))
            assert starts[k] <= ord(sign)
            if ranges[k] == 0:
                glyph = (ord(sign) + deltas[k]) % 65536
            else:
                place = offset + 16 + 6 * segments + 2 * k + ranges[k] + 2 * (ord(sign) - starts[k])
                glyph = (at(b"cmap", place, "H")[0] + deltas[k]) % 65536
    glyph_at = at(b"loca", 4 * glyph, "I")[0] if long else 2 * at(b"loca", 2 * glyph, "H")[0]
    metrics, = at(b"hhea", 34, "H")
    advance, = at(b"hmtx", 4 * min(glyph, metrics - 1), "H")
    return Glyph(*(part / em for part in (*at(b"glyf", glyph_at + 2, "4h"), advance)))


@pytest.mark.parametrize("face", list(Face))
def test_a_height_is_the_height_of_the_capital_h(face):
    capital = glyph_of(face, "H")
    assert capital.foot == 0
    assert size_of(3.5, face) * capital.top == pytest.approx(3.5, rel=1e-4)


@pytest.mark.parametrize("face", list(Face))
@pytest.mark.parametrize("figure", "0123456789R")
def test_figures_are_as_high_as_capitals_but_for_the_overshoot_of_round_ones(face, figure):
    # 2 hundredths of the height, 0.07 mm at 3.5: common practice of type, no source
    glyph = glyph_of(face, figure)
    assert size_of(1.0, face) * glyph.top == pytest.approx(1.0, abs=0.02)
    assert size_of(1.0, face) * glyph.foot == pytest.approx(0.0, abs=0.02)


@pytest.mark.parametrize("face", list(Face))
def test_a_one_cannot_be_taken_for_a_plain_stroke(face):
    # a face whose 1 was a bare stroke made 11 read as a pair of lines
    one, stroke = glyph_of(face, "1"), glyph_of(face, "I")
    assert one.right - one.left > 1.5 * (stroke.right - stroke.left)


@pytest.mark.parametrize("face", list(Face))
def test_a_text_reaches_below_and_above_as_far_as_its_deepest_tail_and_highest_accent(face):
    below, above = reach("Éclair, page 1", face)
    tall = glyph_of(face, "H").top
    assert below == pytest.approx(-min(glyph_of(face, sign).foot for sign in "pg") / tall)
    assert above == pytest.approx(glyph_of(face, "É").top / tall - 1)
    assert reach("HI LIT", face) == reach("", face) == (0, 0)


@pytest.mark.parametrize("face", list(Face))
def test_a_width_is_the_sum_of_the_fonts_advances(face):
    text = "R12 Hx"
    advances = sum(glyph_of(face, sign).advance for sign in text)
    assert text_width(text, 5.0, face) == pytest.approx(advances * size_of(5.0, face), rel=1e-4)


def test_the_narrow_face_is_narrower_and_the_heights_are_those_of_the_standard():
    assert text_width("BRACKET", 5, Face.NARROW) < 0.9 * text_width("BRACKET", 5)
    # ISO 3098-0:1997: each height is the one below times root 2, from memory
    assert [a / b for a, b in pairwise(HEIGHTS)] == pytest.approx([math.sqrt(2)] * 7, rel=0.02)


def test_a_box_runs_from_the_baseline_to_capital_height():
    box = text_box(Text("40", (10, 20), 3.5))
    assert box[0].tolist() == [10, 20]
    assert box[2] == pytest.approx([10 + text_width("40", 3.5), 23.5])


@pytest.mark.parametrize(("anchor", "part"), [("start", 0.0), ("middle", 0.5), ("end", 1.0)])
def test_an_anchor_names_the_point_of_the_baseline_it_stands_on(anchor, part):
    along = (math.cos(math.pi / 6), math.sin(math.pi / 6))
    box = text_box(Text("120", (50, 60), 3.5, along=along, anchor=anchor))
    assert box[0] + part * (box[1] - box[0]) == pytest.approx([50, 60])


def test_an_unknown_anchor_is_named_with_the_known_ones():
    with pytest.raises(LetteringError, match="'centre': it is one of start, middle, end"):
        text_box(Text("40", (0, 0), 3.5, anchor="centre"))


@given(turn=st.floats(0, 2 * math.pi), lean=st.floats(0.6, 2.5), pad=st.floats(0.1, 4))
def test_padding_is_square_to_all_sides_however_the_lettering_leans(turn, lean, pad):
    along = (math.cos(turn), math.sin(turn))
    up = (math.cos(turn + lean), math.sin(turn + lean))
    mark = Text("R25", (5, 7), 3.5, along=along, up=up)
    inner, outer = text_box(mark), text_box(mark, pad)
    for i in range(4):
        side = inner[(i + 1) % 4] - inner[i]
        offset = outer[i] - inner[i]
        assert abs(side[0] * offset[1] - side[1] * offset[0]) / np.linalg.norm(side) == pytest.approx(pad)


def test_the_signs_of_the_trade_can_be_lettered():
    for face in Face:
        assert missing_glyphs("Ø20 ×45° ±0,1 R5 – “A–A” ½", face) == ""


def test_the_names_of_students_in_latin_letters_can_be_lettered():
    for face in Face:
        assert missing_glyphs("Đorđe Łukasz Ágnes Őry Ștefan Țurcanu Şule İpek Müller Weiß Sørensen Æbelø Žižka", face) == ""


def test_the_diameter_sign_is_lettered_as_the_letter_that_looks_like_it():
    assert checked("⌀20") == "Ø20"
    assert text_width("⌀20", 3.5) == text_width("Ø20", 3.5)


def test_missing_signs_are_named_once_each():
    assert missing_glyphs("ЖØЖ漢") == "Ж漢"
    with pytest.raises(LetteringError, match=r"Ж \(U\+0416 CYRILLIC CAPITAL LETTER ZHE\)") as caught:
        checked("Жук")
    assert caught.value.text == "Жук"


@pytest.mark.parametrize("hostile", ["a\x00b", "a\u202eb", "a\u200bb", "a\u2066b", "a\x1bb", "a\ud800b", "a\ufeffb", "a\u00adb"])
def test_signs_that_hide_or_reorder_text_are_left_out(hostile):
    assert clean(hostile) == "ab"


@pytest.mark.parametrize("gap", ["\n", "\t", "\r", "\u2028", "\u2029", "\u00a0", "\x85"])
def test_line_ends_and_tabs_become_blanks(gap):
    assert clean(f"a{gap}b") == "a b"


def test_a_letter_and_its_accent_become_one_sign():
    assert clean("Ange\u0301") == "Ang\u00e9"


@given(text=st.text(max_size=40))
def test_cleaning_twice_changes_nothing_and_leaves_only_what_prints(text):
    once = clean(text)
    assert clean(once) == once
    assert "\n" not in once and "\x00" not in once


def test_a_text_with_room_keeps_its_height_and_face():
    assert fitted("Plate", 50, 5) == ("Plate", 5, Face.REGULAR)


def test_a_tight_text_first_turns_narrow_then_smaller():
    wide, narrow = text_width("BEARING", 5), text_width("BEARING", 5, Face.NARROW)
    assert fitted("BEARING", wide, 5)[1:] == (5, Face.REGULAR)
    assert fitted("BEARING", wide - 0.01, 5)[1:] == (5, Face.NARROW)
    assert fitted("BEARING", narrow - 0.01, 5)[1:] == (3.5, Face.REGULAR)


@given(text=st.text("ABCDEF abc", min_size=1, max_size=60), width=st.floats(5, 150), height=st.sampled_from(HEIGHTS[2:]))
def test_a_fitted_text_fits_and_is_never_below_the_least_height(text, width, height):
    try:
        shown, high, face = fitted(text, width, height, least=2.5)
    except LetteringError as error:
        assert text_width(text, min(2.5, height), Face.NARROW) > width
        assert error.width == width
    else:
        assert text_width(shown, high, face) <= width
        assert high >= min(2.5, height)


def test_a_text_that_never_fits_is_an_error_that_says_how_wide_it_is():
    with pytest.raises(LetteringError, match=r"does not fit into 10\.0 mm: at the least height of 1\.8 mm it is \d+\.\d mm wide"):
        fitted("A very long name of a school indeed", 10, 5)


@given(words=st.lists(st.text("abcdefgh", min_size=1, max_size=8), min_size=1, max_size=30), width=st.floats(20, 120))
def test_wrapped_lines_hold_every_word_in_order_and_are_as_full_as_they_go(words, width):
    lines = wrapped("  ".join(words), width, 2.5)
    assert " ".join(lines).split() == words
    assert all(text_width(line, 2.5) <= width + 1e-9 for line in lines)
    for line, after in pairwise(lines):
        assert text_width(f"{line} {after.split()[0]}", 2.5) > width - 1e-9


def test_a_word_wider_than_the_line_is_an_error_that_names_it():
    with pytest.raises(LetteringError, match=r"the word 'Donaudampfschiff' is \d+\.\d mm wide at 5 mm height"):
        wrapped("a Donaudampfschiff", 20, 5)


def test_nothing_wraps_to_no_lines():
    assert wrapped(" \n ", 20, 5) == []


def test_importing_ink_does_not_load_the_pdf_library():
    # the command line must answer --help in a third of a second
    code = "import sys, sheetgen.ink; print([m for m in sys.modules if m.startswith('reportlab')])"
    shown = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True,
                           cwd=Path(sheetgen.ink.__file__).parents[2])
    assert shown.stdout.strip() == "[]"
