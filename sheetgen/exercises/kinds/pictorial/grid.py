"""The grid of a sheet to draw a pictorial on: thin lines along its axes, so laid that a corner of its box is on a crossing."""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from sheetgen.exercises.drawing import INSET
from sheetgen.geometry import Array
from sheetgen.ink import Mark, Pen, Stroke, Text, circle
from sheetgen.sheet import Settings
from sheetgen.sheet.titleblock_ink import titleblock_box
from sheetgen.sight import PlacedView

PITCH = 5.0
"""mm along the axes from one line to the next (common practice, no source)."""

RING = 1.6
"""mm, radius of the ring round the crossing at which to begin."""

WORDS, STRIP = 2.5, 5.0
"""mm: height of the words about the grid, and of the strip at the head of the sheet that is left free for them."""

BESIDE_BLOCK, SHORTEST = 4.0, 1.0
"""mm kept free round the title block; a shorter piece of a line is not drawn."""


def grid_marks(view: PlacedView, settings: Settings) -> list[Mark]:
    """The grid for a pictorial that stands as ``view``: over the whole sheet but for the title block, with a ring round the
    crossing of the near lower corner, and words that tell its pitch."""
    paper, start = settings.paper, start_of(view)
    x0, y0, x1, y1 = paper.x0 + INSET, paper.y0 + INSET, paper.x1 - INSET, paper.y1 - INSET
    bx0, _, _, by1 = titleblock_box(settings.block, paper)
    ring = circle((float(start[0]), float(start[1])), RING, Pen.DIMENSION)
    room = shapely.box(x0, y0, x1, y1 - STRIP).difference(shapely.box(bx0 - BESIDE_BLOCK, y0 - 1, x1 + 1, by1 + BESIDE_BLOCK))
    marks: list[Mark] = []
    for way, apart in ways_of(view):
        for line in _family(start, way, apart, room):
            marks += [Stroke(shapely.get_coordinates(part), Pen.CONSTRUCTION)
                      for part in shapely.get_parts(shapely.intersection(line, room)) if part.length > SHORTEST]
    words = settings.wording.render(f"pictorial.grid_{'square' if view.view.frame.oblique else 'isometric'}", pitch=f"{PITCH:g}")
    return [*marks, ring, Text(words, (x0, y1 - WORDS), WORDS)]


def start_of(view: PlacedView) -> Array:
    """Where the lower front corner of the box stands that is nearest to the reader (2,)."""
    size, toward = view.view.solid.size, view.view.frame.toward
    return np.asarray(view.paper(np.array([size[0] if toward[0] > 0 else 0.0, 0.0, 0.0]))[0])


def ways_of(view: PlacedView) -> Iterator[tuple[Array, float]]:
    """The unit directions (2,) in which lines of the grid run, and how far apart (mm, square to them) those of one are."""
    if view.view.frame.oblique:
        yield from ((np.array([1.0, 0.0]), PITCH), (np.array([0.0, 1.0]), PITCH))
        return
    for axis in range(3):
        yield np.array(view.unit(axis)), PITCH * math.cos(math.pi / 6)


def _family(start: Array, way: Array, apart: float, room: BaseGeometry) -> Iterator[shapely.LineString]:
    """Lines along ``way``, ``apart`` from each other, one of them through ``start``, as many as meet the room."""
    x0, y0, x1, y1 = room.bounds
    corners = np.array([(x0, y0), (x1, y0), (x1, y1), (x0, y1)]) - start
    normal = np.array([-way[1], way[0]])
    off, along = corners @ normal, corners @ way
    for k in range(math.ceil(float(off.min()) / apart), math.floor(float(off.max()) / apart) + 1):
        foot = start + k * apart * normal
        yield shapely.LineString([foot + float(along.min()) * way, foot + float(along.max()) * way])
