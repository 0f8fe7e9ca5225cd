"""How many threads the Boolean operations work on: one.

The library divides every operation among all processors. On the few thousand facets of an exercise that makes a sheet a tenth
sooner and costs twice the processor time, most of it waiting; and where many sheets are made, each processor has its own.
"""

from __future__ import annotations

import os
from functools import cache

import manifold3d


@cache
def single_threaded() -> None:
    """Let the operations of this process work on the thread that calls them; once a process, before the first operation.

    The library counts the processors that the calling thread may use, and does so once, at its first operation: that one is
    done here while there is but one. Where a thread cannot be held to a processor, nothing happens. Results are the same.
    """
    if not hasattr(os, "sched_setaffinity"):
        return
    allowed = os.sched_getaffinity(0)
    try:
        os.sched_setaffinity(0, {min(allowed)})
    except OSError:                                  # a sandbox may forbid it
        return
    try:
        cube = manifold3d.Manifold.cube((1.0, 1.0, 1.0))
        (cube + cube.translate((0.5, 0.5, 0.5))).status()
    finally:
        os.sched_setaffinity(0, allowed)
