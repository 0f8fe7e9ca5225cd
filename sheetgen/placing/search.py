"""Choosing one placing for each item: least cost, no hard rule broken. The result depends on the input only."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from sheetgen.geometry import Array
from sheetgen.geometry.arrays import IntArray
from sheetgen.placing.candidate import Candidate
from sheetgen.placing.costs.alone import Surroundings
from sheetgen.placing.costs.pairs import pair_costs
from sheetgen.placing.table import Offers, middles_of
from sheetgen.placing.weights import HARD, WEIGHTS, Weights

EFFORTS = ((40, 8), (120, 16), (400, 40))
"""How many offers of each item are looked at, and how many worked-out ones are weighed against the others': the cheapest by
themselves. The second effort is made where the first leaves a size DEAR, the last only where no way is found."""

NEIGHBOURHOOD = 15.0
"""mm: ways whose figures stand in one square of this width are much alike; each counts as dearer than the one before when it is
chosen what to weigh, so that these differ."""

ROUNDS = 6
"""How often the choice is improved from the best so far: rarely more than three."""

GRAIN = 2.0 ** -20       # of cost: about a millionth


class PlacingError(ValueError):
    """No placing of an item keeps the hard rules; ``item`` is its number."""

    def __init__(self, item: int, reason: str) -> None:
        super().__init__(reason)
        self.item, self.reason = item, reason


@dataclass(frozen=True, eq=False)
class _Pool:
    """The offers weighed, in ``ways`` of so many ``items``: first a way of each item, then a second of each, and so on.

    ``row`` (n,): which of the offers each is, -1 where an item has fewer ways; costs alone (n,), infinite there, and of each two
    (n, n).
    """

    offers: Offers
    ways: int
    items: int
    row: IntArray
    cost: Array
    pair: Array


@dataclass(frozen=True, eq=False)
class Placement:
    """Where an item stands: its number, the number of the ``view`` it stands on (-1: the pictorial), and how it is ``drawn``."""

    item: int
    view: int
    drawn: Candidate


def choose(surroundings: Surroundings, offers: Offers, items: int, weights: Weights = WEIGHTS) -> tuple[Placement, ...]:
    """Return one of the ``offers`` for each of so many items, in their order.

    Raises: PlacingError if an item has none that keeps the hard rules, or not all can keep them together.
    """
    found: list[_Choice] = []
    for effort in EFFORTS:
        try:
            found.append(_chosen(surroundings, offers, items, effort, weights))
        except PlacingError:
            if effort == EFFORTS[-1]:
                raise
        if found and (effort != EFFORTS[0] or found[0].dearest < weights.dear):
            break
    best = min(found, key=lambda choice: choice.total)
    return tuple(Placement(item, int(best.offers.view[k]), best.offers.drawn(k)) for item, k in enumerate(best.rows.tolist()))


@dataclass(frozen=True, eq=False)
class _Choice:
    """Rows of the offers, one of each item; what they cost together, and the most that one of them costs among the others."""

    offers: Offers
    rows: IntArray
    total: float
    dearest: float


def _chosen(surroundings: Surroundings, offers: Offers, items: int, effort: tuple[int, int], weights: Weights) -> _Choice:
    pool = _pool(surroundings, offers, items, effort, weights)
    chosen = _improved(pool, _started(pool), weights)
    together = pool.pair[np.ix_(chosen, chosen)].sum(axis=0)
    if (together >= HARD).any():
        raise PlacingError(int(np.argmax(together)), "no placing keeps it clear of the other sizes")
    each = pool.cost[chosen] + together
    return _Choice(pool.offers, pool.row[chosen], float((pool.cost[chosen] + together / 2).sum()), float(each.max()))


def _pool(surroundings: Surroundings, offers: Offers, items: int, effort: tuple[int, int], weights: Weights) -> _Pool:
    most, best = effort
    first = surroundings.first_costs(offers, weights)
    near = offers.take(_cheapest(first + weights.alike * _rivals(offers, first), offers.item, most))
    cost = surroundings.line_costs(near, weights)
    clear = np.flatnonzero(cost < HARD)
    near, cost = near.take(clear), cost[clear]
    cost = cost + surroundings.end_costs(near, weights) + surroundings.text_costs(near, weights)
    kept = _cheapest(cost + weights.alike * _rivals(near, cost), near.item, best)
    missing = np.flatnonzero(np.bincount(near.item[kept], minlength=items) == 0)
    if len(missing):
        raise PlacingError(int(missing[0]), "no placing keeps it legible and clear of the lines")
    return _pooled(near.take(kept), cost[kept], items, weights)


def _pooled(offers: Offers, alone: Array, items: int, weights: Weights) -> _Pool:
    rank = _rank(offers.item)
    ways, place = int(rank.max()) + 1, rank * items + offers.item
    row, cost, pair = np.full(ways * items, -1), np.full(ways * items, np.inf), np.zeros((ways * items, ways * items))
    row[place], cost[place] = np.arange(len(offers)), _in_grains(alone)
    pair[place[:, None], place] = _in_grains(pair_costs(offers, weights))
    return _Pool(offers, ways, items, row, cost, pair)


def _in_grains(cost: Array) -> Array:
    """Costs to whole grains: their sums are exact, in whatever order they are added."""
    return np.asarray(np.round(cost / GRAIN) * GRAIN)


def _cheapest(cost: Array, item: IntArray, most: int) -> IntArray:
    """The ``most`` cheapest rows of each item, items in order, cheapest first; none that may not be used."""
    usable = np.flatnonzero(cost < HARD)
    order = usable[np.lexsort((np.round(cost[usable], 6), item[usable]))]
    return order[_rank(item[order]) < most]


def _rivals(offers: Offers, cost: Array) -> IntArray:
    """How many cheaper ways (n,) the item has of which the figures stand in the same neighbourhood."""
    boxes, owner = offers.boxes
    place = np.zeros((len(offers), 2))
    place[owner] = middles_of(boxes)
    x, y = np.floor(place / NEIGHBOURHOOD).astype(np.int64).T
    label = (offers.item * 1000 + x) * 1000 + y
    order = np.lexsort((np.round(cost, 6), label))
    rivals = np.empty(len(offers), dtype=np.int64)
    rivals[order] = _rank(label[order])
    return rivals


def _rank(item: IntArray) -> IntArray:
    """The place of each row among those of its item, which stand together."""
    first = np.flatnonzero(np.concatenate([[True], item[1:] != item[:-1]])[:len(item)])
    return np.arange(len(item)) - np.repeat(first, np.diff([*first, len(item)]))


def _started(pool: _Pool) -> IntArray:
    """A first choice: items with the fewest ways first, each the cheapest beside those already chosen."""
    ways = np.bincount(pool.offers.item, minlength=pool.items)
    chosen = np.full(pool.items, -1, dtype=np.int64)
    load = pool.cost.copy()
    for i in np.argsort(ways, kind="stable").tolist():
        chosen[i] = i + pool.items * int(np.argmin(load[i::pool.items]))
        load += pool.pair[:, chosen[i]]
    return chosen


def _improved(pool: _Pool, chosen: IntArray, weights: Weights) -> IntArray:
    """Try every way of every item: it is held and the others settle. As long as that gets cheaper, go on from the cheapest."""
    best, lowest = chosen, math.inf
    for _ in range(ROUNDS):
        load = pool.cost + pool.pair[best].sum(axis=0)
        lowest = min(lowest, float((pool.cost[best] + load[best]).sum() / 2))
        # Others that stand in its way may go: what it costs beside them now does not count.
        worth = np.flatnonzero(pool.cost - np.tile(load[best], pool.ways) < weights.hopeless)
        held = worth % pool.items
        tries = np.tile(best[:, None], len(worth))
        tries[held, np.arange(len(worth))] = worth
        tries, total = _settled(pool, tries, load[:, None] + pool.pair[:, worth] - pool.pair[:, best[held]], held)
        k = int(np.argmin(total))
        if total[k] >= lowest:
            break
        best = tries[:, k]
    return best


def _settled(pool: _Pool, tries: IntArray, load: Array, held: IntArray) -> tuple[IntArray, Array]:
    """Choices (items, m), in each of which the item that gains most takes its cheapest way until none gains, and their costs
    (m,); the item ``held`` (m,) keeps its own. ``load`` (n, m): what each offer costs beside each choice."""
    settled, total, of = tries, np.empty(len(held)), np.arange(len(held))
    while len(of):
        each = np.arange(len(of))
        now = load[tries, each]
        gain = now - load.reshape(pool.ways, pool.items, -1).min(axis=0)
        gain[held, each] = 0.0
        moves = gain.argmax(axis=0)
        gains = gain[moves, each] > 0.0
        # Each two cost half in the load of either.
        settled[:, of], total[of] = tries, (pool.cost[tries] + now).sum(axis=0) / 2
        of, moves, held, tries, load = of[gains], moves[gains], held[gains], tries[:, gains], load[:, gains]
        each = np.arange(len(of))
        wish = load.reshape(pool.ways, pool.items, -1)[:, moves, each].argmin(axis=0) * pool.items + moves
        load += pool.pair[:, wish] - pool.pair[:, tries[moves, each]]
        tries[moves, each] = wish
    return settled, total
