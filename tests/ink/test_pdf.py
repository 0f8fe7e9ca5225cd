"""PDF files, read back with libraries that know nothing of ours."""

import io
import math
import os
import subprocess
import sys
from pathlib import Path

import numpy as np
import pdfplumber
import pypdfium2
import pytest
from pypdf import PdfReader

import sheetgen
from sheetgen.ink import (
    Document,
    Face,
    Fill,
    LetteringError,
    Page,
    Pen,
    Stroke,
    Text,
    circle,
    clean,
    dashed,
    missing_glyphs,
    text_box,
    text_width,
    width_of,
    write_pdf,
)
from sheetgen.ink.lettering import font_of

MM = 72 / 25.4
ISOMETRIC = (math.cos(math.pi / 6), math.sin(math.pi / 6))


def line(a, b, pen=Pen.OUTLINE, **more):
    return Stroke(np.array([a, b], float), pen, **more)


def sample():
    marks = [
        Stroke(np.array([[20.0, 10], [410, 10], [410, 287], [20, 287]]), Pen.FRAME, closed=True),
        line((40, 60), (120, 60)),
        line((40, 80), (107, 80), Pen.HIDDEN),
        line((40, 90), (90, 90), Pen.HIDDEN, gap_first=True, gap_last=True),
        line((40, 100), (121, 100), Pen.CENTRE),
        circle((200, 100), 20, Pen.OUTLINE),
        Fill(np.array([[120.0, 50], [117, 50.4], [117, 49.6]])),
        Text("⌀40 (a\\b)", (60, 150), 3.5),
        Text("R12", (100, 200), 5.0, along=ISOMETRIC, anchor="middle"),
        Text("narrow", (150, 200), 3.5, face=Face.NARROW),
        Fill(np.array([[300.0, 100], [310, 100], [310, 110]]), shade=0.5),
    ]
    return Document([Page(420, 297, dashed(marks)), Page(297, 210, [])], "Views of a bracket", "en-GB", "A. Teacher",
                    "Orthographic projection", "first angle", [("Question", 0), ("Answer", 1)])


def bytes_of(document):
    out = io.BytesIO()
    write_pdf(document, out)
    return out.getvalue()


@pytest.fixture(scope="module")
def written():
    return bytes_of(sample())


@pytest.fixture(scope="module")
def page(written):
    with pdfplumber.open(io.BytesIO(written)) as pdf:
        yield pdf.pages[0]


def shown(marks, width=420, height=297):
    with pdfplumber.open(io.BytesIO(bytes_of(Document([Page(width, height, marks)], "t")))) as pdf:
        first = pdf.pages[0]
        return first.lines + first.curves + first.rects, first.chars


def darkness(marks, width, height, dots_per_mm=20):
    """Return the page as a picture (rows from the top), 0 white to 1 black."""
    data = bytes_of(Document([Page(width, height, marks)], "t"))
    picture = pypdfium2.PdfDocument(data)[0].render(scale=dots_per_mm * 25.4 / 72, grayscale=True).to_numpy()
    return 1 - picture.reshape(picture.shape[0], -1)[:, :picture.shape[1]] / 255.0


@pytest.mark.parametrize(("width", "height"), [(420, 297), (297, 210), (594, 420)])
def test_paper_has_its_true_size(width, height):
    data = bytes_of(Document([Page(width, height, [])], "t"))
    box = PdfReader(io.BytesIO(data)).pages[0].mediabox
    assert (float(box.width), float(box.height)) == pytest.approx((width * MM, height * MM), abs=1e-3)


@pytest.mark.parametrize("pen", list(Pen))
def test_a_line_has_the_width_of_its_pen_in_points_and_its_true_place(pen):
    (found,), _ = shown([line((10, 20), (110, 20), pen)])
    assert found["linewidth"] == pytest.approx(width_of(pen) * MM, abs=1e-3)
    assert (found["x0"], found["x1"], found["y0"]) == pytest.approx((10 * MM, 110 * MM, 20 * MM), abs=1e-3)


def test_a_dashed_line_says_its_dashes_in_points():
    (stroke,) = dashed([line((40, 90), (90, 90), Pen.HIDDEN, gap_first=True)])
    (found,), _ = shown([stroke])
    dash, phase = found["dash"]
    assert list(dash) == pytest.approx([part * MM for part in stroke.dash], abs=1e-3)
    assert phase == pytest.approx(stroke.phase * MM, abs=1e-3)


def test_no_scale_stands_before_the_lines(written):
    for sheet in PdfReader(io.BytesIO(written)).pages:
        operators = sheet.get_contents().get_data().split(b"\n")
        scales = [row for row in operators if row.endswith(b" cm") and row != b"1 0 0 1 0 0 cm"]
        assert scales == []


def test_each_stroke_is_a_path_of_its_own(page):
    assert len(page.lines) == 4
    assert len(page.curves) == 3   # the circle, the black and the grey triangle
    assert len(page.rects) == 1    # the frame


def test_numbers_never_read_minus_zero_or_with_an_exponent(written):
    odd = Document([Page(420, 297, [line((-1e-9, 1e-7), (30, -0.0)), Text("a", (-1e-12, 5), 3.5, along=(1, -1e-12))])], "t")
    for data in (written, bytes_of(odd)):
        words = PdfReader(io.BytesIO(data)).pages[0].get_contents().get_data().decode("latin1").split()
        numbers = [word for word in words if word[0] in "-0123456789."]
        assert [w for w in numbers if w.startswith("-") and float(w) == 0] == []
        assert [w for w in numbers if "e" in w] == []


def test_the_file_asks_not_to_be_scaled_and_to_show_its_title(written):
    root = PdfReader(io.BytesIO(written)).trailer["/Root"]
    wishes = root["/ViewerPreferences"]
    assert wishes["/PrintScaling"] == "/None"
    assert bool(wishes["/DisplayDocTitle"]) is True
    assert "/Duplex" not in wishes
    assert root["/Lang"] == "en-GB"


def test_the_file_knows_its_title_author_subject_and_keywords(written):
    about = PdfReader(io.BytesIO(written)).metadata
    assert (about.title, about.author, about.subject) == ("Views of a bracket", "A. Teacher", "Orthographic projection")
    assert about["/Keywords"] == "first angle"


def test_bookmarks_lead_to_their_pages(written):
    reader = PdfReader(io.BytesIO(written))
    found = [(mark.title, reader.get_destination_page_number(mark)) for mark in reader.outline]
    assert found == [("Question", 0), ("Answer", 1)]


def test_every_font_in_the_file_is_embedded_as_a_subset(written):
    reader = PdfReader(io.BytesIO(written))
    fonts = {font["/BaseFont"]: font for sheet in reader.pages for font in
             (entry.get_object() for entry in sheet["/Resources"]["/Font"].values())}
    assert len(fonts) == 2
    for name, font in fonts.items():
        assert name[7] == "+"
        assert 1000 < len(font["/FontDescriptor"]["/FontFile2"].get_data()) < 30_000


def test_lettering_can_be_copied_as_it_was_written(page):
    text = page.extract_text()
    assert "Ø40 (a\\b)" in text
    assert "narrow" in text


def test_lettering_begins_where_its_box_begins_and_is_as_wide():
    mark = Text("R12 x 45", (60, 150), 3.5, anchor="end")
    _, signs = shown([mark])
    box = text_box(mark)
    assert (signs[0]["matrix"][4], signs[0]["matrix"][5]) == pytest.approx(tuple(box[0] * MM), abs=1e-3)
    assert signs[-1]["x1"] - signs[0]["x0"] == pytest.approx(text_width("R12 x 45", 3.5) * MM, rel=1e-3)


def test_sheared_lettering_carries_its_shear_in_the_text_matrix():
    _, signs = shown([Text("12", (100, 100), 5.0, along=ISOMETRIC, up=(0, 1))])
    assert signs[0]["matrix"][:4] == pytest.approx((*ISOMETRIC, 0, 1), abs=1e-5)


def test_a_printed_capital_is_as_high_as_it_says():
    picture = darkness([Text("H", (2, 2), 7.0)], 12, 12)
    rows = np.flatnonzero((picture > 0.5).any(axis=1))
    assert (rows[-1] - rows[0] + 1) / 20 == pytest.approx(7.0, abs=0.1)
    assert 12 - (rows[-1] + 1) / 20 == pytest.approx(2.0, abs=0.06)


def test_printed_dashes_are_where_the_pattern_says():
    (stroke,) = dashed([line((5, 5), (25, 5), Pen.HIDDEN, gap_first=True)])
    along = darkness([stroke], 30, 10)[5 * 20] > 0.5
    changes = np.flatnonzero(np.diff(along.astype(int))) / 20
    dash, gap = stroke.dash
    assert changes[:3] == pytest.approx([5 + gap, 5 + gap + dash, 5 + 2 * gap + dash], abs=0.1)
    assert changes[-1] == pytest.approx(25, abs=0.1)


def test_a_sharp_corner_of_the_frame_is_filled():
    frame = Stroke(np.array([[5.0, 5], [25, 5], [25, 25], [5, 25]]), Pen.FRAME, closed=True)
    picture = darkness([frame], 30, 30)
    assert picture[int((30 - 4.75) * 20), int(4.75 * 20)] > 0.9


def test_shades_are_kept_and_black_comes_back():
    grey = Fill(np.array([[1.0, 1], [4, 1], [4, 4], [1, 4]]), shade=0.5)
    black = Fill(np.array([[6.0, 1], [9, 1], [9, 4], [6, 4]]))
    picture = darkness([grey, black], 10, 5)
    assert picture[50, 50] == pytest.approx(0.5, abs=0.02)
    assert picture[50, 150] == pytest.approx(1)


def test_the_same_document_is_the_same_bytes():
    assert bytes_of(sample()) == bytes_of(sample())


def test_another_process_with_another_hash_seed_writes_the_same_bytes(written):
    code = ("import sys, importlib.util as u; s = u.spec_from_file_location('t', sys.argv[1]); m = u.module_from_spec(s);"
            "s.loader.exec_module(m); sys.stdout.buffer.write(m.bytes_of(m.sample()))")
    for seed in ("1", "2"):
        done = subprocess.run([sys.executable, "-c", code, __file__], capture_output=True, check=True,
                              cwd=Path(sheetgen.__file__).parents[1], env={**os.environ, "PYTHONHASHSEED": seed})
        assert done.stdout == written


def test_what_one_document_letters_does_not_leak_into_the_next(written):
    bytes_of(Document([Page(210, 297, [Text("ZYXWVU", (10, 10), 5.0)])], "t"))
    assert bytes_of(sample()) == written


def test_a_sign_without_a_glyph_is_refused_not_printed_as_a_box():
    with pytest.raises(LetteringError, match="漢"):
        bytes_of(Document([Page(210, 297, [Text("漢", (10, 10), 5.0)])], "t"))


def test_a_hostile_text_neither_breaks_out_nor_breaks_the_page():
    text = ") Tj ET Q <</S/JavaScript>> \x00\u202e\n%"
    _, signs = shown([Text(text, (10, 10), 3.5)])
    assert "".join(sign["text"] for sign in signs) == ") Tj ET Q <</S/JavaScript>>  %"


def test_a_hostile_title_stays_a_title():
    data = bytes_of(Document([Page(210, 297, [])], ") /JS (x) \n\x00", author="(((", outline=[(")\\(", 0)]))
    reader = PdfReader(io.BytesIO(data))
    assert reader.metadata.title == ") /JS (x)  "
    assert reader.metadata.author == "((("
    assert reader.outline[0].title == ")\\("


@pytest.mark.parametrize("bad", [math.nan, math.inf, 1e6])
def test_a_mark_off_any_paper_is_refused(bad):
    with pytest.raises(ValueError, match="no number or farther"):
        bytes_of(Document([Page(420, 297, [line((0, 0), (bad, 10))])], "t"))


def test_a_document_needs_a_page_and_its_bookmarks_need_theirs():
    with pytest.raises(ValueError, match="at least one page"):
        bytes_of(Document([], "t"))
    with pytest.raises(ValueError, match="'Answer' leads to page 1, and the pages are 0 to 0"):
        bytes_of(Document([Page(420, 297, [])], "t", outline=[("Answer", 1)]))


def test_lettering_with_more_signs_than_one_subset_of_a_font_holds_reads_back_whole():
    known = sorted(sign for sign in map(chr, font_of(Face.REGULAR).face.charToGlyph) if sign.isalpha())
    lines = ["".join(known[k:k + 40]) for k in range(0, 320, 40)]
    lines = [line for line in lines if not missing_glyphs(line)]
    page = Page(420, 297, [Text(line, (20.0, 20.0 + 10 * k), 3.5) for k, line in enumerate(lines)])
    out = io.BytesIO()
    write_pdf(Document([page], "many signs"), out)
    read = pdfplumber.open(io.BytesIO(out.getvalue())).pages[0].extract_text()
    assert len(set("".join(lines))) > 256
    assert all(clean(line) in read for line in lines)
