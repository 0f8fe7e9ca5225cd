"""What a practice code holds, and in which order it is packed into one number. Printed codes last for years: fields and their
counts stay as they are."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from hashlib import sha256

from sheetgen.codes.faults import wrong_code
from sheetgen.codes.signs import is_sealed, number_read, plain_signs, written
from sheetgen.faults import shown

COUNTS: dict[str, int] = {
    "family": 2 ** 14, "sizes": 2 ** 15, "seed": 2 ** 24, "draw": 20, "kind": 27, "projection": 2, "side": 3, "paper": 4,
    "figures": 2, "arrows": 2, "measures": 64, "later": 8,
}
"""The fields, the weightiest first, and how many values each has: 77.66 of 77.73 bits."""

MOST_CODED_SEED = COUNTS["seed"] - 1
"""Practice sets draw their seeds below it; who names a larger one gets a code in words."""

OTHER_SET = COUNTS["measures"] - 1
"""Stands for a set of measures with a number of its own too large: the sizes' digits tell whether it is found again."""

SETS = OTHER_SET
"""Sets of measures with a number."""


PAPERS = COUNTS["later"] - 1
"""What codes of papers have there (``sealed.py``); of such a code, no other field means anything."""


@dataclass(frozen=True, slots=True)
class Code:
    """A code's fields, each a number from 0. ``family``, ``sizes``: digits of digests, by which the family is found and its sizes
    and printed measures are held against those of the question; ``draw`` of ``seed``; ``kind``: of exercise; ``projection`` to
    ``arrows``: the look, as far as the drawing hangs on it; ``measures``: which set of equivalent ones; ``later``: which of the
    kind's own options.
    """

    family: int
    sizes: int
    seed: int
    draw: int
    kind: int
    projection: int
    side: int
    paper: int
    figures: int
    arrows: int
    measures: int
    later: int = 0

    def __post_init__(self) -> None:
        for name, count in COUNTS.items():
            if not 0 <= getattr(self, name) < count:
                raise ValueError(f"{name} {getattr(self, name)} is not from 0 to {count - 1}")

    def __str__(self) -> str:
        number = 0
        for name, count in COUNTS.items():
            number = number * count + getattr(self, name)
        return written(number)

    @classmethod
    def read(cls, text: str) -> Code:
        """The code in a typed text. Raises: CodeError for one that is mistyped, or of another program or time."""
        number, found = number_read(text), dict[str, int]()
        if number % COUNTS["later"] == PAPERS:
            raise wrong_code(f"{shown(text)}, a code of a paper", "--key and --record, from which it was printed")
        for name, count in reversed(COUNTS.items()):
            number, found[name] = divmod(number, count)
        if number:
            raise wrong_code(f"{shown(text)}, which no sheet of this sheetgen carries", "a code that it has printed")
        return cls(**found)


def scanned(text: str) -> str:
    """What the figure beside a printed code holds: its signs without hyphens; other texts in capitals.

    >>> scanned("000000-000000-0010W2"), scanned("stepped-block-16777216")
    ('0000000000000010W2', 'STEPPED-BLOCK-16777216')
    """
    return plain_signs(text) if is_sealed(text) else text.upper()


def family_number(name: str) -> int:
    """By which a family is found: digits of its name's digest. (What its file holds is not in it: a file may get a better title,
    or another range, and all codes whose sizes are the same stay good.)"""
    return _digits([name], COUNTS["family"])


def sizes_number(sizes: Mapping[str, float | str], measures: Iterable[str]) -> int:
    """Digits of a digest of a variant's sizes and of the ``measures`` that are printed of it, each in words."""
    said = (f"{name}={value}" if isinstance(value, str) else f"{name}={value:.6f}" for name, value in sizes.items())
    return _digits([*said, "", *measures], COUNTS["sizes"])


def _digits(parts: Iterable[str], count: int) -> int:
    return int.from_bytes(sha256("\n".join(parts).encode()).digest()[:8], "big") % count
