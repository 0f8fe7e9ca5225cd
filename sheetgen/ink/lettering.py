"""Lettering: how wide a line of text is, what box it fills, how it is made to fit. Millimetres on paper.

A height is always the height of capitals (ISO 3098); the two faces are open fonts whose metrics are read once a process.
"""

from __future__ import annotations

import math
import struct
import unicodedata
from functools import cache, lru_cache
from pathlib import Path
from typing import TYPE_CHECKING, Any

import numpy as np

from sheetgen.geometry import Array
from sheetgen.ink.marks import Face, Text, Vector

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

    path = Path(__file__).parent / "fonts" / FONT_FILES[face]
    return TTFont(f"sheetgen-{face.value}", str(path), asciiReadable=False, shapable=False)


@lru_cache(maxsize=256)
def size_of(height: float, face: Face = Face.REGULAR) -> float:
    """Return the font size (em) in mm that makes capitals ``height`` mm high."""
    return height * 1000.0 / float(font_of(face).face.capHeight)


@lru_cache(maxsize=16384)
def _ems(text: str, face: Face) -> float:
    """Return the width of clean ``text`` in em."""
    metrics = font_of(face).face
    return float(sum(metrics.charWidths.get(ord(sign), metrics.defaultWidth) for sign in text)) / 1000.0


@lru_cache(maxsize=1024)
def _extent(sign: str, face: Face) -> tuple[float, float]:
    """Return the lowest and highest ink of ``sign`` over the baseline, in em, from the outline's own box."""
    font: Any = font_of(face).face
    glyph, (long,) = font.charToGlyph.get(ord(sign), 0), struct.unpack_from(">H", font.get_table("head"), 50)
    begin, end = struct.unpack_from(">2I" if long else ">2H", font.get_table("loca"), glyph * (4 if long else 2))
    if begin == end:        # a blank has no outline
        return 0.0, 0.0
    low, high = struct.unpack_from(">4xh2xh", font.get_table("glyf"), begin * (1 if long else 2))
    return low / font.unitsPerEm, high / font.unitsPerEm


@lru_cache(maxsize=4096)
def reach(text: str, face: Face = Face.REGULAR) -> tuple[float, float]:
    """Return how far ``text`` stands out below its baseline and above capital height, both in heights of the lettering.

    >>> [round(part, 2) for part in reach("LEVEL")], [round(part, 2) for part in reach("Éclairage")]
    ([0.0, 0.0], [0.28, 0.28])
    """
    extents = [_extent(sign, face) for sign in clean(text)]
    top = _extent("H", face)[1]
    return max([0.0, *(-low / top for low, _ in extents)]), max([0.0, *(high / top - 1 for _, high in extents)])


@lru_cache(maxsize=16384)
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


def text_box(mark: Text, pad: float = 0.0) -> Array:
    """Return the corners (4, 2) mm of the parallelogram that ``mark`` fills, from baseline to capital height.

    They run from the start of the baseline along it and round. ``pad`` mm, measured square to the sides, is added all
    round; what stands out below and above (tails, accents, brackets) is told by ``reach``.

    >>> text_box(Text("H", (10, 20), 3.5))[3].tolist()
    [10.0, 23.5]
    """
    (ax, ay), (ux, uy) = mark.along, mark.up
    extra = pad / abs(ax * uy - ay * ux) if pad else 0.0
    width, height = text_width(mark.text, mark.height, mark.face) + 2 * extra, mark.height + 2 * extra
    x, y = text_start(mark)
    x, y = x - extra * (ax + ux), y - extra * (ay + uy)
    run, rise = (width * ax, width * ay), (height * ux, height * uy)
    return np.array([(x, y), (x + run[0], y + run[1]), (x + run[0] + rise[0], y + run[1] + rise[1]), (x + rise[0], y + rise[1])])


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


def fitted(text: str, width: float, height: float, *, least: float = 1.8) -> tuple[str, float, Face]:
    """Return (text, height, face) that fit ``text`` into ``width`` mm: regular, else narrow, else the next lower height.

    ``height`` mm is tried first, then the heights of ISO 3098 below it, down to ``least``.

    Raises: LetteringError if it fits nowhere.

    >>> fitted("PLATE", 30.0, 5.0)[1:], fitted("BEARING BRACKET", 30.0, 3.5)[1:]
    ((5.0, <Face.REGULAR: 'regular'>), (2.5, <Face.NARROW: 'narrow'>))
    """
    text = clean(text)
    for tried in (height, *(h for h in HEIGHTS if least <= h < height)):
        for face in (Face.REGULAR, Face.NARROW):
            if text_width(text, tried, face) <= width:
                return text, tried, face
    needed = text_width(text, min(least, height), Face.NARROW)
    raise LetteringError(f"{_short(text)} does not fit into {width:.1f} mm: at the least height of {min(least, height):g} mm "
                         f"it is {needed:.1f} mm wide; shorten it", text, width)


def wrapped(text: str, width: float, height: float, face: Face = Face.REGULAR) -> list[str]:
    """Return ``text`` as lines no wider than ``width`` mm, broken at blanks, each as full as it goes.

    Raises: LetteringError if a single word is wider.

    >>> wrapped("All edges sharp unless stated", 30.0, 2.5)
    ['All edges sharp', 'unless stated']
    """
    lines: list[str] = []
    blank, filled = text_width(" ", height, face), math.inf
    for word in clean(text).split():
        long = text_width(word, height, face)
        if long > width:
            raise LetteringError(f"the word {_short(word)} is {long:.1f} mm wide at {height:g} mm height, and a line holds "
                                 f"{width:.1f} mm; shorten it or break it with a blank", word, width)
        if filled + blank + long <= width:
            lines[-1] += " " + word
            filled += blank + long
        else:
            lines.append(word)
            filled = long
    return lines


def _short(text: str) -> str:
    """Quote ``text`` for a message, cut where nobody would read on."""
    return repr(text if len(text) <= 60 else text[:57] + "...")
