"""Leaders with their notes, offered in arrays. Sheet millimetres."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np
import numpy.typing as npt

from sheetgen.geometry import Array
from sheetgen.geometry.arrays import IntArray
from sheetgen.ink import Text
from sheetgen.placing.candidate import LANDING, TEXT_HEIGHT, Candidate, Head, Vec, lettered_width
from sheetgen.placing.table import NO_FEET, NO_FIELDS, NO_LINES, NO_SPANS, Offers, boxes_at

PITCH = 1.5 * TEXT_HEIGHT    # mm from one line of a note to the next
OVER_PART = 0.05             # cost per mm of a leader that runs over the part


LONGER = 0.12                # cost per mm of a leader


@dataclass(frozen=True, eq=False)
class Leaders:
    """Leaders to be offered, each of several ``lengths`` (mm) to its elbow, then a landing and its item's lines of ``texts``.

    Tables (k, 10) of rows: item; cost; the tip that its arrow touches; the way it runs (unit); the way of landing and base lines
    (unit, to the right); the letters' up.
    """

    texts: Sequence[tuple[str, ...]]
    lengths: Sequence[float]
    tables: list[Array] = field(default_factory=list)

    def add(
        self, item: int, cost: npt.NDArray[np.floating], tips: Array, ways: Array, level: Vec = (1.0, 0.0), up: Vec = (0.0, 1.0)
    ) -> None:
        """Leaders from several ``tips`` (k, 2)."""
        same = np.tile([*level, *up], (len(tips), 1))
        self.tables.append(np.hstack([np.full((len(tips), 1), float(item)), cost[:, None], tips, ways, same]))

    def offers(self) -> Offers:
        """Each leader in outline, in each of the lengths."""
        rows = np.repeat(np.concatenate([np.zeros((0, 10)), *self.tables]), len(self.lengths), axis=0)
        length = np.tile(self.lengths, len(rows) // len(self.lengths))[:, None]
        item, cost, tip, way, level, up = rows[:, 0].astype(np.int64), rows[:, 1], *(rows[:, k:k + 2] for k in (2, 4, 6, 8))
        sense = np.where(way[:, :1] >= 0, 1.0, -1.0)
        elbow = tip + length * way
        end = elbow + sense * LANDING * level
        of, text, rise = _lines_of(self.texts, item)
        at = (end + sense * level)[of] + rise[:, None] * up[of]
        width = np.array([lettered_width(line, TEXT_HEIGHT) for lines in self.texts for line in lines])[text]
        back = np.where(sense[of, 0] > 0, 0.0, width)
        each, no = np.arange(len(rows)), np.zeros(len(rows), dtype=bool)

        def drawn(k: int) -> Candidate:
            return _worked_out(rows[k], float(length[k, 0]), self.texts[item[k]])

        return Offers(
            item=item,
            cost=cost + LONGER * length[:, 0],
            over=np.full(len(rows), OVER_PART),
            leader=~no,
            own=no,
            name=no,
            axis=np.full(len(rows), -1),
            view=np.full(len(rows), -1),
            lines=(np.concatenate([np.hstack([tip, elbow]), np.hstack([elbow, end])]), np.concatenate([each, each])),
            extensions=NO_LINES,
            centres=NO_LINES,
            feet=NO_FEET,
            crossings=NO_FEET,
            boxes=(boxes_at(at, level[of], up[of], width, TEXT_HEIGHT, back), of),
            spans=NO_SPANS,
            fields=NO_FIELDS,
            source=np.zeros(len(rows), dtype=np.int64),
            row=each,
            build=(drawn,),
        )


def _lines_of(texts: Sequence[tuple[str, ...]], item: IntArray) -> tuple[IntArray, IntArray, Array]:
    """The lines of all notes: (m,) the leader, the number among all texts, and how far over the landing its base line lies."""
    counts = np.array([len(lines) for lines in texts], dtype=np.int64)
    count = counts[item]
    of = np.repeat(np.arange(len(item)), count)
    rank = np.arange(len(of)) - np.repeat(np.cumsum(count) - count, count)
    rise = (count[of] - 1) / 2 * PITCH - TEXT_HEIGHT / 2 - rank * PITCH
    return of, (np.cumsum(counts) - counts)[item[of]] + rank, rise


def _worked_out(row: Array, length: float, lines: Sequence[str]) -> Candidate:
    tip, way, level, up = row[2:].reshape(4, 2)
    sense = 1.0 if way[0] >= 0 else -1.0
    elbow = tip + length * way
    end = elbow + sense * LANDING * level
    lift = (len(lines) - 1) / 2 * PITCH - TEXT_HEIGHT / 2
    anchor = "start" if sense > 0 else "end"
    texts = []
    for i, line in enumerate(lines):
        x, y = (end + sense * level + (lift - i * PITCH) * up).tolist()
        texts.append(Text(line, (x, y), TEXT_HEIGHT, _vec(level), _vec(up), anchor))
    head = Head(tip, -way, np.array([-way[1], way[0]]))
    return Candidate((np.array([tip, elbow, end]),), (), (head,), tuple(texts))


def _vec(point: Array) -> Vec:
    return float(point[0]), float(point[1])
