"""The rules between the cells of a table, each drawn once where neighbours share it. Block mm."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable

Rect = tuple[float, float, float, float]
Rule = tuple[float, float, float, float]
"""x0, y0, x1, y1, level or upright."""

DIGITS = 3
"""Edges that agree to a micron are one."""


def rules_between(boxes: Iterable[Rect], width: float, height: float) -> list[Rule]:
    """Return the rules of ``boxes`` (x, y, width, height), joined, without those on the border of the table.

    >>> rules_between([(0, 0, 10, 5), (10, 0, 10, 5), (0, 5, 20, 5)], 20, 10)
    [(0, 5, 20, 5), (10, 0, 10, 5)]
    """
    level: dict[float, list[tuple[float, float]]] = defaultdict(list)
    upright: dict[float, list[tuple[float, float]]] = defaultdict(list)
    for x, y, across, high in boxes:
        x0, y0, x1, y1 = (round(value, DIGITS) for value in (x, y, x + across, y + high))
        for place in (y0, y1):
            level[place].append((x0, x1))
        for place in (x0, x1):
            upright[place].append((y0, y1))
    inner_y = sorted(place for place in level if 0 < place < height)
    inner_x = sorted(place for place in upright if 0 < place < width)
    rules: list[Rule] = [(start, y, end, y) for y in inner_y for start, end in _joined(level[y])]
    return rules + [(x, start, x, end) for x in inner_x for start, end in _joined(upright[x])]


def _joined(spans: list[tuple[float, float]]) -> list[tuple[float, float]]:
    done: list[tuple[float, float]] = []
    for start, end in sorted(spans):
        if done and start <= done[-1][1]:
            done[-1] = (done[-1][0], max(done[-1][1], end))
        else:
            done.append((start, end))
    return done
