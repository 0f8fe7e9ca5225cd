"""What a construction is made of: lines of the answer, projectors, constructed points, and the stages that introduce them."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

import numpy as np

from sheetgen.geometry import Array, IntArray
from sheetgen.ink import Mark, Stroke
from sheetgen.projection import Arc, Free, LineKind, Shape, Straight, is_ellipse
from sheetgen.units import SAME_LEVEL


class Part(StrEnum):
    """What a stage does. Its value is its name in the wording, but for the views, which have names of their own."""

    BOXES = "boxes"            # the spacing, and a box for each view
    PLANE = "plane"            # the line of a cutting plane
    VIEW = "view"              # visible lines of one view
    MITRE = "mitre"            # the mitre line, and how a depth turns on it
    HIDDEN = "hidden"          # hidden lines of all views
    CURVES = "curves"          # curves in which surfaces meet, from points
    CENTRES = "centres"        # centre lines
    HATCHING = "hatching"      # the faces of a cut
    SIZES = "sizes"            # dimensions and names


@dataclass(frozen=True, eq=False)
class AnswerLine:
    """One line of the answer, as ``projection/lines.py`` counts them. ``view``: by its name; ``shape``: in the view's own axes;
    ``mark``: as the answer draws it; ``group``: the number of the features for whose sake it is drawn, -1 of a centre line;
    ``stretches``: of which stretches of edges it is joined, by their numbers in the view; ``rounds_off``: it is the arc of a
    rounded end or corner."""

    view: str
    kind: LineKind
    shape: Shape
    mark: Stroke
    group: int
    stretches: IntArray
    rounds_off: bool = False

    @property
    def curve(self) -> bool:
        """Whether it is built from points: neither straight nor an arc of a circle."""
        return isinstance(self.shape, Free) or is_ellipse(self.shape)

    @property
    def ends(self) -> Array:
        """Both ends (2, 2) in the view's own axes, or none (0, 2) of a closed line."""
        if isinstance(self.shape, Arc) and self.shape.closed:
            return np.zeros((0, 2))
        return np.array([self.shape.first, self.shape.last])

    @property
    def way(self) -> int | None:
        """0 of a straight line that is level on the sheet, 1 of one that is upright, else None."""
        if not isinstance(self.shape, Straight):
            return None
        across, up = np.abs(self.shape.q - self.shape.p).tolist()
        return 0 if up < SAME_LEVEL else 1 if across < SAME_LEVEL else None


@dataclass(frozen=True, eq=False)
class Dressed:
    """What a kind draws upon its views, in a stage of its own: what that does, what is said of it, and its marks."""

    part: Part
    sentences: tuple[str, ...]
    marks: tuple[Mark, ...]


@dataclass(frozen=True, eq=False)
class Projector:
    """How a place is carried from a view to another. ``axis``: of the part, 0, 1 or 2, whose ``level``, mm, it carries;
    ``source``, ``target``: views by name; ``path`` (2, 2) on the sheet from a drawn point to a new one, or (3, 2) by way of the
    mitre line; ``point``: whether it carries a point of a curve."""

    axis: int
    level: float
    source: str
    target: str
    path: Array
    point: bool = False


@dataclass(frozen=True, eq=False)
class Mitre:
    """The line at 45° on which depths turn between the top view and a side view: ``ends`` (2, 2) on the sheet. The place of a
    depth y on it is ``origin`` (2,) + y * ``step`` (2,)."""

    side: str
    ends: Array
    origin: Array
    step: Array

    def at(self, depth: float) -> Array:
        """Where a depth of the part, mm, turns (2,)."""
        return np.asarray(self.origin + depth * self.step)


@dataclass(frozen=True, eq=False)
class Stage:
    """One stage of a construction: what it introduces, and nothing else. ``part``, ``view``: what it does, in which view, "" if
    in several; ``heading`` and ``sentences``: as they are printed; ``lines``: of the answer; ``projectors``, and ``again``: those
    of stages before that serve this one too; ``points`` (n, 2) on the sheet: constructed points of curves. ``new``: in the
    answer's own pens, not yet dashed; ``construction``: thin lines, all of them new."""

    part: Part
    view: str
    heading: str
    sentences: tuple[str, ...]
    lines: tuple[AnswerLine, ...]
    projectors: tuple[Projector, ...]
    again: tuple[Projector, ...]
    points: Array
    new: tuple[Mark, ...]
    construction: tuple[Stroke, ...]
