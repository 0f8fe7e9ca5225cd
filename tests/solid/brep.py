"""Faces, edges and corners of a solid as a draughtsman counts them, out of its mesh.

A face is a patch of one surface; an edge runs where two faces meet, from corner to corner; a rim without corners counts as one
edge with one corner. Smooth joins bound faces too.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass

import numpy as np

from sheetgen.solid import Solid


@dataclass(frozen=True)
class Shell:
    """``edges``: of each, its mesh edges; ``loops``: how many closed rims bound each face; ``genus``: holes right through."""

    corners: int
    edges: tuple[tuple[int, ...], ...]
    loops: tuple[int, ...]
    genus: int

    @property
    def faces(self) -> int:
        return len(self.loops)

    @property
    def inner_loops(self) -> int:
        return sum(self.loops) - len(self.loops)

    @property
    def euler(self) -> int:
        """V - E + F - R."""
        return self.corners - len(self.edges) + self.faces - self.inner_loops


def shell_of(solid: Solid) -> Shell:
    """Count the faces, edges and corners of a solid."""
    face = _patches(solid)
    edges = solid.edges
    bounds = [e for e, (a, b) in enumerate(edges.facets.tolist()) if face[a] != face[b]]
    between = {e: frozenset((face[edges.facets[e, 0]], face[edges.facets[e, 1]])) for e in bounds}
    at: dict[int, list[int]] = defaultdict(list)
    for e in bounds:
        for vertex in edges.ends[e].tolist():
            at[vertex].append(e)
    corners = {v for v, mine in at.items() if len(mine) != 2 or between[mine[0]] != between[mine[1]]}
    chains = _groups(bounds, [mine for v, mine in at.items() if v not in corners])
    rims = sum(not any(v in corners for e in chain for v in edges.ends[e].tolist()) for chain in chains)
    loops = []
    for f in range(max(face) + 1):
        mine = [e for e in bounds if f in between[e]]
        joints = [[e for e in at[v] if f in between[e]] for v in {v for e in mine for v in edges.ends[e].tolist()}]
        loops.append(len(_groups(mine, joints)))
    mesh = len(solid.vertices) - len(edges.ends) + len(solid.triangles)
    return Shell(len(corners) + rims, tuple(chains), tuple(loops), (2 - mesh) // 2)


def _patches(solid: Solid) -> list[int]:
    """For each triangle the number of its face."""
    same = solid.edges.pair[:, 0] == solid.edges.pair[:, 1]
    patches = _groups(range(len(solid.triangles)), solid.edges.facets[same].tolist())
    number = np.empty(len(solid.triangles), dtype=int)
    for k, patch in enumerate(patches):
        number[list(patch)] = k
    return list(map(int, number))


def _groups(items, joints) -> list[tuple[int, ...]]:
    """Items joined to groups; each joint is a list of items that hang together."""
    root = {item: item for item in items}

    def find(item: int) -> int:
        while root[item] != item:
            root[item] = root[root[item]]
            item = root[item]
        return item

    for first, *others in (joint for joint in joints if joint):
        for other in others:
            root[find(other)] = find(first)
    found: dict[int, list[int]] = defaultdict(list)
    for item in root:
        found[find(item)].append(item)
    return sorted(map(tuple, found.values()))
