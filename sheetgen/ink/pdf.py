"""Documents as PDF files. In: a Document in sheet millimetres; out: bytes, the same for the same document.

Everything is written in points under the identity matrix, so that a reader of the file finds line widths and dashes true
without multiplying. The date is that of SOURCE_DATE_EPOCH, if the environment has it. (The bytes of the compressed streams are
those of the zlib that Python was built with.)
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import cache, lru_cache
from io import BytesIO
from typing import TYPE_CHECKING, Any, BinaryIO

import numpy as np
import numpy.typing as npt

from sheetgen.geometry import Array
from sheetgen.ink.dated import check_date
from sheetgen.ink.lettering import checked, clean, font_of, size_of, text_start
from sheetgen.ink.marks import Colour, Document, Face, Fill, Page, Pen, Picture, Shape, Stroke, Text, Vector
from sheetgen.ink.numbers import number_text, paper, point_texts
from sheetgen.ink.pens import NIBS
from sheetgen.units import PAPER_DIGITS

if TYPE_CHECKING:
    from reportlab.pdfgen.canvas import Canvas

POINTS = 72 / 25.4
"""Points in a millimetre."""


def write_pdf(document: Document, out: BinaryIO) -> None:
    """Write ``document`` to ``out``: true size, fonts embedded, no scaling by the print dialogue, bookmarks.

    Raises: ValueError for a document without pages, a bookmark to no page or a mark off any paper; LetteringError for a
    sign that the lettering lacks; DateError for a date that is none.
    """
    from reportlab.pdfgen.canvas import Canvas  # imported late: it costs a fifth of a second

    _check(document)
    check_date()
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
        _paint(page, canvas)
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


@cache
def _registered() -> str:
    """Make both faces known to the canvas and return the name of the first; once a process.

    Streams are then written as plain bytes: spelt out in letters they are a quarter longer and take most of the time.
    """
    from reportlab import rl_config
    from reportlab.pdfbase import pdfmetrics

    rl_config.useA85 = 0

    for face in Face:
        pdfmetrics.registerFont(font_of(face))
    return str(font_of(Face.REGULAR).fontName)


def _describe(canvas: Canvas, document: Document) -> None:
    """Fill the file's information and what it asks of a viewer."""
    canvas.setTitle(clean(document.title))
    canvas.setAuthor(clean(document.author))
    canvas.setSubject(clean(document.subject))
    canvas.setKeywords(clean(document.keywords))
    canvas.setCreator(f"sheetgen, set {clean(document.set_mark)}" if document.set_mark else "sheetgen")   # viewers show it
    canvas.setViewerPreference("PrintScaling", "None")      # or the print dialogue shrinks the page to its margins
    canvas.setViewerPreference("DisplayDocTitle", "true")


def _paint(page: Page, canvas: Any) -> None:
    """Put the marks of ``page`` on the canvas, in their order."""
    for code in _page_code(page, canvas):
        if not isinstance(code, Picture):
            canvas.addLiteral(code)
            continue
        (left, low), (right, high) = _points(code.points).tolist()
        canvas.drawImage(_image(code.png), left, low, right - left, high - low, mask="auto")     # kept once in the file


@lru_cache(maxsize=4)
def _image(png: bytes) -> Any:
    """The dots of a picture, as the canvas takes them."""
    from PIL import Image
    from reportlab.lib.utils import ImageReader

    with Image.open(BytesIO(png), formats=["PNG"]) as image:
        return ImageReader(image.convert("RGBA" if image.has_transparency_data else "RGB"))


def _page_code(page: Page, canvas: Any) -> Iterator[str | Picture]:
    """Yield the drawing operators of ``page``, and its pictures where they come; what the pen is set to is repeated only when it
    changes."""
    code: list[str] = []
    pen, shade = "", 0.0
    paths, texts = _paths(page), _texts(page, canvas)
    for mark in page.marks:
        if isinstance(mark, Stroke):
            wanted = _pen_code(mark.pen, mark.dash, mark.phase)
            if wanted != pen:
                code.append(pen := wanted)
            code.append(_stroke_code(mark, next(paths)))
            continue
        if isinstance(mark, Shape):
            code.append(_shape_code(mark, next(paths)))
            continue
        if isinstance(mark, Picture):
            yield "\n".join(code)
            yield mark
            code.clear()
            continue
        tone = mark.shade if isinstance(mark, Fill) else 0.0
        if tone != shade:
            code.append(f"{number_text([round(tone, 3) + 0.0])} g")
            shade = tone
        code.append(_fill_code(next(paths)) if isinstance(mark, Fill) else next(texts))
    yield "\n".join(code)


def _paths(page: Page) -> Iterator[list[str]]:
    """Yield the points of every stroke, fill and shape in order as texts; all are rounded in one go, which is quick."""
    shapes = [np.asarray(mark.points, float) for mark in page.marks if not isinstance(mark, Text | Picture)]
    if not shapes:
        return
    rows = point_texts(_points(np.concatenate(shapes)))
    start = 0
    for shape in shapes:
        yield rows[start:start + len(shape)]
        start += len(shape)


def _points(values: npt.ArrayLike) -> Array:
    """Return millimetres in points, both rounded."""
    return np.round(paper(values) * POINTS, PAPER_DIGITS)


@lru_cache(maxsize=1024)
def _pen_code(pen: Pen, dash: tuple[float, ...], phase: float) -> str:
    nib = NIBS[pen]
    width, *shown, begin = number_text(_points([nib.width, *dash, phase]).tolist()).split(" ")
    return f"{width} w {nib.cap:d} J {nib.join:d} j [{' '.join(shown)}] {begin} d"


def _stroke_code(stroke: Stroke, rows: list[str]) -> str:
    """Return one stroke as one path."""
    if stroke.curved:
        body = [f"{rows[i]} {rows[i + 1]} {rows[i + 2]} c" for i in range(1, len(rows), 3)]
    else:
        if stroke.closed and rows[0] == rows[-1]:
            rows = rows[:-1]                              # the path is closed by its own operator
        body = [f"{row} l" for row in rows[1:]]
    return f"{rows[0]} m {' '.join(body)} {'s' if stroke.closed else 'S'}"


def _fill_code(rows: list[str]) -> str:
    return f"{rows[0]} m {' '.join(f'{row} l' for row in rows[1:])} f"


_ENDS, _CORNERS = ("butt", "round", "square"), ("miter", "round", "bevel")
"""In the order of their numbers in a PDF."""


def _shape_code(shape: Shape, rows: list[str]) -> str:
    """Return one shape as one path, in brackets of its own: what it sets ends with it."""
    body, start = [], 0
    for count, closed in shape.runs:
        run, start = rows[start:start + count], start + count
        body.append(f"{run[0]} m {' '.join(f'{run[i]} {run[i + 1]} {run[i + 2]} c' for i in range(1, count, 3))}")
        body.append("h" if closed else "")
    setting = [] if shape.fill is None else [f"{_tones(shape.fill)} rg"]
    if shape.line is not None:
        width = number_text(_points([shape.width]).tolist())
        cap, join = _ENDS.index(shape.ends), _CORNERS.index(shape.corners)
        setting.append(f"{_tones(shape.line)} RG {width} w {cap} J {join} j [] 0 d 4 M")
    filled = ("f*" if shape.even_odd else "f") if shape.line is None else ("B*" if shape.even_odd else "B")
    return " ".join(["q", *setting, *filter(None, body), "S" if shape.fill is None else filled, "Q"])


def _tones(colour: Colour) -> str:
    return number_text([round(part, 3) for part in colour])


def _texts(page: Page, canvas: Any) -> Iterator[str]:
    """Yield every line of lettering in order; its matrix carries direction and shear, the font size the height."""
    marks = [mark for mark in page.marks if isinstance(mark, Text)]
    if not marks:
        return
    words = [checked(mark.text, mark.face) for mark in marks]
    codes = _letters([(text, mark.face) for text, mark in zip(words, marks, strict=True) if text.strip()], canvas)
    places = point_texts(_points([[*text_start(mark), size_of(mark.height, mark.face)] for mark in marks]))

    @cache
    def name(face: Face, subset: int) -> str:
        return str(font_of(face).getSubsetInternalName(subset, canvas._doc))

    for mark, text, place in zip(marks, words, places, strict=True):
        if not text.strip():
            yield ""
            continue
        at, size = place.rsplit(" ", 1)
        shown = " ".join([f"{name(mark.face, subset)} {size} Tf <{signs.hex()}> Tj" for subset, signs in next(codes)])
        yield f"BT {_matrix_text(mark.along, mark.up)} {at} Tm {shown} ET"


def _letters(texts: Sequence[tuple[str, Face]], canvas: Any) -> Iterator[list[tuple[int, bytes]]]:
    """Yield the codes of the signs of every text, by subset of its font; a face's texts are looked up as one, which is quick."""
    document = canvas._doc                                # whose subset of the font the letters join
    found: dict[Face, list[tuple[int, bytes]]] = {}
    for face in Face:
        if every := "".join([text for text, its in texts if its is face]):
            found[face] = font_of(face).splitString(every, document)
    begin = dict.fromkeys(found, 0)
    for text, face in texts:
        if len(found[face]) > 1:                          # more signs than one subset holds
            yield font_of(face).splitString(text, document)
            continue
        [(subset, signs)], first = found[face], begin[face]
        begin[face] = first + len(text)
        yield [(subset, signs[first:first + len(text)])]


@lru_cache(maxsize=1024)
def _matrix_text(along: Vector, up: Vector) -> str:
    return " ".join(f"{round(v, 6) + 0.0:.6f}" for v in (*along, *up))
