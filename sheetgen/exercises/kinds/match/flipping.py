"""A feature turned over within the part's box: what stands at its left then stands at its right, and so along each axis."""

from __future__ import annotations

from dataclasses import replace

from sheetgen.bank.features import NORMAL_AXIS, PLANE_AXES, Block, Cylinder, Feature, Hole, Obround, Point, Span
from sheetgen.geometry import Array

OPPOSITE = {"left": "right", "right": "left", "front": "back", "back": "front", "bottom": "top", "top": "bottom"}

MOUTHS = {"left": "right", "right": "right", "front": "front", "back": "front", "bottom": "top", "top": "top"}
"""The plane in which a hole is placed, by the side from which it is drilled."""


def flipped(feature: Feature, axis: int, size: Array) -> Feature | None:
    """A feature as a mirror in the middle of a box of ``size`` (3,) shows it, square to an axis 0, 1 or 2; None for one of a sort
    that is not turned over here."""
    letter, whole = "xyz"[axis], float(size[axis])
    if isinstance(feature, Block):
        span = {letter: _span(getattr(feature, letter), whole)}
        return replace(feature, **span)                                 # type: ignore[arg-type]
    if isinstance(feature, Hole):
        return _hole(feature, letter, whole)
    if isinstance(feature, Cylinder):
        if feature.axis == letter:
            return replace(feature, along=_span(feature.along, whole))
        plane = next(plane for plane, normal in NORMAL_AXIS.items() if normal == feature.axis)
        return replace(feature, at=tuple(_point(point, PLANE_AXES[plane].index(letter), whole) for point in feature.at))
    if isinstance(feature, Obround):
        if NORMAL_AXIS[feature.plane] == letter:
            return replace(feature, along=_span(feature.along, whole))
        along = PLANE_AXES[feature.plane].index(letter)
        one, other = (_point(point, along, whole) for point in feature.centres)
        return replace(feature, centres=(one, other))
    return None


def _hole(hole: Hole, letter: str, whole: float) -> Hole:
    plane = MOUTHS[hole.mouth]
    if NORMAL_AXIS[plane] == letter:
        level = None if hole.level is None else whole - hole.level
        return replace(hole, mouth=OPPOSITE[hole.mouth], level=level)           # type: ignore[arg-type]
    return replace(hole, at=tuple(_point(point, PLANE_AXES[plane].index(letter), whole) for point in hole.at))


def _span(span: Span, whole: float) -> Span:
    low, high = (None if end is None else whole - end for end in span)
    return high, low


def _point(point: Point, along: int, whole: float) -> Point:
    u, v = point
    return (whole - u, v) if along == 0 else (u, whole - v)
