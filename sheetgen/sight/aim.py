"""Where an arrow of sight stands beside a pictorial. Sheet millimetres."""

from __future__ import annotations

import numpy as np

from sheetgen.geometry import Array
from sheetgen.sight.placed import PlacedView


def heights_before(view: PlacedView, points: Array, along: Array) -> Array:
    """How high over the foot of the part ``points`` (n, 2) stand if they are thought to lie in the plane of that face of its box
    from which ``along`` (2,), an axis of the part as drawn, leads into the box: mm on paper, upwards.

    What stands lower is seen to be before that face, whatever the part's shape; what stands higher seems to be beside it.
    """
    ways = np.array([view.unit(k) for k in range(3)])
    axis = int(np.argmax(np.abs(ways @ along)))
    face = np.where(np.arange(3) == axis, float(ways[axis] @ along < 0.0), 0.0) * view.view.solid.size
    aside = ways[1 - axis]
    away = points - view.paper(face[None])
    # Of the point's way from the face's foot, what is left if it goes along the foot first.
    return np.asarray((away @ (-aside[1], aside[0])) / (-ways[2, 0] * aside[1] + ways[2, 1] * aside[0]))
