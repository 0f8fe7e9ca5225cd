"""Round holes that the sheet tells whole: where the axis is by its centre line, how wide by the diameter, how deep by the lines.

In a view across its axis a hole looks like a square one as wide as it. So of a part with such holes it is asked what else fits if
each is square, and stays where it is; what is in the corners between the circle and the square must be solid. Countersinks and
drill points stand on the axes of their holes and are told by diameter and angle: they are filled, and no line of theirs is
reckoned with.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely

from sheetgen.certainty.grid import Grid, inside, levels_along
from sheetgen.geometry import Array, Mask
from sheetgen.projection import Arc, Shape, Straight, View
from sheetgen.refusals import Reason, RefusedError
from sheetgen.solid import Cone, Cylinder, Solid, coaxial, is_hollow, turns_right_round
from sheetgen.solid.hollows import rows_of
from sheetgen.units import SAME_DIRECTION, SAME_LEVEL, SLIVER

ASTRAY = 0.1
"""mm: how much of the lines of a view, outside the holes, may differ from those of the part whose holes are square."""

CORNER = 0.98
"""Of half a hole's width: how far from its axis it is asked whether the corners of the square are solid."""

SAMPLES = 40
"""Places along a hole at which that is asked."""


@dataclass(frozen=True, eq=False)
class Bore:
    """A hole along ``axis`` 0, 1 or 2 about a line through ``point`` (3,), from ``low`` to ``high`` along it, mm."""

    axis: int
    point: Array
    radius: float
    low: float
    high: float

    @property
    def box(self) -> Array:
        """The square that holds it: lowest and highest corner (2, 3)."""
        corners = np.stack([self.point - self.radius, self.point + self.radius])
        corners[:, self.axis] = self.low, self.high
        return corners

    def holds(self, points: Array, *, square: bool) -> Mask:
        """Which points (n, 3) lie in the hole, or in the square one."""
        low, high = self.box
        within = ((points > low) & (points < high)).all(axis=1)
        if square:
            return np.asarray(within)
        off = np.delete(points - self.point, self.axis, axis=1)
        return np.asarray(within & (np.hypot(*off.T) < self.radius))


@dataclass(frozen=True, eq=False)
class Bores:
    """The ``holes`` of a part, and where they widen or end as a cone: ``sunk``, each with the cylinder that holds it. ``told``:
    the numbers of the surfaces of all of these; what else bounds the part is not reckoned here."""

    holes: tuple[Bore, ...]
    sunk: tuple[Bore, ...]
    told: frozenset[int]

    def across(self, axis: int | None) -> tuple[Bore, ...]:
        """The holes that are not along ``axis``; all for None."""
        return tuple(hole for hole in self.holes if hole.axis != axis)

    def levels(self, along: int, axis: int | None) -> Array:
        """Levels along an axis of the part at which square holes, and holes along ``axis``, have sides and ends."""
        found = [end for hole in self.across(axis) for end in hole.box[:, along].tolist()]
        found += [end for hole in self.holes if hole.axis == axis == along for end in (hole.low, hole.high)]
        return np.array(found)

    def filled(self, points: Array, filled: Mask, axis: int | None) -> tuple[Mask, Mask]:
        """What is filled at points (n, 3) if holes across ``axis`` are square and cones are filled; and what is hole there."""
        hole = np.zeros(len(points), dtype=bool)
        for each in self.holes:
            hole |= each.holds(points, square=each.axis != axis)
        cone = np.zeros(len(points), dtype=bool)
        for each in self.sunk:
            cone |= each.holds(points, square=False)
        return np.asarray((filled | cone) & ~hole), hole

    def regions(self, view: View) -> shapely.Geometry:
        """What the square holes and the cones take of a view, in its own axes."""
        boxes = [view.frame.flat(each.box) for each in (*self.holes, *self.sunk)]
        found = [shapely.box(*np.minimum(one, other), *np.maximum(one, other)) for one, other in boxes]
        return shapely.union_all(found).buffer(SAME_LEVEL * 10, join_style="mitre")


def bores_of(solid: Solid) -> Bores:
    """The round holes of a part along its axes; whether squares round them would do is told by ``check_corners``."""
    holes, sunk, told = list[Bore](), list[Bore](), set[int]()
    cones = {k: surface for k, surface in enumerate(solid.surfaces) if isinstance(surface, Cone) and is_hollow(solid, k)}
    for k, surface in enumerate(solid.surfaces):
        if not (isinstance(surface, Cylinder) and is_hollow(solid, k) and turns_right_round(solid, k)):
            continue
        axis = int(np.argmax(np.abs(surface.direction)))
        if abs(surface.direction[axis]) < 1 - SAME_DIRECTION:
            continue
        told.add(k)
        sense = float(np.sign(surface.direction[axis]))
        for row in rows_of(solid, k):
            low, high = sorted(sense * end for end in row)
            for cone in (number for number, cone in cones.items() if coaxial(cone, surface)):
                first, last, wide = _reach(solid, cone, axis, surface)
                if abs(first - high) > SAME_LEVEL and abs(last - low) > SAME_LEVEL:
                    continue
                told.add(cone)
                sunk.append(Bore(axis, surface.point, max(wide, surface.radius), first, last))
                if wide > surface.radius + SAME_LEVEL:                     # a countersink, through which the hole goes on
                    low, high = min(low, first), max(high, last)
            holes.append(Bore(axis, surface.point, surface.radius, low, high))
    return Bores(tuple(holes), tuple(sunk), frozenset(told))


def check_corners(solid: Solid, bores: Bores, axis: int | None) -> None:
    """Raise RefusedError if a hole across ``axis`` is not held by solid all round."""
    for hole in bores.across(axis):
        _check_corners(solid, hole, bores)


def _reach(solid: Solid, cone: int, axis: int, about: Cylinder) -> tuple[float, float, float]:
    """From where to where a cone goes along an axis, and its greatest radius."""
    points = solid.vertices[np.unique(solid.triangles[solid.owner == cone])]
    off = np.delete(points - about.point, axis, axis=1)
    return float(points[:, axis].min()), float(points[:, axis].max()), float(np.hypot(*off.T).max())


def _check_corners(solid: Solid, hole: Bore, bores: Bores) -> None:
    """Raise RefusedError unless the corners between a hole and the square that holds it are solid: but for where another hole is,
    and for its ends, which may lie in a round face."""
    steps = np.linspace(hole.low, hole.high, SAMPLES + 2)[1:-1]
    across = [axis for axis in range(3) if axis != hole.axis]
    for signs in ((1, 1), (1, -1), (-1, 1), (-1, -1)):
        points = np.repeat(hole.point[None], SAMPLES, axis=0)
        points[:, across] += CORNER * hole.radius * np.array(signs)
        points[:, hole.axis] = steps
        solid_there = inside(solid, points)
        for other in (*bores.holes, *bores.sunk):
            solid_there |= other.holds(points, square=other is not hole and other.axis == hole.axis)
        at = np.flatnonzero(solid_there)
        ends = hole.radius / (hole.high - hole.low) * SAMPLES
        if not len(at) or not solid_there[at[0]:at[-1] + 1].all() or at[0] > ends or SAMPLES - 1 - at[-1] > ends:
            raise RefusedError([Reason("a round hole of it breaks out of the part, or into another cut, sideways")])


def bored_grid(solid: Solid, bores: Bores) -> tuple[Grid, Mask]:
    """The cells of a part with square holes for its round ones, without cones; and which of them are holes."""
    levels = tuple(levels_along(solid, axis, bores.levels(axis, None)) for axis in range(3))
    centres = [(level[1:] + level[:-1]) / 2 for level in levels]
    points = np.stack(np.meshgrid(*centres, indexing="ij"), axis=-1)
    flat = points.reshape(-1, 3)
    filled, holes = (each.reshape(points.shape[:3]) for each in bores.filled(flat, inside(solid, flat), None))
    return Grid((levels[0], levels[1], levels[2]), filled), holes


def without_cones(shapes: Sequence[Shape], view: View, bores: Bores, axis: int) -> tuple[Shape, ...]:
    """The lines of a view without the slanting ones of cones across ``axis``."""
    cones = Bores((), tuple(cone for cone in bores.sunk if cone.axis != axis), frozenset()).regions(view)
    return tuple(shape for shape in shapes if not (
        isinstance(shape, Straight) and np.abs(shape.p - shape.q).min() > SAME_LEVEL
        and shapely.covers(cones, shapely.LineString(shape.points()))))


def reaching_rounds(shapes: Sequence[Shape]) -> tuple[Shape, ...]:
    """Lines whose straight ones are drawn on to a circle near their ends: the sides of holes end on facets of the round face that
    they open in, which stray from it. Pieces so short that only facets make them are left out."""
    rounds = [(arc.centre, float(np.hypot(*arc.a))) for arc in shapes if isinstance(arc, Arc)]

    def reached(end: Array, way: int) -> Array:
        for centre, radius in rounds:
            off = float(end[1 - way] - centre[1 - way])
            if abs(off) < radius and abs(float(np.hypot(*(end - centre))) - radius) < SLIVER:
                reach = math.sqrt(radius**2 - off**2)
                found = end.copy()
                found[way] = min((centre[way] - reach, centre[way] + reach), key=lambda at: abs(at - float(end[way])))
                if abs(found[way] - end[way]) < 2 * SLIVER:
                    return found
        return end

    found = list[Shape]()
    for shape in shapes:
        if isinstance(shape, Straight):
            way = int(np.argmax(np.abs(shape.q - shape.p)))
            found.append(Straight(reached(shape.p, way), reached(shape.q, way)))
        elif shape.length > 2 * SLIVER:
            found.append(shape)
    return tuple(found)


def check_lines(drawn: View, square: View, bores: Bores) -> None:
    """Raise RefusedError unless a view of the part and one of that with square holes show the same lines outside the holes."""
    for one, other in ((drawn, square), (square, drawn)):
        for kind in ("visible", "hidden"):
            mine, theirs = (shapely.union_all([shapely.LineString(points) for points in getattr(view, kind)])
                            for view in (one, other))
            rest = shapely.difference(mine, shapely.union(bores.regions(drawn), theirs.buffer(ASTRAY / 2)))
            if rest.length > ASTRAY:
                raise RefusedError([Reason("its lines are not those that the proof reckons with", f"in the {drawn.name} view")])
