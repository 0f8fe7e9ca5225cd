"""The reference lines: X-Y between the two views that are given, and X1-Y1 before the auxiliary view, parallel to the face's
edge. Thin continuous lines with a letter at each end (common practice, no source; line type 01.1 of ISO 128-24, from memory).
A point lies as far from the one as from the other: so depths, or heights, are carried over. Sheet millimetres.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
import shapely

from sheetgen.exercises.kinds.auxiliary.turned import FROM_LINE, Turned
from sheetgen.geometry import Array
from sheetgen.ink import Mark, Pen, Stroke, Text, text_width
from sheetgen.sheet import Settings
from sheetgen.sight import PlacedView

PAST, PAST_VIEWS = 12.0, (18.0, 12.0, 8.0, 4.0, 1.0)
"""mm that the reference line of an auxiliary view runs past it at each end; and that between two views past these, as it is
tried: distances are shown there beside their sizes."""

CLEAR = 2.5
"""mm between that line and what belongs to the auxiliary view."""

LETTER, TO_LETTER, ROUND_LETTER, BESIDE_LETTER = 3.5, 1.5, 2.0, 5.0
"""mm: height of the letters, between a line's end and its letter; kept free above and below a letter, and beside it, so that it
is not read as part of a name."""


@dataclass(frozen=True, eq=False)
class Fold:
    """A reference line: ``ends`` (2, 2), each with its letter; ``away``: the unit direction (2,) from it to the view of which
    the distances are measured."""

    ends: Array
    letters: tuple[str, str]
    away: Array

    def marks(self) -> list[Mark]:
        """Line and letters."""
        return [Stroke(self.ends, Pen.DIMENSION), *self._texts()]

    def boxes(self) -> list[shapely.Polygon]:
        """What its letters take."""
        found = []
        for text in self._texts():
            (x, y), half = text.at, text_width(text.text, LETTER) / 2 + BESIDE_LETTER
            found.append(shapely.box(x - half, y - ROUND_LETTER, x + half, y + LETTER + ROUND_LETTER))
        return found

    def beyond(self, points: Array) -> Array:
        """How far (n,) points (n, 2) lie beyond it, mm."""
        return np.asarray((points - self.ends[0]) @ self.away)

    def _texts(self) -> list[Text]:
        way = (self.ends[1] - self.ends[0]) / math.dist(*self.ends.tolist())
        found = []
        for end, letter, sense in zip(self.ends, self.letters, (-1.0, 1.0), strict=True):
            half = text_width(letter, LETTER) / 2
            off = TO_LETTER + abs(float(way[0])) * half + abs(float(way[1])) * LETTER / 2
            x, y = (end + sense * off * way).tolist()
            found.append(Text(letter, (x, y - LETTER / 2), LETTER, anchor="middle"))
        return found


def fold_between(home: PlacedView, beside: PlacedView, settings: Settings, avoided: shapely.Geometry) -> Fold:
    """The line X-Y between the view that shows a face edge-on and the one beside it, near to this. An end that would come near
    what is ``avoided`` stops sooner."""
    boxes = np.array([home.box, beside.box])
    k = 0 if boxes[:, 0].max() < boxes[:, 2].min() else 1                # along the sheet's x, or y
    one, other = boxes[:, 1 - k]
    sense = 1.0 if other > one else -1.0
    level = boxes[1, 1 - k] - FROM_LINE if sense > 0 else boxes[1, 3 - k] + FROM_LINE
    away = sense * np.eye(2)[1 - k]

    def fold(low: float, high: float) -> Fold:
        ends = np.full((2, 2), level)
        ends[:, k] = boxes[:, k].min() - low, boxes[:, k + 2].max() + high
        return Fold(ends, _letters(settings, ""), away)

    def clear(end: int, past: float) -> bool:
        there = fold(past, past)
        drawn = shapely.union_all([there.boxes()[end], shapely.LineString([there.ends[end], there.ends.mean(axis=0)])])
        return bool(drawn.distance(avoided) > CLEAR)

    low, high = (next((past for past in PAST_VIEWS if clear(end, past)), PAST_VIEWS[-1]) for end in (0, 1))
    return fold(low, high)


def fold_before(turned: Turned, settings: Settings) -> Fold:
    """The line X1-Y1 before the auxiliary view, from left to right, or upwards."""
    low, high, _, _ = turned.box()
    ends = np.array([turned.at(low - PAST, 0.0), turned.at(high + PAST, 0.0)])
    way = ends[1] - ends[0]
    backwards = way[0] < 0 if abs(float(way[0])) >= abs(float(way[1])) else way[1] < 0
    return Fold(ends[::-1] if backwards else ends, _letters(settings, "_1"), turned.away)


def _letters(settings: Settings, which: str) -> tuple[str, str]:
    say = settings.wording.render
    return say(f"auxiliary.from{which}"), say(f"auxiliary.to{which}")
