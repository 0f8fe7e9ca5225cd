"""A title block filled in: block and values -> marks, placed in the corner of the frame. Sheet mm."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from sheetgen.faults import Fault
from sheetgen.ink import LetteringError, Mark, Pen, Stroke, Vector, arc_curve, moved
from sheetgen.sheet.celltext import EDGE, SIDE, label_marks, text_marks
from sheetgen.sheet.paper import Box, Paper
from sheetgen.sheet.rules import rules_between
from sheetgen.sheet.symbol import Projection, symbol_marks, symbol_width
from sheetgen.templating import TemplateError, TitleBlock, TitleBlockValues
from sheetgen.templating.phrases import PhraseError
from sheetgen.templating.titleblock import Cell, Piece

LEAST_SYMBOL, MOST_SYMBOL = 7.0, 12.0
"""mm, heights of the projection symbol that can be read and that do not shout."""


def titleblock_box(block: TitleBlock, paper: Paper) -> Box:
    """Return the part of the drawing space that the block takes, at its lower right corner."""
    return (paper.x1 - block.width, paper.y0, paper.x1, paper.y0 + block.height)


def titleblock_marks(block: TitleBlock, values: TitleBlockValues, projection: Projection, corner: Vector) -> list[Mark]:
    """Return the block with ``values`` filled in, its lower right corner at ``corner``, the frame's lower right one.

    The frame itself is the block's right and lower border, so only the other two are drawn.

    Raises: TemplateError naming every cell whose text does not fit or cannot be lettered.
    """
    width, height = block.width, block.height
    marks: list[Mark] = [Stroke(np.array([(0.0, 0.0), (0.0, height), (width, height)]), Pen.BORDER)]
    ruled = (cell.box for cell in block.cells if cell.ruled)
    marks += [Stroke(np.array(rule).reshape(2, 2), Pen.TABLE) for rule in rules_between(ruled, width, height)]
    marks += [_piece_mark(piece) for piece in block.pieces]
    faults: list[Fault] = []
    shown = values.by_name()
    for cell in block.cells:
        try:
            marks += _cell_marks(cell, shown, projection)
        except LetteringError as error:
            wanted = "a text that fits, a wider cell or smaller lettering" if error.width else "signs of the lettering"
            faults.append(Fault(block.file, cell.line, cell.name, str(error), wanted))
        except PhraseError as error:
            faults.append(Fault(block.file, cell.line, f"{cell.name}.text", error.found, error.wanted))
    if faults:
        raise TemplateError(faults)
    return moved(marks, corner[0] - width, corner[1])


def _cell_marks(cell: Cell, shown: dict[str, object], projection: Projection) -> Sequence[Mark]:
    marks: list[Mark] = [*label_marks(cell)]
    if cell.text:
        marks += text_marks(cell, cell.text.render(shown))
    if cell.symbol:
        x, y, width, height = cell.box
        size = min(MOST_SYMBOL, height - 2 * EDGE, (width - 2 * SIDE) / symbol_width(1.0))
        if size < LEAST_SYMBOL:
            raise LetteringError(f"a cell for a projection symbol only {size:.1f} mm high", cell.name, size)
        marks += symbol_marks(projection, (x + width / 2, y + height / 2), size)
    return marks


def _piece_mark(piece: Piece) -> Stroke:
    pen = Pen.BORDER if piece.thick else Pen.TABLE
    if piece.path:
        return Stroke(np.array(piece.path).reshape(-1, 2), pen)
    x, y, radius, start, end = piece.arc
    curve = arc_curve(np.array([x, y]), np.array([radius, 0.0]), np.array([0.0, radius]),
                      math.radians(start), math.radians(end))
    return Stroke(curve, pen, curved=True)
