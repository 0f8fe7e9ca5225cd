"""Marks as short text, for pictures in a page: a writer beside PDF and SVG. A page's script draws them (``sets/packs/page``).

A picture is a run of whole numbers (``signs.py``), and after a line end its texts, one a line. Marks stand in their order; those
alike one after another share what they have in common, and every point is told by how far it lies from the one before, in
hundredths of a millimetre. What lettering looks like is told apart, by ``glyphs.py``. Dashes must be fitted already; what tells
how to fit them, gaps at the ends, is left out.
"""

from __future__ import annotations

from base64 import b64decode, b64encode
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from itertools import groupby

import numpy as np

from sheetgen.geometry import Array
from sheetgen.ink.lettering import checked, text_start
from sheetgen.ink.marks import Colour, Face, Fill, Mark, Pen, Picture, Shape, Stroke, Text
from sheetgen.ink.numbers import paper
from sheetgen.ink.signs import folded, numbers_of, signs_of, unfolded
from sheetgen.units import PAPER_DIGITS

PER_MM = 100
"""Steps in a millimetre in which points are told."""

FINE, DIRECTION, TONES = int(10**PAPER_DIGITS), 1_000_000, 255
"""Steps of lengths that repeat, such as dashes and heights, in a millimetre; of directions, and of tones."""

STROKE, FILL, TEXT, SHAPE, PICTURE = range(5)

PENS = tuple(Pen)
"""In the order of their numbers: whoever keeps a picture keeps with it what the pens look like."""

FACES = (Face.REGULAR, Face.NARROW)
ENDS, CORNERS = ("butt", "round", "square"), ("miter", "round", "bevel")

UPRIGHT = ((1.0, 0.0), (0.0, 1.0))
"""Directions of lettering that lies as it is read."""


def packed(marks: Iterable[Mark]) -> str:
    """Marks as text. Raises: LetteringError for a sign that the lettering lacks, ValueError for a mark off any paper.

    >>> packed([Fill(np.array([[0.0, 0.0], [1.0, 0.0], [0.5, 0.02]]))])
    'BADBAAoGAjDE'
    """
    plain = [_plain(mark) for mark in marks if not (isinstance(mark, Text) and not mark.text.strip())]
    numbers: list[int] = []
    texts: list[str] = []
    last = (0, 0)
    for head, group in groupby(plain, _head):
        same = list(group)
        numbers += [*head, len(same)]
        for mark in same:
            last = _put(mark, numbers, texts, last)
    return "\n".join([signs_of(numbers), *texts])


def unpacked(text: str) -> list[Mark]:
    """The marks of a picture, within half a hundredth of a millimetre; lettering with its anchor at the start.

    Raises: ValueError for a text that ``packed`` did not write.
    """
    first, *texts = text.split("\n")
    numbers, words = numbers_of(first), iter(texts)
    marks: list[Mark] = []
    last = (0, 0)
    try:
        for sort in numbers:
            read = _READERS[sort](numbers)
            for _ in range(next(numbers)):
                mark, last = read(last, words)
                marks.append(mark)
    except (StopIteration, IndexError):
        raise ValueError("no picture, or half of one") from None
    if next(words, None) is not None:
        raise ValueError("a picture with texts to spare")
    return marks


def _plain(mark: Mark) -> Mark:
    """A mark as it is told: lettering by its start, cleaned."""
    if isinstance(mark, Text):
        return replace(mark, text=checked(mark.text, mark.face), at=text_start(mark), anchor="start")
    return mark


def _fine(value: float) -> int:
    return round(value * FINE)


def _tones(colour: Colour | None) -> tuple[int, ...]:
    """0 for none, else 1 and the parts."""
    return (0,) if colour is None else (1, *(round(TONES * part) for part in colour))


def _head(mark: Mark) -> tuple[int, ...]:
    """What marks alike have in common, as it is told."""
    if isinstance(mark, Stroke):
        dashes = (len(mark.dash), *map(_fine, mark.dash), _fine(mark.phase)) if mark.dash else (0,)
        return STROKE, PENS.index(mark.pen), mark.curved + 2 * mark.closed, *dashes, len(mark.points)
    if isinstance(mark, Fill):
        return FILL, _fine(min(max(mark.shade, 0.0), 1.0)), len(mark.points)
    if isinstance(mark, Text):
        ways = () if (mark.along, mark.up) == UPRIGHT else (*mark.along, *mark.up)
        turned = tuple(folded(round(part * DIRECTION)) for part in ways)
        return TEXT, FACES.index(mark.face), _fine(mark.height), len(turned), *turned
    if isinstance(mark, Shape):
        rim = () if mark.line is None else (_fine(mark.width), ENDS.index(mark.ends), CORNERS.index(mark.corners))
        return SHAPE, int(mark.even_odd), *_tones(mark.fill), *_tones(mark.line), *rim
    return (PICTURE,)


def _put(mark: Mark, numbers: list[int], texts: list[str], last: tuple[int, int]) -> tuple[int, int]:
    """Tell what is a mark's own; return the point at which it ends."""
    if isinstance(mark, Text):
        texts.append(mark.text)
        return _put_points(np.array([mark.at]), numbers, last)
    if isinstance(mark, Shape):
        numbers += [len(mark.runs), *(part for count, closed in mark.runs for part in (count, int(closed)))]
    elif isinstance(mark, Picture):
        texts.append(b64encode(mark.png).decode())
    return _put_points(mark.points, numbers, last)


def _put_points(points: Array, numbers: list[int], last: tuple[int, int]) -> tuple[int, int]:
    steps = np.rint(paper(points) * PER_MM).astype(int).tolist()
    for x, y in steps:
        numbers += [folded(x - last[0]), folded(y - last[1])]
        last = x, y
    return last


class _Reader:
    """Reads marks alike, of which it has read already what they have in common."""

    def __init__(self, numbers: Iterator[int]) -> None:
        self.numbers = numbers

    def fine(self) -> float:
        return next(self.numbers) / FINE

    def colour(self) -> Colour | None:
        if not next(self.numbers):
            return None
        red, green, blue = (next(self.numbers) / TONES for _ in range(3))
        return red, green, blue

    def points(self, count: int, last: tuple[int, int]) -> tuple[Array, tuple[int, int]]:
        found: list[tuple[int, int]] = []
        for _ in range(count):
            last = last[0] + unfolded(next(self.numbers)), last[1] + unfolded(next(self.numbers))
            found.append(last)
        return np.array(found, float).reshape(-1, 2) / PER_MM, last


class _Strokes(_Reader):
    def __init__(self, numbers: Iterator[int]) -> None:
        super().__init__(numbers)
        self.pen, flags = PENS[next(numbers)], next(numbers)
        self.curved, self.closed = bool(flags & 1), bool(flags & 2)
        self.dash = tuple(self.fine() for _ in range(next(numbers)))
        self.phase = self.fine() if self.dash else 0.0
        self.count = next(numbers)

    def __call__(self, last: tuple[int, int], _: Iterator[str]) -> tuple[Mark, tuple[int, int]]:
        points, last = self.points(self.count, last)
        return Stroke(points, self.pen, self.curved, self.closed, dash=self.dash, phase=self.phase), last


class _Fills(_Reader):
    def __init__(self, numbers: Iterator[int]) -> None:
        super().__init__(numbers)
        self.shade, self.count = self.fine(), next(numbers)

    def __call__(self, last: tuple[int, int], _: Iterator[str]) -> tuple[Mark, tuple[int, int]]:
        points, last = self.points(self.count, last)
        return Fill(points, self.shade), last


class _Texts(_Reader):
    def __init__(self, numbers: Iterator[int]) -> None:
        super().__init__(numbers)
        self.face, self.height = FACES[next(numbers)], self.fine()
        turned = [unfolded(next(numbers)) / DIRECTION for _ in range(next(numbers))]
        self.along, self.up = ((turned[0], turned[1]), (turned[2], turned[3])) if turned else UPRIGHT

    def __call__(self, last: tuple[int, int], words: Iterator[str]) -> tuple[Mark, tuple[int, int]]:
        points, last = self.points(1, last)
        x, y = points[0].tolist()
        return Text(next(words), (x, y), self.height, self.along, self.up, "start", self.face), last


class _Shapes(_Reader):
    def __init__(self, numbers: Iterator[int]) -> None:
        super().__init__(numbers)
        self.even_odd, self.fill, self.line = bool(next(numbers)), self.colour(), self.colour()
        self.width, self.ends, self.corners = 0.0, ENDS[0], CORNERS[0]
        if self.line is not None:
            self.width, self.ends, self.corners = self.fine(), ENDS[next(numbers)], CORNERS[next(numbers)]

    def __call__(self, last: tuple[int, int], _: Iterator[str]) -> tuple[Mark, tuple[int, int]]:
        runs = tuple((next(self.numbers), bool(next(self.numbers))) for _ in range(next(self.numbers)))
        points, last = self.points(sum(count for count, _ in runs), last)
        return Shape(points, runs, self.fill, self.line, self.width, self.even_odd, self.ends, self.corners), last


class _Pictures(_Reader):
    def __call__(self, last: tuple[int, int], words: Iterator[str]) -> tuple[Mark, tuple[int, int]]:
        points, last = self.points(2, last)
        return Picture(points, b64decode(next(words), validate=True)), last


_READERS: Sequence[type[_Strokes | _Fills | _Texts | _Shapes | _Pictures]] = (_Strokes, _Fills, _Texts, _Shapes, _Pictures)
