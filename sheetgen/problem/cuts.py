"""What is cut out of a part, in the trade's words: which cuts are slots, grooves, channels, and which run right through.

A cut runs along an axis if no face square to that axis closes it. What it is called goes by the sides on which it is open along
its whole run: on none, a tunnel (upright: a slot); on one, a slot, groove or channel, as its file says; on more, a step or a
notch, which is noted only where it opens neither to the top nor to the front, the faces that every pictorial shows.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from sheetgen.bank.features import NORMAL_AXIS, PLANE_AXES, Block, Cylinder, Dovetail, Feature, Lug, Obround, Profile, Span, Vee
from sheetgen.geometry import Array
from sheetgen.solid import Cylinder as Round
from sheetgen.solid import Plane, Solid, is_hollow, rows_of, turns_right_round
from sheetgen.units import SAME_COSINE, SAME_DIRECTION, SAME_POINT

SLOT, GROOVE, CHANNEL, TUNNEL = "slot", "groove", "channel", "tunnel"
HOLLOW, REBATE, KEYWAY = "hollow", "rebate", "keyway"
"""What cuts are called (slot, groove, channel: their words in family files; a hollow is a round groove that a radius tells of, a
rebate a step or notch out of sight, a keyway a slot along a bore)."""

BLOCK_SIDES = (("left", "right"), ("front", "back"), ("bottom", "top"))
"""At the low and the high end along x, y and z."""

OUT_OF_SIGHT = {(0, -1), (0, 1), (1, 1), (2, -1)}
"""Sides, as axis and sense, on which a step is not plainly seen to run through: left, right, back, bottom."""


@dataclass(frozen=True, slots=True)
class Cut:
    """``noun``: what it is called, empty if it needs no note; ``through``: it runs right through; ``rounds``: its cylinders;
    ``names``: of the feature."""

    noun: str
    through: bool
    rounds: tuple[int, ...] = ()
    names: tuple[str, ...] = ()


def cuts_of(features: Sequence[tuple[str, Feature]], solid: Solid) -> tuple[Cut, ...]:
    """The cuts among features, each with its word in the file, that have a noun; of holes and slants nothing is said."""
    found = (_cut(word, feature, solid) for word, feature in features if getattr(feature, "cut", True))
    return tuple(cut for cut in found if cut is not None and cut.noun)


def _cut(word: str, feature: Feature, solid: Solid) -> Cut | None:
    mine = _own(feature, solid)
    if not len(mine):
        return None
    rounds = tuple(k for k in mine if isinstance(solid.surfaces[k], Round))
    if isinstance(feature, Block):
        noun, through = _block(word, feature, solid)
        if through and _forks(solid, mine):
            return None                              # the notes at the cheeks' sizes, 2 × R15, tell of what is between them
        return Cut(KEYWAY if noun == SLOT and _opens_into_bore(solid, mine) else noun, through, rounds, (feature.name,))
    if not isinstance(feature, Profile | Lug | Obround | Vee | Dovetail | Cylinder):
        return None
    axis = "xyz".index(feature.axis if isinstance(feature, Cylinder) else NORMAL_AXIS[feature.plane])
    noun = _noun(feature, solid, axis, mine)
    return Cut(noun, not _closed(solid, axis, mine), rounds, (feature.name,))


def _own(feature: Feature, solid: Solid) -> list[int]:
    """The surfaces that only this feature made or, if it shares them all, those that it shares."""
    mine = [k for k, names in enumerate(solid.features) if feature.name in names]
    return [k for k in mine if set(solid.features[k]) == {feature.name}] or mine


def _noun(feature: Feature, solid: Solid, axis: int, mine: Sequence[int]) -> str:
    """What a cut that is no box is called."""
    upright = axis == 2
    if isinstance(feature, Profile):
        open_sides = _open_sides(feature, solid, axis, mine)
        if len(open_sides) > 1:
            return REBATE if set(open_sides) <= OUT_OF_SIGHT else ""
        return SLOT if upright else GROOVE if open_sides else TUNNEL
    if isinstance(feature, Cylinder):
        return "" if any(isinstance(solid.surfaces[k], Round) and turns_right_round(solid, k) for k in mine) else HOLLOW
    if isinstance(feature, Lug):
        return SLOT if upright else HOLLOW
    return SLOT if isinstance(feature, Obround) or upright else GROOVE


def _block(word: str, block: Block, solid: Solid) -> tuple[str, bool]:
    """What a cut box is called, and whether it runs through."""
    open_sides = [(axis, sense) for axis in range(3) for sense in (-1, 1) if not _has_side(solid, block, axis, sense)]
    run = [axis for axis in range(3) if (axis, -1) in open_sides and (axis, 1) in open_sides]
    if len(run) > 1:
        return "", True                              # the whole top or bottom: nothing is cut through
    beside = [side for side in open_sides if side[0] not in run]
    if word in (SLOT, GROOVE, CHANNEL):
        if run and not beside:
            return (SLOT if run == [2] else TUNNEL), True
        return word, bool(run)
    return (REBATE if run and set(beside) <= OUT_OF_SIGHT else ""), bool(run)


def _forks(solid: Solid, walls: Sequence[int]) -> bool:
    """True if a cut parts something round into cheeks, one behind the other on its axis."""
    meets: dict[int, set[int]] = defaultdict(set)
    for pair in solid.edges.curves:
        for wall, other in (pair, pair[::-1]):
            if wall in walls and isinstance(solid.surfaces[wall], Plane) and isinstance(solid.surfaces[other], Round):
                meets[other].add(wall)
    return any(len(found) > 1 and len(rows_of(solid, k)) > 1 for k, found in meets.items())


def _opens_into_bore(solid: Solid, walls: Sequence[int]) -> bool:
    """True if flat walls run along a bore into which they open."""
    for pair in solid.edges.curves:
        for wall, other in (pair, pair[::-1]):
            flat, bore = solid.surfaces[wall], solid.surfaces[other]
            if wall in walls and isinstance(flat, Plane) and isinstance(bore, Round):
                along = abs(float(flat.normal @ bore.direction)) < SAME_DIRECTION
                if along and is_hollow(solid, other) and turns_right_round(solid, other):
                    return True
    return False


def _has_side(solid: Solid, block: Block, axis: int, sense: int) -> bool:
    """True if a face looks into a cut box from its low (-1) or high (1) end along an axis: it does not open there."""
    k = solid.sides.get(f"{block.name}.{BLOCK_SIDES[axis][sense > 0]}")
    if k is None:
        return False
    corners = solid.vertices[solid.triangles[(solid.owner == k) & (solid.normals[:, axis] * sense < -0.5)]]
    spans = np.array([limits_of(block.x), limits_of(block.y), limits_of(block.z)])
    low, high = corners.min(axis=1, initial=np.inf), corners.max(axis=1, initial=-np.inf)
    beside = [other for other in range(3) if other != axis]
    inside = (low < spans[:, 1] - SAME_POINT) & (high > spans[:, 0] + SAME_POINT)
    return bool(inside[:, beside].all(axis=1).any())


def limits_of(span: Span) -> tuple[float, float]:
    """From, to, mm; without end where it is open.

    >>> limits_of((None, 12.0))
    (-inf, 12.0)
    """
    low, high = span
    return -math.inf if low is None else low, math.inf if high is None else high


def _closed(solid: Solid, axis: int, walls: Sequence[int]) -> bool:
    """True if a face square to an axis closes what ``walls`` bound: it looks towards their middle from where it meets them."""
    along = solid.vertices[solid.triangles[np.isin(solid.owner, _parallel(solid, axis, walls))]][..., axis]
    middle = (along.min(initial=np.inf) + along.max(initial=-np.inf)) / 2
    edges = solid.edges
    mine = np.flatnonzero(np.isin(edges.pair, walls).any(axis=1) & edges.sharp)
    level = solid.vertices[edges.ends[mine]][..., axis].mean(axis=1)
    facing = solid.normals[edges.facets[mine]][..., axis]
    square = (np.abs(facing) > 1 - SAME_COSINE) & solid.table.flat[edges.pair[mine]]
    return bool((square & (facing * (middle - level)[:, None] > SAME_POINT)).any())


def _parallel(solid: Solid, axis: int, walls: Sequence[int]) -> list[int]:
    """Those of the walls that run along an axis."""
    found = []
    for k in walls:
        surface = solid.surfaces[k]
        across = surface.normal[axis] if isinstance(surface, Plane) else 1 - abs(surface.direction[axis])
        if abs(float(across)) < SAME_DIRECTION:
            found.append(k)
    return found


def _open_sides(profile: Profile, solid: Solid, axis: int, walls: Sequence[int]) -> list[tuple[int, int]]:
    """The sides, as axis and sense, to which an outline opens: where its pieces have no face, half-way along the cut."""
    u, v = ("xyz".index(letter) for letter in PLANE_AXES[profile.plane])
    along = solid.vertices[np.unique(solid.triangles[np.isin(solid.owner, walls)])][:, axis]
    level, centre = (along.min() + along.max()) / 2, np.mean([piece.end for piece in profile.pieces], axis=0)
    return [side for middle, away in _pieces(profile, centre)
            if not _on_a_face(solid, _point(u, v, axis, middle, level), _point(u, v, axis, away, 0.0))
            for side in [_side(u, v, away)]]


def _pieces(profile: Profile, centre: Array) -> Iterator[tuple[Array, Array]]:
    """Of each straight piece of an outline its middle and the direction away from the outline's inside, each (2,)."""
    before = np.array(profile.start)
    for piece in profile.pieces:
        end = np.array(piece.end)
        if piece.centre is None:
            run = end - before
            away = np.array([run[1], -run[0]]) / np.hypot(*run)
            middle = (before + end) / 2
            yield middle, away if away @ (middle - centre) > 0 else -away
        before = end


def _side(u: int, v: int, away: Array) -> tuple[int, int]:
    part = int(np.argmax(np.abs(away)))
    return (u, v)[part], int(np.sign(away[part]))


def _point(u: int, v: int, axis: int, flat: Array, along: float) -> Array:
    point = np.zeros(3)
    point[[u, v, axis]] = *flat, along
    return point


def _on_a_face(solid: Solid, point: Array, away: Array) -> bool:
    """True if ``point`` (3,) lies on a facet that looks against ``away`` (3,)."""
    a, b, c = (solid.vertices[solid.triangles[:, k]] for k in range(3))
    normal = solid.normals
    near = (np.abs(np.einsum("ij,ij->i", point - a, normal)) < SAME_POINT) & (normal @ away < -0.5)
    turns = [np.einsum("ij,ij->i", np.cross(q - p, point - p), normal) for p, q in ((a, b), (b, c), (c, a))]
    return bool((near & (np.min(turns, axis=0) > -SAME_POINT)).any())
