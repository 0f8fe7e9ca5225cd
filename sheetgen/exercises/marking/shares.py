"""Half marks shared out so that they add up."""

from __future__ import annotations

import math
from collections.abc import Sequence

DIGITS = 9
"""Of a remainder that are compared: what differs less is rounding, and then the first goes before."""


def shared(halves: int, weights: Sequence[float]) -> tuple[int, ...]:
    """So many half marks by ``weights``, after the method of the largest remainder; each that weighs anything has one at least,
    as long as there are enough.

    >>> shared(40, [3, 5, 4, 4, 2, 1, 1]), shared(5, [1, 1, 1]), shared(3, [100, 1, 1])
    ((6, 10, 8, 8, 4, 2, 2), (2, 2, 1), (1, 1, 1))
    """
    total = sum(weights)
    if total <= 0:
        return (0,) * len(weights)
    quotas = [halves * weight / total for weight in weights]
    least = [1 if weight > 0 else 0 for weight in weights]
    if sum(least) == halves:
        return tuple(least)
    if sum(least) > halves:
        return _largest_remainder(halves, quotas)
    above = [max(0.0, quota - one) for quota, one in zip(quotas, least, strict=True)]
    left = halves - sum(least)
    more = _largest_remainder(left, [left * part / sum(above) for part in above])
    return tuple(one + part for one, part in zip(least, more, strict=True))


def _largest_remainder(whole: int, quotas: Sequence[float]) -> tuple[int, ...]:
    """Whole numbers near the ``quotas``, which add up to ``whole``."""
    found = [math.floor(round(quota, DIGITS)) for quota in quotas]
    order = sorted(range(len(quotas)), key=lambda k: (-round(quotas[k] - found[k], DIGITS), k))
    for k in order[:whole - sum(found)]:
        found[k] += 1
    return tuple(found)


def ladder(count: int, halves: int, most: int) -> tuple[tuple[int, int], ...]:
    """How many of ``count`` things that are right make how many half marks, step by step, in at most ``most`` steps.

    In proportion, halves not reached left out, as boards mark in proportion to the work done (CBSE, India, all years).

    >>> ladder(12, 3, 8), ladder(2, 4, 8), ladder(40, 26, 8)[-2:]
    (((4, 1), (8, 2), (12, 3)), ((1, 2), (2, 4)), ((34, 22), (40, 26)))
    """
    found = [(right, halves * right // count) for right in range(1, count + 1)]
    found = [step for step, before in zip(found, [(0, 0), *found], strict=False) if step[1] > before[1]]
    if len(found) > most:                                             # then where the next whole mark is reached, and the last
        found = [step for step, before in zip(found, [(0, 0), *found], strict=False)
                 if step[1] // 2 > before[1] // 2 or step[0] == count]
    if len(found) > most:
        found = [found[round((k + 1) * len(found) / most) - 1] for k in range(most)]
    return tuple(found)
