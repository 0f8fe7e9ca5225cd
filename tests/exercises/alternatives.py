"""Other parts that would complete views with lines left out, looked for by trying: boxes that are filled or cut out, and pairs of
cells that are turned over. By the rules of ``tests/certainty/brute.py``, which are written apart from the program's.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations, product

import numpy as np

from sheetgen.certainty import grid_of
from sheetgen.projection import LineKind
from tests.certainty import brute

VIEWS = ("front", "top", "right")
CHUNK = 4000
KINDS = {LineKind.VISIBLE: 1, LineKind.HIDDEN: 2}


def others_found(solid, chosen, finer: int, pairs: bool) -> int:
    """How many other drawings complete the views by as many strokes: of parts that have one box filled or cut out, on a grid with
    each gap in ``finer`` pieces, or (``pairs``) two cells turned over."""
    grid = grid_of(solid)
    levels = [np.append((own[:-1, None] + np.arange(finer) / finer * np.diff(own)[:, None]).ravel(), own[-1])
              for own in grid.levels]
    part = grid.filled.repeat(finer, 0).repeat(finer, 1).repeat(finer, 2)
    whole = {view: [some[0] for some in brute.lines_in_rows(part[None], view)] for view in VIEWS}
    given = {view: tuple(some.copy() for some in whole[view]) for view in VIEWS}
    for line in chosen:
        blank(given[line.view], line, levels)
    found = set()
    for parts in chunks(turned_pairs(part) if pairs else boxed(part)):
        fits, strokes = np.ones(len(parts), dtype=bool), np.zeros(len(parts), dtype=int)
        for view in VIEWS:
            for rows, own in zip(brute.lines_in_rows(parts, view), given[view], strict=True):
                fits &= ((rows == own) | (own == 0)).all(axis=(1, 2))
                strokes += brute.strokes(rows, own)
        for other in parts[fits & (strokes == len(chosen))]:
            if brute.is_a_part(other):
                shown = tuple(brute.lines_of_parts(other[None], view).tobytes() for view in VIEWS)
                found.add(shown)
    return len(found - {tuple(brute.lines_of_parts(part[None], view).tobytes() for view in VIEWS)})


def blank(given, line, levels):
    """Take a line out of the rows of its view. The view's own axes are those of the part in these three views."""
    across = [axis for axis in range(3) if axis != brute.TOWARD[line.view][0]]
    low, high = np.minimum(line.shape.p, line.shape.q), np.maximum(line.shape.p, line.shape.q)
    along = int(np.argmax(high - low))
    at = [[int(np.argmin(np.abs(levels[across[k]] - end[k]))) for k in (0, 1)] for end in (low, high)]
    row = given[1 - along][at[0][1 - along], at[0][along]:at[1][along]]
    assert (row == KINDS[line.kind]).all() and len(row)
    given[1 - along][at[0][1 - along], at[0][along]:at[1][along]] = 0


def boxed(part) -> Iterator[np.ndarray]:
    """The part with any one box filled, and with any one cut out."""
    spans = [list(combinations(range(count + 1), 2)) for count in part.shape]
    for (x0, x1), (y0, y1), (z0, z1) in product(*spans):
        inside = part[x0:x1, y0:y1, z0:z1]
        for fill in (True, False):
            if (inside != fill).any():
                other = part.copy()
                other[x0:x1, y0:y1, z0:z1] = fill
                yield other


def turned_pairs(part) -> Iterator[np.ndarray]:
    """The part with any one or two cells turned over."""
    cells = list(product(*map(range, part.shape)))
    for some in (*((cell,) for cell in cells), *combinations(cells, 2)):
        other = part.copy()
        for cell in some:
            other[cell] ^= True
        yield other


def chunks(parts: Iterator[np.ndarray]) -> Iterator[np.ndarray]:
    """Many at a time."""
    held = []
    for part in parts:
        held.append(part)
        if len(held) == CHUNK:
            yield np.array(held)
            held = []
    if held:
        yield np.array(held)
