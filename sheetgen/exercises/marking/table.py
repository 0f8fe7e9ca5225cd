"""The table of a scheme: what is looked at, how many there are, and what they are worth. Sheet millimetres."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from sheetgen.exercises.drawing import Drawing
from sheetgen.exercises.marking.likely import sizes_on
from sheetgen.exercises.marking.record import marks_text
from sheetgen.exercises.marking.scheme import CHECKS, Part, Row, Scheme
from sheetgen.exercises.marking.shares import ladder
from sheetgen.ink import Face, Mark, Pen, Stroke, Text, fitted, text_width, wrapped
from sheetgen.sheet import Settings

COLUMNS = {"what": 0.27, "numbers": 0.115, "count": 0.08, "right": 0.355, "marks": 0.08, "given": 0.10}
"""Shares of the table's width."""

PITCH, INNER = 1.75, 1.6
"""Base lines apart, in heights of capitals: of rows, and within a text that takes several lines."""

SIDE = 1.2
"""mm between a rule and what stands beside it."""

PAD = 0.45
"""Of the height of capitals: kept free above and below the lines of a part."""

CLOSE = (0.32, 1.6)
"""The same two in a compact table."""

DETAIL = 2.5
"""mm, height of what is told under a part: the checks, and the sizes by views."""

INDENT = 3.0
"""mm by which the rows of a view stand in."""

OWN = ("arrangement", "dimensions")
"""Parts whose details are other ones for each problem."""

BETWEEN_STEPS = 1.0
"""In heights of capitals, between two steps."""

MOST_STEPS = 8
"""Steps of marks told of one row."""


@dataclass(frozen=True, eq=False)
class Block:
    """Marks whose upper left corner is (0, 0), and how much room they take."""

    marks: tuple[Mark, ...]
    width: float
    breadth: float


@dataclass(frozen=True, slots=True)
class _Line:
    """A line of the table: its cells by columns, the steps of marks ``right`` or what is said in their place; or ``detail``,
    small letters across all columns but the last two; ``top``: it begins a part, and has its marks."""

    what: str = ""
    numbers: str = ""
    count: str = ""
    right: tuple[tuple[int, int], ...] | str = ""
    marks: str = ""
    given: str = ""
    top: bool = False
    detail: str = ""


def table_of(scheme: Scheme, drawing: Drawing, settings: Settings, width: float, height: float, *, compact: bool) -> Block:
    """The table of a scheme, ``width`` mm wide in lettering of ``height``; ``compact``: closer lines, and no details.

    Raises: LetteringError for a text that has no room.
    """
    lines = [*_lines(scheme, drawing, settings, width)]
    lines, pad, pitch = ([line for line in lines if not line.detail], *CLOSE) if compact else (lines, PAD, PITCH)
    edges: list[float] = (np.cumsum([0.0, *COLUMNS.values()]) * width).tolist()
    marks, y, rules = list[Mark](), 0.0, list[float]()
    heads, sizes = (_sizes(some, edges, height, settings) for some in (lines[:1], lines[1:]))
    heads = _Sizes(*[min(heads.what, heads.numbers, heads.steps)] * 3)
    for number, line in enumerate(lines):
        tall = DETAIL if line.detail else height
        if line.top:
            y -= pad * height
            if number:
                rules.append(y)
                y -= pad * height
        else:
            y -= (INNER - 1) * DETAIL if line.detail else (pitch - 1) * height
        y -= tall
        marks += _lettered(line, edges, y, heads if number == 0 else sizes, settings)
    y -= pad * height
    marks += [Stroke(np.array([(0.0, at), (width, at)]), Pen.TABLE) for at in rules]
    marks += [Stroke(np.array([(x, 0.0), (x, y)]), Pen.TABLE) for x in edges[-3:-1]]
    frame = Stroke(np.array([(0.0, 0.0), (width, 0.0), (width, y), (0.0, y)]), Pen.GRID, closed=True)
    return Block((*marks, frame), width, -y)


@dataclass(frozen=True, slots=True)
class _Sizes:
    """mm, heights of lettering that are the same all down the table: ``what`` is looked at, where there is room for it; the
    ``numbers`` of lines, counts and marks; and the ``steps``."""

    what: float
    numbers: float
    steps: float


def _sizes(lines: Sequence[_Line], edges: Sequence[float], height: float, settings: Settings) -> _Sizes:
    """The largest, up to ``height``, at which every number and every step of the lines has room. Raises: LetteringError."""
    rooms = [high - low - 2 * SIDE for low, high in pairwise(edges)]
    cells = [(text, rooms[k]) for line in lines
             for k, text in ((1, line.numbers), (2, line.count), (4, line.marks), (5, line.given)) if text]
    numbers = min((fitted(text, room, height)[1] for text, room in cells), default=height)
    steps = [_steps(line.right, settings) for line in lines if line.right and not isinstance(line.right, str)]
    said = [fitted(line.right, rooms[3], height)[1] for line in lines if line.right and isinstance(line.right, str)]
    fits = height if all(_width(some, height) <= rooms[3] for some in steps) else DETAIL
    return _Sizes(height, numbers, min([fits, *said]))


def _lettered(line: _Line, edges: Sequence[float], y: float, sizes: _Sizes, settings: Settings) -> Iterator[Mark]:
    """One line with its base line at ``y``."""
    if line.detail:
        yield Text(line.detail, (edges[0] + SIDE + INDENT, y), DETAIL)
        return
    rooms = [high - low - 2 * SIDE for low, high in pairwise(edges)]
    indent = 0.0 if line.top else INDENT
    if line.what:
        room = rooms[0] - indent + (0.0 if line.numbers else edges[2] - edges[1])
        text, size, face = fitted(line.what, room, sizes.what)
        yield Text(text, (edges[0] + SIDE + indent, y), size, face=face)
    for k, text in ((1, line.numbers), (2, line.count), (4, line.marks), (5, line.given)):
        if text:
            text, size, face = fitted(text, rooms[k], sizes.numbers)
            yield Text(text, ((edges[k] + edges[k + 1]) / 2, y), size, anchor="middle", face=face)
    if isinstance(line.right, str):
        if line.right:
            text, size, face = fitted(line.right, rooms[3], sizes.steps)
            yield Text(text, (edges[3] + SIDE, y), size, face=face)
        return
    steps = _steps(line.right, settings)
    pitch = _pitch(steps, sizes.steps)
    yield from (Text(step, (edges[3] + SIDE + pitch * k, y), sizes.steps, face=Face.NARROW) for k, step in enumerate(steps))


def _steps(steps: Sequence[tuple[int, int]], settings: Settings) -> list[str]:
    say = settings.wording.render
    return [say("marking.step", count=count, marks=marks_text(halves)) for count, halves in steps]


def _pitch(steps: Sequence[str], height: float) -> float:
    """mm from one step to the next, the same in a row: the widest and a gap that none mistakes for a blank."""
    return max(text_width(step, height, Face.NARROW) for step in steps) + BETWEEN_STEPS * height


def _width(steps: Sequence[str], height: float) -> float:
    """mm of the steps of a row."""
    return _pitch(steps, height) * len(steps) - BETWEEN_STEPS * height


def _lines(scheme: Scheme, drawing: Drawing, settings: Settings, width: float) -> Iterator[_Line]:
    say = settings.wording.render
    room = COLUMNS["right"] * width - 2 * SIDE
    yield _Line(say("marking.part"), say("marking.numbers"), say("marking.count"),
                say("marking.off" if scheme.deducts else "marking.right"), say("marking.marks"), say("marking.given"), top=True)
    for part in scheme.parts:
        if part.view:
            yield _Line(drawing.name(part.name, settings), marks=marks_text(part.halves), top=True)
            yield from (_row_line(row, settings, room) for row in part.rows)
        else:
            [row] = part.rows
            line = _row_line(row, settings, room)
            yield _Line(line.what, line.numbers, line.count, line.right, marks_text(part.halves), top=True)
        across = sum(list(COLUMNS.values())[:4]) * width - 2 * SIDE - INDENT
        yield from (_Line(detail=each) for each in details(part, drawing, settings, across))
    yield _Line(say("marking.total"), marks=marks_text(sum(part.halves for part in scheme.parts)), top=True)


def _row_line(row: Row, settings: Settings, room: float) -> _Line:
    say = settings.wording.render
    last = row.first + row.count - 1
    numbers = ("" if not row.first else str(last) if row.count == 1 else say("marking.between", first=row.first, last=last))
    if row.off:
        right: str | tuple[tuple[int, int], ...] = say(
            "marking.at_most", marks=marks_text(row.off), most=marks_text(row.halves))
    else:
        right = _fitting(row, settings, room)
    return _Line(say(f"marking.{row.sort}"), numbers, str(row.count), right)


def _fitting(row: Row, settings: Settings, room: float) -> tuple[tuple[int, int], ...]:
    """As many steps as find room in the smallest lettering of the table."""
    for most in range(MOST_STEPS, 1, -1):
        steps = ladder(row.count, row.halves, most)
        if _width(_steps(steps, settings), DETAIL) <= room:
            return steps
    return ladder(row.count, row.halves, 1)


def own_details(scheme: Scheme, drawing: Drawing, settings: Settings, width: float) -> list[str]:
    """What is looked at in those parts without lines in which that is the problem's own, each with its name, in lines of
    ``width`` mm."""
    say, own = settings.wording.render, [part for part in scheme.parts if part.name in OWN]
    return [line for part in own for k, detail in enumerate(details(part, drawing, settings, width))
            for line in wrapped(detail if k else f"{say(f'marking.{part.name}')}: {detail}", width, DETAIL)]


def details(part: Part, drawing: Drawing, settings: Settings, width: float) -> list[str]:
    """What is looked at in a part without lines, in lines of ``width`` mm: the places of the views, the sizes on each."""
    say = settings.wording.render
    if part.name == "dimensions":
        sizes = [(drawing.name(view.view.name, settings), sizes_on(k, drawing)) for k, view in enumerate(drawing.views)]
        return [line for name, those in sizes if those for line in _packed(say("marking.sizes", view=name), those, ", ", width)]
    if part.view:
        return []
    checks = [say(f"marking.{check}", **({"projection": say(f"projection.{settings.projection}")} if check == "symbol" else {}))
              for check in CHECKS.get(part.name, ())]
    if not checks:
        return []
    return _packed("", [*_wheres(drawing, settings), *checks] if part.name == "arrangement" else checks, "; ", width)


def _packed(before: str, parts: Sequence[str], between: str, width: float) -> list[str]:
    """Parts in lines as full as they go, no part broken that has room on a line; ``before``: begins the first."""
    lines = [before]
    for number, part in enumerate(parts):
        piece = part + (between.rstrip() if number < len(parts) - 1 else "")
        longer = f"{lines[-1]} {piece}".strip()
        if lines[-1] and text_width(longer, DETAIL) > width:
            lines.append(piece)
        else:
            lines[-1] = longer
    return [short for line in lines for short in wrapped(line, width, DETAIL)]


def _wheres(drawing: Drawing, settings: Settings) -> Iterator[str]:
    """Where each view belongs, seen from the front view."""
    say, places = settings.wording.render, drawing.layout.places
    x, y = places["front"]
    for name, (u, v) in places.items():
        if name != "front":
            where = ("above" if v > y else "below") if name in ("top", "bottom") else ("right" if u > x else "left")
            yield say("marking.where", view=drawing.name(name, settings), where=where)
