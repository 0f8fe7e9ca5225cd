"""Parts with faces square to the axes on grids with more levels than their own, along any axes."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from sheetgen.certainty.clauses import Clauses
from sheetgen.certainty.encoding import Shown, cells_agree, cells_make_a_part, columns_are_shown, neighbours
from sheetgen.certainty.finer import divided
from sheetgen.certainty.grid import Grid, used_levels
from sheetgen.certainty.sights import looks_along, sight_of, states_of
from sheetgen.certainty.strokes import Pieces
from sheetgen.geometry import IntArray, Mask


@dataclass(frozen=True, eq=False)
class FinerGrid:
    """A part with faces square to the axes, with ``more`` new levels in each gap along x, y and z, or with one ``beyond`` each
    outermost level."""

    grid: Grid
    more: tuple[int, int, int]
    beyond: bool

    @property
    def part(self) -> Mask:
        """Which cells it fills."""
        return self.grid.filled.ravel()

    @property
    def pairs(self) -> IntArray:
        """Pairs of cells that share a side."""
        return neighbours(self.grid.filled.shape)

    def clauses(self, views: Sequence[str], symmetry: Sequence[str]) -> Clauses:
        """What makes a part of cells."""
        clauses = Clauses(self.grid.filled.size)
        cells_make_a_part(clauses, self.grid.filled.shape)
        cells_agree(clauses, self.grid.mirrored(symmetry))
        return clauses

    def pieces(self, view: str) -> Pieces:
        """Between two columns of cells."""
        sight = sight_of(view, self.grid.filled.shape)
        sighted, levels = looks_along(view)[0], self.grid.levels
        ends = np.zeros((len(sight.line), 2, 3))
        for axis in (axis for axis in range(3) if axis != sighted):
            mine, along = sight.axis == axis, 3 - axis - sighted
            level, begin = sight.at[mine].T
            ends[mine, :, axis] = levels[axis][level][:, None]
            ends[mine, :, along] = levels[along][begin[:, None] + [0, 1]]
        return Pieces(view, sight.line, sight.axis, sight.at[:, 0], ends)

    def states(self, view: str, filled: Mask) -> IntArray:
        """What a view shows."""
        return states_of(sight_of(view, self.grid.filled.shape), filled)

    def shown(self, clauses: Clauses, view: str) -> Shown:
        """The same told by variables."""
        return columns_are_shown(clauses, sight_of(view, self.grid.filled.shape))

    def place(self, axis: int, level: int) -> tuple[int, int]:
        """The own level next below a level, and how many new ones from there on."""
        return divmod(level - self.beyond, self.more[axis] + 1)

    def drawn(self, filled: Mask, views: Sequence[str]) -> object:
        """The levels of a part's faces, and what views show between these."""
        cells = filled.reshape(self.grid.filled.shape)
        used = [used_levels(cells, axis) for axis in range(3)]
        kept = tuple(tuple(self.place(axis, level) for level in used[axis].tolist()) for axis in range(3))
        tidied = cells[np.ix_(*(levels[:-1] for levels in used))]
        return kept, tuple(states_of(sight_of(view, tidied.shape), tidied.ravel()).tobytes() for view in views)

    def tidied(self, filled: Mask) -> Grid:
        """Another part."""
        return Grid(self.grid.levels, filled.reshape(self.grid.filled.shape)).tidied()


def finer_grids(grid: Grid, most: int, *, beyond: bool) -> Iterator[FinerGrid]:
    """All ways in which ``most`` new levels may be shared out over the axes; and one grid that goes ``beyond`` the part."""
    for x in range(most, -1, -1):
        for y in range(most - x, -1, -1):
            yield _finer_grid(grid, (x, y, most - x - y), beyond=False)
    if beyond:
        yield _finer_grid(grid, (0, 0, 0), beyond=True)


def _finer_grid(grid: Grid, more: tuple[int, int, int], *, beyond: bool) -> FinerGrid:
    levels, filled = [divided(own, count, beyond=beyond) for own, count in zip(grid.levels, more, strict=True)], grid.filled
    for axis, count in enumerate(more):
        filled = np.repeat(filled, count + 1, axis=axis)
    return FinerGrid(Grid((levels[0], levels[1], levels[2]), np.pad(filled, int(beyond))), more, beyond)
