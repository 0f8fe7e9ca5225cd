"""Which feature took a side away: the part is built feature by feature, until the side is gone."""

from __future__ import annotations

from sheetgen.bank import Variant
from sheetgen.measures import LostSideError, MeasureError, surface_named
from sheetgen.solid import Solid, SolidError, build


def taker(variant: Variant, side: str) -> str:
    """In words, which feature took ``side`` from the part, of which the finished part has nothing left."""
    own, there, before = side.partition(".")[0], False, ""
    for count, feature in enumerate(variant.features, 1):
        try:
            solid = build(variant.features[:count])
        except SolidError:
            continue                               # not yet one piece, or what comes next is needed to make it one
        if _has(solid, side):
            there = True
        elif there:
            return f"{_told(variant, feature.name)} took it away"
        elif feature.name == own:
            before = "it lies within what was there before, or in the open"
    return before or "other features took it away"


def _told(variant: Variant, name: str) -> str:
    line = next(spec.line for spec in variant.family.features if spec.name == name)
    return f"{name} in line {line}"


def _has(solid: Solid, side: str) -> bool:
    try:
        surface_named(solid, side)
    except (LostSideError, MeasureError):
        return False
    return True
