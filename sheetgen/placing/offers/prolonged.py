"""Centre lines drawn on as extension lines: over the face in which an axis is seen, to past the line that bounds it.

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
SAMPLES = 12             # points at which it is asked whether the part is there


def prolonged(view: PlacedView, starts: Array, ways: Array) -> Array:
    """mm (n,) that centre lines which end at ``starts`` (n, 2) can be drawn on along ``ways`` (n, 2), unit; 0 if not at all."""
    lines = segments_of(view.coarse("visible"))
    (x, y), (across, up) = starts.T[:, :, None], ways.T[:, :, None]
    ends = [(ax - x, ay - y) for ax, ay in (lines.T[:2], lines.T[2:])]
    (off_a, along_a), (off_b, along_b) = ((across * v - up * u, across * u + up * v) for u, v in ends)
    slanted = np.abs(off_a - off_b) > LINE_TOUCH
    meets = slanted & (np.minimum(off_a, off_b) <= LINE_TOUCH) & (np.maximum(off_a, off_b) >= -LINE_TOUCH)
    at = along_a + off_a / np.where(slanted, off_a - off_b, np.inf) * (along_b - along_a)
    first = np.where(meets & (at > 0.0), at, np.inf).min(axis=1)
    near = (np.maximum(np.abs(off_a), np.abs(off_b)) < BESIDE) & (np.maximum(along_a, along_b) > 0.0)
    beside = (near & (np.minimum(along_a, along_b) < first[:, None])).any(axis=1)
    usable = np.isfinite(first) & (first > LEAST) & ~beside
    run = np.where(usable, first, 0.0)
    share = (np.arange(SAMPLES) + 0.5) / SAMPLES
    over = view.shadow.over(starts[:, None] + (run[:, None] * share)[:, :, None] * ways[:, None]).all(axis=1)
    return np.where(usable & over, first + OVERSHOOT, 0.0)
