"""Other parts that would complete views with lines left out, of parts whose inclined and round faces run along one axis.

Tried are columns of the plan that are filled or cut out from one level to another, and pairs of cells that are turned over. What
they show is told by the projection, and counted as lengths of drawn lines; of the program's proof nothing is used but the cells.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations

import numpy as np
import shapely

from sheetgen.certainty.prisms import Prism, prism_axis, prism_of
from sheetgen.projection import LineKind, lines_of, view_of
from sheetgen.solid import SolidError, build

VIEWS = ("front", "top", "right")
KINDS = (LineKind.VISIBLE, LineKind.HIDDEN)
NEAR, SHORT = 0.02, 0.1
"""mm: lines no farther apart are one; what is shorter is none."""


def others_found_upright(solid, chosen, finer: int, pairs: bool) -> int:
    """How many other parts complete the views by as many strokes: with one or two faces of the plan filled or cut out between two
    levels, on levels with each gap in ``finer`` pieces, or (``pairs``) one or two cells turned over."""
    prism = prism_of(solid, prism_axis(solid))
    steps = np.arange(finer) / finer * np.diff(prism.levels)[:, None]
    levels = np.append((prism.levels[:-1, None] + steps).ravel(), prism.levels[-1])
    fine = Prism(prism.axis, prism.plan, prism.across, levels, prism.filled.repeat(finer, axis=1))
    own = {(view, kind): lines_of(view_of(solid, view), kind) for view in VIEWS for kind in KINDS}
    given = {key: [shape for number, shape in enumerate(shapes) if (*key, number) not in {
        (line.view, line.kind, line.number) for line in chosen}] for key, shapes in own.items()}
    tried = {filled.tobytes(): fine.filled_as(filled[1:].ravel()) for filled in (turned(fine) if pairs else cut_and_filled(fine))
             if columns_between(fine, filled) == columns_between(fine, fine.filled)}
    return sum(completes(other, given, len(chosen)) and drawn_unlike(other, own) for other in tried.values())


def cut_and_filled(prism) -> Iterator[np.ndarray]:
    """The part with one face of the plan, or two beside each other, filled or cut out between two levels."""
    faces = [(face,) for face in range(1, len(prism.filled))] + [pair for pair in prism.beside if 0 not in pair]
    for some in faces:
        for low, high in combinations(range(prism.filled.shape[1] + 1), 2):
            for fill in (True, False):
                if (prism.filled[list(some), low:high] != fill).any():
                    other = prism.filled.copy()
                    other[list(some), low:high] = fill
                    yield other


def turned(prism) -> Iterator[np.ndarray]:
    """The part with any one or two cells turned over."""
    cells = [(face, slab) for face in range(1, len(prism.filled)) for slab in range(prism.filled.shape[1])]
    for some in (*((cell,) for cell in cells), *combinations(cells, 2)):
        other = prism.filled.copy()
        for cell in some:
            other[cell] ^= True
        yield other


def columns_between(prism, filled) -> list[int]:
    """What the view along the axis shows between each two faces of its plan: 0 nothing, 1 a visible line, 2 a hidden one."""
    found = []
    for one, other in prism.beside:
        a, b = filled[one], filled[other]
        if prism.axis != 1:
            a, b = a[::-1], b[::-1]                   # from above and from the right the eye is at the high end
        first = [int(np.argmax(column)) if column.any() else -1 for column in (a, b)]
        found.append(0 if (a == b).all() else 1 if first[0] != first[1] else 2)
    return found


def body_of(prism):
    """The part as a solid of one piece; None if it is no such part."""
    try:
        return build(prism.features) if prism.filled.any() else None
    except SolidError:
        return None


def completes(prism, given, told: int) -> bool:
    """Whether a part has all given lines, and as many strokes more as are told."""
    body = body_of(prism)
    if body is None:
        return False
    strokes = 0
    for (view, kind), shapes in given.items():
        mine = [shapely.LineString(shape.points()) for shape in lines_of(view_of(body, view), kind)]
        theirs = shapely.union_all([shapely.LineString(shape.points()) for shape in shapes])
        if shapely.difference(theirs, shapely.union_all(mine).buffer(NEAR)).length > SHORT:
            return False
        for line in mine:
            rest = shapely.difference(line, theirs.buffer(NEAR, cap_style="flat"))
            strokes += sum(piece.length > SHORT for piece in shapely.get_parts(rest))
    return strokes == told


def drawn_unlike(prism, own) -> bool:
    """Whether a part shows other lines than the one that was drawn."""
    body = body_of(prism)
    for (view, kind), shapes in own.items():
        one, other = (shapely.union_all([shapely.LineString(shape.points()) for shape in some])
                      for some in (shapes, lines_of(view_of(body, view), kind)))
        for a, b in ((one, other), (other, one)):
            if shapely.difference(a, b.buffer(NEAR)).length > SHORT:
                return True
    return False
