"""The reference arrow at an inclined face, square to it, with its letter: the direction in which the auxiliary view looks
(reference arrow method, ISO 128-3; the letter stands upright, as abstracts of the standard have it). Sheet millimetres."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely

from sheetgen.geometry import Array
from sheetgen.ink import Fill, Mark, Pen, Stroke, Text, text_width
from sheetgen.units import SAME_PLACE

ARROW, HEAD, HALF_HEAD = 9.0, 4.0, 1.1
"""mm: an arrow, its head, half the head's width: as at cutting planes (common practice, no source)."""

LETTER, TO_LETTER, ROUND = 5.0, 1.2, 0.8
"""mm: height of the letter, between it and the arrow's tail, and kept free round it."""

FROM_FACE = (2.5, 5.0, 8.0, 12.0, 16.0, 20.0, 26.0, 32.0, 40.0)
"""mm from the face to the arrow's tip, as they are tried."""

ALONG = (0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8)
"""Of the face's length, where the arrow may stand: in the middle best."""

FROM_CORNER = 27.0
"""mm along the face from a corner into which it runs, where the arrow leaves room for the arc of an angle and its figures."""

CLEAR = 1.8
"""mm kept between the arrow and lines."""


@dataclass(frozen=True, eq=False)
class Arrow:
    """``tip`` (2,), the unit direction ``back`` (2,) from it to the tail, and the ``letter``."""

    tip: Array
    back: Array
    letter: str

    @property
    def tail(self) -> Array:
        """Where it begins (2,)."""
        return np.asarray(self.tip + ARROW * self.back)

    @property
    def line(self) -> Array:
        """From tip to tail (2, 2)."""
        return np.stack([self.tip, self.tail])

    @property
    def middle(self) -> Array:
        """The middle of its letter (2,)."""
        half = np.array([text_width(self.letter, LETTER) / 2, LETTER / 2])
        off = TO_LETTER + float(np.abs(self.back) @ half)
        return np.asarray(self.tail + off * self.back)

    def boxes(self) -> list[shapely.Polygon]:
        """What arrow and letter take."""
        (x, y), half = self.middle.tolist(), text_width(self.letter, LETTER) / 2 + ROUND
        return [shapely.LineString(self.line).buffer(CLEAR - 0.4, cap_style="flat"),
                shapely.box(x - half, y - LETTER / 2 - ROUND, x + half, y + LETTER / 2 + ROUND)]

    def marks(self) -> list[Mark]:
        """Shaft, head and letter."""
        way, base = -self.back, self.tip + HEAD * self.back
        aside, (x, y) = HALF_HEAD * np.array([-way[1], way[0]]), self.middle.tolist()
        return [Stroke(np.stack([self.tail, base]), Pen.CUTTING), Fill(np.stack([self.tip, base + aside, base - aside])),
                Text(self.letter, (x, y - LETTER / 2), LETTER, anchor="middle")]


def arrow_at(
    edge: Array, outward: Array, straights: Array, lines: Sequence[Array], letter: str, most: float = math.inf
) -> Arrow | None:
    """The arrow at the ``edge`` (2, 2) of a face that looks ``outward`` (2,), clear of ``lines`` (k, 2) and within ``most``
    mm of the face; None if it has no room. ``straights`` (n, 2, 2): the straight ones of the view, of which some rise from an end
    of the face."""
    ink = shapely.MultiLineString([line for line in lines if len(line) > 1])
    best = _best(edge, outward, straights)
    for off in FROM_FACE:
        for share in sorted(ALONG, key=lambda share: round(abs(share - best), 6)):
            arrow = Arrow(edge[0] + share * (edge[1] - edge[0]) + off * outward, outward, letter)
            reach = float((arrow.middle - edge[0]) @ outward) + LETTER / 2
            if reach <= most and all(shapely.distance(box, ink) > 0.3 for box in arrow.boxes()):
                return arrow
    return None


def _best(edge: Array, outward: Array, straights: Array) -> float:
    """Where along a face the arrow stands best: in the middle, but away from one corner in which a line of the part rises from
    it, for there stand angles."""
    corners = [_rises(end, outward, straights) for end in edge]
    if sum(corners) != 1:
        return 0.5
    away = min(max(FROM_CORNER / math.dist(*edge.tolist()), 0.5), 0.8)
    return away if corners[0] else 1.0 - away


def _rises(end: Array, outward: Array, straights: Array) -> bool:
    """Whether a line of the view goes from an ``end`` (2,) of a face to the side to which this looks."""
    at = np.hypot(*(straights - end).transpose(2, 0, 1)) < SAME_PLACE
    others = np.where(at[:, :1], straights[:, 1], straights[:, 0])
    return bool((((others - end) @ outward)[at.any(axis=1)] > SAME_PLACE).any())
