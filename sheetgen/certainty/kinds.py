"""The kinds of exercise whose answer rests on given views, and which views each gives."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from sheetgen.certainty.given import views_given
from sheetgen.certainty.missing import lines_missing
from sheetgen.certainty.record import Certainty
from sheetgen.certainty.strokes import LeftOut
from sheetgen.projection import LineKind
from sheetgen.solid import Solid

SIDES = ("right", "left")
KINDS = ("third-view", "pictorial", "missing-lines")


def certainty(
    solid: Solid, kind: str, missing: str | None = None, limit: int = 50, side: str | None = None,
    left_out: Iterable[tuple[str, str, int]] = (), symmetry: Sequence[str] = (),
) -> Certainty:
    """Whether one answer fits what an exercise of that ``kind`` gives: ``third-view``, ``pictorial`` or ``missing-lines``.

    Of front, top and one side view, ``third-view`` asks the one that is ``missing``, the side view if none is named;
    ``pictorial`` gives all three, and its answers are solids, whichever way a pictorial shows them; ``missing-lines`` gives them
    without the lines ``left_out``, each its view, kind, and number among ``lines_of`` these; of a part whose inclined and round
    faces run along one axis, of the two views across it alone. ``side``: right or left;
    ``symmetry``: the axes (x, y) to whose mid-planes the part is symmetric, if the reader is told so.
    Raises: RefusedError for a part of which nothing can be proved; ValueError for another kind, view or line.

    >>> from sheetgen.bank.features import Block
    >>> from sheetgen.solid import build
    >>> step = build([Block("base", False, (0, 60), (0, 40), (0, 30)), Block("cut", True, (20, None), (None, None), (10, None))])
    >>> certainty(step, "third-view", missing="right").certain
    True
    """
    if kind not in KINDS:
        raise ValueError(f"no kind called {kind!r} rests on given views; there are {', '.join(KINDS)}")
    if kind == "third-view":
        if missing in SIDES and side not in (None, missing):
            raise ValueError(f"the side view is from the {side}, but the view {missing} is missing")
        views = ("front", "top", missing if missing in SIDES else _side(side))
        asked = missing or views[-1]
        if asked not in views:
            raise ValueError(f"the view {asked!r} cannot be missing; front, top, right and left can")
        return views_given(solid, tuple(view for view in views if view != asked), asked, limit, symmetry)
    if missing is not None:
        raise ValueError(f"the view {missing} is missing, but the kind {kind} gives three views")
    views = ("front", "top", _side(side))
    if kind == "pictorial":
        return views_given(solid, views, None, limit, symmetry)
    lines = [LeftOut(view, LineKind(line), number) for view, line, number in left_out]
    return lines_missing(solid, views, lines, limit, symmetry)


def _side(side: str | None) -> str:
    if side not in (None, *SIDES):
        raise ValueError(f"no side view {side!r}; there are right and left")
    return side or SIDES[0]
