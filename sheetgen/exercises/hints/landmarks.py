"""What can be found on one's own drawing of a view: edges of the view, sides of its pieces, centre lines, each by its words."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from sheetgen.bank.features import Hole, Lug, Profile
from sheetgen.exercises.nouns import HOLES
from sheetgen.exercises.pieces import Piece
from sheetgen.exercises.surfaces import facing, limits
from sheetgen.geometry import Array
from sheetgen.projection import LineKind, Straight
from sheetgen.sight import PlacedView
from sheetgen.solid import Cylinder, Plane, Solid
from sheetgen.templating import Wording
from sheetgen.units import SAME_DIRECTION, SAME_LEVEL

SIDES = (("left", "right"), ("front", "back"), ("bottom", "top"))
"""At the low and the high end along x, y and z."""

LEAST_SHOWN = 1.0
"""mm of the part: of a shorter piece of a line nobody would say that it is the side of something."""


@dataclass(frozen=True, slots=True)
class Landmark:
    """What lies at a ``level`` mm along the part's ``axis``, and shows in a view as straight lines square to it, ``at`` mm in the
    view. ``words``: with their article; ``edge``: of the whole view; ``piece``: the place of its piece among all, None of edges;
    ``centre``: a centre line."""

    axis: int
    level: float
    way: int
    at: float
    words: str
    edge: bool = False
    piece: int | None = None
    centre: bool = False


@dataclass(frozen=True, eq=False)
class ViewAxes:
    """Along which axis of the part a view goes to the right and up, and in which sense."""

    axes: tuple[int, int]
    senses: tuple[int, int]
    origin: tuple[float, float]

    @classmethod
    def of(cls, placed: PlacedView) -> ViewAxes:
        """Those of a principal view."""
        frame = placed.view.frame
        axes = [int(np.argmax(np.abs(row))) for row in frame.axes]
        senses = [int(np.sign(row[axis])) for row, axis in zip(frame.axes, axes, strict=True)]
        return cls((axes[0], axes[1]), (senses[0], senses[1]), (float(frame.origin[0]), float(frame.origin[1])))

    def at(self, way: int, level: float) -> float:
        """Where a level of the part lies in the view, across (0) or up (1)."""
        return self.senses[way] * level - self.origin[way]


def landmarks_of(placed: PlacedView, pieces: Sequence[Piece], wording: Wording) -> tuple[Landmark, ...]:
    """The landmarks of a view, each level once: edges first, then sides of pieces, then centre lines."""
    found: dict[tuple[int, float], Landmark] = {}
    view_axes = ViewAxes.of(placed)
    for way in (0, 1):
        for mark in (*_edges(placed, view_axes, way, wording), *_sides(placed, view_axes, way, pieces, wording),
                     *_centres(placed, view_axes, way, pieces, wording)):
            found.setdefault((way, round(mark.at, 3)), mark)
    return tuple(found.values())


def _edges(placed: PlacedView, view_axes: ViewAxes, way: int, wording: Wording) -> Iterator[Landmark]:
    axis, solid = view_axes.axes[way], placed.view.solid
    drawn = _drawn(placed, way, (LineKind.VISIBLE,))
    for end, level in enumerate((0.0, float(solid.size[axis]))):
        at = view_axes.at(way, level)
        if _shown(drawn, at):
            yield Landmark(axis, level, way, at, wording.render(f"hints.edge_{SIDES[axis][end]}"), edge=True)


def _sides(
    placed: PlacedView, view_axes: ViewAxes, way: int, pieces: Sequence[Piece], wording: Wording
) -> Iterator[Landmark]:
    """The flat sides of pieces that show as lines of their own."""
    axis, other, solid = view_axes.axes[way], view_axes.axes[1 - way], placed.view.solid
    drawn = _drawn(placed, way, (LineKind.VISIBLE, LineKind.HIDDEN))
    for k, surface in enumerate(solid.surfaces):
        if not isinstance(surface, Plane) or surface.axis != axis or not placed.sight.draws(k):
            continue
        level = float(surface.level)
        at = view_axes.at(way, level)
        low, high = (corner[other] for corner in limits(solid, [k]))
        ends = sorted((view_axes.at(1 - way, low), view_axes.at(1 - way, high)))
        if min(level, float(solid.size[axis]) - level) < SAME_LEVEL or not _shown(drawn, at, (ends[0], ends[1])):
            continue
        if side := side_of(solid, k, pieces, wording):
            words, piece = side
            yield Landmark(axis, level, way, at, words, piece=piece)


def side_of(solid: Solid, surface: int, pieces: Sequence[Piece], wording: Wording) -> tuple[str, int] | None:
    """The words for a flat surface square to an axis, and the place of the piece whose side it is; None if they would not tell
    which is meant."""
    plane = solid.surfaces[surface]
    mine = [place for place, piece in enumerate(pieces) if surface in piece.surfaces and _squared(piece)]
    if not isinstance(plane, Plane) or plane.axis is None or not mine:
        return None
    # What is cut down to the face of a piece that was there before has no floor or wall of its own.
    first = next((place for place in mine if not pieces[place].cut), mine[0])
    same = [place for place in mine if pieces[place].noun == pieces[first].noun]
    piece, looks = pieces[first], facing(solid, surface, plane.axis)
    if looks == 0:
        return None
    whole = [each for each in pieces if each.noun == piece.noun]
    if len(same) > 1 and len(same) == len(whole):
        what = wording.render("pieces.the", what=wording.render(f"pieces.{piece.noun}", form="several"))
    elif piece.known:
        what = piece.called(wording, several=piece.count > 1)
    else:
        return None
    # A wall that looks to the right bounds a cut at its left.
    end = (looks > 0) != piece.cut
    return wording.render(f"hints.side_{_side(piece, plane.axis, end, solid, surface)}", what=what), first


def _squared(piece: Piece) -> bool:
    """Whether a piece may have flat sides of its own: of holes, those with a shoulder or a bottom."""
    return not isinstance(piece.feature, Hole) or piece.feature.counterbore is not None or piece.noun == "blind_hole"


def _side(piece: Piece, axis: int, high: bool, solid: Solid, surface: int) -> str:
    """Which side it is, as the wording's ``hints.side_`` calls it."""
    if isinstance(piece.feature, Hole):
        sides = [name for name, k in solid.sides.items() if k == surface and name.startswith(f"{piece.feature.name}.")]
        return "lowest" if any(name.endswith(".floor") for name in sides) else "shoulder"
    if piece.cut and axis == 2:
        return "roof" if high else "floor"
    if piece.noun in ("step", "rebate") and axis != 2:
        upright = [k for k in piece.surfaces if isinstance(plane := solid.surfaces[k], Plane) and plane.axis in (0, 1)]
        if upright == [surface]:
            return "riser"
    opposite = any(isinstance(plane := solid.surfaces[k], Plane) and plane.axis == axis
                   and facing(solid, k, axis) == -facing(solid, surface, axis) != 0 for k in piece.surfaces)
    return f"cut_{SIDES[axis][high]}" if piece.cut and axis == 1 and opposite else SIDES[axis][high]


def _centres(
    placed: PlacedView, view_axes: ViewAxes, way: int, pieces: Sequence[Piece], wording: Wording
) -> Iterator[Landmark]:
    """The centre lines of what is round."""
    axis, solid = view_axes.axes[way], placed.view.solid
    drawn = _drawn(placed, way, (LineKind.CENTRE,))
    for place, piece in sorted(enumerate(pieces), key=lambda each: each[1].noun not in HOLES):
        rounds = [surface for k in piece.surfaces if isinstance(surface := solid.surfaces[k], Cylinder)]
        if not piece.known or not rounds or isinstance(piece.feature, Profile):
            continue
        levels = sorted({round(float(each.point[axis]), 6) for each in rounds if abs(each.direction[axis]) < SAME_DIRECTION})
        for number, level in enumerate(levels):
            at = view_axes.at(way, level)
            if len(levels) <= 2 and _shown(drawn, at):
                words = _centre_words(piece, axis, number if len(levels) == 2 else None, wording)
                if words:
                    yield Landmark(axis, level, way, at, words, piece=place, centre=True)


def _centre_words(piece: Piece, axis: int, end: int | None, wording: Wording) -> str:
    """The words for a centre line; ``end``: of two levels the low (0) or the high one."""
    say = wording.render
    if end is None:
        what = piece.called(wording, several=piece.count > 1)
        ended = piece.noun == "round_slot" and isinstance(piece.feature, Lug)
        return say("hints.centre_of_end" if ended else "hints.centre", what=what)
    if piece.noun not in (*HOLES, "boss", "spindle", "pin") or piece.place:
        return ""
    bare = say(f"pieces.{piece.noun}", form="bare" if piece.count == 2 else "several")
    bare = say("pieces.sized", size=piece.size, what=bare) if piece.size else bare
    name = (("left", "right"), ("front", "back"), ("lower", "upper"))[axis][end]
    return say("hints.centre", what=say("pieces.the", what=say(f"pieces.at_{name}", what=bare)))


def _drawn(placed: PlacedView, way: int, kinds: Sequence[LineKind]) -> Array:
    """The straight lines of some kinds that run square to a way of the view: level, low and high end (n, 3)."""
    rows = []
    for kind in kinds:
        for line in placed.lines(kind):
            if isinstance(line, Straight) and abs(float(line.p[way] - line.q[way])) < SAME_LEVEL:
                ends = sorted((float(line.p[1 - way]), float(line.q[1 - way])))
                rows.append((float(line.p[way]), *ends))
    return np.array(rows).reshape(-1, 3)


def _shown(drawn: Array, at: float, within: tuple[float, float] | None = None) -> bool:
    """Whether a line is drawn at a level, for long enough ``within`` some limits."""
    low, high = within or (-np.inf, np.inf)
    here = drawn[np.abs(drawn[:, 0] - at) < SAME_LEVEL]
    return bool((np.minimum(here[:, 2], high) - np.maximum(here[:, 1], low) > LEAST_SHOWN).any())
