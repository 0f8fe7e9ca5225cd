"""Where two views and an auxiliary view stand on the sheet: in line with each other, as near the middle as leaves room for the
words and the pictorial. The equal gaps of the usual layout have no place here: the auxiliary view stands aslant. Sheet mm.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import islice, product

import numpy as np
import shapely
from shapely import affinity

from sheetgen.exercises.kinds.auxiliary.dressing import Asked, Folded
from sheetgen.geometry import Array
from sheetgen.projection import frame_of
from sheetgen.refusals import RefusedError
from sheetgen.sheet import Settings
from sheetgen.sheet.free import Taken, rows_of, taken_of
from sheetgen.sheet.layout import Layout, Spacing, place_of
from sheetgen.sheet.paper import Box
from sheetgen.sheet.titleblock_ink import titleblock_box
from sheetgen.sight import PlacedView, Sights

GAPS = (44.0, 36.0, 52.0, 30.0, 26.0)
"""mm between the two views, as they are tried: room for sizes, and for the reference line."""

WIDE_GAPS = (100.0, 120.0, 140.0, 160.0)
"""The same where a face looks so that its auxiliary view comes to stand between the two."""

CLEARS = {"third": (24.0, 32.0, 42.0, 54.0, 68.0, 84.0, 102.0), "first": (16.0, 24.0, 34.0, 46.0, 60.0, 76.0, 94.0)}
"""mm from the part to the reference line of the auxiliary view, as they are tried; in third angle the arrow stands there."""

AROUND, AROUND_NAMES = (20.0, 15.0), (12.0, 8.0)
"""mm kept round the two views: for two rows of sizes and for names; and between the views and what belongs to the auxiliary view;
less on SMALL paper, where sizes have to find their places."""

SMALL = 300.0
"""mm: width of paper on which all stands closer."""

BESIDE_PROJECTORS, BESIDE_LINE, BESIDE_HOME = 3.0, 0.5, 5.0
"""mm between projectors and the view that they have nothing to do with; between all that is the auxiliary view's and the
reference line of the others; between it and the view that it is projected from."""

INSET, OVER_BLOCK = 6.0, 4.0
"""mm kept along the frame, and round the title block."""

STEP = (6.0, 4.0)
"""mm between the places tried; on SMALL paper."""

APART = 18.0
"""mm between two of them that are given: nearer, they hardly differ."""

TRIED, DISTANCES = 2, 3
"""So many of them are given; and of the distances of the reference line, so many at which there are
some."""


@dataclass(frozen=True, slots=True)
class Needed:
    """The room that is needed besides: width and height, mm, of words, which may be laid out in several ways, and of the least
    pictorial."""

    words: tuple[tuple[float, float], ...]
    pictorial: tuple[float, float]


def standings(
    asked: Asked, sights: Sights, settings: Settings, scale_name: str, scale: float, needed: Needed
) -> Iterator[tuple[Asked, ...]]:
    """The exercise with its two views placed at one scale, the ways that are preferred first: with the reference line at one
    distance from the part or a greater one. Each is tried with the equal distances at one side or the other, as far as they have
    room there, then without them. Nothing if the views have no room."""
    found = 0
    for gaps, clear in product((GAPS, WIDE_GAPS), CLEARS[settings.projection]):
        if found and gaps is WIDE_GAPS:
            return
        for gap in gaps:
            there = replace(asked, clear=clear)
            views = _at_origin(there, sights, settings, scale, gap)
            try:
                folded = there.folded(views)
            except RefusedError:
                continue
            if _meets(folded, views, AROUND_NAMES[settings.paper.width < SMALL]):
                continue
            if places := list(islice(_places(folded, views, settings, needed), TRIED)):
                layouts = [_layout(views, settings, sights.solid.size, scale_name, scale, by) for by in places]
                yield tuple(replace(there, layout=layout, side=side)
                            for sides in (_sides(there, views), [0.0]) for layout in layouts for side in sides)
                found += 1
                break
        if found == DISTANCES:
            return


def _sides(asked: Asked, views: Sequence[PlacedView]) -> list[float]:
    """At which sides of the view beside the equal distances have room, that first where their extension lines are shorter."""
    shown = {side: equal[0] for side in (-1.0, 1.0) if (equal := replace(asked, side=side).folded(views).equal)}
    return sorted(shown, key=lambda side: round(sum(math.dist(*line.tolist()) for line in shown[side].lines), 1))


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


def _meets(folded: Folded, views: Sequence[PlacedView], names: float) -> bool:
    """Whether the auxiliary view, its projectors or its name come too near the views that are given; ``names``: mm kept free for
    those of the views."""
    home, beside = (shapely.box(*view.box) for view in views)
    mine, name = folded.blocked()[:2]
    between = [shapely.LineString(folded.between.ends), *folded.between.boxes()]
    paths = shapely.MultiLineString(folded.carried.projectors)
    return bool(
        any(each.distance(other) < BESIDE_LINE for each in between for other in (mine, name, paths))
        or paths.distance(beside) < BESIDE_PROJECTORS or any(each.distance(beside) < names for each in (mine, name))
        or any(each.distance(home) < BESIDE_HOME for each in (mine, name)))


def _places(folded: Folded, views: Sequence[PlacedView], settings: Settings, needed: Needed) -> Iterator[Array]:
    """How far all goes (2,) to have room, with room left for the words and for the pictorial; near the middle first."""
    paper, block = settings.paper, titleblock_box(settings.block, settings.paper)
    frame = paper.frame
    small = paper.width < SMALL
    free, step = AROUND[small], STEP[small]
    around = [shapely.box(*view.box).buffer(free, join_style="mitre") for view in views]
    mine = [area.buffer(1.0, join_style="mitre") for area in folded.blocked()]
    pieces = shapely.union_all([*around, *mine])
    low_x, low_y, high_x, high_y = pieces.bounds
    x0, y0, x1, y1 = frame[0] + INSET, frame[1] + INSET, frame[2] - INSET, frame[3] - INSET
    if high_x - low_x > x1 - x0 or high_y - low_y > y1 - y0:
        return
    across, up = (np.arange(start, stop + 1e-9, step) for start, stop in (
        (x0 - low_x, x1 - high_x), (y0 - low_y, y1 - high_y)))
    blocked = shapely.box(block[0] - OVER_BLOCK, block[1], block[2], block[3] + OVER_BLOCK)
    middle = np.array([(frame[0] + frame[2] - low_x - high_x) / 2, (frame[1] + frame[3] - low_y - high_y) / 2])
    ways = sorted(product(across.tolist(), up.tolist()), key=lambda by: (round(float(np.hypot(*(by - middle))), 3), by))
    bare = taken_of(frame, block, [])
    rows: list[Box] = []
    given: list[Array] = []
    for by in ways:
        if affinity.translate(pieces, *by).intersects(blocked) or any(np.hypot(*(other - by)) < APART for other in given):
            continue
        rows = rows or rows_of(pieces)
        if _has_room(bare.with_boxes([_moved(box, by) for box in rows]), frame, needed):
            given.append(np.round(by, 1))
            yield given[-1]


def _has_room(taken: Taken, area: Box, needed: Needed) -> bool:
    towards = area[0], area[3]
    pairs = [pair for words in needed.words for pair in ((words, needed.pictorial), (needed.pictorial, words))]
    for first, second in pairs:
        place = taken.free_place(*first, towards, 2.0)
        if place is None:
            continue
        rest = taken.with_boxes([(place[0] - 2, place[1] - 2, place[0] + first[0] + 2, place[1] + first[1] + 2)])
        if rest.free_place(*second, towards, 2.0) is not None:
            return True
    return False


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
