"""How each view looks at the part: which way is right, which is up, where the reader is.

Views' own axes as in the part frame of ``bank/features.py``: front (x, z); top (x, y); right (y, z); left (D - y, z);
rear (W - x, z); bottom (x, D - y). The isometric drawing keeps lengths along the axes: u = (x + y) cos 30,
v = (y - x) / 2 + z when the front and the right side face the reader (ISO 5456-3:1996 clause 5.1, from memory). The oblique
drawings keep the front view as it is and let depths recede at 45 degrees, at full length in the cavalier, at half in the cabinet
(ISO 5456-3:1996 clause 5, from memory): u = x + k y cos 45, v = z + k y sin 45 where the right side shows.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from sheetgen.geometry import Array
from sheetgen.geometry.vectors import COS30, cross
from sheetgen.units import EDGE_ON

PRINCIPAL = {
    "front": ((1, 0, 0), (0, 0, 1)),
    "rear": ((-1, 0, 0), (0, 0, 1)),
    "right": ((0, 1, 0), (0, 0, 1)),
    "left": ((0, -1, 0), (0, 0, 1)),
    "top": ((1, 0, 0), (0, 1, 0)),
    "bottom": ((1, 0, 0), (0, -1, 0)),
}

CORNERS = {
    # the two upright faces turned to the reader, named from the reader's left to right
    "front-right": (1, -1),
    "left-front": (-1, -1),
    "right-rear": (1, 1),
    "rear-left": (-1, 1),
}
"""Upper corners of the pictorial that may face the reader: signs of x and y towards the reader."""

ISOMETRIC_CORNER = "front-right"

OBLIQUE = {"cavalier": 1.0, "cabinet": 0.5}
"""The oblique drawings, and what one mm of depth is drawn as."""

PICTORIALS = ("isometric", *OBLIQUE)
"""The views that show three sides of the part at once."""


@dataclass(frozen=True, eq=False)
class Frame:
    """A direction of sight. ``axes`` (2, 3): what one mm of part gives to the right and up; ``toward`` (3,): unit, to the reader.

    ``origin`` (2,): what is subtracted so that the view's numbers begin at 0 as the trade counts them.
    """

    name: str
    axes: Array
    toward: Array
    origin: Array

    @property
    def pictorial(self) -> bool:
        """Whether it shows three sides of the part at once."""
        return self.name in PICTORIALS

    @property
    def oblique(self) -> bool:
        """Whether the sight meets the paper at a slant, so that what is square to it in the part is not square on the drawing."""
        return self.name in OBLIQUE

    @cached_property
    def back(self) -> Array:
        """(2, 3): what of the part gives one mm to the right, and one up, and nothing along ``toward``."""
        if self.oblique:
            return np.asarray(np.linalg.inv(np.vstack([self.axes, self.toward]))[:, :2].T)
        return np.asarray(self.axes / np.einsum("ij,ij->i", self.axes, self.axes)[:, None])

    @property
    def shows(self) -> tuple[str, ...]:
        """The principal views whose faces show: of a principal view its own, of a pictorial the three towards the reader."""
        ways = {name: cross(np.array(right), np.array(up)) for name, (right, up) in PRINCIPAL.items()}
        return tuple(name for name, way in ways.items() if float(self.toward @ way) > EDGE_ON)

    def flat(self, points: Array) -> Array:
        """Points (n, 3) of the part as (n, 2) in the view's own axes."""
        return np.asarray(points @ self.axes.T - self.origin)

    def flat_vectors(self, vectors: Array) -> Array:
        """Vectors (n, 3) or (3,) of the part as (n, 2) or (2,) in the view."""
        return np.asarray(vectors @ self.axes.T)


def frame_of(view: str, size: Array, corner: str = ISOMETRIC_CORNER) -> Frame:
    """Return the frame of a view of a part of ``size`` (3,) mm; ``corner`` matters for pictorials only: an oblique one shows
    the front, and the side that the corner names with it.

    Raises: KeyError for a view that is none of the six principal ones and no pictorial, and for an oblique one of a corner
    without the front.

    >>> frame_of("cabinet", np.ones(3)).flat(np.array([[0.0, 40.0, 0.0]])).round(3).tolist()
    [[14.142, 14.142]]
    """
    if view == "isometric":
        return _isometric(corner)
    if view in OBLIQUE:
        return _oblique(view, corner)
    right, up = (np.array(axis, dtype=float) for axis in PRINCIPAL[view])
    # A view that counts an axis backwards starts from the far end of the part.
    origin = np.array([min(0.0, float(axis @ size)) for axis in (right, up)])
    return Frame(view, np.array((right, up)), np.array(cross(right, up)), origin)


def auxiliary_frame(home: Frame, normal: Array) -> Frame:
    """The frame of an auxiliary view of a part, square to a face that stands edge-on in the view ``home``; ``normal`` (3,): unit,
    outward, of the face. Its u runs along the face's edge, its v away from the reader of ``home``; u is to the right of whoever
    stands on the face with that reader before him."""
    away = -home.toward
    return Frame("auxiliary", np.array((cross(away, normal), away)), normal, np.zeros(2))


def _isometric(corner: str) -> Frame:
    sx, sy = CORNERS[corner]
    # Turn about z so that (sx, sy) faces the reader: the axis to the reader's right is sight x up.
    across = np.array([-sy, sx, 0.0]) * COS30
    rise = np.array([-sx, -sy, 2.0]) / 2
    toward = np.array([sx, sy, 1.0]) / math.sqrt(3)
    return Frame("isometric", np.stack([across, rise]), toward, np.zeros(2))


def _oblique(view: str, corner: str) -> Frame:
    sx = {"front-right": 1.0, "left-front": -1.0}[corner]
    depth = OBLIQUE[view] * math.sqrt(0.5)
    axes = np.array([(1.0, sx * depth, 0.0), (0.0, depth, 1.0)])
    toward = np.array([sx * depth, -1.0, depth])
    return Frame(view, axes, toward / math.hypot(*toward.tolist()), np.zeros(2))
