"""Documents as PDF files. In: a Document in sheet millimetres; out: bytes, the same for the same document.

Everything is written in points under the identity matrix, so that a reader of the file finds line widths and dashes true
without multiplying. (The bytes of the compressed streams are those of the zlib that Python was built with.)
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, BinaryIO

import numpy as np
import numpy.typing as npt

from sheetgen.ink.lettering import checked, clean, font_of, size_of, text_start
from sheetgen.ink.marks import Document, Face, Fill, Page, Stroke, Text
from sheetgen.ink.numbers import number_text, paper
from sheetgen.ink.pens import NIBS

if TYPE_CHECKING:
    from reportlab.pdfgen.canvas import Canvas

POINTS = 72 / 25.4
"""Points in a millimetre."""


def write_pdf(document: Document, out: BinaryIO) -> None:
    """Write ``document`` to ``out``: true size, fonts embedded, no scaling by the print dialogue, bookmarks.

    Raises: ValueError for a document without pages, a bookmark to no page or a mark off any paper; LetteringError for a
    sign that the lettering lacks.
    """
    from reportlab.pdfgen.canvas import Canvas  # imported late: it costs a fifth of a second

    _check(document)
    settings: dict[str, Any] = {
        "pageCompression": 1, "invariant": 1, "pdfVersion": (1, 7), "lang": clean(document.language),
        "initialFontName": _registered(),        # one of ours, so that the file does not name an unembedded one
    }
    canvas = Canvas(out, **settings)
    _describe(canvas, document)
    for number, page in enumerate(document.pages):
        width, height = (paper([page.width, page.height]) * POINTS).round(4).tolist()
        canvas.setPageSize((width, height))
        canvas.bookmarkPage(f"page-{number}")
        canvas.addLiteral(_page_code(page, canvas))
        canvas.showPage()
    for title, number in document.outline:
        canvas.addOutlineEntry(clean(title), f"page-{number}", 0)
    canvas.save()


def _check(document: Document) -> None:
    count = len(document.pages)
    if count == 0:
        raise ValueError("a document needs at least one page")
    for title, number in document.outline:
        if not 0 <= number < count:
            raise ValueError(f"bookmark {title!r} leads to page {number}, and the pages are 0 to {count - 1}")


def _registered() -> str:
    """Make both faces known to the canvas and return the name of the first."""
    from reportlab.pdfbase import pdfmetrics

    for face in Face:
        pdfmetrics.registerFont(font_of(face))
    return str(font_of(Face.REGULAR).fontName)


def _describe(canvas: Canvas, document: Document) -> None:
    """Fill the file's information and what it asks of a viewer."""
    canvas.setTitle(clean(document.title))
    canvas.setAuthor(clean(document.author))
    canvas.setSubject(clean(document.subject))
    canvas.setKeywords(clean(document.keywords))
    canvas.setCreator("sheetgen")
    canvas.setViewerPreference("PrintScaling", "None")      # or the print dialogue shrinks the page to its margins
    canvas.setViewerPreference("DisplayDocTitle", "true")


def _page_code(page: Page, canvas: Any) -> str:
    """Return the drawing operators of ``page``; what the pen is set to is repeated only when it changes."""
    code: list[str] = []
    pen, shade = "", 0.0
    for mark in page.marks:
        if isinstance(mark, Stroke):
            wanted = _pen_code(mark)
            if wanted != pen:
                code.append(pen := wanted)
            code.append(_stroke_code(mark))
            continue
        tone = mark.shade if isinstance(mark, Fill) else 0.0
        if tone != shade:
            code.append(f"{number_text([round(tone, 3) + 0.0])} g")
            shade = tone
        code.append(_fill_code(mark) if isinstance(mark, Fill) else _text_code(mark, canvas))
    return "\n".join(code)


def _points_text(values: npt.ArrayLike) -> str:
    """Return millimetres (any shape) as text in points."""
    return number_text(_points(values).ravel().tolist())


def _points(values: npt.ArrayLike) -> npt.NDArray[np.float64]:
    return np.round(paper(values) * POINTS, 4)


def _pen_code(stroke: Stroke) -> str:
    nib = NIBS[stroke.pen]
    width, phase, *dash = _points([nib.width, stroke.phase, *stroke.dash]).tolist()
    return f"{number_text([width])} w {nib.cap:d} J {nib.join:d} j [{number_text(dash)}] {number_text([phase])} d"


def _stroke_code(stroke: Stroke) -> str:
    """Return one stroke as one path."""
    points = _points(stroke.points)
    if not stroke.curved and stroke.closed and np.array_equal(points[0], points[-1]):
        points = points[:-1]                              # the path is closed by its own operator
    rows = [number_text(row) for row in points.tolist()]
    if stroke.curved:
        body = [f"{rows[i]} {rows[i + 1]} {rows[i + 2]} c" for i in range(1, len(rows), 3)]
    else:
        body = [f"{row} l" for row in rows[1:]]
    return f"{rows[0]} m {' '.join(body)} {'s' if stroke.closed else 'S'}"


def _fill_code(fill: Fill) -> str:
    rows = [number_text(row) for row in _points(fill.points).tolist()]
    return f"{rows[0]} m {' '.join(f'{row} l' for row in rows[1:])} f"


def _text_code(mark: Text, canvas: Any) -> str:
    """Return one line of lettering; its matrix carries direction and shear, the font size the height."""
    text = checked(mark.text, mark.face)
    if not text.strip():
        return ""
    font, start = font_of(mark.face), _points_text(text_start(mark))
    vectors = " ".join(f"{round(v, 6) + 0.0:.6f}" for v in (*mark.along, *mark.up))
    size = _points_text([size_of(mark.height, mark.face)])
    shown = [f"{font.getSubsetInternalName(subset, canvas._doc)} {size} Tf <{codes.hex()}> Tj"
             for subset, codes in font.splitString(text, canvas._doc)]   # _doc: whose subset the letters join
    return f"BT {vectors} {start} Tm {' '.join(shown)} ET"


