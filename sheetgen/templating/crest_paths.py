"""Shapes of SVG as joined cubic Béziers: the grammar of paths, arcs, and transforms (SVG 1.1 cl. 7, 8, 9; from memory).

Nothing here knows of XML. Points are in the file's own units, y down.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np

from sheetgen.geometry import Array
from sheetgen.ink import arc_curve

MOST_POINTS = 20_000
"""Control points of all shapes of a crest."""

FARTHEST = 1e6
"""Units: larger numbers are no drawing."""

SMALL = 1e-9
"""Of a radius: an arc from end to end that short is a line."""

_NUMBER = re.compile(r"[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d{1,3})?", re.ASCII)
_BETWEEN = re.compile(r"[\s,]*", re.ASCII)
_TRANSFORM = re.compile(r"[\s,]*(matrix|translate|scale|rotate|skewX|skewY)\s*\(([^()]*)\)", re.ASCII)


class ShapeError(ValueError):
    """A text that is no shape; ``str`` says what was found, ``wanted`` what would be right."""

    def __init__(self, found: str, wanted: str) -> None:
        super().__init__(found)
        self.wanted = wanted


@dataclass(frozen=True, eq=False)
class Run:
    """Joined cubic Béziers: control points (3 k + 1, 2)."""

    points: Array
    closed: bool


def numbers_of(text: str) -> list[float]:
    """The numbers of a text, with blanks or commas between.

    >>> numbers_of("1,2 -3.5-4 .5.5")
    [1.0, 2.0, -3.5, -4.0, 0.5, 0.5]
    """
    scanner, found = _Scanner(text), list[float]()
    while not scanner.ended:
        found.append(scanner.number())
    return found


def straight(points: Sequence[tuple[float, float]], closed: bool) -> Run:
    """A polyline as Béziers."""
    pen = _Pen(points[0])
    for point in points[1:]:
        pen.line(point)
    return pen.run(closed)


def ellipse(x: float, y: float, rx: float, ry: float) -> Run:
    """A whole ellipse."""
    return Run(arc_curve(np.array([x, y]), np.array([rx, 0.0]), np.array([0.0, ry]), 0.0, 2 * math.pi), True)


def rectangle(x: float, y: float, width: float, height: float, rx: float, ry: float) -> Run:
    """A rectangle, its corners rounded by ``rx`` and ``ry``."""
    rx, ry = min(rx, width / 2), min(ry, height / 2)
    if not rx or not ry:
        return straight([(x, y), (x + width, y), (x + width, y + height), (x, y + height)], True)
    right, low = x + width, y + height
    pen = _Pen((x + rx, y))
    for side, corner in (((right - rx, y), (right, y + ry)), ((right, low - ry), (right - rx, low)),
                         ((x + rx, low), (x, low - ry)), ((x, y + ry), (x + rx, y))):
        pen.line(side)
        pen.arc(rx, ry, 0.0, False, True, corner)
    return pen.run(True)


def transform_of(text: str) -> Array:
    """The matrix (2, 3) of a transform.

    >>> transform_of("translate(3) scale(2)").tolist()
    [[2.0, 0.0, 3.0], [0.0, 2.0, 0.0]]
    """
    whole, at = np.eye(3), 0
    while match := _TRANSFORM.match(text, at):
        whole, at = whole @ np.vstack([_step(match[1], numbers_of(match[2])), [0.0, 0.0, 1.0]]), match.end()
    if text[at:].strip():
        raise ShapeError(f"the transform {text[at:at + 40]!r}", "translate, scale, rotate, skewX, skewY or matrix, with numbers")
    return whole[:2]


def _step(word: str, said: list[float]) -> Array:
    counts = {"matrix": (6,), "translate": (1, 2), "scale": (1, 2), "rotate": (1, 3), "skewX": (1,), "skewY": (1,)}[word]
    if len(said) not in counts:
        raise ShapeError(f"{len(said)} numbers for {word}", " or ".join(map(str, counts)))
    if word == "matrix":
        return np.array(said).reshape(3, 2).T
    first = said[0]
    if word == "translate":
        return np.array([[1.0, 0.0, first], [0.0, 1.0, said[1] if len(said) > 1 else 0.0]])
    if word == "scale":
        return np.array([[first, 0.0, 0.0], [0.0, said[-1], 0.0]])
    if word == "rotate":
        cos, sin = math.cos(math.radians(first)), math.sin(math.radians(first))
        x, y = said[1:] or (0.0, 0.0)
        return np.array([[cos, -sin, x - cos * x + sin * y], [sin, cos, y - sin * x - cos * y]])
    slope = math.tan(math.radians(first))
    return np.array([[1.0, slope, 0.0], [0.0, 1.0, 0.0]] if word == "skewX" else [[1.0, 0.0, 0.0], [slope, 1.0, 0.0]])


def path_of(text: str) -> list[Run]:
    """The runs of a path's ``d``. Raises: ShapeError."""
    return _Path(text).runs()


class _Scanner:
    """Reads numbers, letters and flags off a text."""

    def __init__(self, text: str) -> None:
        self.text, self.at = text, 0
        self._skip()

    @property
    def ended(self) -> bool:
        return self.at >= len(self.text)

    def _skip(self) -> None:
        match = _BETWEEN.match(self.text, self.at)
        assert match
        self.at = match.end()

    def number(self) -> float:
        match = _NUMBER.match(self.text, self.at)
        if not match or len(match[0]) > 40 or not abs(float(match[0])) <= FARTHEST:
            raise ShapeError(f"{self.text[self.at:self.at + 20]!r} in place of a number", f"a plain number up to {FARTHEST:g}")
        self.at = match.end()
        self._skip()
        return float(match[0])

    def flag(self) -> bool:
        sign = self.text[self.at:self.at + 1]
        if sign not in ("0", "1"):
            raise ShapeError(f"{sign!r} in place of a flag of an arc", "0 or 1")
        self.at += 1
        self._skip()
        return sign == "1"

    def letter(self) -> str:
        """The next letter, or none if a number comes."""
        sign = self.text[self.at:self.at + 1]
        if not (sign.isascii() and sign.isalpha()):
            return ""
        self.at += 1
        self._skip()
        return sign


class _Pen:
    """Draws one run."""

    def __init__(self, start: tuple[float, float]) -> None:
        self.start = start
        self.points = [start]

    @property
    def here(self) -> tuple[float, float]:
        return self.points[-1]

    def line(self, to: tuple[float, float]) -> None:
        (x, y), (u, v) = self.here, to
        self.curve((x + (u - x) / 3, y + (v - y) / 3), (u + (x - u) / 3, v + (y - v) / 3), to)

    def curve(self, *three: tuple[float, float]) -> None:
        self.points += three
        if len(self.points) > MOST_POINTS:
            raise ShapeError(f"more than {MOST_POINTS} points", "a simpler drawing")

    def arc(self, rx: float, ry: float, turned: float, large: bool, sweep: bool, to: tuple[float, float]) -> None:
        """An arc by its ends (SVG 1.1, appendix F.6: centre from ends, radii made as large as they must be; from memory)."""
        rx, ry, start, end = abs(rx), abs(ry), complex(*self.here), complex(*to)
        if start == end:
            return
        if not rx or not ry:
            self.line(to)
            return
        turn = complex(math.cos(math.radians(turned)), math.sin(math.radians(turned)))
        half = (start - end) / 2 * turn.conjugate()
        round_half = complex(half.real / rx, half.imag / ry)           # in a plane in which the ellipse is the unit circle
        size = abs(round_half)
        if size < SMALL:                               # an ellipse so large that its arc is straight
            self.line(to)
            return
        if size > 1:
            rx, ry, round_half, size = rx * size, ry * size, round_half / size, 1.0
        aside = math.sqrt(max(0.0, 1 / (size * size) - 1)) * (1 if large != sweep else -1)
        centre = complex(round_half.imag, -round_half.real) * aside
        first, last = round_half - centre, -round_half - centre
        begin = math.atan2(first.imag, first.real)
        angle = (math.atan2(last.imag, last.real) - begin) % (2 * math.pi)
        angle = angle if sweep else angle - 2 * math.pi
        middle = (start + end) / 2 + complex(centre.real * rx, centre.imag * ry) * turn
        a, b = turn * rx, turn * complex(0, ry)
        curve = arc_curve(np.array([middle.real, middle.imag]), np.array([a.real, a.imag]), np.array([b.real, b.imag]),
                          begin, begin + angle)
        curve[-1] = to
        self.curve(*((float(x), float(y)) for x, y in curve[1:]))

    def run(self, closed: bool) -> Run:
        if closed and self.here != self.start:
            self.line(self.start)
        return Run(np.array(self.points, float), closed)


COUNTS = {"M": 2, "L": 2, "H": 1, "V": 1, "C": 6, "S": 4, "Q": 4, "T": 2, "A": 7}
"""Numbers that each letter of a path takes."""


class _Path:
    """Reads one path. ``last``: the control point before the pen, which S and T mirror, and the letter that it comes from."""

    def __init__(self, text: str) -> None:
        self.scanner = _Scanner(text)
        self.pen: _Pen | None = None
        self.found: list[Run] = []
        self.last: tuple[str, tuple[float, float]] = ("", (0.0, 0.0))

    def runs(self) -> list[Run]:
        letter, here = "", (0.0, 0.0)
        while not self.scanner.ended:
            said = self.scanner.letter()
            if said in ("Z", "z") and self.pen is not None:
                here = self.pen.start
                self._end(closed=True)
                self.pen, letter, self.last = _Pen(here), "", ("", here)
                continue
            letter = said or {"M": "L", "m": "l"}.get(letter, letter)
            if letter.upper() not in COUNTS or (self.pen is None and letter not in "Mm"):
                raise ShapeError(f"{said or self.scanner.text[self.scanner.at:self.scanner.at + 20]!r} in a path",
                                 "M first, then L, H, V, C, S, Q, T, A or Z with their numbers")
            here = self._draw(letter, here)
        self._end(closed=False)
        return self.found

    def _end(self, closed: bool) -> None:
        if self.pen is not None and len(self.pen.points) > 1:
            self.found.append(self.pen.run(closed))

    def _draw(self, letter: str, here: tuple[float, float]) -> tuple[float, float]:
        """One step of the pen; return where it is then."""
        word, (x, y) = letter.upper(), here
        dx, dy = (x, y) if letter.islower() else (0.0, 0.0)
        read: Callable[[], float] = self.scanner.number

        def point() -> tuple[float, float]:
            return read() + dx, read() + dy

        if word == "M":
            self._end(closed=False)
            self.pen = _Pen(point())
            self.last = ("", self.pen.here)
            return self.pen.here
        assert self.pen is not None
        pen, control = self.pen, here
        before, at = self.last
        if word == "L":
            pen.line(point())
        elif word == "H":
            pen.line((read() + dx, y))
        elif word == "V":
            pen.line((x, read() + dy))
        elif word == "C":
            pen.curve(point(), control := point(), point())
        elif word == "S":
            first = _mirrored(at, here) if before in ("C", "S") else here
            pen.curve(first, control := point(), point())
        elif word == "A":
            rx, ry, turned = read(), read(), read()
            pen.arc(rx, ry, turned, self.scanner.flag(), self.scanner.flag(), point())
        else:
            control = point() if word == "Q" else (_mirrored(at, here) if before in ("Q", "T") else here)
            pen.curve(*_cubic(here, control, point()))
        self.last = (word, control)
        return pen.here


def _mirrored(point: tuple[float, float], here: tuple[float, float]) -> tuple[float, float]:
    return 2 * here[0] - point[0], 2 * here[1] - point[1]


def _cubic(start: tuple[float, float], control: tuple[float, float], end: tuple[float, float]) -> tuple[tuple[float, float], ...]:
    """A quadratic Bézier as a cubic one."""
    first, second = ((one[0] + 2 * (control[0] - one[0]) / 3, one[1] + 2 * (control[1] - one[1]) / 3) for one in (start, end))
    return first, second, end
