"""How much memory a process has taken."""

from __future__ import annotations

import sys
from pathlib import Path


def most_megabytes() -> float:
    """The most megabytes that this process has had. Linux counts those of who began it into what ``getrusage`` tells."""
    import resource

    try:
        status = Path("/proc/self/status").read_text(encoding="ascii", errors="replace")
    except FileNotFoundError:
        return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / (1e6 if sys.platform == "darwin" else 1e3)
    return next(int(line.split()[1]) for line in status.splitlines() if line.startswith("VmHWM")) / 1e3
