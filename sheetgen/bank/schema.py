"""What each kind of feature is told in a family file: one model a kind, and which of them a kind is read by.

Only ``check.py`` imports this, and only when a file is read, because pydantic takes long to start.
"""

from __future__ import annotations

from typing import Annotated, Any, Literal

from annotated_types import Len
from pydantic import model_validator

from sheetgen.bank.features import NORMAL_AXIS, Mouth, Plane, Toward
from sheetgen.bank.schema_parts import (
    Axis,
    Feature,
    FeatureName,
    Number,
    NumberOrOpen,
    Pair,
    Points,
    Range,
    Triple,
)
from sheetgen.bank.sides import END_NAMES
from sheetgen.bank.wanted import WANTED
from sheetgen.faults import shown
from sheetgen.records import Strict, wrong


class Block(Feature):
    x: Range | None = None
    y: Range | None = None
    z: Range | None = None

    @model_validator(mode="after")
    def bounded(self) -> Block:
        spans = {"x": self.x, "y": self.y, "z": self.z}
        for axis, span in spans.items():
            if self.add and (span is None or None in span):
                raise wrong("[from, to]: what is added has two ends", "nothing" if span is None else "an open end", axis)
        if all(span is None or span == [None, None] for span in spans.values()):
            raise wrong("at least one of x, y, z: a cut open every way leaves nothing", "no limits", "x")
        return self


class _Extruded(Feature):
    """Drawn in a plane; the span along its normal axis is called by that axis: front y, top z, right x."""

    plane: Plane
    x: Range | None = None
    y: Range | None = None
    z: Range | None = None

    @model_validator(mode="after")
    def along(self) -> _Extruded:
        along(self, NORMAL_AXIS[self.plane], f"drawn in plane {self.plane} it reaches along {NORMAL_AXIS[self.plane]}")
        return self


def along(feature: Any, axis: str, why: str) -> None:
    """Check that a span is given along ``axis`` and along no other; what is added needs both ends."""
    for other in "xyz":
        if other != axis and getattr(feature, other) is not None:
            raise wrong(f"`{axis}:` instead: {why}", f"`{other}:`", other)
    span = getattr(feature, axis)
    if feature.add and (span is None or None in span):
        raise wrong("[from, to]: what is added has two ends", "nothing" if span is None else "an open end", axis)


class Piece(Strict):
    start: Pair | None = None
    line: Pair | None = None
    arc: Pair | None = None
    close: Literal[True] | None = None
    centre: Pair | None = None
    turn: Literal["left", "right"] | None = None
    side: FeatureName | None = None

    @model_validator(mode="after")
    def one_thing(self) -> Piece:
        given = [word for word in ("start", "line", "arc", "close") if getattr(self, word) is not None]
        if len(given) != 1:
            raise wrong("one of start, line, arc, close", " and ".join(given) or "none of them")
        for word in ("centre", "turn"):
            if (getattr(self, word) is None) is (given == ["arc"]):
                raise wrong("an arc has a centre and a turn, nothing else has" if given != ["arc"] else WANTED[word],
                            word if given != ["arc"] else "nothing", word)
        if given == ["start"] and self.side is not None:
            raise wrong("the side's name at the piece that ends it", "a side at the start", "side")
        return self


class Profile(_Extruded):
    outline: Annotated[list[Piece], Len(3, 100)]

    @model_validator(mode="after")
    def in_order(self) -> Profile:
        for place, piece in enumerate(self.outline):
            if (piece.start is not None) is not (place == 0):
                raise wrong("`start:` first, and only there", f"piece {place + 1} of another kind", "outline")
            if piece.close and place < len(self.outline) - 1:
                raise wrong("`close: yes` last", f"close as piece {place + 1}", "outline")
        check_sides(self)
        return self


def check_sides(profile: Profile) -> None:
    """The names of sides must differ, and not be those of the ends."""
    axis = NORMAL_AXIS[profile.plane]
    taken = dict.fromkeys(END_NAMES[axis], "the name of an end")
    for piece in profile.outline:
        if piece.side is not None:
            if piece.side in taken:
                raise wrong("another name", f"side {piece.side}, {taken[piece.side]}", "outline")
            taken[piece.side] = "named already"


class Counterbore(Strict):
    diameter: Number
    depth: Number


class Countersink(Strict):
    diameter: Number
    angle: Number


class Hole(Feature):
    mouth: Mouth
    at: Points
    diameter: Number
    level: Number | None = None
    depth: Number | None = None
    point: Number | None = None
    counterbore: Counterbore | None = None
    countersink: Countersink | None = None

    @model_validator(mode="after")
    def drilled(self) -> Hole:
        if self.point is not None and self.depth is None:
            raise wrong("a depth as well: a through hole has no point", "a point", "point")
        if self.counterbore is not None and self.countersink is not None:
            raise wrong("one of counterbore, countersink", "both", "countersink")
        return self


class _Round(Feature):
    axis: Axis
    x: Range | None = None
    y: Range | None = None
    z: Range | None = None

    @model_validator(mode="after")
    def along(self) -> _Round:
        along(self, self.axis, f"its axis is {self.axis}")
        return self


class Cylinder(_Round):
    at: Points
    diameter: Number


class Cone(_Round):
    at: Pair
    diameters: Pair

    @model_validator(mode="after")
    def two_ends(self) -> Cone:
        span = getattr(self, self.axis)
        if span is None or None in span:
            raise wrong("[from, to]: a cone has two ends", "nothing" if span is None else "an open end", self.axis)
        return self


class Lug(_Extruded):
    centre: Pair
    width: Number
    toward: Toward
    foot: NumberOrOpen = None

    @model_validator(mode="after")
    def stands(self) -> Lug:
        if self.add and self.foot is None:
            raise wrong("where the straight part begins", "nothing", "foot")
        return self


class Obround(_Extruded):
    centres: Annotated[list[Pair], Len(2, 2)]
    width: Number


class Rib(_Extruded):
    corner: Pair
    legs: Pair


class Vee(_Extruded):
    tip: Pair
    toward: Toward
    angle: Number


class Slant(_Extruded):
    line: Annotated[list[Pair], Len(2, 2)]
    remove: Literal["above", "below", "left", "right"]


class Dovetail(_Extruded):
    centre: Pair
    width: Number
    height: Number
    angle: Number
    toward: Toward


class Corner(Feature):
    through: Annotated[list[Triple], Len(3, 3)]
    corner: Annotated[list[str], Len(3, 3)]

    @model_validator(mode="after")
    def a_corner(self) -> Corner:
        for word, pair in zip(self.corner, (("left", "right"), ("front", "back"), ("bottom", "top")), strict=True):
            if word not in pair:
                raise wrong("[left or right, front or back, bottom or top]",
                            shown(word), "corner")
        return self


MODELS: dict[str, type[Feature]] = {
    "block": Block, "profile": Profile, "hole": Hole, "cylinder": Cylinder, "cone": Cone, "lug": Lug, "obround": Obround,
    "rib": Rib, "vee": Vee, "slant": Slant, "dovetail": Dovetail, "corner": Corner,
}
