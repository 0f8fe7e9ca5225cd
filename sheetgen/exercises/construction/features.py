"""What a part is made of, as construction sheets tell it: its pieces in order, neighbours of one noun together."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, replace

from sheetgen.exercises.nouns import HOLES
from sheetgen.exercises.pieces import Piece, pieces_of
from sheetgen.problem import Problem
from sheetgen.templating import Wording

STANDING = ("block", "plate", "upright", "foot", "roof", "arm", "shaped", "lug", "round_end", "rib", "link", "tongue")
"""Nouns of what is not told by its diameters and radii."""

ROUND = (*HOLES, "boss", "spindle", "pin", "cone", "bore", "cone_cut")
"""Nouns of what is round about an axis of its own."""


@dataclass(frozen=True, eq=False)
class Group:
    """Pieces of one noun, one after the other in their file, told of together. ``alone``: no other group has the noun, or
    is a hole of any kind if this is one."""

    pieces: tuple[Piece, ...]
    alone: bool = True

    @property
    def noun(self) -> str:
        """As the wording's ``pieces`` call them."""
        return self.pieces[0].noun

    @property
    def names(self) -> tuple[str, ...]:
        """Those of the features."""
        return tuple(piece.feature.name for piece in self.pieces)

    @property
    def count(self) -> int:
        """How many there are, of one feature at several places too."""
        return sum(piece.count for piece in self.pieces)

    @property
    def drilled(self) -> bool:
        """Whether they end in the point of a drill."""
        return getattr(self.pieces[0].feature, "point_angle", None) is not None

    @property
    def size(self) -> str:
        """Such as Ø12, by which the group is told from others; empty if it is not."""
        sizes = {piece.size for piece in self.pieces}
        return sizes.pop() if len(sizes) == 1 and not self.alone else ""

    def called(self, wording: Wording) -> str:
        """The group at the beginning of a sentence: The slots, The Ø12 hole."""
        place = self.pieces[0].place if len(self.pieces) == 1 and not self.alone else ""
        return replace(self.pieces[0], size=self.size, place=place).called(wording, several=self.count > 1, first=True)


def sizes_of(problem: Problem, names: tuple[str, ...]) -> tuple[str, ...]:
    """The diameters and radii of features, as they are printed."""
    sizes = [measure.size for measure in problem.measures
             if measure.kind in ("diameter", "radius") and any(side.feature in names for side in measure.spec.sides)]
    return tuple(dict.fromkeys(sizes))


def groups_of(problem: Problem) -> tuple[Group, ...]:
    """The pieces of a part in order, those of one noun that follow each other together."""
    found: list[Group] = []
    for piece in pieces_of(problem):
        last = found[-1] if found else None
        if last is not None and last.noun == piece.noun and _alike(
                sizes_of(problem, last.names), sizes_of(problem, (piece.feature.name,))):
            found[-1] = Group((*last.pieces, piece))
        else:
            found.append(Group((piece,)))
    nouns = Counter(group.noun for group in found)
    holes = sum(nouns[noun] for noun in HOLES)
    return tuple(replace(group, alone=(holes if group.noun == "hole" else nouns[group.noun]) == 1) for group in found)


def _alike(one: tuple[str, ...], other: tuple[str, ...]) -> bool:
    """Whether features with these sizes may be told of together; of two alike a symmetric part has the sizes once."""
    return not one or not other or one == other
