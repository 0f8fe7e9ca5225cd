"""A dimension line by itself, on no view that the search knows: the ways to draw it. Sheet millimetres."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from sheetgen.geometry import Array
from sheetgen.placing.candidate import Candidate
from sheetgen.placing.offers.linear import DimensionLines, Lettering
from sheetgen.placing.weights import WEIGHTS


def ways_of(ends: Array, starts: Array, outward: Array, text: str, *, upright: bool) -> Iterator[Candidate]:
    """The ways to draw one dimension line: figures over it if they fit, else beyond one end or the other. ``ends`` (2, 2):
    its arrows' tips; ``starts`` (2, 2): where its extension lines start, ``outward`` (2,): the way these run; ``upright``:
    its figures do not lean."""
    first, none = np.zeros(1, dtype=np.int64), np.full(1, -1)
    line = DimensionLines(first, np.zeros(1), ends[None], starts[None], outward[None], none, none, first,
                          np.full((1, 2, 3), np.nan), np.zeros((1, 2)))
    offers = Lettering((text,), upright).offers(line, WEIGHTS)
    for k in np.argsort(offers.cost, kind="stable").tolist():
        yield offers.drawn(k)
