"""Measures: what is printed on question and answer alike, each with its value in the solid and its text."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np

from sheetgen.bank.features import MeasureSpec, Side
from sheetgen.measures.drilled import COUNTERBORE, SHOULDER, is_named, meeting, mouth_of
from sheetgen.measures.ends import EndRef, LostSideError, MeasureError, resolve_end, surface_named
from sheetgen.solid import Cone, Cylinder, Plane, Solid, is_drill_point, rows_of, turns_right_round
from sheetgen.units import SAME_COSINE, SAME_DIRECTION, SAME_POINT

Kind = Literal["span", "diameter", "radius", "angle", "depth"]


SIGNS = {"diameter": "Ø{}", "radius": "R{}", "angle": "{}°"}
"""Where a kind's sign stands by the figures (ISO 129-1, from memory); lengths have none."""


@dataclass(frozen=True, eq=False)
class Measure:
    """One size that is printed.

    ``spec``: what the bank says of it, with the features and sides it names and its line there. ``value``: mm, or degrees, as in
    the solid; ``figures``: the digits that are printed for it, without sign, count or words. ``count``: of how many alike it is,
    those one behind the other on one axis too, as the cheeks of a fork are. ``axis``: of a span or depth, 0, 1 or 2. ``ends``: of
    a span or depth. ``rounds``: surfaces whose diameter or radius it is (several alike share one note). ``planes``: of an angle;
    the face of a cone's rim.
    """

    spec: MeasureSpec
    value: float
    figures: str
    count: int = 1
    axis: int | None = None
    ends: tuple[EndRef, ...] = ()
    rounds: tuple[int, ...] = ()
    planes: tuple[int, ...] = ()

    @property
    def kind(self) -> Kind:
        """What sort of size it is."""
        return self.spec.kind

    @property
    def side(self) -> Side:
        """The feature, and the side of it, that it is of; of a span the one it begins at."""
        return self.spec.sides[0]

    @property
    def size(self) -> str:
        """The figures with their sign, as on a drawing: Ø12, R8, 90°, 40."""
        return SIGNS.get(self.kind, "{}").format(self.figures)

    @property
    def text(self) -> str:
        """The size in full, as an English note has it: 2 × Ø12, 8 DEEP. Sheets have the words of their wording instead."""
        return f"{times(self.count)}{self.size}{' DEEP' if self.kind == 'depth' else ''}"

    @property
    def flat(self) -> bool:
        """True of the depth of a hole with a flat floor; that of a drilled one is measured to where its point begins."""
        return self.kind == "depth" and self.side.name != "counterbore" and all(len(end.surfaces) == 1 for end in self.ends)

    @property
    def words(self) -> str:
        """The measure in the words of the bank file."""
        return words_of(self.spec)


def times(count: int) -> str:
    """How many alike, as it stands before a size: the count of one is not printed.

    >>> times(2), times(1)
    ('2 × ', '')
    """
    return f"{count} × " if count > 1 else ""


def number(value: float) -> str:
    """A size as printed: no needless zeros, at most two decimals.

    >>> number(40.0), number(12.5), number(0.75)
    ('40', '12.5', '0.75')
    """
    return f"{round(value, 2) + 0.0:.2f}".rstrip("0").rstrip(".")


def measures_of(solid: Solid, specs: Sequence[MeasureSpec]) -> tuple[Measure, ...]:
    """Find every declared measure on the solid.

    Raises: MeasureError naming the measure that cannot be taken and why.
    """
    return tuple(measure_of(solid, spec) for spec in specs)


def measure_of(solid: Solid, spec: MeasureSpec) -> Measure:
    """Find one declared measure on the solid. Raises: MeasureError."""
    try:
        return _TAKERS[spec.kind](solid, spec)
    except LostSideError as problem:
        raise LostSideError(problem.side, words_of(spec)) from None
    except MeasureError as problem:
        raise MeasureError(f"{words_of(spec)}: {problem}") from None


def words_of(spec: MeasureSpec) -> str:
    """The measure in the words of the bank file."""
    def end(sides: tuple[str, ...]) -> str:
        if len(sides) == 3:
            return f"corner of {sides[0]}, {sides[1]} and {sides[2]}"
        return sides[0] if len(sides) == 1 else "edge of " + " and ".join(sides)

    if spec.kind == "span":
        assert spec.b is not None
        return f"{end(spec.a.sides)} to {end(spec.b.sides)}" + (f" along {spec.along}" if spec.along else "")
    if spec.kind == "radius":
        *first, last = spec.a.sides
        return f"radius of {', '.join(first)} and {last}" if first else f"radius of {last}"
    tail = f" {'at' if spec.kind == 'diameter' else 'to'} {end(spec.b.sides)}" if spec.b else ""
    return f"{spec.kind} of {end(spec.a.sides)}{tail}"


def _span(solid: Solid, spec: MeasureSpec) -> Measure:
    assert spec.b is not None
    ends = (resolve_end(solid, spec.a.sides), resolve_end(solid, spec.b.sides))
    axis = _span_axis(solid, ends, spec.along)
    if not all(end.fixes(axis) for end in ends):
        loose = next(end for end in ends if not end.fixes(axis))
        raise MeasureError(f"{loose.words} runs along {'xyz'[axis]} and has no place there")
    value = abs(float(ends[1].point[axis] - ends[0].point[axis]))
    if value < SAME_POINT:
        raise MeasureError("both ends are at the same level; there is nothing to measure")
    return Measure(spec, value, number(value), axis=axis, ends=ends)


def _span_axis(solid: Solid, ends: tuple[EndRef, EndRef], along: str | None) -> int:
    if along is not None:
        return "xyz".index(along)
    alone = [solid.surfaces[end.surfaces[0]] for end in ends if len(end.surfaces) == 1]
    squares = {surface.axis for surface in alone if isinstance(surface, Plane) and surface.axis is not None}
    if len(squares) == 1:
        return squares.pop()
    apart = [k for k in range(3) if all(end.fixes(k) for end in ends) and abs(ends[0].point[k] - ends[1].point[k]) > SAME_POINT]
    if len(squares) > 1 or len(apart) != 1:
        raise MeasureError("it is not clear along which axis to measure; end it with `along x`, `along y` or `along z`")
    return apart[0]


def _diameter(solid: Solid, spec: MeasureSpec) -> Measure:
    name = spec.a.sides[0]
    rounds = tuple(sorted({solid.sides[n] for n in _positions(solid, name)} or {surface_named(solid, name)}))
    values: list[float] = []
    faces: tuple[int, ...] = ()
    for k in rounds:
        surface = solid.surfaces[k]
        if isinstance(surface, Cylinder):
            values.append(2 * surface.radius)
        elif isinstance(surface, Cone):
            face = surface_named(solid, spec.b.sides[0]) if spec.b else mouth_plane(solid, k)
            values.append(2 * surface.slope * _rim_distance(solid, k, face))
            faces = (face,)
        else:
            raise MeasureError(f"{name} is flat and has no diameter")
    if max(values) - min(values) > SAME_POINT:
        raise MeasureError("the holes it speaks of are not alike")
    return Measure(spec, values[0], number(values[0]), _pieces(solid, rounds), rounds=rounds, planes=faces)


def _pieces(solid: Solid, rounds: Sequence[int]) -> int:
    """Of how many like cylinders one size is, those of one surface told apart."""
    return sum(len(rows_of(solid, k)) if isinstance(solid.surfaces[k], Cylinder) else 1 for k in rounds)


def _positions(solid: Solid, name: str) -> list[str]:
    """The walls of a feature that stands at several places: ``holes`` for holes.1.wall ..., ``holes.counterbore`` likewise."""
    feature, _, side = name.partition(".")
    ending = side or "wall"
    return [n for n in solid.sides if n.startswith(f"{feature}.") and n.endswith(f".{ending}") and n.split(".")[1].isdigit()]


def mouth_plane(solid: Solid, turned: int) -> int:
    """The plane square to a cone's axis that holds its widest rim: of a countersink, the face it is sunk into.

    Raises: MeasureError if there is none.
    """
    cone = solid.surfaces[turned]
    assert isinstance(cone, Cone)
    best, distance = -1, 0.0
    for pair in solid.edges.curves:
        if turned not in pair:
            continue
        other = solid.surfaces[pair[0] if pair[1] == turned else pair[1]]
        if isinstance(other, Plane) and abs(abs(float(other.normal @ cone.direction)) - 1) < SAME_COSINE:
            along = abs(other.offset * float(other.normal @ cone.direction) - float(cone.point @ cone.direction))
            if along > distance:
                best, distance = (pair[0] if pair[1] == turned else pair[1]), along
    if best < 0:
        raise MeasureError("the cone has no rim on a flat face square to its axis")
    return best


def _rim_distance(solid: Solid, turned: int, face: int) -> float:
    cone, plane = solid.surfaces[turned], solid.surfaces[face]
    assert isinstance(cone, Cone)
    if not isinstance(plane, Plane) or abs(abs(float(plane.normal @ cone.direction)) - 1) > SAME_COSINE:
        raise MeasureError("the face of a cone's rim must be flat and square to its axis")
    return abs(plane.offset * float(plane.normal @ cone.direction) - float(cone.point @ cone.direction))


def _radius(solid: Solid, spec: MeasureSpec) -> Measure:
    named = [surface_named(solid, name) for name in spec.a.sides]
    rounds = tuple(dict.fromkeys(named))                        # two rounds about one axis are one surface
    radii: list[float] = []
    for name, surface in zip(spec.a.sides, (solid.surfaces[k] for k in named), strict=True):
        if not isinstance(surface, Cylinder):
            raise MeasureError(f"{name} is not part of a cylinder and has no radius")
        if turns_right_round(solid, surface_named(solid, name)):
            raise MeasureError(f"{name} is part of a circle that shows by more than half; give its diameter")
        radii.append(surface.radius)
    if max(radii) - min(radii) > SAME_POINT:
        raise MeasureError("the arcs it speaks of are not alike")
    return Measure(spec, radii[0], number(radii[0]), _pieces(solid, rounds), rounds=rounds)


def _angle(solid: Solid, spec: MeasureSpec) -> Measure:
    a = surface_named(solid, spec.a.sides[0])
    one = solid.surfaces[a]
    if isinstance(one, Cone) and spec.b is None:
        value = 2 * math.degrees(math.atan(one.slope))
        return Measure(spec, value, number(value), rounds=(a,), planes=(a,))
    if spec.b is None:
        raise MeasureError("an angle lies between two flat sides: say `angle of A to B`")
    b = surface_named(solid, spec.b.sides[0])
    other = solid.surfaces[b]
    if not (isinstance(one, Plane) and isinstance(other, Plane)):
        raise MeasureError("an angle lies between two flat sides")
    along = np.cross(one.normal, other.normal)
    length = float(np.linalg.norm(along))
    if length < SAME_DIRECTION:
        raise MeasureError("the two sides are parallel")
    axis = int(np.argmax(np.abs(along)))
    if abs(abs(along[axis]) / length - 1) > SAME_COSINE:
        raise MeasureError("the two sides meet in a slanting edge, so no view shows their angle")
    value = math.degrees(math.asin(min(1.0, length)))
    if (min(a, b), max(a, b)) in solid.edges.curves and _blunt(solid, a, b):
        value = 180 - value
    return Measure(spec, value, number(value), axis=axis, planes=(a, b))


def _blunt(solid: Solid, a: int, b: int) -> bool:
    """True if two faces that meet in an edge make more than a right angle there, in the solid or in the gap."""
    meets = np.flatnonzero(solid.edges.sharp & (np.sort(solid.edges.pair, axis=1) == sorted((a, b))).all(axis=1))
    one, other = solid.normals[solid.edges.facets[meets[0]]]
    return float(one @ other) > 0


def _depth(solid: Solid, spec: MeasureSpec) -> Measure:
    """Depth of a blind hole or counterbore: from the face it is drilled into to its floor, or to where the drill's point begins
    (the depth of the full diameter; common practice, no source). That of a hole in the floor of its own counterbore counts from
    the face too (ASME Y14.5, from memory: depths from the outer surface)."""
    name = spec.a.sides[0]
    wall = surface_named(solid, name)
    turned = solid.surfaces[wall]
    if not isinstance(turned, Cylinder):
        raise MeasureError(f"{name} is no cylinder and has no depth")
    axis = int(np.argmax(np.abs(turned.direction)))
    levels: dict[float, tuple[int, ...]] = {}
    for k in meeting(solid, wall):
        other = solid.surfaces[k]
        if isinstance(other, Plane) and other.axis == axis:
            levels.update(mouth_of(solid, k, axis) if is_named(solid, k, SHOULDER) and not is_named(solid, wall, COUNTERBORE)
                          else {other.level: (k,)})
        elif isinstance(other, Cone) and is_drill_point(solid, k, wall):
            levels[float((other.point + turned.radius / other.slope * other.direction)[axis])] = (wall, k)
    if len(levels) != 2:
        raise MeasureError(f"{name} does not run from one flat face to another square to its axis, or to a drill's point")
    ends = tuple(_square_end(solid, levels[z], axis, z, name) for z in sorted(levels))
    value = max(levels) - min(levels)
    return Measure(spec, value, number(value), axis=axis, ends=ends, rounds=(wall,))


def _square_end(solid: Solid, surfaces: tuple[int, ...], axis: int, level: float, name: str) -> EndRef:
    names = solid.names_of(surfaces[-1]) or [name]
    return EndRef((names[0],), surfaces, np.where(np.arange(3) == axis, level, np.nan))


_TAKERS = {"span": _span, "diameter": _diameter, "radius": _radius, "angle": _angle, "depth": _depth}
