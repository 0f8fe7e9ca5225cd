"""A school's crest: a small SVG or PNG file in, marks out. The file may be a stranger's.

Of an SVG only shapes are taken (``crest_svg.py``), of a PNG only its dots (``crest_png.py``); whatever else there is in it is
refused or left out, and nothing in it is run or looked up.
"""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from sheetgen.faults import Fault, visible_text
from sheetgen.filebytes import bytes_of
from sheetgen.ink import Picture, Shape
from sheetgen.templating.faults import TemplateError

SUFFIXES = (".svg", ".png")

MOST_KILOBYTES = 200
"""Of a crest's file: each sheet of a set carries the crest while the set is made, and a crest is about as large as a thumb."""

NO_CELL = "a title block with a cell that says symbol: crest"
"""What is wanted by who names a crest that can stand nowhere."""


@dataclass(frozen=True, eq=False)
class Crest:
    """A crest: ``marks`` in units of its own, y up, that fill the box from (0, 0) to (``width``, ``height``)."""

    width: float
    height: float
    marks: tuple[Shape | Picture, ...]


def load_crest(path: Path) -> Crest:
    """The crest in an SVG or a PNG file. Raises: TemplateError with what is wrong with it."""
    file = visible_text(path.as_posix(), quote=False)
    if path.suffix.lower() not in SUFFIXES:
        raise TemplateError([Fault(file, 0, "", f"a {path.suffix or 'nameless'} file", "a crest in an .svg or a .png file")])
    smaller = f"at most {MOST_KILOBYTES} kB: a simpler drawing, or a picture of fewer dots"
    raw = bytes_of(path, file, MOST_KILOBYTES, TemplateError, "a crest in an .svg or a .png file", smaller)
    if path.suffix.lower() == ".png":
        from sheetgen.templating.crest_png import picture_of

        return picture_of(raw, file)
    from sheetgen.templating.crest_svg import drawing_of

    return drawing_of(raw, file)
