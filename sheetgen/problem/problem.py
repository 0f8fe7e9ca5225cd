"""A problem: what all sheets of one variant have in common, whatever their look."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

from sheetgen.bank import Identity
from sheetgen.measures import Measure, prove
from sheetgen.problem.notes import Note
from sheetgen.refusals import RefusedError
from sheetgen.solid import Solid

if TYPE_CHECKING:                                    # loaded when something is to be seen: measures need neither
    from sheetgen.projection import View
    from sheetgen.sight import Pictorial, Sight, Sights

OTHER_CORNER = "left-front"
"""From which, beside the usual one, a pictorial shows the front."""


@dataclass(frozen=True, eq=False)
class Problem:
    """One part to be drawn. ``notes``: what its pictorial cannot show."""

    identity: Identity
    title: str
    topics: tuple[str, ...]
    solid: Solid
    measures: tuple[Measure, ...]
    symmetry: tuple[str, ...] = ()
    notes: tuple[Note, ...] = ()

    @cached_property
    def sights(self) -> Sights:
        """The part from all sides."""
        from sheetgen.sight import Sights

        return Sights(self.solid, self.symmetry)

    def view(self, name: str) -> View:
        """The view called ``name``, worked out once."""
        return self.sights[name].view

    @cached_property
    def _usual(self) -> Pictorial:
        """The isometric from the usual corner."""
        from sheetgen.sight import Pictorial

        return Pictorial(self.sights.isometric)

    @cached_property
    def _other(self) -> Pictorial:
        """The isometric from the other corner that shows the front: only there does the arrow of sight lie before the part."""
        from sheetgen.projection import view_of
        from sheetgen.sight import Pictorial, Sight

        return Pictorial(Sight(view_of(self.solid, "isometric", OTHER_CORNER)))

    def pictorials(self) -> Iterator[Sight]:
        """The isometric views from which the part can be read, best first, the usual corner if they are alike; the front view's
        arrow shows in all. The second is worked out only if somebody asks for it, or the first is not beyond doubt.

        Raises: RefusedError if there is none.
        """
        if not self._usual.faults and not self._usual.meetings:
            yield self._usual.sight
            if not self._other.faults:
                yield self._other.sight
            return
        readable = [pictorial for pictorial in (self._usual, self._other) if not pictorial.faults]
        if not readable:
            raise RefusedError([self._usual.faults[0], self._other.faults[0]])
        yield from (pictorial.sight for pictorial in sorted(readable, key=lambda pictorial: pictorial.meetings))

    @property
    def pictorial(self) -> Sight:
        """The best of them. Raises: RefusedError if there is none."""
        return next(self.pictorials())

    def check(self) -> None:
        """Raise RefusedError unless the measures prove complete, not doubled and true."""
        faults = prove(self.solid, self.measures, self.symmetry).faults()
        if faults:
            raise RefusedError(faults)

