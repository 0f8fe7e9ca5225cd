"""Two sets of linework held against each other, both ways: every point of one must lie on the other. View millimetres."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from itertools import pairwise

import numpy as np
import shapely
from numpy.typing import NDArray

Line = NDArray[np.float64]
STEP = 0.2
"""mm: greatest distance between the points at which a line is tried."""


@dataclass(frozen=True)
class Comparison:
    """How far two sets of lines lie apart, mm."""

    tolerance: float
    worst_ours: float                 # greatest distance of a point of ours from theirs
    worst_theirs: float
    extra: tuple[tuple[float, float], ...] = field(repr=False)     # points of ours beyond the tolerance: lines we should not have
    missing: tuple[tuple[float, float], ...] = field(repr=False)   # points of theirs beyond it: lines we lack
    ours: Sequence[Line] = field(repr=False, default=())
    theirs: Sequence[Line] = field(repr=False, default=())

    @property
    def agree(self) -> bool:
        return not self.extra and not self.missing

    @property
    def length_ours(self) -> float:
        """mm of our lines, coincident ones counted once."""
        return length_once(self.ours)

    @property
    def length_theirs(self) -> float:
        """mm of their lines, coincident ones counted once."""
        return length_once(self.theirs)

    def __str__(self) -> str:
        told = f"worst {self.worst_ours:.4f} / {self.worst_theirs:.4f}, length {self.length_ours:.3f} / {self.length_theirs:.3f}"
        for name, points in (("extra", self.extra), ("missing", self.missing)):
            if points:
                low, high = np.min(points, axis=0), np.max(points, axis=0)
                told += f"; {name} {len(points)} points in {low.round(3).tolist()}..{high.round(3).tolist()}"
                told += f" e.g. {np.round(points[0], 3).tolist()} {np.round(points[-1], 3).tolist()}"
        return told


def compare(ours: Sequence[Line], theirs: Sequence[Line], tolerance: float = 0.02) -> Comparison:
    """Hold lines of one kind against each other."""
    return _compared(samples(ours), samples(theirs), ours, theirs, tolerance)


def compare_hidden(ours: tuple[Sequence[Line], Sequence[Line]], theirs: tuple[Sequence[Line], Sequence[Line]],
                   tolerance: float = 0.02) -> Comparison:
    """Hold hidden lines against each other; each side is (visible, hidden). What a visible line covers is dropped first."""
    tried = [(points := samples(hidden))[distances(points, visible) > tolerance] for visible, hidden in (ours, theirs)]
    return _compared(*tried, ours[1], theirs[1], tolerance)


def _compared(a: Line, b: Line, ours: Sequence[Line], theirs: Sequence[Line], tolerance: float) -> Comparison:
    far_a, far_b = distances(a, theirs), distances(b, ours)
    return Comparison(tolerance, float(far_a.max(initial=0.0)), float(far_b.max(initial=0.0)),
                      tuple(map(tuple, a[far_a > tolerance].tolist())), tuple(map(tuple, b[far_b > tolerance].tolist())),
                      ours, theirs)


def samples(lines: Sequence[Line]) -> Line:
    """Points (n, 2) along all ``lines``, at most STEP apart, with every vertex."""
    found = [np.empty((0, 2))]
    for line in lines:
        line = np.asarray(line, dtype=float)
        steps = np.hypot(*np.diff(line, axis=0).T)
        at = np.concatenate([[0.0], np.cumsum(steps)])
        tried = np.unique(np.concatenate([np.linspace(low, high, int((high - low) / STEP) + 2) for low, high in pairwise(at)]))
        found.append(np.column_stack([np.interp(tried, at, line[:, 0]), np.interp(tried, at, line[:, 1])]))
    return np.concatenate(found)


def distances(points: Line, lines: Sequence[Line]) -> Line:
    """Distance of each of ``points`` (n, 2) from the nearest of ``lines``; infinite if there is none."""
    if not len(points) or not len(lines):
        return np.full(len(points), np.inf)
    parts = np.concatenate([np.stack([line[:-1], line[1:]], axis=1) for line in map(np.asarray, lines)])
    tree = shapely.STRtree(shapely.linestrings(parts))
    (where, _), far = tree.query_nearest(shapely.points(points), return_distance=True, all_matches=False)
    nearest = np.empty(len(points))
    nearest[where] = far
    return nearest


def length_once(lines: Sequence[Line], near: float = 0.005) -> float:
    """Total length, mm, of ``lines``; what runs within ``near`` of an earlier line is left out, what only crosses it is not."""
    total = 0.0
    before: list[shapely.LineString] = []
    for line in sorted(map(shapely.LineString, lines), key=lambda line: -line.length):
        again = line.intersection(shapely.MultiLineString(before).buffer(near, cap_style="flat"))
        total += line.length - sum(part.length for part in shapely.get_parts(again) if part.length > 10 * near)
        before.append(line)
    return total
