"""A problem: what all sheets of one variant have in common, whatever their look."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from sheetgen.bank import Identity
from sheetgen.measures import Measure, prove
from sheetgen.projection import ISOMETRIC_CORNER, View, view_of
from sheetgen.refusals import RefusedError
from sheetgen.sight import Sight, Sights, awkward_meetings, pictorial_faults
from sheetgen.solid import Solid

SIGHT_CORNERS = (ISOMETRIC_CORNER, "left-front")
"""Corners from which a pictorial shows the front: only there does the arrow of sight lie before the part."""


@dataclass(frozen=True, eq=False)
class Problem:
    """One part to be drawn. ``notes``: general notes that apply, keys of the wording's notes."""

    identity: Identity
    title: str
    topics: tuple[str, ...]
    solid: Solid
    measures: tuple[Measure, ...]
    symmetry: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()

    @cached_property
    def sights(self) -> Sights:
        """The part from all sides."""
        return Sights(self.solid, self.symmetry)

    def view(self, name: str) -> View:
        """The view called ``name``, worked out once."""
        return self.sights[name].view

    @cached_property
    def pictorials(self) -> tuple[Sight, ...]:
        """The isometric views from which the part can be read, best first, the usual corner if they are alike; the front view's
        arrow shows in all.

        Raises: RefusedError if there is none.
        """
        found, reasons = [], []
        for corner in SIGHT_CORNERS:
            sight = self.sights["isometric"] if corner == ISOMETRIC_CORNER else Sight(view_of(self.solid, "isometric", corner))
            faults = pictorial_faults(sight)
            if faults:
                reasons.append(faults[0])
            else:
                found.append(sight)
        if not found:
            raise RefusedError(reasons)
        return tuple(sorted(found, key=awkward_meetings))

    def check(self) -> None:
        """Raise RefusedError unless the measures prove complete, not doubled and true."""
        faults = prove(self.solid, self.measures, self.symmetry).faults()
        if faults:
            raise RefusedError(faults)

