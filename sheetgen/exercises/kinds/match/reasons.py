"""Why a wrong candidate is wrong, in a sentence that names the feature that is not as it should be."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

from sheetgen.bank.features import Hole
from sheetgen.exercises.kinds.match.bearers import bearer_of
from sheetgen.exercises.kinds.match.one import PLACES, WHOLE, Option
from sheetgen.exercises.kinds.match.siblings import MIRRORED, MOVED, Sibling
from sheetgen.exercises.pieces import Piece, own, pieces_of
from sheetgen.exercises.surfaces import limits
from sheetgen.geometry import Array
from sheetgen.problem import Problem
from sheetgen.projection import LineKind
from sheetgen.sheet import Settings
from sheetgen.solid import Solid
from sheetgen.units import SAME_POINT

WAYS = ("wide", "deep", "up")
"""Along x, y and z, as the wording's ``way`` calls them."""

TOWARD = (("left", "right"), ("front", "back"), ("down", "up"))
"""Along x, y and z, as its ``toward`` does."""

OPPOSITE = "opposite"
"""What is not moved but enters from the other side."""


def reason_of(option: Option, letter: str, problem: Problem, settings: Settings, view: str) -> str:
    """The sentence about a candidate for ``view``, the right one or a wrong one."""
    say = settings.wording.render
    return say(f"match.{option.sort}", letter=letter, **_said(option, problem, settings, view))


def _said(option: Option, problem: Problem, settings: Settings, view: str) -> Mapping[str, str]:
    say = settings.wording.render
    if option.sort == PLACES:
        return {"projection": say(f"projection.{'third' if settings.projection == 'first' else 'first'}")}
    if option.spoilt is not None:
        wrong = option.spoilt.view.view
        bearer = bearer_of(problem.view(wrong.name), option.spoilt.shapes, pieces_of(problem))
        return {"what": _called(bearer, settings) if bearer else "",
                "hidden": "yes" if option.spoilt.kind is LineKind.HIDDEN else "no",
                "several": "yes" if len(option.spoilt.shapes) > 1 else "no",
                "view": say(f"short.{wrong.name}") if view == WHOLE else ""}
    sibling = option.sibling
    if sibling is None:
        return {}
    if sibling.sort == MIRRORED:
        assert sibling.axis is not None
        return {"way": WAYS[sibling.axis]}
    piece = next(piece for piece in pieces_of(problem) if piece.feature.name == sibling.feature)
    said = {"what": _called(piece, settings)}
    return {**said, "toward": _toward(piece, sibling, problem.solid)} if sibling.sort == MOVED else said


def _called(piece: Piece, settings: Settings) -> str:
    """The left slot, the holes; a slot, if it cannot be told from others."""
    if not piece.known:
        return settings.wording.render(f"pieces.{piece.noun}", form="one")
    return piece.called(settings.wording, several=piece.count > 1)


def _toward(piece: Piece, sibling: Sibling, solid: Solid) -> str:
    """To which side a feature stands from where it should."""
    axis, feature = sibling.axis, piece.feature
    assert axis is not None
    if isinstance(feature, Hole) and {"left": 0, "right": 0, "front": 1, "back": 1}.get(feature.mouth, 2) == axis:
        return OPPOSITE
    there = tuple(k for k, names in enumerate(sibling.solid.features) if feature.name in names)
    if not there:
        return OPPOSITE
    step = _middle(sibling.solid, there, feature.name)[axis] - _middle(solid, own(solid, piece), feature.name)[axis]
    return OPPOSITE if abs(step) < SAME_POINT else TOWARD[axis][int(step > 0)]


def _middle(solid: Solid, surfaces: tuple[int, ...], name: str) -> Array:
    """The middle (3,) of the surfaces that a feature shares with no other, or of all its own."""
    alone = tuple(k for k in surfaces if solid.features[k] == (name,))
    return np.asarray(np.mean(limits(solid, alone or surfaces), axis=0))
