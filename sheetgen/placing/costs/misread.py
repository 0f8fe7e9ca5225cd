"""How extension lines on a pictorial may be misread: as edges of the part, or as lying on a face behind which they run."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np
import numpy.typing as npt

from sheetgen.geometry import Array
from sheetgen.geometry.arrays import IntArray, Mask
from sheetgen.placing.weights import Weights
from sheetgen.projection import hidden_stretches
from sheetgen.sight import PlacedView
from sheetgen.units import SAME_LEVEL

PAST = 1.6               # mm from that at which it still seems to
IN_LINE = 0.6            # mm: no farther apart, two lines seem one
BEFORE = 12.3            # mm before its start that are looked at; no whole number, as lengths of parts are
INTO = 2.0               # mm after it


@dataclass(frozen=True, eq=False)
class Runs:
    """Pairs of extension lines: from ``points`` (n, 2, 3) of the part ``outward`` (n,) along x, y or z (0, 1, 2), to the end
    ``sign`` (n,), 1 or -1, of it, for a size along the ``axis`` (n,); which of both are ``drawn`` (n, 2): where an arrow
    touches the part, none is."""

    view: PlacedView
    points: Array
    outward: IntArray
    sign: Array
    axis: IntArray
    drawn: Mask
    weights: Weights

    @cached_property
    def _unit(self) -> Array:
        """The ways (n, 2) they run on paper, of part mm at full size."""
        return np.array([self.view.unit(axis) for axis in range(3)])[self.outward] * self.sign[:, None]

    @cached_property
    def _feet(self) -> Array:
        """Where they start on the sheet (n, 2, 2)."""
        return self.view.places(self.points.reshape(-1, 3)).reshape(-1, 2, 2)

    def _lie(self, on: IntArray, places: Array) -> tuple[Array, Array, Mask]:
        """How places (k, 3) of the part lie to the lines of pairs ``on`` (m,), each (m, 2, k): mm aside, mm onward from their
        starts, and whether they are at the level measured from."""
        (across, up), (x, y) = self._unit.take(on, axis=0).T[..., None, None], self.view.places(places).T
        foot_x, foot_y = self._feet.take(on, axis=0).transpose(2, 0, 1)[..., None]
        x, y = x - foot_x, y - foot_y
        level = self.points[on, :, self.axis[on]][..., None]
        same = np.abs(places.T.take(self.axis[on], axis=0)[:, None] - level) < SAME_LEVEL
        return np.abs(across * y - up * x), x * across + y * up, same

    def seeming(self) -> Array:
        """What it costs (n,) that they seem to go on as edges of the part."""
        total = np.zeros(len(self.points))
        for outward in range(3):
            on = np.flatnonzero(self.outward == outward)
            start, stop = self.view.sight.seen_along(outward)
            if not len(on) or not len(start):
                continue
            off, along, same = self._lie(on, np.concatenate([start, stop]))
            off, same, high = off[..., :len(start)], same[..., :len(start)], np.maximum(*np.split(along, 2, axis=2))
            behind = (off < IN_LINE) & (high < IN_LINE) & (high > -BEFORE)
            over = self.view.shadow.over(self._feet[on] + INTO * self._unit[on, None])
            goes_on = (behind & same & (high > -IN_LINE)).any(axis=2) & over
            of_another = self.weights.seems_edge * (behind & ~same).any(axis=2)
            total[on] = np.add(*((of_another + self.weights.goes_on * goes_on) * self.drawn[on]).T)
        return total

    def hidden(self, of: IntArray, begin: Array, end: Array) -> Array:
        """What it costs (m,) that of the pairs ``of`` (m,) the part hides what lies between ``begin`` and ``end`` (m, 2), mm on
        paper from their points."""
        way = self.sign[:, None] * np.eye(3)[self.outward]
        rays = np.stack([self.points, np.repeat(way[:, None], 2, axis=1)], axis=2).reshape(-1, 6)
        rays, which = _distinct(np.round(rays, 6))
        far = self.weights.most_hidden / self.weights.hidden_run / self.view.scale
        ray, low, high = _hidden_of(self.view, rays.reshape(-1, 2, 3), far)
        spans = np.zeros((len(rays), int(np.bincount(ray, minlength=1).max()), 2))
        order = np.argsort(ray, kind="stable")
        first = np.searchsorted(ray[order], np.arange(len(rays)))
        spans[ray[order], np.arange(len(ray)) - first[ray[order]]] = np.stack([low, high], axis=1)[order]
        mine = spans.take(which.reshape(-1, 2).take(of, axis=0), axis=0) * self.view.scale    # (m, 2, stretches, 2)
        run = np.clip(mine, begin[..., None, None], end[..., None, None])
        cost = self.weights.hidden_run * (run[..., 1] - run[..., 0]).sum(axis=(1, 2))
        return np.asarray(np.minimum(cost, self.weights.most_hidden))

    def through_centres(self, of: IntArray, begin: Array, end: Array) -> Array:
        """What it costs (m,) that the pairs ``of`` (m,) run, between ``begin`` and ``end`` (m, 2), mm on paper from their points,
        through seen centres of round features at other levels."""
        off, along, same = self._lie(np.arange(len(self.points)), self.view.sight.rim_centres)
        strange = (off < PAST) & ~same
        along = along.take(of, axis=0)
        met = strange.take(of, axis=0) & (along > begin[..., None] + PAST) & (along < end[..., None] + PAST)
        return np.asarray(self.weights.strange_centre * met.sum(axis=(1, 2)))


def _distinct(rows: npt.NDArray[np.floating]) -> tuple[Array, IntArray]:
    """Rows (n, k), each once, and which of these each is (n,)."""
    order = np.lexsort(rows.T)
    ordered = rows[order]
    begins = np.ones(len(rows), dtype=bool)
    np.any(ordered[1:] != ordered[:-1], axis=1, out=begins[1:])
    which = np.empty(len(rows), dtype=np.int64)
    which[order] = np.cumsum(begins) - 1
    return np.asarray(ordered[begins], dtype=float), which


def _hidden_of(view: PlacedView, rays: Array, far: float) -> tuple[IntArray, Array, Array]:
    """The stretches of rays (k, 2, 3), their points and their unit ways, ``far`` mm of the part long, that it hides: which ray,
    from where to where (mm of the part). Only those that begin hidden are looked at in full: another runs in front of the part
    where it begins, and is read as that."""
    frame, covers, start, way = view.view.frame, view.view.covers, rays[:, 0], rays[:, 1]
    into = INTO / view.scale
    first = np.unique(hidden_stretches(frame, covers, np.stack([start + into / 2 * way, start + into * way], axis=1))[0])
    which, low, high = hidden_stretches(frame, covers, np.stack([start[first], start[first] + far * way[first]], axis=1))
    return first[which], far * low, far * high
