"""Which flat faces can be asked for, and how each shows in each view: as an area, as a line, or not at all. View millimetres."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
import shapely

from sheetgen.geometry import Array
from sheetgen.projection import Area, LineKind, Straight, areas_of
from sheetgen.sight import PlacedView
from sheetgen.solid import Faces
from sheetgen.units import EDGE_ON, SAME_LINE

COVERED = 0.9
"""Share of a face seen edge-on that one line must tell of: else it shows as several lines, and none of them is its own."""

LEAST_LINE = 5.0
"""mm on paper: a shorter line takes no leader (common practice, no source)."""

LEAST_AREA = 1.6
"""mm on paper, radius of a circle in an area: a smaller one takes no dot of a leader (common practice, no source)."""

AROUND = 0.8
"""mm on paper kept free round a letter or number (common practice, no source)."""


@dataclass(frozen=True, eq=False)
class Room:
    """An area with the middle (2,) of the widest circle in it that is free of lines, on the sheet, and its ``radius`` there."""

    area: Area
    middle: Array
    radius: float


Shown = tuple[str, int] | None
"""How a face shows in a view: ("area", its number among the view's areas), ("line", among its straight lines), None if it does
not."""


class UnclearError(Exception):
    """A face shows in a view so that nobody could point at it."""


@dataclass(frozen=True, eq=False)
class Showing:
    """What shows of the ``faces`` of a solid in a view on its sheet."""

    view: PlacedView
    faces: Faces

    @cached_property
    def rooms(self) -> tuple[Room, ...]:
        """The areas of the view with the room in them, clear of hidden and centre lines too."""
        at, thin = self.view.origin, [shapely.LineString(line) for line in self.thin]
        found = []
        for area in areas_of(self.view.view, self.faces):
            polygon = shapely.transform(area.polygon, lambda points: points * self.view.scale + at)
            free = shapely.difference(polygon, shapely.buffer(shapely.union_all(thin), 0.01)) if thin else polygon
            circles = [shapely.maximum_inscribed_circle(part, tolerance=0.05) for part in shapely.get_parts(free)
                       if isinstance(part, shapely.Polygon) and not part.is_empty]
            widest = max(circles, key=lambda circle: round(float(circle.length), 3), default=None)
            if widest is None:                                          # no more than the thin line that runs through it
                found.append(Room(area, shapely.get_coordinates(shapely.point_on_surface(polygon))[0], 0.0))
                continue
            found.append(Room(area, shapely.get_coordinates(widest)[0], float(widest.length)))
        return tuple(found)

    @cached_property
    def thin(self) -> list[Array]:
        """Hidden and centre lines on the sheet."""
        return [line for kind in ("hidden", "centre") for line in self.view.coarse(kind)]

    @cached_property
    def lines(self) -> tuple[Straight, ...]:
        """The straight lines of the view, visible ones first."""
        return tuple(line for kind in (LineKind.VISIBLE, LineKind.HIDDEN) for line in self.view.lines(kind)
                     if isinstance(line, Straight))

    @cached_property
    def _areas_of_face(self) -> Mapping[int, Sequence[int]]:
        found: dict[int, list[int]] = {}
        for number, room in enumerate(self.rooms):
            found.setdefault(room.area.face, []).append(number)
        return found

    def of(self, face: int) -> Shown:
        """How a flat face shows.

        Raises: UnclearError if it shows as several areas or lines, or as one too small to point at.
        """
        view, surface = self.view.view, int(self.faces.surface[face])
        cosine = float(view.solid.table.axis[surface] @ view.frame.toward) * self._outward(face)
        if abs(cosine) < EDGE_ON:
            return "line", self._line(face)
        areas = self._areas_of_face.get(face, ()) if cosine > 0 else ()
        if not areas:
            return None
        if len(areas) > 1 or self.rooms[areas[0]].radius < LEAST_AREA:
            raise UnclearError
        return "area", areas[0]

    def _outward(self, face: int) -> float:
        """1 if the face looks the way its plane's axis does, else -1."""
        solid = self.view.view.solid
        facet = int(np.argmax(self.faces.of_facet == face))
        return float(np.sign(solid.normals[facet] @ solid.table.axis[int(self.faces.surface[face])]))

    def _line(self, face: int) -> int:
        """The number of the line as which a face shows that is seen edge-on."""
        solid = self.view.view.solid
        points = self.view.view.flat[np.unique(solid.triangles[self.faces.of_facet == face])]
        far = points[int(np.argmax(np.hypot(*(points - points[0]).T)))]
        other = points[int(np.argmax(np.hypot(*(points - far).T)))]
        length = float(np.hypot(*(other - far)))
        for number, line in enumerate(self.lines):
            way = (line.q - line.p) / line.length
            along, off = (np.array([far, other]) - line.p) @ way, np.abs((np.array([far, other]) - line.p) @ (-way[1], way[0]))
            share = min(float(along.max()), line.length) - max(float(along.min()), 0.0)
            if off.max() < SAME_LINE and share >= COVERED * length and line.length * self.view.scale >= LEAST_LINE:
                return number
        raise UnclearError
