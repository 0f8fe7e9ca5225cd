"""General notes of a question, which say what its pictorial cannot show."""

from __future__ import annotations

import numpy as np

from sheetgen.bank import Variant
from sheetgen.bank.features import Block, Feature, Hole, Obround
from sheetgen.measures import drill_points
from sheetgen.solid import Cylinder, Plane, Solid, is_hollow
from sheetgen.units import FACES_READER, SAME_COSINE


def notes_of(variant: Variant, solid: Solid) -> tuple[str, ...]:
    """The general notes that a question needs, because its pictorial cannot show the far end of what runs right through, or which
    way a hole in a slope goes, and the angle of its drill points."""
    through = any(isinstance(feature, Hole) and feature.depth is None for feature in variant.features)
    cut = any(_runs_through(feature, solid) for feature in variant.features)
    return ("through_holes",) * through + ("through_cuts",) * cut + ("slope_holes",) * _has_hole_in_slope(solid) + (
        "drill_points",) * bool(drill_points(solid))


def _runs_through(feature: Feature, solid: Solid) -> bool:
    """True for a slot, groove or other cut that runs along an axis from one end of the part to the other."""
    if isinstance(feature, Block):
        spans = (feature.x, feature.y, feature.z)
        return feature.cut and (None, None) in spans and any(None not in span for span in spans)
    span = getattr(feature, "along", (0.0, 0.0))
    if not getattr(feature, "cut", True) or None not in span:
        return False
    return span == (None, None) or (isinstance(feature, Obround) and not _has_floor(feature, solid))


def _has_floor(slot: Obround, solid: Solid) -> bool:
    """True if a face square to the slot's walls closes it: one that is of no other feature."""
    axis = ("right", "front", "top").index(slot.plane)
    mine = [surface for k, surface in enumerate(solid.surfaces) if set(solid.features[k]) == {slot.name}]
    return any(isinstance(surface, Plane) and abs(surface.normal[axis]) > 1 - SAME_COSINE for surface in mine)


def _has_hole_in_slope(solid: Solid) -> bool:
    """True if a hole along an axis of the part opens in a face that is not square to it."""
    for pair in solid.edges.curves:
        surfaces = [solid.surfaces[k] for k in pair]
        turned = [k for k, surface in zip(pair, surfaces, strict=True) if isinstance(surface, Cylinder)]
        planes = [surface for surface in surfaces if isinstance(surface, Plane)]
        if turned and planes:
            way = solid.surfaces[turned[0]].direction                   # type: ignore[union-attr]
            cosine = abs(float(planes[0].normal @ way))
            along_axis, askew = float(np.abs(way).max()) > 1 - SAME_COSINE, FACES_READER < cosine < 1 - FACES_READER
            if along_axis and askew and is_hollow(solid, turned[0]):
                return True
    return False
