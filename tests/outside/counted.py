"""Lines of a view counted on an independent kernel's linework: the definition of a line written again, sharing nothing with ours.

A line is the longest straight run, arc of one circle or ellipse, or curve between two surfaces, of one kind (visible, hidden) in
one view; crossings do not split it, an edge partly hidden is two. The kernel gives every edge once for each of its faces, in
pieces where other edges meet it, hidden ones under visible ones too: pieces are gathered by the infinite line or the whole
ellipse on which they lie, and there they are intervals.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from OCP.BRepAdaptor import BRepAdaptor_Curve
from OCP.BRepLib import BRepLib
from OCP.GeomAbs import GeomAbs_Circle, GeomAbs_Ellipse, GeomAbs_Line
from OCP.TopAbs import TopAbs_EDGE
from OCP.TopExp import TopExp_Explorer
from OCP.TopoDS import TopoDS, TopoDS_Shape

from tests.outside.kernel import Reference
from tests.outside.kernel_lines import OUTLINE, SHARP, axes_of, hidden_line_removal, points_of

Points = NDArray[np.float64]
Span = tuple[float, float]

FLAT = 2e-4
"""Of its length: a piece whose points are no farther from the line through its ends is straight; of a curve of 20 mm radius that
would be 0.03 mm."""

FEW, SHORT = 9, 1.0

SAME = 0.01
"""mm: carriers no farther apart are one."""

GAP = 0.03
"""mm: nearer pieces of a line are one."""

SPECK = 0.06
"""mm: a shorter rest is of rounding."""


@dataclass(frozen=True)
class Piece:
    """A piece of an edge in the view: its points, and for a circle or ellipse its centre and two conjugate radii (3, 2)."""

    points: Points
    straight: bool
    conic: Points | None


@dataclass(frozen=True)
class Counted:
    """How many lines of each sort a view has."""

    outlines: int
    curves: int
    hidden: int


def counted(reference: Reference, view: str) -> Counted:
    """Count the lines of a view of a kernel's solid."""
    seen, unseen = (list(_pieces(reference, view, seen=seen)) for seen in (True, False))
    known = [*seen, *unseen]
    seen, unseen = ([_placed(piece, known) for piece in pieces] for pieces in (seen, unseen))
    straight, hidden_straight = _straight_lines(seen, unseen)
    round_, hidden_round = _conic_lines(seen, unseen)
    free, hidden_free = _free_lines(seen, unseen)
    return Counted(straight, round_ + free, hidden_straight + hidden_round + hidden_free)


def _pieces(reference: Reference, view: str, *, seen: bool) -> Iterator[Piece]:
    lines = hidden_line_removal(reference.shape, view)
    rows, offset = axes_of(view, reference.bounds[1])
    for kind in (SHARP, OUTLINE):
        for curve in _curves(lines.CompoundOfEdges(kind, seen, True)):
            points = _fine(curve) @ rows.T + offset
            if np.ptp(points, axis=0).max() > 1e-6:
                straight = _is_flat(points, known=curve.GetType() == GeomAbs_Line)
                yield Piece(points, straight, None if straight else _conic(curve, rows, offset))


def _placed(piece: Piece, known: Sequence[Piece]) -> Piece:
    """A curve in space may be seen as part of a circle, or of a straight line, that there is: as such it counts."""
    if piece.straight or piece.conic is not None:
        return piece
    for other in known:
        if other.conic is not None and _lies_on(piece.points, other.conic):
            return Piece(piece.points, False, other.conic)
        if other.straight:
            p, q = other.points[0], other.points[-1]
            way = (q - p) / math.hypot(*(q - p))
            if np.abs((piece.points - p) @ np.array([-way[1], way[0]])).max() < SPECK / 60:
                return Piece(piece.points, True, None)
    return piece


def _lies_on(points: Points, conic: Points) -> bool:
    if abs(np.linalg.det(conic[1:])) < 1e-6:
        return False
    turn = np.linalg.solve(conic[1:].T, (points - conic[0]).T)
    return bool(np.abs(np.hypot(turn[0], turn[1]) - 1).max() * max(math.hypot(*radius) for radius in conic[1:]) < SAME)


def _curves(compound: TopoDS_Shape | None) -> Iterator[BRepAdaptor_Curve]:
    if compound is None or compound.IsNull():
        return
    BRepLib.BuildCurves3d_s(compound)
    walk = TopExp_Explorer(compound, TopAbs_EDGE)
    while walk.More():
        yield BRepAdaptor_Curve(TopoDS.Edge(walk.Current()))
        walk.Next()


def _fine(curve: BRepAdaptor_Curve) -> Points:
    """A curve as points (k, 3), so many that a short piece of one that bends is seen to bend."""
    found = points_of(curve)
    if curve.GetType() == GeomAbs_Line or len(found) >= FEW:
        return found
    at = [curve.Value(float(t)) for t in np.linspace(curve.FirstParameter(), curve.LastParameter(), FEW)]
    return np.array([(p.X(), p.Y(), p.Z()) for p in at])


def _conic(curve: BRepAdaptor_Curve, rows: Points, offset: Points) -> Points | None:
    if curve.GetType() == GeomAbs_Circle:
        one, radii = curve.Circle(), (curve.Circle().Radius(),) * 2
    elif curve.GetType() == GeomAbs_Ellipse:
        one, radii = curve.Ellipse(), (curve.Ellipse().MajorRadius(), curve.Ellipse().MinorRadius())
    else:
        return None
    place = one.Position()
    centre, a, b = (np.array([p.X(), p.Y(), p.Z()]) for p in (place.Location(), place.XDirection(), place.YDirection()))
    return np.array([centre @ rows.T + offset, radii[0] * a @ rows.T, radii[1] * b @ rows.T])


def _is_flat(points: Points, *, known: bool) -> bool:
    """Whether points lie on a straight line; of a curve that is not ``known`` to be one, a short piece tells nothing."""
    way = points[-1] - points[0]
    length = math.hypot(*way)
    if length < (1e-6 if known else SHORT):
        return False
    off = np.abs(way[0] * (points[:, 1] - points[0, 1]) - way[1] * (points[:, 0] - points[0, 0])) / length
    return bool(off.max() < FLAT * length)


def _joined(spans: Sequence[Span], gap: float) -> list[Span]:
    found: list[Span] = []
    for low, high in sorted(spans):
        if found and low <= found[-1][1] + gap:
            found[-1] = (found[-1][0], max(found[-1][1], high))
        else:
            found.append((low, high))
    return found


def _less(spans: Sequence[Span], taken: Sequence[Span]) -> list[Span]:
    left = list(spans)
    for low, high in taken:
        left = [part for a, b in left for part in ((a, min(b, low)), (max(a, high), b)) if part[1] > part[0]]
    return left


def _straight_lines(seen: Sequence[Piece], unseen: Sequence[Piece]) -> tuple[int, int]:
    """Visible and hidden straight lines: pieces gathered by direction and distance from the origin."""
    carriers: list[tuple[Points, float, list[Span], list[Span]]] = []
    for number, pieces in enumerate((seen, unseen)):
        for piece in pieces:
            if not piece.straight:
                continue
            p, q = piece.points[0], piece.points[-1]
            way = (q - p) / math.hypot(*(q - p))
            way = -way if way[0] < -1e-6 or (abs(way[0]) <= 1e-6 and way[1] < 0) else way
            off = float(way[0] * p[1] - way[1] * p[0])
            mine = next((one for one in carriers if abs(way[0] * one[0][1] - way[1] * one[0][0]) < 1e-3
                         and max(abs(float(one[0][0] * end[1] - one[0][1] * end[0]) - one[1]) for end in (p, q)) < SAME), None)
            if mine is None:
                mine = (way, off, [], [])
                carriers.append(mine)
            along = sorted(float(mine[0] @ end) for end in (p, q))
            mine[2 + number].append((along[0], along[1]))
    return _settled([(one[2], one[3]) for one in carriers])


def _settled(carriers: Sequence[tuple[list[Span], list[Span]]], factor: Sequence[float] = ()) -> tuple[int, int]:
    visible = hidden = 0
    for number, (seen, unseen) in enumerate(carriers):
        unit = factor[number] if factor else 1.0
        shown = [span for span in _joined(seen, GAP / unit) if span[1] - span[0] > SPECK / unit]
        rest = [span for span in _less(_joined(unseen, GAP / unit), shown) if span[1] - span[0] > SPECK / unit]
        visible += len(shown)
        hidden += len(rest)
    return visible, hidden


def _conic_lines(seen: Sequence[Piece], unseen: Sequence[Piece]) -> tuple[int, int]:
    """Visible and hidden arcs: pieces gathered by the whole ellipse; intervals of its parameter, which close at a full turn."""
    found: list[tuple[Points, list[Span], list[Span]]] = []
    for number, pieces in enumerate((seen, unseen)):
        for piece in (piece for piece in pieces if piece.conic is not None):
            mine = next((one for one in found if _same_conic(one[0], piece.conic)), None)
            if mine is None:
                mine = (piece.conic, [], [])
                found.append(mine)
            mine[1 + number].extend(_turned(piece.points, mine[0]))
    reach = [max(math.hypot(*one[0][1]), math.hypot(*one[0][2])) for one in found]
    visible, hidden = _settled([(one[1], one[2]) for one in found], reach)
    for kind in (1, 2):
        for one, size in zip(found, reach, strict=True):
            spans = _joined(one[kind], GAP / size)
            if kind == 2:
                spans = _less(spans, [span for span in _joined(one[1], GAP / size) if span[1] - span[0] > SPECK / size])
            spans = [span for span in spans if span[1] - span[0] > SPECK / size]
            if len(spans) > 1 and spans[0][0] < GAP / size and spans[-1][1] > 2 * math.pi - GAP / size:
                visible, hidden = visible - (kind == 1), hidden - (kind == 2)
    return visible, hidden


def _same_conic(one: Points, other: Points) -> bool:
    forms = [np.outer(each[1], each[1]) + np.outer(each[2], each[2]) for each in (one, other)]
    size = max(1.0, float(np.abs(forms[0]).max()) ** 0.5)
    return bool(np.abs(one[0] - other[0]).max() < SAME and np.abs(forms[0] - forms[1]).max() < SAME * size)


def _turned(points: Points, conic: Points) -> list[Span]:
    """The parameters that a piece runs over, between 0 and a full turn; one that runs over 0 is two."""
    turn = np.linalg.solve(conic[1:].T, (points - conic[0]).T)
    angles = np.unwrap(np.arctan2(turn[1], turn[0]))
    low, high = float(angles.min()), float(angles.max())
    shift = 2 * math.pi * math.floor(low / (2 * math.pi))
    low, high = low - shift, high - shift
    return [(low, high)] if high <= 2 * math.pi else [(low, 2 * math.pi), (0.0, high - 2 * math.pi)]


def _free_lines(seen: Sequence[Piece], unseen: Sequence[Piece]) -> tuple[int, int]:
    """Visible and hidden curves of other sorts: alike ones once, none hidden under a visible one, linked where ends meet."""
    shown = _distinct([piece.points for piece in seen if piece.conic is None and not piece.straight], [])
    rest = _distinct([piece.points for piece in unseen if piece.conic is None and not piece.straight], shown)
    return _linked(shown), _linked(rest)


def _distinct(curves: Sequence[Points], before: Sequence[Points]) -> list[Points]:
    """The longest first: of the rest, what lies all along others is on paper once. Where two rims fall in one the kernel calls
    bits of the farther one seen and bits hidden, as rounding has it."""
    kept: list[Points] = []
    for curve in sorted(curves, key=_length, reverse=True):
        others = [*before, *kept]
        if not others or np.min([_away(curve, other) for other in others], axis=0).max() >= SAME:
            kept.append(curve)
    return kept


def _length(curve: Points) -> float:
    return float(np.hypot(*np.diff(curve, axis=0).T).sum())


def _away(points: Points, curve: Points) -> Points:
    """mm from each of some points to a polyline."""
    start, way = curve[:-1], curve[1:] - curve[:-1]
    off = points[:, None] - start
    share = np.clip((off * way).sum(axis=2) / np.maximum((way * way).sum(axis=1), 1e-30), 0, 1)
    apart = off - share[:, :, None] * way
    return np.asarray(np.hypot(apart[..., 0], apart[..., 1]).min(axis=1))


def _linked(curves: Sequence[Points]) -> int:
    """How many runs the curves make that go on smoothly in one another."""
    group = list(range(len(curves)))
    for i, one in enumerate(curves):
        for j in range(i):
            if _goes_on(one, curves[j]):
                group = [group[j] if g == group[i] else g for g in group]
    return len(set(group))


def _goes_on(one: Points, other: Points) -> bool:
    for a, way_a in ((one[0], one[0] - one[1]), (one[-1], one[-1] - one[-2])):
        for b, way_b in ((other[0], other[0] - other[1]), (other[-1], other[-1] - other[-2])):
            cosine = float(way_a @ way_b) / (math.hypot(*way_a) * math.hypot(*way_b))
            if math.hypot(*(a - b)) < GAP and cosine < -0.98:
                return True
    return False
