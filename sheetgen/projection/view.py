"""A view: the solid seen along one direction, as lines."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property

from sheetgen.geometry import Array
from sheetgen.projection.centre import centre_lines
from sheetgen.projection.frames import ISOMETRIC_CORNER, Frame, frame_of
from sheetgen.projection.hidden import Pieces, visible_pieces
from sheetgen.projection.linework import Linework, linework_of
from sheetgen.projection.shapes import Shape, Straight
from sheetgen.solid import Solid


@dataclass(frozen=True, eq=False)
class View:
    """Visible, hidden and centre lines in the view's own axes, mm: u to the reader's right, v up."""

    solid: Solid
    frame: Frame
    linework: Linework
    centre_lines: tuple[Straight, ...]
    pieces: Pieces              # where each edge of the solid is seen and where hidden
    flat: Array                 # (n, 2) the solid's vertices in the view

    @property
    def name(self) -> str:
        """front, top, left, right, rear, bottom or isometric."""
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
    def visible(self) -> list[Array]:
        """Visible lines as polylines (k, 2)."""
        return [shape.points() for shape in self.linework.visible]

    @cached_property
    def hidden(self) -> list[Array]:
        """Hidden lines as polylines (k, 2)."""
        return [shape.points() for shape in self.linework.hidden]


def at_scale(view: View, scale: float, symmetry: tuple[str, ...] = ()) -> View:
    """The view with the centre lines it has when drawn at ``scale`` (paper mm per part mm)."""
    if scale == 1.0:
        return view
    return replace(view, centre_lines=centre_lines(view.solid, view.frame, view.linework, symmetry, scale))


def view_of(solid: Solid, name: str, corner: str = ISOMETRIC_CORNER, symmetry: tuple[str, ...] = ()) -> View:
    """Return the view called ``name``; ``corner`` (of the isometric) as in ``frames.CORNERS``.

    ``symmetry``: the axes (x, y) to whose mid-planes the part is symmetric; their traces get centre lines.
    Raises: KeyError for an unknown name.
    """
    frame = frame_of(name, solid.size, corner)
    flat = frame.flat(solid.vertices)
    pieces = visible_pieces(solid, frame, flat)
    linework = linework_of(solid, frame, flat, pieces)
    return View(solid, frame, linework, centre_lines(solid, frame, linework, symmetry), pieces, flat)
