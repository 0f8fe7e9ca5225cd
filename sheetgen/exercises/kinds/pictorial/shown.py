"""Which pictorial is asked for: one that can be read, from the side that the side view shows if there is one."""

from __future__ import annotations

from sheetgen.problem import Problem
from sheetgen.projection import OBLIQUE, view_of
from sheetgen.refusals import RefusedError
from sheetgen.sheet import Settings
from sheetgen.sight import Pictorial, Sight

CORNERS = ("front-right", "left-front")
"""From which a pictorial shows the front, the usual one first."""


def sight_asked(problem: Problem, settings: Settings, side: str) -> Sight:
    """The pictorial that the settings ask for of a part; of two that can be read, that which shows the ``side``.

    Raises: RefusedError if none can be read.
    """
    readable = _obliques(problem, settings.drawn) if settings.drawn in OBLIQUE else list(problem.pictorials())
    return min(readable, key=lambda sight: side not in sight.view.frame.shows)


def flank_of(sight: Sight) -> str:
    """The side that a pictorial shows: left or right."""
    return "left" if "left" in sight.view.frame.shows else "right"


def _obliques(problem: Problem, name: str) -> list[Sight]:
    """The oblique pictorials of a part that can be read, best first."""
    found = [Pictorial(Sight(view_of(problem.solid, name, corner))) for corner in CORNERS]
    readable = [pictorial for pictorial in found if not pictorial.faults]
    if not readable:
        raise RefusedError([found[0].faults[0], found[1].faults[0]])
    return [pictorial.sight for pictorial in sorted(readable, key=lambda pictorial: pictorial.meetings)]
