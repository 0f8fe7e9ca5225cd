"""What the trade calls the features of a part. Part frame, millimetres."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np

from sheetgen.bank.features import (
    NORMAL_AXIS,
    Block,
    Cone,
    Corner,
    Cylinder,
    Dovetail,
    Feature,
    Hole,
    Lug,
    Obround,
    Profile,
    Rib,
    Slant,
    Vee,
)
from sheetgen.exercises.surfaces import limits
from sheetgen.problem.cuts import GROOVE, HOLLOW, REBATE, SLOT, TUNNEL, Cut
from sheetgen.solid import Plane, Solid
from sheetgen.units import SAME_POINT

THIN = 0.6
"""Of the lesser of its other two extents, up to which something is a plate (common practice, no source)."""

CHAMFER = 0.3
"""Of the part's extents, both ways, up to which an inclined cut is a chamfer (common practice, no source)."""

HOLES = ("hole", "plain_hole", "blind_hole", "counterbored", "countersunk")
"""Nouns of holes: several of one noun are told apart by their diameters."""

FACES = ("slope", "chamfer", "skew", "corner")
"""Nouns of faces that are cut on, and leave no hollow."""


def foot_or(noun: str, feature: Feature) -> str:
    """A plate or block that its family calls a foot is one to the trade too."""
    return "foot" if feature.name == "foot" and noun in ("plate", "block") else noun


def is_corner(feature: Feature) -> bool:
    """Whether a box is cut out of an upper corner, so that it opens to the top and to two sides, and has a wall to each."""
    if not isinstance(feature, Block) or not feature.cut:
        return False
    return all((low is None) != (high is None) for low, high in (feature.x, feature.y, feature.z)) and feature.z[1] is None


def noun_of(word: str, feature: Feature, cut: bool, known: Cut | None, solid: Solid, surfaces: Sequence[int]) -> str:
    """The noun of a feature whose ``word`` stands in the file of its family, as the wording's ``pieces`` call it; ``known``: what
    the general notes call it, if they do; ``surfaces``: what is left of it."""
    noun = known.noun if known else ""
    if isinstance(feature, Hole):
        return ("counterbored" if feature.counterbore else "countersunk" if feature.countersink else
                "blind_hole" if feature.depth is not None and _blind(feature, solid) else "hole")
    if not cut:
        return foot_or(_added(word, feature), feature)
    if isinstance(feature, Block):
        return noun or word or "recess"
    if isinstance(feature, Profile):
        if noun == GROOVE and _vee(solid, surfaces):
            return "vee"
        return noun if noun in (SLOT, GROOVE, TUNNEL, REBATE) else "sloping_cut" if _sloping(solid, surfaces) else "cut"
    if isinstance(feature, Slant):
        return _slant(feature, solid, surfaces)
    if isinstance(feature, Lug):
        return "round_slot" if noun == SLOT else HOLLOW
    names: Mapping[type, str] = {Obround: "round_slot", Vee: "vee", Dovetail: "dovetail", Corner: "corner", Cone: "cone_cut"}
    return HOLLOW if isinstance(feature, Cylinder) and noun == HOLLOW else names.get(type(feature), "bore")


def _added(word: str, feature: Feature) -> str:
    if isinstance(feature, Block | Cylinder):
        return word or "block"
    if isinstance(feature, Profile):
        points = np.array([feature.start, *(piece.end for piece in feature.pieces)])
        thick = (feature.along[1] or 0.0) - (feature.along[0] or 0.0)
        thin = 0.0 < thick < THIN * float((points.max(axis=0) - points.min(axis=0)).min())
        return ("plate" if feature.plane == "top" else "upright") if thin else _section(feature)
    if isinstance(feature, Lug):
        return "lug" if feature.toward == "up" else "round_end"
    return {Cone: "cone", Obround: "link", Rib: "rib", Dovetail: "tongue"}.get(type(feature), "block")


def _section(profile: Profile) -> str:
    """What a long piece is called by its outline: one that ends in a ridge, one that slopes as a whole, or any other."""
    corners = np.array([piece.end for piece in profile.pieces])
    runs = np.diff(corners, axis=0, append=corners[:1])
    slopes = (np.abs(runs) > SAME_POINT).sum(axis=1) == 2
    if profile.plane == "top" or any(piece.centre for piece in profile.pieces):
        return "shaped"
    tops = np.flatnonzero(corners[:, 1] > corners[:, 1].max() - SAME_POINT)
    if len(tops) == 1 and slopes[tops[0]] and slopes[tops[0] - 1]:
        return "roof"
    level = bool((np.abs(runs[:, 1]) < SAME_POINT).any())
    return "arm" if np.count_nonzero(slopes) == 2 and not level else "shaped"


def _blind(hole: Hole, solid: Solid) -> bool:
    """Whether a hole of some depth has a bottom: some end in what others have cut."""
    named = [f"{hole.name}.{side}" for side in ("floor", "point", "1.floor", "1.point")]
    return any(name in solid.sides for name in named)


def _vee(solid: Solid, surfaces: Sequence[int]) -> bool:
    """Whether a groove has two sloping sides and no floor."""
    planes = [surface for surface in (solid.surfaces[k] for k in surfaces) if isinstance(surface, Plane)]
    return len(planes) == 2 and all(plane.axis is None for plane in planes)


def _sloping(solid: Solid, surfaces: Sequence[int]) -> bool:
    """Whether one flat face of a cut slopes, and no more."""
    return sum(isinstance(surface, Plane) and surface.axis is None for surface in (solid.surfaces[k] for k in surfaces)) == 1


def _slant(slant: Slant, solid: Solid, surfaces: Sequence[int]) -> str:
    axis = "xyz".index(NORMAL_AXIS[slant.plane])
    low, high = limits(solid, surfaces)
    shares = np.delete((high - low) / solid.size, axis)
    if shares.max() <= CHAMFER or slant.name.endswith("chamfer"):       # a large one is one if its family calls it so
        return "chamfer"
    return "skew" if axis == 2 else "slope"
