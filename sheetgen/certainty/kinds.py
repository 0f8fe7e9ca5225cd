"""The kinds of exercise whose answer rests on given views, and which views each gives."""

from __future__ import annotations

from sheetgen.certainty.record import Certainty
from sheetgen.certainty.square import views_given
from sheetgen.solid import Solid

SIDES = ("right", "left")


def certainty(solid: Solid, kind: str, missing: str | None = None, limit: int = 50, side: str | None = None) -> Certainty:
    """Whether one answer fits what an exercise of that ``kind`` gives: ``third-view`` or ``pictorial``.

    Of front, top and one side view, ``third-view`` asks the one that is ``missing``, the side view if none is named;
    ``pictorial`` gives all three, and its answers are solids, whichever way a pictorial shows them. ``side``: right or left.
    Raises: RefusedError for a part of which nothing can be proved; ValueError for another kind or view.

    >>> from sheetgen.bank.features import Block
    >>> from sheetgen.solid import build
    >>> step = build([Block("base", False, (0, 60), (0, 40), (0, 30)), Block("cut", True, (20, None), (None, None), (10, None))])
    >>> certainty(step, "third-view", missing="right").certain
    True
    """
    if kind == "pictorial":
        if missing is not None:
            raise ValueError(f"the view {missing} is missing, but a pictorial is asked from all three views")
        return views_given(solid, ("front", "top", _side(side)), None, limit)
    if kind != "third-view":
        raise ValueError(f"no kind called {kind!r} rests on given views; there are third-view and pictorial")
    if missing in SIDES and side not in (None, missing):
        raise ValueError(f"the side view is from the {side}, but the view {missing} is missing")
    views = ("front", "top", missing if missing in SIDES else _side(side))
    asked = missing or views[-1]
    if asked not in views:
        raise ValueError(f"the view {asked!r} cannot be missing; front, top, right and left can")
    return views_given(solid, tuple(view for view in views if view != asked), asked, limit)


def _side(side: str | None) -> str:
    if side not in (None, *SIDES):
        raise ValueError(f"no side view {side!r}; there are right and left")
    return side or SIDES[0]
