"""What a part is made of, as construction sheets tell it: features in order, those of one sort together, each with its word."""

from __future__ import annotations

from dataclasses import dataclass, replace

from sheetgen.bank.features import Hole
from sheetgen.exercises.surfaces import limits
from sheetgen.problem import Problem
from sheetgen.problem.cuts import cuts_of
from sheetgen.units import SAME_POINT

ADDED = {
    "block": "block", "plate": "plate", "upright": "upright", "profile": "shape", "boss": "boss", "spindle": "spindle",
    "pin": "spindle", "cone": "cone", "lug": "lug", "link": "shape", "rib": "rib", "dovetail": "tongue",
}
"""The word after ``add:`` in a family, and what the wording calls it."""

CUT = {
    "slot": "slot", "groove": "groove", "notch": "notch", "recess": "recess", "step": "step", "channel": "channel",
    "profile": "cut", "hole": "hole", "bore": "bore", "cone": "hole", "open_slot": "slot", "closed_slot": "slot", "vee": "groove",
    "slant": "slope", "dovetail": "dovetail", "corner": "corner",
}
"""The same after ``cut:``."""

BODIES = ("block", "plate", "profile", "link", "spindle", "pin")
"""Words of what is called the body if a part begins with it."""

OWN = ("dovetail", "hole")
"""Words that say more than what such cuts are called in the notes of a question."""


@dataclass(frozen=True, slots=True)
class Group:
    """Features of one sort, one after the other in their file, told of together. ``noun``: one of FEATURES in
    ``templating/texts.py``; ``names``: theirs; ``count``: how many there are; ``drilled``: whether they end in the point of a
    drill."""

    noun: str
    names: tuple[str, ...]
    count: int
    drilled: bool = False


def sizes_of(problem: Problem, names: tuple[str, ...]) -> tuple[str, ...]:
    """The diameters and radii of features, as they are printed."""
    sizes = [measure.size for measure in problem.measures
             if measure.kind in ("diameter", "radius") and any(side.feature in names for side in measure.spec.sides)]
    return tuple(dict.fromkeys(sizes))


def groups_of(problem: Problem) -> tuple[Group, ...]:
    """The features of a part in order, those of one sort that follow each other together."""
    called = {name: cut.noun for cut in cuts_of(problem.features, problem.solid) for name in cut.names}
    found: list[Group] = []
    for place, (word, feature) in enumerate(problem.features):
        cut = getattr(feature, "cut", type(feature).__name__ not in ("Rib",))
        noun = CUT.get(word, "cut") if cut else ADDED.get(word, "shape")
        if cut and word not in OWN:
            noun = called.get(feature.name, noun)
        if isinstance(feature, Hole) and noun == "hole":
            noun = _kind_of_hole(feature)
        if noun == "shape" and _rests(problem, feature.name):
            noun = "upper"
        if place == 0 and word in BODIES:
            noun = "body"
        count = len(getattr(feature, "at", ())) if word in ("hole", "bore", "boss", "spindle", "pin") else 1
        if found and found[-1].noun == noun and _alike(sizes_of(problem, found[-1].names), sizes_of(problem, (feature.name,))):
            last = found.pop()
            found.append(replace(last, names=(*last.names, feature.name), count=last.count + count))
        else:
            found.append(Group(noun, (feature.name,), count, getattr(feature, "point_angle", None) is not None))
    kinds = {group.noun for group in found if group.noun in KINDS_OF_HOLE}
    return tuple(replace(group, noun="hole") if len(kinds) == 1 and group.noun in kinds else group for group in found)


KINDS_OF_HOLE = ("through_hole", "blind_hole", "counterbored_hole", "countersunk_hole")
"""What holes are called on a part that has several sorts of them."""


def _kind_of_hole(hole: Hole) -> str:
    if hole.counterbore is not None:
        return "counterbored_hole"
    if hole.countersink is not None:
        return "countersunk_hole"
    return "through_hole" if hole.depth is None else "blind_hole"


def _rests(problem: Problem, name: str) -> bool:
    """Whether a feature stands on others: all its surfaces of its own are above the part's foot."""
    solid = problem.solid
    mine = [k for k, names in enumerate(solid.features) if names == (name,)]
    return bool(mine) and float(limits(solid, mine)[0][2]) > SAME_POINT


def _alike(one: tuple[str, ...], other: tuple[str, ...]) -> bool:
    """Whether features with these sizes may be told of together; of two alike a symmetric part has the sizes once."""
    return not one or not other or one == other
