"""The line of a cutting plane in the view that shows it edge-on: thin chain line, thick at ends and bends, arrows in the
direction of sight, letters (ISO 128-3 and ISO 128-24, line types 04.1 and 04.2, from memory). Sheet millimetres.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, fields
from itertools import pairwise

import numpy as np
import shapely

from sheetgen.geometry import Array
from sheetgen.geometry.intervals import Interval, joined, longer, minus
from sheetgen.ink import Fill, Mark, Pen, Stroke, Text, text_width
from sheetgen.problem.cutting import CuttingPlane
from sheetgen.projection import Frame, Straight, View, frame_of
from sheetgen.sight import PlacedView
from sheetgen.units import EDGE_ON

BEGINS, OUT = 1.5, 7.0
"""mm from the part to where the thick end begins, and to where it stops: the first dimension line stands at 10, and with arrow
and letter behind it an end is no longer than what is kept free over the title block."""

BEND = 5.0
"""mm of each leg of a bend that is thick."""

ARROW, HEAD, HALF_HEAD = 7.0, 4.0, 1.1
"""mm: an arrow, its head, half the head's width: larger than those of sizes (common practice, no source)."""

LETTER, TO_LETTER = 5.0, 1.2
"""mm: height of the letters, one step above that of figures; between them and the arrow's tail."""

ROUND_LETTER, ROUND_LINE = 0.8, 1.4
"""mm kept free round a letter, and beside the thick ends and the arrows."""

SHORTEST = 1.5
"""mm: a shorter piece of the thin line is not drawn."""

SAME = 0.02
"""mm: a line so near the plane's is in its ink."""


@dataclass(frozen=True, eq=False)
class Path:
    """Where a cutting plane runs: ``corners`` (k, 3) of it, part frame mm, from one end to the other, where the part's box ends;
    ``sight`` (3,): unit, in which the reader of the section looks."""

    corners: Array
    sight: Array

    @classmethod
    def of(cls, plane: CuttingPlane, drawn: str, home: str, size: Array) -> Path:
        """The path, in the view ``home``, of a plane for the view ``drawn`` of a part of ``size`` (3,). One that ends at a half
        section turns to the reader there."""
        sight = -frame_of(drawn, size).toward
        if abs(float(frame_of(home, size).toward[plane.along])) > EDGE_ON:      # it runs along the third axis
            whole = np.stack([np.zeros(3), size])
            whole[:, plane.axis], whole[:, plane.along] = plane.levels[0], 0.0
            return cls(whole, sight)
        points = list[Array]()
        for stretch in plane.stretches(drawn):
            for bound in (stretch.low, stretch.high):
                point = np.zeros(3)
                point[plane.axis], point[plane.along] = stretch.level, min(max(bound, 0.0), float(size[plane.along]))
                points.append(point)
        if plane.sort == "half":
            middle = points[0] if plane.stretches(drawn)[0].low > 0 else points[1]
            end = np.array(middle)
            end[plane.axis] = 0.0 if sight[plane.axis] > 0 else float(size[plane.axis])
            points = [end, *points] if middle is points[0] else [*points, end]
        return cls(np.array(points), sight)

    def flat(self, view: PlacedView) -> Array:
        """The corners (k, 2) on the sheet."""
        return view.paper(self.corners)

    def looks(self, frame: Frame) -> Array:
        """The unit direction (2,) of sight on the sheet."""
        way = frame.flat_vectors(self.sight)
        return np.asarray(way / np.hypot(*way))

    def ends(self, view: PlacedView) -> Iterator[tuple[Array, Array]]:
        """Where each end meets the part's box (2,), and the unit direction (2,) in which it runs out."""
        points = self.flat(view)
        for tip, before in ((points[0], points[1]), (points[-1], points[-2])):
            way = tip - before
            yield tip, way / np.hypot(*way)

    def whole(self, view: PlacedView) -> Array:
        """The line (k, 2) with its ends."""
        points = self.flat(view).copy()
        (first, one), (last, other) = self.ends(view)
        points[0], points[-1] = first + OUT * one, last + OUT * other
        return points

    def arrows(self, view: PlacedView) -> Iterator[tuple[Array, Array]]:
        """Tip and tail (2,) of each arrow."""
        looks = self.looks(view.view.frame)
        for tip, way in self.ends(view):
            yield tip + OUT * way, tip + OUT * way - ARROW * looks

    def lines(self, view: PlacedView) -> list[Array]:
        """Line and arrows as polylines."""
        return [self.whole(view), *(np.stack(arrow) for arrow in self.arrows(view))]

    def boxes(self, view: PlacedView, letter: str) -> list[shapely.Polygon]:
        """Boxes round thick ends, arrows and letters."""
        half = text_width(letter, LETTER) / 2 + ROUND_LETTER
        letters = [shapely.box(x - half, y - LETTER / 2 - ROUND_LETTER, x + half, y + LETTER / 2 + ROUND_LETTER)
                   for x, y in self.letter_places(view, letter)]
        thick = [np.stack([tip + BEGINS * way, tip + OUT * way]) for tip, way in self.ends(view)]
        lines = shapely.linestrings(np.array([*thick, *(np.stack(arrow) for arrow in self.arrows(view))]))
        wide = shapely.buffer(lines, ROUND_LINE, cap_style="flat")
        return [*letters, *(shapely.box(*box) for box in shapely.bounds(wide).tolist())]

    def letter_places(self, view: PlacedView, letter: str) -> list[tuple[float, float]]:
        """The middles of the letters, behind the arrows' tails."""
        across, up = self.looks(view.view.frame).tolist()
        away = TO_LETTER + (text_width(letter, LETTER) / 2 if abs(across) > abs(up) else LETTER / 2)
        return [(float(tail[0]) - away * across, float(tail[1]) - away * up) for _, tail in self.arrows(view)]


def path_marks(path: Path, view: PlacedView, letter: str) -> list[Mark]:
    """The line of the plane with its arrows and letters."""
    points = path.whole(view)
    marks: list[Mark] = [Stroke(line, Pen.CENTRE) for line in _thin(path, view)]
    first, last = (tip + BEGINS * way for tip, way in path.ends(view))
    marks += [Stroke(np.stack([points[0], first]), Pen.CUTTING), Stroke(np.stack([last, points[-1]]), Pen.CUTTING)]
    marks += [Stroke(bend, Pen.CUTTING) for bend in _bends(points)]
    for tip, tail in path.arrows(view):
        along = (tip - tail) / math.dist(tip, tail)
        aside = HALF_HEAD * np.array([-along[1], along[0]])
        back = tip - HEAD * along
        marks += [Stroke(np.stack([tail, back]), Pen.CUTTING), Fill(np.stack([tip, back + aside, back - aside]))]
    marks += [Text(letter, (x, y - LETTER / 2), LETTER, anchor="middle") for x, y in path.letter_places(view, letter)]
    return marks


def _bends(points: Array) -> Iterator[Array]:
    """The thick pieces (3, 2) at the corners of the line."""
    for before, corner, after in zip(points, points[1:], points[2:], strict=False):
        legs = []
        for other in (before, after):
            length = math.dist(other, corner)
            legs.append(corner + (other - corner) * min(BEND, length / 2.5) / length)
        yield np.stack([legs[0], corner, legs[1]])


def _thin(path: Path, view: PlacedView) -> Iterator[Array]:
    """The thin pieces (2, 2): leg by leg what is not thick and runs along no visible or hidden line."""
    points = path.whole(view)
    edges = _straight(view)
    for k, (start, stop) in enumerate(pairwise(points)):
        length = math.dist(start, stop)
        along = (stop - start) / length
        bend, end = min(BEND, length / 2.5), OUT - BEGINS
        span = (end if k == 0 else bend, length - (end if k == len(points) - 2 else bend))
        for low, high in longer(minus([span], _covered(edges, start, along)), SHORTEST):
            yield np.stack([start + low * along, start + high * along])


def _straight(view: PlacedView) -> Array:
    """Visible and hidden straight lines on the sheet (n, 2, 2)."""
    shapes = [shape for shape in (*view.view.visible_lines, *view.view.hidden_lines) if isinstance(shape, Straight)]
    return np.array([shape.points() for shape in shapes]).reshape(-1, 2, 2) * view.scale + view.origin


def _covered(lines: Array, start: Array, along: Array) -> list[Interval]:
    """Where lines (n, 2, 2) lie on the one through ``start`` (2,) in the direction ``along`` (2,)."""
    away = lines - start
    on = np.abs(along[0] * away[..., 1] - along[1] * away[..., 0]).max(axis=1) < SAME
    return joined([(min(p, q), max(p, q)) for p, q in (away[on] @ along).tolist()], 0.0)


@dataclass(frozen=True, eq=False)
class _Marked(View):
    """A view that shows a cutting plane: ``path`` (k, 2), in its own axes, hides centre lines, over which it goes (ISO 128:1982,
    precedence of lines)."""

    path: Array

    def centre_lines_at(self, scale: float) -> tuple[Straight, ...]:
        """Centre lines less what the cutting plane's line covers."""
        lines = [*super().centre_lines_at(scale)]
        ends = self.path.copy()
        for end, before in ((0, 1), (-1, -2)):
            way = ends[end] - ends[before]
            ends[end] += OUT / scale * way / np.hypot(*way)
        for start, stop in pairwise(ends):
            lines = [piece for line in lines for piece in _less(line, start, stop, SHORTEST / scale)]
        return tuple(lines)


def _less(line: Straight, start: Array, stop: Array, least: float) -> Iterator[Straight]:
    along = (line.q - line.p) / line.length
    covered = _covered(np.stack([start, stop])[None], line.p, along)
    if not covered:
        yield line
        return
    for low, high in longer(minus([(0.0, line.length)], covered), least):
        yield Straight(line.p + low * along, line.p + high * along)


def without_path(view: View, path: Path) -> View:
    """A view without the centre lines that the line of a cutting plane covers."""
    own = {each.name: getattr(view, each.name) for each in fields(View)}
    return _Marked(**own, path=view.frame.flat(path.corners))
