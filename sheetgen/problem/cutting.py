"""Cutting planes of a part: those its family declares, or else some that are found, and the part cut along them.

Part frame, millimetres.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Literal

from sheetgen.bank import BankError, Variant
from sheetgen.bank.features import NORMAL_AXIS, Feature, Rib, SectionSpec
from sheetgen.faults import Fault
from sheetgen.solid import (
    Cylinder,
    Plane,
    Solid,
    Stretch,
    Trimmed,
    build,
    coaxial,
    is_hollow,
    trimmed,
    turns_right_round,
)
from sheetgen.units import EXACT, SAME_COSINE, SAME_POINT

Sort = Literal["full", "half", "offset"]
Sectioned = Literal["front", "top", "side"]

SQUARE_TO: dict[str, int] = {"front": 1, "top": 2, "side": 0}
"""The axis to which the cutting plane of a sectional view is square."""

ALONG: dict[str, int] = {"front": 0, "top": 0, "side": 1}
"""The axis along which its stretches follow each other."""


@dataclass(frozen=True, slots=True)
class CuttingPlane:
    """``view``: which is drawn in section, ``side`` for the side view of the course; ``levels``: of its stretches, from left to
    right or front to back, mm; ``turns``: where, along the axis on which they follow each other, it turns from each to the
    next; of a half section: where it ends."""

    sort: Sort
    view: Sectioned
    levels: tuple[float, ...]
    turns: tuple[float, ...] = ()

    @property
    def axis(self) -> int:
        """To which it is square (0, 1, 2)."""
        return SQUARE_TO[self.view]

    @property
    def along(self) -> int:
        """Along which its stretches follow each other."""
        return ALONG[self.view]

    def stretches(self, drawn: str) -> tuple[Stretch, ...]:
        """Its stretches in the view ``drawn`` (front, top, left, right). Half of a half section is cut, that at the reader's
        right."""
        if self.sort == "half":
            lower = drawn == "left"                            # whose right is at the front
            return (Stretch(self.levels[0], high=self.turns[0]) if lower else Stretch(self.levels[0], low=self.turns[0]),)
        bounds = (-math.inf, *self.turns, math.inf)
        return tuple(Stretch(level, low, high) for level, low, high in zip(self.levels, bounds, bounds[1:], strict=False))

    def cut(self, solid: Solid, drawn: str) -> Trimmed:
        """What it leaves of a solid in the view ``drawn``. Raises: SolidError."""
        return trimmed(solid, self.axis, self.along, SENSES[drawn], self.stretches(drawn))


SENSES: dict[str, int] = {"front": -1, "top": 1, "left": -1, "right": 1}
"""Towards which levels of the axis the reader of a view stands."""


def without_ribs(features: Sequence[Feature], plane: CuttingPlane) -> Solid | None:
    """The part without the ribs that a plane cuts along; None if it cuts along none. Raises: SolidError if there is none."""
    along = {feature.name for feature in features if isinstance(feature, Rib) and _runs_along(feature, plane)}
    if not along:
        return None
    return build([feature for feature in features if feature.name not in along])


def _runs_along(rib: Rib, plane: CuttingPlane) -> bool:
    low, high = rib.along
    return "xyz".index(NORMAL_AXIS[rib.plane]) == plane.axis and any(
        (low is None or low < level) and (high is None or level < high) for level in plane.levels)


def planes_of(variant: Variant, solid: Solid) -> tuple[CuttingPlane, ...]:
    """The cutting planes that a variant's family declares, or some that are found if it declares none.

    Raises: BankError for one that names no axis, an axis across it, turns out of order, or halves what is not symmetrical.
    """
    planes, faults = list[CuttingPlane](), list[Fault]()
    for spec in variant.sections:
        try:
            planes.append(_declared(spec, solid, variant.symmetry))
        except _Unfit as unfit:
            faults.append(Fault(variant.family.file, spec.line, f"sections[{spec.number}]", unfit.found, unfit.wanted))
    if faults:
        raise BankError(faults)
    return tuple(planes) or tuple(found_planes(solid))


class _Unfit(ValueError):  # noqa: N818  (a word of the trade, not shown to anyone)
    def __init__(self, found: str, wanted: str) -> None:
        super().__init__(found, wanted)
        self.found, self.wanted = found, wanted


def _declared(spec: SectionSpec, solid: Solid, symmetry: Sequence[str]) -> CuttingPlane:
    plane = CuttingPlane(spec.section, spec.view, (), spec.turns)
    size = solid.size.tolist()
    far = size[0] if spec.mirrored and plane.axis == 0 else None
    plane = replace(plane, levels=tuple(_level(place, plane, solid, far) for place in spec.through))
    if spec.mirrored and plane.along == 0:
        plane = replace(plane, levels=plane.levels[::-1], turns=tuple(size[0] - turn for turn in plane.turns[::-1]))
    for level in plane.levels:
        if not SAME_POINT < level < size[plane.axis] - SAME_POINT:
            raise _Unfit(f"a plane at {level:g}", f"one within the part, from 0 to {size[plane.axis]:g}")
    bounds = (0.0, *plane.turns, size[plane.along])
    if any(not one + SAME_POINT < other for one, other in pairwise(bounds)):
        raise _Unfit(f"turns at {', '.join(f'{turn:g}' for turn in plane.turns)}", "turns in order, within the part")
    if plane.sort != "half":
        return plane
    if "xyz"[plane.along] not in symmetry:
        raise _Unfit(f"half a {spec.view} view of a part that is not symmetrical",
                     f"`symmetry: [{'xyz'[plane.along]}]`, or another section")
    return replace(plane, turns=(size[plane.along] / 2,))


def _level(place: float | str, plane: CuttingPlane, solid: Solid, far: float | None) -> float:
    """Where along its axis a plane stands that goes through ``place``, a length from ``far``, if that is given."""
    if not isinstance(place, str):
        return place if far is None else far - place
    surface = solid.surfaces[solid.sides[place]] if place in solid.sides else None
    if surface is None or isinstance(surface, Plane):
        raise _Unfit(f"`{place}`, which is no axis of the part", "an axis such as `bore.axis`, or a formula")
    if abs(float(surface.direction[plane.axis])) > EXACT:
        raise _Unfit(f"`{place}`, which runs across the plane", f"an axis that lies in a plane of the {plane.view} view")
    return float(surface.point[plane.axis])


def found_planes(solid: Solid) -> Iterator[CuttingPlane]:
    """Planes for full sections of the front and the side view: each through as many axes of holes as can be, else through the
    middle."""
    for view in ("front", "side"):
        yield CuttingPlane("full", view, (_best_level(solid, SQUARE_TO[view]),))


def _best_level(solid: Solid, axis: int) -> float:
    middle = float(solid.size[axis]) / 2
    counts: dict[float, int] = {}
    for k, surface in enumerate(solid.surfaces):
        if isinstance(surface, Cylinder) and is_hollow(solid, k) and abs(float(surface.direction[axis])) < EXACT:
            level = round(float(surface.point[axis]), 6)
            counts[level] = counts.get(level, 0) + 1
    return min(counts, key=lambda level: (-counts[level], abs(level - middle), level), default=middle)


def holes_through(solid: Solid, plane: CuttingPlane, stretch: Stretch) -> tuple[float, ...]:
    """The diameters of the holes whose axes lie in a stretch of a plane, each once, the greatest first; of a counterbored hole
    that of the hole."""
    found = set[float]()
    rounds = [(k, surface) for k, surface in enumerate(solid.surfaces) if isinstance(surface, Cylinder) and is_hollow(solid, k)]
    for k, surface in rounds:
        within = min(other.radius for _, other in rounds if coaxial(surface, other))
        if surface.radius > within + SAME_POINT or not turns_right_round(solid, k):
            continue
        in_plane = abs(float(surface.point[plane.axis]) - stretch.level) < SAME_POINT
        in_plane &= abs(float(surface.direction[plane.axis])) < EXACT
        lengthwise = abs(float(surface.direction[plane.along])) > 1 - SAME_COSINE
        if in_plane and (lengthwise or stretch.low < float(surface.point[plane.along]) < stretch.high):
            found.add(2 * surface.radius)
    return tuple(sorted(found, reverse=True))
