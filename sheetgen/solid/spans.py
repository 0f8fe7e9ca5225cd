"""How far features reach, and the names of their sides: what all operands of features share. Part frame, millimetres."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from sheetgen.bank.features import Axis, Span
from sheetgen.geometry import Array
from sheetgen.solid.primitives import AXIS_INDEX, SIDE_NAMES, Primitive

BEYOND = 10.0
"""mm that an open cut reaches past the solid: any length will do that is no tolerance."""


@dataclass(frozen=True, eq=False)
class Operand:
    """A primitive to be added to the solid so far, or cut away from it."""

    cut: bool
    body: Primitive


def range_of(span: Span, axis: Axis, extent: Array) -> tuple[float, float]:
    """Return the low and high ends of an open or closed span. Raises: ValueError if nothing lies between them."""
    k = AXIS_INDEX[axis]
    low = extent[0, k] - BEYOND if span[0] is None else span[0]
    high = extent[1, k] + BEYOND if span[1] is None else span[1]
    if not high > low:
        raise ValueError(f"its {axis} range runs from {low:g} to {high:g}; the second number must be the larger")
    return float(low), float(high)


def named(feature: Any, *sides: str) -> tuple[str, ...]:
    """Return full names of sides of a feature."""
    return tuple(f"{feature.name}.{side}" for side in sides)


def end_names(feature: Any, axis: Axis) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Return the names of a feature's faces at the low and the high end of an axis."""
    low, high = SIDE_NAMES[axis]
    return named(feature, low), named(feature, high)


def far(extent: Array) -> float:
    """mm: longer than any line through the solid, for cuts that are open in their plane."""
    return float(np.abs(extent).max() + np.linalg.norm(extent[1] - extent[0])) + BEYOND
