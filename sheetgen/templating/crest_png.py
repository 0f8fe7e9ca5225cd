"""A crest from a PNG file: its dots alone. What else a file may carry (texts, profiles, dates, places) is left out.

Chunks and their checks are those of the PNG specification (W3C, third edition, from memory).
"""

from __future__ import annotations

import struct
import zlib
from collections.abc import Iterator
from io import BytesIO

import numpy as np
from PIL import Image

from sheetgen.faults import Fault
from sheetgen.ink import Picture
from sheetgen.templating.crest import Crest
from sheetgen.templating.faults import TemplateError

MOST_DOTS = 1_000_000
"""A million: a crest 30 mm wide has 700 x 700 at the 600 to the inch that school printers print."""

SIGNATURE = b"\x89PNG\r\n\x1a\n"

DRAWN = (b"IHDR", b"PLTE", b"tRNS", b"IDAT", b"IEND")
"""Chunks that the dots are made of."""


def picture_of(raw: bytes, file: str) -> Crest:
    """The crest whose PNG file is ``raw``. Raises: TemplateError."""
    def fault(found: str, wanted: str) -> TemplateError:
        return TemplateError([Fault(file, 0, "", found, wanted)])

    broken = fault("a PNG file that is damaged, or none", "a whole PNG file, saved anew")
    chunks = dict.fromkeys(DRAWN, b"")
    bare = [SIGNATURE]
    for name, data, whole in _chunks(raw):
        if name == b"IHDR" and chunks[name]:
            raise broken                               # a second size
        if name in DRAWN:
            chunks[name] = chunks[name] or data
            bare.append(whole)
        elif name[:1].isupper():                       # one without which the dots cannot be understood
            raise broken
    if len(chunks[b"IHDR"]) != 13 or bare[1][4:8] != b"IHDR" or bare[-1][4:8] != b"IEND":
        raise broken
    width, height, depth = struct.unpack(">IIB", chunks[b"IHDR"][:9])
    if not 0 < width * height <= MOST_DOTS:
        raise fault(f"{width} x {height} dots", f"at most {MOST_DOTS:,} in all, such as 1000 x 1000".replace(",", " "))
    if depth > 8:
        raise fault("colours of 16 bits", "a PNG of 8 bits for each colour")
    png = b"".join(bare)
    try:
        with Image.open(BytesIO(png), formats=["PNG"]) as image:
            image.load()
    except (OSError, ValueError, SyntaxError, zlib.error, struct.error):       # all the ways in which the reader gives up
        raise broken from None
    return Crest(float(width), float(height), (Picture(np.array([(0.0, 0.0), (width, height)]), png),))


def _chunks(raw: bytes) -> Iterator[tuple[bytes, bytes, bytes]]:
    """The name, the data and the whole of each chunk that is sound; it ends at the first that is not."""
    at = len(SIGNATURE) if raw.startswith(SIGNATURE) else len(raw)
    while at + 12 <= len(raw):
        (length,) = struct.unpack(">I", raw[at:at + 4])
        end = at + 12 + length
        checked, told = raw[at + 4:end - 4], raw[end - 4:end]
        if end > len(raw) or struct.pack(">I", zlib.crc32(checked)) != told:
            return
        yield checked[:4], checked[4:], raw[at:end]
        if checked[:4] == b"IEND":
            return
        at = end
