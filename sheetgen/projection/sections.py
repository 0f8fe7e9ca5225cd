"""A part in section: what lies behind the cutting plane, and the faces of the cut as closed outlines with true arcs.

Of a section hidden lines are left out; no line is drawn where the plane turns, nor where a half section ends (ISO 128-3, from
memory). Ribs that the plane cuts along are outlined and not hatched (US Navy manual and textbooks: ``trade-facts.md`` 11).
View millimetres.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Any

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from sheetgen.geometry import Array, IntArray
from sheetgen.geometry.intervals import Interval, joined
from sheetgen.projection.centre import centre_lines
from sheetgen.projection.covers import covers_of
from sheetgen.projection.frames import Frame, frame_of
from sheetgen.projection.hidden import Stretches, facing_of, placed, stretches_in
from sheetgen.projection.linework import Linework, linework_of
from sheetgen.projection.outlines import Outline, area_within, outlines_of
from sheetgen.projection.shapes import Shape, Straight
from sheetgen.projection.view import View
from sheetgen.solid import Trimmed
from sheetgen.units import SAME_CARRIER

SAME_END = 0.01
"""mm: lines in one line whose ends are nearer than this are one."""

INSIDE = 0.02
"""mm: a line that stays so far within a face of the cut runs through it; nearer, it is the face's own outline."""


@dataclass(frozen=True, eq=False)
class SectionView(View):
    """A view in section: without hidden lines, and without centre lines of what only these would show."""

    def centre_lines_at(self, scale: float) -> tuple[Straight, ...]:
        """As of a view, of what is seen."""
        seen = frozenset(self.solid.edges.pair.take(self.stretches.edge, axis=0).ravel().tolist())
        return centre_lines(self.solid, self.frame, self.linework, self.symmetry, scale, seen)


@dataclass(frozen=True, eq=False)
class Section:
    """A part cut and looked at. ``view``: what is drawn, without hidden lines; ``outlines``: of the faces of the cut;
    ``ribs``: what of these belongs to ribs that are cut along, no hatching there."""

    view: View
    outlines: tuple[Outline, ...]
    ribs: BaseGeometry

    @property
    def area(self) -> float:
        """mm2 of the faces of the cut, ribs too."""
        return sum(outline.area for outline in self.outlines)

    @cached_property
    def cut(self) -> BaseGeometry:
        """The faces of the cut, ribs too."""
        return area_within(self.outlines)

    @cached_property
    def hatched(self) -> BaseGeometry:
        """The faces of the cut less ribs: what is hatched."""
        return self.cut if self.ribs.is_empty else self.cut.difference(self.ribs)


def section_of(cut: Trimmed, name: str, symmetry: tuple[str, ...] = (), bare: Trimmed | None = None) -> Section:
    """The view called ``name`` of what a cutting plane leaves. ``symmetry``: as of a view; ``bare``: the same cut of the part
    without the ribs that are cut along, if there are any."""
    frame = frame_of(name, cut.solid.size)
    view = _view(cut, frame, symmetry)
    outlines = _outlines(cut, frame, view.flat)
    if bare is None:
        return Section(view, outlines, shapely.Polygon())
    whole, flat = area_within(outlines), frame.flat(bare.solid.vertices)
    massive = area_within(_outlines(bare, frame, flat))
    ribs = whole.difference(massive).buffer(-INSIDE, join_style="mitre").buffer(INSIDE, join_style="mitre")
    feet = linework_of(bare.solid, frame, flat, _within(bare, flat, whole)).visible
    lines = Linework(_with_lines(view.linework.visible, feet), ())
    return Section(replace(view, linework=lines), outlines, ribs)


def goes_on(cut: Trimmed, name: str) -> bool:
    """Whether the faces of a cut go on where its plane turns: no line is drawn there, so what is cut on one side of the turn has
    to be cut on the other."""
    edges, flat = cut.solid.edges, frame_of(name, cut.solid.size).flat(cut.solid.vertices)

    def reaches(face: int, turn: int) -> list[Interval]:
        """From where to where, up the view, a face reaches the turn."""
        rim = (edges.pair == face).any(axis=1) & (edges.pair == turn).any(axis=1)
        return joined(np.sort(flat[:, 1].take(edges.ends[rim]), axis=1).tolist(), SAME_END)

    for turn, one, other in zip(cut.turns, cut.faces, cut.faces[1:], strict=False):
        low, high = reaches(one, turn), reaches(other, turn)
        if len(low) != len(high) or (low and np.abs(np.array(low) - np.array(high)).max() > SAME_END):
            return False
    return True


def _view(cut: Trimmed, frame: Frame, symmetry: tuple[str, ...]) -> View:
    solid = cut.solid
    points, facing = placed(solid.vertices, frame), facing_of(solid, frame)
    covers = covers_of(solid, frame, points, facing)
    stretches = stretches_in(solid, frame, points, facing, covers)
    drawn = stretches.seen & ~np.isin(solid.edges.pair.take(stretches.edge, axis=0), cut.turns).any(axis=1)
    stretches = _some(stretches, np.flatnonzero(drawn))
    flat = points[:, :2].copy()
    return SectionView(solid, frame, linework_of(solid, frame, flat, stretches), stretches, flat, facing, covers, symmetry)


def _with_lines(lines: Sequence[Shape], more: Sequence[Shape]) -> tuple[Shape, ...]:
    """Lines, and more of them that go on from these or end there: straight ones in one line that touch as one."""
    found = list(lines)
    for line in more:
        if isinstance(line, Straight):
            way = (line.q - line.p) / line.length
            low, high, rest = 0.0, line.length, list[Shape]()
            for other in found:
                span = _along(other, line.p, way) if isinstance(other, Straight) else None
                if span and span[0] < high + SAME_END and span[1] > low - SAME_END:
                    low, high = min(low, span[0]), max(high, span[1])
                else:
                    rest.append(other)
            found, line = rest, Straight(line.p + low * way, line.p + high * way)
        found.append(line)
    return tuple(found)


def _along(line: Straight, start: Array, way: Array) -> tuple[float, float] | None:
    """From where to where a line runs along the one through ``start`` (2,) in the unit direction ``way`` (2,); None if beside."""
    ends = np.stack([line.p, line.q]) - start
    if np.abs(way[0] * ends[:, 1] - way[1] * ends[:, 0]).max() > SAME_CARRIER:
        return None
    low, high = sorted((ends @ way).tolist())
    return low, high


def _some(stretches: Stretches, which: IntArray) -> Stretches:
    return Stretches(stretches.edge[which], stretches.start[which], stretches.stop[which], stretches.seen[which])


def _within(bare: Trimmed, flat: Array, whole: BaseGeometry) -> Stretches:
    """The rim of the cut of the part without its ribs, as far as it runs through the faces of the whole cut: where ribs meet the
    rest."""
    edges = bare.solid.edges
    rim = np.flatnonzero(np.isin(edges.pair, bare.faces).sum(axis=1) == 1)
    start, stop = flat.take(edges.ends.take(rim, axis=0).T, axis=0)
    lines = shapely.linestrings(np.stack([start, stop], axis=1))
    corners = shapely.get_coordinates(whole)
    inner: Any = shapely.intersection(lines, whole.buffer(-INSIDE, join_style="mitre"))
    found, begins, ceases = list[int](), list[float](), list[float]()
    for k in np.flatnonzero(shapely.length(inner) > 0).tolist():
        run = stop[k] - start[k]
        square = float(run @ run)
        for piece in shapely.get_parts(inner[k]):
            if piece.length > 0:
                ends = shapely.get_coordinates(piece)[[0, -1]]
                shares = sorted(float((_corner_near(end, corners) - start[k]) @ run) / square for end in ends)
                found.append(int(rim[k]))
                begins.append(max(0.0, shares[0]))
                ceases.append(min(1.0, shares[1]))
    return Stretches(np.array(found, dtype=np.int64), np.array(begins), np.array(ceases), np.full(len(found), True))


def _corner_near(point: Array, corners: Array) -> Array:
    """The corner of (n, 2) at which a line through a face ends ceasing at ``point`` (2,), INSIDE short of it; or the point."""
    away = np.hypot(*(corners - point).T)
    nearest = int(np.argmin(away))
    return np.asarray(corners[nearest] if away[nearest] < 10 * INSIDE else point)


def _outlines(cut: Trimmed, frame: Frame, flat: Array) -> tuple[Outline, ...]:
    """The outlines of all faces of a cut."""
    owner = cut.solid.owner
    return tuple(outline for face in cut.faces for outline in outlines_of(cut.solid, frame, owner == face, flat))
