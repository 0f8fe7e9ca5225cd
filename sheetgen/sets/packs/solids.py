"""A solid as the record that the viewer of a pack's page reads (``page/viewer.js``): small, whole numbers, nothing but data.

A record is plain JSON. ``step``: mm of one unit of its lengths; ``vertex_step``: of the vertices. ``size`` (3,); ``gaps`` (2,),
between views in a row and in a column; ``corner``: signs of x and y towards the reader of the pictorial. ``vertices``, each
less the one two before, and ``triangles``, as ``_told`` tells them, are texts of ``packed``; ``facets``: how many triangles
each surface has, in the order of the triangles. ``round``: of each cylinder and cone its number, a point of its axis (a cone's
apex), its direction and its slope; ``smooth``: ends of edges where two surfaces are tangent. ``views``: of each view its
``visible``, ``hidden`` and ``centre`` lines, in its own axes: ``straight`` from (u, v) to (u, v); ``arcs``: centre, a, b, and
from which to which angle, in millionths of a radian; ``curves``: each knot less the one before.
"""

from __future__ import annotations

import base64
from collections.abc import Mapping, Sequence

import numpy as np

from sheetgen.geometry import Array, IntArray
from sheetgen.projection import CORNERS, ISOMETRIC_CORNER, Arc, LineKind, Shape, Straight, View, lines_of
from sheetgen.sheet.layout import Layout
from sheetgen.sheet.symbol import Projection
from sheetgen.solid import Cone, Cylinder, Plane, Solid
from sheetgen.templating import Wording
from sheetgen.units import RECORD_STEP, RECORD_TURN, VERTEX_STEP

FREE_GAP = 0.4
"""Of the part's mean size: what stands between views that no sheet has placed (common practice, no source)."""

ROUND_DIGITS = 6
"""Decimals of a round surface's axis, of which only the way its facets look is made."""

Record = dict[str, object]


def record_of(
    solid: Solid, views: Mapping[str, View], layout: Layout | None = None, corner: str = ISOMETRIC_CORNER,
) -> Record:
    """The record of a solid with its ``views`` by name, front and top among them, as far apart as ``layout`` places them on the
    answer; ``corner``: that of the pictorial, as in ``frames.CORNERS``."""
    walked = _walk(solid)
    triangles, order = _told(solid.triangles[walked])
    numbers = np.empty(len(order), dtype=np.int64)
    numbers[order] = np.arange(len(order))
    scale = 1.0 if layout is None else layout.scale
    return {
        "step": RECORD_STEP,
        "vertex_step": VERTEX_STEP,
        "size": _units(solid.size).tolist(),
        "gaps": _units(np.array(_gaps(solid, layout))).tolist(),
        "corner": list(CORNERS[corner]),
        "vertices": packed(_signed(_after_two(np.round(solid.vertices[order] / VERTEX_STEP).astype(np.int64)).ravel())),
        "triangles": packed(triangles),
        "facets": np.bincount(solid.owner, minlength=len(solid.surfaces)).tolist(),
        "round": [_round(k, surface) for k, surface in enumerate(solid.surfaces) if not isinstance(surface, Plane)],
        "smooth": np.sort(numbers[solid.edges.ends[solid.edges.tangent]], axis=1).tolist(),
        "views": {name: {str(kind): _lines(lines_of(view, kind, scale)) for kind in LineKind} for name, view in views.items()},
    }


def words_of(wording: Wording, projection: Projection) -> dict[str, str]:
    """The words of the viewer's buttons, by the names it has for them."""
    names = (name.partition(".") for name in wording.phrases)
    say, angle = wording.render, wording.render(f"projection.{projection}")
    return {name: say(f"turn.{name}", projection=angle) for group, _, name in names if group == "turn"}


def packed(numbers: Sequence[int] | IntArray) -> str:
    """Whole numbers of at least 0 as base64: seven bits a byte, the lowest first; the eighth bit says that more follow.

    >>> packed([0, 1, 200])
    'AAHIAQ=='
    """
    found = bytearray()
    for number in numbers.tolist() if isinstance(numbers, np.ndarray) else numbers:
        while number > 127:
            found.append(number & 127 | 128)
            number >>= 7
        found.append(number)
    return base64.b64encode(bytes(found)).decode("ascii")


def _signed(numbers: IntArray) -> IntArray:
    """Whole numbers of either sign as such of at least 0: twice those of 0 and more; -1, -2 … as 1, 3 …"""
    return np.asarray(np.where(numbers < 0, -2 * numbers - 1, 2 * numbers))


def _after_two(places: IntArray) -> IntArray:
    """Each place (n, 3) less the one two before it: along a strip they lie on one side of it."""
    found = places.copy()
    found[2:] -= places[:-2]
    return found


def _units(lengths: Array) -> IntArray:
    """Lengths in mm as whole steps."""
    return np.round(lengths / RECORD_STEP).astype(np.int64)


def _gaps(solid: Solid, layout: Layout | None) -> tuple[float, float]:
    """Part mm between the views of a row, and between those of a column."""
    if layout is not None:
        return layout.across.gap / layout.scale, layout.up.gap / layout.scale
    gap = FREE_GAP * float(solid.size.mean())
    return gap, gap


def _walk(solid: Solid) -> list[int]:
    """The triangles surface by surface, each beside the one before where that can be."""
    beside: list[list[int]] = [[] for _ in solid.triangles]
    within = solid.edges.pair[:, 0] == solid.edges.pair[:, 1]
    for one, other in solid.edges.facets[within].tolist():
        beside[one].append(other)
        beside[other].append(one)
    walked: list[int] = []
    known: set[int] = set()
    for start in np.argsort(solid.owner, kind="stable").tolist():
        todo = [start]
        while todo:
            if (here := todo.pop()) not in known:
                known.add(here)
                walked.append(here)
                todo += sorted((there for there in beside[here] if there not in known), key=lambda there: len(beside[there]))
    return walked


def _told(triangles: IntArray) -> tuple[list[int], list[int]]:
    """Triangles (m, 3) as whole numbers, and their vertices in the order in which these have them.

    One that shares side k (0, 1, 2) of the one before is told by 4 r + k, where its third vertex is the r-th of the known ones,
    counted backwards, 0 a new one; any other by 3 and such an r for each of its vertices.
    """
    found: list[int] = []
    number: dict[int, int] = {}

    def back_to(vertex: int) -> int:
        if vertex in number:
            return len(number) - number[vertex]
        number[vertex] = len(number)
        return 0

    before: tuple[int, ...] = ()
    for triangle in triangles.tolist():
        shared = next((k for k in range(3) if before and {before[k], before[(k + 1) % 3]} <= set(triangle)), None)
        if shared is None:
            before = tuple(triangle)
            found += [3, *(back_to(vertex) for vertex in before)]
        else:
            one, other = before[shared], before[(shared + 1) % 3]
            [third] = set(triangle) - {one, other}
            before = (other, one, third)
            found.append(4 * back_to(third) + shared)
    return found, list(number)


def _round(number: int, surface: Cylinder | Cone) -> list[float]:
    """A cylinder or cone: its number, point, direction and slope, rounded to less than a screen shows."""
    slope = surface.slope if isinstance(surface, Cone) else 0.0
    return [number, *(round(float(n), ROUND_DIGITS) + 0.0 for n in (*surface.point, *surface.direction, slope))]


def _lines(shapes: Sequence[Shape]) -> dict[str, list[list[int]]]:
    """Lines of one kind by their shapes."""
    found: dict[str, list[list[int]]] = {"straight": [], "arcs": [], "curves": []}
    for shape in shapes:
        if isinstance(shape, Straight):
            found["straight"].append(_units(shape.points()).ravel().tolist())
        elif isinstance(shape, Arc):
            turns = [round(turn / RECORD_TURN) for turn in (shape.start, shape.stop)]
            found["arcs"].append([*_units(np.concatenate([shape.centre, shape.a, shape.b])).tolist(), *turns])
        else:
            found["curves"].append(np.diff(_units(shape.points()), axis=0, prepend=0).ravel().tolist())
    return found
