"""What a size looks like on paper: its proportions, and a placing worked out to the last arrow. Sheet millimetres."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from sheetgen.geometry import Array
from sheetgen.ink import Text, text_width
from sheetgen.units import SAME_DIRECTION, UPRIGHT

TEXT_HEIGHT = 3.5        # mm: figures (school use, textbook of engineering drawing p. 2.9)
ARROW = 3.0              # mm: arrowhead length, about the figures' height (ISO 129-1 annex A, from memory)
ARROW_HALF_WIDTH = ARROW / 3.8 / 2    # 15 degrees included (machine drawing textbook p. 30)
TEXT_ABOVE = 1.0         # mm between dimension line and figures (common practice, no source)
GAP = 1.0                # mm between outline and extension line (1 to 2 allowed; one way per sheet)
OVERSHOOT = 2.0          # mm of extension line past the dimension line (8 line widths, ISO 129-1:2018, from memory)
FIRST_TIER = 10.0        # mm from the outline to the first dimension line (dimensioning chapter; US school lists 3/8 inch)
NEXT_TIER = 8.0          # mm between dimension lines (the same chapter's figure)
STEP = 4.0               # mm between the places tried for a dimension line beside its feature, not in tiers beyond the part
SHORT_EXTENSION = GAP + 2.3    # mm from start to dimension line: less would stick out before it no farther than past it, a stub
TAIL = 6.0               # mm of line behind an arrowhead that points in from outside
LANDING = 3.0            # mm of level line between leader and text
BREAK = 1.2              # mm between figures and the ends of a line broken for them (unidirectional method)

Vec = tuple[float, float]


@dataclass(frozen=True, eq=False)
class Arrowhead:
    """An arrowhead: ``tip`` (2,), the way it points ``along`` (2,), and ``across`` (2,) its width's direction."""

    tip: Array
    along: Array
    across: Array


@dataclass(frozen=True, eq=False)
class Candidate:
    """One placing of an item. ``lines``: dimension lines, arcs, leaders, polylines (k, 2); ``extensions``: segments (2, 2);
    ``centres``: crossing centre lines of a located axis (pictorials), in the part (2, 3), of which is drawn what shows;
    ``chains``: centre lines drawn on to where extension lines start, segments (2, 2); ``bold``: the arrow of sight."""

    lines: tuple[Array, ...]
    extensions: tuple[Array, ...]
    heads: tuple[Arrowhead, ...]
    texts: tuple[Text, ...]
    centres: tuple[Array, ...] = ()
    chains: tuple[Array, ...] = ()
    bold: bool = False



@lru_cache(maxsize=4096)
def lettered_width(text: str, height: float) -> float:
    """mm: the width of figures, which come again and again."""
    return text_width(text, height)


def reading(along: Vec, up: Vec) -> tuple[Vec, Vec]:
    """Turn a baseline direction and an up direction so that figures read from below or from the right and are not mirrored.

    Both unit vectors; upright lines read upwards, from the right (SP 46 aligned method, from memory).

    >>> reading((0.0, -1.0), (1.0, 0.0))
    ((0.0, 1.0), (-1.0, 0.0))
    """
    if along[0] < -UPRIGHT or (abs(along[0]) <= UPRIGHT and along[1] < 0):
        along = (0.0 - along[0], 0.0 - along[1])
    if along[0] * up[1] - along[1] * up[0] < 0:
        up = (0.0 - up[0], 0.0 - up[1])
    return along, up


def broken(line: Array, middle: Array, width: float) -> list[Array]:
    """A line (2, 2) with a gap for upright figures ``width`` mm wide centred at ``middle`` (2,)."""
    unit = (line[1] - line[0]) / np.linalg.norm(line[1] - line[0])
    half_w, half_h = width / 2 + BREAK, TEXT_HEIGHT / 2 + BREAK
    half = min(
        half_w / abs(unit[0]) if abs(unit[0]) > SAME_DIRECTION else np.inf,
        half_h / abs(unit[1]) if abs(unit[1]) > SAME_DIRECTION else np.inf)
    at = float((middle - line[0]) @ unit)
    length = float(np.linalg.norm(line[1] - line[0]))
    pieces = [(0.0, at - half), (at + half, length)]
    return [np.stack([line[0] + p * unit, line[0] + q * unit]) for p, q in pieces if q - p > 0.5]


def unit_at(angle: float) -> Vec:
    """The unit vector at ``angle`` degrees.

    >>> [round(v, 9) for v in unit_at(90.0)]
    [0.0, 1.0]
    """
    return (math.cos(math.radians(angle)), math.sin(math.radians(angle)))
