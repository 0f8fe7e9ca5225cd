"""A part told in words, for who cannot see its picture: sentences made from its features, in the words of the wording.

Every number in it is a size of the part: the extent of a feature between two levels that the part has, or one that a feature says
of itself, such as a diameter. What cannot be told so, such as how far a branch runs into a body, is left out.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from sheetgen.bank import Variant
from sheetgen.bank.features import (
    NORMAL_AXIS,
    PLANE_AXES,
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
from sheetgen.exercises.extents import AXES, Box, Extents, mouth_axis
from sheetgen.solid import Solid
from sheetgen.templating import Wording
from sheetgen.units import SAME_POINT

SIDES = {"x": ("left", "right"), "y": ("front", "rear"), "z": ("bottom", "top")}
"""What the two ends of an axis are called."""

LENGTHS = {"x": "wide", "y": "deep", "z": "high"}
"""How far something reaches along an axis: the names of texts."""

WAYS = {"x": "wide", "y": "deep", "z": "up"}
"""Which way something runs."""

NEAR_MIDDLE = 0.1
"""Part of the part's extent from its middle within which something lies towards no side (common practice, no source)."""

MOST_COUNTED = 4
"""Holes alike that are counted in words; of more it is said that there are several."""

NAMED = {
    "block": "block", "plate": "plate", "upright": "upright", "boss": "boss", "spindle": "spindle", "pin": "pin", "slot": "slot",
    "groove": "groove", "notch": "notch", "recess": "recess", "step": "step", "channel": "channel", "bore": "hollow",
}
"""The words of families that name what they make, and the names of texts."""


def description_of(variant: Variant, solid: Solid, wording: Wording) -> str:
    """Tell a part in words: first how large it is, then what it is made of, feature by feature, in the order of its family."""
    return " ".join(_Teller(variant, solid, wording).sentences())


@dataclass(frozen=True)
class _Line:
    """One sentence: what it is, where it lies, which way it runs, and how large it is; what is empty is left out."""

    what: str
    place: str = ""
    run: str = ""
    sizes: tuple[str, ...] = ()


class _Teller:
    def __init__(self, variant: Variant, solid: Solid, wording: Wording) -> None:
        self.variant, self.solid, self.wording = variant, solid, wording
        self.words = {spec.name: spec.word for spec in variant.family.features}
        measured = [(specs[0].kind, side.feature) for specs in variant.measures for side in specs[0].sides]
        self.depths = {feature for kind, feature in measured if kind == "depth"}
        self.radii = {feature for kind, feature in measured if kind == "radius"}
        self.extents = Extents(variant.features, solid)

    def sentences(self) -> Iterator[str]:
        width, depth, height = map(float, self.solid.size)
        yield self.say("whole", width=width, depth=depth, height=height)
        for feature in self.variant.features:
            line = self.line(feature)
            yield self.say("line", what=line.what, place=line.place, going=line.run, sizes=", ".join(line.sizes))

    def say(self, name: str, **values: object) -> str:
        return self.wording.render(f"part.{name}", **values)

    def line(self, feature: Feature) -> _Line:
        """What is said of a feature."""
        box = self.extents.of(feature)
        if isinstance(feature, Hole):
            return self.hole(feature)
        if isinstance(feature, Slant | Corner):
            return _Line(self.say("corner" if isinstance(feature, Corner) else "slant"), self.at(_removed(feature)))
        if isinstance(feature, Cylinder | Cone):
            return self.round(feature, box)
        if isinstance(feature, Lug | Obround):
            return self.ended(feature, box)
        if isinstance(feature, Dovetail):
            return self.dovetail(feature, box)
        if isinstance(feature, Rib):
            return _Line(self.say("rib"), self.place(box), sizes=tuple(self.thickness(feature, box)))
        if isinstance(feature, Vee):
            axis = NORMAL_AXIS[feature.plane]
            sizes = (self.say("opening", angle=feature.angle),)
            return _Line(self.say("vee"), self.cut_place(feature, box), self.running(feature, axis), sizes)
        return self.solid_shape(feature, box) if not feature.cut else self.cut_shape(feature, box)

    def solid_shape(self, feature: Block | Profile, box: Box) -> _Line:
        """A block or a profile that is added."""
        if isinstance(feature, Block):
            what = self.say("base" if self.extents.is_base(feature, box) else NAMED[self.words[feature.name]])
        else:
            what = self.profile(feature, self.extents.is_base(feature, box))
        return _Line(what, "" if self.extents.is_base(feature, box) else self.place(box), sizes=self.sizes(box))

    def cut_shape(self, feature: Block | Profile, box: Box) -> _Line:
        """A block or a profile that is taken away."""
        through = self.extents.through(feature)
        what = self.say(NAMED[self.words[feature.name]]) if isinstance(feature, Block) else self.profile(feature, False)
        sizes = self.sizes(box, [axis for axis in AXES if axis not in through])
        return _Line(what, self.cut_place(feature, box), self.running(feature, *through[:1]), sizes)

    def profile(self, feature: Profile, base: bool) -> str:
        """A profile, by the side from which its shape is seen."""
        rounded = any(piece.centre for piece in feature.pieces)
        sort = "shape_base" if base else "shape_cut" if feature.cut else "shape"
        corners = str(len(feature.pieces)) if len(feature.pieces) in (3, 4) else "more"
        return self.say(sort, facing=feature.plane, rounded="yes" if rounded else "no", corners="more" if rounded else corners)

    def hole(self, hole: Hole) -> _Line:
        axis, low = mouth_axis(hole.mouth)
        count = len(hole.at)
        what = self.say("hole", how_many=str(count) if count <= MOST_COUNTED else "more")
        run = self.say("through") if hole.depth is None else ""
        sizes = [self.say("diameter", size=hole.diameter)]
        if hole.depth is not None and hole.name in self.depths:
            sizes.append(self.say("sunk", size=hole.depth))
        if hole.counterbore:
            sizes.append(self.say("counterbore", size=hole.counterbore[0], depth=hole.counterbore[1]))
        if hole.countersink:
            sizes.append(self.say("countersink", size=hole.countersink[0]))
        place = self.say("from", side=self.say(SIDES[axis][0 if low else 1]))
        if count == 1:
            place = ", ".join(filter(None, [place, self.standing(self.extents.of(hole), axis)]))
        return _Line(what, place, run, tuple(sizes))

    def round(self, feature: Cylinder | Cone, box: Box) -> _Line:
        if isinstance(feature, Cone):
            first, last = sorted(feature.diameters, reverse=True)
            sizes = [self.say("tapers", first=first, last=last)]
            what = self.say("cone_cut") if feature.cut else self.say("cone", way=WAYS[feature.axis])
        else:
            by_radius = feature.name in self.radii                      # as it is printed
            sizes = [self.say("radius", size=feature.diameter / 2) if by_radius else self.say("diameter", size=feature.diameter)]
            what = self.say("hollow") if feature.cut else self.say(NAMED[self.words[feature.name]], way=WAYS[feature.axis])
        if feature.cut:
            return _Line(what, self.cut_place(feature, box), self.running(feature, feature.axis), tuple(sizes))
        long = self.extents.size(box, feature.axis)
        told = [self.say("high" if feature.axis == "z" else "long", size=long)] if long else []
        return _Line(what, self.place(box), sizes=(*sizes, *told))

    def ended(self, feature: Lug | Obround, box: Box) -> _Line:
        """What has round ends."""
        axis = NORMAL_AXIS[feature.plane]
        across = self.say("across", size=feature.width)
        open_to = ""
        if isinstance(feature, Obround):
            what = self.say("closed_slot" if feature.cut else "link")
        elif feature.cut:
            open_to = _opposite(_toward(feature)) if feature.foot is None else ""
            what = self.say("open_slot", side=self.say(open_to)) if open_to else self.say("round_slot")
        else:
            side = _toward(feature)
            what = self.say("lug_top") if side == "top" else self.say("lug", side=self.say(side))
        if feature.cut:
            return _Line(what, self.cut_place(feature, box, but=open_to), self.running(feature, axis), (across,))
        return _Line(what, self.place(box), sizes=(across, *self.thickness(feature, box)))

    def dovetail(self, feature: Dovetail, box: Box) -> _Line:
        axis = NORMAL_AXIS[feature.plane]
        up = "z" if feature.plane != "top" else "y"
        high = self.extents.size(box, up)
        rest = [self.say(LENGTHS[up], size=high)] if high else []
        if feature.cut:
            return _Line(self.say("dovetail_groove"), self.cut_place(feature, box), self.running(feature, axis), tuple(rest))
        crest = self.say("crest", size=feature.width)
        run = self.say(f"run_{WAYS[axis]}") if self.extents.full(box, axis) else ""
        return _Line(self.say("dovetail_tongue"), self.place(box), run, (crest, *rest))

    def thickness(self, feature: Lug | Obround | Rib, box: Box) -> list[str]:
        thick = self.extents.size(box, NORMAL_AXIS[feature.plane])
        return [self.say("thick", size=thick)] if thick else []

    def sizes(self, box: Box, axes: list[str] | None = None) -> tuple[str, ...]:
        """How far something reaches along some axes, or all."""
        found = [(axis, self.extents.size(box, axis)) for axis in axes or AXES]
        return tuple(self.say(LENGTHS[axis], size=size) for axis, size in found if size)

    def place(self, box: Box) -> str:
        """Where something stands on the part, seen from above; nowhere if it is all of it."""
        if self.extents.full(box, "x") and self.extents.full(box, "y"):
            return ""
        sides = [self.extents.end(box, axis) for axis in ("y", "x")]
        touched = [SIDES[axis][end] for axis, end in zip(("y", "x"), sides, strict=True) if end is not None]
        return self.at(touched) if touched else self.standing(box, "z")

    def cut_place(self, feature: Feature, box: Box, but: str = "") -> str:
        """Where something is cut, by the sides of the part that it opens to; ``but`` one that is told already."""
        through = self.extents.through(feature)
        ends = {axis: self.extents.end(box, axis) for axis in ("z", "y", "x") if axis not in through}
        touched = [side for axis, end in ends.items() if end is not None and (side := SIDES[axis][end]) != but]
        return self.at(touched) if touched else ""

    def standing(self, box: Box, along: str) -> str:
        """Where something that opens to no side lies, looking along an axis."""
        off = {axis: self.extents.off_middle(box, axis) for axis in ("z", "y", "x")
               if axis != along and not self.extents.full(box, axis)}
        aside = [SIDES[axis][part > 0] for axis, part in off.items() if abs(part) > NEAR_MIDDLE]
        if aside:
            return self.say("toward", sides=" ".join(map(self.say, aside)))
        return self.say("middle") if all(abs(part) <= SAME_POINT for part in off.values()) else ""

    def at(self, sides: list[str]) -> str:
        return self.say("at", sides=" ".join(map(self.say, sides)))

    def running(self, feature: Feature, *axes: str) -> str:
        """Which way something is cut right through what it meets, if it is."""
        return self.say(f"run_{WAYS[axes[0]]}") if axes and axes[0] in self.extents.through(feature) else ""


def _toward(lug: Lug) -> str:
    """The side that a round end points to."""
    across, upward = PLANE_AXES[lug.plane]
    return SIDES[across if lug.toward in ("left", "right") else upward][lug.toward in ("right", "up")]


def _opposite(side: str) -> str:
    return next(ends[1 - ends.index(side)] for ends in SIDES.values() if side in ends)


def _removed(feature: Slant | Corner) -> list[str]:
    """The sides on which a cut takes material away: top or bottom first, then front or rear."""
    if isinstance(feature, Corner):
        signs = dict(zip(AXES, map(float, feature.corner), strict=True))
    else:
        (u0, v0), (u1, v1) = feature.line
        across, upward = PLANE_AXES[feature.plane]
        normal = (v0 - v1, u1 - u0)
        forward = {"above": normal[1], "below": -normal[1], "right": normal[0], "left": -normal[0]}[feature.remove] > 0
        signs = {across: normal[0] if forward else -normal[0], upward: normal[1] if forward else -normal[1]}
    return [SIDES[axis][signs[axis] > 0] for axis in ("z", "y", "x") if abs(signs.get(axis, 0)) > SAME_POINT]
