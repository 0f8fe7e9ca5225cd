"""Choosing one placing for each item: least cost, no hard rule broken. The result depends on the input only."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
import shapely

from sheetgen.dimensions.candidate import NEXT_TIER, Candidate, Offer
from sheetgen.dimensions.ground import HARD, Ground, beside, crossing, flattened, text_boxes, text_shapes
from sheetgen.solid.surfaces import Array

EFFORTS = ((48, 12), (400, 40))
"""How many offers of each item are looked at, and how many worked-out ones are weighed against the others': the cheapest by
themselves. The second effort is made only where the first finds no way."""

LINE_THROUGH_EXTENSION = 9.0   # a dimension line crosses another's extension line
EXTENSIONS_CROSS = 1.5
LEADER_OVER = 6.0              # a leader crosses an extension line


class PlacingError(ValueError):
    """No placing of an item keeps the hard rules; ``item`` is its number."""

    def __init__(self, item: int, reason: str) -> None:
        super().__init__(reason)
        self.item, self.reason = item, reason


@dataclass(frozen=True, eq=False)
class _Pool:
    """The offers weighed, all items' in one list: ``item`` (n,) whose each is; costs alone (n,) and together (n, n)."""

    offers: list[Offer]
    item: npt.NDArray[np.int64]
    cost: Array
    pair: Array


def choose(ground: Ground, offers: Sequence[Sequence[Offer]]) -> list[Candidate]:
    """Return one candidate of each item's ``offers``.

    Raises: PlacingError if an item has none that keeps the hard rules, or not all can keep them together.
    """
    for effort in EFFORTS:
        try:
            return _chosen(ground, offers, *effort)
        except PlacingError:
            if effort == EFFORTS[-1]:
                raise
    raise AssertionError("there is a last effort")


def _chosen(ground: Ground, offers: Sequence[Sequence[Offer]], most: int, best: int) -> list[Candidate]:
    pool = _pool(ground, offers, most, best)
    chosen = _improved(pool, _started(pool, len(offers)))
    clash = pool.pair[np.ix_(chosen, chosen)] >= HARD
    if clash.any():
        i = int(np.argmax(clash.sum(axis=1)))
        raise PlacingError(i, "no placing keeps it clear of the other sizes")
    return [pool.offers[k].build() for k in chosen]


def _pool(ground: Ground, offers: Sequence[Sequence[Offer]], most: int, best: int) -> _Pool:
    near = [ground.within_reach(mine, most) for mine in offers]
    cost = ground.line_costs([offer for mine in near for offer in mine])
    waiting = []
    for mine, costs in zip(near, np.split(cost, np.cumsum([len(mine) for mine in near])[:-1]), strict=True):
        order = np.argsort(np.round(costs, 6), kind="stable")
        waiting.append([(float(costs[k]), mine[k]) for k in order if costs[k] < HARD])
    usable = _usable(ground, waiting, best)
    for i, mine_usable in enumerate(usable):
        if not mine_usable:
            raise PlacingError(i, "no placing keeps it legible and clear of the lines")
    kept = [offer for mine_usable in usable for _, offer in mine_usable]
    owner = np.repeat(np.arange(len(usable)), [len(mine_usable) for mine_usable in usable])
    return _Pool(kept, owner, np.array([c for mine_usable in usable for c, _ in mine_usable]), _pair_costs(kept, owner))


def _usable(ground: Ground, waiting: Sequence[Sequence[tuple[float, Offer]]], best: int) -> list[list[tuple[float, Offer]]]:
    """Of each item the ``best`` cheapest offers whose figures stand clear, cost included; looked at in rounds for all at once."""
    found: list[list[tuple[float, Offer]]] = [[] for _ in waiting]
    start = 0
    while batch := [
        (i, entry) for i, mine in enumerate(waiting) if len(found[i]) < best for entry in mine[start:start + best + 4]
    ]:
        extra = ground.text_costs([offer for _, (_, offer) in batch], *text_boxes([offer for _, (_, offer) in batch]))
        for (i, (cost, offer)), more in zip(batch, extra.tolist(), strict=True):
            if more < HARD:
                found[i].append((round(cost + more, 6), offer))
        start += best + 4
    return [sorted(mine, key=lambda entry: entry[0])[:best] for mine in found]


def _pair_costs(offers: Sequence[Offer], item: npt.NDArray[np.int64]) -> Array:
    """Cost (n, n) of each two offers of different items together."""
    n = len(offers)
    pair = np.zeros((n, n))
    lines, of_line = flattened(offers, lambda offer: offer.lines)
    ends, of_end = flattened(offers, lambda offer: (*offer.extensions, *offer.centres))
    leader = np.array([offer.leader for offer in offers])
    _put(pair, of_line, of_line, crossing(lines, lines), HARD)
    a, b = np.nonzero(beside(lines, lines, NEXT_TIER - 2.1))
    near = ~_in_line(lines[a], lines[b])
    np.add.at(pair, (of_line[a[near]], of_line[b[near]]), HARD)
    rate = np.where(leader[of_line], LEADER_OVER, LINE_THROUGH_EXTENSION)
    a, b = np.nonzero(crossing(lines, ends))
    np.add.at(pair, (of_line[a], of_end[b]), rate[a])
    _put(pair, of_line, of_end, beside(lines, ends, 2.0), HARD)
    _put(pair, of_end, of_end, crossing(ends, ends), EXTENSIONS_CROSS / 2)
    boxes, of_box = text_boxes(offers)
    shapes = text_shapes(boxes)
    tree = shapely.STRtree(shapes)
    a, b = tree.query(shapes, predicate="intersects")
    np.add.at(pair, (of_box[a], of_box[b]), HARD)
    strings = shapely.linestrings(np.concatenate([lines, ends]).reshape(-1, 2, 2))
    a, b = tree.query(strings, predicate="intersects")
    np.add.at(pair, (np.concatenate([of_line, of_end])[a], of_box[b]), HARD)
    pair = pair + pair.T
    pair[item[:, None] == item[None, :]] = 0.0
    return pair


def _put(
    pair: Array, one: npt.NDArray[np.int64], other: npt.NDArray[np.int64], clash: npt.NDArray[np.bool_], rate: float
) -> None:
    a, b = np.nonzero(clash)
    np.add.at(pair, (one[a], other[b]), rate)


def _in_line(one: Array, other: Array) -> npt.NDArray[np.bool_]:
    """(n,) True where two segments (n, 4) lie in one line and share at most an end: links of a chain."""
    direction = one[:, 2:] - one[:, :2]
    length = np.hypot(direction[:, 0], direction[:, 1])
    unit = direction / length[:, None]
    start, stop = other[:, :2] - one[:, :2], other[:, 2:] - one[:, :2]
    off = np.abs(unit[:, 0] * start[:, 1] - unit[:, 1] * start[:, 0])
    a, b = (start * unit).sum(axis=1), (stop * unit).sum(axis=1)
    return np.asarray((off < 1e-6) & ((np.maximum(a, b) < 1e-6) | (np.minimum(a, b) > length - 1e-6)))


def _started(pool: _Pool, items: int) -> npt.NDArray[np.int64]:
    """A first choice: items with the fewest ways first, each the cheapest beside those already chosen."""
    ways = np.bincount(pool.item, minlength=items)
    chosen = np.full(items, -1, dtype=np.int64)
    load = pool.cost.copy()
    for i in np.argsort(ways, kind="stable"):
        mine = np.flatnonzero(pool.item == i)
        chosen[i] = mine[int(np.argmin(load[mine]))]
        load += pool.pair[:, chosen[i]]
    return chosen


def _improved(pool: _Pool, chosen: npt.NDArray[np.int64]) -> npt.NDArray[np.int64]:
    """Change one item at a time, then two at a time, as long as it gets cheaper."""
    ways = [np.flatnonzero(pool.item == i) for i in range(len(chosen))]
    for _ in range(40):
        if _single_moves(pool, chosen, ways):
            continue
        if not _double_move(pool, chosen, ways):
            break
    return chosen


def _single_moves(pool: _Pool, chosen: npt.NDArray[np.int64], ways: Sequence[npt.NDArray[np.int64]]) -> bool:
    moved = False
    for i, mine in enumerate(ways):
        others = np.delete(chosen, i)
        cost = np.round(pool.cost[mine] + pool.pair[np.ix_(mine, others)].sum(axis=1), 6)
        best = int(np.argmin(cost))
        now = int(np.flatnonzero(mine == chosen[i])[0])
        if cost[best] < cost[now] - 1e-9:
            chosen[i], moved = mine[best], True
    return moved


def _double_move(pool: _Pool, chosen: npt.NDArray[np.int64], ways: Sequence[npt.NDArray[np.int64]]) -> bool:
    """The best change of two items that cost each other something; False if none is better."""
    together = pool.pair[np.ix_(chosen, chosen)]
    best_gain, best = 1e-6, None
    for i, j in zip(*np.nonzero(np.triu(together > 0)), strict=True):
        rest = np.delete(chosen, [i, j])
        a = pool.cost[ways[i]] + pool.pair[np.ix_(ways[i], rest)].sum(axis=1)
        b = pool.cost[ways[j]] + pool.pair[np.ix_(ways[j], rest)].sum(axis=1)
        both = a[:, None] + b[None, :] + pool.pair[np.ix_(ways[i], ways[j])]
        now = both[np.flatnonzero(ways[i] == chosen[i])[0], np.flatnonzero(ways[j] == chosen[j])[0]]
        gain = float(now - both.min())
        if gain > best_gain:
            k, m = np.unravel_index(int(np.argmin(np.round(both, 6))), both.shape)
            best_gain, best = gain, (i, j, ways[i][k], ways[j][m])
    if best is None:
        return False
    chosen[best[0]], chosen[best[1]] = best[2], best[3]
    return True
