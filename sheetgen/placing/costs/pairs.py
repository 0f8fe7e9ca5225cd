"""What two placings cost together: lines that meet, figures that are run into, sizes in the wrong order. Sheet millimetres."""

from __future__ import annotations

import numpy as np

from sheetgen.geometry import Array, Mask
from sheetgen.geometry.arrays import IntArray
from sheetgen.geometry.segments import Neighbours, Reach, edges_of, in_line, near, neighbours, reach_of, touched
from sheetgen.placing.candidate import NEXT_TIER, OVERSHOOT
from sheetgen.placing.columns import Elements, merged
from sheetgen.placing.table import Offers, boxes_grown
from sheetgen.placing.weights import HARD, WEIGHTS, Weights
from sheetgen.units import PARALLEL, SAME_DIRECTION, SAME_LEVEL, SAME_LINE, SAME_PLACE

CLOSE = 2.7              # mm: extension lines nearer beside each other, but not in one line, read as one
BEHIND = 15.3            # mm behind an extension line's start in which it seems to go on as what lies there
AT = 1.2                 # mm: an arrow or a leader's shoulder nearer to a line seems to belong to it
FIGURES_APART = 4.4      # mm between the space kept round two figures in one line: nearer, they read as one number
FIGURES_APART_ANYWHERE = 1.0    # mm between the space kept round any two figures: nearer, they read as one note
FIGURES_AT = 2.1         # mm between the space kept round figures and another's dimension line: nearer, they seem to be its
BY_EXTENSION = 0.6       # mm between the space kept round figures and another's extension line: nearer, they seem to touch
NAME_APART = 2.2         # mm beside a view's name, and half of FIGURES_APART beside figures, in one line
PAST = OVERSHOOT + 1.1   # mm: an extension line that goes on farther past an arrow is drawn to another dimension line
LINK = 7.0               # mm between arrows in one line under which two sizes seem to be links of a chain
A_LINK = 0.1             # mm within which they are
IN_LINE = 1.0            # mm: lines no farther apart than this stand in one line
NOTES_APART = 1.5        # mm between the space kept round two notes: nearer, they read as one
NEAR_EXTENSION = 2.0     # mm: a dimension line does not run beside another's extension line nearer than this
LINES_APART, ARC_APART = NEXT_TIER - 2.1, 3.0    # mm: nor beside another's dimension line, nor an angle's arc near one

Costs = tuple[IntArray, IntArray, Array]
"""Rows of two offers (k,), (k,), and what they cost together (k,), to be added up."""


def pair_costs(offers: Offers, weights: Weights = WEIGHTS) -> Array:
    """Cost (n, n) of each two offers of different items together."""
    n, lines = len(offers), merged(offers.lines, offers.extensions, offers.centres)
    reach = reach_of(lines.shapes.reshape(-1, 2, 2), 0.0)
    found = [*_lines_met(offers, lines, reach, weights), _lined_up(offers, reach, weights), _arrows_met(offers, weights)]
    found += [*_figures_met(offers, lines, reach, weights), _figures_close(offers, weights)]
    found += [_notes_close(offers, weights), _order(offers, weights), _views(offers, weights), _uneven(offers, weights)]
    one, other, cost = (np.concatenate(part) for part in zip(*found, strict=True))
    pair = np.bincount(one * n + other, weights=cost, minlength=n * n).reshape(n, n)
    return np.asarray(pair + pair.T)


def _lines_met(offers: Offers, lines: Elements, reach: Reach, weights: Weights) -> list[Costs]:
    """What lines cost that cross, touch or run beside each other; of ``lines``, dimension lines and leaders come first."""
    (segments, owner), count = lines, len(offers.lines.offer)
    label = offers.item[owner]
    distance = np.where(np.arange(len(segments)) < count, LINES_APART, max(CLOSE, AT))
    pairs = neighbours(segments, segments, distance, (label, label), reach)
    line, on_line = pairs.i < count, pairs.j < count

    def costs(which: IntArray, cost: Array | float) -> Costs:
        return owner[pairs.i[which]], owner[pairs.j[which]], np.broadcast_to(cost, len(which))

    crosses = pairs.crossing()
    through = np.where(offers.leader[owner[pairs.i[crosses]]], weights.leader_through_extension, weights.line_through_extension)
    crossing = np.where(
        line[crosses], np.where(on_line[crosses], HARD, through), np.where(on_line[crosses], 0.0, weights.extensions_cross / 2))
    beside = pairs.beside(LINES_APART)
    beside = beside[line[beside] & on_line[beside]]
    beside = beside[~in_line(segments[pairs.i[beside]], segments[pairs.j[beside]])]
    along = pairs.beside(NEAR_EXTENSION)
    close = pairs.beside(CLOSE, SAME_LINE)
    at = pairs.end_at(AT, np.flatnonzero(on_line))
    strange = _strange(offers, lines, pairs.i[at], pairs.j[at])
    stops = pairs.end_at(AT, np.flatnonzero(line & ~on_line & (pairs.j < count + len(offers.extensions.offer))), AT)
    stops = np.setdiff1d(stops, crosses)
    chords = np.flatnonzero(line & on_line & _arcs(offers)[owner[pairs.j]])
    return [
        costs(pairs.end_at(AT, chords), HARD),
        costs(pairs.end_at(ARC_APART, chords), weights.arc_at_line),
        costs(crosses, crossing),
        costs(beside, HARD),
        costs(along[line[along] & (pairs.j[along] >= count)], HARD),
        costs(close[~line[close] & (pairs.j[close] >= count)], weights.extensions_close / 2),
        costs(at[strange], weights.arrow_at_line),
        costs(at[~strange & _passed(offers, lines, pairs, at)], weights.arrow_passed),
        costs(stops, weights.ends_at_line),
    ]


def _arcs(offers: Offers) -> Mask:
    """Which offers (n,) are an angle's arc: they have lines, but neither a straight dimension line nor a leader."""
    arcs = ~offers.leader & (np.bincount(offers.lines.offer, minlength=len(offers)) > 0)
    arcs[offers.spans.offer] = False
    return np.asarray(arcs)


def _lined_up(offers: Offers, reach: Reach, weights: Weights) -> Costs:
    """What extension lines cost that go on as lines of other sizes which measure from, or mark, another level; ``reach``: of all
    lines, these come after the dimension lines."""
    (segments, owner), feet = offers.extensions, np.concatenate([offers.feet.shapes, offers.crossings.shapes])
    others, of_other = merged(offers.extensions, offers.centres)
    if not len(segments):
        return owner, owner, np.zeros(0)
    start, way = segments[:, :2], segments[:, 2:] - segments[:, :2]
    behind = np.hstack([start, start - BEHIND * way / np.hypot(way[:, 0], way[:, 1])[:, None]])
    pairs = neighbours(behind, others, CLOSE, (offers.item[owner], offers.item[of_other]), reach.part(len(offers.lines.offer)))
    beside = pairs.beside(CLOSE)
    exact = pairs.apart(beside) < SAME_LINE
    i, j = pairs.i[beside], pairs.j[beside]
    axis = offers.axis[owner[i]]
    apart = np.abs(feet[i, axis] - feet[j, axis])
    false = np.flatnonzero(~((apart < SAME_LEVEL) | (exact & np.isnan(apart))))
    one, other = np.divmod(np.unique(owner[i[false]] * len(offers) + of_other[j[false]]), len(offers))
    return one, other, np.full(len(one), weights.lined_up)


def _arrows_met(offers: Offers, weights: Weights) -> Costs:
    """What arrows cost that meet in one point, but for links of a chain; and lines that seem to be such links, as their arrows
    stand all but point to point in one line, though they measure from different levels."""
    spans, owner = offers.spans
    tips = np.concatenate([spans[:, None, :2], spans[:, None, 2:4]])
    of, way = np.concatenate([owner, owner]), np.tile(spans[:, 2:4] - spans[:, :2], (2, 1))
    i, j = near(tips, tips, LINK, (offers.item[of], offers.item[of]))
    x, y, length = np.stack([*way.T, np.hypot(*way.T)])
    turned = np.abs(x[i] * y[j] - y[i] * x[j]) > PARALLEL * length[i] * length[j]
    apart_x, apart_y = (tips[j, 0] - tips[i, 0]).T
    apart = np.maximum(np.abs(apart_x), np.abs(apart_y))
    # In one line, one after the other: their arrows stand back to back.
    behind = (x[i] * apart_x + y[i] * apart_y) * np.where(i < len(spans), -1.0, 1.0) > 0.0
    off = np.abs(x[i] * apart_y - y[i] * apart_x) / length[i]
    one, other = i % len(spans), j % len(spans)
    seem = ~turned & behind & (off < IN_LINE) & (apart > A_LINK) & (one < other)
    met = turned & (apart < AT)
    which = np.concatenate([np.flatnonzero(met), np.flatnonzero(seem)])
    price = np.where(met, weights.arrows_meet / 2, weights.seem_chain)
    return of[i[which]], of[j[which]], price[which]


def _strange(offers: Offers, lines: Elements, i: IntArray, j: IntArray) -> Mask:
    """Which pairs of lines (k,), (k,) are of a line that is none the second's arrows may touch: links of a chain share an
    extension line, and may touch each other's dimension lines."""
    (segments, owner), count = lines, len(offers.lines.offer)
    way = segments[:, 2:] - segments[:, :2]
    way = way / np.hypot(way[:, 0], way[:, 1])[:, None]
    out = np.zeros((len(offers), 2))
    extensions = slice(count, count + len(offers.extensions.offer))
    out[owner[extensions]] = way[extensions]
    (own_x, own_y), (x, y) = out.T.take(owner[j], axis=1), way.T.take(i, axis=1)
    shared = np.abs(own_x * y - own_y * x) < PARALLEL
    either_leads = offers.leader[owner[i]] | offers.leader[owner[j]]
    return np.where(i < count, either_leads, ~(shared & ((own_x != 0.0) | (own_y != 0.0))))


def _passed(offers: Offers, lines: Elements, pairs: Neighbours, which: IntArray) -> Mask:
    """Of ``which`` pairs of a line and a dimension line that has an arrow at it the line is an extension line of a size along
    another axis, and goes on past the arrow: it seems to be drawn to there."""
    count, i, j = len(offers.lines.offer), pairs.i[which], pairs.j[which]
    extension = (i >= count) & (i < count + len(offers.extensions.offer))
    one, other = offers.axis[lines.offer[i]], offers.axis[lines.offer[j]]
    (off_a, off_b), (along_a, along_b) = (tuple(end.take(which) for end in ends) for ends in (pairs.off, pairs.along))
    tip = np.where(np.abs(off_a) < np.abs(off_b), along_a, along_b)
    return np.asarray(extension & (one >= 0) & (other >= 0) & (one != other) & (pairs.length.take(which) - tip > PAST))


def _figures_met(offers: Offers, lines: Elements, reach: Reach, weights: Weights) -> list[Costs]:
    """What figures cost that lines of others, or other figures, run into, and names that stand between a view and its sizes."""
    boxes, of_box = offers.boxes
    sides, of_side = edges_of(boxes), np.repeat(of_box, 4)
    others, of_other = merged(lines, Elements(sides, of_side))
    of_sides = reach_of(sides.reshape(-1, 2, 2), 0.0)
    i, j = touched(boxes, others, (offers.item[of_box], offers.item[of_other]), reach.and_of(of_sides))
    met = of_box[i], of_other[j], np.full(len(i), HARD)
    of_another = _at_a_line(offers, weights)
    by_extension = _by_extension(offers, weights)
    named = np.flatnonzero(offers.row[of_side] >= 0)
    if not len(named):
        return [met, of_another, by_extension]
    within, side = touched(offers.between.shapes, sides[named])
    size, name = np.divmod(np.unique(offers.between.offer[within] * len(offers) + of_side[named[side]]), len(offers))
    return [met, of_another, by_extension, (size, name, np.full(len(size), weights.name_within))]


def _at_a_line(offers: Offers, weights: Weights) -> Costs:
    """What figures cost that stand so near over or under a dimension line of another size that they seem to be its."""
    (boxes, of_box), (lines, of_line) = offers.boxes, offers.lines.of(~offers.leader)
    up = boxes[:, 3] - boxes[:, 0]
    aside = FIGURES_AT / np.hypot(up[:, 0], up[:, 1])[:, None] * up
    taller = boxes + np.stack([-aside, -aside, aside, aside], axis=1)
    i, j = touched(taller, lines, (offers.item[of_box], offers.item[of_line]))
    one, other = np.divmod(np.unique(of_box[i] * len(offers) + of_line[j]), len(offers))
    return one, other, np.full(len(one), weights.figures_at_line)


def _by_extension(offers: Offers, weights: Weights) -> Costs:
    """What figures cost that stand all but on an extension line of another size: it strikes them out, or reads as a 1."""
    (boxes, of_box), (lines, of_line) = offers.boxes, offers.extensions
    i, j = touched(boxes_grown(boxes, BY_EXTENSION), lines, (offers.item[of_box], offers.item[of_line]))
    one, other = np.divmod(np.unique(of_box[i] * len(offers) + of_line[j]), len(offers))
    return one, other, np.full(len(one), weights.figures_by_extension)


def _figures_close(offers: Offers, weights: Weights) -> Costs:
    """What figures cost that stand so near beside each other in one line that they may be read as one number, or as part of a
    view's name; and those that all but touch, however they lie."""
    boxes, of_box = offers.boxes
    along = boxes[:, 1] - boxes[:, 0]
    wide = np.hypot(along[:, 0], along[:, 1])
    aside = np.where(offers.row[of_box] >= 0, NAME_APART, FIGURES_APART / 2)[:, None] * along / wide[:, None]
    wider = boxes + np.stack([-aside, aside, aside, -aside], axis=1)
    item = offers.item[of_box]
    # Compared along all ways in which figures lie, so that boxes that are near by that do meet.
    i, j = near(wider, wider, 0.0, (item, item))
    same = np.abs(along[i, 0] * along[j, 1] - along[i, 1] * along[j, 0]) < PARALLEL * wide[i] * wide[j]
    roomier = boxes_grown(boxes, FIGURES_APART_ANYWHERE / 2)
    one, other = near(roomier, roomier, 0.0, (item, item))
    i, j = np.concatenate([i[same], one]), np.concatenate([j[same], other])
    one, other = np.divmod(np.unique(of_box[i] * len(offers) + of_box[j]), len(offers))
    return one, other, np.full(len(one), weights.figures_close / 2)


def _notes_close(offers: Offers, weights: Weights) -> Costs:
    """What notes cost that stand so near each other that they read as one."""
    boxes, of_box = offers.boxes
    noted = np.flatnonzero(offers.leader[of_box])
    item = offers.item[of_box[noted]]
    if not (item != item[:1]).any():
        return noted[:0], noted[:0], np.zeros(0)
    met, _ = near(boxes[noted], boxes[noted], NOTES_APART, (item, item))
    if not len(met):
        return met, met, np.zeros(0)
    noted = noted[np.unique(met)]
    sides, owner = edges_of(boxes[noted]), np.repeat(of_box[noted], 4)
    pairs = neighbours(sides, sides, NOTES_APART, (offers.item[owner], offers.item[owner]))
    close = pairs.beside(NOTES_APART)
    one, other = np.divmod(np.unique(owner[pairs.i[close]] * len(offers) + owner[pairs.j[close]]), len(offers))
    return one, other, np.full(len(one), weights.notes_close / 2)


def _order(offers: Offers, weights: Weights) -> Costs:
    """Shorter sizes outside longer ones of the same view, side by side and drawn out the same way."""
    spans, owner = offers.spans
    a, b, out = spans[:, :2], spans[:, 2:4], spans[:, 4:6]
    along = b - a
    length = np.hypot(along[:, 0], along[:, 1])
    along = along / length[:, None]
    # Parallel and drawn out the same way: to a millionth, as both come from the same exact directions.
    way = np.hstack([out, np.abs(along) * np.sign(along[:, :1] * along[:, 1:] + SAME_DIRECTION)])
    steps = np.round(way / PARALLEL).astype(np.int32).T
    item, view = offers.item[owner], offers.view[owner]
    pairs = length[:, None] < length - SAME_PLACE
    pairs &= item[:, None] != item
    pairs &= view[:, None] == view
    for step in steps:
        pairs &= step[:, None] == step
    i, j = _places(pairs)
    onward = out[:, 0] * along[:, 0] + out[:, 1] * along[:, 1]
    across = out - onward[:, None] * along
    across = across / np.hypot(across[:, 0], across[:, 1])[:, None]
    # Side by side, seen along the way they are drawn out.
    lean = onward / (out[:, 0] * across[:, 0] + out[:, 1] * across[:, 1])
    rows = np.hstack([a, along, across, lean[:, None], length[:, None]]).T
    x, y, across_x, across_y = rows[[0, 1, 4, 5]].take(j, axis=1)
    from_x, from_y = a.T.take(i, axis=1)
    outside = np.flatnonzero((from_x - x) * across_x + (from_y - y) * across_y > 1.0)
    i, j = i[outside], j[outside]
    x, y, along_x, along_y, across_x, across_y, lean, stop = rows.take(j, axis=1)
    ends = []
    for end in (a, b):
        to_x, to_y = end.T.take(i, axis=1)
        to_x, to_y = to_x - x, to_y - y
        ends.append(to_x * along_x + to_y * along_y - lean * (to_x * across_x + to_y * across_y))
    shared = np.minimum(np.maximum(*ends), stop) - np.maximum(np.minimum(*ends), 0.0)
    hit = shared > 1.0
    one, other = owner[i[hit]], owner[j[hit]]
    return one, other, np.where(offers.view[one] < 0, weights.shorter_outside, weights.shorter_outside_view)


def _views(offers: Offers, weights: Weights) -> Costs:
    """Sizes along one axis that stand on different views."""
    straight = np.zeros(len(offers), dtype=bool)
    straight[offers.spans.offer] = True
    some = np.flatnonzero(straight & (offers.view >= 0))
    item, view, axis = (of.take(some).astype(np.int16) for of in (offers.item, offers.view, offers.axis))
    i, j = _places((view[:, None] != view) & (axis[:, None] == axis) & (item[:, None] < item))
    return some[i], some[j], np.full(len(i), weights.apart)


def _uneven(offers: Offers, weights: Weights) -> Costs:
    """Names of one row of views at different heights."""
    boxes, of_box = offers.boxes
    named = np.flatnonzero(offers.row[of_box] >= 0)
    some, height = of_box[named], boxes[named, 0, 1]
    row, item = offers.row[some], offers.item[some]
    tiers = np.abs(height[:, None] - height) / NEXT_TIER
    i, j = _places((row[:, None] == row) & (item[:, None] < item) & (tiers > SAME_PLACE))
    return some[i], some[j], weights.names_uneven * tiers[i, j]


def _places(of: Mask) -> tuple[IntArray, IntArray]:
    """Where a table (n, m) of them is true, row by row: half of the time of numpy's."""
    flat = np.flatnonzero(of)
    row = flat // max(1, of.shape[1])
    return row, flat - row * of.shape[1]
