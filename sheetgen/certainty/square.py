"""Parts with faces square to the views: which answers fit given views.

The proof is complete among such parts in one piece that touch themselves nowhere. A face square to x parts cells that differ, so
the columns on its two sides differ, and every view that does not look along x has a line at its level; likewise for y and z.
Two given views that look along different axes therefore have lines at all levels of any part that fits them, so that its
levels are among those of the part that was drawn, and its cells are the cells of the same grid, filled otherwise.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache

import numpy as np

from sheetgen.certainty.assumptions import Assumption
from sheetgen.certainty.clauses import Clauses
from sheetgen.certainty.encoding import cells_agree, cells_make_a_part, columns_are_shown, neighbours, view_is_given
from sheetgen.certainty.grid import Grid
from sheetgen.certainty.record import Certainty
from sheetgen.certainty.search import Search, found_by
from sheetgen.certainty.sights import sight_of, states_of
from sheetgen.geometry import Mask

KEPT = 1_000
"""Proofs that are kept, of some kilobytes each: variants of one family often differ in their sizes alone."""


def certainty_of(
    grid: Grid, given: tuple[str, ...], asked: str | None, limit: int, symmetry: Sequence[str] = (), holes: Mask | None = None,
) -> Certainty:
    """Which answers fit the ``given`` views of a part in cells: views ``asked``, or solids if that is None; of parts that
    have its ``symmetry`` (x, y), if that is told. ``holes``: cells (nx, ny, nz) that are known to be empty; then others are
    counted and not told.

    Raises: RefusedError for too many cells.
    """
    grid.mirrored(symmetry)
    others, ended = _others(grid.filled.shape, grid.filled.tobytes(), given, asked, max(limit, 2), tuple(symmetry),
                            b"" if holes is None else holes.tobytes())
    shown = others[:limit - 1]
    if holes is not None:
        return Certainty(ended and not others, 1 + len(shown), Assumption.SQUARE_BORED, (), ended and not others)
    return Certainty(
        ended and not others, 1 + len(shown), Assumption.SQUARE, tuple(Grid(grid.levels, filled) for filled in shown),
        ended and len(shown) == len(others))


@lru_cache(maxsize=KEPT)
def _others(
    shape: tuple[int, int, int], cells: bytes, given: tuple[str, ...], asked: str | None, limit: int,
    symmetry: tuple[str, ...], holes: bytes,
) -> tuple[tuple[Mask, ...], bool]:
    """Of a pattern of cells, by whatever sizes: others that fit and have other answers, and whether these are all."""
    part = np.frombuffer(cells, dtype=bool)
    clauses = Clauses(part.size)
    cells_make_a_part(clauses, shape)
    numbers = np.arange(1, part.size + 1).reshape(shape)
    cells_agree(clauses, [np.flip(numbers, "xyz".index(axis)).ravel() for axis in symmetry])
    empty = np.flatnonzero(np.frombuffer(holes, dtype=bool)) + 1
    clauses.each(-empty)
    for view in given:
        sight = sight_of(view, shape)
        view_is_given(clauses, sight, states_of(sight, part))
    asked_sight = sight_of(asked, shape) if asked else None
    shown = columns_are_shown(clauses, asked_sight) if asked_sight else None

    def unlike(filled: Mask) -> list[int]:
        if shown is None or asked_sight is None:
            return list(map(int, np.where(filled, -1, 1) * np.arange(1, part.size + 1)))
        return shown.not_as(states_of(asked_sight, filled))

    with Search(clauses, neighbours(shape), part) as search:
        found, ended = found_by(search, unlike, limit)
    return tuple(other.reshape(shape) for other in found), ended


proofs_kept = _others.cache_info
forget_proofs = _others.cache_clear
