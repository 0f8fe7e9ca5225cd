"""Which answers fit given views: of parts with faces square to the views, and of those whose other faces run along one axis."""

from __future__ import annotations

from collections.abc import Sequence

from sheetgen.certainty.grid import grid_of, is_square
from sheetgen.certainty.prisms import prism_axis, prism_of
from sheetgen.certainty.record import Certainty
from sheetgen.certainty.sights import looks_along
from sheetgen.certainty.square import certainty_of
from sheetgen.certainty.uprights import upright_certainty
from sheetgen.refusals import Reason, RefusedError
from sheetgen.solid import Solid


def views_given(solid: Solid, given: Sequence[str], asked: str | None, limit: int) -> Certainty:
    """Which answers fit the ``given`` views: views ``asked``, or solids if that is None; at most ``limit`` are counted.

    Raises: RefusedError for a part of which nothing can be proved; ValueError for views that do not exist or all look along one
    axis, and for a limit below 1.
    """
    axes = {looks_along(view)[0] for view in given}
    if len(axes) < 2:
        raise ValueError(f"the views {', '.join(given)} do not show all levels: two must look along different axes")
    if limit < 1:
        raise ValueError(f"a limit of {limit} answers; at least 1")
    if asked is not None:
        looks_along(asked)
    if is_square(solid):
        return certainty_of(grid_of(solid), tuple(given), asked, limit)
    axis = prism_axis(solid)
    if axis not in axes:
        raise RefusedError([Reason("its inclined and round faces stand edge-on in a view that is not given")])
    return upright_certainty(prism_of(solid, axis), tuple(given), asked, limit)
