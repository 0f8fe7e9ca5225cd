"""What an offer costs alone, in its surroundings: the lines already drawn, forbidden areas, what the part covers."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
import numpy.typing as npt
import shapely

from sheetgen.geometry import Array
from sheetgen.geometry.arrays import IntArray, Mask
from sheetgen.geometry.segments import Neighbours, Reach, lengths_of, neighbours, reach_of, segments_of, touched, touching
from sheetgen.placing.candidate import GAP
from sheetgen.placing.columns import merged
from sheetgen.placing.table import Offers, boxes_grown, middles_of
from sheetgen.placing.weights import HARD, Weights
from sheetgen.sight import Shadow
from sheetgen.units import NO_STEP

BESIDE = 5.0             # mm: a dimension line nearer than this beside a line of the part reads as one of them
BESIDE_THIN = 3.9        # mm: and than this beside a centre line, or a hidden one
BRUSH = 1.2              # mm: a piece of a curve both ends of which are nearer to a line than this is brushed by it
CORNER = 1.2             # mm: a corner nearer than this to a line is passed by it
PAST_START = 3.1         # mm of a line at either end of which that is another matter: what it starts from, or comes to
COVERS = 0.6             # mm: an extension line nearer than this beside a line covers it
NEAR = 2.1               # mm: nearer beside a line for longer than NEAR_FOR, an extension line and it read as one
NEAR_FOR = 4.3           # mm; no whole numbers, as distances in a view are
GOES_ON = 4.0            # mm between a dimension line and one of the part in line with it: nearer, one seems to go on
SEEMS_EDGE = 8.0         # mm over the part for which an extension line from the end of an edge reads as that edge going on
A_LITTLE = 0.2           # mm: over which no line lies on one of the part
SAME_CORNER = 0.05       # mm: a line that ends no farther from the corner an extension line comes from is its own
LONG = 1.5               # mm: a shorter piece of a curve has nothing run beside it
STRIDE = 1.5             # mm between the points of a line at which it is asked whether it runs over the part
ROOMY = 1.2              # mm round the space kept free round figures that no outline should come into
OWN_CLEAR = 0.4          # mm of the space round figures that lines of their own size may enter: an arc's stand nearer to it
OWN_CENTRE = 0.15        # and centre lines that mark what it measures: nearer, their end reads as a stroke of the figures


@dataclass(frozen=True, eq=False)
class Surroundings:
    """``visible``, ``thin`` (hidden and centre): polylines (k, 2) on the sheet, coarse curves will do; ``blocked``: areas nothing
    may enter (title block, notes); ``area``: where marks may be; ``shadows``: of the views; ``uncrossed``: thin lines that only
    extension lines may cross."""

    visible: Sequence[Array]
    thin: Sequence[Array]
    blocked: Sequence[shapely.Polygon]
    area: tuple[float, float, float, float]
    shadows: Sequence[Shadow]
    uncrossed: Sequence[Array] = ()

    @cached_property
    def _segments(self) -> tuple[Array, int, Mask]:
        """Lines as segments (n, 4), the visible ones first; how many these are; which (n,) are long enough to run beside."""
        visible = segments_of(self.visible)
        both = np.concatenate([visible, segments_of([*self.thin, *self.uncrossed])])
        return both, len(visible), lengths_of(both) > np.where(self._curved, LONG, A_LITTLE)

    @cached_property
    def _curved(self) -> Mask:
        """True for segments (n,) of curves."""
        lines = [*self.visible, *self.thin, *self.uncrossed]
        pieces = np.array([len(line) - 1 for line in lines], dtype=np.int64)
        return np.repeat(pieces > 1, pieces)

    @cached_property
    def _in_the_way(self) -> Array:
        """All lines as segments (n, 4), the sides of blocked areas among them."""
        return np.concatenate([self._segments[0], segments_of([shapely.get_coordinates(area) for area in self.blocked])])

    @cached_property
    def _reaches(self) -> tuple[Reach, Reach]:
        """How far these reach: the lines, and the lines with the blocked areas."""
        every, lines = reach_of(self._in_the_way.reshape(-1, 2, 2), 0.0), len(self._segments[0])
        return every.part(0, lines), every

    def first_costs(self, offers: Offers, weights: Weights) -> Array:
        """Cost (n,) of offers by which the best are chosen to be looked at closely; HARD or more if they leave the sheet."""
        cost = offers.cost.copy()
        for segments, owner in (offers.lines, offers.extensions, offers.centres):
            cost[owner[self._forbidden(segments)]] = HARD
        far = offers.over > weights.aside_over
        if far.any():
            segments, owner = offers.lines
            mine = far[owner]
            cost += _summed(owner[mine], len(cost), self._over(segments[mine]))
        return cost

    def line_costs(self, offers: Offers, weights: Weights) -> tuple[Array, Array]:
        """Cost (n,) of each offer by itself: its own, and that of where its lines lie, HARD or more if it may not be used; and
        what it costs (n,) that they end on lines of the drawing, or too near them."""
        n, count = len(offers), len(offers.lines.offer)
        segments, owner = merged(offers.lines, offers.extensions)
        length = self._over(segments)
        total = offers.cost + _summed(owner, n, offers.over[owner] * length)
        across = np.where(offers.view < 0, weights.right_across, weights.right_across_view)[owner[count:]]
        away = np.where(offers.view < 0, weights.long_way, weights.long_way_view)[owner[count:]]
        total += _summed(owner[count:], n, np.maximum(length[count:] - away, 0.0) * across)
        others, shown, long = self._segments
        # Only dimension lines keep a distance; of the rest it is asked what they cross and cover.
        wide = (np.arange(len(segments)) < count) & ~offers.leader[owner]
        pairs = neighbours(segments, others, np.where(wide, BESIDE, NEAR), reach=self._reaches[0])
        crosses = pairs.crossing()
        i, j = pairs.i[crosses], pairs.j[crosses]
        through = weights.extension_cross + weights.curve_cross * self._curved[j]
        lines_cross = weights.cross_visible + weights.line_curve_cross * self._curved[j]
        crossing = np.where(i >= count, through, np.where(offers.leader[owner[i]], weights.leader_cross, lines_cross))
        barred = j >= len(others) - len(segments_of(self.uncrossed))
        thin = np.where(barred, np.where(i < count, HARD, weights.cross_barred), weights.cross_thin)
        total += _summed(owner[i], n, np.where(j < shown, crossing, thin))
        along = pairs.beside(NEAR, COVERS, over=NEAR_FOR)
        along = along[~wide[pairs.i[along]]]
        total += _summed(owner[pairs.i[along]], n, np.full(len(along), weights.near_line))
        covers, beside = pairs.beside(COVERS, over=A_LITTLE), pairs.beside(BESIDE)
        too_near = (pairs.j[beside] < shown) | (pairs.apart(beside) < BESIDE_THIN)
        on = np.concatenate([covers, beside[too_near & wide[pairs.i[beside]]]])
        total[owner[pairs.i[on[long[pairs.j[on]]]]]] += HARD
        onward = pairs.beside(COVERS, over=-GOES_ON)
        seem = onward[(pairs.i[onward] >= count) & (pairs.j[onward] < shown) & (length[pairs.i[onward]] > SEEMS_EDGE)]
        seem = seem[offers.view[owner[pairs.i[seem]]] < 0]
        total += _summed(owner[pairs.i[seem]], n, np.full(len(seem), weights.edge_goes_on))
        onward = np.setdiff1d(onward[wide[pairs.i[onward]]], covers)
        total += _summed(owner[pairs.i[onward]], n, np.full(len(onward), weights.goes_on_as_line))
        total += self._brushing(offers, owner, count, pairs, weights)
        return total, self._end_costs(offers, segments, pairs, weights)

    def _brushing(self, offers: Offers, owner: IntArray, count: int, pairs: Neighbours, weights: Weights) -> Array:
        """What it costs each offer (n,) that its lines brush along curves, as a tangent does, or past corners of others:
        both read as a line of the part that goes on."""
        n, shown = len(offers), self._segments[1]
        curved = self._curved[pairs.j] & (pairs.j < shown)
        low, high = np.minimum(*pairs.along), np.maximum(*pairs.along)
        along = curved & (pairs.apart(np.arange(len(pairs.i))) < BRUSH) & (high > 0.0) & (low < pairs.length)
        straight = np.flatnonzero(~self._curved[pairs.j] & (pairs.j < shown))
        at = pairs.end_at(CORNER, straight, PAST_START)
        i = pairs.i[at]
        passed = at[(i < count) | (offers.view[owner[i]] < 0)]
        total = np.zeros(n)
        for which, price in ((np.flatnonzero(along), weights.brushes_curve), (passed, weights.passes_corner)):
            once = np.zeros(n, dtype=bool)
            once[owner[pairs.i[which]]] = True
            total += price * once
        return total

    def _end_costs(self, offers: Offers, segments: Array, pairs: Neighbours, weights: Weights) -> Array:
        """What it costs each offer (n,) that ends of its lines lie on lines of the drawing, or too near them; ``pairs`` of its
        ``segments``, dimension lines and leaders before extension lines, and those."""
        of_line, of_extension, of_span = offers.lines.offer, offers.extensions.offer, offers.spans.offer
        count, (starts, ends) = len(of_line), pairs.ends_on(COVERS)
        starts = starts[~self._from_corner(segments, count, pairs.i[starts], pairs.j[starts])]
        begins, stops, nears = np.zeros((3, len(segments)), dtype=bool)
        begins[pairs.i[starts]], stops[pairs.i[ends]] = True, True
        _, close = pairs.ends_on(NEAR)
        nears[pairs.i[close[pairs.j[close] < self._segments[1]]]] = True
        shoulders, arrows = np.flatnonzero(offers.leader[of_line]), _between_arrows(offers)
        strange = offers.spans.shapes[:, 6:].T == 0.0             # an arrow may touch the edge that is measured to
        on = np.concatenate([
            begins[count:], stops[count:], stops[shoulders], nears[shoulders], begins[arrows] & strange[0],
            stops[arrows] & strange[1]])
        price = np.repeat(
            [weights.starts_on_line, weights.ends_on_line, weights.turns_on_line, weights.turns_near_line, weights.arrow_on_line],
            [len(of_extension), len(of_extension), len(shoulders), len(shoulders), 2 * len(of_span)])
        owner = np.concatenate([of_extension, of_extension, of_line[shoulders], of_line[shoulders], of_span, of_span])
        return _summed(owner, len(offers), price * on)

    def _from_corner(self, segments: Array, count: int, i: IntArray, j: IntArray) -> Mask:
        """Of which pairs of ``segments`` (k,) and lines of the drawing (k,) the line ends in the corner from which the segment,
        if an extension line, comes: these are not the first ``count``."""
        ax, ay, bx, by = segments.T.take(i, axis=1)
        run, rise = bx - ax, by - ay
        length = np.hypot(run, rise)
        x, y = ax - GAP * run / length, ay - GAP * rise / length
        ax, ay, bx, by = self._segments[0].T.take(j, axis=1)
        near_a, near_b = (np.maximum(np.abs(px - x), np.abs(py - y)) <= SAME_CORNER for px, py in ((ax, ay), (bx, by)))
        return np.asarray((i >= count) & (near_a | near_b))

    def _forbidden(self, segments: Array) -> Mask:
        x0, y0, x1, y1 = self.area
        (ax, ay, bx, by) = segments.T
        left, right, under, above = np.minimum(ax, bx), np.maximum(ax, bx), np.minimum(ay, by), np.maximum(ay, by)
        bad = (left < x0) | (under < y0) | (right > x1) | (above > y1)
        for block in self.blocked:
            low_x, low_y, high_x, high_y = block.bounds
            bad |= (right > low_x) & (left < high_x) & (above > low_y) & (under < high_y)
        return np.asarray(bad)

    def _over(self, segments: Array) -> Array:
        """mm (n,) of each segment that lie over the part, by samples: at the same distances from the start of each, so that of
        two extension lines that start alike the longer one is over it for no less."""
        (ax, ay), length = segments.T[:2], lengths_of(segments)
        count = np.ceil(length / STRIDE).astype(np.int64)
        of = np.repeat(np.arange(len(segments)), count)
        at = (np.arange(len(of)) - np.repeat(np.cumsum(count) - count, count) + 0.5) * STRIDE
        way = (segments[:, 2:] - segments[:, :2]).T / np.maximum(length, NO_STEP)
        x, y = ax.take(of) + at * way[0].take(of), ay.take(of) + at * way[1].take(of)
        return np.minimum(_summed(of, len(segments), STRIDE * self._covered(x, y)), length)

    def _covered(self, x: Array, y: Array) -> Mask:
        """Which places ``x``, ``y`` (…) lie over the part."""
        covered = np.zeros(x.shape, dtype=bool)
        for shadow in self.shadows:
            covered |= shadow.at(x, y)
        return covered

    def text_costs(self, offers: Offers, weights: Weights) -> Array:
        """What the figures of each offer (n,) cost where they stand: HARD on a line, in a blocked area or off the sheet."""
        total = np.zeros(len(offers))
        boxes, owner = offers.boxes
        middle = middles_of(boxes)
        total[owner[touched(boxes, self._in_the_way, reach=self._reaches[1])[0]]] += HARD
        named, roomier = offers.row[owner] >= 0, boxes_grown(boxes, ROOMY)
        lines, shown, _ = self._segments
        close = np.zeros(len(boxes), dtype=bool)
        close[touched(roomier, lines[:shown], reach=self._reaches[0].part(0, shown))[0]] = True
        total += weights.figures_near_line * _summed(owner, len(total), close & ~named)
        for area in self.blocked:
            total[owner[shapely.contains_xy(area, middle[:, 0], middle[:, 1])]] += HARD
        total[_on_own_lines(offers)] += HARD
        x0, y0, x1, y1 = self.area
        x, y = np.ascontiguousarray(boxes.T)
        total[owner[((x < x0) | (x > x1) | (y < y0) | (y > y1)).any(axis=0)]] += HARD
        within = self._covered(middle[:, 0], middle[:, 1])
        total[owner[within & named]] += HARD          # a view's name in a view
        return total + weights.within * _summed(owner, len(total), within)


def _between_arrows(offers: Offers) -> IntArray:
    """Which pieces of straight dimension lines lie between the arrows, in the order of the offers' spans."""
    (lines, owner), (spans, of_span) = offers.lines, offers.spans
    tips = np.full((4, len(offers)), np.inf)
    tips[:, of_span] = spans[:, :4].T
    return np.flatnonzero((tips.take(owner, axis=1) == lines.T).all(axis=0))


def _on_own_lines(offers: Offers) -> IntArray:
    """Which of the offers that may have figures on lines of their own do."""
    boxes, of_box = offers.boxes.of(offers.own)
    if not len(boxes):
        return np.zeros(0, dtype=np.int64)
    centred = np.zeros(len(offers), dtype=bool)
    centred[offers.centres.offer] = True
    # A straight dimension line keeps clear of its figures or is broken for them; an arc's are looked at.
    both = merged(offers.lines.of(offers.own & ~centred), offers.extensions.of(offers.own)), offers.centres.of(offers.own)
    found = []
    for (segments, of_segment), entered in zip(both, (OWN_CLEAR, OWN_CENTRE), strict=True):
        figure, line = _of_one(of_box, of_segment)
        cores = boxes_grown(boxes.take(figure, axis=0), -entered)
        found.append(of_box[figure[touching(cores, segments.take(line, axis=0))]])
    return np.unique(np.concatenate(found))


def _of_one(one: IntArray, other: IntArray) -> tuple[IntArray, IntArray]:
    """Pairs of places in two lists of offers (n,), (m,) that hold the same one."""
    order = np.argsort(other, kind="stable")
    first, end = (other[order].searchsorted(one, side=side) for side in ("left", "right"))
    count = end - first
    i = np.repeat(np.arange(len(one)), count)
    return i, order[np.arange(len(i)) + np.repeat(first - np.cumsum(count) + count, count)]


def _summed(owner: IntArray, n: int, values: npt.NDArray[np.generic]) -> Array:
    return np.asarray(np.bincount(owner, weights=values, minlength=n), dtype=float)
