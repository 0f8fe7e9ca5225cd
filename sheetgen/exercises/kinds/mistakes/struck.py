"""A line too many as the answer shows it: thin, where it was, and crossed out. Sheet millimetres."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from sheetgen.geometry import Array
from sheetgen.ink import Mark, Pen, Stroke

AT, ARM = (0.25, 0.75), 1.2
"""Where along the line crosses stand, as shares of it, which leaves its middle to the leader of its number; mm across and up from
the middle of a cross to the ends of its arms (common practice, no source)."""


def struck_out(line: Array) -> Iterator[Mark]:
    """A straight line (2, 2), thin, with crosses on it."""
    yield Stroke(line, Pen.DIMENSION)
    for share in AT:
        middle = line[0] + share * (line[1] - line[0])
        for arm in (np.array((ARM, ARM)), np.array((ARM, -ARM))):
            yield Stroke(np.array((middle - arm, middle + arm)), Pen.DIMENSION)
