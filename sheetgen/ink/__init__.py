"""Marks on paper, the pens and the lettering that draw them, and the writers that save them."""

from sheetgen.geometry import Array
from sheetgen.ink.compact import packed, unpacked
from sheetgen.ink.curves import arc_curve, circle, flattened, stroke_length
from sheetgen.ink.dated import DateError, check_date
from sheetgen.ink.glyphs import letters_of, packed_glyph
from sheetgen.ink.lettering import (
    HEIGHTS,
    LetteringError,
    checked,
    clean,
    fitted,
    missing_glyphs,
    reach,
    text_box,
    text_width,
    wrapped,
)
from sheetgen.ink.locked import Password, PasswordError, password_in, password_of, writer_of
from sheetgen.ink.marks import (
    Colour,
    Document,
    Face,
    Fill,
    MadePages,
    Mark,
    Page,
    Pen,
    Picture,
    Shape,
    Stroke,
    Text,
    Vector,
    enlarged,
    moved,
)
from sheetgen.ink.pdf import write_pdf
from sheetgen.ink.pens import CHAINS, DASHED, EARLIER, NIBS, Nib, dashed, width_of
from sheetgen.ink.stored import page_of_text, page_text
from sheetgen.ink.svg import write_svg

__all__ = [
    "CHAINS",
    "DASHED",
    "EARLIER",
    "HEIGHTS",
    "NIBS",
    "Array",
    "Colour",
    "DateError",
    "Document",
    "Face",
    "Fill",
    "LetteringError",
    "MadePages",
    "Mark",
    "Nib",
    "Page",
    "Password",
    "PasswordError",
    "Pen",
    "Picture",
    "Shape",
    "Stroke",
    "Text",
    "Vector",
    "arc_curve",
    "check_date",
    "checked",
    "circle",
    "clean",
    "dashed",
    "enlarged",
    "fitted",
    "flattened",
    "letters_of",
    "missing_glyphs",
    "moved",
    "packed",
    "packed_glyph",
    "page_of_text",
    "page_text",
    "password_in",
    "password_of",
    "reach",
    "stroke_length",
    "text_box",
    "text_width",
    "unpacked",
    "width_of",
    "wrapped",
    "write_pdf",
    "write_svg",
    "writer_of",
]
