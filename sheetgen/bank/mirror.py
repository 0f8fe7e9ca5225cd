"""The other hand of a part: features and measures as a mirror shows them that stands at its right. Records in, records out.

What lies at x lies at -x then; the solid is moved to its corner when it is built, so its width need not be known. Left and right
change places in the names of sides, so that a measure is taken where the mirror shows it.
"""

from __future__ import annotations

import re
from collections.abc import Collection
from dataclasses import replace
from typing import Any

from sheetgen.bank.features import (
    Block,
    Cone,
    Corner,
    Cylinder,
    End,
    Feature,
    Hole,
    MeasureSpec,
    Obround,
    Piece,
    Point,
    Profile,
    SectionSpec,
    Span,
)

OTHER = {"left": "right", "right": "left"}

ROUNDS = {"1": "2", "2": "1"}
"""Of a slot with two round ends: they are counted from the left."""

_POINTS = ("centre", "start", "tip", "corner")
"""Fields of what is drawn in a plane that are one point of it."""


def mirrored(feature: Feature) -> Feature:
    """The feature in the mirror."""
    if isinstance(feature, Block):
        return replace(feature, x=_span(feature.x))
    if isinstance(feature, Corner):
        a, b, c = ((-x, y, z) for x, y, z in feature.through)
        return replace(feature, through=(a, b, c), corner=(-feature.corner[0], *feature.corner[1:]))
    if isinstance(feature, Hole):
        return _hole(feature)
    if isinstance(feature, Cylinder | Cone):
        return _turned(feature)
    if feature.plane == "right":
        return replace(feature, along=_span(feature.along))
    return replace(feature, **_drawn(feature))


def mirrored_section(spec: SectionSpec, features: Collection[Feature]) -> SectionSpec:
    """The cutting plane in the mirror, of what ``features`` were before."""
    rounds = _rounds(features)
    return replace(spec, through=tuple(_side(place, rounds) if isinstance(place, str) else place for place in spec.through),
                   mirrored=not spec.mirrored)


def _rounds(features: Collection[Feature]) -> set[str]:
    """The names of slots whose two round ends change places."""
    return {one.name for one in features
            if isinstance(one, Obround) and one.plane != "right" and one.centres[0][1] == one.centres[1][1]}


def mirrored_measure(spec: MeasureSpec, features: Collection[Feature]) -> MeasureSpec:
    """The measure in the mirror, of what ``features`` were before."""
    rounds = _rounds(features)

    def end(one: End) -> End:
        return End(tuple(_side(side, rounds) for side in one.sides))
    return replace(spec, a=end(spec.a), b=end(spec.b) if spec.b else None)


def other_words(words: str) -> str:
    """What names sides of a part, for its mirror image.

    >>> other_words("base.left to right_slot.axis")
    'base.right to right_slot.axis'
    """
    return re.sub(r"(?<=\.)(left|right)\b", lambda found: OTHER[found[0]], words)


def _side(full: str, rounds: Collection[str]) -> str:
    feature, *names = full.split(".")
    swapped = [OTHER.get(name, ROUNDS.get(name, name) if feature in rounds else name) for name in names]
    return ".".join([feature, *swapped])


def _span(span: Span) -> Span:
    low, high = (None if end is None else -end for end in span)
    return high, low


def _point(point: Point) -> Point:
    return -point[0], point[1]


def _hole(hole: Hole) -> Hole:
    if hole.mouth in OTHER:
        level = None if hole.level is None else -hole.level
        return replace(hole, mouth="right" if hole.mouth == "left" else "left", level=level)
    return replace(hole, at=tuple(map(_point, hole.at)))


def _turned(feature: Cylinder | Cone) -> Feature:
    if isinstance(feature, Cylinder):
        if feature.axis == "x":
            return replace(feature, along=_span(feature.along))
        return replace(feature, at=tuple(map(_point, feature.at)))
    if feature.axis == "x":
        low, high = feature.diameters
        return replace(feature, along=_span(feature.along), diameters=(high, low))
    return replace(feature, at=_point(feature.at))


def _drawn(feature: Any) -> dict[str, Any]:
    """The fields that change of what is drawn in a plane across which x runs."""
    found: dict[str, Any] = {name: _point(getattr(feature, name)) for name in _POINTS if hasattr(feature, name)}
    if isinstance(feature, Profile):
        found["pieces"] = tuple(map(_piece, feature.pieces))
    if isinstance(feature, Obround):
        found["centres"] = tuple(map(_point, feature.centres))
    if hasattr(feature, "line"):
        found["line"] = tuple(map(_point, feature.line))
    if hasattr(feature, "legs"):
        found["legs"] = _point(feature.legs)
    if getattr(feature, "toward", "") in OTHER and getattr(feature, "foot", None) is not None:
        found["foot"] = -feature.foot
    return found | {name: OTHER.get(value, value) for name in ("toward", "remove") if (value := getattr(feature, name, None))}


def _piece(piece: Piece) -> Piece:
    """A piece of an outline; its face may be called left or right by the family's author."""
    centre = None if piece.centre is None else _point(piece.centre)
    turn = None if piece.turn is None else OTHER[piece.turn]
    return Piece(_point(piece.end), piece.side and OTHER.get(piece.side, piece.side), centre, turn)  # type: ignore[arg-type]
