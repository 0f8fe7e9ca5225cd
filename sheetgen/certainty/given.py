"""Which answers fit given views: of parts with faces square to the views, and of those whose other faces run along one axis."""

from __future__ import annotations

from collections.abc import Sequence

from sheetgen.certainty.bores import bored_grid, bores_of, check_corners, check_lines
from sheetgen.certainty.grid import grid_of, is_square
from sheetgen.certainty.prisms import Prism, bored_prism, prism_axes, prism_axis, prism_of
from sheetgen.certainty.record import Certainty
from sheetgen.certainty.sights import looks_along
from sheetgen.certainty.square import certainty_of
from sheetgen.certainty.uprights import lengths_across, upright_certainty
from sheetgen.projection import view_of
from sheetgen.refusals import Reason, RefusedError, UnsuitedError
from sheetgen.solid import Solid

ASTRAY = 0.1
"""mm: how far the lengths of all lines of a view may lie from what the rule tells: five slivers, which are not drawn."""


def views_given(
    solid: Solid, given: Sequence[str], asked: str | None, limit: int, symmetry: Sequence[str] = ()
) -> Certainty:
    """Which answers fit the ``given`` views: views ``asked``, or solids if that is None; at most ``limit`` are counted.
    ``symmetry``: the axes (x, y) to whose mid-planes the part is told to be symmetric.

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
        return certainty_of(grid_of(solid), tuple(given), asked, limit, symmetry)
    found = prism_axes(solid)
    if not found or found[-1] not in axes:
        return _bored(solid, tuple(given), asked, limit, symmetry)
    axis = found[-1]
    prism = prism_of(solid, axis)
    for view in (*given, *([asked] if asked else [])):
        if looks_along(view)[0] != axis:
            check_lines_across(solid, prism, view)
    return upright_certainty(prism, tuple(given), asked, limit, symmetry)


def _bored(
    solid: Solid, given: tuple[str, ...], asked: str | None, limit: int, symmetry: Sequence[str]
) -> Certainty:
    """The same of a part with round holes, which are told: what else fits if they stay where they are."""
    bores, axes = bores_of(solid), {looks_along(view)[0] for view in given}
    common = prism_axes(solid, bores.told)
    if not bores.holes or not common:
        prism_axis(solid)
        raise UnsuitedError([Reason("its inclined and round faces stand edge-on in a view that is not given")])
    seen = (*given, *([asked] if asked else []))
    if len(common) == 3:
        check_corners(solid, bores, None)
        grid, holes = bored_grid(solid, bores)
        for view in seen:
            check_lines(view_of(solid, view), view_of(grid.solid, view), bores)
        return certainty_of(grid, given, asked, limit, symmetry, holes)
    along = [axis for axis in common if axis in axes]
    if not along:
        raise UnsuitedError([Reason("its inclined and round faces stand edge-on in a view that is not given")])
    check_corners(solid, bores, along[-1])
    prism, holes = bored_prism(solid, along[-1], bores)
    for view in seen:
        check_lines(view_of(solid, view), view_of(prism.solid, view), bores)
    return upright_certainty(prism, given, asked, limit, symmetry, holes)


def check_lines_across(solid: Solid, prism: Prism, view: str) -> None:
    """Raise RefusedError unless a view has the lines that the rule of the proof tells of: else the proof is of another part."""
    linework = view_of(solid, view).linework
    drawn = [sum(line.length for line in lines) for lines in (linework.visible, linework.hidden)]
    reckoned = lengths_across(prism, view)
    if any(abs(a - b) > ASTRAY for a, b in zip(drawn, reckoned, strict=True)):
        raise RefusedError([Reason("its lines are not those that the proof reckons with", f"in the {view} view")])
