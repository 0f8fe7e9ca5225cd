"""What hints have in common: how they call views, and the sentences about where a part's outlines show."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np
import shapely

from sheetgen.bank.features import Block
from sheetgen.exercises.drawing import Drawing
from sheetgen.exercises.hints.landmarks import ViewAxes
from sheetgen.exercises.hints.lists import listed
from sheetgen.exercises.nouns import FACES, HOLES
from sheetgen.exercises.pieces import Piece, own
from sheetgen.exercises.surfaces import limits
from sheetgen.problem import Problem
from sheetgen.sheet import Settings
from sheetgen.sight import PlacedView

MOST_SHAPES = 3
"""Pieces of which one view's outline is told."""

WHOLE_BOX = 0.98
"""Of a view's box: where the pieces that are added fill more of it, nothing is to be seen of how they stand together."""


def axis_of(placed: PlacedView) -> int:
    """Along which axis of the part, 0, 1 or 2, a view looks."""
    return 3 - sum(ViewAxes.of(placed).axes)


def view_words(placed: PlacedView, settings: Settings) -> str:
    """A view within a sentence: the front view."""
    alone = placed.view.name in ("left", "right") and settings.side != "both"
    return settings.wording.render("short.side" if alone else f"short.{placed.view.name}")


def along_words(axis: int, settings: Settings) -> str:
    """All the views along an axis of the part within a sentence: the side views."""
    side = "short.sides" if settings.side == "both" else "short.side"
    return settings.wording.render((side, "short.front", "short.top")[axis])


def several(count: int) -> str:
    """As the wording's texts are told it."""
    return "yes" if count > 1 else "no"


def one_a_side(drawing: Drawing) -> list[PlacedView]:
    """The views, but for the side view from the right beside the other."""
    names = [placed.view.name for placed in drawing.views]
    return [placed for placed in drawing.views if placed.view.name != "right" or "left" not in names]


def standing(problem: Problem, settings: Settings, drawing: Drawing, pieces: Sequence[Piece]) -> Iterator[str]:
    """In which views it shows how the pieces that are added stand together."""
    added = [piece for piece in pieces if not piece.cut and piece.known and piece.noun != "round_end"]
    if not 2 <= len(added) <= MOST_SHAPES:
        return
    shown = []
    for placed in one_a_side(drawing):
        flat = list(ViewAxes.of(placed).axes)
        boxes = [shapely.box(*low[flat], *high[flat]) for low, high in (limits(problem.solid, own(problem.solid, each))
                                                                         for each in added)]
        if float(shapely.union_all(boxes).area) < WHOLE_BOX * float(np.prod(problem.solid.size[flat])):
            shown.append(along_words(axis_of(placed), settings))
    if shown:
        many = several(len(shown) + (settings.side == "both" and shown[0] == along_words(0, settings)))
        what = [piece.called(settings.wording) for piece in added]
        yield settings.wording.render("hints.standing", view=listed(shown, settings.wording), several=many,
                                      what=listed(what, settings.wording))


def shapes(settings: Settings, drawing: Drawing, pieces: Sequence[Piece]) -> Iterator[str]:
    """In which view the outlines of pieces show; views that show those of the same together."""
    found = dict[str, list[str]]()
    for placed in one_a_side(drawing):
        mine = [piece for piece in pieces if piece.known and piece.noun not in (*FACES, *HOLES) and _shows(piece, placed)]
        named = _named(mine, pieces, settings)[:MOST_SHAPES]
        if named:
            found.setdefault(listed(named, settings.wording), []).append(view_words(placed, settings))
    for what, views in found.items():
        yield settings.wording.render("hints.outline", view=listed(views, settings.wording), what=what,
                                      several=several(len(views)))


def _shows(piece: Piece, placed: PlacedView) -> bool:
    """Whether a view shows the outline of a piece: it looks along it, or into a corner that is cut out."""
    if piece.noun != "corner_recess":
        return piece.axis == axis_of(placed)
    feature, name = piece.feature, placed.view.name
    assert isinstance(feature, Block)
    opens = {"front": feature.y[0], "left": feature.x[0], "right": feature.x[1], "top": feature.z[1]}
    return opens[name] is None


def _named(mine: Sequence[Piece], pieces: Sequence[Piece], settings: Settings) -> list[str]:
    """Some of the pieces in a row; all of one noun together."""
    say, names = settings.wording.render, dict[str, None]()
    for piece in mine:
        alike = [each for each in pieces if each.noun == piece.noun]
        together = len(alike) > 1 and all(any(each is one for one in mine) for each in alike)
        name = (say("pieces.the", what=say(f"pieces.{piece.noun}", form="several")) if together
                else piece.called(settings.wording, several=piece.count > 1))
        names.setdefault(name)
    return list(names)
