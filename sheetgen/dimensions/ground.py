"""The ground on which sizes are placed: the lines already drawn, forbidden areas, and what each offer costs there."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
import numpy.typing as npt
import shapely

from sheetgen.dimensions.candidate import Offer, Seg, boxes_of
from sheetgen.solid.surfaces import Array

Owned = npt.NDArray[np.int64]

HARD = 1e6               # cost of what must never be printed
CROSS_VISIBLE = 7.0      # a dimension line crosses a visible line
EXTENSION_CROSS = 2.5    # an extension line crosses a visible line
LEADER_CROSS = 2.0       # a leader crosses a visible line
CROSS_THIN = 0.6         # any of them crosses a hidden or centre line
WITHIN = 3.0             # figures stand within the part's outline
STARTS_ON_LINE = 8.0     # an extension line starts on, or too near, a line that is not its own
LONG_WAY = 25.0          # mm: an extension line that runs over the part for longer begins to read as an edge ...
RIGHT_ACROSS = 0.5       # ... and costs this for each mm more
BESIDE = 5.0             # mm: a dimension line nearer than this beside a line of the part reads as one of them
COVERS = 0.6             # mm: an extension line nearer than this beside a line covers it
TOUCH = 1e-3             # mm: nearer to a line's end than this is at its end
SAMPLES = 5              # points of a line at which it is asked whether it runs over the part


@dataclass(frozen=True, eq=False)
class Ground:
    """``visible``, ``thin`` (hidden and centre): polylines (k, 2) on the sheet, coarse curves will do; ``blocked``: areas nothing
    may enter (title block, notes); ``area``: where marks may be; ``outlines``: the shadows of the views."""

    visible: Sequence[Array]
    thin: Sequence[Array]
    blocked: Sequence[shapely.Polygon]
    area: tuple[float, float, float, float]
    outlines: Sequence[shapely.Geometry]

    @cached_property
    def _segments(self) -> tuple[Array, Array, Array]:
        """Visible and thin lines as segments (n, 4), and those of both that are long enough to run beside something."""
        visible, thin = segments_of(self.visible), segments_of(self.thin)
        both = np.concatenate([visible, thin])
        return visible, thin, both[np.hypot(both[:, 2] - both[:, 0], both[:, 3] - both[:, 1]) > 1.5]

    @cached_property
    def _tree(self) -> shapely.STRtree:
        lines = [shapely.LineString(points) for points in (*self.visible, *self.thin)]
        return shapely.STRtree(np.array([*lines, *self.blocked], dtype=object))

    def within_reach(self, offers: Sequence[Offer], most: int) -> list[Offer]:
        """Those of one item's offers that stay on the sheet and out of blocked areas; the ``most`` cheapest of them."""
        cost = np.array([offer.cost for offer in offers])
        for part in (lambda offer: offer.lines, lambda offer: offer.extensions):
            segments, owner = flattened(offers, part)
            cost[owner[self._forbidden(segments)]] = HARD
        if any(offer.over > 1.0 for offer in offers):       # what must stand beside the part is sorted by whether it does
            segments, owner = flattened(offers, lambda offer: offer.lines)
            np.add.at(cost, owner, self._over(segments))
        order = np.argsort(np.round(cost, 6), kind="stable")
        return [offers[k] for k in order[:most] if cost[k] < HARD]

    def line_costs(self, offers: Sequence[Offer]) -> Array:
        """Cost (n,) of each offer by itself: its own, and that of where its lines lie; HARD or more if it may not be used."""
        total = np.array([offer.cost for offer in offers])
        lines, of_line = flattened(offers, lambda offer: offer.lines)
        ends, of_end = flattened(offers, lambda offer: offer.extensions)
        leader = np.array([offer.leader for offer in offers], dtype=bool)
        visible, thin, long = self._segments
        is_leader = leader[of_line]
        np.add.at(total, of_line, crossing(lines, visible).sum(axis=1) * np.where(is_leader, LEADER_CROSS, CROSS_VISIBLE))
        np.add.at(total, of_end, crossing(ends, visible).sum(axis=1) * EXTENSION_CROSS)
        for segments, owner in ((lines, of_line), (ends, of_end)):
            np.add.at(total, owner, crossing(segments, thin).sum(axis=1) * CROSS_THIN)
        over = np.array([offer.over for offer in offers])
        np.add.at(total, of_line, self._over(lines) * over[of_line])
        long_way = self._over(ends)
        np.add.at(total, of_end, long_way * over[of_end] + np.maximum(long_way - LONG_WAY, 0.0) * RIGHT_ACROSS)
        if len(ends):
            near, _ = self._tree.query(shapely.points(ends[:, :2]), predicate="dwithin", distance=COVERS)
            np.add.at(total, of_end[np.unique(near)], STARTS_ON_LINE)
        np.add.at(total, of_line, (beside(lines, long, BESIDE).any(axis=1) & ~is_leader) * HARD)
        np.add.at(total, of_line, beside(lines, long, COVERS).any(axis=1) * HARD)
        np.add.at(total, of_end, beside(ends, long, COVERS).any(axis=1) * HARD)
        return total

    def _forbidden(self, segments: Array) -> npt.NDArray[np.bool_]:
        x0, y0, x1, y1 = self.area
        xs, ys = segments[:, 0::2], segments[:, 1::2]
        bad = (xs.min(axis=1) < x0) | (xs.max(axis=1) > x1) | (ys.min(axis=1) < y0) | (ys.max(axis=1) > y1)
        for block in self.blocked:
            bx0, by0, bx1, by1 = block.bounds
            bad |= (xs.max(axis=1) > bx0) & (xs.min(axis=1) < bx1) & (ys.max(axis=1) > by0) & (ys.min(axis=1) < by1)
        return np.asarray(bad)

    def _over(self, segments: Array) -> Array:
        """mm (n,) of each segment that lie over the part, by samples."""
        share = (np.arange(SAMPLES) + 0.5) / SAMPLES
        x = segments[:, :1] + share * (segments[:, 2:3] - segments[:, :1])
        y = segments[:, 1:2] + share * (segments[:, 3:4] - segments[:, 1:2])
        inside = np.zeros(x.shape, dtype=bool)
        for outline in self.outlines:
            shapely.prepare(outline)
            inside |= shapely.contains_xy(outline, x, y)
        return np.asarray(inside.mean(axis=1) * np.hypot(segments[:, 2] - segments[:, 0], segments[:, 3] - segments[:, 1]))

    def text_costs(self, offers: Sequence[Offer], boxes: Array, owner: Owned) -> Array:
        """What the figures of each offer (n,) cost where they stand: HARD on a line, in a blocked area or off the sheet.

        ``boxes`` (k, 4, 2): of all figures; ``owner`` (k,): whose each is.
        """
        total = np.zeros(len(offers))
        if not len(boxes):
            return total
        shapes = text_shapes(boxes)
        hit, _ = self._tree.query(shapes, predicate="intersects")
        total[owner[np.unique(hit)]] += HARD
        total[_on_own_lines(offers, boxes, owner)] += HARD
        x0, y0, x1, y1 = self.area
        low, high = boxes.min(axis=1), boxes.max(axis=1)
        outside = (low[:, 0] < x0) | (low[:, 1] < y0) | (high[:, 0] > x1) | (high[:, 1] > y1)
        np.add.at(total, owner[outside], HARD)
        middle = boxes.mean(axis=1)
        for outline in self.outlines:
            np.add.at(total, owner, shapely.contains_xy(outline, middle[:, 0], middle[:, 1]) * WITHIN)
        return total


def text_shapes(boxes: Array) -> npt.NDArray[np.object_]:
    """Boxes (k, 4, 2) of figures as areas."""
    return np.asarray(shapely.polygons(np.concatenate([boxes, boxes[:, :1]], axis=1)))


def text_boxes(offers: Sequence[Offer]) -> tuple[Array, Owned]:
    """The boxes (k, 4, 2) of the figures of all offers, and whose each is (k,)."""
    each = [boxes_of(offer.lettering()) for offer in offers]
    flat = [box for boxes in each for box in boxes]
    return np.array(flat).reshape(-1, 4, 2), np.repeat(np.arange(len(offers)), [len(boxes) for boxes in each])


def _on_own_lines(offers: Sequence[Offer], boxes: Array, owner: Owned) -> Owned:
    """Which of the offers that may have figures on lines of their own do."""
    mine = np.array([offer.own for offer in offers], dtype=bool)
    if not mine.any():
        return np.zeros(0, dtype=np.int64)
    segments, of_segment = flattened(offers, _own_lines)
    figure, line = np.nonzero(owner[:, None] == of_segment[None, :])
    cores = np.asarray(shapely.buffer(text_shapes(boxes), -0.5, join_style="mitre"))
    hit = shapely.intersects(cores[figure], shapely.linestrings(segments[line].reshape(-1, 2, 2)))
    return np.unique(owner[figure[hit]])


def _own_lines(offer: Offer) -> tuple[Seg, ...]:
    """The lines of an offer that its figures could touch; a straight dimension line keeps clear of them or is broken."""
    if not offer.own:
        return ()
    return (*offer.extensions, *offer.centres) if offer.centres else (*offer.lines, *offer.extensions)


def flattened(offers: Sequence[Offer], part: Callable[[Offer], Sequence[Seg]]) -> tuple[Array, Owned]:
    """All segments (n, 4) of a part of the offers, and for each the number of its offer."""
    each = [part(offer) for offer in offers]
    return np.array([segment for mine in each for segment in mine]).reshape(-1, 4), np.repeat(
        np.arange(len(offers)), [len(mine) for mine in each]
    )


def segments_of(polylines: Sequence[Array]) -> Array:
    """Segments (n, 4) of polylines: x and y of both ends."""
    if not polylines:
        return np.zeros((0, 4))
    points = np.concatenate(polylines)
    joint = np.ones(len(points) - 1, dtype=bool)
    joint[np.cumsum([len(line) for line in polylines])[:-1] - 1] = False
    return np.hstack([points[:-1], points[1:]])[joint]


def _by_rows(function: Callable[[Array, Array], npt.NDArray[np.bool_]], one: Array, other: Array) -> npt.NDArray[np.bool_]:
    """A pairwise test in slices small enough for the processor's cache: three times as fast as in one go."""
    if not len(one) or not len(other):
        return np.zeros((len(one), len(other)), dtype=bool)
    rows = max(1, 8192 // len(other))
    return np.concatenate([function(one[i:i + rows], other) for i in range(0, len(one), rows)])


def crossing(one: Array, other: Array) -> npt.NDArray[np.bool_]:
    """(n, m) True where segments (n, 4) and (m, 4) cross inside the first; touching the first's end is no crossing."""
    return _by_rows(_crossing, one, other)


def _crossing(one: Array, other: Array) -> npt.NDArray[np.bool_]:
    px, py = one[:, 0, None], one[:, 1, None]
    rx, ry = one[:, 2, None] - px, one[:, 3, None] - py
    qx, qy = other[None, :, 0], other[None, :, 1]
    sx, sy = other[None, :, 2] - qx, other[None, :, 3] - qy
    length_r, length_s = np.hypot(rx, ry), np.hypot(sx, sy)
    det = rx * sy - ry * sx
    slanted = np.abs(det) > 1e-6 * length_r * length_s
    det = np.where(slanted, det, np.inf)
    wx, wy = qx - px, qy - py
    t, u = (wx * sy - wy * sx) / det, (wx * ry - wy * rx) / det
    edge_r, edge_s = TOUCH / length_r, TOUCH / length_s
    return np.asarray(slanted & (t > edge_r) & (t < 1 - edge_r) & (u > -edge_s) & (u < 1 + edge_s))


def beside(one: Array, other: Array, distance: float) -> npt.NDArray[np.bool_]:
    """(n, m) True where two segments are parallel, nearer than ``distance`` mm, and side by side over more than 1 mm."""
    return _by_rows(lambda a, b: _beside(a, b, distance), one, other)


def _beside(one: Array, other: Array, distance: float) -> npt.NDArray[np.bool_]:
    px, py = one[:, 0, None], one[:, 1, None]
    rx, ry = one[:, 2, None] - px, one[:, 3, None] - py
    length = np.hypot(rx, ry)
    rx, ry = rx / length, ry / length
    ax, ay = other[None, :, 0] - px, other[None, :, 1] - py
    bx, by = other[None, :, 2] - px, other[None, :, 3] - py
    off_a, off_b = rx * ay - ry * ax, rx * by - ry * bx
    along_a, along_b = ax * rx + ay * ry, bx * rx + by * ry
    shared = np.minimum(np.maximum(along_a, along_b), length) - np.maximum(np.minimum(along_a, along_b), 0.0)
    parallel = np.abs(off_a - off_b) < 0.02 * np.abs(along_a - along_b)
    return np.asarray(parallel & (np.maximum(np.abs(off_a), np.abs(off_b)) < distance) & (shared > 1.0))
