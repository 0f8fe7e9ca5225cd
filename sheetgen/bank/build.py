"""Specs and sizes to records: every formula is worked out, and what no workshop could make is refused with its line."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping

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
    Piece,
    Point,
    Profile,
    Rib,
    Slant,
    Span,
    Vee,
)
from sheetgen.bank.formulas import Env, Formula, FormulaError
from sheetgen.bank.specs import FeatureSpec
from sheetgen.faults import Fault
from sheetgen.units import SAME_POINT

FARTHEST = 10_000.0
"""mm: greatest length or coordinate of a feature. The largest paper shows 6 m at 1:10; a round face of kilometres has
hundreds of thousands of facets."""

SIGNS = {"left": -1, "right": 1, "front": -1, "back": 1, "bottom": -1, "top": 1}


class Unfit(ValueError):  # noqa: N818  (a word of the trade, not shown to anyone)
    """A field that comes to something impossible."""

    def __init__(self, path: tuple[str | int, ...], found: str, wanted: str) -> None:
        super().__init__(path, found, wanted)
        self.path, self.found, self.wanted = path, found, wanted


def build(spec: FeatureSpec, env: Env) -> Feature:
    """The record of a feature with these sizes. Raises: Unfit."""
    return _MAKERS[spec.kind](_Filled(spec, env))


def fault_of(spec: FeatureSpec, unfit: Unfit, file: str, sizes: Mapping[str, float | str], names: frozenset[str]) -> Fault:
    """What to tell the teacher: the field, and those sizes on which it depends."""
    needed = {name: value for name, value in sizes.items() if name in names}
    with_sizes = ", ".join(f"{name} {value if isinstance(value, str) else f'{value:g}'}" for name, value in needed.items())
    sizes_told = f"with {with_sizes}" if with_sizes else ""
    return Fault(file, spec.line_of(*unfit.path), spec.field(*unfit.path), unfit.found, unfit.wanted, sizes_told)


class _Filled:
    """A spec with sizes: asks for fields by name, and knows which one was wrong."""

    def __init__(self, spec: FeatureSpec, env: Env) -> None:
        self.spec, self.env, self.fields = spec, env, spec.fields
        self.name, self.cut = spec.name, spec.cut

    def run(self, formula: Formula, *path: str | int) -> float:
        try:
            value = formula.number(self.env)
        except FormulaError as error:
            raise Unfit(path, error.found, error.wanted) from None
        if abs(value) > FARTHEST:
            raise Unfit(path, f"{value:g}", f"at most {FARTHEST:g}: no paper shows more")
        return value

    def number(self, field: str) -> float:
        return self.run(self.fields[field], field)

    def above(self, field: str, least: float = 0.0, most: float = math.inf) -> float:
        """A number above ``least`` and below ``most``."""
        value = self.number(field)
        check_above(value, least, most, field)
        return value

    def maybe(self, field: str) -> float | None:
        formula = self.fields.get(field)
        return None if formula is None else self.number(field)

    def point(self, field: str, *inner: str | int) -> Point:
        """A point, perhaps deep within a field."""
        pair = self.fields[field]
        for step in inner:
            pair = pair[step]
        return (self.run(pair[0], field, *inner, 0), self.run(pair[1], field, *inner, 1))

    def points(self, field: str) -> tuple[Point, ...]:
        """Some points, all different."""
        points = tuple(self.point(field, k) for k in range(len(self.fields[field])))
        for k, point in enumerate(points):
            if any(math.dist(point, other) <= SAME_POINT for other in points[:k]):
                raise Unfit((field, k), f"[{point[0]:g}, {point[1]:g}] a second time", "another point")
        return points

    def span(self, axis: str) -> Span:
        """From, to along an axis; None where it is open."""
        ends = self.fields.get(axis, (None, None))
        low, high = (None if end is None else self.run(end, axis, k) for k, end in enumerate(ends))
        if low is not None and high is not None and not low < high - SAME_POINT:
            raise Unfit((axis,), f"from {low:g} to {high:g}", "the second number larger than the first")
        return low, high

    def along(self) -> Span:
        """The span along the normal axis of the plane."""
        return self.span(NORMAL_AXIS[self.fields["plane"]])

    def inner(self, field: str, first: str, second: str) -> tuple[float, float] | None:
        """Two numbers above 0 from a field with fields of its own."""
        if field not in self.fields:
            return None
        one, two = (self.run(self.fields[field][key], field, key) for key in (first, second))
        check_above(one, 0.0, math.inf, field, first)
        check_above(two, 0.0, 180.0 if second == "angle" else math.inf, field, second)
        return one, two


def check_above(value: float, least: float, most: float, *path: str | int) -> None:
    """Raises: Unfit if ``value`` is not between ``least`` and ``most``, both left out."""
    if not least + SAME_POINT < value < most:
        raise Unfit(path, f"{value:g}", f"above {least:g}" + (f" and below {most:g}" if most < math.inf else ""))


def _block(f: _Filled) -> Feature:
    return Block(f.name, f.cut, f.span("x"), f.span("y"), f.span("z"))


def _profile(f: _Filled) -> Feature:
    start, outline = f.point("outline", 0, "start"), f.fields["outline"]
    pieces, before = [], start
    for k, piece in enumerate(outline[1:], 1):
        word = next(word for word in ("line", "arc", "close") if word in piece)
        end = start if word == "close" else f.point("outline", k, word)
        if math.dist(before, end) <= SAME_POINT:
            raise Unfit(("outline", k), "a piece of no length", "an end away from where it begins")
        centre = f.point("outline", k, "centre") if word == "arc" else None
        if centre is not None:
            _check_arc(before, end, centre, k)
        pieces.append(Piece(end, piece.get("side"), centre, piece.get("turn")))
        before = end
    if math.dist(before, start) > SAME_POINT:
        raise Unfit(("outline", len(outline) - 1), f"an end at [{before[0]:g}, {before[1]:g}]",
                    f"the start [{start[0]:g}, {start[1]:g}], or `- close: yes` as the last piece")
    return Profile(f.name, f.cut, f.fields["plane"], start, tuple(pieces), f.along())


def _check_arc(before: Point, end: Point, centre: Point, k: int) -> None:
    first, last = math.dist(before, centre), math.dist(end, centre)
    if abs(first - last) > SAME_POINT or first <= SAME_POINT:
        raise Unfit(("outline", k, "centre"), f"a centre {first:g} mm from the beginning and {last:g} mm from the end of the arc",
                    "the same radius to both")


def _hole(f: _Filled) -> Feature:
    diameter, depth = f.above("diameter"), f.maybe("depth")
    if depth is not None:
        check_above(depth, 0.0, math.inf, "depth")
    point = f.maybe("point")
    if point is not None:
        check_above(point, 0.0, 180.0, "point")
    bore, sink = f.inner("counterbore", "diameter", "depth"), f.inner("countersink", "diameter", "angle")
    for field, wide in (("counterbore", bore), ("countersink", sink)):
        if wide is not None:
            check_above(wide[0], diameter, math.inf, field, "diameter")
    if depth is not None and bore is not None:
        check_above(depth, bore[1], math.inf, "depth")
    if depth is not None and sink is not None:
        check_above(depth, (sink[0] - diameter) / 2 / math.tan(math.radians(sink[1] / 2)), math.inf, "depth")
    return Hole(f.name, f.fields["mouth"], f.points("at"), diameter, f.maybe("level"), depth, point, bore, sink)


def _cylinder(f: _Filled) -> Feature:
    axis = f.fields["axis"]
    return Cylinder(f.name, f.cut, axis, f.points("at"), f.above("diameter"), f.span(axis))


def _cone(f: _Filled) -> Feature:
    axis, diameters = f.fields["axis"], f.point("diameters")
    if min(diameters) < 0 or abs(diameters[0] - diameters[1]) <= SAME_POINT:
        raise Unfit(("diameters",), f"[{diameters[0]:g}, {diameters[1]:g}]", "two that differ, neither below 0")
    return Cone(f.name, f.cut, axis, f.point("at"), diameters, f.span(axis))


def _lug(f: _Filled) -> Feature:
    centre, foot, toward = f.point("centre"), f.maybe("foot"), f.fields["toward"]
    if foot is not None:
        along = centre[0 if toward in ("left", "right") else 1]
        if not (along - foot) * (1 if toward in ("right", "up") else -1) > SAME_POINT:
            raise Unfit(("foot",), f"{foot:g}, with the centre at {along:g}", f"a foot behind the centre, seen {toward}ward")
    return Lug(f.name, f.cut, f.fields["plane"], centre, f.above("width"), toward, foot, f.along())


def _obround(f: _Filled) -> Feature:
    (au, av), (bu, bv) = one, other = f.point("centres", 0), f.point("centres", 1)
    if (abs(au - bu) <= SAME_POINT) == (abs(av - bv) <= SAME_POINT):
        raise Unfit(("centres",), f"[{au:g}, {av:g}] and [{bu:g}, {bv:g}]", "two centres that differ in one coordinate only")
    return Obround(f.name, f.cut, f.fields["plane"], (one, other), f.above("width"), f.along())


def _rib(f: _Filled) -> Feature:
    legs = f.point("legs")
    if min(abs(legs[0]), abs(legs[1])) <= SAME_POINT:
        raise Unfit(("legs",), f"[{legs[0]:g}, {legs[1]:g}]", "two lengths, neither of them 0")
    return Rib(f.name, f.fields["plane"], f.point("corner"), legs, f.along())


def _vee(f: _Filled) -> Feature:
    return Vee(f.name, f.fields["plane"], f.point("tip"), f.fields["toward"], f.above("angle", 0.0, 180.0), f.along())


def _slant(f: _Filled) -> Feature:
    a, b, remove = f.point("line", 0), f.point("line", 1), f.fields["remove"]
    across = 0 if remove in ("above", "below") else 1
    if abs(a[across] - b[across]) <= SAME_POINT:
        raise Unfit(("line",), f"[{a[0]:g}, {a[1]:g}] to [{b[0]:g}, {b[1]:g}]", f"a line that has something {remove}"
                    + (" of it" if across else " it"))
    return Slant(f.name, f.fields["plane"], (a, b), remove, f.along())


def _dovetail(f: _Filled) -> Feature:
    width, height, angle = f.above("width"), f.above("height"), f.above("angle", 0.0, 90.0)
    neck = width - 2 * height / math.tan(math.radians(angle))
    if not neck > SAME_POINT:
        raise Unfit(("width",), f"{width:g}, which leaves a neck of {neck:g}", "a wider, lower or steeper dovetail")
    return Dovetail(f.name, f.cut, f.fields["plane"], f.point("centre"), width, height, angle, f.fields["toward"], f.along())


def _corner(f: _Filled) -> Feature:
    a, b, c = ((*f.point("through", k), f.run(f.fields["through"][k][2], "through", k, 2)) for k in range(3))
    p, q = [y - x for x, y in zip(a, b, strict=True)], [y - x for x, y in zip(a, c, strict=True)]
    normal = (p[1] * q[2] - p[2] * q[1], p[2] * q[0] - p[0] * q[2], p[0] * q[1] - p[1] * q[0])
    if math.hypot(*normal) <= SAME_POINT * (math.hypot(*p) + math.hypot(*q)):
        raise Unfit(("through",), "three points in one line", "three corners of a triangle")
    x, y, z = (SIGNS[word] for word in f.fields["corner"])
    return Corner(f.name, (a, b, c), (x, y, z))


_MAKERS: Mapping[str, Callable[[_Filled], Feature]] = {
    "block": _block, "profile": _profile, "hole": _hole, "cylinder": _cylinder, "cone": _cone, "lug": _lug, "obround": _obround,
    "rib": _rib, "vee": _vee, "slant": _slant, "dovetail": _dovetail, "corner": _corner,
}
