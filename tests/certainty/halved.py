"""Small grids whose squares are halved by a diagonal; what views show is told by what two sight lines beside each other meet.

A part is an array (nx, ny, 2, slabs) of bool: of each square, seen from above, the half nearer to the front and the other.
``slopes`` (nx, ny): 1 where the diagonal runs from the front left to the rear right corner, -1 where it runs the other way.
"""

from __future__ import annotations

import numpy as np

from sheetgen.bank.features import Piece, Profile
from sheetgen.solid import build

Ray = tuple[tuple[float, int], ...]
"""What a sight line meets: of each change, how far away it is and how the face leans there."""


def crossings(stack, turned=False) -> Ray:
    """The changes along a stack of (filled, near, far, lean at its near side)."""
    found, inside = [], False
    for filled, near, lean in stack:
        if filled != inside:
            found.append((near, lean))
            inside = filled
    return tuple(found)


def compared(one: Ray, other: Ray) -> int:
    """0: no line between two sight lines, 1: a visible one, 2: a hidden one."""
    if one == other:
        return 0
    return 1 if one[:1] != other[:1] else 2


def ray(part, slopes, column, side, slab, away) -> Ray:
    """Looking along y over the column of squares ``column`` at its left (0) or right (1) border; ``away``: from the front (1) or
    from behind (-1)."""
    nx, ny = slopes.shape
    if not 0 <= column < nx or not 0 <= slab < part.shape[3]:
        return ()
    stack = []
    for j in range(ny):
        slope = slopes[column, j]
        middle = j + (side if slope > 0 else 1 - side)
        stack += [(part[column, j, 0, slab], j, 0), (part[column, j, 1, slab], middle, slope)]
    stack.append((False, ny, 0))
    if away < 0:                                      # each change seen from the other side
        ends = [(low, lean) for _, low, lean in stack]
        filled = [f for f, _, _ in stack[:-1]]
        stack = [(f, -ends[k + 1][0], ends[k + 1][1]) for k, f in reversed(list(enumerate(filled)))] + [(False, 0, 0)]
    return crossings(stack)


def transposed(part, slopes):
    """The same part with x and y exchanged: the half nearer to the left becomes the nearer one."""
    swapped = part.transpose(1, 0, 2, 3).copy()
    flip = slopes.T > 0
    swapped[flip] = swapped[flip][:, ::-1]
    return swapped, slopes.T


def across(part, slopes, away) -> tuple[int, ...]:
    """What the view along y shows: at each seam slab by slab, then in each strip level by level."""
    nx, slabs = slopes.shape[0], part.shape[3]
    seams = [compared(ray(part, slopes, i - 1, 1, k, away), ray(part, slopes, i, 0, k, away))
             for i in range(nx + 1) for k in range(slabs)]
    levels = [compared(middle(part, slopes, i, k - 1, away), middle(part, slopes, i, k, away))
              for i in range(nx) for k in range(slabs + 1)]
    return (*seams, *levels)


def middle(part, slopes, column, slab, away) -> Ray:
    """As ``ray``, in the middle of the column: leaning faces are met half-way."""
    if not 0 <= slab < part.shape[3]:
        return ()
    stack = [entry for j in range(slopes.shape[1]) for entry in
             ((part[column, j, 0, slab], float(j), 0), (part[column, j, 1, slab], j + 0.5, slopes[column, j]))]
    stack.append((False, float(slopes.shape[1]), 0))
    if away < 0:
        stack = [(stack[k][0], -stack[k + 1][1], stack[k + 1][2]) for k in range(len(stack) - 2, -1, -1)] + [(False, 0.0, 0)]
    return crossings(stack)


def view(part, slopes, name) -> tuple[int, ...]:
    """What a view shows of a part."""
    if name in ("front", "rear"):
        return across(part, slopes, 1 if name == "front" else -1)
    if name in ("left", "right"):
        return across(*transposed(part, slopes), 1 if name == "left" else -1)
    return plan(part, slopes, from_top=name == "top")


def sectors(slopes, x, y) -> list[tuple[int, int, int]]:
    """Round a corner of the squares: the halves (i, j, half) that reach it, going round; (-1, 0, 0) is the air."""
    found = []
    for i, j, order in ((x, y, ("se", "nw")), (x - 1, y, ("ne", "sw")), (x - 1, y - 1, ("nw", "se")), (x, y - 1, ("sw", "ne"))):
        if not (0 <= i < slopes.shape[0] and 0 <= j < slopes.shape[1]):
            found.append((-1, 0, 0))
            continue
        halves = {"se": 0, "nw": 1} if slopes[i, j] > 0 else {"sw": 0, "ne": 1}
        through = (i == x) == (j == y)                # the diagonal / runs through the corner from these squares
        if through == (slopes[i, j] > 0):
            found += [(i, j, halves[name]) for name in order]
        else:
            corner = {(True, True): "sw", (False, True): "se", (False, False): "ne", (True, False): "nw"}[(i == x, j == y)]
            found.append((i, j, halves[corner]))
    return found


def plan(part, slopes, *, from_top) -> tuple[int, ...]:
    """What the view along z shows on each side and diagonal of the squares."""
    nx, ny = slopes.shape

    def column(i, j, half) -> Ray:
        if not (0 <= i < nx and 0 <= j < ny):
            return ()
        cells = part[i, j, half][::-1] if from_top else part[i, j, half]
        return crossings([*((bool(cell), k, 0) for k, cell in enumerate(cells)), (False, len(cells), 0)])

    east = [[0 if s > 0 else 1 for s in row] for row in slopes]            # the half at a square's right side
    found = []
    for i in range(nx + 1):
        for j in range(ny):
            left = column(i - 1, j, east[i - 1][j]) if i else ()
            found.append(compared(left, column(i, j, 1 - east[i][j]) if i < nx else ()))
    for j in range(ny + 1):
        for i in range(nx):
            found.append(compared(column(i, j - 1, 1), column(i, j, 0)))
    found += [compared(column(i, j, 0), column(i, j, 1)) for i in range(nx) for j in range(ny)]
    return tuple(found)


def connected(nodes, links) -> bool:
    """True if the ``nodes`` hang together by ``links``."""
    todo = set(nodes)
    if not todo:
        return True
    reached = [todo.pop()]
    while reached:
        one = reached.pop()
        for other in [b if a == one else a for a, b in links if one in (a, b)]:
            if other in todo:
                todo.remove(other)
                reached.append(other)
    return not todo


def is_a_part(part, slopes) -> bool:
    """In one piece that does not touch itself in an edge or a corner."""
    nx, ny, _, slabs = part.shape
    cells = [tuple(cell) for cell in np.argwhere(part).tolist()]
    links = []
    for i, j, half, k in cells:
        links.append(((i, j, half, k), (i, j, half, k + 1)))
        links.append(((i, j, 0, k), (i, j, 1, k)))
        east = 0 if slopes[i, j] > 0 else 1
        if i + 1 < nx:
            links.append(((i, j, east, k), (i + 1, j, 1 if slopes[i + 1, j] > 0 else 0, k)))
        if j + 1 < ny:
            links.append(((i, j, 1, k), (i, j + 1, 0, k)))
    if not cells or not connected(cells, links):
        return False
    for one, other in {(a[:3], b[:3]) for a, b in links if a[3] == b[3]}:
        a, b = part[one], part[other]
        if ((a[:-1] & ~a[1:] & ~b[:-1] & b[1:]) | (~a[:-1] & a[1:] & b[:-1] & ~b[1:])).any():
            return False
    for x in range(nx + 1):
        for y in range(ny + 1):
            ring = sectors(slopes, x, y)
            filled = np.array([part[s] if s[0] >= 0 else np.zeros(slabs, dtype=bool) for s in ring])
            n = len(ring)
            for low in range(-1, slabs):
                both = [(s, k) for k in (low, low + 1) if 0 <= k < slabs for s in range(n) if filled[s, k]]
                round_it = [((s, k), ((s + 1) % n, k)) for s in range(n) for k in (low, low + 1)]
                up = [((s, low), (s, low + 1)) for s in range(n)]
                if not connected(both, round_it + up):
                    return False
                for k in (low, low + 1):
                    if not connected([node for node in both if node[1] == k], round_it):
                        return False
    return True


def solid_of(part, slopes, unit=10.0, plane="top"):
    """The part as a solid of the program, square by square of ``unit`` mm, its squares in the view ``plane``."""
    features = []
    for i, j, half, k in np.argwhere(part).tolist():
        corners = {"sw": (i, j), "se": (i + 1, j), "ne": (i + 1, j + 1), "nw": (i, j + 1)}
        names = (("sw", "se", "ne"), ("sw", "ne", "nw")) if slopes[i, j] > 0 else (("sw", "se", "nw"), ("se", "ne", "nw"))
        points = [(unit * corners[name][0], unit * corners[name][1]) for name in names[half]]
        features.append(Profile(f"half{len(features)}", False, plane, points[0],
                                tuple(Piece(point) for point in (*points[1:], points[0])), (unit * k, unit * (k + 1))))
    return build(features)
