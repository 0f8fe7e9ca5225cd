"""A part cut along one of its planes, ready to be drawn: the view in section, and the view that shows the cutting plane."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from sheetgen.exercises.drawing import Dressing
from sheetgen.exercises.kinds.section.plane_line import Path, path_marks, without_path
from sheetgen.geometry import Array
from sheetgen.ink import Mark, Text, text_box
from sheetgen.problem import Problem
from sheetgen.problem.cutting import CuttingPlane, without_ribs
from sheetgen.projection import Section, Straight, goes_on, section_of
from sheetgen.refusals import Reason, RefusedError
from sheetgen.sheet import Settings
from sheetgen.sheet.hatching import hatching, slope_for, spacing_for
from sheetgen.sheet.layout import views_asked
from sheetgen.sight import PlacedView, Sight
from sheetgen.solid import Plane, Solid, SolidError, Stretch
from sheetgen.units import SAME_COSINE

ON_BOUNDARY = 0.05
"""mm: a visible line so near the centre line on which a half section ends would be drawn in its place."""


BESIDE_FACE = 3.0
"""mm: a cutting plane so near a face that is parallel to it cuts off a slice, and its line stands beside that of the face: at 1:2
they are 1.5 mm apart, and corners of the plane's line are as thick as outlines (common practice, no source)."""


@dataclass(frozen=True, eq=False)
class Cut(Dressing):
    """The views of a part of which ``drawn`` is in ``section`` along a ``plane``, which ``home`` shows; ``path``: there;
    ``letter``: of it."""

    plane: CuttingPlane
    drawn: str
    home: str
    section: Section
    path: Path
    letter: str

    def name(self, view: str, settings: Settings) -> str:
        """The name of a view; that of the one in section has the plane's letters, and says whether it is a half section."""
        says = super().name(view, settings)
        half = "yes" if self.plane.sort == "half" else "no"
        return settings.wording.render("section.name", view=says, letter=self.letter, half=half) if view == self.drawn else says

    def lines(self, views: Sequence[PlacedView]) -> list[Array]:
        """The cutting plane's line and its arrows."""
        return [line for view in self._of(views, self.home) for line in self.path.lines(view)]

    def blocked(self, views: Sequence[PlacedView]) -> list[shapely.Polygon]:
        """Round its ends, arrows and letters."""
        return [box for view in self._of(views, self.home) for box in self.path.boxes(view, self.letter)]

    def slopes(self, views: Sequence[PlacedView]) -> dict[int, float]:
        """Along its hatching no leader should run."""
        return {k: self.slope for k, view in enumerate(views) if view.view.name == self.drawn}

    def looked_at(self, view: str) -> tuple[tuple[str, int], ...]:
        """Hatching: thin, even, at its angle, on the cut faces only; and the plane's line: thick ends, arrows, letters."""
        hatching = (("hatching", 4),) if view == self.drawn else ()
        return (*hatching, *((("cutting_plane", 3),) if view == self.home else ()))

    def marks(self, views: Sequence[PlacedView], texts: Sequence[Text]) -> list[Mark]:
        """The hatching, and the line of the cutting plane with arrows and letters."""
        return [*self.hatching(views, texts), *self.plane_line(views)]

    def hatching(self, views: Sequence[PlacedView], texts: Sequence[Text]) -> list[Mark]:
        """The hatching of the view in section, clear of the texts."""
        return [mark for view in self._of(views, self.drawn) for mark in self.hatched(view, texts)]

    def plane_line(self, views: Sequence[PlacedView]) -> list[Mark]:
        """The line of the cutting plane with arrows and letters."""
        return [mark for view in self._of(views, self.home) for mark in path_marks(self.path, view, self.letter)]

    def spacing(self, view: PlacedView) -> float:
        """mm between lines of hatching in the view in section."""
        return spacing_for(float(self._faces(view).area))

    @cached_property
    def slope(self) -> float:
        """Degrees of the hatching."""
        lines = [piece.points() for outline in self.section.outlines for piece in outline.pieces if isinstance(piece, Straight)]
        return slope_for(np.array(lines).reshape(-1, 2, 2))

    def hatched(self, view: PlacedView, texts: Sequence[Text]) -> list[Mark]:
        """The hatching of a view as the one in section, clear of the texts."""
        return [*hatching(self._faces(view), self.slope, self.spacing(view), [text_box(text, 0.0) for text in texts])]

    def _faces(self, view: PlacedView) -> BaseGeometry:
        """What is hatched, on the sheet."""
        return shapely.transform(self.section.hatched, lambda points: points * view.scale + view.origin)

    def _of(self, views: Sequence[PlacedView], name: str) -> Iterator[PlacedView]:
        return (view for view in views if view.view.name == name)


def cuts_of(problem: Problem, settings: Settings) -> Iterator[Cut | RefusedError]:
    """The part cut along each of its planes, that which its seed chooses first; of those that cannot be drawn right, why."""
    planes = problem.planes
    first = problem.identity.seed % max(1, len(planes))
    for plane in (*planes[first:], *planes[:first]):
        try:
            yield cut_along(problem, settings, plane)
        except RefusedError as error:
            yield error


def cut_along(problem: Problem, settings: Settings, plane: CuttingPlane) -> Cut:
    """The part cut along a plane. Raises: RefusedError if that cannot be drawn right."""
    if any(_beside_face(problem.solid, plane, stretch) for stretch in plane.stretches(plane.view)):
        raise RefusedError([Reason("in section, the cutting plane runs too near a face of the part")])
    sides = [view for view in views_asked(settings.side) if view in ("left", "right")]
    drawn = sides[0] if plane.view == "side" else plane.view
    try:
        left = plane.cut(problem.solid, drawn)
        bare = without_ribs([feature for _, feature in problem.features], plane)
        section = section_of(left, drawn, _symmetry(problem, plane), plane.cut(bare, drawn) if bare else None)
    except SolidError as error:
        raise RefusedError([Reason(f"in section, {error.reason}")]) from None
    if not goes_on(left, drawn):
        raise RefusedError([Reason("in section, the faces of the cut do not go on where the plane turns")])
    if plane.sort == "half":
        _check_boundary(section, plane)
    home = "front" if plane.view == "top" or (plane.view == "side" and plane.sort == "full") else "top"
    path = Path.of(plane, drawn, home, problem.solid.size)
    at_home = problem.sights[home].view
    sights = {drawn: Sight(section.view), home: Sight(without_path(at_home, path))}
    return Cut(sights, plane, drawn, home, section, path, settings.wording.render("section.letter"))


def _beside_face(solid: Solid, plane: CuttingPlane, stretch: Stretch) -> bool:
    """Whether a stretch of the plane runs beside, or in, a face that is parallel to it."""
    for k, surface in enumerate(solid.surfaces):
        if not isinstance(surface, Plane) or abs(float(surface.normal[plane.axis])) < 1 - SAME_COSINE:
            continue
        face = solid.vertices[solid.triangles[solid.owner == k]].reshape(-1, 3)
        low, high = float(face[:, plane.along].min()), float(face[:, plane.along].max())
        if abs(float(face[0, plane.axis]) - stretch.level) < BESIDE_FACE and low < stretch.high and stretch.low < high:
            return True
    return False


def _symmetry(problem: Problem, plane: CuttingPlane) -> tuple[str, ...]:
    """The planes of symmetry that the view in section has: an offset plane cuts the two halves of a part at two depths."""
    return tuple(axis for axis in problem.symmetry if plane.sort != "offset" or axis != "xyz"[plane.along])


def _check_boundary(section: Section, plane: CuttingPlane) -> None:
    """Raise RefusedError if a visible line lies where a half section ends: the centre line, which is to part it from the outside
    view, would not be seen."""
    frame = section.view.frame
    at = np.zeros(3)
    at[plane.along] = plane.turns[0]
    level = float(frame.flat(at)[0])
    for line in section.view.visible_lines:
        if isinstance(line, Straight) and max(abs(float(line.p[0]) - level), abs(float(line.q[0]) - level)) < ON_BOUNDARY:
            raise RefusedError([Reason("in section, an edge lies where the half section ends")])
