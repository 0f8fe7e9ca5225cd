"""Parts whose inclined and round faces run along one axis, with more levels than their own along it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from sheetgen.certainty.clauses import Clauses
from sheetgen.certainty.encoding import Shown, cells_agree, view_is_given
from sheetgen.certainty.finer import divided
from sheetgen.certainty.grid import AXES
from sheetgen.certainty.prisms import Prism
from sheetgen.certainty.sights import looks_along, states_of
from sheetgen.certainty.strokes import Pieces
from sheetgen.certainty.uprights import along_axis, prism_makes_a_part, row_by_row, shown_in, states_in, strips_of
from sheetgen.geometry import IntArray, Mask


@dataclass(frozen=True, eq=False)
class FinerPrism:
    """A part whose inclined and round faces run along one axis, with ``more`` new levels in each gap along that axis, or one
    ``beyond`` each outermost level. The view along the axis is given whole."""

    prism: Prism
    more: int
    beyond: bool

    @property
    def part(self) -> Mask:
        """Which cells it fills."""
        return self.prism.filled[1:].ravel()

    @property
    def pairs(self) -> IntArray:
        """Pairs of cells that share a side."""
        return self.prism.neighbours

    def clauses(self, views: Sequence[str], symmetry: Sequence[str]) -> Clauses:
        """What makes a part of cells, and what the view along the axis says."""
        clauses = Clauses(self.part.size)
        prism_makes_a_part(clauses, self.prism)
        cells_agree(clauses, self.prism.mirrored(symmetry))
        for view in views:
            if looks_along(view)[0] == self.prism.axis:
                pairs = along_axis(self.prism, view)
                view_is_given(clauses, pairs, states_of(pairs, self.part))
        return clauses

    def pieces(self, view: str) -> Pieces:
        """Of a view across, level by level over the strips of the plan, then upright ones at the ends of strips, slab by slab."""
        axis, levels, places = self.prism.axis, self.prism.levels, np.array(strips_of(self.prism, view).places)
        other = 3 - axis - looks_along(view)[0]
        level, strip = (part.ravel() for part in np.mgrid[:len(levels), :len(places) - 1])
        place, slab = (part.ravel() for part in np.mgrid[:len(places), :len(levels) - 1])
        ends = np.zeros((len(level) + len(place), 2, 3))
        ends[:, :, axis] = np.concatenate([levels[level[:, None] + [0, 0]], levels[slab[:, None] + [0, 1]]])
        ends[:, :, other] = np.concatenate([places[strip[:, None] + [0, 1]], places[place[:, None] + [0, 0]]])
        along = np.repeat([axis, other], [len(level), len(place)])
        return Pieces(view, np.concatenate([level, len(levels) + place]), along, np.concatenate([level, place]), ends)

    def states(self, view: str, filled: Mask) -> IntArray:
        """What a view across shows."""
        other = self.prism.filled_as(filled)
        return row_by_row(other, states_in(other, view))

    def shown(self, clauses: Clauses, view: str) -> Shown:
        """The same told by variables."""
        shown = shown_in(clauses, self.prism, view)
        return Shown(row_by_row(self.prism, [some.same for some in shown]),
                     row_by_row(self.prism, [some.level for some in shown]))

    def place(self, axis: int, level: int) -> tuple[int, int]:
        """The own level next below a level, and how many new ones from there on."""
        return divmod(level - self.beyond, self.more + 1) if axis == self.prism.axis else (level, 0)

    def drawn(self, filled: Mask, views: Sequence[str]) -> object:
        """The levels of a part's faces, and what views show between these."""
        other = self.prism.filled_as(filled)
        kept = tuple(self.place(other.axis, level) for level in other.used_levels.tolist())
        tidied = other.tidied()
        return kept, tuple(np.concatenate(states_in(tidied, view)).tobytes() for view in views)

    def tidied(self, filled: Mask) -> Prism:
        """Another part."""
        return self.prism.filled_as(filled).tidied()


def finer_prisms(prism: Prism, most: int, symmetry: Sequence[str], *, beyond: bool) -> Iterator[FinerPrism]:
    """The part with ``most`` new levels in each gap, and one that goes ``beyond`` it.

    Where it is told to be symmetric along its axis, new levels stand across from each other, and those in the upper half are not
    the first of their gaps if there is room for several. Of up to three, two in one gap are in the middle one, which has the room
    just for these; all others are found with room for one.
    """
    mirrored = AXES[prism.axis] in symmetry
    for more in range(1 if mirrored and most else most, most + 1):
        yield FinerPrism(_finer_prism(prism, more, beyond=False), more, beyond=False)
    if beyond:
        yield FinerPrism(_finer_prism(prism, 0, beyond=True), 0, beyond=True)


def _finer_prism(prism: Prism, more: int, *, beyond: bool) -> Prism:
    filled = np.pad(np.repeat(prism.filled, more + 1, axis=1), ((0, 0), (int(beyond), int(beyond))))
    return Prism(prism.axis, prism.plan, prism.across, divided(prism.levels, more, beyond=beyond), filled)
