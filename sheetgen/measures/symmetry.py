"""Symmetry as the drawing shows it: a centre line says that each surface has its mirror image on the other side."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from sheetgen.geometry import Array
from sheetgen.measures.ends import MeasureError
from sheetgen.measures.equation import Equation, Valued
from sheetgen.measures.unknowns import TURN_LENGTH, Placed, Unknowns
from sheetgen.solid import Cone, Cylinder, Plane, Solid, Surface
from sheetgen.units import SAME_COSINE, SAME_POINT


def mirrored(surface: Surface, axis: int, middle: float) -> Surface:
    """The mirror image of a surface in the plane square to ``axis`` (0, 1, 2) at the level ``middle``."""
    flip = np.ones(3)
    flip[axis] = -1.0
    shift = np.zeros(3)
    shift[axis] = 2 * middle
    if isinstance(surface, Plane):
        normal = surface.normal * flip + 0.0
        return Plane(normal, surface.offset + float(normal @ shift))
    point, direction = surface.point * flip + shift, surface.direction * flip + 0.0
    return Cylinder(point, direction, surface.radius) if isinstance(surface, Cylinder) else Cone(point, direction, surface.slope)


def partners(solid: Solid, axis: int) -> list[int]:
    """For each surface, the one that is its mirror image in the part's mid-plane.

    Raises: MeasureError if one has none: the part is not symmetric.
    """
    middle = float(solid.size[axis]) / 2
    found = []
    for k, surface in enumerate(solid.surfaces):
        image = mirrored(surface, axis, middle)
        partner = next((j for j, other in enumerate(solid.surfaces) if other.same_as(image)), None)
        if partner is None:
            raise _asymmetric(axis, _words(solid, k))
        found.append(partner)
    _assert_same_edges(solid, axis, found)
    return found


def _assert_same_edges(solid: Solid, axis: int, partner: list[int]) -> None:
    """Raise MeasureError unless surfaces meet where their partners do: the same surfaces can bound another part on either
    side, such as one with a notch at the front of its left side and at the back of its right."""
    for one, other in solid.edges.curves:
        a, b = sorted((partner[one], partner[other]))
        if (a, b) not in solid.edges.curves:
            raise _asymmetric(axis, f"the edge of {_words(solid, one)} and {_words(solid, other)}")
    corners = solid.vertices[solid.meeting.sum(axis=1) > 2]
    image = corners.copy()
    image[:, axis] = solid.size[axis] - image[:, axis]
    for corner in image:
        if len(corners) and np.abs(corners - corner).max(axis=1).min() > SAME_POINT:
            raise _asymmetric(axis, "a corner")


def _asymmetric(axis: int, what: str) -> MeasureError:
    return MeasureError(f"the family says it is symmetric along {'xyz'[axis]}, but {what} has no mirror image")


def _words(solid: Solid, k: int) -> str:
    names = solid.names_of(k)
    return names[0] if names else "a face of " + " and ".join(solid.features[k])


def symmetry_equations(unknowns: Unknowns, axis: int) -> Iterator[Equation]:
    """What the centre line of a symmetry along ``axis`` says: every surface and its partner mirror each other."""
    for k, partner in enumerate(partners(unknowns.solid, axis)):
        if partner < k:
            continue
        surface, other = unknowns.solid.surfaces[k], unknowns.solid.surfaces[partner]
        if isinstance(surface, Plane):
            if k != partner:
                yield _offsets(unknowns, k, partner, axis)
                yield from (_turns(unknowns, k, partner, axis, swing) for swing in unknowns.swings.get(partner, ()))
            elif surface.axis == axis:
                yield _level(unknowns, k, axis)
            continue
        assert not isinstance(other, Plane)
        if unknowns.axis_of[k] == k or unknowns.axis_of[partner] == partner:
            yield from _axes(unknowns, k, partner, axis)
        if k != partner:
            for what in ("radius", "slope"):
                if (k, what) in unknowns.columns:
                    yield _equal(unknowns, k, partner, what)
            if (k, "apex") in unknowns.columns:
                yield _apexes(unknowns, k, partner, axis)


def _level(unknowns: Unknowns, k: int, axis: int) -> Equation:
    """A plane that is the mid-plane itself."""
    middle = unknowns.unit(-1 - axis, "middle")
    sense = float(np.sign(unknowns.solid.surfaces[k].normal[axis]))  # type: ignore[union-attr]
    gradient = sense * unknowns.unit(k, "offset") - middle
    return Equation(lambda at: (float(gradient @ at.x), gradient), linear=True)


def _offsets(unknowns: Unknowns, k: int, partner: int, axis: int) -> Equation:
    flip = np.ones(3)
    flip[axis] = -1.0
    middle = unknowns.unit(-1 - axis, "middle")
    one, other = unknowns.solid.surfaces[k], unknowns.solid.surfaces[partner]
    assert isinstance(one, Plane) and isinstance(other, Plane)
    sense = float(np.sign((one.normal * flip) @ other.normal))

    def function(at: Placed) -> Valued:
        (n, dn, c, dc), (_, _, d, dd) = at.plane(k), at.plane(partner)
        m = float(middle @ at.x)
        value = sense * d - (c - 2 * m * float(n[axis]))
        return value, sense * dd - dc + 2 * (middle * float(n[axis]) + m * dn[axis])

    return Equation(function, linear=unknowns.still(k))


def _turns(unknowns: Unknowns, k: int, partner: int, axis: int, swing: Array) -> Equation:
    flip = np.ones(3)
    flip[axis] = -1.0
    one, other = unknowns.solid.surfaces[k], unknowns.solid.surfaces[partner]
    assert isinstance(one, Plane) and isinstance(other, Plane)
    sense = float(np.sign((one.normal * flip) @ other.normal))

    def function(at: Placed) -> Valued:
        (n, dn, _, _), (m, dm, _, _) = at.plane(k), at.plane(partner)
        difference, change = sense * m - n * flip, sense * dm - dn * flip[:, None]
        return float(swing @ difference) * TURN_LENGTH, swing @ change * TURN_LENGTH

    return Equation(function)


def _axes(unknowns: Unknowns, k: int, partner: int, axis: int) -> Iterator[Equation]:
    """The axes mirror each other; an axis that is its own image lies in the mid-plane, or runs square to it."""
    middle = unknowns.unit(-1 - axis, "middle")
    surface = unknowns.solid.surfaces[k]
    assert not isinstance(surface, Plane)
    for a in range(3):
        if abs(abs(surface.direction[a]) - 1) < SAME_COSINE or (unknowns.axis_of[k] == unknowns.axis_of[partner] and a != axis):
            continue

        def function(at: Placed, a: int = a) -> Valued:
            (p, dp), (q, dq) = at.axis_point(k), at.axis_point(partner)
            if a == axis:
                return float((p[a] + q[a]) / 2 - middle @ at.x), (dp[a] + dq[a]) / 2 - middle
            return float(q[a] - p[a]), dq[a] - dp[a]

        yield Equation(function, linear=True)


def _equal(unknowns: Unknowns, k: int, partner: int, what: str) -> Equation:
    gradient = unknowns.unit(partner, what) - unknowns.unit(k, what)
    return Equation(lambda at: (float(gradient @ at.x), gradient), linear=True)


def _apexes(unknowns: Unknowns, k: int, partner: int, axis: int) -> Equation:
    surface, other = unknowns.solid.surfaces[k], unknowns.solid.surfaces[partner]
    assert not isinstance(surface, Plane) and not isinstance(other, Plane)
    sense = float(np.sign(surface.direction @ other.direction))
    along = abs(float(surface.direction[axis])) > 0.5
    gradient = unknowns.unit(partner, "apex") - sense * unknowns.unit(k, "apex")
    if along:
        gradient = unknowns.unit(partner, "apex") * float(other.direction[axis])
        gradient = gradient + unknowns.unit(k, "apex") * float(surface.direction[axis])
        gradient = gradient - 2 * unknowns.unit(-1 - axis, "middle")
    return Equation(lambda at: (float(gradient @ at.x), gradient), linear=True)
