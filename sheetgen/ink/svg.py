"""Pages as SVG, for screens: the same marks in millimetres; only here does y run downwards."""

from __future__ import annotations

from base64 import b64encode
from typing import TextIO
from xml.sax.saxutils import escape

import numpy as np

from sheetgen.geometry import Array
from sheetgen.ink.lettering import checked, size_of, text_start, text_width
from sheetgen.ink.marks import Colour, Face, Fill, Page, Picture, Shape, Stroke, Text
from sheetgen.ink.numbers import number_text, paper, point_texts
from sheetgen.ink.pens import NIBS, Cap, Join

CAPS = {Cap.BUTT: "butt", Cap.ROUND: "round", Cap.SQUARE: "square"}
JOINS = {Join.MITRE: "miter", Join.ROUND: "round"}
FAMILIES = {Face.REGULAR: "Barlow, sans-serif", Face.NARROW: "Barlow Semi Condensed, sans-serif"}
"""The faces by the names their files give them, for a screen that has them installed."""


def write_svg(page: Page, out: TextIO, set_mark: str = "") -> None:
    """Write ``page`` to ``out`` at true size; ``set_mark``: as of a document.

    Raises: ValueError for a mark off any paper; LetteringError for a sign that the lettering lacks.
    """
    width, height = paper([page.width, page.height]).tolist()
    size = number_text([width, height])
    out.write(f'<svg xmlns="http://www.w3.org/2000/svg" width="{number_text([width])}mm" height="{number_text([height])}mm" '
              f'viewBox="0 0 {size}">\n<rect width="{number_text([width])}" height="{number_text([height])}" fill="#fff"/>\n')
    if set_mark:
        out.write(f"<metadata>sheetgen, set {escape(set_mark)}</metadata>\n")
    for mark in page.marks:
        if isinstance(mark, Stroke):
            out.write(_stroke(mark, height))
        elif isinstance(mark, Fill):
            out.write(_fill(mark, height))
        elif isinstance(mark, Shape):
            out.write(_shape(mark, height))
        elif isinstance(mark, Picture):
            out.write(_picture(mark, height))
        else:
            out.write(_text(mark, height))
    out.write("</svg>\n")


def _down(points: Array, height: float) -> list[str]:
    """Return points (n, 2) as texts with y down."""
    return point_texts(paper(np.asarray(points, float) * [1, -1] + [0, height]))


def _stroke(stroke: Stroke, height: float) -> str:
    nib, rows = NIBS[stroke.pen], _down(stroke.points, height)
    dash = ""
    if stroke.dash:
        dash = (f' stroke-dasharray="{number_text(paper(stroke.dash).tolist())}"'
                f' stroke-dashoffset="{number_text(paper([stroke.phase]).tolist())}"')
    path = f"M{rows[0]}{'C' if stroke.curved else 'L'}{' '.join(rows[1:])}{'Z' if stroke.closed else ''}"
    return (f'<path d="{path}" fill="none" stroke="#000" stroke-width="{number_text([nib.width])}" '
            f'stroke-linecap="{CAPS[nib.cap]}" stroke-linejoin="{JOINS[nib.join]}"{dash}/>\n')


def _fill(fill: Fill, height: float) -> str:
    grey = f"{round(255 * min(max(fill.shade, 0.0), 1.0)):02x}" * 3
    return f'<path d="M{"L".join(_down(fill.points, height))}Z" fill="#{grey}"/>\n'


def _shape(shape: Shape, height: float) -> str:
    rows, runs, start = _down(shape.points, height), [], 0
    for count, closed in shape.runs:
        run, start = rows[start:start + count], start + count
        runs.append(f"M{run[0]}C{' '.join(run[1:])}{'Z' if closed else ''}")
    line = ""
    if shape.line is not None:
        line = (f' stroke="{_hex(shape.line)}" stroke-width="{number_text(paper([shape.width]).tolist())}"'
                f' stroke-linecap="{shape.ends}" stroke-linejoin="{shape.corners}"')
    fill = "none" if shape.fill is None else _hex(shape.fill)
    rule = ' fill-rule="evenodd"' if shape.even_odd else ""
    return f'<path d="{"".join(runs)}" fill="{fill}"{rule}{line}/>\n'


def _hex(colour: Colour) -> str:
    return "#" + "".join(f"{round(255 * part):02x}" for part in colour)


def _picture(picture: Picture, height: float) -> str:
    (left, low), (right, high) = paper(picture.points).tolist()
    place = paper([left, height - high, right - left, high - low]).tolist()
    x, y, wide, tall = (number_text([value]) for value in place)
    return (f'<image x="{x}" y="{y}" width="{wide}" height="{tall}" preserveAspectRatio="none" '
            f'href="data:image/png;base64,{b64encode(picture.png).decode()}"/>\n')


def _text(mark: Text, height: float) -> str:
    text = checked(mark.text, mark.face)
    if not text.strip():
        return ""
    (ax, ay), (ux, uy) = mark.along, mark.up
    start = _down(np.array([text_start(mark)]), height)[0]
    turn = number_text((np.round([ax, -ay, -ux, uy], 6) + 0.0).tolist())
    size, width = paper([size_of(mark.height, mark.face), text_width(text, mark.height, mark.face)]).tolist()
    return (f'<text transform="matrix({turn} {start})" font-family="{FAMILIES[mark.face]}" font-size="{number_text([size])}" '
            f'textLength="{number_text([width])}" lengthAdjust="spacingAndGlyphs" xml:space="preserve">{escape(text)}</text>\n')
