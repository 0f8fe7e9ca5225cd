"""Choosing one placing for each item: least cost, no hard rule broken. The result depends on the input only."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from sheetgen.dimensions.candidate import NEXT_TIER, Candidate
from sheetgen.dimensions.ground import HARD, Ground
from sheetgen.dimensions.offers import Offers
from sheetgen.dimensions.segments import Indices, Pairs, besides, crossings, edges_of, in_line, overlapping, touched
from sheetgen.solid.surfaces import Array

EFFORTS = ((100, 10), (400, 40))
"""How many offers of each item are looked at, and how many worked-out ones are weighed against the others': the cheapest by
themselves. The second effort is made only where the first finds no way."""

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
    return [pool.offers.build[k]() for k in chosen.tolist()]


def _pool(ground: Ground, offers: Offers, items: int, most: int, best: int) -> _Pool:
    near = offers.take(_cheapest(ground.first_costs(offers), offers.item, most))
    cost = ground.line_costs(near)
    order = _cheapest(cost, near.item, len(near))
    near, cost = near.take(order), cost[order]
    cost = cost + _text_costs(ground, near, items, best)
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


def _text_costs(ground: Ground, offers: Offers, items: int, best: int) -> Array:
    """What figures cost (n,), looked at in rounds, cheapest offers first, until each item has ``best`` whose figures stand clear;
    HARD for offers that were not looked at."""
    cost = np.full(len(offers), HARD)
    rank = _rank(offers.item)
    step = best + 4
    for start in range(0, int(rank.max(initial=-1)) + 1, step):
        found = np.bincount(offers.item[cost < HARD], minlength=items)
        batch = np.flatnonzero((rank >= start) & (rank < start + step) & (found[offers.item] < best))
        if len(batch):
            cost[batch] = ground.text_costs(offers.take(batch))
    return cost


def _pair_costs(offers: Offers) -> Array:
    """Cost (n, n) of each two offers of different items together."""
    n = len(offers)
    pair = np.zeros(n * n)
    (lines, of_line), (ends, of_end) = offers.lines, (np.concatenate(both) for both in zip(
        offers.extensions, offers.centres, strict=True))

    def put(one: Indices, other: Indices, cost: Array | float) -> None:
        pair[:] += np.bincount(one * n + other, weights=np.broadcast_to(cost, one.shape), minlength=n * n)

    def owners(one: Indices, other: Indices, pairs: Pairs) -> Pairs:
        return one[pairs[0]], other[pairs[1]]

    put(*owners(of_line, of_line, crossings(lines, lines)), HARD)
    a, b = besides(lines, lines, NEXT_TIER - 2.1)
    near = ~in_line(lines[a], lines[b])
    put(of_line[a[near]], of_line[b[near]], HARD)
    a, b = owners(of_line, of_end, crossings(lines, ends))
    put(a, b, np.where(offers.leader[a], LEADER_OVER, LINE_THROUGH_EXTENSION))
    put(*owners(of_line, of_end, besides(lines, ends, NEAR_EXTENSION)), HARD)
    put(*owners(of_end, of_end, crossings(ends, ends)), EXTENSIONS_CROSS / 2)
    put(*owners(of_end, of_end, besides(ends, ends, CLOSE, IN_ONE)), EXTENSIONS_CLOSE / 2)
    boxes, of_box = offers.boxes
    put(*owners(of_box, of_box, overlapping(boxes)), HARD)
    put(*owners(of_box, np.concatenate([of_line, of_end]), touched(boxes, np.concatenate([lines, ends]))), HARD)
    names = offers.name[of_box]
    within, side = touched(offers.fields[0], edges_of(boxes[names]))
    pairs = np.unique(offers.fields[1][within] * n + of_box[names][side // 4])
    pair[pairs] += NAME_WITHIN
    square = pair.reshape(n, n)
    square = square + square.T
    square[offers.item[:, None] == offers.item[None, :]] = 0.0
    return square


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
    best, lowest = chosen, _total(pool, chosen[None, :])[0]
    for _ in range(ROUNDS):
        load = pool.cost + pool.pair[best].sum(axis=0)
        worth = np.flatnonzero(load - load[best][pool.offers.item] < HOPELESS)
        tries = np.tile(best, (len(worth), 1))
        tries[np.arange(len(worth)), pool.offers.item[worth]] = worth
        tries, total = _settled(pool, tries, pool.offers.item[worth])
        k = int(np.argmin(total))
        if total[k] >= lowest:
            break
        best, lowest = tries[k], total[k]
    return best


def _settled(pool: _Pool, tries: Indices, held: Indices) -> tuple[Indices, Array]:
    """Choices (m, items), in each of which each item in turn takes its cheapest way until none moves, and their costs (m,);
    in the first sweep the item ``held`` (m,) keeps its own."""
    load = pool.cost + pool.pair[tries].sum(axis=1)
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
    return tries, _total(pool, tries)


def _total(pool: _Pool, tries: Indices) -> Array:
    """The cost (m,) of choices (m, items)."""
    return np.asarray(pool.cost[tries].sum(axis=1) + pool.pair[tries[:, :, None], tries[:, None, :]].sum(axis=(1, 2)) / 2)
