"""Pages as SVG, for screens: the same marks in millimetres; only here does y run downwards."""

from __future__ import annotations

from typing import TextIO
from xml.sax.saxutils import escape

import numpy as np

from sheetgen.geometry import Array
from sheetgen.ink.lettering import checked, size_of, text_start, text_width
from sheetgen.ink.marks import Face, Fill, Page, Stroke, Text
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
