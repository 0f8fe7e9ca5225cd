"""Choosing one placing for each item: least cost, no hard rule broken. The result depends on the input only."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from sheetgen.dimensions.candidate import Candidate
from sheetgen.dimensions.ground import HARD, Ground
from sheetgen.dimensions.offers import Offers
from sheetgen.dimensions.segments import Indices, Yes
from sheetgen.dimensions.together import pair_costs
from sheetgen.solid.surfaces import Array

EFFORTS = ((100, 14), (400, 40))
"""How many offers of each item are looked at, and how many worked-out ones are weighed against the others': the cheapest by
themselves. The second effort is made only where the first finds no way."""

BATCH = 100
"""How many offers of each item are looked at in one round."""

NEIGHBOURHOOD, ALIKE = 15.0, 3.0
"""mm: ways whose figures stand in one square of this width are much alike; each counts as so much dearer than the one before when
it is chosen what to weigh, so that these differ."""

ROUNDS, SWEEPS = 6, 8
"""How often the choice is improved from the best so far, and how long the items may take to settle: rarely more than three."""

GRAIN = 2.0 ** -20       # of cost: about a millionth
HOPELESS = 30.0          # a way that costs so much more than the one chosen will not be made good by what it lets others do


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
    cost = cost + ground.end_costs(near) + ground.text_costs(near)
    kept = _cheapest(cost + ALIKE * _rivals(near, cost), near.item, best)
    missing = np.flatnonzero(np.bincount(near.item[kept], minlength=items) == 0)
    if len(missing):
        raise PlacingError(int(missing[0]), "no placing keeps it legible and clear of the lines")
    pool = near.take(kept)
    return _Pool(pool, _in_grains(cost[kept]), _in_grains(pair_costs(pool)))


def _in_grains(cost: Array) -> Array:
    """Costs to whole grains: their sums are exact, in whatever order they are added."""
    return np.asarray(np.round(cost / GRAIN) * GRAIN)


def _cheapest(cost: Array, item: Indices, most: int) -> Indices:
    """The ``most`` cheapest rows of each item, items in order, cheapest first; none that may not be used."""
    usable = np.flatnonzero(cost < HARD)
    order = usable[np.lexsort((np.round(cost[usable], 6), item[usable]))]
    return order[_rank(item[order]) < most]


def _rivals(offers: Offers, cost: Array) -> Indices:
    """How many cheaper ways (n,) the item has of which the figures stand in the same neighbourhood."""
    boxes, owner = offers.boxes
    place = np.zeros((len(offers), 2))
    place[owner] = boxes.mean(axis=1)
    x, y = np.floor(place / NEIGHBOURHOOD).astype(np.int64).T
    label = (offers.item * 1000 + x) * 1000 + y
    order = np.lexsort((np.round(cost, 6), label))
    rivals = np.empty(len(offers), dtype=np.int64)
    rivals[order] = _rank(label[order])
    return rivals


def _rank(item: Indices) -> Indices:
    """The place of each row among those of its item, which stand together."""
    first = np.flatnonzero(np.concatenate([[True], item[1:] != item[:-1]])[:len(item)])
    return np.arange(len(item)) - np.repeat(first, np.diff([*first, len(item)]))


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
    moving = np.flatnonzero(_wishes(tries, load, held, bounds))
    for sweep in range(SWEEPS):
        mine, costs, keeps = tries[moving], load[moving], held[moving]
        for i, (first, last) in enumerate(pairwise(bounds)):
            wish = first + costs[:, first:last].argmin(axis=1)
            rows = np.flatnonzero((wish != mine[:, i]) & ((keeps != i) | (sweep > 0)))
            if len(rows):
                costs[rows] += pool.pair[wish[rows]] - pool.pair[mine[rows, i]]
                mine[rows, i] = wish[rows]
        moved = np.flatnonzero((mine != tries[moving]).any(axis=1))
        tries[moving], load[moving] = mine, costs
        if not len(moved):
            break
        moving = moving[moved]
    return tries, _total(pool, tries, load)


def _wishes(tries: Indices, load: Array, held: Indices, bounds: Sequence[int]) -> Yes:
    """In which of the choices (m, items) an item other than the one ``held`` has a cheaper way. Where none has, the held one stays,
    or goes back to what was there before."""
    wishes = np.minimum.reduceat(load, bounds[:-1], axis=1) < np.take_along_axis(load, tries, axis=1)
    wishes[np.arange(len(held)), held] = False
    return np.asarray(wishes.any(axis=1))


def _total(pool: _Pool, tries: Indices, load: Array) -> Array:
    """The cost (m,) of choices (m, items): each two cost half in the ``load`` of either."""
    return np.asarray((pool.cost[tries] + np.take_along_axis(load, tries, axis=1)).sum(axis=1) / 2)
