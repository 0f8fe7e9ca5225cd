"""The unknowns of a drawing: the parameters of the surfaces that bound the solid.

One for a plane square to an axis (its level), two for one that contains an axis (turn and offset), three for an oblique
one; two for where a round surface's axis lies, shared by all that turn about it; one for a cylinder's radius; two for a
cone (apex and slope). A slanting axis is taken to stand square to a plane of the part and adds two numbers of place.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from sheetgen.geometry import Array
from sheetgen.geometry.vectors import UNITS, across_axis, cross
from sheetgen.solid import Cone, Cylinder, Plane, Solid
from sheetgen.units import SAME_DIRECTION

TURN_LENGTH = 50.0
"""mm: one unit of an angle unknown moves things by about this much, so that angles and lengths weigh alike in a rank."""


class Unknowns:
    """Numbers the unknowns of a solid and turns values of them into surfaces.

    ``count`` unknowns, ``true`` (count,) their values in the solid; ``owner[i]``: the surface, and what of it the unknown i is.
    """

    def __init__(self, solid: Solid, symmetry: tuple[str, ...] = ()) -> None:
        self.solid = solid
        self.owner: list[tuple[int, str]] = []
        surfaces = len(solid.surfaces)
        self.columns: dict[tuple[int, str], int] = {}
        self.axis_of: list[int] = [-1] * surfaces              # the first surface of the axis group
        self.swings: dict[int, list[Array]] = {}               # of planes that can turn
        self._true: list[float] = []
        for k, surface in enumerate(solid.surfaces):
            if isinstance(surface, Plane):
                self._plane(k, surface)
        for group in solid.axis_groups:
            self._axis(group.surfaces)
        for axis in ("xyz".index(letter) for letter in symmetry):
            self._add(-1 - axis, "middle", float(solid.size[axis]) / 2)
        self.true = np.array(self._true)
        self.count = len(self._true)
        self._units = np.eye(self.count)
        self._units.flags.writeable = False
        self._still = np.zeros((3, self.count))
        self._axes = {k: self._axis_slopes(k) for k in {k for k in self.axis_of if k >= 0}}

    def _add(self, surface: int, what: str, value: float) -> None:
        self.columns[surface, what] = len(self._true)
        self.owner.append((surface, what))
        self._true.append(value)

    def _plane(self, k: int, plane: Plane) -> None:
        self._add(k, "offset", plane.offset)
        if plane.axis is None:
            self.swings[k] = _swings(plane)
            for turn, _ in enumerate(self.swings[k]):
                self._add(k, f"turn{turn}", 0.0)

    def _axis(self, group: tuple[int, ...]) -> None:
        first = self.solid.surfaces[group[0]]
        assert not isinstance(first, Plane)
        for a, unit in enumerate(across_axis(first.direction)):
            self._add(group[0], f"place{a}", float(first.point @ unit))
        for k in group:
            self.axis_of[k] = group[0]
            surface = self.solid.surfaces[k]
            if isinstance(surface, Cylinder):
                self._add(k, "radius", surface.radius)
            elif isinstance(surface, Cone):
                self._add(k, "slope", surface.slope * TURN_LENGTH)
                self._add(k, "apex", float(surface.point @ surface.direction))

    def unit(self, k: int, what: str) -> Array:
        """Gradient (count,) of one unknown."""
        return np.asarray(self._units[self.columns[k, what]])

    def still(self, *surfaces: int) -> bool:
        """True if none of the surfaces is a plane that can turn: levels and axes are then linear in the unknowns."""
        return self.swings.keys().isdisjoint(surfaces)

    def at(self, x: Array) -> Placed:
        """The surfaces at the values ``x`` (count,) of the unknowns."""
        return Placed(self, x, {k: self._turned(k, x) for k in self.swings})

    def _turned(self, k: int, x: Array) -> tuple[Array, Array]:
        """The unit normal (3,) of a plane that can turn, and its gradient (3, count)."""
        plane = self.solid.surfaces[k]
        assert isinstance(plane, Plane)
        normal, slopes = plane.normal, np.zeros((3, self.count))
        for turn, swing in enumerate(self.swings[k]):
            column = self.columns[k, f"turn{turn}"]
            normal = normal + swing * x[column] / TURN_LENGTH
            slopes[:, column] = swing / TURN_LENGTH
        length = math.hypot(*normal.tolist())
        unit = normal / length
        return unit, (slopes - unit[:, None] * (unit @ slopes)) / length

    def normal(self, k: int) -> tuple[Array, Array]:
        """The normal (3,) of a plane that cannot turn, and its gradient (3, count), which is 0."""
        plane = self.solid.surfaces[k]
        assert isinstance(plane, Plane)
        return plane.normal, self._still

    def axis_slopes(self, k: int) -> Array:
        """Gradient (3, count) of a point of the axis of the round surface k: the point is linear in the unknowns."""
        return self._axes[self.axis_of[k]]

    def _axis_slopes(self, first: int) -> Array:
        surface = self.solid.surfaces[first]
        assert not isinstance(surface, Plane)
        gradient = np.zeros((3, self.count))
        for a, unit in enumerate(across_axis(surface.direction)):
            gradient[:, self.columns[first, f"place{a}"]] = unit
        return gradient

    def _names(self, k: int, what: str) -> list[str]:
        """The names of a surface, best first: of an axis those that say so, of a round side that of its feature."""
        if what.startswith("place"):
            group = [name for j, first in enumerate(self.axis_of) if first == k for name in self.solid.names_of(j)]
            axes = [name for name in group if name.endswith(".axis")]
            return sorted(axes or group, key=lambda name: (len(name), name))
        plain = [name.removesuffix(".axis").removesuffix(".wall").removesuffix(".round") for name in self.solid.names_of(k)]
        return sorted(plain, key=lambda name: (len(name), name))

    def loose(self, unknown: int) -> Loose:
        """What it means for a teacher that nothing fixes an unknown."""
        (k, what), words = self.owner[unknown], self.words(unknown)
        if what == "middle":
            return Loose(words, "", words, f"add a measure along {'xyz'[-1 - k]} across the part")
        name = next(iter(self._names(k, what)), "")
        axis = f"{name.removesuffix('.axis').removesuffix('.wall')}.axis"
        plane = self.solid.surfaces[k]
        if what == "offset" and name:
            square = not isinstance(plane, Plane) or plane.axis is not None
            ends = "add a measure that ends there" if square else "add a measure to an edge of it, or its angle"
            return Loose(words, name, name, ends)
        advice = {"radius": "add its diameter or its radius", "slope": "add the diameter of its other rim",
                  "apex": "add its depth, or a diameter at its rim"}
        if what.startswith("turn"):
            return Loose(words, name, words, "add an angle, or a measure to another edge of it")
        if what.startswith("place"):
            return Loose(words, name, words, f"add a measure along {words[-1]} to {axis}")
        return Loose(words, name, words, advice.get(what, "add a measure that ends there"))

    def words(self, unknown: int) -> str:
        """What an unknown is, in trade words, for messages."""
        k, what = self.owner[unknown]
        if what == "middle":
            return f"where the plane of symmetry is along {'xyz'[-1 - k]}"
        names = self._names(k, what)
        name = names[0] if names else "an unnamed face of " + " and ".join(self.solid.features[k])
        if what == "offset":
            return f"where {name} is"
        if what.startswith("turn"):
            return f"how {name} slopes"
        if what.startswith("place"):
            surface = self.solid.surfaces[k]
            assert not isinstance(surface, Plane)
            unit = across_axis(surface.direction)[int(what[-1])]
            where = "xyz"[int(np.argmax(np.abs(unit)))]
            return f"where the axis of {name.removesuffix('.axis').removesuffix('.wall')} is along {where}"
        return {"radius": f"how large {name} is", "slope": f"how {name} tapers", "apex": f"how deep {name} goes"}[what]


@dataclass(frozen=True, slots=True)
class Loose:
    """Something that nothing fixes. ``what``: in trade words, ``where slot.top is``; ``name``: the side, "" if it has none;
    ``told``: as ``what``, but a side that may lie anywhere by its name alone; ``advice``: what to do."""

    what: str
    name: str
    told: str
    advice: str


@dataclass(frozen=True, eq=False)
class Placed:
    """The surfaces as the values ``x`` (count,) of the unknowns place them; ``turned``: normals of planes that can turn, with
    their gradients."""

    unknowns: Unknowns
    x: Array
    turned: dict[int, tuple[Array, Array]]

    def plane(self, k: int) -> tuple[Array, Array, float, Array]:
        """Plane k: unit normal (3,), its gradient (3, count), offset, its gradient (count,)."""
        normal, slopes = self.turned[k] if k in self.turned else self.unknowns.normal(k)
        return normal, slopes, float(self.x[self.unknowns.columns[k, "offset"]]), self.unknowns.unit(k, "offset")

    def axis_point(self, k: int) -> tuple[Array, Array]:
        """A point (3,) of the axis of the round surface k, and its gradient (3, count)."""
        slopes = self.unknowns.axis_slopes(k)
        return slopes @ self.x, slopes


def _swings(plane: Plane) -> list[Array]:
    """For each turn unknown of a plane: the direction (3,) in which its normal moves."""
    inside = [a for a in range(3) if abs(plane.normal[a]) < SAME_DIRECTION]
    if inside:
        return [np.array(cross(UNITS[inside[0]], plane.normal))]
    across = np.array(cross(plane.normal, UNITS[0]))
    across = across / math.hypot(*across.tolist())
    return [across, np.array(cross(plane.normal, across))]
