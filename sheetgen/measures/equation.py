"""An equation between the unknowns of a drawing."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from sheetgen.geometry import Array
from sheetgen.measures.unknowns import Placed

Valued = tuple[float, Array]
"""A value in mm (an angle times TURN_LENGTH) and its gradient (count,) over the unknowns."""

Function = Callable[[Placed], Valued]


@dataclass(frozen=True, eq=False)
class Equation:
    """``function`` is 0 at the true shape; ``linear``: its gradient is the same everywhere.

    ``measure``: index of the measure it comes from, None if shown without a number.
    """

    function: Function
    linear: bool = False
    measure: int | None = None
