"""Codes of papers: they hold nothing but digits of a keyed digest, so that they say nothing to who has not the key.

They have the signs and the check signs of practice codes. That they are of a paper is told by the field ``later``, which practice
codes have 0, so that a program without the key can say what it lacks.
"""

from __future__ import annotations

from math import prod

from sheetgen.codes.faults import wrong_code
from sheetgen.codes.record import COUNTS, PAPERS
from sheetgen.codes.signs import number_read, written
from sheetgen.faults import shown

_LATER = COUNTS["later"]
_NUMBERS = prod(COUNTS.values()) // _LATER
"""Codes of papers that there can be: 2 to the power of 74.7."""


def sealed_code(digest: bytes) -> str:
    """The code of a keyed digest of 16 bytes or more.

    >>> sealed_code(bytes(32)), sealed_code(bytes([255] * 32))
    ('000000-000000-0007G7', '5CNVKJ-12P8GY-F0T38E')
    """
    if len(digest) < 16:
        raise ValueError(f"a digest of {len(digest)} bytes is too short")
    return written(int.from_bytes(digest, "big") % _NUMBERS * _LATER + PAPERS)


def is_sealed_number(number: int) -> bool:
    """Whether a code's number is one of a paper's."""
    return number % _LATER == PAPERS


def sealed_read(text: str) -> str:
    """A typed code of a paper, as it is printed. Raises: CodeError for one that is mistyped, or that is none of a paper.

    >>> sealed_read("oooooo oooooo ooo7g7")
    '000000-000000-0007G7'
    """
    number = number_read(text)
    if not is_sealed_number(number):
        raise wrong_code(f"{shown(text)}, which is of no paper", "a code of a paper; a practice code needs no key")
    return written(number)
