"""Sets of numbers made of intervals: joined, and taken away from one another."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import numpy as np

from sheetgen.geometry.arrays import Array, IntArray, Mask

Interval = tuple[float, float]


def joined(intervals: Iterable[Interval], gap: float) -> list[Interval]:
    """The union, in order; intervals no further apart than ``gap`` become one.

    >>> joined([(3, 4), (0, 1), (1, 2)], gap=0.1)
    [(0, 2), (3, 4)]
    """
    result: list[Interval] = []
    for low, high in sorted(intervals):
        if result and low <= result[-1][1] + gap:
            result[-1] = (result[-1][0], max(result[-1][1], high))
        else:
            result.append((low, high))
    return result


def minus(intervals: Iterable[Interval], taken: Sequence[Interval]) -> list[Interval]:
    """What is left of ``intervals`` when ``taken`` (in order, not overlapping) is taken away.

    >>> minus([(0, 10)], [(2, 3), (8, 12)])
    [(0, 2), (3, 8)]
    """
    result: list[Interval] = []
    for low, high in intervals:
        for a, b in taken:
            if b <= low or a >= high:
                continue
            if a > low:
                result.append((low, a))
            low = max(low, b)
        if high > low:
            result.append((low, high))
    return result


def longer(intervals: Iterable[Interval], least: float) -> list[Interval]:
    """Those longer than ``least``."""
    return [(low, high) for low, high in intervals if high - low > least]


def begins_of(values: IntArray) -> Mask:
    """True (n,) where a run of equal ``values`` (n,) begins.

    >>> begins_of(np.array([3, 3, 5])).tolist()
    [True, False, True]
    """
    begins = np.ones(len(values), dtype=bool)
    begins[1:] = values[1:] != values[:-1]
    return begins


def joined_by(owner: IntArray, low: Array, high: Array, gap: Array | float) -> tuple[IntArray, Array, Array]:
    """``joined`` for many owners at once: intervals (n,), each of an owner; ``gap``: one for all, or by owner."""
    if not len(owner):
        return owner, low, high
    order = np.lexsort((low, owner))
    owner, low, high = owner.take(order), low.take(order), high.take(order)
    begins = begins_of(owner)
    reach = high
    if not ((high[1:] >= high[:-1]) | begins[1:]).all():
        # Ranks that grow with the owner let one running maximum serve them all, free of rounding.
        rising = np.lexsort((high, owner))
        rank = np.empty(len(owner), dtype=np.int64)
        rank[rising] = np.arange(len(owner))
        reach = high.take(rising).take(np.maximum.accumulate(rank))
    begins[1:] |= low[1:] > reach[:-1] + (gap if isinstance(gap, float) else gap.take(owner[1:]))
    last = np.empty(len(owner), dtype=bool)
    last[:-1], last[-1] = begins[1:], True
    return owner[begins], low[begins], reach[last]
