"""Straight dimension lines with their extension lines, offered in arrays. Sheet millimetres."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
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
    Arrowhead,
    Candidate,
    Vec,
    broken,
    lettered_width,
    reading,
)
from sheetgen.placing.columns import Elements, Table, merged
from sheetgen.placing.table import CLEAR, Offers, boxes_at
from sheetgen.placing.weights import Weights
from sheetgen.units import SAME_DIRECTION, SAME_PLACE, UPRIGHT

FIELD_BESIDE = 2.0       # mm beside a dimension line where no view's name belongs
SMALL = 30.0             # mm of a dimension line: a feature's, no larger part's
TURNS = 3                # places of figures between the extension lines: in the middle, and aside to either end
ASIDE = 0.28             # of a dimension line's length: where figures stand that are not midway


@dataclass(frozen=True, eq=False)
class DimensionLines(Table):
    """Dimension lines to be offered, one a row (n,).

    ``item``; ``cost``; ``ends`` (n, 2, 2): its arrows' tips; ``starts`` (n, 2, 2): where its extension lines start; ``outward``
    (n, 2): the way these run (unit); ``crossing``: which set of centre lines belongs to it, -1 for none; the ``axis`` along which
    it measures, -1 for none; the number of the ``view`` it stands on, -1 for the pictorial; ``feet`` (n, 2, 3): the points of the
    part at which its extension lines start, not numbers where lines in one line always measure from one level; ``chain`` (n, 2):
    mm of centre line that lead there from the mark of an axis, 0 for none.
    """

    item: IntArray
    cost: Array
    ends: Array
    starts: Array
    outward: Array
    crossing: IntArray
    axis: IntArray
    view: IntArray
    feet: Array
    chain: Array


@dataclass(frozen=True, eq=False)
class Crossings:
    """Sets of centre lines that cross where axes are located: ``lines`` (k, 2, 3) in the part and their ``places`` (k, 4) on the
    sheet; the set ``k`` begins at ``first[k]`` (s + 1,) and ends before the next."""

    lines: Array
    places: Array
    first: IntArray

    def of(self, k: int) -> tuple[Array, ...]:
        """The centre lines (2, 3) of a set; none of -1."""
        return tuple(self.lines[self.first[k]:self.first[k + 1]]) if k >= 0 else ()

    def elements(self, which: IntArray) -> tuple[Elements, Elements]:
        """The centre lines of offers that have the sets ``which`` (n,), and the points of the part in which they cross."""
        offer = np.flatnonzero(which >= 0)
        begin = self.first[which[offer]]
        count = self.first[which[offer] + 1] - begin
        row = np.repeat(begin - np.cumsum(count) + count, count) + np.arange(int(count.sum()))
        offer = np.repeat(offer, count)
        return Elements(self.places.take(row, axis=0), offer), Elements(self.lines.mean(axis=1).take(row, axis=0), offer)


SHAFT = 1.5
"""mm of line that shows between an arrowhead and the gap for figures: with less the heads seem cut off."""

NO_CROSSINGS = Crossings(np.zeros((0, 2, 3)), np.zeros((0, 4)), np.zeros(1, dtype=np.int64))


@dataclass(frozen=True, eq=False)
class Lettering:
    """The items' figures, ``texts``; ``upright``: unidirectional, else aligned with their dimension lines."""

    texts: Sequence[str]
    upright: bool

    def offers(self, lines: DimensionLines, weights: Weights, crossings: Crossings = NO_CROSSINGS) -> Offers:
        """Ways to draw each line: figures over it if they fit between the extension lines, else beyond one end or the other.

        Where the space is too small for arrows, these stand outside and point in.
        """
        width = np.array([lettered_width(text, TEXT_HEIGHT) for text in self.texts])[lines.item]
        a, b, outward = lines.ends[:, 0], lines.ends[:, 1], lines.outward
        span = np.hypot(*(b - a).T)
        along = (b - a) / span[:, None]
        inside = span >= 2 * ARROW + 2.0
        least, gap = self._least(width, along, outward), self._gap(width, along)
        needed = np.where(gap > 0.0, gap + np.where(inside, 2 * (ARROW + SHAFT), 2.0), width + 1.5)
        fits = span >= np.maximum(needed, 2 * least)
        # On views figures stand near the middle (ISO 129-1, from memory); a pictorial has not always room for them there, nor
        # have lines that lie across a small feature, where its centre line runs.
        across = (lines.view >= 0) & (span < SMALL) & (_runs_of(lines) <= GAP).any(axis=1)
        aside = np.where(across, np.maximum(width / 2 + ARROW + CLEAR, least), span * ASIDE)
        need = np.where(across, width + ARROW + 3 * CLEAR, np.maximum(np.maximum(width, gap) / 2 + ARROW + SHAFT, least))
        roomy = (across | (lines.view < 0)) & (np.where(across, span / 2, aside) >= need)
        of, turn = _expanded(fits, roomy, across)
        wide, fit = width[of], fits[of] & (turn < TURNS)
        low, high, middle = _reach(span[of], wide, inside[of], fit, turn % TURNS, aside[of], least[of])
        each, drawn = np.arange(len(of)), lines.take(of)
        start, stop, onward = drawn.ends[:, 0], drawn.ends[:, 1], along.take(of, axis=0)
        shift = np.empty((len(of), 2, 2))
        for k, way in enumerate((low, high)):
            shift[:, k] = way[:, None] * onward + start
        base, up = _lettering_axes(along, outward, upright=self.upright)
        base, up, lift = (part.take(of, axis=0) for part in (base, up, self._lift(along, up)))
        at, which = start + middle[:, None] * onward + lift, drawn.crossing
        (extensions, end), (centres, crossing) = _extensions(lines, of), crossings.elements(which)
        chains, met = _chains(drawn)

        def worked_out(k: int) -> Candidate:
            row = int(of[k])
            way = _Way(
                lines.ends[row], lines.starts[row], outward[row], self.texts[lines.item[row]], float(middle[k]), float(low[k]),
                float(high[k]), bool(inside[row]), lines.chain[row])
            return _worked_out(way, crossings.of(int(lines.crossing[row])), upright=self.upright)

        not_midway = weights.staggered if self.upright else weights.not_midway
        return Offers.made(
            worked_out, drawn.item,
            drawn.cost + np.where(fit, not_midway * (turn > 0), weights.outside_space),
            weights.over,
            own=(which >= 0) | (drawn.chain > 0.0).any(axis=1),
            axis=drawn.axis,
            view=drawn.view,
            lines=_pieces(start, stop, shift),
            extensions=extensions,
            centres=merged(centres, chains),
            feet=Elements(drawn.feet.reshape(-1, 3).take(2 * extensions.offer + end, axis=0), extensions.offer),
            crossings=merged(crossing, met),
            boxes=Elements(boxes_at(at, base, up, wide, TEXT_HEIGHT, wide / 2), each),
            spans=Elements(np.hstack([drawn.ends.reshape(-1, 4), drawn.outward, _runs_of(drawn) <= GAP]), each),
            between=_between(drawn, shift),
        )

    def _gap(self, width: Array, along: Array) -> Array:
        """mm (n,) of the gap for figures in lines ``along`` (n, 2); none where they stand over the line."""
        run, rise = np.maximum(np.abs(along.T), SAME_DIRECTION)
        gap = np.minimum((width + 2 * BREAK) / run, (TEXT_HEIGHT + 2 * BREAK) / rise)
        return np.where(self.upright & (rise > SAME_DIRECTION), gap, 0.0)

    def _least(self, width: Array, along: Array, outward: Array) -> Array:
        """mm (n,) along the line from an extension line to the middle of figures that do not lie in its plane, clear of it."""
        across, up = -outward[:, 1], outward[:, 0]
        turned = np.abs(along[:, 0] * across + along[:, 1] * up)
        if not self.upright:
            leans = _leans_back(*_axes_in_plane(along, outward))
            aside = (TEXT_ABOVE + TEXT_HEIGHT) * np.abs((along * outward).sum(axis=1)) / turned
            return np.where(leans, width / 2 + CLEAR + aside, 0.0)
        half = (width / 2 + CLEAR) * np.abs(across) + (TEXT_HEIGHT / 2 + CLEAR) * np.abs(up)
        return np.asarray(half / turned)

    def _lift(self, along: Array, up: Array) -> Array:
        """From the line to the figures' base line (n, 2)."""
        if not self.upright:
            return TEXT_ABOVE * up
        rise = np.where(np.abs(along[:, 1]) < SAME_DIRECTION, TEXT_ABOVE, -TEXT_HEIGHT / 2)
        return np.stack([np.zeros(len(rise)), rise], axis=1)


def _expanded(fits: Mask, roomy: Mask, across: Mask) -> tuple[IntArray, IntArray]:
    """Rows, once for each place of their figures: two beyond the extension lines if they have none between, or if the line lies
    ``across`` a feature; one between them, or three if they have much room there. (m,) which row each is, (m,) which of its
    places, from TURNS on beyond."""
    within, beyond = np.where(fits, np.where(roomy, TURNS, 1), 0), np.where(fits & ~across, 0, 2)
    places = within + beyond
    of = np.repeat(np.arange(len(fits)), places)
    turn = np.arange(len(of)) - np.repeat(np.cumsum(places) - places, places)
    return of, np.where(turn < within[of], turn, TURNS + turn - within[of])


def _reach(
    span: Array, width: Array, inside: Mask, fits: Mask, turn: IntArray, aside: Array, least: Array
) -> tuple[Array, Array, Array]:
    """Along each line from its first arrow: where it begins, where it ends, where the middle of the figures is (n,) mm.

    ``aside`` (n,): mm from the extension lines to that middle where it is not midway, ``least`` (n,): beyond them."""
    first, tail = np.where(inside, 0.0, ARROW + 1.0), np.where(inside, 0.0, TAIL)
    away = np.maximum(first + 1.0 + width / 2, least)
    room = away + width / 2 + 0.5
    low = np.where(~fits & (turn == 1), -room, -tail)
    high = np.where(~fits & (turn == 0), span + room, span + tail)
    beyond = np.where(turn == 1, -away, span + away)
    return low, high, np.where(fits, np.choose(turn, [span / 2, aside, span - aside]), beyond)


def _lettering_axes(along: Array, outward: Array, *, upright: bool) -> tuple[Array, Array]:
    """Base line and up direction (n, 2) of figures: as ``reading`` and ``standing``, in arrays."""
    if upright:
        return np.full((len(along), 2), (1.0, 0.0)), np.full((len(along), 2), (0.0, 1.0))
    base, up = _axes_in_plane(along, outward)
    square = np.stack([0.0 - base[:, 1], base[:, 0]], axis=1)
    return base, np.where(_leans_back(base, up)[:, None], square, up)


def _axes_in_plane(along: Array, outward: Array) -> tuple[Array, Array]:
    """Base line and up direction (n, 2) of figures in the plane of their size: as ``reading``, in arrays."""
    turn = (along[:, 0] < -UPRIGHT) | ((np.abs(along[:, 0]) <= UPRIGHT) & (along[:, 1] < 0))
    base = np.where(turn[:, None], 0.0 - along, along)
    mirrored = base[:, 0] * outward[:, 1] - base[:, 1] * outward[:, 0] < 0
    return base, np.where(mirrored[:, None], 0.0 - outward, outward)


def _leans_back(base: Array, up: Array) -> Mask:
    """Which figures (n,) lean back against the way they are read."""
    return np.asarray((base * up).sum(axis=1) < -SAME_DIRECTION)


def standing(base: Vec, up: Vec) -> Vec:
    """The up direction of figures in the plane of their size; square to their line where they would lean back in it, because a 7
    that leans back has an upright stem, as a 1.

    >>> standing((1.0, 0.0), (0.5, 0.8)), standing((1.0, 0.0), (-0.5, 0.8))
    ((0.5, 0.8), (0.0, 1.0))
    """
    return (0.0 - base[1], base[0]) if base[0] * up[0] + base[1] * up[1] < -SAME_DIRECTION else up


def _pieces(a: Array, b: Array, ends: Array) -> Elements:
    """The lines in pieces between their own extension lines and beyond: others that share those cross no dimension line."""
    parts = np.empty((len(a), 3, 2, 2))
    parts[:, 0, 0], parts[:, 2, 1] = ends[:, 0], ends[:, 1]
    parts[:, 0, 1] = parts[:, 1, 0] = a
    parts[:, 1, 1] = parts[:, 2, 0] = b
    pieces = parts.reshape(-1, 4)
    ax, ay, bx, by = pieces.T
    some = np.flatnonzero(np.maximum(np.abs(bx - ax), np.abs(by - ay)) > SAME_PLACE)
    return Elements(pieces.take(some, axis=0), some // 3)


def _extensions(lines: DimensionLines, of: IntArray) -> tuple[Elements, IntArray]:
    """Extension lines of offers, each ``of`` (m,) a line, and at which end of that each is: 0 or 1."""
    outward = lines.outward[:, None]
    both = np.concatenate([lines.starts + GAP * outward, lines.ends + OVERSHOOT * outward], axis=2)
    which = np.flatnonzero((_runs_of(lines) > GAP).take(of, axis=0))
    offer, end = which // 2, which % 2
    return Elements(both.reshape(-1, 4).take(2 * of.take(offer) + end, axis=0), offer), end


def _chains(lines: DimensionLines) -> tuple[Elements, Elements]:
    """The centre lines that are drawn on to where extension lines start, and the points of the part from which those come."""
    which = np.flatnonzero(lines.chain > 0.0)
    offer, end = which // 2, which % 2
    starts = lines.starts[offer, end]
    back = starts - lines.chain[offer, end][:, None] * lines.outward[offer]
    return Elements(np.hstack([back, starts]), offer), Elements(lines.feet[offer, end], offer)


def _runs_of(lines: DimensionLines) -> Array:
    """mm (n, 2) from where extension lines start to the dimension line."""
    run = (lines.ends - lines.starts) * lines.outward[:, None]
    return np.asarray(run[..., 0] + run[..., 1])


def _between(lines: DimensionLines, ends: Array) -> Elements:
    """The areas between dimension lines, from end to end (n, 2, 2), and where their extension lines start, if they have any."""
    back = np.maximum(*_runs_of(lines).T)[:, None] * lines.outward
    along = lines.ends[:, 1] - lines.ends[:, 0]
    beside = FIELD_BESIDE * along / np.hypot(*along.T)[:, None]
    areas = np.empty((len(ends), 4, 2))
    areas[:, 0], areas[:, 1] = ends[:, 0] - beside, ends[:, 1] + beside
    areas[:, 2], areas[:, 3] = areas[:, 1] - back, areas[:, 0] - back
    some = np.flatnonzero((_runs_of(lines) > GAP).any(axis=1))
    return Elements(areas.take(some, axis=0), some)


class _Way(NamedTuple):
    """One way to draw a dimension line. ``ends``, ``starts`` (2, 2) and ``outward`` (2,): as in its row; mm along it: the middle
    of its figures, where it begins and where it ends; ``inside``: its arrows point outwards, from within; ``chain`` (2,): as in
    its row."""

    ends: Array
    starts: Array
    outward: Array
    text: str
    middle: float
    low: float
    high: float
    inside: bool
    chain: Array


def _worked_out(way: _Way, centres: tuple[Array, ...], *, upright: bool) -> Candidate:
    # Two numbers at a time: for so few, numpy takes longer.
    a, b = way.ends.tolist()
    out: Vec = (float(way.outward[0]), float(way.outward[1]))
    length = math.dist(a, b)
    along = (b[0] - a[0]) / length, (b[1] - a[1]) / length
    base, up = reading(along, out)
    sense = 1.0 if way.inside else -1.0
    (x, y), level = _onward(a, way.middle, along), abs(along[1]) < SAME_DIRECTION
    parts = [np.array([_onward(a, way.low, along), _onward(a, way.high, along)])]
    if upright:
        text = Text(way.text, (x, y + TEXT_ABOVE if level else y - TEXT_HEIGHT / 2), TEXT_HEIGHT, anchor="middle")
        if not level:
            parts = broken(parts[0], np.array((x, y)), lettered_width(way.text, TEXT_HEIGHT))
    else:
        high = standing(base, up)
        text = Text(way.text, (x + TEXT_ABOVE * high[0], y + TEXT_ABOVE * high[1]), TEXT_HEIGHT, base, high, "middle")
    extensions = tuple(
        np.array([_onward(start, GAP, out), _onward(end, OVERSHOOT, out)])
        for start, end in zip(way.starts.tolist(), (a, b), strict=True)
        if (end[0] - start[0]) * out[0] + (end[1] - start[1]) * out[1] > GAP)
    heads = tuple(
        Arrowhead(tip, np.array((turn * along[0], turn * along[1])), np.array(up))
        for tip, turn in zip(way.ends, (-sense, sense), strict=True))
    chains = tuple(
        np.array([_onward(start, -run, out), start]) for start, run in zip(way.starts.tolist(), way.chain.tolist(), strict=True)
        if run > 0.0)
    return Candidate(tuple(parts), extensions, heads, (text,), centres, chains)


def _onward(start: Sequence[float], distance: float, way: Vec) -> Vec:
    return start[0] + distance * way[0], start[1] + distance * way[1]
