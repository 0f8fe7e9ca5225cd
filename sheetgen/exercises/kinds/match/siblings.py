"""Parts that are nearly the one asked about: its mirror image, one feature on the other side, left out, or blind for through."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np

from sheetgen.bank.features import Block, Feature, Hole
from sheetgen.bank.mirror import mirrored
from sheetgen.exercises.kinds.match.flipping import flipped
from sheetgen.exercises.pieces import pieces_of
from sheetgen.geometry import Array
from sheetgen.measures import MeasureError, check_symmetry
from sheetgen.problem import Problem
from sheetgen.projection import CORNERS, view_of
from sheetgen.sight import Sight, Sights
from sheetgen.sight.walls import is_sound
from sheetgen.solid import Solid, SolidError, build
from sheetgen.units import SAME_POINT

MIRRORED, MOVED, DROPPED, BLIND, THROUGH = "mirrored", "moved", "dropped", "blind", "through"
"""Sorts of siblings, as the wording calls them."""

PART_OF_WAY = 0.5
"""How far what ran right through goes, of the whole way."""


@dataclass(frozen=True, eq=False)
class Sibling:
    """A part of a ``sort``. ``feature``: the name of the one that is another, empty if the whole part is mirrored; ``axis``: 0, 1
    or 2, along which that or the part is turned over; ``noted``: the feature is a hole, of which notes tell; ``claimed``: the
    symmetries that are marked on the part itself."""

    sort: str
    solid: Solid
    feature: str
    axis: int | None
    noted: bool
    claimed: tuple[str, ...]

    @cached_property
    def sights(self) -> Sights:
        """From all sides; with those of the symmetries that it has too."""
        return Sights(self.solid, tuple(letter for letter in self.claimed if _symmetrical(self.solid, "xyz".index(letter))))

    @cached_property
    def is_sound(self) -> bool:
        """Whether it could be made and drawn: of a part with walls of no thickness two lines of a view are one."""
        return is_sound(self.solid)

    def looks(self, like: Sight) -> Sight:
        """Its pictorial from where the reader stands in another."""
        across, deep = np.sign(like.view.frame.toward[:2]).tolist()
        corner = next(name for name, signs in CORNERS.items() if signs == (across, deep))
        return Sight(view_of(self.solid, "isometric", corner))


@dataclass(frozen=True, eq=False)
class _Change:
    """What makes a sibling: its ``features``, and the rest as there."""

    sort: str
    features: list[Feature]
    feature: str = ""
    axis: int | None = None
    noted: bool = False


def siblings(problem: Problem) -> Iterator[Sibling]:
    """All siblings of a part that are one piece in a box of its own size, if what is another has a name; not all are sound."""
    features, named = [feature for _, feature in problem.features], {piece.feature.name for piece in pieces_of(problem)}
    for change in _changed(features, problem.solid.size):
        if change.feature and change.feature not in named:
            continue
        try:
            solid = build(change.features)
        except SolidError:
            continue
        if np.abs(solid.size - problem.solid.size).max() < SAME_POINT:
            yield Sibling(change.sort, solid, change.feature, change.axis, change.noted, problem.symmetry)


def _changed(features: Sequence[Feature], size: Array) -> Iterator[_Change]:
    """What makes each sibling."""
    yield _Change(MIRRORED, [mirrored(feature) for feature in features], axis=0)
    for axis in (1, 2):
        whole = [flipped(feature, axis, size) for feature in features]
        if all(whole):
            yield _Change(MIRRORED, [feature for feature in whole if feature], axis=axis)
    for k, feature in enumerate(features[1:], 1):
        before, after, hole = [*features[:k]], [*features[k + 1:]], isinstance(feature, Hole)
        for axis in range(3):
            if other := flipped(feature, axis, size):
                yield _Change(MOVED, [*before, other, *after], feature.name, axis)
        if getattr(feature, "cut", True):
            yield _Change(DROPPED, [*before, *after], feature.name, noted=hole)
        for sort, other in _otherwise_deep(feature, size):
            yield _Change(sort, [*before, other, *after], feature.name, noted=hole)


def _otherwise_deep(feature: Feature, size: Array) -> Iterator[tuple[str, Feature]]:
    """What is cut right through, blind; a blind hole right through; each with its sort."""
    if isinstance(feature, Hole):
        axis = {"left": 0, "right": 0, "front": 1, "back": 1}.get(feature.mouth, 2)
        if feature.depth is not None:
            yield THROUGH, replace(feature, depth=None, point_angle=None)
        elif feature.counterbore is None and feature.countersink is None and feature.level is None:
            yield BLIND, replace(feature, depth=PART_OF_WAY * float(size[axis]))
    if isinstance(feature, Block) and feature.cut:
        for letter, whole in zip("xyz", size.tolist(), strict=True):
            low, high = getattr(feature, letter)
            if (low is None or low <= 0) and (high is None or high >= whole):
                for span in ((None, PART_OF_WAY * whole), (PART_OF_WAY * whole, None)):
                    yield BLIND, replace(feature, **{letter: span})         # type: ignore[arg-type]


def _symmetrical(solid: Solid, axis: int) -> bool:
    try:
        check_symmetry(solid, axis)
    except MeasureError:
        return False
    return True
