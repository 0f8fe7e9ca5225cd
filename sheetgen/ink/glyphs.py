"""Outlines of letters, for screens that have not our fonts: of each sign how wide it is, and its contours.

The fonts are TrueType: contours of points, of which some are on the line and some the controls of quadratic curves; between two
controls lies a point that is not told (OpenType specification, "glyf", from memory).
"""

from __future__ import annotations

import struct
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from sheetgen.ink.lettering import font_of
from sheetgen.ink.marks import Face, Mark, Text
from sheetgen.ink.signs import folded, signs_of

Contour = tuple[tuple[int, int, bool], ...]
"""x, y in the font's units, y up, and whether the point is on the line."""

DEEPEST = 4
"""Letters made of letters: an accented one is made of two."""


@dataclass(frozen=True, slots=True)
class Glyph:
    """``wide``: how far the next letter stands, in thousandths of an em; ``contours``: closed."""

    wide: int
    contours: tuple[Contour, ...]


@lru_cache(maxsize=2048)
def glyph_of(sign: str, face: Face) -> Glyph:
    """The outline of one sign. Raises: KeyError for one that the face lacks."""
    font: Any = font_of(face).face
    return Glyph(round(font.charWidths[ord(sign)]), tuple(_contours(font, font.charToGlyph[ord(sign)], 0)))


def units_of(face: Face) -> int:
    """The font's units in an em."""
    return int(font_of(face).face.unitsPerEm)


def capitals_of(face: Face) -> float:
    """How high capitals are, in thousandths of an em: lettering is sized by them."""
    return float(font_of(face).face.capHeight)


def letters_of(marks: Iterable[Mark]) -> dict[Face, str]:
    """The signs that ``marks`` are lettered with, of each face, each once, in order."""
    found: dict[Face, set[str]] = {}
    for mark in marks:
        if isinstance(mark, Text):
            found.setdefault(mark.face, set()).update(mark.text)
    return {face: "".join(sorted(found[face])) for face in Face if face in found}


def packed_glyph(sign: str, face: Face) -> str:
    """A sign as text (``signs.py``): its width, and of each contour how many points, then of each point how far from the one
    before, with whether it is on the line in the last bit of x."""
    glyph = glyph_of(sign, face)
    numbers = [glyph.wide]
    last_x = last_y = 0
    for contour in glyph.contours:
        numbers.append(len(contour))
        for x, y, on in contour:
            numbers += [2 * folded(x - last_x) + on, folded(y - last_y)]
            last_x, last_y = x, y
    return signs_of(numbers)


def _contours(font: Any, glyph: int, deep: int) -> Iterator[Contour]:
    (long,) = struct.unpack_from(">H", font.get_table("head"), 50)
    begin, end = struct.unpack_from(">2I" if long else ">2H", font.get_table("loca"), glyph * (4 if long else 2))
    if begin == end or deep > DEEPEST:
        return
    table = font.get_table("glyf")
    start = begin * (1 if long else 2)
    (count,) = struct.unpack_from(">h", table, start)
    if count >= 0:
        yield from _simple(table, start + 10, count)
    else:
        for part, (xx, yx, xy, yy, dx, dy) in _parts(table, start + 10):
            for contour in _contours(font, part, deep + 1):
                yield tuple((round(xx * x + xy * y + dx), round(yx * x + yy * y + dy), on) for x, y, on in contour)


def _simple(table: bytes, at: int, count: int) -> Iterator[Contour]:
    """The contours of a letter that is not made of others."""
    ends = struct.unpack_from(f">{count}H", table, at)
    at += 2 * count
    at += 2 + struct.unpack_from(">H", table, at)[0]             # over the instructions
    flags: list[int] = []
    while len(flags) <= ends[-1]:
        flag, at = table[at], at + 1
        again = 1
        if flag & 8:
            again, at = 1 + table[at], at + 1
        flags += [flag] * again
    xs, at = _coordinates(table, at, flags, 2, 16)
    ys, at = _coordinates(table, at, flags, 4, 32)
    points = [(x, y, bool(flag & 1)) for x, y, flag in zip(xs, ys, flags, strict=True)]
    first = 0
    for end in ends:
        yield tuple(points[first:end + 1])
        first = end + 1


def _coordinates(table: bytes, at: int, flags: list[int], short: int, same: int) -> tuple[list[int], int]:
    """One coordinate of all points. ``short``: the flag of one byte; ``same``: of its sign, or else that it stays."""
    found: list[int] = []
    value = 0
    for flag in flags:
        if flag & short:
            value += table[at] if flag & same else -table[at]
            at += 1
        elif not flag & same:
            value += struct.unpack_from(">h", table, at)[0]
            at += 2
        found.append(value)
    return found, at


def _parts(table: bytes, at: int) -> Iterator[tuple[int, tuple[float, float, float, float, float, float]]]:
    """The letters that one is made of, each with how it is turned and moved."""
    more = True
    while more:
        flags, part = struct.unpack_from(">2H", table, at)
        at += 4
        wide, more = flags & 1, bool(flags & 32)
        dx, dy = struct.unpack_from(">2h" if wide else ">2b", table, at)
        at += 4 if wide else 2
        xx = yy = 1.0
        yx = xy = 0.0
        if flags & 8:
            xx = yy = struct.unpack_from(">h", table, at)[0] / 16384
            at += 2
        elif flags & 64:
            xx, yy = (value / 16384 for value in struct.unpack_from(">2h", table, at))
            at += 4
        elif flags & 128:
            xx, yx, xy, yy = (value / 16384 for value in struct.unpack_from(">4h", table, at))
            at += 8
        yield part, (xx, yx, xy, yy, dx, dy)
