"""Compact marks: what a page draws from them is what is printed, within a hundredth of a millimetre."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image, ImageDraw, ImageFont

from sheetgen.bank import load_bank
from sheetgen.exercises import Role, make_exercise
from sheetgen.ink import Face, Fill, Pen, Picture, Shape, Stroke, Text, letters_of, packed, packed_glyph, unpacked
from sheetgen.ink.glyphs import capitals_of, glyph_of, units_of
from sheetgen.ink.lettering import FONT_FILES, checked, font_of, text_start
from sheetgen.ink.signs import folded, numbers_of, signs_of, unfolded
from sheetgen.shared import shipped
from sheetgen.sheet import Style, settings_of

NEAR = 0.01
"""mm that a mark may come back off its place; the pen is at least 0.13 wide."""

LARGEST = 8192
"""Bytes of a question or an answer in a page; as plain SVG it is 37 kB."""


def assert_come_back(marks):
    """Every mark comes back in its order, as what it was, within NEAR."""
    inked = [mark for mark in marks if not (isinstance(mark, Text) and not mark.text.strip())]
    back = unpacked(packed(marks))
    assert [type(mark) for mark in back] == [type(mark) for mark in inked]
    for mark, found in zip(inked, back, strict=True):
        if isinstance(mark, Text):
            assert found.text == checked(mark.text, mark.face) and found.face is mark.face and found.anchor == "start"
            assert np.abs(np.subtract(text_start(mark), found.at)).max() <= NEAR
            assert abs(mark.height - found.height) <= 1e-4
            assert np.abs(np.subtract((*mark.along, *mark.up), (*found.along, *found.up))).max() <= 1e-6
            continue
        assert found.points.shape == mark.points.shape and np.abs(found.points - mark.points).max() <= NEAR
        if isinstance(mark, Stroke):
            assert (found.pen, found.curved, found.closed) == (mark.pen, bool(mark.curved), mark.closed)
            assert np.allclose(found.dash, mark.dash, atol=1e-4) and (not mark.dash or abs(found.phase - mark.phase) <= 1e-4)
        elif isinstance(mark, Fill):
            assert abs(found.shade - mark.shade) <= 1e-4


@pytest.mark.parametrize(("family", "seed", "style"), [
    ("stepped-block", 1, Style()),
    ("shaft-support", 11, Style(side="both", figures="upright", arrows="each")),
    ("skew-ended-tunnel", 2, Style(projection="third", side="right", paper="A2")),
    ("flanged-foot", 1, Style(paper="A4", title_block="quarry", wording="en-elevations")),
    ("conical-boss", 3, Style(paper="11x17")),
])
def test_the_marks_of_every_sheet_come_back_within_a_hundredth_and_take_less_than_8_kb(family, seed, style):
    exercise = make_exercise(load_bank()[family], seed, settings_of(style), (Role.QUESTION, Role.ANSWER, Role.BLANK))
    for pages in exercise.sheets.values():
        for page in pages:
            assert_come_back(page.marks)
            assert len(packed(page.marks).encode()) <= LARGEST


def test_artwork_and_pictures_of_dots_come_back_too():
    square = np.array([[10, 10], [20, 10], [20, 20], [10, 20]], float)
    shape = Shape(square, ((4, True),), (1.0, 0.5, 0.0), (0.0, 0.0, 1.0), 0.4, True, "round", "bevel")
    plain = Shape(np.vstack([square, square + 3]), ((4, False), (4, True)), None, (0.2, 0.4, 0.6), 1.25)
    marks = [shape, plain, Picture(np.array([[1.0, 2.0], [30.5, 40.25]]), b"\x89PNG not really"), Fill(square, 0.75)]
    assert_come_back(marks)
    found = unpacked(packed(marks))
    assert [mark.runs for mark in found[:2]] == [shape.runs, plain.runs]
    assert found[0].fill == pytest.approx((1.0, 0.5, 0.0), abs=1 / 255) and found[1].fill is None
    assert (found[0].even_odd, found[0].ends, found[0].corners, found[0].width) == (True, "round", "bevel", 0.4)
    assert found[2].png == b"\x89PNG not really"


points = st.lists(st.tuples(*[st.floats(-4000, 4000)] * 2), min_size=2, max_size=9).map(lambda rows: np.array(rows, float))
strokes = st.builds(Stroke, points, st.sampled_from(Pen), closed=st.booleans(),
                    dash=st.sampled_from([(), (2.75, 0.75), (6.0, 0.75, 0.125, 0.75)]), phase=st.sampled_from([0.0, 1.375]))
texts = st.builds(Text, st.text("Ø12 R×°ÉaHg-", min_size=1, max_size=6), st.tuples(*[st.floats(0, 400)] * 2),
                  st.sampled_from([1.8, 2.5, 3.5, 7.0]),
                  st.sampled_from([(1.0, 0.0), (0.0, 1.0), (0.866025, 0.5)]), st.sampled_from([(0.0, 1.0), (-1.0, 0.0)]),
                  st.sampled_from(["start", "middle", "end"]), st.sampled_from(Face))


@given(st.lists(st.one_of(strokes, texts, st.builds(Fill, points, st.sampled_from([0.0, 0.5, 1.0]))), max_size=12))
def test_whatever_is_drawn_comes_back_in_its_order(marks):
    assert_come_back(marks)


@given(st.lists(st.integers(-10**9, 10**9), max_size=40))
def test_whole_numbers_come_back_from_their_signs(numbers):
    text = signs_of(map(folded, numbers))
    assert list(map(unfolded, numbers_of(text))) == numbers and text.isascii()
    assert not set(text) & set("<>&\"'\\/ \n")          # nothing that a page or a script would take for its own


@pytest.mark.parametrize("text", ["", "x", "BADBAAoGAjDE"[:-1], "é", "-", "BADBAAoGAjDE\nspare", "CAgfB" * 40])
def test_what_is_no_picture_is_refused(text):
    if text:
        with pytest.raises(ValueError):
            unpacked(text)
    else:
        assert unpacked(text) == []


def test_a_mark_off_any_paper_is_refused():
    with pytest.raises(ValueError):
        packed([Fill(np.array([[0.0, 0.0], [1e9, 0.0], [0.0, 1.0]]))])


def drawn(glyph, size):
    """A letter as its contours tell it, in dots: filled where they wind round (TrueType's rule)."""
    total = np.zeros((size, size), int)
    for contour in glyph.contours:
        rows = list(contour)
        whole = []
        for number, point in enumerate(rows):
            before = rows[number - 1]
            if not point[2] and not before[2]:
                whole.append(((point[0] + before[0]) / 2, (point[1] + before[1]) / 2, True))
            whole.append(point)
        first = next(number for number, point in enumerate(whole) if point[2])
        whole = whole[first:] + whole[:first + 1]
        line = [whole[0][:2]]
        for before, point, after in zip(whole, whole[1:], [*whole[2:], whole[-1]], strict=False):
            if point[2]:
                if before[2]:
                    line.append(point[:2])
                continue
            for part in np.linspace(0, 1, 12)[1:]:
                a, b, c = (np.array(one[:2], float) for one in (before, point, after))
                line.append(tuple((1 - part) ** 2 * a + 2 * part * (1 - part) * b + part ** 2 * c))
        image = Image.new("L", (size, size))
        ImageDraw.Draw(image).polygon([(300 + x, 900 - y) for x, y in line], fill=1)
        ys, xs = np.array([y for _, y in line]), np.array([x for x, _ in line])
        way = np.sign(np.sum(xs[:-1] * ys[1:] - xs[1:] * ys[:-1]))
        total += np.asarray(image, int) * int(way)
    return total != 0


@pytest.mark.parametrize("face", Face)
def test_letters_look_as_another_reader_of_the_font_draws_them(face):
    """FreeType, by way of Pillow, draws the same font; of composed letters too."""
    font = ImageFont.truetype(str(shipped("templates").parent / "sheetgen" / "ink" / "fonts" / FONT_FILES[face]), 1000)
    for sign in "HOgaØR8×°éÉç()2ñ½":
        if ord(sign) not in font_of(face).face.charToGlyph:
            continue
        image = Image.new("L", (1600, 1600))
        ImageDraw.Draw(image).text((300, 900), sign, fill=255, font=font, anchor="ls")
        other = np.asarray(image) > 127
        ours = drawn(glyph_of(sign, face), 1600)
        rim = np.count_nonzero(other[1:] != other[:-1]) + np.count_nonzero(other[:, 1:] != other[:, :-1])
        assert (other != ours).sum() <= 1.2 * rim, sign           # Pillow's polygons reach half a dot farther than their rim
        assert glyph_of(sign, face).wide == pytest.approx(font.getlength(sign), abs=1.0)


def test_a_letter_is_told_in_few_signs():
    numbers = list(numbers_of(packed_glyph("H", Face.REGULAR)))
    glyph = glyph_of("H", Face.REGULAR)
    assert numbers[0] == glyph.wide and numbers[1] == len(glyph.contours[0]) and len(glyph.contours) == 1
    assert units_of(Face.REGULAR) == 1000 and capitals_of(Face.REGULAR) == 700     # of the font file (from memory)


def test_letters_are_gathered_by_face():
    text = Text("Ø12", (0, 0), 3.5)
    assert letters_of([text, replace(text, text="2A", face=Face.NARROW), Fill(np.zeros((3, 2)))]) == {
        Face.REGULAR: "12Ø", Face.NARROW: "2A"}
