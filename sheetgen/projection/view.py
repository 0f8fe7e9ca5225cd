"""A view: the solid seen along one direction, as lines."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from sheetgen.geometry import Array, IntArray
from sheetgen.projection.centre import centre_lines
from sheetgen.projection.covers import Covers, covers_of
from sheetgen.projection.frames import ISOMETRIC_CORNER, Frame, frame_of
from sheetgen.projection.hidden import Stretches, facing_of, placed, stretches_in
from sheetgen.projection.linework import Linework, linework_of
from sheetgen.projection.shapes import Shape, Straight
from sheetgen.solid import Solid


@dataclass(frozen=True, eq=False)
class View:
    """Visible, hidden and centre lines in the view's own axes, mm: u to the reader's right, v up."""

    solid: Solid
    frame: Frame
    linework: Linework
    stretches: Stretches        # where each edge of the solid is seen and where hidden
    flat: Array                 # (n, 2) the solid's vertices in the view
    facing: IntArray            # (m,) how the solid's facets face, as ``facing_of`` tells
    covers: Covers              # what hides
    symmetry: tuple[str, ...]   # the axes to whose mid-planes the part is symmetric

    @property
    def name(self) -> str:
        """front, top, left, right, rear, bottom, isometric, cavalier or cabinet."""
        return self.frame.name

    @property
    def visible_lines(self) -> tuple[Shape, ...]:
        """Visible lines with their true shapes."""
        return self.linework.visible

    @property
    def hidden_lines(self) -> tuple[Shape, ...]:
        """Hidden lines with their true shapes."""
        return self.linework.hidden

    @cached_property
    def centre_lines(self) -> tuple[Straight, ...]:
        """Centre lines of the view drawn at full size."""
        return self.centre_lines_at(1.0)

    def centre_lines_at(self, scale: float) -> tuple[Straight, ...]:
        """Centre lines of the view drawn at ``scale`` (paper mm per part mm): how far they reach is the same on every paper."""
        return centre_lines(self.solid, self.frame, self.linework, self.symmetry, scale)

    @cached_property
    def visible(self) -> list[Array]:
        """Visible lines as polylines (k, 2)."""
        return [shape.points() for shape in self.linework.visible]

    @cached_property
    def extent(self) -> tuple[Array, Array]:
        """The lower left and the upper right corner (2,) of the box round the visible lines."""
        points = np.concatenate(self.visible)
        return points.min(axis=0), points.max(axis=0)

    @cached_property
    def hidden(self) -> list[Array]:
        """Hidden lines as polylines (k, 2)."""
        return [shape.points() for shape in self.linework.hidden]


def view_of(solid: Solid, name: str, corner: str = ISOMETRIC_CORNER, symmetry: tuple[str, ...] = ()) -> View:
    """Return the view called ``name``; ``corner`` (of a pictorial) as in ``frames.CORNERS``.

    ``symmetry``: the axes (x, y) to whose mid-planes the part is symmetric; their traces get centre lines.
    Raises: KeyError for an unknown name.
    """
    return view_in(solid, frame_of(name, solid.size, corner), symmetry)


def view_in(solid: Solid, frame: Frame, symmetry: tuple[str, ...] = ()) -> View:
    """Return the view that a frame of any direction of sight gives; ``symmetry``: as of ``view_of``."""
    points, facing = placed(solid.vertices, frame), facing_of(solid, frame)
    covers = covers_of(solid, frame, points, facing)
    stretches = stretches_in(solid, frame, points, facing, covers)
    flat = points[:, :2].copy()
    linework = linework_of(solid, frame, flat, stretches)
    return View(solid, frame, linework, stretches, flat, facing, covers, symmetry)
