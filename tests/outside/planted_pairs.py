"""Pairs of parts with the same two views and another third, which whoever draws views knows: step and slope, slope and hollow
round, round and square hole, cylinder and prism (common practice, no source). Each in all three ways of being laid.
"""

from __future__ import annotations

from sheetgen.bank.features import Feature, Piece, Profile

LAID = {"right": ("front", "top"), "front": ("top", "right"), "top": ("front", "right")}
"""By the view that is asked, in which the outline is drawn: the views that are given."""

Outline = tuple[tuple[float, float], tuple[Piece, ...]]


def outline(*steps) -> Outline:
    """A closed outline: (u, v), or (u, v, cu, cv, turn) for an arc about (cu, cv)."""
    pieces = [Piece(step[:2]) if len(step) == 2 else Piece(step[:2], None, step[2:4], step[4]) for step in (*steps[1:], steps[0])]
    return steps[0], tuple(pieces)


def closing(start, *steps) -> Outline:
    """The same, whose last step leads back to ``start``."""
    return start, tuple(Piece(step[:2]) if len(step) == 2 else Piece(step[:2], None, step[2:4], step[4]) for step in steps)


BLOCK = outline((0, 0), (60, 0), (60, 60), (0, 60))
ROUND = closing((50, 30), (10, 30, 30, 30, "left"), (50, 30, 30, 30, "left"))
SQUARE = outline((10, 10), (50, 10), (50, 50), (10, 50))

Body = tuple[tuple[Outline, bool, tuple[float, float]], ...]
"""Outlines, whether each is cut, and from where to where along the axis."""


def whole(shape: Outline, *more) -> Body:
    return ((shape, False, (0, 50)), *more)


PAIRS: dict[str, tuple[Body, Body]] = {
    "step and slope": (
        whole(outline((0, 0), (60, 0), (60, 60), (20, 60), (20, 40), (0, 40))),
        whole(outline((0, 0), (60, 0), (60, 60), (20, 60), (0, 40)))),
    "slope and hollow quarter round": (
        whole(outline((0, 0), (60, 0), (60, 60), (20, 60), (0, 40))),
        whole(closing((0, 0), (60, 0), (60, 60), (20, 60), (0, 40, 0, 60, "right"), (0, 0)))),
    "step and hollow quarter round": (
        whole(outline((0, 0), (60, 0), (60, 60), (20, 60), (20, 40), (0, 40))),
        whole(closing((0, 0), (60, 0), (60, 60), (20, 60), (0, 40, 0, 60, "right"), (0, 0)))),
    "round and square hole": (
        whole(BLOCK, (ROUND, True, (0, 50))), whole(BLOCK, (SQUARE, True, (0, 50)))),
    "blind round and square hole": (
        whole(BLOCK, (ROUND, True, (30, 50))), whole(BLOCK, (SQUARE, True, (30, 50)))),
    "cylinder and prism": (whole(ROUND), whole(SQUARE)),
    "round and square boss": (
        ((BLOCK, False, (0, 20)), (ROUND, False, (20, 50))), ((BLOCK, False, (0, 20)), (SQUARE, False, (20, 50)))),
    "slope and step on a plate": (
        ((BLOCK, False, (0, 20)), (outline((10, 10), (50, 10), (50, 50), (30, 50), (10, 30)), False, (20, 50))),
        ((BLOCK, False, (0, 20)), (outline((10, 10), (50, 10), (50, 50), (30, 50), (30, 30), (10, 30)), False, (20, 50)))),
}


def features(body: Body, asked: str) -> tuple[Feature, ...]:
    """A body laid so that its outlines show in the view ``asked``."""
    return tuple(Profile(f"shape{k}", cut, asked, start, pieces, along)      # type: ignore[arg-type]
                 for k, ((start, pieces), cut, along) in enumerate(body))
