"""Linework of the golden solids, worked by hand: (u1, v1, u2, v2) in view millimetres, as the lists of a marking scheme.

Worked from the shapes in ``bodies.GOLDEN`` alone (projection by the rules of orthographic views; no outside source).
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Segment = tuple[float, float, float, float]
Line = NDArray[np.float64]


def rectangle(width: float, height: float) -> tuple[Segment, ...]:
    return ((0, 0, width, 0), (width, 0, width, height), (0, height, width, height), (0, 0, 0, height))


def turned(segments: tuple[Segment, ...], width: float) -> tuple[Segment, ...]:
    """The same lines looked at from the other side of a part ``width`` wide."""
    return tuple((width - a, b, width - c, d) for a, b, c, d in segments)


def lines(segments: tuple[Segment, ...]) -> list[Line]:
    return [np.array([[a, b], [c, d]], dtype=float) for a, b, c, d in segments]


S2_END = ((0, 0, 14, 0), (26, 0, 40, 0), (14, 0, 14, 10), (26, 0, 26, 10), (14, 10, 26, 10), (0, 0, 0, 40), (40, 0, 40, 40),
          (0, 40, 40, 40))
S4_END = ((0, 0, 40, 0), (40, 0, 40, 50), (20, 50, 40, 50), (20, 20, 20, 50), (0, 20, 20, 20), (0, 0, 0, 20))
S4_HID = ((20, 10, 40, 10), (20, 10, 20, 20))

LINEWORK: dict[tuple[str, str], tuple[tuple[Segment, ...], tuple[Segment, ...]]] = {
    ("S1", "front"): (((0, 0, 60, 0), (60, 0, 60, 15), (20, 15, 60, 15), (20, 15, 20, 40), (0, 40, 20, 40), (0, 0, 0, 40)),
                      ((40, 0, 40, 15),)),
    ("S1", "top"): (((0, 0, 60, 0), (60, 0, 60, 12), (40, 12, 60, 12), (40, 12, 40, 28), (40, 28, 60, 28), (60, 28, 60, 40),
                     (0, 40, 60, 40), (0, 0, 0, 40), (20, 0, 20, 40)), ()),
    ("S1", "right"): ((*rectangle(40, 40), (0, 15, 40, 15), (12, 0, 12, 15), (28, 0, 28, 15)), ()),
    ("S1", "left"): (rectangle(40, 40), ((0, 15, 40, 15), (12, 0, 12, 15), (28, 0, 28, 15))),
    ("S2", "front"): (((0, 0, 60, 0), (60, 0, 60, 16), (60, 16, 36, 40), (20, 40, 36, 40), (20, 30, 20, 40), (8, 30, 20, 30),
                       (8, 30, 8, 40), (0, 40, 8, 40), (0, 0, 0, 40)), ((0, 10, 60, 10),)),
    ("S2", "top"): ((*rectangle(60, 40), (8, 0, 8, 40), (20, 0, 20, 40), (36, 0, 36, 40)), ((0, 14, 60, 14), (0, 26, 60, 26))),
    ("S2", "right"): ((*S2_END, (0, 16, 40, 16)), ((0, 30, 40, 30),)),
    ("S2", "left"): (S2_END, ((0, 16, 40, 16), (0, 30, 40, 30))),
    ("S4", "front"): (((0, 0, 60, 0), (0, 0, 0, 50), (60, 0, 60, 50), (0, 50, 22, 50), (38, 50, 60, 50), (0, 20, 60, 20),
                       (22, 20, 22, 50), (38, 20, 38, 50)), ((22, 10, 22, 20), (38, 10, 38, 20), (22, 10, 38, 10))),
    ("S4", "top"): (((0, 0, 60, 0), (0, 0, 0, 40), (60, 0, 60, 40), (0, 40, 60, 40), (0, 20, 60, 20), (22, 20, 22, 40),
                     (38, 20, 38, 40)), ()),
    ("S4", "right"): (S4_END, S4_HID),
    ("S4", "left"): (turned(S4_END, 40), turned(S4_HID, 40)),
    ("S5", "front"): ((*rectangle(40, 40), (20, 40, 40, 10)), ()),
    ("S5", "top"): ((*rectangle(40, 40), (20, 0, 40, 24)), ()),
    ("S5", "right"): ((*rectangle(40, 40), (0, 10, 24, 40)), ()),
    ("S5", "left"): (rectangle(40, 40), ((16, 40, 40, 10),)),
}
S3_SIDE = (rectangle(50, 30), ((15, 0, 15, 20), (35, 0, 35, 20), (10, 20, 10, 30), (40, 20, 40, 30), (10, 20, 40, 20)))
LINEWORK |= {("S3", view): S3_SIDE for view in ("front", "right", "left", "rear")}

VOLUMES = {"S1": 51_200.0, "S2": 72_480.0, "S3": 75_000.0 - 4_250.0 * np.pi, "S4": 71_200.0, "S5": 61_600.0}

# S1 in the isometric: part points of the edges; all the rest are wholly visible, and one is visible in part
S1_HIDDEN = (((0, 40, 0), (0, 40, 40)), ((0, 0, 0), (0, 40, 0)), ((40, 12, 0), (40, 12, 15)), ((40, 12, 0), (60, 12, 0)),
             ((0, 40, 0), (60, 40, 0)), ((40, 12, 0), (40, 27, 0)))
S1_VISIBLE = (((40, 27, 0), (40, 28, 0)), ((0, 0, 0), (60, 0, 0)), ((60, 0, 0), (60, 0, 15)), ((60, 0, 15), (20, 0, 15)),
              ((20, 0, 15), (20, 0, 40)), ((20, 0, 40), (0, 0, 40)), ((0, 0, 40), (0, 0, 0)), ((0, 0, 40), (0, 40, 40)),
              ((20, 0, 40), (20, 40, 40)), ((0, 40, 40), (20, 40, 40)), ((20, 40, 40), (20, 40, 15)), ((20, 0, 15), (20, 40, 15)),
              ((20, 40, 15), (60, 40, 15)), ((60, 40, 15), (60, 28, 15)), ((60, 28, 15), (40, 28, 15)),
              ((40, 28, 15), (40, 12, 15)),
              ((40, 12, 15), (60, 12, 15)), ((60, 12, 15), (60, 0, 15)), ((60, 0, 0), (60, 12, 0)), ((60, 12, 0), (60, 12, 15)),
              ((60, 28, 0), (60, 28, 15)), ((60, 28, 0), (60, 40, 0)), ((60, 40, 0), (60, 40, 15)), ((40, 28, 0), (40, 28, 15)),
              ((40, 28, 0), (60, 28, 0)))


def isometric(edges: tuple[tuple[tuple[float, float, float], tuple[float, float, float]], ...]) -> list[Line]:
    """Edges of the part in the isometric: u = (x + y) cos 30, v = (y - x) / 2 + z."""
    return [np.array([((x + y) * np.sqrt(3) / 2, (y - x) / 2 + z) for x, y, z in edge]) for edge in edges]
