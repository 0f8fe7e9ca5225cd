"""The code box: a printed code as a figure that a camera reads, and as text where no cell of the title block shows it. Sheet mm.

The figure is a QR code after ISO/IEC 18004 (from memory: level M mends about 15 % of a figure; a quiet zone of four modules is
kept all round; version 1 has 21 x 21 modules and holds 20 capitals and digits at that level).
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
import segno

from sheetgen.codes import scanned
from sheetgen.ink import Face, Fill, LetteringError, Mark, Pen, Stroke, Text, text_width
from sheetgen.sheet.paper import Box
from sheetgen.templating import TitleBlock
from sheetgen.templating.titleblock import CODE_BOX
from sheetgen.units import EXACT

MODULE = 0.6
"""mm of a module where the figure is of version 1, as for all codes but those in words: two dots of a scan at 100 dpi and more,
which a telephone reads from a photocopy (common practice, no source)."""

QUIET = 4
"""Modules kept free round the figure."""

ROOM = 29 * MODULE
"""mm of the figure of version 1 with its quiet zone; what has more modules has smaller ones."""

FRAME_INK, RULE_INK = 0.35, 0.25
"""mm by which a box's sides reach into it: half a frame's line; half a thick rule, or a thin one and a little."""

HEIGHTS = (2.5, 1.8)
"""mm of the lettering of a code as text."""

SIDE, EDGE, PITCH = 1.0, 1.5, 1.5
"""mm kept beside, and over and under a code as text; and from one base line to the next, in heights."""

LIFT = 0.5
"""mm by which the text stands over the middle of its box: the frame under it is thick, the quiet zone over it is free."""

NEARLY = 10.0
"""mm by which a block may be higher than what stands beside it: both then end in one line."""

TEXT_ROOM = 2 * EDGE + (1 + 2 * PITCH) * HEIGHTS[0]
"""mm for three lines: the groups of a code."""


@dataclass(frozen=True, slots=True)
class CodePlace:
    """Where a sheet's code stands, block mm. ``figure``: its box; ``text``: the box of the code as text, if no cell shows it;
    ``beside``: what stands at the block's left, and is kept free with it."""

    figure: Box
    text: Box | None = None
    beside: Box | None = None


def code_place(block: TitleBlock) -> CodePlace:
    """In the block's own box; in one that stands beside the block if it has none. The text, if no cell shows the number, under
    the figure if there is room, else beside the block."""
    own = next((cell.box for cell in block.cells if cell.symbol == "code"), None)
    shown = any(cell.text and "number" in cell.text.names for cell in block.cells)
    foot = 0.0 if shown else TEXT_ROOM
    if own is None:
        high = foot + CODE_BOX
        high = block.height if high < block.height < high + NEARLY else high
        text = None if shown else (-CODE_BOX, 0.0, 0.0, foot)
        return CodePlace((-CODE_BOX, foot, 0.0, high), text, (-CODE_BOX, 0.0, 0.0, high))
    x0, y0, x1, y1 = own[0], own[1], own[0] + own[2], own[1] + own[3]
    if shown:
        return CodePlace((x0, y0, x1, y1))
    if own[3] >= CODE_BOX + foot:
        return CodePlace((x0, y0 + foot, x1, y1), (x0, y0, x1, y0 + foot))
    beside = (-CODE_BOX, 0.0, 0.0, foot)
    return CodePlace((x0, y0, x1, y1), beside, beside)


def beside_marks(block: TitleBlock) -> list[Mark]:
    """The border of what stands beside a block, in block mm: its right side is the block's own as far up as that goes."""
    beside = code_place(block).beside
    if beside is None:
        return []
    x0, y0, x1, y1 = beside
    top = [(x1, y1), (x1, block.height)] if y1 > block.height else [(x1, y1)]
    return [Stroke(np.array([(x0, y0), (x0, y1), *top]), Pen.BORDER)]


def code_marks(code: str, block: TitleBlock) -> list[Mark]:
    """A code as figure, and as text if no cell shows it, in block mm. Raises: LetteringError for a text too long for its room."""
    if not code:
        return []
    place = code_place(block)
    return [*_figure(scanned(code), _clear(place.figure, block)), *(_text_marks(code.upper(), place.text) if place.text else ())]


def _clear(box: Box, block: TitleBlock) -> Box:
    """What the lines round a box leave of it."""
    x0, y0, x1, y1 = box
    right = FRAME_INK if x1 > block.width - EXACT else RULE_INK
    low = FRAME_INK if y0 < EXACT else RULE_INK
    return x0 + RULE_INK, y0 + low, x1 - right, y1 - RULE_INK


def _figure(text: str, box: Box) -> Iterator[Fill]:
    """The figure of a text in the middle of a box."""
    rectangles, side = _modules(text)
    module = ROOM / (side + 2 * QUIET)
    corner = np.array([(box[0] + box[2] - side * module) / 2, (box[1] + box[3] + side * module) / 2])
    for column, row, across, down in rectangles:
        x0, y1 = corner + np.array([column, -row]) * module
        x1, y0 = x0 + across * module, y1 - down * module
        yield Fill(np.array([(x0, y0), (x1, y0), (x1, y1), (x0, y1)]))


@lru_cache(maxsize=64)
def _modules(text: str) -> tuple[tuple[tuple[int, int, int, int], ...], int]:
    """The black modules of a text's figure as rectangles: column, row, how many across and down; and the modules of a side.

    Neighbours in a row are one, and so are equal ones in rows that follow each other: fewer marks, and no seams on screens.
    """
    figure = segno.make(text, error="m", micro=False, boost_error=False, mode="alphanumeric")
    open_runs: dict[tuple[int, int], list[int]] = {}
    done: list[tuple[int, int, int, int]] = []
    rows = [*figure.matrix, bytearray(len(figure.matrix))]       # a row without black ends them all
    for number, row in enumerate(rows):
        runs = set(_runs(row))
        for run in [run for run in open_runs if run not in runs]:
            first = open_runs.pop(run)[0]
            done.append((run[0], first, run[1], number - first))
        for run in runs:
            open_runs.setdefault(run, [number])
    return tuple(sorted(done)), len(figure.matrix)


def _runs(row: bytearray | tuple[int, ...]) -> Iterator[tuple[int, int]]:
    """Runs of black in a row: where each begins, and how many."""
    start = None
    for column, black in enumerate([*row, 0]):
        if black and start is None:
            start = column
        elif not black and start is not None:
            yield start, column - start
            start = None


def _text_marks(code: str, box: Box) -> list[Mark]:
    """A code as text in the middle of a box, broken after its hyphens."""
    x0, y0, x1, y1 = box
    room, middle = x1 - x0 - 2 * SIDE, (x0 + x1) / 2
    for height in HEIGHTS:
        for face in Face:
            lines = _broken(code, room, height, face)
            tall = height * (1 + PITCH * (len(lines) - 1))
            if tall <= y1 - y0 - 2 * EDGE + EXACT and all(text_width(line, height, face) <= room for line in lines):
                top = (y0 + y1 + tall) / 2 + LIFT - height
                return [Text(line, (middle, top - PITCH * height * row), height, anchor="middle", face=face)
                        for row, line in enumerate(lines)]
    raise LetteringError(f"the code {code!r}, too long for a box {x1 - x0:g} mm wide", code, room)


def _broken(code: str, room: float, height: float, face: Face) -> list[str]:
    """The lines of a code, each as long as its room lets it be; hyphens at their ends are left away."""
    lines = [""]
    for part in code.split("-"):
        longer = f"{lines[-1]}-{part}" if lines[-1] else part
        if lines[-1] and text_width(longer, height, face) > room:
            lines.append(part)
        else:
            lines[-1] = longer
    return lines
