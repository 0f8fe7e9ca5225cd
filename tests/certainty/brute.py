"""All parts of a small grid, and what their views show, by rules written apart from the program's: edge by edge.

A part is an array (nx, ny, nz) of bool; many are (n, nx, ny, nz).
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Parts = NDArray[np.bool_]

TOWARD = {"front": (1, -1), "rear": (1, 1), "right": (0, 1), "left": (0, -1), "top": (2, 1), "bottom": (2, -1)}
"""View: the axis along which it looks, and on which side of the part the reader stands."""


def all_fillings(shape: tuple[int, int, int]) -> Parts:
    """Every way to fill the cells, in the order of binary numbers."""
    count = int(np.prod(shape))
    return ((np.arange(2**count)[:, None] >> np.arange(count)) & 1).astype(bool).reshape(-1, *shape)


def fillings_without_touching_edges(shape: tuple[int, int, int]) -> Parts:
    """Those of all fillings in which no two filled cells share an edge only: a seventh of 262,144, and all parts among them."""
    parts = all_fillings(shape)
    fine = np.ones(len(parts), dtype=bool)
    for axis in (1, 2, 3):
        side = np.moveaxis(parts, axis, 1)
        a, b, c, d = (side[:, :, i:side.shape[2] - 1 + i, j:side.shape[3] - 1 + j] for i in (0, 1) for j in (0, 1))
        fine &= ~((a & d & ~b & ~c) | (b & c & ~a & ~d)).any(axis=(1, 2, 3))
    return parts[fine]


def in_one_piece(part: Parts) -> bool:
    """One part, walked through from side to side."""
    todo = {tuple(cell) for cell in np.argwhere(part).tolist()}
    if not todo:
        return False
    edge = [todo.pop()]
    while edge:
        at = edge.pop()
        for axis in range(3):
            for step in (-1, 1):
                beside = tuple(c + step * (a == axis) for a, c in enumerate(at))
                if beside in todo:
                    todo.remove(beside)
                    edge.append(beside)
    return not todo


def touches_nothing_by_an_edge_or_corner(part: Parts) -> bool:
    """No two filled cells that share an edge or a corner only, without filled cells between them round that edge or corner."""
    cells = np.argwhere(part)
    for one in cells:
        for other in cells:
            apart = np.abs(one - other)
            if apart.max() != 1 or apart.sum() == 1:
                continue
            low, high = np.minimum(one, other), np.maximum(one, other) + 1
            if part[low[0]:high[0], low[1]:high[1], low[2]:high[2]].sum() == 2:
                return False
    return True


def is_a_part(part: Parts) -> bool:
    """In one piece that does not touch itself."""
    return in_one_piece(part) and touches_nothing_by_an_edge_or_corner(part)


def lines_of_parts(parts: Parts, view: str) -> NDArray[np.int8]:
    """What a view shows of each part (n, …) on each piece of its grid (n, pieces): 0 nothing, 1 a visible line, 2 a hidden one.

    An edge of the part runs where one or three of the four cells round it are filled, or two across from each other. It is seen
    if the way from the reader to it is free on at least one side of it.
    """
    return np.concatenate([some.reshape(len(parts), -1) for some in lines_in_rows(parts, view)], axis=1)


def lines_in_rows(parts: Parts, view: str) -> tuple[NDArray[np.int8], NDArray[np.int8]]:
    """The same in rows (n, levels, pieces) of pieces that follow one another, for the view's first axis and for its second."""
    axis, side = TOWARD[view]
    away = np.moveaxis(parts, axis + 1, 1)
    if side > 0:
        away = away[:, ::-1]
    padded = np.pad(away, ((0, 0), (1, 1), (1, 1), (1, 1)))
    found = []
    for turn in (2, 3):
        cells = padded if turn == 2 else np.swapaxes(padded, 2, 3)
        cells = cells[..., 1:-1]                                         # pieces at each level across, within the grid along
        a, b = cells[:, :, :-1], cells[:, :, 1:]
        count = a[:, :-1].astype(int) + b[:, :-1] + a[:, 1:] + b[:, 1:]
        edge = (count % 2 == 1) | ((count == 2) & (a[:, :-1] == b[:, 1:]) & (b[:, :-1] == a[:, 1:]))
        free = ~(np.logical_or.accumulate(a, axis=1) & np.logical_or.accumulate(b, axis=1))[:, :-1]
        seen, there = (edge & free).any(axis=1), edge.any(axis=1)
        found.append(np.where(seen, 1, np.where(there, 2, 0)).astype(np.int8))
    return found[0], found[1]


def strokes(rows: NDArray[np.int8], given: NDArray[np.int8]) -> NDArray[np.int64]:
    """How many strokes (n,) complete rows (levels, pieces) that are ``given`` to those of parts (n, levels, pieces)."""
    count = np.zeros(len(rows), dtype=np.int64)
    for kind in (1, 2):
        added = np.pad((rows == kind) & (given == 0), ((0, 0), (0, 0), (1, 0)))
        count += (added[..., 1:] & ~added[..., :-1]).sum(axis=(1, 2))
    return count
