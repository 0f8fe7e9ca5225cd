"""A part on a grid with more levels than its own: what else completes its views may have faces between these, or beyond them.

``missing.py`` tells how many new levels there can be. Between two levels of the part it does not matter where they lie, so they
divide each gap evenly.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Protocol

import numpy as np

from sheetgen.certainty.clauses import Clauses
from sheetgen.certainty.encoding import Shown
from sheetgen.certainty.grid import Grid
from sheetgen.certainty.prisms import Prism
from sheetgen.certainty.strokes import Pieces
from sheetgen.geometry import Array, IntArray, Mask


class Finer(Protocol):
    """What is asked of a part in cells, numbered from 1, to prove which parts complete its views."""

    @property
    def part(self) -> Mask:
        """Which cells (n,) it fills."""

    @property
    def pairs(self) -> IntArray:
        """Pairs of cells (m, 2) that share a side."""

    def clauses(self, views: Sequence[str], symmetry: Sequence[str]) -> Clauses:
        """What makes a part of cells, and what those of the ``views`` say that are given whole."""

    def pieces(self, view: str) -> Pieces:
        """The pieces of a view of which lines may be left out."""

    def states(self, view: str, filled: Mask) -> IntArray:
        """What that view shows at its pieces, State numbers (p,), if cells (n,) are filled."""

    def shown(self, clauses: Clauses, view: str) -> Shown:
        """The same told by variables."""

    def place(self, axis: int, level: int) -> tuple[int, int]:
        """Which of the part's own levels is next below a level, and how many new ones from there on."""

    def drawn(self, filled: Mask, views: Sequence[str]) -> object:
        """What is equal for parts whose views show equal lines, on grids of whatever new levels."""

    def tidied(self, filled: Mask) -> Grid | Prism:
        """Another part, of the cells (n,) that are ``filled``, without levels at which it has no face."""


def divided(own: Array, more: int, *, beyond: bool) -> Array:
    """Levels, with so many ``more`` in each gap, and one ``beyond`` each outermost."""
    share = np.arange(more + 1) / (more + 1)
    finer = np.append((own[:-1, None] + share * np.diff(own)[:, None]).ravel(), own[-1])
    step = (own[-1] - own[0]) / 10
    return np.concatenate([[own[0] - step], finer, [own[-1] + step]]) if beyond else finer
