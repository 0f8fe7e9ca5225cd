"""Straight dimension lines with their extension lines, offered in arrays. Sheet millimetres."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import NamedTuple

import numpy as np

from sheetgen.geometry import Array
from sheetgen.geometry.arrays import IntArray, Mask
from sheetgen.ink import Text
from sheetgen.placing.candidate import (
    ARROW,
    BREAK,
    GAP,
    OVERSHOOT,
    TAIL,
    TEXT_ABOVE,
    TEXT_HEIGHT,
    UPRIGHT,
    Candidate,
    Head,
    Vec,
    broken,
    lettered_width,
    reading,
)
from sheetgen.placing.table import CLEAR, OVER, Offers, Owned, boxes_at

FIELD_BESIDE = 2.0       # mm beside a dimension line where no view's name belongs
NOT_MIDWAY = 5.0         # cost of figures that stand aside of the middle of their line, where that is taken
ASIDE = 0.28             # of a dimension line's length: where they stand then
BESIDE_SPACE = 1.5       # cost of figures, or arrows and figures, beside a space that is too small for them


Row = tuple[float, ...]
"""A dimension line in 21 numbers: item; cost; its ends a and b; where its extension lines start (two places); the way these run
(unit); which of the table's sets of centre lines belong to it, -1 for none; the axis along which it measures; the number of the
view it stands on, -1 for none; the two points of the part at which its extension lines start, not numbers where lines in one line
always measure from one level."""


@dataclass(frozen=True, eq=False)
class Lines:
    """Dimension lines to be offered: tables (k, 21) of rows. ``texts``: the items' figures; ``centres``: sets of centre lines
    on the sheet, (k, 4) each, and ``axes``: the same in the part, (k, 2, 3); ``upright``: unidirectional figures."""

    texts: Sequence[str]
    upright: bool
    tables: list[Array] = field(default_factory=list)
    centres: list[Array] = field(default_factory=list)
    axes: list[Array] = field(default_factory=list)

    def offers(self) -> Offers:
        """Ways to draw each: figures over the line if they fit between the extension lines, else beyond one end or the other.

        Where the space is too small for arrows, these stand outside and point in.
        """
        rows = np.concatenate([np.zeros((0, 21)), *self.tables])
        item, flat, centres = rows[:, 0].astype(np.int64), rows[:, 2:12], rows[:, 12].astype(np.int64)
        width = np.array([lettered_width(text, TEXT_HEIGHT) for text in self.texts])[item]
        a, b, outward = flat[:, :2], flat[:, 2:4], flat[:, 8:]
        span = np.hypot(*(b - a).T)
        along = (b - a) / span[:, None]
        inside = span >= 2 * ARROW + 2.0
        least = self._least(width, along, outward)
        fits = span >= np.maximum(self._needed(width, inside, np.abs(along[:, 1]) < 1e-9), 2 * least)
        # On views figures stand near the middle (ISO 129-1, from memory); a pictorial has not always room for them there.
        roomy = (rows[:, 14] < 0) & (span * ASIDE >= np.maximum(width / 2 + ARROW + 1.5, least))
        of, turn = _expanded(fits, roomy)
        low, high, middle = _reach(span[of], width[of], inside[of], fits[of], turn, least[of])
        shift = np.stack([low, high], axis=1)[:, :, None] * along[of][:, None, :] + a[of][:, None, :]
        base, up = _lettering_axes(along[of], outward[of], upright=self.upright)
        at = a[of] + middle[:, None] * along[of] + self._lift(along[of], up)
        which = centres[of]
        (extensions, end), (centre_lines, crossings) = _extensions(flat[of]), self._centres(which)

        def drawn(k: int) -> Candidate:
            way = _Way(flat[of[k]], self.texts[item[of[k]]], float(middle[k]), float(low[k]), float(high[k]), bool(inside[of[k]]))
            centres = self.axes[which[k]] if which[k] >= 0 else np.zeros((0, 2, 3))
            return _worked_out(way, tuple(centres), upright=self.upright)

        return Offers(
            item=item[of],
            cost=rows[of, 1] + np.where(fits[of], NOT_MIDWAY * (turn > 0), BESIDE_SPACE),
            over=np.full(len(of), OVER),
            leader=np.zeros(len(of), dtype=bool),
            own=which >= 0,
            name=np.zeros(len(of), dtype=bool),
            axis=rows[of, 13].astype(np.int64),
            view=rows[of, 14].astype(np.int64),
            lines=_pieces(a[of], b[of], shift),
            extensions=extensions,
            centres=centre_lines,
            feet=(rows[of, 15:].reshape(-1, 2, 3)[extensions[1], end], extensions[1]),
            crossings=crossings,
            boxes=(boxes_at(at, base, up, width[of], TEXT_HEIGHT, width[of] / 2), np.arange(len(of))),
            spans=(np.hstack([flat[of, :4], outward[of]]), np.arange(len(of))),
            fields=(_fields(flat[of], shift), np.arange(len(of))),
            source=np.zeros(len(of), dtype=np.int64),
            row=np.arange(len(of)),
            build=(drawn,),
        )

    def _needed(self, width: Array, inside: Mask, level: Mask) -> Array:
        """mm between the extension lines for the figures to stand there."""
        over = width + 1.5
        if not self.upright:
            return over
        return np.where(level, over, TEXT_HEIGHT + 2 * BREAK + np.where(inside, 2 * ARROW, 0.0) + 2.0)

    def _least(self, width: Array, along: Array, outward: Array) -> Array:
        """mm (n,) along the line from an extension line to the middle of upright figures that stand clear of it."""
        if not self.upright:
            return np.zeros(len(width))
        half = np.stack([width / 2 + CLEAR, np.full(len(width), TEXT_HEIGHT / 2 + CLEAR)], axis=1)
        across = np.stack([-outward[:, 1], outward[:, 0]], axis=1)
        return np.asarray((half * np.abs(across)).sum(axis=1) / np.abs((along * across).sum(axis=1)))

    def _lift(self, along: Array, up: Array) -> Array:
        """From the line to the figures' base line (n, 2)."""
        if not self.upright:
            return TEXT_ABOVE * up
        rise = np.where(np.abs(along[:, 1]) < 1e-9, TEXT_ABOVE, -TEXT_HEIGHT / 2)
        return np.stack([np.zeros(len(rise)), rise], axis=1)

    def _centres(self, which: IntArray) -> tuple[Owned, Owned]:
        """The centre lines of those that have a set, and the points of the part in which they cross."""
        rows = np.flatnonzero(which >= 0)
        sets = [(self.centres[k], self.axes[k].mean(axis=1)) for k in which[rows].tolist()]
        owner = np.repeat(rows, [len(lines) for lines, _ in sets])
        lines = np.concatenate([np.zeros((0, 4)), *(lines for lines, _ in sets)])
        return (lines, owner), (np.concatenate([np.zeros((0, 3)), *(points for _, points in sets)]), owner)


def _expanded(fits: Mask, roomy: Mask) -> tuple[IntArray, IntArray]:
    """Rows, once for each place of their figures: two if they have none between the extension lines, three if they have much room
    there. (m,) which row each is, (m,) which of its places."""
    places = np.where(fits, np.where(roomy, 3, 1), 2)
    of = np.repeat(np.arange(len(fits)), places)
    return of, np.arange(len(of)) - np.repeat(np.cumsum(places) - places, places)


def _reach(span: Array, width: Array, inside: Mask, fits: Mask, turn: IntArray, least: Array) -> tuple[Array, Array, Array]:
    """Along each line from its first arrow: where it begins, where it ends, where the middle of the figures is (n,) mm.

    ``least`` (n,): mm from the extension lines to that middle."""
    first, tail = np.where(inside, 0.0, ARROW + 1.0), np.where(inside, 0.0, TAIL)
    away = np.maximum(first + 1.0 + width / 2, least)
    room = away + width / 2 + 0.5
    low = np.where(~fits & (turn == 1), -room, -tail)
    high = np.where(~fits & (turn == 0), span + room, span + tail)
    aside = np.where(turn == 1, -away, span + away)
    return low, high, np.where(fits, span * np.array([0.5, ASIDE, 1 - ASIDE])[turn], aside)


def _lettering_axes(along: Array, outward: Array, *, upright: bool) -> tuple[Array, Array]:
    """Base line and up direction (n, 2) of figures: as ``reading``, in arrays."""
    if upright:
        return np.tile([1.0, 0.0], (len(along), 1)), np.tile([0.0, 1.0], (len(along), 1))
    turn = (along[:, 0] < -UPRIGHT) | ((np.abs(along[:, 0]) <= UPRIGHT) & (along[:, 1] < 0))
    base = np.where(turn[:, None], 0.0 - along, along)
    mirrored = base[:, 0] * outward[:, 1] - base[:, 1] * outward[:, 0] < 0
    return base, np.where(mirrored[:, None], 0.0 - outward, outward)


def _pieces(a: Array, b: Array, ends: Array) -> Owned:
    """The lines in pieces between their own extension lines and beyond: others that share those cross no dimension line."""
    parts = np.stack([np.hstack([ends[:, 0], a]), np.hstack([a, b]), np.hstack([b, ends[:, 1]])], axis=1)
    some = np.abs(parts[:, :, 2:] - parts[:, :, :2]).max(axis=2) > 1e-6
    row, _ = np.nonzero(some)
    return parts[some], row


def _extensions(flat: Array) -> tuple[Owned, IntArray]:
    """Extension lines, and at which end of its dimension line each is: 0 or 1."""
    outward = flat[:, 8:]
    starts, ends = np.stack([flat[:, 4:6], flat[:, 6:8]], axis=1), np.stack([flat[:, :2], flat[:, 2:4]], axis=1)
    some = ((ends - starts) * outward[:, None]).sum(axis=2) > GAP
    both = np.concatenate([starts + GAP * outward[:, None], ends + OVERSHOOT * outward[:, None]], axis=2)
    row, end = np.nonzero(some)
    return (both[some], row), end


def _fields(flat: Array, ends: Array) -> Array:
    """The areas (n, 4, 2) between dimension lines, from end to end (n, 2, 2), and where their extension lines start."""
    a, b, outward = flat[:, :2], flat[:, 2:4], flat[:, 8:]
    runs = [((end - start) * outward).sum(axis=1) for end, start in ((a, flat[:, 4:6]), (b, flat[:, 6:8]))]
    back = np.maximum(*runs)[:, None] * outward
    beside = FIELD_BESIDE * (b - a) / np.hypot(*(b - a).T)[:, None]
    low, high = ends[:, 0] - beside, ends[:, 1] + beside
    return np.stack([low, high, high - back, low - back], axis=1)


class _Way(NamedTuple):
    """One way to draw a dimension line. ``flat`` (10,): as in a row; mm along it: the middle of its figures, where it begins and
    where it ends; ``inside``: its arrows point outwards, from within."""

    flat: Array
    text: str
    middle: float
    low: float
    high: float
    inside: bool


def _worked_out(way: _Way, centres: tuple[Array, ...], *, upright: bool) -> Candidate:
    a, b, one, other, outward = way.flat.reshape(5, 2)
    along = (b - a) / math.dist(a, b)
    base, up = reading(_vec(along), _vec(outward))
    sense = 1.0 if way.inside else -1.0
    heads = (Head(a, -sense * along, np.array(up)), Head(b, sense * along, np.array(up)))
    parts = [np.array([a + way.low * along, a + way.high * along])]
    x, y = _vec(a + way.middle * along)
    level = abs(along[1]) < 1e-9
    if upright:
        text = Text(way.text, (x, y + TEXT_ABOVE if level else y - TEXT_HEIGHT / 2), TEXT_HEIGHT, anchor="middle")
        if not level:
            width = lettered_width(way.text, TEXT_HEIGHT)
            parts = [piece for part in parts for piece in broken(part, a + way.middle * along, width)]
    else:
        text = Text(way.text, (x + TEXT_ABOVE * up[0], y + TEXT_ABOVE * up[1]), TEXT_HEIGHT, base, up, "middle")
    extensions = [
        np.array([start + GAP * outward, end + OVERSHOOT * outward])
        for start, end in ((one, a), (other, b)) if float((end - start) @ outward) > GAP
    ]
    return Candidate(tuple(parts), tuple(extensions), heads, (text,), centres)


def _vec(point: Array) -> Vec:
    return float(point[0]), float(point[1])
