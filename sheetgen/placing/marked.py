"""What a strict reader finds amiss with lines and figures of sizes, each for itself. Sheet millimetres.

Lengths are drawing practice or judgement (common practice, no source); they stand here and not with the weights, because they
say what is marked, whatever a place costs.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from itertools import product

import numpy as np
import shapely

from sheetgen.geometry import Array
from sheetgen.placing.nearer import AT_TIP, box_of, lengths_among
from sheetgen.placing.search import Placement
from sheetgen.sight import PlacedView, heights_before
from sheetgen.units import PARALLEL

BESIDE = 6.0             # mm between two numbers, or a number and a name, side by side
ANYWHERE = 2.2           # mm between any two figures, however they lie
SAMPLE = 0.25            # mm
FIGURES, BEND = 1.4, 2.0    # mm between figures, or a leader's bend, and an outline
BY_LINE = 1.2            # mm between figures and a line of another size
PAST = 3.0               # mm that an extension line goes on past a stranger's arrow
SEEMS_EDGE, GOES_ON = 12.0, 2.5   # mm of an extension line over the part, from the end of an edge in line with it
AT_CORNER, OFF_TIP = 0.8, 2.0     # mm between a leader and a corner of the part, farther than that from its tip
KNOT = 1.5               # mm between the tips of arrows of different axes


def crosses(lengths: Sequence[Placement], lines: Sequence[Array]) -> bool:
    """Whether a dimension line crosses lines of the part elsewhere than at its arrows' tips."""
    if not lines or not lengths:
        return False
    outlines = shapely.MultiLineString(lines)
    met = shapely.intersection([shapely.MultiLineString(placement.drawn.lines) for placement in lengths], outlines)
    points, of = shapely.get_coordinates(met, return_index=True)
    tips = np.array([[head.tip for head in placement.drawn.heads] for placement in lengths])[of]
    return bool((np.hypot(*np.moveaxis(points[:, None] - tips, 2, 0)).min(axis=1) > AT_TIP).any()) if len(points) else False


def longest_over(placements: Iterable[Placement], views: Sequence[PlacedView]) -> float:
    """mm of the extension line that runs over the part for longest."""
    lines = [line for placement in placements for line in placement.drawn.extensions]
    return float(_over(np.stack(lines), views).max()) if lines else 0.0


def _over(ends: Array, views: Sequence[PlacedView]) -> Array:
    """mm for which each of the segments ``ends`` (n, 2, 2) runs over the part."""
    length = np.hypot(*(ends[:, 1] - ends[:, 0]).T)
    counts = np.maximum(1, np.round(length / SAMPLE)).astype(np.int64)
    of = np.repeat(np.arange(len(ends)), counts)
    share = (np.arange(len(of)) - np.repeat(np.cumsum(counts) - counts, counts) + 0.5) * SAMPLE / length[of]
    points = ends[of, 0] + share[:, None] * (ends[of, 1] - ends[of, 0])
    over = np.sum([view.shadow.over(points) for view in views], axis=0)
    return np.asarray(SAMPLE * np.bincount(of, over, len(ends)))


def goes_on_from_edge(placements: Iterable[Placement], edges: Sequence[Array], view: PlacedView) -> bool:
    """Whether an extension line goes on from the end of an edge, in its direction, and runs over the part."""
    lines = [line for placement in placements for line in placement.drawn.extensions]
    if not lines or not edges:
        return False
    extensions = np.stack(lines)
    extensions = extensions[_over(extensions, [view]) > SEEMS_EDGE]
    both = np.concatenate([np.stack(edges), np.stack(edges)[:, ::-1]])               # from the far end to the near one
    way, along = (each[:, 1] - each[:, 0] for each in (extensions, both))
    way, along = (each / np.hypot(*each.T)[:, None] for each in (way, along))
    near = np.hypot(*np.moveaxis(extensions[:, None, 0] - both[None, :, 1], 2, 0)) < GOES_ON
    return bool((near & (way @ along.T > 1 - PARALLEL)).any())


def leader_at_corner(placements: Iterable[Placement], edges: Sequence[Array]) -> bool:
    """Whether a leader runs through a corner of the part, elsewhere than at its tip."""
    leaders = [one for one in placements if len(one.drawn.heads) == 1]
    if not leaders or not edges:
        return False
    corners = np.concatenate(edges)
    for one in leaders:
        away = corners[np.hypot(*(corners - one.drawn.heads[0].tip).T) > OFF_TIP]
        if len(away) and shapely.dwithin(shapely.points(away), shapely.MultiLineString(one.drawn.lines), AT_CORNER).any():
            return True
    return False


def arrows_meet(one: Placement, other: Placement) -> bool:
    """Whether an arrow of each of two lengths along different axes points at one place."""
    (ax, ay), (bx, by) = (placement.drawn.heads[0].along for placement in (one, other))
    return abs(ax * by - ay * bx) > PARALLEL and any(
        math.hypot(*(head.tip - their.tip)) < KNOT for head, their in product(one.drawn.heads, other.drawn.heads))


def close_to_lines(placements: Sequence[Placement], lines: Sequence[Array]) -> bool:
    """Whether figures, or the bend of a leader, come close to lines of the part."""
    outlines = shapely.MultiLineString(lines)
    shapely.prepare(outlines)
    bends = [bend for placement in placements if len(placement.drawn.heads) == 1 for bend in placement.drawn.lines[0][1:]]
    boxes = [box_of(text) for placement in placements for text in placement.drawn.texts]
    return bool(shapely.dwithin(boxes, outlines, FIGURES).any()
                or (bends and shapely.dwithin(shapely.points(np.array(bends)), outlines, BEND).any()))


def arrow_passed(one: Placement, other: Placement) -> bool:
    """Whether an arrow of one length lies on an extension line of the other, across its own way, that goes on past it."""
    (ax, ay), (bx, by) = (placement.drawn.heads[0].along for placement in (one, other))
    if abs(ax * by - ay * bx) < PARALLEL:
        return False
    for head, (start, end) in product(one.drawn.heads, other.drawn.extensions):
        way = end - start
        on, off = float((head.tip - start) @ way), float(way[0] * (head.tip - start)[1] - way[1] * (head.tip - start)[0])
        length = float(np.hypot(*way))
        if abs(off) < AT_TIP * length and -AT_TIP * length < on < length * (length - PAST):
            return True
    return False


def side_by_side(placements: Sequence[Placement]) -> bool:
    """Whether figures stand so near in one line that they may be read as one number, or with a name as its figure; or all but
    touch, however they lie."""
    texts = [(text, k) for k, placement in enumerate(placements) for text in placement.drawn.texts]
    boxes, of = np.array([box_of(text) for text, _ in texts]), np.array([k for _, k in texts])
    apart = np.where(np.triu(of[:, None] != of), shapely.distance(boxes[:, None], boxes), np.inf)
    if (apart <= ANYWHERE).any():
        return True
    for a, b in np.argwhere(apart < BESIDE).tolist():
        one, other = texts[a][0], texts[b][0]
        if abs(one.along[0] * other.along[1] - one.along[1] * other.along[0]) > PARALLEL:
            continue
        corners = [shapely.get_coordinates(boxes[k]) for k in (a, b)]
        along, up = (np.array([each @ way for each in corners]) for way in (one.along, (-one.along[1], one.along[0])))
        between = along.min(axis=1).max() - along.max(axis=1).min()
        level = up.max(axis=1).min() - up.min(axis=1).max()
        if 0 <= between < BESIDE and level > one.height / 2:
            return True
    return False


def figures_by_line(placements: Sequence[Placement]) -> bool:
    """Whether figures stand all but on a line of another size."""
    lines = [shapely.MultiLineString([*one.drawn.lines, *one.drawn.extensions]) for one in placements]
    boxes = [(box_of(text), k) for k, one in enumerate(placements) for text in one.drawn.texts]
    near = shapely.dwithin(np.array([box for box, _ in boxes])[:, None], np.array(lines)[None], BY_LINE)
    near[np.arange(len(boxes)), [k for _, k in boxes]] = False
    return bool(near.any())


def line_across_extension(placements: Sequence[Placement]) -> bool:
    """Whether a dimension line crosses an extension line of another size, elsewhere than at its arrows' tips."""
    lengths = lengths_among(placements)
    lines = np.array([shapely.MultiLineString(one.drawn.lines) for one in lengths])
    others = np.array([shapely.MultiLineString(one.drawn.extensions) for one in placements])
    which, of = np.nonzero(shapely.intersects(lines[:, None], others[None]))
    for k, j in zip(which.tolist(), of.tolist(), strict=True):
        if placements[j] is not lengths[k]:
            points = shapely.get_coordinates(shapely.intersection(lines[k], others[j]))
            tips = np.array([head.tip for head in lengths[k].drawn.heads])
            if (np.hypot(*(points[:, None] - tips[None]).T).min(axis=0) > AT_TIP).any():
                return True
    return False


def leader_across_extension(placements: Sequence[Placement]) -> bool:
    """Whether a leader crosses an extension line of another size, elsewhere than at its tip."""
    others = [one for one in placements if one.drawn.extensions]
    if not others:
        return False
    extensions = np.array([shapely.MultiLineString(one.drawn.extensions) for one in others])
    for one in placements:
        if len(one.drawn.heads) == 1:
            met = shapely.get_coordinates(shapely.intersection(extensions, shapely.MultiLineString(one.drawn.lines)))
            if (np.hypot(*(met - one.drawn.heads[0].tip).T) > AT_TIP).any():
                return True
    return False


def sight_aside(view: PlacedView, arrow: Placement) -> bool:
    """Whether an arrow of sight does not stand before the part, but beside it."""
    head = arrow.drawn.heads[0]
    return bool(heights_before(view, head.tip[None], head.along)[0] > 0.0)
