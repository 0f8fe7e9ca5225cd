"""A reader of finished sheets that knows nothing of the program: lines, arrowheads and lettering of a PDF page, in mm.

Sheet millimetres, origin at the lower left corner, y up. What is dashed, how thick a line is and where a letter stands is
taken from the file; what belongs to what is found by geometry alone, as a draughtsman with a rule would.
"""

from __future__ import annotations

import io
import math
import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cached_property

import numpy as np
import pdfplumber
import shapely
from numpy.typing import NDArray

Array = NDArray[np.float64]
Box = tuple[float, float, float, float]
MM = 25.4 / 72
TITLES = {
    "FRONT VIEW": "front", "TOP VIEW": "top", "SIDE VIEW FROM THE LEFT": "left", "SIDE VIEW FROM THE RIGHT": "right",
    "FRONT ELEVATION": "front", "PLAN": "top", "END ELEVATION FROM THE LEFT": "left", "END ELEVATION FROM THE RIGHT": "right",
}
"""What stands under the views, in either way that courses call them (common practice, no source)."""
NEAR = 0.03          # mm: nearer is the same place (paper coordinates are rounded to a tenth of a micron)


@dataclass(frozen=True, eq=False)
class Line:
    """A stroke. ``points`` (k, 2): its corners, or points along its curves; ``dash``: lengths in mm, () if it is solid."""

    points: Array
    width: float
    dash: tuple[float, ...]
    curved: bool
    closed: bool
    phase: float = 0.0      # mm of the dashes that lie before the line's start

    @property
    def straight(self) -> bool:
        return len(self.points) == 2

    @property
    def vector(self) -> Array:
        return np.asarray(self.points[-1] - self.points[0])

    @cached_property
    def length(self) -> float:
        return float(np.linalg.norm(np.diff(self.points, axis=0), axis=1).sum())

    @cached_property
    def unit(self) -> Array:
        return np.asarray(self.vector / np.linalg.norm(self.vector))

    @cached_property
    def string(self) -> shapely.LineString:
        return shapely.LineString(self.points)

    def off(self, point: Array) -> float:
        """Distance of a point from the endless line."""
        (x, y), (ax, ay), (ux, uy) = point, self.points[0], self.unit
        return abs(float(ux * (y - ay) - uy * (x - ax)))

    def along(self, point: Array) -> float:
        """How far along the line, from its start, a point lies."""
        (x, y), (ax, ay), (ux, uy) = point, self.points[0], self.unit
        return float(ux * (x - ax) + uy * (y - ay))


@dataclass(frozen=True, eq=False)
class Arrow:
    """A filled triangle: ``tip``, ``base`` (the middle of its back) and ``width`` across the back."""

    tip: Array
    base: Array
    width: float

    @property
    def length(self) -> float:
        return float(np.linalg.norm(self.tip - self.base))

    @property
    def way(self) -> Array:
        """Unit vector in which it points."""
        return (self.tip - self.base) / self.length


@dataclass(frozen=True, eq=False)
class Lettering:
    """One line of lettering: from ``start`` to ``end`` on its base line; ``up``: unit; ``size`` of the type, mm."""

    text: str
    start: Array
    end: Array
    up: Array
    size: float

    @property
    def middle(self) -> Array:
        return (self.start + self.end) / 2

    @property
    def angle(self) -> float:
        """Degrees from level, from -180 to 180."""
        across = self.end - self.start
        return math.degrees(math.atan2(across[1], across[0]))


@dataclass(frozen=True, eq=False)
class Circle:
    """A circle or circular arc of the drawing."""

    centre: Array
    radius: float
    line: Line


@dataclass(frozen=True, eq=False)
class Sheet:
    """One page."""

    width: float
    height: float
    lines: tuple[Line, ...]
    arrows: tuple[Arrow, ...]
    lettering: tuple[Lettering, ...]

    @cached_property
    def scale(self) -> float:
        """Paper mm for one mm of the part, as the title block says."""
        [text] = [text for entry in self.lettering for text in re.findall(r"^(\d+:\d+)$", entry.text)]
        drawn, true = text.split(":")
        return int(drawn) / int(true)

    @cached_property
    def circles(self) -> tuple[Circle, ...]:
        """Wide curves that are circles or arcs of circles."""
        fitted = ((line, circle_through(line.points)) for line in self.lines if line.curved and abs(line.width - 0.5) < 1e-3)
        return tuple(Circle(found[0], found[1], line) for line, found in fitted if found is not None)

    @cached_property
    def thin(self) -> tuple[Line, ...]:
        """Solid narrow lines: dimension lines, extension lines, leaders."""
        return tuple(line for line in self.lines if not line.dash and abs(line.width - 0.25) < 1e-3)

    @cached_property
    def wide(self) -> tuple[Line, ...]:
        """Visible lines (and the outer lines of the title block)."""
        return tuple(line for line in self.lines if not line.dash and abs(line.width - 0.5) < 1e-3)

    @cached_property
    def pictures(self) -> tuple[Box, ...]:
        """Boxes (x0, y0, x1, y1) round visible lines that belong together: the views, the pictorial, the title block."""
        boxes = [(*line.points.min(axis=0).tolist(), *line.points.max(axis=0).tolist()) for line in self.wide]
        merged: list[Box] = []
        for box in boxes:
            while met := [other for other in merged if _meet(box, other)]:
                merged = [other for other in merged if other not in met]
                both = np.array([box, *met])
                box = (*both[:, :2].min(axis=0).tolist(), *both[:, 2:].max(axis=0).tolist())
            merged.append(box)
        return tuple(sorted(merged))

    @cached_property
    def views(self) -> dict[str, Box]:
        """The box of each view by its title, which stands under it (over it only if there is nothing above): front, top, ..."""
        found = {}
        for entry in self.lettering:
            if name := TITLES.get(entry.text):
                column = [box for box in self.pictures if box[0] < entry.end[0] and entry.start[0] < box[2]]
                above = [box for box in column if 0 < box[1] - entry.start[1] < 50]
                below = [box for box in column if box[3] < entry.start[1]]
                found[name] = min(above, key=lambda box: box[1]) if above else max(below, key=lambda box: box[3])
        return found


def _meet(one: Box, other: Box) -> bool:
    return one[0] < other[2] + NEAR and other[0] < one[2] + NEAR and one[1] < other[3] + NEAR and other[1] < one[3] + NEAR


def read(data: bytes, page: int = 0) -> Sheet:
    """Read one page of a PDF file."""
    with pdfplumber.open(io.BytesIO(data)) as pdf:
        found = pdf.pages[page]
        height = float(found.height)
        shapes = [*found.lines, *found.curves, *found.rects]
        lines = tuple(line for shape in shapes if shape["stroke"] for line in _lines(shape, height))
        fills = [_corners(shape, height) for shape in shapes if shape["fill"] and not shape["stroke"]]
        arrows = tuple(_arrow(corners) for corners in fills if len(corners) == 3)
        return Sheet(float(found.width) * MM, height * MM, lines, arrows, tuple(_lettering(found.chars)))


def _lines(shape: dict, height: float) -> Iterator[Line]:
    points: list[Array] = []
    curved = closed = False
    for operator, *given in shape["path"]:
        here = [np.array([x, height - y]) * MM for x, y in given]
        if operator in ("m", "l"):
            points += here
        elif operator == "c":
            curved = True
            points += _bezier(points[-1], *here)
        elif operator == "h":
            closed = True
            points += points[:1]
    kept = [point for k, point in enumerate(points) if k == 0 or np.linalg.norm(point - points[k - 1]) > 1e-6]
    lengths, phase = shape.get("dash") or ((), 0)
    if len(kept) > 1:
        closed = closed or float(np.linalg.norm(kept[0] - kept[-1])) < 1e-3
        yield Line(np.array(kept), shape["linewidth"] * MM, tuple(length * MM for length in lengths), curved, closed, phase * MM)


def _bezier(a: Array, b: Array, c: Array, d: Array) -> list[Array]:
    t = np.linspace(0, 1, 17)[1:, None]
    return list((1 - t) ** 3 * a + 3 * t * (1 - t) ** 2 * b + 3 * t**2 * (1 - t) * c + t**3 * d)


def _corners(shape: dict, height: float) -> list[Array]:
    return [np.array([x, height - y]) * MM for operator, *given in shape["path"] if operator in ("m", "l") for x, y in given]


def _arrow(corners: list[Array]) -> Arrow:
    """The tip is the corner opposite the shortest side."""
    sides = [float(np.linalg.norm(corners[(k + 1) % 3] - corners[(k + 2) % 3])) for k in range(3)]
    tip = int(np.argmin(sides))
    one, other = corners[(tip + 1) % 3], corners[(tip + 2) % 3]
    return Arrow(corners[tip], (one + other) / 2, sides[tip])


def _lettering(chars: Iterable[dict]) -> Iterator[Lettering]:
    """Letters that follow each other on one base line, as one line of lettering."""
    run: list[dict] = []
    for char in chars:
        if run and not _follows(run[-1], char):
            yield _entry(run)
            run = []
        run.append(char)
    if run:
        yield _entry(run)


def _origin(char: dict) -> Array:
    return np.array(char["matrix"][4:])


def _step(char: dict) -> Array:
    return np.array(char["matrix"][:2]) * char["adv"]


def _follows(before: dict, char: dict) -> bool:
    if before["fontname"] != char["fontname"] or before["matrix"][:4] != char["matrix"][:4]:
        return False
    ax, ay, _, _, x, y = before["matrix"]
    gap = math.hypot(x + before["adv"] * ax - char["matrix"][4], y + before["adv"] * ay - char["matrix"][5])
    return gap < 0.3 and abs(_size(before) - _size(char)) < 0.01


def _size(char: dict) -> float:
    """Size of the type in points, however the letters are turned or sheared: a letter's box holds its advance and its height."""
    ax, ay, ux, uy = map(abs, char["matrix"][:4])
    high = (char["y1"] - char["y0"] - char["adv"] * ay) / uy if uy > ux else (char["x1"] - char["x0"] - char["adv"] * ax) / ux
    return float(high)


def _entry(run: list[dict]) -> Lettering:
    up = np.array(run[0]["matrix"][2:4])
    return Lettering("".join(char["text"] for char in run), _origin(run[0]) * MM, (_origin(run[-1]) + _step(run[-1])) * MM,
                     up / np.linalg.norm(up), _size(run[0]) * MM)


def circle_through(points: Array) -> tuple[Array, float] | None:
    """Centre and radius of the circle on which all points lie; None if they lie on none."""
    rows = np.column_stack([2 * points, np.ones(len(points))])
    (x, y, c), *_ = np.linalg.lstsq(rows, (points**2).sum(axis=1), rcond=None)
    centre, square = np.array([x, y]), c + x * x + y * y
    if square <= 0 or square > 1e5:
        return None
    radius = math.sqrt(square)
    return (centre, radius) if np.abs(np.linalg.norm(points - centre, axis=1) - radius).max() < 0.01 else None
