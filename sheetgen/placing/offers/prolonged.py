"""Centre lines drawn on as extension lines: over the part, to past a line that bounds a face, or where the part ends.

Centre lines may be used as extension lines (SP 46 and ISO 129-1, from memory): a chain line over a face is read as what it is,
where a continuous one reads as an edge.
"""

from __future__ import annotations

import numpy as np

from sheetgen.geometry import Array
from sheetgen.geometry.segments import segments_of
from sheetgen.projection.centre import OVERSHOOT
from sheetgen.sight import PlacedView
from sheetgen.units import LINE_TOUCH

LEAST = 2.1              # mm: a nearer bounding line is passed by the centre line as it is, or all but; no whole number
BESIDE = 2.1             # mm: beside a line of the part nearer than this no centre line is drawn on
STRIDE = 1.1             # mm between points at which it is asked whether the part is there
ENDS = 2
"""Places at which a centre line may end: past the line that bounds its face, and past the last before the part ends."""


def prolonged(view: PlacedView, starts: Array, ways: Array) -> Array:
    """mm (n, ENDS) that centre lines which end at ``starts`` (n, 2) can be drawn on along ``ways`` (n, 2), unit, the least first;
    0 if not at all."""
    lines = segments_of(view.coarse("visible"))
    (x, y), (across, up) = starts.T[:, :, None], ways.T[:, :, None]
    ends = [(ax - x, ay - y) for ax, ay in (lines.T[:2], lines.T[2:])]
    (off_a, along_a), (off_b, along_b) = ((across * v - up * u, across * u + up * v) for u, v in ends)
    slanted = np.abs(off_a - off_b) > LINE_TOUCH
    meets = slanted & (np.minimum(off_a, off_b) <= LINE_TOUCH) & (np.maximum(off_a, off_b) >= -LINE_TOUCH)
    at = along_a + off_a / np.where(slanted, off_a - off_b, np.inf) * (along_b - along_a)
    met = meets & (at > 0.0)
    near = (np.maximum(np.abs(off_a), np.abs(off_b)) < BESIDE) & (np.maximum(along_a, along_b) > 0.0)
    clear = np.where(near, np.minimum(along_a, along_b), np.inf).min(axis=1, initial=np.inf)
    most = np.minimum(clear, _covered(view, starts, ways, np.where(met, at, 0.0).max(axis=1, initial=0.0)))
    within = met & (at <= most[:, None] + LINE_TOUCH)
    first = np.where(met, at, np.inf).min(axis=1, initial=np.inf)
    last = np.where(within, at, 0.0).max(axis=1, initial=0.0)
    usable = (first > LEAST) & (first <= most + LINE_TOUCH)
    return np.where(usable[:, None], np.stack([first, last], axis=1) + OVERSHOOT, 0.0)


def _covered(view: PlacedView, starts: Array, ways: Array, most: Array) -> Array:
    """mm (n,) from ``starts`` along ``ways`` to where the part ends, all of ``most`` (n,) if it does not end before that."""
    count = max(1, int(np.ceil(most.max(initial=0.0) / STRIDE)))
    steps = (np.arange(count) + 0.5) * STRIDE
    over = view.shadow.over(starts[:, None] + steps[:, None] * ways[:, None])
    bare = ~over & (steps < most[:, None])
    return np.where(bare.any(axis=1), np.maximum(steps[bare.argmax(axis=1)] - STRIDE / 2, 0.0), most)
