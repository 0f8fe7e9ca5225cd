"""Which feature took a side away: the part is built feature by feature, until the side is gone."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from sheetgen.bank import Variant
from sheetgen.measures import LostSideError, MeasureError, surface_named
from sheetgen.solid import Solid, SolidError, build


@dataclass(frozen=True, eq=False)
class Takers:
    """Of a variant; it is built feature by feature once, for however many sides are lost."""

    variant: Variant

    @cached_property
    def _stages(self) -> list[tuple[str, Solid]]:
        """The name of each feature, and the part as it is then; without those at which it is not yet one piece."""
        found, features = [], self.variant.features
        for count, feature in enumerate(features, 1):
            try:
                found.append((feature.name, build(features[:count])))
            except SolidError:
                continue                           # what comes next is needed to make it one
        return found

    def taker(self, side: str) -> str:
        """In words, which feature took ``side`` from the part, of which the finished part has nothing left."""
        own, there, before = side.partition(".")[0], False, ""
        for name, solid in self._stages:
            if _has(solid, side):
                there = True
            elif there:
                return f"{self._told(name)} took it away"
            elif name == own:
                before = "it lies within what was there before, or in the open"
        return before or "other features took it away"

    def _told(self, name: str) -> str:
        line = next(spec.line for spec in self.variant.family.features if spec.name == name)
        return f"{name} in line {line}"


def _has(solid: Solid, side: str) -> bool:
    try:
        surface_named(solid, side)
    except (LostSideError, MeasureError):
        return False
    return True
