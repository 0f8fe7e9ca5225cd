"""Sets of numbers made of intervals: joined, and taken away from one another."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

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
