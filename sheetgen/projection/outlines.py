"""Flat faces as closed outlines with true arcs: those of a cut, or the true shape of an inclined one. View millimetres."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from sheetgen.geometry import Array, Mask
from sheetgen.projection.frames import Frame
from sheetgen.projection.shapes import Arc, Free, Shape, Straight
from sheetgen.solid import Conic, Line, Plane, Solid
from sheetgen.units import SAME_POINT


@dataclass(frozen=True, eq=False)
class Outline:
    """A closed line round a flat face, or round a hole in one: ``pieces`` one after the other, the face to their left."""

    pieces: tuple[Shape, ...]

    @property
    def area(self) -> float:
        """mm2 within it, with its true arcs; negative round a hole."""
        return sum(map(_swept, self.pieces))

    def points(self) -> Array:
        """A polygon (k, 2), arcs within CHORD_ERROR."""
        return np.concatenate([piece.points()[:-1] for piece in self.pieces])


def area_within(outlines: Sequence[Outline]) -> BaseGeometry:
    """What some outlines enclose."""
    filled = [shapely.Polygon(outline.points()) for outline in outlines if outline.area > 0]
    holes = [shapely.Polygon(outline.points()) for outline in outlines if outline.area < 0]
    return shapely.union_all(filled).difference(shapely.union_all(holes))


def outlines_of(solid: Solid, frame: Frame, facets: Mask, flat: Array | None = None) -> tuple[Outline, ...]:
    """The outlines of the flat ``facets`` (m,), which lie in one plane, as they are seen from ``frame``, stretch by stretch;
    ``flat`` (n, 2): the solid's vertices there, if they are known."""
    flat = frame.flat(solid.vertices) if flat is None else flat
    return tuple(_outline(solid, frame, flat, *rim) for rim in _rims(solid, facets))


def _rims(solid: Solid, facets: Mask) -> Iterator[tuple[list[int], list[int]]]:
    """The closed rims of flat ``facets`` (m,), these to their left as the reader sees it: the corners in turn, and the surface
    beyond the edge that begins in each."""
    edges = solid.edges
    within = facets[edges.facets]
    mine = np.flatnonzero(within.sum(axis=1) == 1)
    side = within[mine, 1].astype(np.int64)
    facet, other = edges.facets[mine, side], edges.pair[mine, 1 - side]
    begin, end = edges.ends[mine].T
    a, b, c = solid.triangles[facet].T
    onward = ((a == begin) & (b == end)) | ((b == begin) & (c == end)) | ((c == begin) & (a == end))
    begin, end = np.where(onward, begin, end), np.where(onward, end, begin)
    following = {p: (q, k) for p, q, k in zip(begin.tolist(), end.tolist(), other.tolist(), strict=True)}
    while following:
        at = first = min(following)
        corners, beside = list[int](), list[int]()
        while at in following:
            onto, surface = following.pop(at)
            corners.append(at)
            beside.append(surface)
            at = onto
        assert at == first
        yield corners, beside


def _outline(solid: Solid, frame: Frame, flat: Array, corners: list[int], beside: list[int]) -> Outline:
    """One rim as lines and arcs: one for each stretch along one surface that is straight, or of one curve."""
    count = len(corners)
    begins = [k for k in range(count) if beside[k] != beside[k - 1]] or [0]
    pieces = list[Shape]()
    for n, first in enumerate(begins):
        last = begins[n + 1] if n + 1 < len(begins) else begins[0] + count
        run = [corners[k % count] for k in range(first, last + 1)]
        pieces += _pieces(solid, frame, flat, run, beside[first])
    return Outline(tuple(pieces))


def _pieces(solid: Solid, frame: Frame, flat: Array, run: Sequence[int], surface: int) -> list[Shape]:
    """The line, or lines, from corner to corner of a ``run`` along a ``surface``; at the apex of a cone it turns."""
    points = flat.take(run, axis=0)
    pair = next((pair for pair in _pairs(solid, run[:2], surface)), None)
    curve = solid.edges.curves.get(pair) if pair else None
    if isinstance(curve, Line) or isinstance(solid.surfaces[surface], Plane):
        way = np.diff(points, axis=0)
        turns = np.abs(way[:-1, 0] * way[1:, 1] - way[:-1, 1] * way[1:, 0]) > SAME_POINT * np.hypot(*way[:-1].T)
        stops = [0, *(np.flatnonzero(turns) + 1).tolist(), len(points) - 1]
        return [Straight(points[one], points[other]) for one, other in pairwise(stops)]
    if not isinstance(curve, Conic):
        return [Free(points)]
    centre, (a, b) = frame.flat(curve.centre), frame.flat_vectors(np.stack([curve.a, curve.b]))
    away = points - centre
    turn = np.unwrap(np.arctan2(away @ b / (b @ b), away @ a / (a @ a)))
    start, stop = float(turn[0]), float(turn[-1])
    if run[0] == run[-1]:
        stop = start + math.copysign(2 * math.pi, stop - start)
    return [Arc(centre, a, b, start, stop) if stop > start else Arc(centre, a, -b, -start, -stop)]


def _pairs(solid: Solid, ends: Sequence[int], surface: int) -> Iterator[tuple[int, int]]:
    """The pairs of surfaces, one of them ``surface``, that meet in the edge with these ends."""
    edges, (low, high) = solid.edges, sorted(ends)
    for k in np.flatnonzero((edges.ends[:, 0] == low) & (edges.ends[:, 1] == high)).tolist():
        one, other = sorted(edges.pair[k].tolist())
        if surface in (one, other):
            yield one, other


def _swept(piece: Shape) -> float:
    """Half the integral of x dy - y dx along a piece: mm2 that its arm from (0, 0) sweeps."""
    if isinstance(piece, Arc):
        cos, sin = math.cos(piece.stop) - math.cos(piece.start), math.sin(piece.stop) - math.sin(piece.start)
        chord = cos * piece.a + sin * piece.b
        own = float(piece.a[0] * piece.b[1] - piece.a[1] * piece.b[0]) * (piece.stop - piece.start)
        return (float(piece.centre[0] * chord[1] - piece.centre[1] * chord[0]) + own) / 2
    points = piece.points()
    x, y = points.T
    return float((x[:-1] * y[1:] - x[1:] * y[:-1]).sum()) / 2
