"""Where two views and an auxiliary view stand on the sheet: in line with each other, as near the middle as leaves room for the
words and the pictorial. The equal gaps of the usual layout have no place here: the auxiliary view stands aslant. Sheet mm.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import product

import numpy as np
import shapely
from shapely import affinity
from shapely.geometry.base import BaseGeometry

from sheetgen.exercises.kinds.auxiliary.dressing import Asked, Folded
from sheetgen.geometry import Array
from sheetgen.projection import frame_of
from sheetgen.refusals import RefusedError
from sheetgen.sheet import Settings
from sheetgen.sheet.free import Taken, taken_of
from sheetgen.sheet.layout import Layout, Spacing, place_of
from sheetgen.sheet.paper import Box
from sheetgen.sheet.titleblock_ink import titleblock_box
from sheetgen.sight import PlacedView, Sights

GAPS = (44.0, 36.0, 52.0, 30.0)
"""mm between the two views, as they are tried: room for sizes, and for the reference line."""

WIDE_GAPS = (100.0, 120.0, 140.0, 160.0)
"""The same where a face looks so that its auxiliary view comes to stand between the two."""

CLEARS = {"third": (24.0, 32.0, 42.0, 54.0, 68.0, 84.0, 102.0), "first": (16.0, 24.0, 34.0, 46.0, 60.0, 76.0, 94.0)}
"""mm from the part to the reference line of the auxiliary view, as they are tried; in third angle the arrow stands there."""

AROUND, AROUND_SMALL, AROUND_NAMES = 20.0, 15.0, 12.0
"""mm kept round the two views: for two rows of sizes and for names; less on SMALL paper, where sizes have to find their places;
and between the views and what belongs to the auxiliary view."""

SMALL = 300.0
"""mm: width of paper on which all stands closer."""

BESIDE_PROJECTORS, BESIDE_LINE, BESIDE_HOME = 3.0, 0.5, 5.0
"""mm between projectors and the view that they have nothing to do with; between all that is the auxiliary view's and the
reference line of the others; between it and the view that it is projected from."""

INSET, OVER_BLOCK = 6.0, 4.0
"""mm kept along the frame, and round the title block."""

STEP, ROW = 6.0, 4.0
"""mm between the places tried; height of the boxes in which an area is laid out."""

TRIED = 2
"""So many of them are given, far enough apart to differ."""


@dataclass(frozen=True, slots=True)
class Needed:
    """The room that is needed besides: width and height, mm, of words and of the least pictorial."""

    words: tuple[float, float]
    pictorial: tuple[float, float]


def standings(
    asked: Asked, sights: Sights, settings: Settings, scale_name: str, scale: float, needed: Needed
) -> Iterator[Asked]:
    """The exercise with its two views placed at one scale, the ways that are preferred first; nothing if they have no room."""
    clears = CLEARS[settings.projection]
    for clear, gap in (*product(clears, GAPS), *product(clears[:2], WIDE_GAPS)):
        there = replace(asked, clear=clear)
        views = _at_origin(there, sights, settings, scale, gap)
        try:
            folded = there.folded(views)
        except RefusedError:
            continue
        if _meets(folded, views):
            continue
        places = list(_places(folded, views, settings, needed))
        for by in places[:TRIED]:
            yield replace(there, layout=_layout(views, settings, sights.solid.size, scale_name, scale, by))
        if places:
            return


def _at_origin(asked: Asked, sights: Sights, settings: Settings, scale: float, gap: float) -> tuple[PlacedView, PlacedView]:
    """The two views in line, the first with its lower left corner at (0, 0)."""
    front = frame_of("front", sights.solid.size)
    frames = [sights[name].view.frame for name in asked.views]
    sizes = [np.abs(frame.axes) @ sights.solid.size * scale for frame in frames]
    home, beside = (np.array(place_of(frame, front, settings.projection)) for frame in frames)
    step = beside - home
    at = np.where(step > 0, sizes[0] + gap, np.where(step < 0, -sizes[1] - gap, 0.0))
    return (PlacedView(sights[asked.home], scale, np.zeros(2)), PlacedView(sights[asked.beside], scale, at))


def in_line(home: str, beside: str, size: Array, settings: Settings) -> bool:
    """Whether two views stand beside each other, one column or one row apart."""
    front = frame_of("front", size)
    one, other = (np.array(place_of(frame_of(name, size), front, settings.projection)) for name in (home, beside))
    return int(np.abs(one - other).sum()) == 1


def _meets(folded: Folded, views: Sequence[PlacedView]) -> bool:
    """Whether the auxiliary view, its projectors or its name come too near the views that are given."""
    home, beside = (shapely.box(*view.box) for view in views)
    mine, name = folded.blocked()[:2]
    between = [shapely.LineString(folded.between.ends), *folded.between.boxes()]
    paths = shapely.MultiLineString(folded.carried.projectors)
    return bool(
        any(each.distance(other) < BESIDE_LINE for each in between for other in (mine, name, paths))
        or paths.distance(beside) < BESIDE_PROJECTORS or any(each.distance(beside) < AROUND_NAMES for each in (mine, name))
        or any(each.distance(home) < BESIDE_HOME for each in (mine, name)))


def _places(folded: Folded, views: Sequence[PlacedView], settings: Settings, needed: Needed) -> Iterator[Array]:
    """How far all goes (2,) to have room, with room left for the words and for the pictorial; near the middle first."""
    paper, block = settings.paper, titleblock_box(settings.block, settings.paper)
    frame = paper.frame
    free = AROUND_SMALL if paper.width < SMALL else AROUND
    around = [shapely.box(*view.box).buffer(free, join_style="mitre") for view in views]
    mine = [area.buffer(1.0, join_style="mitre") for area in folded.blocked()]
    pieces = shapely.union_all([*around, *mine])
    low_x, low_y, high_x, high_y = pieces.bounds
    x0, y0, x1, y1 = frame[0] + INSET, frame[1] + INSET, frame[2] - INSET, frame[3] - INSET
    if high_x - low_x > x1 - x0 or high_y - low_y > y1 - y0:
        return
    across, up = (np.arange(start, stop + 1e-9, STEP) for start, stop in (
        (x0 - low_x, x1 - high_x), (y0 - low_y, y1 - high_y)))
    blocked = shapely.box(block[0] - OVER_BLOCK, block[1], block[2], block[3] + OVER_BLOCK)
    middle = np.array([(frame[0] + frame[2] - low_x - high_x) / 2, (frame[1] + frame[3] - low_y - high_y) / 2])
    ways = sorted(product(across.tolist(), up.tolist()), key=lambda by: (round(float(np.hypot(*(by - middle))), 3), by))
    bare = taken_of(frame, block, [])
    rows: list[Box] = []
    given: list[Array] = []
    for by in ways:
        if affinity.translate(pieces, *by).intersects(blocked) or any(np.hypot(*(other - by)) < 3 * STEP for other in given):
            continue
        rows = rows or rows_of(pieces)
        if _has_room(bare.with_boxes([_moved(box, by) for box in rows]), frame, needed):
            given.append(np.round(by, 1))
            yield given[-1]


def _has_room(taken: Taken, area: Box, needed: Needed) -> bool:
    towards = area[0], area[3]
    (wide, tall), (across, up) = needed.words, needed.pictorial
    for first, second in (((wide, tall), (across, up)), ((across, up), (wide, tall))):
        place = taken.free_place(*first, towards, 2.0)
        if place is None:
            return False
        rest = taken.with_boxes([(place[0] - 2, place[1] - 2, place[0] + first[0] + 2, place[1] + first[1] + 2)])
        if rest.free_place(*second, towards, 2.0) is not None:
            return True
    return False


def rows_of(area: BaseGeometry) -> list[Box]:
    """An area as boxes, row by row."""
    x0, y0, x1, y1 = area.bounds
    low = np.arange(y0, y1, ROW)
    strips = np.array([shapely.box(x0, y, x1, min(y + ROW, y1)) for y in low.tolist()])
    parts = shapely.get_parts(shapely.intersection(area, strips))
    return [(a, b, c, d) for a, b, c, d in shapely.bounds(parts[shapely.area(parts) > 0]).tolist()]


def _moved(box: Box, by: Sequence[float]) -> Box:
    return box[0] + by[0], box[1] + by[1], box[2] + by[0], box[3] + by[1]


def _layout(
    views: Sequence[PlacedView], settings: Settings, size: Array, scale_name: str, scale: float, by: Array
) -> Layout:
    """The places of the two views; no spacing is told of them."""
    places = {view.view.name: tuple((view.origin + by).tolist()) for view in views}
    extents = {view.view.name: tuple((np.abs(view.view.frame.axes) @ size * scale).tolist()) for view in views}
    none = Spacing((), 0.0)
    return Layout(settings.paper, scale_name, scale, size * scale, none, none, places, extents)
