"""SVG pages, read back as XML."""

import io
import math
import xml.etree.ElementTree as Tree

import numpy as np
import pytest

from sheetgen.ink import Face, Fill, Page, Pen, Stroke, Text, circle, dashed, text_width, write_svg

SVG = "{http://www.w3.org/2000/svg}"


def drawn(*marks, width=420, height=297):
    out = io.StringIO()
    write_svg(Page(width, height, marks), out)
    return Tree.fromstring(out.getvalue())


def test_a_page_is_in_millimetres_at_true_size():
    root = drawn()
    assert (root.get("width"), root.get("height"), root.get("viewBox")) == ("420mm", "297mm", "0 0 420 297")


def test_what_is_low_on_paper_is_far_down_on_screen():
    path = drawn(Stroke(np.array([[10.0, 7], [30, 7]]), Pen.OUTLINE)).find(SVG + "path")
    assert path.get("d") == "M10 290L30 290"
    assert path.get("stroke-width") == "0.5"


def test_a_circle_is_four_times_two_curves_and_closed():
    path = drawn(circle((50, 50), 10, Pen.OUTLINE)).find(SVG + "path").get("d")
    assert path.startswith("M60 247C") and path.endswith("Z")
    assert len(path.replace("M", "").replace("Z", "").replace("C", " ").split()) == 2 * 25


def test_screen_and_paper_have_the_same_dashes():
    (stroke,) = dashed([Stroke(np.array([[10.0, 7], [43, 7]]), Pen.HIDDEN, gap_first=True)])
    path = drawn(stroke).find(SVG + "path")
    assert [float(part) for part in path.get("stroke-dasharray").split()] == list(stroke.dash)
    assert float(path.get("stroke-dashoffset")) == stroke.phase
    assert path.get("stroke-linecap") == "butt"


def test_lettering_is_escaped_and_keeps_its_width_without_the_font():
    text = drawn(Text('<b onclick="x">&\u202e</b>', (10, 20), 3.5, face=Face.NARROW)).find(SVG + "text")
    assert text.text == '<b onclick="x">&</b>'
    assert list(text) == []
    assert float(text.get("textLength")) == pytest.approx(text_width(text.text, 3.5, Face.NARROW), abs=1e-3)


def test_the_matrix_of_sheared_lettering_takes_its_vectors_to_the_screen():
    along, up = np.array([math.cos(math.pi / 6), math.sin(math.pi / 6)]), np.array([0.0, 1.0])
    text = drawn(Text("12", (10, 20), 3.5, along=tuple(along), up=tuple(up))).find(SVG + "text")
    a, b, c, d, e, f = map(float, text.get("transform")[len("matrix("):-1].split())
    assert (e, f) == (10, 277)
    assert (a, b) == pytest.approx((along[0], -along[1]), abs=1e-6)
    assert (-c, -d) == pytest.approx((up[0], -up[1]))   # a screen glyph rises along minus y


def test_fills_are_grey_by_shade():
    shades = [drawn(Fill(np.array([[0.0, 0], [5, 0], [5, 5]]), shade)).find(SVG + "path").get("fill") for shade in (0, 1, 7)]
    assert shades == ["#000000", "#ffffff", "#ffffff"]


def test_the_same_page_is_the_same_text():
    page = Page(297, 210, [circle((50, 50), 10, Pen.OUTLINE), Text("a", (-1e-12, 20), 3.5)])
    first, second = io.StringIO(), io.StringIO()
    write_svg(page, first)
    write_svg(page, second)
    assert first.getvalue() == second.getvalue()
    assert "-0 " not in first.getvalue()
