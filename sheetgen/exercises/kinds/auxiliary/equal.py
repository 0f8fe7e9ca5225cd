"""The distances that are equal: from X-Y in the view beside, and from X1-Y1 in the auxiliary view. At each line they stand as
running dimensions, one dimension line with an arrow at each distance and a ring where they begin, in the room of a single size
(superimposed running dimensions, ISO 129-1, from memory); each has a letter, the same at both lines. Sheet mm.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
import shapely

from sheetgen.exercises.construction.thin import clear_of_lines
from sheetgen.exercises.kinds.auxiliary.carried import Carried
from sheetgen.exercises.kinds.auxiliary.folds import Fold
from sheetgen.geometry import Array, IntArray
from sheetgen.ink import Mark, Pen, Stroke, Text, circle, text_box, text_width
from sheetgen.placing import Arrowhead, Candidate, Placement, marks_of
from sheetgen.sight import PlacedView
from sheetgen.units import SAME_LEVEL

ASIDE = 5.5
"""mm beside a view at which the dimension line stands: nearer to it than any size."""

GAP, OVERSHOOT = 1.0, 2.0
"""mm between a point and its extension line, and of that past the dimension line, as of all sizes."""

RING = 1.0
"""mm: radius of the ring at which running dimensions begin (common practice, no source)."""

LETTER, TO_LETTER, APART = 3.5, 1.0, 0.6
"""mm: height of letters, from the end of an extension line, and kept free round them."""

LETTERS = "abcdefghkmnp"
"""Of the distances in turn: none that is read as a figure or as another."""

COLUMNS = (0.0, 5.0)
"""mm farther out at which a letter stands, as they are tried: those of distances that differ little stand beside each other."""

ROUND = 1.0
"""mm kept free round all of it."""

ON = 0.1
"""mm: no farther from a distance, a line of a view is there."""


@dataclass(frozen=True, eq=False)
class Running:
    """Running dimensions from ``foot`` (2,) on a reference line, in the unit direction ``away`` (2,) from it: ``reaches`` (n,) so
    far, of points ``starts`` (n, 2), whose extension lines run ``out`` (2,), a unit direction; ``columns`` (n,): mm farther out
    that the letters stand."""

    foot: Array
    away: Array
    out: Array
    reaches: Array
    starts: Array
    letters: tuple[str, ...]
    columns: tuple[float, ...]

    @cached_property
    def tips(self) -> Array:
        """Where the arrows end (n, 2)."""
        return np.asarray(self.foot + self.reaches[:, None] * self.away)

    @cached_property
    def lines(self) -> list[Array]:
        """The dimension line and the extension lines (2, 2)."""
        ends = self.tips + (OVERSHOOT + np.array(self.columns))[:, None] * self.out
        return [np.stack([self.foot, self.tips[-1]]), *np.stack([self.starts + GAP * self.out, ends], axis=1)]

    @cached_property
    def texts(self) -> tuple[Text, ...]:
        """The letters."""
        return tuple(_letter(letter, line[1], self.out) for letter, line in zip(self.letters, self.lines[1:], strict=True))

    @cached_property
    def boxes(self) -> list[shapely.Polygon]:
        """What it takes beside the view: a rectangle of its lines, and one of its letters."""
        lines = np.concatenate([self.foot[None] - RING * self.away, self.tips])
        letters = np.concatenate([text_box(text) for text in self.texts])
        return [self._box(lines, -RING, OVERSHOOT), self._box(letters, OVERSHOOT, OVERSHOOT)]

    def _box(self, points: Array, near: float, far: float) -> shapely.Polygon:
        """Round points (n, 2), and from ``near`` to ``far`` mm out from the dimension line."""
        beyond, aside = (points - self.foot) @ self.away, (points - self.foot) @ self.out
        low, high = beyond.min() - ROUND, beyond.max() + ROUND
        out = min(near, float(aside.min())) - ROUND, max(far, float(aside.max())) + ROUND
        corners = ((low, out[0]), (high, out[0]), (high, out[1]), (low, out[1]))
        return shapely.Polygon([self.foot + u * self.away + v * self.out for u, v in corners])

    def marks(self, there: Sequence[Mark]) -> list[Mark]:
        """Ring, lines, arrowheads and letters; no extension line is drawn along a line that is ``there``, which serves in its
        stead."""
        heads = tuple(Arrowhead(tip, self.away, self.out) for tip in self.tips)
        first = np.stack([self.foot + RING * self.away, self.tips[-1]])
        extensions = clear_of_lines([Stroke(line, Pen.DIMENSION) for line in self.lines[1:]], there)
        drawn = Candidate((first,), tuple(self._begun(stroke.points) for stroke in extensions), heads, self.texts)
        return [circle((float(self.foot[0]), float(self.foot[1])), RING, Pen.DIMENSION),
                *marks_of([Placement(0, 0, drawn)], serving=False)]

    def _begun(self, line: Array) -> Array:
        """An extension line (2, 2), with a gap before it also where it goes on from a line that served in its stead."""
        inner, outer = line if (line[1] - line[0]) @ self.out > 0 else line[::-1]
        own = any(np.hypot(*(inner - whole[0])) < ON for whole in self.lines[1:])
        return np.stack([inner if own or (outer - inner) @ self.out <= GAP else inner + GAP * self.out, outer])


def _letter(letter: str, end: Array, out: Array) -> Text:
    """A letter, upright, beyond the end of its extension line."""
    half = np.array([text_width(letter, LETTER) / 2, LETTER / 2])
    x, y = (end + (TO_LETTER + float(np.abs(out) @ half)) * out).tolist()
    return Text(letter, (x, y - LETTER / 2), LETTER, anchor="middle")


def _running(foot: Array, away: Array, out: Array, reaches: Array, starts: Array) -> Running | None:
    """Running dimensions with their letters clear of each other and of extension lines; None if these have no room."""
    columns = list[float]()
    for k in range(len(reaches)):
        for column in COLUMNS:
            tried = Running(foot, away, out, reaches[:k + 1], starts[:k + 1], tuple(LETTERS[:k + 1]), (*columns, column))
            boxes = [shapely.Polygon(text_box(text, APART)) for text in tried.texts]
            lines = shapely.MultiLineString(tried.lines[1:])
            if not any(boxes[k].intersects(box) for box in boxes[:k]) and not any(box.intersects(lines) for box in boxes):
                columns.append(column)
                break
        else:
            return None
    return Running(foot, away, out, reaches, starts, tuple(LETTERS[:len(reaches)]), tuple(columns))


def equal_distances(
    carried: Carried, between: Fold, beside: PlacedView, side: float
) -> tuple[Running, Running] | None:
    """The distances of all points that are carried over, at the line between the views and at that before the auxiliary view; of
    fewer where letters of these have no room: those of the face, then of its nearest and its farthest point; None where these
    have none either. ``side``: of the view beside at which they stand, 1 to the right or above, -1 to the left or below."""
    for levels in carried.levels:
        if len(levels) > len(LETTERS):
            continue
        there, here = _there(carried, between, beside, side, levels), _here(carried, levels)
        if there and here:
            return there, here
    return None


def _here(carried: Carried, levels: Array) -> Running | None:
    """Beside the auxiliary view, from X1-Y1."""
    turned, starts = carried.turned, list[Array]()
    points = np.concatenate([carried.corners, *turned.view.visible])
    for level in levels.tolist():
        on = points[_nearest(points[:, 1] - level)]
        starts.append(turned.paper(np.array([[on[:, 0].min(), level]]))[0])
    reaches = np.array([carried.distance(level) for level in levels.tolist()])
    return _running(turned.at(turned.box()[0] - ASIDE, 0.0), turned.away, -turned.along, reaches, np.array(starts))


def _there(
    carried: Carried, between: Fold, beside: PlacedView, side: float, levels: Array
) -> Running | None:
    """Beside the other view, from X-Y; None if that line does not run so far, or the view has no line at a distance."""
    k, box, starts = int(abs(float(between.away[0])) > 0.5), beside.box, list[Array]()
    at = box[k + 2] + ASIDE if side > 0 else box[k] - ASIDE
    low, high = np.sort(between.ends[:, k]).tolist()
    lines = [*beside.visible, *beside.hidden]
    reaches = np.array([carried.distance(level) for level in levels.tolist()])
    own = beside.paper(carried.face.in_part(carried.corners))
    for reach in reaches.tolist():
        first = next((some[on, k] for some in (own, np.concatenate(lines)) if len(on := _at(between, some, reach))), None)
        if first is None:
            return None
        start = np.array(between.ends[0] + reach * between.away)
        start[k] = side * _outermost(float((side * first).max()), [side * line[:, k] for line in _along(between, lines, reach)])
        starts.append(start)
    if not low < at - ASIDE / 2 < at + ASIDE / 2 < high:
        return None
    foot = np.array(between.ends[0])
    foot[k] = at
    return _running(foot, between.away, side * np.eye(2)[k], reaches, np.array(starts))


def _nearest(off: Array) -> IntArray:
    """Those numbers of ``off`` (n,) that are all but as near to 0 as the nearest."""
    return np.flatnonzero(np.abs(off) < np.abs(off).min() + SAME_LEVEL)


def _at(between: Fold, points: Array, reach: float) -> IntArray:
    """The numbers of those points (n, 2) that lie so far from the reference line, the nearest to that if several all but do."""
    off = between.beyond(points) - reach
    return _nearest(off) if np.abs(off).min() < ON else np.zeros(0, dtype=np.intp)


def _along(between: Fold, lines: Sequence[Array], reach: float) -> list[Array]:
    """Those parts (2, 2) of lines of a view that run along the reference line, so far from it."""
    legs = [leg for line in lines for leg in np.stack([line[:-1], line[1:]], axis=1)]
    return [leg for leg in legs if (np.abs(between.beyond(leg) - reach) < ON).all()]


def _outermost(first: float, spans: Sequence[Array]) -> float:
    """How far one gets from ``first`` along spans (2,) that begin where one is."""
    for low, high in sorted((float(span.min()), float(span.max())) for span in spans):
        if low < first + ON:
            first = max(first, high)
    return first
