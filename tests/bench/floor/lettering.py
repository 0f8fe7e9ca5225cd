"""Lettering: how wide a line of text is, what box it fills, how it is made to fit. Millimetres on paper.

A height is always the height of capitals (ISO 3098); the two faces are open fonts whose metrics are read once a process.
"""

from __future__ import annotations

import unicodedata
from functools import cache, lru_cache
from pathlib import Path
from typing import TYPE_CHECKING

from tests.bench.floor.marks import Face, Text, Vector

if TYPE_CHECKING:
    from reportlab.pdfbase.ttfonts import TTFont

HEIGHTS = (20.0, 14.0, 10.0, 7.0, 5.0, 3.5, 2.5, 1.8)
"""Heights of lettering in mm (ISO 3098-0:1997, from memory)."""

FONT_FILES = {Face.REGULAR: "barlow.ttf", Face.NARROW: "barlow-semi-condensed.ttf"}
"""The file of each face, in ``fonts``."""

ANCHORS = {"start": 0.0, "middle": 0.5, "end": 1.0}
"""Part of the text's width that stands before the point ``at``."""

ALIKE = str.maketrans({"⌀": "Ø", "∅": "Ø", "\u2011": "-"})
"""Signs that the faces lack, and the sign they have that a reader takes for the same."""

_UNPRINTABLE = frozenset({"Cc", "Cf", "Cs", "Co", "Cn"})


class LetteringError(ValueError):
    """A text that cannot be lettered as asked: ``text`` is what was found, ``width`` the room in mm (0: no question of room)."""

    def __init__(self, message: str, text: str, width: float = 0.0) -> None:
        super().__init__(message)
        self.text = text
        self.width = width


@lru_cache(maxsize=4096)
def clean(text: str) -> str:
    """Return ``text`` as it is lettered: composed (NFC), blanks for tabs and line ends, no control or zero-width signs.

    Signs that turn the direction of writing, which could hide or reorder what a reader sees, go too; the diameter sign ⌀
    becomes the letter Ø, which looks the same.

    >>> clean("a\\tb\\u200bc\\u202e"), clean("⌀20")
    ('a bc', 'Ø20')
    """
    if text.isascii() and text.isprintable():
        return text
    spaced = "".join(" " if sign.isspace() else sign for sign in text.translate(ALIKE))
    return unicodedata.normalize("NFC", "".join(sign for sign in spaced if unicodedata.category(sign) not in _UNPRINTABLE))


@cache
def font_of(face: Face) -> TTFont:
    """Return the font of ``face``, read once a process; documents subset it each for themselves."""
    from reportlab.pdfbase.ttfonts import TTFont  # imported late: it costs a tenth of a second

    path = Path(__file__).parents[3] / "sheetgen" / "ink" / "fonts" / FONT_FILES[face]
    return TTFont(f"floor-{face.value}", str(path), asciiReadable=False, shapable=False)


def size_of(height: float, face: Face = Face.REGULAR) -> float:
    """Return the font size (em) in mm that makes capitals ``height`` mm high."""
    return height * 1000.0 / float(font_of(face).face.capHeight)


@lru_cache(maxsize=16384)
def _ems(text: str, face: Face) -> float:
    """Return the width of clean ``text`` in em."""
    metrics = font_of(face).face
    return float(sum(metrics.charWidths.get(ord(sign), metrics.defaultWidth) for sign in text)) / 1000.0


def text_width(text: str, height: float, face: Face = Face.REGULAR) -> float:
    """Return the width in mm of ``text`` with capitals ``height`` mm high.

    >>> text_width("120", 7.0) == 2 * text_width("120", 3.5)
    True
    """
    return _ems(clean(text), face) * size_of(height, face)


def text_start(mark: Text) -> Vector:
    """Return the point (mm) where the baseline of ``mark`` begins, whatever its anchor."""
    if mark.anchor not in ANCHORS:
        raise LetteringError(f"no anchor {mark.anchor!r}: it is one of {', '.join(ANCHORS)}", mark.text)
    before = ANCHORS[mark.anchor] * text_width(mark.text, mark.height, mark.face)
    return mark.at[0] - before * mark.along[0], mark.at[1] - before * mark.along[1]


def missing_glyphs(text: str, face: Face = Face.REGULAR) -> str:
    """Return the signs of ``text`` that ``face`` cannot letter, each once, in order; empty if it can letter all.

    >>> missing_glyphs("Ø20 × 5°"), missing_glyphs("Ж20")
    ('', 'Ж')
    """
    known = font_of(face).face.charToGlyph
    return "".join(dict.fromkeys(sign for sign in clean(text) if ord(sign) not in known))


@lru_cache(maxsize=4096)
def checked(text: str, face: Face = Face.REGULAR) -> str:
    """Return ``clean(text)``. Raises: LetteringError if the face lacks a sign, for an empty box must not be printed."""
    if missing := missing_glyphs(text, face):
        names = ", ".join(f"{sign} (U+{ord(sign):04X} {unicodedata.name(sign, 'no name')})" for sign in missing[:5])
        raise LetteringError(f"the lettering has no {names} for {clean(text)[:60]!r}; write it in Latin letters", text)
    return clean(text)
