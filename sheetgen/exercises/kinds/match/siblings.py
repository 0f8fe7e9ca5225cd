"""Parts that are nearly the one asked about: its mirror image, one feature on the other side, left out, or blind for through."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np

from sheetgen.bank.features import Block, Feature, Hole
from sheetgen.bank.mirror import mirrored
from sheetgen.exercises.kinds.match.flipping import flipped
from sheetgen.measures import MeasureError, check_symmetry
from sheetgen.problem import Problem
from sheetgen.projection import CORNERS, view_of
from sheetgen.sight import Sight, Sights
from sheetgen.solid import Solid, SolidError, build
from sheetgen.units import SAME_POINT

MIRRORED, MOVED, DROPPED, BLIND = "mirrored", "moved", "dropped", "blind"
"""Sorts of siblings, as the wording calls them."""

PART_OF_WAY = 0.5
"""How far what ran right through goes, of the whole way."""


@dataclass(frozen=True, eq=False)
class Sibling:
    """A part of a ``sort``; ``noted``: the feature that is another is a hole, of which notes tell; ``claimed``: the symmetries
    that are marked on the part itself."""

    sort: str
    solid: Solid
    noted: bool
    claimed: tuple[str, ...]

    @cached_property
    def sights(self) -> Sights:
        """From all sides; with those of the symmetries that it has too."""
        return Sights(self.solid, tuple(letter for letter in self.claimed if _symmetrical(self.solid, "xyz".index(letter))))

    def looks(self, like: Sight) -> Sight:
        """Its pictorial from where the reader stands in another."""
        across, deep = np.sign(like.view.frame.toward[:2]).tolist()
        corner = next(name for name, signs in CORNERS.items() if signs == (across, deep))
        return Sight(view_of(self.solid, "isometric", corner))


def siblings(problem: Problem) -> Iterator[Sibling]:
    """All siblings of a part that are one sound piece in a box of its own size."""
    features = [feature for _, feature in problem.features]
    for sort, others, noted in _changed(features, problem.solid.size):
        try:
            solid = build(others)
        except SolidError:
            continue
        if np.abs(solid.size - problem.solid.size).max() < SAME_POINT:
            yield Sibling(sort, solid, noted, problem.symmetry)


def _changed(features: Sequence[Feature], size: np.ndarray) -> Iterator[tuple[str, list[Feature], bool]]:
    """The features of each sibling."""
    yield MIRRORED, [mirrored(feature) for feature in features], False
    for axis in (1, 2):
        whole = [flipped(feature, axis, size) for feature in features]
        if all(whole):
            yield MIRRORED, [feature for feature in whole if feature], False
    for k, feature in enumerate(features[1:], 1):
        before, after, hole = [*features[:k]], [*features[k + 1:]], isinstance(feature, Hole)
        for axis in range(3):
            if other := flipped(feature, axis, size):
                yield MOVED, [*before, other, *after], False
        if getattr(feature, "cut", True):
            yield DROPPED, [*before, *after], hole
        for other in _otherwise_deep(feature, size):
            yield BLIND, [*before, other, *after], hole


def _otherwise_deep(feature: Feature, size: np.ndarray) -> Iterator[Feature]:
    """What is cut right through, blind; a blind hole right through."""
    if isinstance(feature, Hole):
        axis = {"left": 0, "right": 0, "front": 1, "back": 1}.get(feature.mouth, 2)
        if feature.depth is not None:
            yield replace(feature, depth=None, point_angle=None)
        elif feature.counterbore is None and feature.countersink is None and feature.level is None:
            yield replace(feature, depth=PART_OF_WAY * float(size[axis]))
    if isinstance(feature, Block) and feature.cut:
        for letter, whole in zip("xyz", size.tolist(), strict=True):
            low, high = getattr(feature, letter)
            if (low is None or low <= 0) and (high is None or high >= whole):
                for span in ((None, PART_OF_WAY * whole), (PART_OF_WAY * whole, None)):
                    yield replace(feature, **{letter: span})                # type: ignore[arg-type]


def _symmetrical(solid: Solid, axis: int) -> bool:
    try:
        check_symmetry(solid, axis)
    except MeasureError:
        return False
    return True
