"""Leaders with their notes, offered in arrays. Sheet millimetres."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from sheetgen.geometry import Array
from sheetgen.geometry.arrays import IntArray
from sheetgen.ink import Text
from sheetgen.placing.candidate import LANDING, TEXT_HEIGHT, Arrowhead, Candidate, Vec, lettered_width
from sheetgen.placing.columns import Elements, Table, merged, stacked
from sheetgen.placing.table import Offers, boxes_at
from sheetgen.placing.weights import Weights

PITCH = 1.5 * TEXT_HEIGHT    # mm from one line of a note to the next


@dataclass(frozen=True, eq=False)
class Leaders(Table):
    """Leaders to be offered, one a row (n,).

    ``item``; ``cost``; the ``view`` they stand on, -1 for the pictorial; the ``tip`` (n, 2) that the arrow touches; the ``way``
    (n, 2) it runs (unit); ``level`` (n, 2): the way of landing and base lines (unit, to the right); the letters' ``up`` (n, 2).
    """

    item: IntArray
    cost: Array
    view: IntArray
    tip: Array
    way: Array
    level: Array
    up: Array


def leaders_from(
    tips: Array, ways: Array, item: int, cost: Array, view: int = -1, level: Vec = (1.0, 0.0), up: Vec = (0.0, 1.0)
) -> Leaders:
    """Leaders of one item from several ``tips`` (k, 2)."""
    count = len(tips)
    return Leaders(
        np.full(count, item), cost, np.full(count, view), tips, ways, np.full((count, 2), level), np.full((count, 2), up))


def leader_offers(
    several: Sequence[Leaders], texts: Sequence[tuple[str, ...]], lengths: Sequence[float], weights: Weights
) -> Offers:
    """Each leader in outline, in each of several ``lengths`` (mm) to its elbow, then a landing and the lines of its item's
    ``texts``."""
    none = leaders_from(np.zeros((0, 2)), np.zeros((0, 2)), 0, np.zeros(0))
    leaders = stacked([none, *several])
    leaders = leaders.take(np.repeat(np.arange(len(leaders)), len(lengths)))
    length = np.tile(lengths, len(leaders) // len(lengths))[:, None]
    item, tip, way, level, up = leaders.item, leaders.tip, leaders.way, leaders.level, leaders.up
    sense = np.where(way[:, :1] >= 0, 1.0, -1.0)
    elbow = tip + length * way
    end = elbow + sense * LANDING * level
    of, text, rise = _lines_of(texts, item)
    at = (end + sense * level).take(of, axis=0) + rise[:, None] * up.take(of, axis=0)
    width = np.array([lettered_width(line, TEXT_HEIGHT) for lines in texts for line in lines])[text]
    back = np.where(sense[of, 0] > 0, 0.0, width)
    each = np.arange(len(leaders))

    def drawn(k: int) -> Candidate:
        return _worked_out(leaders, k, float(length[k, 0]), texts[item[k]])

    return Offers.made(
        drawn, item, leaders.cost + weights.leader_length * length[:, 0], weights.leader_over,
        leader=True,
        view=leaders.view,
        lines=merged(Elements(np.hstack([tip, elbow]), each), Elements(np.hstack([elbow, end]), each)),
        boxes=Elements(boxes_at(at, level.take(of, axis=0), up.take(of, axis=0), width, TEXT_HEIGHT, back), of),
    )


def _lines_of(texts: Sequence[tuple[str, ...]], item: IntArray) -> tuple[IntArray, IntArray, Array]:
    """The lines of all notes: (m,) the leader, the number among all texts, and how far over the landing its base line lies."""
    counts = np.array([len(lines) for lines in texts], dtype=np.int64)
    count = counts[item]
    of = np.repeat(np.arange(len(item)), count)
    rank = np.arange(len(of)) - np.repeat(np.cumsum(count) - count, count)
    rise = (count[of] - 1) / 2 * PITCH - TEXT_HEIGHT / 2 - rank * PITCH
    return of, (np.cumsum(counts) - counts)[item[of]] + rank, rise


def _worked_out(leaders: Leaders, k: int, length: float, lines: Sequence[str]) -> Candidate:
    tip, way, level, up = leaders.tip[k], leaders.way[k], leaders.level[k], leaders.up[k]
    sense = 1.0 if way[0] >= 0 else -1.0
    elbow = tip + length * way
    end = elbow + sense * LANDING * level
    lift = (len(lines) - 1) / 2 * PITCH - TEXT_HEIGHT / 2
    anchor = "start" if sense > 0 else "end"
    texts = []
    for i, line in enumerate(lines):
        x, y = (end + sense * level + (lift - i * PITCH) * up).tolist()
        texts.append(Text(line, (x, y), TEXT_HEIGHT, _vec(level), _vec(up), anchor))
    head = Arrowhead(tip, -way, np.array([-way[1], way[0]]))
    return Candidate((np.array([tip, elbow, end]),), (), (head,), tuple(texts))


def _vec(point: Array) -> Vec:
    return float(point[0]), float(point[1])
