"""A part from all sides: each view worked out when it is first asked for."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cached_property

from sheetgen.projection import view_of
from sheetgen.refusals import RefusedError
from sheetgen.sight.anchors import Sight
from sheetgen.sight.readable import Pictorial
from sheetgen.solid import Solid


@dataclass(frozen=True, eq=False)
class Sights:
    """The six principal views of a solid and its usual isometric, by name; ``symmetry``: as of a view."""

    solid: Solid
    symmetry: tuple[str, ...] = ()

    @cached_property
    def front(self) -> Sight:
        """Seen along +y."""
        return self._sight("front")

    @cached_property
    def top(self) -> Sight:
        """Seen from above."""
        return self._sight("top")

    @cached_property
    def left(self) -> Sight:
        """Seen from the left."""
        return self._sight("left")

    @cached_property
    def right(self) -> Sight:
        """Seen from the right."""
        return self._sight("right")

    @cached_property
    def rear(self) -> Sight:
        """Seen from behind."""
        return self._sight("rear")

    @cached_property
    def bottom(self) -> Sight:
        """Seen from below."""
        return self._sight("bottom")

    @cached_property
    def isometric(self) -> Sight:
        """The isometric from the usual corner."""
        return self._sight("isometric")

    @cached_property
    def _usual(self) -> Pictorial:
        """The isometric from the usual corner."""
        return Pictorial(self.isometric)

    @cached_property
    def _other(self) -> Pictorial:
        """The isometric from the other corner that shows the front: only there does the arrow of sight lie before the part."""
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
            both = [replace(reason, what=f"{reason.what} from both sides; a slope with unequal legs would show")
                    for reason in self._usual.edge_on if reason in self._other.edge_on]
            raise RefusedError(both[:1] or [self._usual.faults[0], self._other.faults[0]])
        yield from (pictorial.sight for pictorial in sorted(readable, key=lambda pictorial: pictorial.meetings))

    def __getitem__(self, name: str) -> Sight:
        """The view called ``name``. Raises: KeyError for an unknown name."""
        if name not in SIDES:
            raise KeyError(name)
        sight: Sight = getattr(self, name)
        return sight

    def _sight(self, name: str) -> Sight:
        return Sight(view_of(self.solid, name, symmetry=self.symmetry))


OTHER_CORNER = "left-front"
"""From which, beside the usual one, a pictorial shows the front."""

SIDES = ("front", "top", "left", "right", "rear", "bottom", "isometric")
