"""What two placings cost together: lines that meet, figures that are run into, sizes in the wrong order. Sheet millimetres."""

from __future__ import annotations

import numpy as np

from sheetgen.geometry import Array, Mask
from sheetgen.geometry.arrays import IntArray
from sheetgen.geometry.segments import edges_of, in_line, near, neighbours, touched
from sheetgen.placing.candidate import NEXT_TIER, SAME_LEVEL, SAME_LINE
from sheetgen.placing.costs.ground import HARD
from sheetgen.placing.table import Offers, Owned

LINE_THROUGH_EXTENSION = 26.0  # a dimension line crosses another's extension line
EXTENSIONS_CROSS = 1.5
LEADER_OVER = 9.0              # a leader crosses an extension line
EXTENSIONS_CLOSE = 20.0        # two extension lines run beside each other nearer than CLOSE mm, but not in one line
CLOSE = 2.7
LINED_UP = 16.0                # an extension line seems to come from a line of another level that lies behind its start
BEHIND = 15.3                  # mm behind it that are looked at
ARROW_AT_LINE = 20.0           # an arrow or a leader's shoulder nearer than AT mm to a line of another size seems to belong to it
AT = 1.2
ARROWS_MEET = 5.0              # arrows of two sizes that are no links of a chain meet in one point
NOTES_CLOSE = 20.0             # two notes so near each other that they read as one: the space kept round each, and NOTES_APART mm
NOTES_APART = 1.5
NAME_WITHIN = 10.0             # a view's name stands between the view and a dimension line
NEAR_EXTENSION = 2.0           # mm: a dimension line does not run beside another's extension line nearer than this
SHORTER_OUTSIDE = (6.0, 40.0)  # a shorter size stands outside a longer one: on a pictorial, and on a view, which has room
APART = 2.5                    # sizes along one axis stand on different views

Costs = tuple[IntArray, IntArray, Array]
"""Rows of two offers (k,), (k,), and what they cost together (k,), to be added up."""


def pair_costs(offers: Offers) -> Array:
    """Cost (n, n) of each two offers of different items together."""
    n, count = len(offers), len(offers.lines[0])
    segments, owner = (np.concatenate(three) for three in zip(offers.lines, offers.extensions, offers.centres, strict=True))
    lines = segments, owner
    found = [_lines_met(offers, lines, count), _lined_up(offers), _arrows_met(offers), *_figures_met(offers, lines)]
    found += [_notes_close(offers), _order(offers), _views(offers)]
    one, other, cost = (np.concatenate(part) for part in zip(*found, strict=True))
    pair = np.bincount(one * n + other, weights=cost, minlength=n * n).reshape(n, n)
    return np.asarray(pair + pair.T)


def _lines_met(offers: Offers, lines: Owned, count: int) -> Costs:
    """What lines cost that cross, touch or run beside each other: the first ``count`` are dimension lines and leaders."""
    segments, owner = lines
    label = offers.item[owner]
    distance = np.where(np.arange(len(segments)) < count, NEXT_TIER - 2.1, max(CLOSE, AT))
    pairs = neighbours(segments, segments, distance, (label, label))
    one, other = owner[pairs.i], owner[pairs.j]
    line, on_line = pairs.i < count, pairs.j < count
    through = np.where(offers.leader[one], LEADER_OVER, LINE_THROUGH_EXTENSION)
    crossing = np.where(line, np.where(on_line, HARD, through), np.where(on_line, 0.0, EXTENSIONS_CROSS / 2))
    crosses = pairs.crossing()
    cost = np.where(crosses, crossing, 0.0)
    beside = np.flatnonzero(line & on_line & pairs.beside(NEXT_TIER - 2.1))
    cost[beside[~in_line(segments[pairs.i[beside]], segments[pairs.j[beside]])]] += HARD
    cost[line & ~on_line & pairs.beside(NEAR_EXTENSION)] += HARD
    cost[~line & ~on_line & pairs.beside(CLOSE, SAME_LINE)] += EXTENSIONS_CLOSE / 2
    at = np.flatnonzero(on_line & ~crosses & pairs.end_at(AT))
    cost[at[_strange(offers, lines, pairs.i[at], pairs.j[at], count)]] += ARROW_AT_LINE
    some = np.flatnonzero(cost)
    return one[some], other[some], cost[some]


def _lined_up(offers: Offers) -> Costs:
    """What extension lines cost that go on as lines of other sizes which measure from, or mark, another level."""
    (segments, owner), feet = offers.extensions, np.concatenate([offers.feet[0], offers.crossings[0]])
    others, of_other = (np.concatenate(both) for both in zip(offers.extensions, offers.centres, strict=True))
    if not len(segments):
        return owner, owner, np.zeros(0)
    start, way = segments[:, :2], segments[:, 2:] - segments[:, :2]
    behind = np.hstack([start, start - BEHIND * way / np.hypot(way[:, 0], way[:, 1])[:, None]])
    pairs = neighbours(behind, others, CLOSE, (offers.item[owner], offers.item[of_other]))
    beside = np.flatnonzero(pairs.beside(CLOSE))
    i, j, exact = pairs.i[beside], pairs.j[beside], ~pairs.beside(CLOSE, SAME_LINE)[beside]
    axis = offers.axis[owner[i]]
    apart = np.abs(feet[i, axis] - feet[j, axis])
    false = np.flatnonzero(~((apart < SAME_LEVEL) | (exact & np.isnan(apart))))
    one, other = np.divmod(np.unique(owner[i[false]] * len(offers) + of_other[j[false]]), len(offers))
    return one, other, np.full(len(one), LINED_UP)


def _arrows_met(offers: Offers) -> Costs:
    """What arrows cost that meet in one point, but for links of a chain."""
    spans, owner = offers.spans
    tips = np.concatenate([spans[:, None, :2], spans[:, None, 2:4]])
    of, way = np.concatenate([owner, owner]), np.tile(spans[:, 2:4] - spans[:, :2], (2, 1))
    i, j = near(tips, tips, AT, (offers.item[of], offers.item[of]))
    turned = np.abs(way[i, 0] * way[j, 1] - way[i, 1] * way[j, 0]) > 1e-6 * np.hypot(*way[i].T) * np.hypot(*way[j].T)
    return of[i[turned]], of[j[turned]], np.full(int(turned.sum()), ARROWS_MEET / 2)


def _strange(offers: Offers, lines: Owned, i: IntArray, j: IntArray, count: int) -> Mask:
    """Which pairs of lines (k,), (k,) are of a line that is none the second's arrows may touch: links of a chain share an
    extension line, and may touch each other's dimension lines."""
    segments, owner = lines
    way = segments[:, 2:] - segments[:, :2]
    way = way / np.hypot(way[:, 0], way[:, 1])[:, None]
    out = np.zeros((len(offers), 2))
    extensions = slice(count, count + len(offers.extensions[0]))
    out[owner[extensions]] = way[extensions]
    own, met = out[owner[j]], way[i]
    shared = np.abs(own[:, 0] * met[:, 1] - own[:, 1] * met[:, 0]) < 1e-6
    either_leads = offers.leader[owner[i]] | offers.leader[owner[j]]
    return np.where(i < count, either_leads, ~(shared & own.any(axis=1)))


def _figures_met(offers: Offers, lines: Owned) -> list[Costs]:
    """What figures cost that lines of others, or other figures, run into, and names that stand between a view and its sizes."""
    boxes, of_box = offers.boxes
    sides, of_side = edges_of(boxes), np.repeat(of_box, 4)
    others, of_other = np.concatenate([lines[0], sides]), np.concatenate([lines[1], of_side])
    i, j = touched(boxes, others, (offers.item[of_box], offers.item[of_other]))
    met = of_box[i], of_other[j], np.full(len(i), HARD)
    named = np.flatnonzero(offers.name[of_side])
    if not len(named):
        return [met]
    within, side = touched(offers.fields[0], sides[named])
    size, name = np.divmod(np.unique(offers.fields[1][within] * len(offers) + of_side[named[side]]), len(offers))
    return [met, (size, name, np.full(len(size), NAME_WITHIN))]


def _notes_close(offers: Offers) -> Costs:
    """What notes cost that stand so near each other that they read as one."""
    boxes, of_box = offers.boxes
    noted = np.flatnonzero(offers.leader[of_box])
    sides, owner = edges_of(boxes[noted]), np.repeat(of_box[noted], 4)
    pairs = neighbours(sides, sides, NOTES_APART, (offers.item[owner], offers.item[owner]))
    close = np.flatnonzero(pairs.beside(NOTES_APART))
    one, other = np.divmod(np.unique(owner[pairs.i[close]] * len(offers) + owner[pairs.j[close]]), len(offers))
    return one, other, np.full(len(one), NOTES_CLOSE / 2)


def _order(offers: Offers) -> Costs:
    """Shorter sizes outside longer ones, side by side and hung the same way."""
    spans, owner = offers.spans
    a, b, out = spans[:, :2], spans[:, 2:4], spans[:, 4:]
    along = b - a
    length = np.hypot(along[:, 0], along[:, 1])
    along = along / length[:, None]
    # Parallel and hung the same way: to a millionth, as both come from the same exact directions.
    way = np.round(np.hstack([out, np.abs(along) * np.sign(along[:, :1] * along[:, 1:] + 1e-9)]) * 1e6)
    alike = np.unique(way, axis=0, return_inverse=True)[1].ravel()
    item = offers.item[owner]
    i, j = np.nonzero((alike[:, None] == alike) & (item[:, None] != item))
    shorter = np.flatnonzero(length[i] < length[j] - 1e-6)
    i, j = i[shorter], j[shorter]
    across = out - (out * along).sum(axis=1)[:, None] * along
    across = across / np.hypot(across[:, 0], across[:, 1])[:, None]
    outside = ((a[i] - a[j]) * across[j]).sum(axis=1) > 1.0
    # Side by side, seen along the way they are hung.
    lean = (out[j] * along[j]).sum(axis=1) / (out[j] * across[j]).sum(axis=1)
    ends = [((end[i] - a[j]) * along[j]).sum(axis=1) - lean * ((end[i] - a[j]) * across[j]).sum(axis=1) for end in (a, b)]
    shared = np.minimum(np.maximum(*ends), length[j]) - np.maximum(np.minimum(*ends), 0.0)
    hit = outside & (shared > 1.0)
    one, other = owner[i[hit]], owner[j[hit]]
    return one, other, np.where(offers.view[one] < 0, *SHORTER_OUTSIDE)


def _views(offers: Offers) -> Costs:
    """Sizes along one axis that stand on different views."""
    view, axis = offers.view, offers.axis
    apart = (view[:, None] != view) & (axis[:, None] == axis) & (view >= 0) & (view[:, None] >= 0)
    apart &= offers.item[:, None] < offers.item
    i, j = np.nonzero(apart)
    return i, j, np.full(len(i), APART)
