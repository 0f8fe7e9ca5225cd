"""Leaders with their notes, offered in arrays. Sheet millimetres."""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import partial
from typing import NamedTuple

import numpy as np

from sheetgen.dimensions.candidate import LANDING, TEXT_HEIGHT, Candidate, Head, Vec, lettered_width
from sheetgen.dimensions.offers import NO_FIELDS, NO_LINES, Offers, boxes_at
from sheetgen.ink import Text

PITCH = 1.5 * TEXT_HEIGHT    # mm from one line of a note to the next
OVER_PART = 0.05             # cost per mm of a leader that runs over the part


class Leader(NamedTuple):
    """A leader whose arrow touches ``tip``, running ``length`` mm the ``way`` (unit), then a landing and the text lines.

    ``level`` (unit, to the right): the landing's and the base lines' direction; ``up``: of the letters.
    """

    item: int
    cost: float
    tip: Vec
    way: Vec
    length: float
    texts: tuple[str, ...]
    level: Vec = (1.0, 0.0)
    up: Vec = (0.0, 1.0)


@dataclass(frozen=True, eq=False)
class Leaders:
    """Leaders to be offered."""

    rows: list[Leader] = field(default_factory=list)

    def offers(self) -> Offers:
        """Each leader in outline."""
        rows = self.rows
        flat = np.array([(*row.tip, *row.way, *row.level, *row.up, row.length) for row in rows]).reshape(-1, 9)
        tip, way, level, up, length = flat[:, :2], flat[:, 2:4], flat[:, 4:6], flat[:, 6:8], flat[:, 8:]
        sense = np.where(way[:, :1] >= 0, 1.0, -1.0)
        elbow = tip + length * way
        end = elbow + sense * LANDING * level
        count = np.array([len(row.texts) for row in rows], dtype=np.int64)
        of = np.repeat(np.arange(len(rows)), count)
        rank = np.arange(len(of)) - np.repeat(np.cumsum(count) - count, count)
        rise = (count[of] - 1) / 2 * PITCH - TEXT_HEIGHT / 2 - rank * PITCH
        at = (end + sense * level)[of] + rise[:, None] * up[of]
        width = np.array([lettered_width(text, TEXT_HEIGHT) for row in rows for text in row.texts])
        back = np.where(sense[of, 0] > 0, 0.0, width)
        each = np.arange(len(rows))
        return Offers(
            item=np.array([row.item for row in rows], dtype=np.int64),
            cost=np.array([row.cost for row in rows], dtype=float),
            over=np.full(len(rows), OVER_PART),
            leader=np.ones(len(rows), dtype=bool),
            own=np.zeros(len(rows), dtype=bool),
            name=np.zeros(len(rows), dtype=bool),
            lines=(np.concatenate([np.hstack([tip, elbow]), np.hstack([elbow, end])]), np.concatenate([each, each])),
            extensions=NO_LINES,
            centres=NO_LINES,
            boxes=(boxes_at(at, level[of], up[of], width, TEXT_HEIGHT, back), of),
            fields=NO_FIELDS,
            build=[partial(_worked_out, row) for row in rows],
        )


def _worked_out(row: Leader) -> Candidate:
    sense = 1.0 if row.way[0] >= 0 else -1.0
    tip, way, level, up = (np.array(vector) for vector in (row.tip, row.way, row.level, row.up))
    elbow = tip + row.length * way
    end = elbow + sense * LANDING * level
    lift = (len(row.texts) - 1) / 2 * PITCH - TEXT_HEIGHT / 2
    anchor = "start" if sense > 0 else "end"
    texts = []
    for i, line in enumerate(row.texts):
        x, y = (end + sense * level + (lift - i * PITCH) * up).tolist()
        texts.append(Text(line, (x, y), TEXT_HEIGHT, row.level, row.up, anchor))
    head = Head(tip, -way, np.array([-way[1], way[0]]))
    return Candidate((np.stack([tip, elbow, end]),), (), (head,), tuple(texts))
