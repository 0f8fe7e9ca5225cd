"""Choosing one placing for each item: least cost, no hard rule broken. The result depends on the input only."""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from sheetgen.dimensions.candidate import NEXT_TIER, Candidate
from sheetgen.dimensions.ground import HARD, Ground
from sheetgen.dimensions.offers import Offers
from sheetgen.dimensions.segments import Indices, edges_of, in_line, neighbours, touched
from sheetgen.solid.surfaces import Array

EFFORTS = ((100, 10), (400, 40))
"""How many offers of each item are looked at, and how many worked-out ones are weighed against the others': the cheapest by
themselves. The second effort is made only where the first finds no way."""

BATCH = 100
"""How many offers of each item are looked at in one round."""

ROUNDS, SWEEPS = 6, 8
"""How often the choice is improved from the best so far, and how long the items may take to settle: rarely more than three."""

GRAIN = 2.0 ** -20       # of cost: about a millionth
HOPELESS = 80.0          # a way that costs so much more than the one chosen will not be made good by what it lets others do

LINE_THROUGH_EXTENSION = 18.0  # a dimension line crosses another's extension line
EXTENSIONS_CROSS = 1.5
LEADER_OVER = 9.0              # a leader crosses an extension line
EXTENSIONS_CLOSE = 12.0        # two extension lines run beside each other nearer than CLOSE mm, but not in one line
CLOSE, IN_ONE = 2.0, 0.05
NAME_WITHIN = 10.0             # a view's name stands between the view and a dimension line
NEAR_EXTENSION = 2.0           # mm: a dimension line does not run beside another's extension line nearer than this


class PlacingError(ValueError):
    """No placing of an item keeps the hard rules; ``item`` is its number."""

    def __init__(self, item: int, reason: str) -> None:
        super().__init__(reason)
        self.item, self.reason = item, reason


@dataclass(frozen=True, eq=False)
class _Pool:
    """The offers weighed, those of each item together: costs alone (n,) and of each two (n, n)."""

    offers: Offers
    cost: Array
    pair: Array


def choose(ground: Ground, offers: Offers, items: int) -> list[Candidate]:
    """Return one candidate of the ``offers`` for each of so many items.

    Raises: PlacingError if an item has none that keeps the hard rules, or not all can keep them together.
    """
    for effort in EFFORTS:
        try:
            return _chosen(ground, offers, items, *effort)
        except PlacingError:
            if effort == EFFORTS[-1]:
                raise
    raise AssertionError("there is a last effort")


def _chosen(ground: Ground, offers: Offers, items: int, most: int, best: int) -> list[Candidate]:
    pool = _pool(ground, offers, items, most, best)
    chosen = _improved(pool, _started(pool, items))
    clash = pool.pair[np.ix_(chosen, chosen)] >= HARD
    if clash.any():
        i = int(np.argmax(clash.sum(axis=1)))
        raise PlacingError(i, "no placing keeps it clear of the other sizes")
    return [pool.offers.drawn(k) for k in chosen.tolist()]


def _pool(ground: Ground, offers: Offers, items: int, most: int, best: int) -> _Pool:
    near = offers.take(_cheapest(ground.first_costs(offers), offers.item, most))
    cost = ground.line_costs(near)
    clear = np.flatnonzero(cost < HARD)
    near, cost = near.take(clear), cost[clear]
    cost = cost + ground.text_costs(near)
    kept = _cheapest(cost, near.item, best)
    missing = np.flatnonzero(np.bincount(near.item[kept], minlength=items) == 0)
    if len(missing):
        raise PlacingError(int(missing[0]), "no placing keeps it legible and clear of the lines")
    pool = near.take(kept)
    return _Pool(pool, _in_grains(cost[kept]), _in_grains(_pair_costs(pool)))


def _in_grains(cost: Array) -> Array:
    """Costs to whole grains: their sums are exact, in whatever order they are added."""
    return np.asarray(np.round(cost / GRAIN) * GRAIN)


def _cheapest(cost: Array, item: Indices, most: int) -> Indices:
    """The ``most`` cheapest rows of each item, items in order, cheapest first; none that may not be used."""
    usable = np.flatnonzero(cost < HARD)
    order = usable[np.lexsort((np.round(cost[usable], 6), item[usable]))]
    return order[_rank(item[order]) < most]


def _rank(item: Indices) -> Indices:
    """The place of each row among those of its item, which stand together."""
    first = np.flatnonzero(np.concatenate([[True], item[1:] != item[:-1]])[:len(item)])
    return np.arange(len(item)) - np.repeat(first, np.diff([*first, len(item)]))


def _pair_costs(offers: Offers) -> Array:
    """Cost (n, n) of each two offers of different items together."""
    n, count = len(offers), len(offers.lines[0])
    segments, owner = (np.concatenate(three) for three in zip(offers.lines, offers.extensions, offers.centres, strict=True))
    found = [_met(offers, segments, owner, count), *_figures_met(offers, segments, owner)]
    one, other, cost = (np.concatenate(part) for part in zip(*found, strict=True))
    pair = np.bincount(one * n + other, weights=cost, minlength=n * n).reshape(n, n)
    return np.asarray(pair + pair.T)


Costs = tuple[Indices, Indices, Array]
"""Rows of two offers (k,), (k,), and what they cost together (k,), to be added up."""


def _met(offers: Offers, segments: Array, owner: Indices, count: int) -> Costs:
    """What lines cost that cross or run beside each other: the first ``count`` segments are dimension lines and leaders."""
    label = offers.item[owner]
    pairs = neighbours(segments, segments, NEXT_TIER - 2.1, (label, label))
    one, other = owner[pairs.i], owner[pairs.j]
    line, on_line = pairs.i < count, pairs.j < count
    through = np.where(offers.leader[one], LEADER_OVER, LINE_THROUGH_EXTENSION)
    crossing = np.where(line, np.where(on_line, HARD, through), np.where(on_line, 0.0, EXTENSIONS_CROSS / 2))
    cost = np.where(pairs.crossing(), crossing, 0.0)
    beside = np.flatnonzero(line & on_line & pairs.beside(NEXT_TIER - 2.1))
    cost[beside[~in_line(segments[pairs.i[beside]], segments[pairs.j[beside]])]] += HARD
    cost[line & ~on_line & pairs.beside(NEAR_EXTENSION)] += HARD
    cost[~line & ~on_line & pairs.beside(CLOSE, IN_ONE)] += EXTENSIONS_CLOSE / 2
    some = np.flatnonzero(cost)
    return one[some], other[some], cost[some]


def _figures_met(offers: Offers, segments: Array, owner: Indices) -> list[Costs]:
    """What figures cost that lines of others, or other figures, run into, and names that stand between a view and its sizes."""
    boxes, of_box = offers.boxes
    sides, of_side = edges_of(boxes), np.repeat(of_box, 4)
    others, of_other = np.concatenate([segments, sides]), np.concatenate([owner, of_side])
    i, j = touched(boxes, others, (offers.item[of_box], offers.item[of_other]))
    named = np.flatnonzero(offers.name[of_side])
    within, side = touched(offers.fields[0], sides[named])
    names = np.unique(np.stack([offers.fields[1][within], of_side[named[side]]], axis=1), axis=0)
    return [(of_box[i], of_other[j], np.full(len(i), HARD)), (names[:, 0], names[:, 1], np.full(len(names), NAME_WITHIN))]


def _started(pool: _Pool, items: int) -> Indices:
    """A first choice: items with the fewest ways first, each the cheapest beside those already chosen."""
    ways = np.bincount(pool.offers.item, minlength=items)
    chosen = np.full(items, -1, dtype=np.int64)
    load = pool.cost.copy()
    for i in np.argsort(ways, kind="stable"):
        mine = np.flatnonzero(pool.offers.item == i)
        chosen[i] = mine[int(np.argmin(load[mine]))]
        load += pool.pair[:, chosen[i]]
    return chosen


def _improved(pool: _Pool, chosen: Indices) -> Indices:
    """Try every way of every item: it is held, the others settle, then it is let go too. As long as that gets cheaper."""
    best, lowest = chosen, math.inf
    for _ in range(ROUNDS):
        load = pool.cost + pool.pair[best].sum(axis=0)
        lowest = min(lowest, _total(pool, best[None, :], load[None, :])[0])
        worth = np.flatnonzero(load - load[best][pool.offers.item] < HOPELESS)
        held = pool.offers.item[worth]
        tries = np.tile(best, (len(worth), 1))
        tries[np.arange(len(worth)), held] = worth
        tries, total = _settled(pool, tries, load + pool.pair[worth] - pool.pair[best[held]], held)
        k = int(np.argmin(total))
        if total[k] >= lowest:
            break
        best = tries[k]
    return best


def _settled(pool: _Pool, tries: Indices, load: Array, held: Indices) -> tuple[Indices, Array]:
    """Choices (m, items), in each of which each item in turn takes its cheapest way until none moves, and their costs (m,);
    in the first sweep the item ``held`` (m,) keeps its own. ``load`` (m, n): what each offer costs beside each choice."""
    bounds = np.searchsorted(pool.offers.item, np.arange(tries.shape[1] + 1)).tolist()
    for sweep in range(SWEEPS):
        moved = False
        for i, (first, last) in enumerate(pairwise(bounds)):
            wish = first + load[:, first:last].argmin(axis=1)
            rows = np.flatnonzero((wish != tries[:, i]) & ((held != i) | (sweep > 0)))
            if len(rows):
                load[rows] += pool.pair[wish[rows]] - pool.pair[tries[rows, i]]
                tries[rows, i] = wish[rows]
                moved = True
        if sweep and not moved:
            break
    return tries, _total(pool, tries, load)


def _total(pool: _Pool, tries: Indices, load: Array) -> Array:
    """The cost (m,) of choices (m, items): each two cost half in the ``load`` of either."""
    return np.asarray((pool.cost[tries] + np.take_along_axis(load, tries, axis=1)).sum(axis=1) / 2)
