"""What a part is made of, as the trade calls it: its features, each by a noun of the wording and, where several have the same, by
what tells them apart. Part frame, millimetres."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

import numpy as np

from sheetgen.bank.features import NORMAL_AXIS, Block, Cone, Corner, Cylinder, Feature, Hole, Rib
from sheetgen.exercises.nouns import HOLES, is_corner, noun_of
from sheetgen.exercises.surfaces import limits
from sheetgen.measures.measures import number
from sheetgen.problem import Problem
from sheetgen.problem.cuts import cuts_of
from sheetgen.solid import Solid
from sheetgen.templating import Wording
from sheetgen.units import SAME_POINT

PLACES = (("left", "middle", "right"), ("front", "middle", "back"), ("lower", "middle", "upper"))
"""Along x, y and z, as the wording's ``pieces.at_`` call them."""

RUNS = ("wide", "deep", "high")
"""The way that a cut runs along x, y or z, as they call it."""

RISE = 4.0
"""mm by which one of two pieces must reach higher to be called the upper (common practice, no source)."""


@dataclass(frozen=True, eq=False)
class Piece:
    """``noun``: as the wording's ``pieces`` call it; ``cut``: it is cut away; ``surfaces``: what is left of its faces;
    ``count``: so many alike, at several places; ``axis``: 0, 1 or 2, along which its outline shows, None if it has none of its
    own; ``place``: of PLACES or RUNS, and ``size``: such as Ø12, by which it is told from others; ``known``: it can be told from
    all of them."""

    feature: Feature
    noun: str
    cut: bool
    surfaces: tuple[int, ...]
    count: int = 1
    axis: int | None = None
    place: str = ""
    size: str = ""
    known: bool = True

    def called(self, wording: Wording, *, several: bool = False, first: bool = False) -> str:
        """The piece in a sentence: the left slot, the Ø12 hole; ``several``: all of them; ``first``: the sentence begins so."""
        say = wording.render
        what = say(f"pieces.{self.noun}", form="several" if several else "bare")
        what = say("pieces.sized", size=self.size, what=what) if self.size else what
        what = say(f"pieces.at_{self.place}", what=what) if self.place else what
        return say("pieces.the_first" if first else "pieces.the", what=what)


def pieces_of(problem: Problem) -> tuple[Piece, ...]:
    """The pieces of a part in the order of its features, but for those of which nothing is left."""
    solid = problem.solid
    cuts = {name: cut for cut in cuts_of(problem.features, solid) for name in cut.names}
    found = []
    for word, feature in problem.features:
        surfaces = tuple(k for k, names in enumerate(solid.features) if feature.name in names)
        if surfaces:
            cut = bool(getattr(feature, "cut", not isinstance(feature, Rib)))
            noun = noun_of(word, feature, cut, cuts.get(feature.name), solid, surfaces)
            found.append(Piece(feature, noun, cut, surfaces, _count(feature), _axis(feature, solid)))
    if sum(is_corner(piece.feature) for piece in found) == 1:
        found = [replace(piece, noun="corner_recess") if is_corner(piece.feature) else piece for piece in found]
    return tuple(_told_apart(_plain(found), solid))


def _plain(pieces: Sequence[Piece]) -> list[Piece]:
    """The pieces, with holes called plain where another sort of hole has their diameter, so that it would not tell which is
    meant."""
    sorts = {_size(piece.feature) for piece in pieces if piece.noun in HOLES and piece.noun != "hole"}
    return [replace(piece, noun="plain_hole") if piece.noun == "hole" and _size(piece.feature) in sorts else piece
            for piece in pieces]


def own(solid: Solid, piece: Piece) -> tuple[int, ...]:
    """The surfaces that a piece shares with no other, or all if it shares them all."""
    alone = tuple(k for k in piece.surfaces if solid.features[k] == (piece.feature.name,))
    return alone or piece.surfaces


def _count(feature: Feature) -> int:
    return len(feature.at) if isinstance(feature, Hole | Cylinder) else 1


def _axis(feature: Feature, solid: Solid) -> int | None:
    """Along which the outline of a feature shows: of a box that along which it runs through."""
    if isinstance(feature, Block):
        spans = (feature.x, feature.y, feature.z)
        run = [k for k, span in enumerate(spans) if span == (None, None)]
        if not run:
            through = [_reaches(span, float(size)) for span, size in zip(spans, solid.size, strict=True)]
            run = [k for k, reaches in enumerate(through) if reaches]
        return run[0] if feature.cut and len(run) == 1 else None
    if isinstance(feature, Hole):
        return {"left": 0, "right": 0, "front": 1, "back": 1}.get(feature.mouth, 2)
    if isinstance(feature, Cylinder | Cone):
        return "xyz".index(feature.axis)
    return None if isinstance(feature, Corner) else "xyz".index(NORMAL_AXIS[feature.plane])


def _reaches(span: tuple[float | None, float | None], size: float) -> bool:
    low, high = span
    return (low is None or low < SAME_POINT) and (high is None or high > size - SAME_POINT)


def _told_apart(pieces: Sequence[Piece], solid: Solid) -> list[Piece]:
    """The pieces, each with what tells it from those of the same noun."""
    groups: dict[str, list[Piece]] = defaultdict(list)
    for piece in pieces:
        groups["hole" if piece.noun in HOLES else piece.noun].append(piece)
    told: dict[int, Piece] = {}
    for key, group in groups.items():
        if len(group) > 1 and key == "hole":
            nouns = Counter(piece.noun for piece in group)
            group = [replace(piece, size=_size(piece.feature)) if piece.noun == "hole" or nouns[piece.noun] > 1 else piece
                     for piece in group]
        by_size: dict[tuple[str, str], list[Piece]] = defaultdict(list)
        for piece in group:
            by_size[piece.size, piece.noun if key == "hole" else key].append(piece)
        for alike in by_size.values():
            for piece in _placed(alike, solid):
                told[id(piece.feature)] = piece
    return [told[id(piece.feature)] for piece in pieces]


def _size(feature: Feature) -> str:
    """The diameter of a hole, as it is printed."""
    assert isinstance(feature, Hole)
    return f"Ø{number(feature.diameter)}"


def _placed(alike: Sequence[Piece], solid: Solid) -> list[Piece]:
    """Pieces of one noun and size, each with what tells it from the others: to where it opens, how it runs, where it stands."""
    if len(alike) == 1:
        return list(alike)
    ways = ([_opening(piece) for piece in alike], [_run(piece) for piece in alike], _standing(alike, solid))
    for words in ways:
        if all(words) and len(set(words)) == len(words):
            return [replace(piece, place=word) for piece, word in zip(alike, words, strict=True)]
    return [replace(piece, known=False) for piece in alike]


def _opening(piece: Piece) -> str:
    """To which side a box that is cut away opens, if only to one beside those that it runs between; else empty."""
    feature = piece.feature
    if not isinstance(feature, Block) or not piece.cut:
        return ""
    spans = ((0, feature.x), (1, feature.y))
    ends = [PLACES[axis][2 * end] for axis, span in spans for end in (0, 1) if axis != piece.axis and span[end] is None]
    return ends[0] if len(ends) == 1 else ""


def _run(piece: Piece) -> str:
    """Which way a box runs that is cut through from side to side; else empty."""
    return RUNS[piece.axis] if piece.cut and piece.axis is not None and isinstance(piece.feature, Block) else ""


def _standing(alike: Sequence[Piece], solid: Solid) -> list[str]:
    """Where pieces stand that lie beside, behind or above one another; no words if they do not."""
    boxes = np.array([limits(solid, own(solid, piece)) for piece in alike])         # (n, low and high, 3)
    if len(alike) > 3:
        return []
    for axis in range(3):
        order = np.argsort(boxes[:, :, axis].sum(axis=1))
        clear = [boxes[b, 0, axis] - boxes[a, 1, axis] > -SAME_POINT for a, b in pairwise(order.tolist())]
        apart = [boxes[b, 1, axis] - boxes[a, 1, axis] > RISE for a, b in pairwise(order.tolist())]
        if all(clear) or (axis == 2 and all(apart)):
            names = PLACES[axis] if len(alike) == 3 else PLACES[axis][::2]
            words = [""] * len(alike)
            for k, name in zip(order.tolist(), names, strict=True):
                words[k] = name
            return words
    return []
