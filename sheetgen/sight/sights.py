"""A part from all sides: each view worked out when it is first asked for."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from sheetgen.projection import view_of
from sheetgen.sight.anchors import Sight
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

    def __getitem__(self, name: str) -> Sight:
        """The view called ``name``. Raises: KeyError for an unknown name."""
        if name not in SIDES:
            raise KeyError(name)
        sight: Sight = getattr(self, name)
        return sight

    def _sight(self, name: str) -> Sight:
        return Sight(view_of(self.solid, name, symmetry=self.symmetry))


SIDES = ("front", "top", "left", "right", "rear", "bottom", "isometric")
