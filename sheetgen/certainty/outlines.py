"""The outlines of the filled faces of a plan: closed, of whole lines and arcs, those round material and those round holes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from sheetgen.bank.features import Piece
from sheetgen.certainty.curves import Point, Run
from sheetgen.certainty.plan import Gap, Plan
from sheetgen.geometry import Mask
from sheetgen.units import NO_WIDTH

Outline = tuple[Point, tuple[Piece, ...], bool]
"""Where it starts, its pieces, and whether it is cut out of what is there."""


@dataclass(frozen=True, slots=True)
class _Side:
    """A stretch of an outline, material on its left; ``run`` is what it lies on, None if it is upright."""

    start: Point
    end: Point
    run: Run | None

    @property
    def piece(self) -> Piece:
        """It as a piece of an outline."""
        if self.run is None or self.run.centre is None:
            return Piece(self.end)
        return Piece(self.end, None, self.run.centre, "left" if self.run.upper == (self.end[0] < self.start[0]) else "right")

    def goes_on_as(self, other: _Side) -> bool:
        """True if both lie on one line or on one half of a circle."""
        if self.run is None or other.run is None:
            return self.run is other.run
        mine, its = self.run, other.run
        if mine.centre is not None or its.centre is not None:
            return (mine.centre, mine.radius, mine.upper) == (its.centre, its.radius, its.upper)
        return abs(mine.rise - its.rise) < NO_WIDTH and abs(mine.height(other.end[0]) - other.end[1]) < NO_WIDTH


def outlines_of(plan: Plan, filled: Mask) -> list[Outline]:
    """The outlines of the faces that are ``filled`` (faces + 1,), the widest first: in this order they are added and cut."""
    sides = _sides(plan, filled)
    begins: dict[Point, list[_Side]] = {}
    for side in sides:
        begins.setdefault(side.start, []).append(side)
    found = []
    while any(begins.values()):
        chain = [next(some for some in begins.values() if some).pop()]
        while chain[-1].end != chain[0].start:
            chain.append(begins[chain[-1].end].pop())
        area = sum(_swept(side) for side in chain)
        joined = _joined(chain)
        found.append((abs(area), (joined[0].start, tuple(side.piece for side in joined), area < 0)))
    return [outline for _, outline in sorted(found, key=lambda each: (-each[0], each[1][0]))]


def _sides(plan: Plan, filled: Mask) -> list[_Side]:
    """Where filled faces border on empty ones, material on the left."""
    known: dict[float, list[Point]] = {}

    def point(x: float, y: float) -> Point:
        """The same point for places that are nearly one."""
        some = known.setdefault(x, [])
        for other in some:
            if abs(other[1] - y) <= NO_WIDTH:
                return other
        some.append((x, y))
        return some[-1]

    found = []
    for strip, ((low, high), runs) in enumerate(zip(pairwise(plan.places), plan.runs, strict=True)):
        for run, (below, above) in zip(runs, pairwise(plan.faces[strip]), strict=True):
            if filled[below] != filled[above]:
                ends = point(low, run.height(low)), point(high, run.height(high))
                found.append(_Side(*(ends if filled[above] else ends[::-1]), run))
    for place, seam in zip(plan.places, plan.seams, strict=True):
        for item in seam:
            if isinstance(item, Gap) and item.walled and filled[item.left] != filled[item.right]:
                ends = point(place, item.low), point(place, item.high)
                found.append(_Side(*(ends if filled[item.left] else ends[::-1]), None))
    return found


def _joined(chain: Sequence[_Side]) -> list[_Side]:
    """A closed chain with sides that go on as one joined."""
    turn = next(k for k in range(len(chain)) if not chain[k - 1].goes_on_as(chain[k]))
    found: list[_Side] = []
    for side in (*chain[turn:], *chain[:turn]):
        if found and found[-1].goes_on_as(side):
            found[-1] = replace(found[-1], end=side.end)
        else:
            found.append(side)
    return found


def _swept(side: _Side) -> float:
    """Twice the area between a side and the axis of heights, by its chord and middle: enough to tell the sense and the order."""
    (px, py), (qx, qy) = side.start, side.end
    middle = (py + qy) / 2 if side.run is None else side.run.height((px + qx) / 2)
    return -(qx - px) * (py + 4 * middle + qy) / 3
