"""Which number belongs to which line of a finished answer sheet: told by geometry alone, from what ``reader`` found.

A size is a number over its dimension line, and two arrowheads on that line; a note stands at the end of a leader whose
arrowhead touches a circle; an angle stands at an arc with two arrowheads. Nothing here knows the part.
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from functools import cache

import numpy as np

from tests.outside.reader import NEAR, Array, Arrow, Circle, Lettering, Line, Sheet, circle_through

LENGTH = re.compile(r"\d+(\.\d+)?")
ACROSS = re.compile(r"Ø\d+(\.\d+)?")     # a diameter between the outlines of a cylinder seen from the side, if over a line
ANGLE = re.compile(r"(\d+(?:\.\d+)?)°")
NOTE = re.compile(r"(\d+ × )?(CSK |C'BORE )?(\d+ × )?([ØR]\d|\d+(\.\d+)? DEEP)")     # how many: before the word or after it
TYPE = 5.0           # mm: size of the type whose capitals and figures are 3.5 high
SHORT_CENTRE = 11.0  # mm: a centre line shorter than three shortened dashes with their dots
HIGHEST_OVER = 2.0    # mm: a number farther above a line does not belong to it


@dataclass(frozen=True, eq=False)
class Linear:
    """A number over a dimension line, and the two points that the arrowheads touch."""

    lettering: Lettering
    line: Line
    arrows: tuple[Arrow, Arrow]

    @property
    def number(self) -> float:
        return float(self.lettering.text.removeprefix("Ø"))

    @property
    def distance(self) -> float:
        """mm on paper between the tips."""
        return float(np.linalg.norm(self.arrows[0].tip - self.arrows[1].tip))

    @property
    def upright(self) -> bool:
        """True for a dimension line that runs up the sheet."""
        return abs(self.line.unit[1]) > 0.999


@dataclass(frozen=True, eq=False)
class Angular:
    """A number of degrees at an arc."""

    lettering: Lettering
    arc: Line
    arrows: tuple[Arrow, Arrow]

    @property
    def number(self) -> float:
        return float(self.lettering.text.removesuffix("°"))

    @property
    def centre(self) -> Array:
        found = circle_through(self.arc.points[1:-1])      # its ends lie in the arrowheads, on their straight axes
        assert found is not None, "an angle's dimension line is an arc of a circle"
        return found[0]

    @property
    def degrees(self) -> float:
        """Between the arrowheads' tips, seen from the arc's centre."""
        one, other = (arrow.tip - self.centre for arrow in self.arrows)
        return math.degrees(math.acos(float(one @ other / np.linalg.norm(one) / np.linalg.norm(other))))


@dataclass(frozen=True, eq=False)
class Note:
    """Lettering at a leader, line by line, and the arrowhead at the leader's other end."""

    letterings: tuple[Lettering, ...]
    leader: Line
    arrow: Arrow

    @property
    def text(self) -> str:
        return " / ".join(entry.text for entry in self.letterings)

    @property
    def diameters(self) -> list[float]:
        return [float(text) for text in re.findall(r"Ø(\d+(?:\.\d+)?)", self.text)]

    @property
    def radii(self) -> list[float]:
        return [float(text) for text in re.findall(r"R(\d+(?:\.\d+)?)", self.text)]

    @property
    def depths(self) -> list[float]:
        return [float(text) for text in re.findall(r"(\d+(?:\.\d+)?) DEEP", self.text)]

    @property
    def places(self) -> int:
        """How many features it speaks of."""
        found = re.match(r"(\d+) × ", self.text)
        return int(found[1]) if found else 1


@dataclass(frozen=True, eq=False)
class Sizes:
    """All sizes of a sheet; ``stray``: numbers that could be paired with no line, or with several."""

    linear: tuple[Linear, ...]
    angular: tuple[Angular, ...]
    notes: tuple[Note, ...]
    stray: tuple[str, ...]


def sizes_of(sheet: Sheet) -> Sizes:
    """Pair every number in the drawing with what it measures."""
    mine = [entry for entry in sheet.lettering if abs(entry.size - TYPE) < 0.05 and _in_frame(sheet, entry)]
    linear: list[Linear] = []
    angular: list[Angular] = []
    stray: list[str] = []
    for entry in mine:
        if LENGTH.fullmatch(entry.text):
            ways = [Linear(entry, line, arrows) for line, arrows in dimension_lines(sheet) if _over(entry, line)]
            linear += ways if len(ways) == 1 else []
            stray += [f"{entry.text}: {len(ways)} lines"] if len(ways) != 1 else []
        elif ANGLE.fullmatch(entry.text):
            arcs = sorted(angle_arcs(sheet), key=lambda arc: float(np.linalg.norm(arc[0].points - entry.middle, axis=1).min()))
            angular += [Angular(entry, *arcs[0])] if arcs else []
            stray += [f"{entry.text}: no arc"] if not arcs else []
    for entry in mine:
        if ACROSS.fullmatch(entry.text):
            ways = [Linear(entry, line, arrows) for line, arrows in dimension_lines(sheet) if _over(entry, line)]
            linear += ways if len(ways) == 1 else []
    across = {id(size.lettering) for size in linear}
    notes, lost = _notes(sheet, [entry for entry in mine if NOTE.match(entry.text) and id(entry) not in across])
    return Sizes(tuple(linear), tuple(angular), tuple(notes), (*stray, *lost))


def _in_frame(sheet: Sheet, entry: Lettering) -> bool:
    """True inside the frame: the letters of the grid stand outside it (ISO 5457:1999 cl. 4.2, from memory: 20 and 10 mm)."""
    return 20 < entry.start[0] < sheet.width - 10 and 10 < entry.start[1] < sheet.height - 10


@cache
def dimension_lines(sheet: Sheet) -> tuple[tuple[Line, tuple[Arrow, Arrow]], ...]:
    """Thin straight lines with two arrowheads on them that point away from, or towards, each other."""
    found = []
    for line in sheet.thin:
        if not line.straight:
            continue
        on = sorted(_arrows_on(line, sheet.arrows), key=lambda arrow: line.along(arrow.tip))
        if len(on) == 2 and float(on[0].way @ on[1].way) < -0.999:
            found.append((line, (on[0], on[1])))
    return tuple(found)


def _arrows_on(line: Line, arrows: tuple[Arrow, ...]) -> list[Arrow]:
    """Arrowheads that lie along a line, at least a third of their length over it; two that coincide are one."""
    found: list[Arrow] = []
    for arrow in arrows:
        if line.off(arrow.tip) > NEAR or line.off(arrow.base) > NEAR:
            continue
        low, high = sorted((line.along(arrow.tip), line.along(arrow.base)))
        if min(high, line.length) - max(low, 0.0) > arrow.length / 3 and not any(_same(arrow, other) for other in found):
            found.append(arrow)
    return found


def _same(one: Arrow, other: Arrow) -> bool:
    return bool(np.linalg.norm(one.tip - other.tip) < NEAR and one.way @ other.way > 0.999)


def height_over(entry: Lettering, line: Line) -> float:
    """mm from a line up to the base line of lettering that runs along it, as one reads it; negative below."""
    return float((entry.middle - line.points[0]) @ np.array([-line.unit[1], line.unit[0]]) * np.sign(_left(line) @ entry.up))


def _left(line: Line) -> Array:
    return np.array([-line.unit[1], line.unit[0]])


def _over(entry: Lettering, line: Line) -> bool:
    """True if lettering runs along a line, stands over it within its length and close."""
    across = entry.end - entry.start
    if abs(float(across @ _left(line))) > NEAR or abs(float(across @ line.unit)) < 0.5 * float(np.linalg.norm(across)):
        return False
    low, high = sorted((line.along(entry.start), line.along(entry.end)))
    return low > -0.5 and high < line.length + 0.5 and 0 < height_over(entry, line) < HIGHEST_OVER


@cache
def angle_arcs(sheet: Sheet) -> tuple[tuple[Line, tuple[Arrow, Arrow]], ...]:
    """Thin arcs of circles that end in two arrowheads."""
    found = []
    for line in sheet.thin:
        if len(line.points) < 6:
            continue
        first, last = (next((arrow for arrow in sheet.arrows if _ends_in(line.points[k], arrow)), None) for k in (0, -1))
        if first is not None and last is not None and circle_through(line.points[1:-1]) is not None:
            found.append((line, (first, last)))
    return tuple(found)


def _ends_in(end: Array, arrow: Arrow) -> bool:
    """True if a line's end lies within an arrowhead, on its axis."""
    away = end - arrow.tip
    back = -float(away @ arrow.way)
    return 0 <= back <= arrow.length + NEAR and float(np.linalg.norm(away + back * arrow.way)) < 0.1


def part_lines(sheet: Sheet) -> list[Line]:
    """Lines of the part: wide ones, dashed ones, and centre lines so short that they are one dash (EA p. 3-21 allows it)."""
    tips = [arrow.tip for arrow in sheet.arrows]
    found = [line for line in sheet.lines if line.dash or abs(line.width - 0.5) < 1e-3]
    short = [line for line in sheet.thin if line.straight and line.length < SHORT_CENTRE]
    by_a_tip = [any(line.off(tip) < NEAR and -5 < line.along(tip) < line.length + 5 for tip in tips) for line in short]
    return found + [line for line, near in zip(short, by_a_tip, strict=True) if not near]


def leaders(sheet: Sheet) -> list[tuple[Line, Arrow]]:
    """Thin lines with a landing, and the arrowhead in which they begin."""
    bent = [line for line in sheet.thin if len(line.points) == 3 and not line.curved]
    return [(line, arrow) for line in bent for arrow in sheet.arrows if _ends_in(line.points[0], arrow)]


def _notes(sheet: Sheet, entries: list[Lettering]) -> tuple[list[Note], list[str]]:
    owned: dict[int, list[Lettering]] = {}
    found = leaders(sheet)
    lost = []
    for entry in entries:
        near = [(_from_landing(entry, line), k) for k, (line, _) in enumerate(found)]
        near = [pair for pair in near if pair[0] < 12.0]
        if near:
            owned.setdefault(min(near)[1], []).append(entry)
        else:
            lost.append(f"{entry.text}: no leader")
    notes = [Note(tuple(sorted(mine, key=lambda entry: -entry.middle[1])), *found[k]) for k, mine in owned.items()]
    return notes, lost


def _from_landing(entry: Lettering, leader: Line) -> float:
    """mm between a leader's landing and the nearer end of lettering; infinite if the landing does not lead to it."""
    end = leader.points[-1]
    onward = end - leader.points[-2]
    near = entry.start if onward[0] > 0 else entry.end
    gap = float((near - end)[0] * np.sign(onward[0]))
    return float(np.linalg.norm(near - end)) if -0.1 < gap < 3.0 else math.inf


def circles_at(sheet: Sheet, point: Array) -> list[Circle]:
    """Circles and arcs of the drawing that pass through a point."""
    return [circle for circle in sheet.circles
            if abs(float(np.linalg.norm(point - circle.centre)) - circle.radius) < 0.05
            and float(np.linalg.norm(circle.line.points - point, axis=1).min()) < 0.06 * circle.radius + 0.1]


def circle_at(sheet: Sheet, point: Array) -> Circle:
    """The first of them; a leader that ends at none is a fault of the sheet."""
    found = circles_at(sheet, point)
    assert found, f"no circle or arc at {point[0]:.1f}, {point[1]:.1f}"
    return found[0]
