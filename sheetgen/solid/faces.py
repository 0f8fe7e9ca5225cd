"""The faces of a solid: what of one surface hangs together. Part frame, millimetres."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from sheetgen.geometry import IntArray, Mask
from sheetgen.solid.solid import Solid
from sheetgen.solid.surfaces import Plane


@dataclass(frozen=True, eq=False)
class Faces:
    """``of_facet`` (m,): the face of each facet; by face: ``surface`` (f,), and ``plain`` (f,), True for one that is flat and has
    a sharp edge all round, so that lines bound it in every view that looks at it."""

    of_facet: IntArray
    surface: IntArray
    plain: Mask

    def __len__(self) -> int:
        return len(self.surface)


def faces_of(solid: Solid) -> Faces:
    """Number the faces of a solid in the order of their first facets."""
    edges = solid.edges
    face = np.arange(len(solid.triangles))
    inner = edges.facets[edges.pair[:, 0] == edges.pair[:, 1]]
    while True:                                       # each takes the least number among its neighbours, until none changes
        least = face.copy()
        np.minimum.at(least, inner[:, 0], face[inner[:, 1]])
        np.minimum.at(least, inner[:, 1], face[inner[:, 0]])
        least = least[least]
        if np.array_equal(least, face):
            break
        face = least
    first, of_facet = np.unique(face, return_inverse=True)
    surface = solid.owner[first]
    plain = np.array([isinstance(solid.surfaces[k], Plane) for k in surface.tolist()])
    smooth = of_facet[edges.facets[edges.tangent]]
    plain[smooth.ravel()] = False
    return Faces(of_facet, surface, plain)
