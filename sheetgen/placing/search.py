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

MOST_PRICED, MOST_WEIGHED = 14_000, 1_400
"""Offers of all items together that are looked at, and worked-out ones that are weighed against each other: as many as 35 items
come to, and no part of the bank has so many. Of more items each has fewer, because the work grows with the square."""

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
    prospects = _prospects(surroundings, offers, weights)
    found, alone = list[_Choice](), np.full(len(offers), np.nan)
    for effort in EFFORTS:
        most, best = (min(each, max(least, budget // max(items, 1))) for each, least, budget in zip(
            effort, EFFORTS[0], (MOST_PRICED, MOST_WEIGHED), strict=True))
        rows = prospects.order[prospects.rank < most]
        # What an earlier effort has priced keeps its price.
        alone = _priced(surroundings, offers, rows[np.isnan(alone[rows])], alone, weights)
        try:
            found.append(_chosen(_pool(offers, prospects, rows, alone, items, best, weights), weights))
        except PlacingError:
            if effort == EFFORTS[-1]:
                raise
        if found and (effort != EFFORTS[0] or found[0].dearest < weights.dear):
            break
    choice = min(found, key=lambda choice: choice.total)
    return tuple(Placement(item, int(offers.view[k]), offers.drawn(k)) for item, k in enumerate(choice.rows.tolist()))


@dataclass(frozen=True, eq=False)
class _Choice:
    """Rows of the offers, one of each item; what they cost together, and the most that one of them costs among the others."""

    rows: IntArray
    total: float
    dearest: float


@dataclass(frozen=True, eq=False)
class _Prospects:
    """Offers before they are looked at closely. ``order``: rows of those that may be used, items in order, cheapest first, and
    their ``rank`` in their item; ``place`` (n,): one number for all of an item whose figures stand in one neighbourhood."""

    order: IntArray
    rank: IntArray
    place: IntArray


def _prospects(surroundings: Surroundings, offers: Offers, weights: Weights) -> _Prospects:
    first = surroundings.first_costs(offers, weights)
    middle = np.zeros((len(offers), 2))
    middle[offers.boxes.offer] = middles_of(offers.boxes.shapes)
    x, y = np.floor(middle / NEIGHBOURHOOD).astype(np.int64).T
    place = (offers.item * 1000 + x) * 1000 + y
    usable = np.flatnonzero(first < HARD)
    cost = first[usable] + weights.alike * _rivals(place[usable], first[usable])
    order = usable[np.lexsort((np.round(cost, 6), offers.item[usable]))]
    return _Prospects(order, _rank(offers.item[order]), place)


def _priced(surroundings: Surroundings, offers: Offers, rows: IntArray, alone: Array, weights: Weights) -> Array:
    """What offers cost alone, ``alone`` (n,), with those of ``rows`` added; HARD or more if they may not be used."""
    near, alone = offers.alone().take(rows), alone.copy()
    cost, ends = surroundings.line_costs(near, weights)
    alone[rows] = cost
    clear = np.flatnonzero(cost < HARD)
    near = near.take(clear)
    alone[rows[clear]] = cost[clear] + ends[clear] + surroundings.text_costs(near, weights)
    return alone


def _chosen(pool: _Pool, weights: Weights) -> _Choice:
    chosen = _improved(pool, _started(pool), weights)
    beside = pool.pair[np.ix_(chosen, chosen)].sum(axis=0)
    if (beside >= HARD).any():
        raise PlacingError(int(np.argmax(beside)), "no placing keeps it clear of the other sizes")
    each = pool.cost[chosen] + beside
    return _Choice(pool.row[chosen], float((pool.cost[chosen] + beside / 2).sum()), float(each.max()))


def _pool(
    offers: Offers, prospects: _Prospects, rows: IntArray, alone: Array, items: int, best: int, weights: Weights
) -> _Pool:
    """The ``best`` offers of each item among ``rows``, not too much alike."""
    rows = rows[alone[rows] < HARD]
    cost, item = alone[rows], offers.item[rows]
    worth = np.round(cost + weights.alike * _rivals(prospects.place[rows], cost), 6)
    order = np.lexsort((worth, item))
    rows, rank = rows[order], _rank(item[order])
    missing = np.flatnonzero(np.bincount(offers.item[rows], minlength=items) == 0)
    if len(missing):
        raise PlacingError(int(missing[0]), "no placing keeps it legible and clear of the lines")
    place = rank * items + offers.item[rows]
    kept = np.argsort(place)[:int(np.count_nonzero(rank < best))]
    return _pooled(offers.take(rows[kept]), place[kept], rows[kept], alone[rows[kept]], items, weights)


def _pooled(offers: Offers, place: IntArray, rows: IntArray, alone: Array, items: int, weights: Weights) -> _Pool:
    """Offers, costs alone and ``rows`` (n,), of which each has its ``place`` (n,) in the pool, in the order of these."""
    ways = int(place[-1]) // items + 1
    row, cost, pair = np.full(ways * items, -1), np.full(ways * items, np.inf), _in_grains(pair_costs(offers, weights))
    row[place], cost[place] = rows, _in_grains(alone)
    if len(place) < len(row):
        some, pair = pair, np.zeros((len(row), len(row)))
        pair[place[:, None], place] = some
    return _Pool(ways, items, row, cost, pair)


def _in_grains(cost: Array) -> Array:
    """Costs to whole grains: their sums are exact, in whatever order they are added."""
    return np.asarray(np.round(cost / GRAIN) * GRAIN)


def _rivals(place: IntArray, cost: Array) -> IntArray:
    """How many cheaper ways (n,) stand in the same ``place`` (n,)."""
    order = np.lexsort((np.round(cost, 6), place))
    rivals = np.empty(len(place), dtype=np.int64)
    rivals[order] = _rank(place[order])
    return rivals


def _rank(item: IntArray) -> IntArray:
    """The place of each row among those of its item, which stand together."""
    each = np.arange(len(item))
    begins = np.ones(len(item), dtype=bool)
    np.not_equal(item[1:], item[:-1], out=begins[1:])
    return each - np.maximum.accumulate(np.where(begins, each, 0))


def _started(pool: _Pool) -> IntArray:
    """A first choice: items with the fewest ways first, each the cheapest beside those already chosen."""
    ways = (pool.row.reshape(pool.ways, pool.items) >= 0).sum(axis=0)
    chosen = np.full(pool.items, -1, dtype=np.int64)
    load = pool.cost.copy()
    for i in np.argsort(ways, kind="stable").tolist():
        chosen[i] = i + pool.items * int(load[i::pool.items].argmin())
        load += pool.pair[chosen[i]]
    return chosen


def _improved(pool: _Pool, chosen: IntArray, weights: Weights) -> IntArray:
    """Try every way of every item: it is held and the others settle. As long as that gets cheaper, go on from the cheapest."""
    best, lowest = chosen, math.inf
    by_way = np.ascontiguousarray(pool.pair.reshape(-1, pool.ways, pool.items).swapaxes(0, 1))
    for _ in range(ROUNDS):
        load = pool.cost + pool.pair[best].sum(axis=0)
        lowest = min(lowest, float((pool.cost[best] + load[best]).sum() / 2))
        # Others that stand in its way may go: what it costs beside them now does not count.
        worth = np.flatnonzero(pool.cost - np.tile(load[best], pool.ways) < weights.hopeless)
        way, held = np.divmod(worth, pool.items)
        tries = np.tile(best // pool.items, (len(worth), 1))
        tries[np.arange(len(worth)), held] = way
        beside = by_way.take(worth, axis=1)
        beside -= by_way.take(best[held], axis=1)
        beside += load.reshape(pool.ways, 1, pool.items)
        tries, total = _settled(pool, by_way, tries, beside, held)
        k = int(total.argmin())
        if total[k] >= lowest:
            break
        best = tries[k] * pool.items + np.arange(pool.items)
    return best


def _settled(pool: _Pool, by_way: Array, tries: IntArray, load: Array, held: IntArray) -> tuple[IntArray, Array]:
    """Choices (m, items) of ways, in each of which the item that gains most takes its cheapest way until none gains, and their
    costs (m,); the item ``held`` (m,) keeps its own. ``load`` (ways, m, items): what each offer costs beside each choice;
    ``by_way`` (ways, n, items): what it costs beside each other offer. Ways come first: the least of them is found in long runs.
    """
    settled, costs, of, each = tries, np.empty(tries.shape), np.arange(len(held)), np.arange(len(held))
    fixed = tries[each, held]
    stays = load[fixed, each, held]
    load[:, each, held] = np.inf
    load[fixed, each, held] = stays
    cells, first = np.arange(tries.size).reshape(tries.shape), np.arange(len(held)) * pool.items
    at = tries * tries.size + cells                             # of what is chosen, in the load laid flat
    while True:
        now = load.ravel().take(at)
        gain = now - load.min(axis=0)
        moves = gain.argmax(axis=1)
        place = first + moves
        gains = gain.ravel().take(place) > 0.0
        count = int(np.count_nonzero(gains))
        if 2 * count <= len(of):
            settled[of], costs[of] = tries, now
            if not count:
                # Each two cost half in the load of either.
                return settled, (pool.cost[settled * pool.items + np.arange(pool.items)] + costs).sum(axis=1) / 2
            keep = np.flatnonzero(gains)
            of, tries, load, moves, gains = of[keep], tries[keep], load.take(keep, axis=1), moves[keep], gains[keep]
            first = first[:count]
            at, place = tries * tries.size + cells[:count], first + moves
        old = tries.ravel().take(place)
        wish = np.where(gains, load.reshape(pool.ways, -1).take(place, axis=1).argmin(axis=0), old)
        load += by_way.take(wish * pool.items + moves, axis=1)
        load -= by_way.take(old * pool.items + moves, axis=1)    # all in whole grains: what does not move keeps its load
        tries.ravel()[place] = wish
        at.ravel()[place] = wish * tries.size + place
