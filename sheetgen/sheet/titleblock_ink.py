"""A title block filled in: block and values -> marks, placed in the corner of the frame. Sheet mm."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from types import MappingProxyType

import numpy as np

from sheetgen.faults import Fault, Place
from sheetgen.ink import LetteringError, Mark, Pen, Stroke, Vector, arc_curve, enlarged, moved
from sheetgen.sheet.celltext import EDGE, SIDE, label_marks, text_marks
from sheetgen.sheet.codebox import beside_marks, code_marks, code_place
from sheetgen.sheet.paper import Box, Paper
from sheetgen.sheet.rules import rules_between
from sheetgen.sheet.symbol import Projection, symbol_marks, symbol_width
from sheetgen.templating import Crest, TemplateError, TitleBlock, TitleBlockValues, Wording
from sheetgen.templating.phrases import PhraseError
from sheetgen.templating.titleblock import Cell, FreeLine

LEAST_SYMBOL, MOST_SYMBOL = 7.0, 12.0
"""mm, heights of the projection symbol that can be read and that do not shout."""

CREST_MARGIN = 1.0
"""mm between a crest and the lines of its cell."""

NOWHERE: Mapping[str, Place] = MappingProxyType({})


def titleblock_box(block: TitleBlock, paper: Paper) -> Box:
    """Return the part of the drawing space that the block takes, at its lower right corner, with a code that stands beside it."""
    x0, _, _, y1 = code_place(block).beside or (0.0, 0.0, 0.0, 0.0)
    return (paper.x1 - block.width + x0, paper.y0, paper.x1, paper.y0 + max(block.height, y1))


def ruled_marks(block: TitleBlock, wording: Wording, projection: Projection, corner: Vector) -> list[Mark]:
    """Return what a block looks like whatever is filled in: its lines, its labels, the projection symbol and the crest, its
    lower right corner at ``corner``, the frame's lower right one.

    The frame itself is the block's right and lower border, so only the other two are drawn.

    Raises: TemplateError naming every cell whose label or symbol does not fit.
    """
    width, height = block.width, block.height
    marks: list[Mark] = [Stroke(np.array([(0.0, 0.0), (0.0, height), (width, height)]), Pen.BORDER)]
    ruled = (cell.box for cell in block.cells if cell.ruled)
    marks += [Stroke(np.array(rule).reshape(2, 2), Pen.TABLE) for rule in rules_between(ruled, width, height)]
    marks += [_piece_mark(piece) for piece in block.pieces]
    marks += beside_marks(block)
    marks += _in_cells(block, lambda cell: [
        *label_marks(cell, _label(cell, wording)), *_symbol(cell, projection), *_crest(cell, block.crest)])
    return moved(marks, corner[0] - width, corner[1])


def filled_marks(
    block: TitleBlock, values: TitleBlockValues, corner: Vector, places: Mapping[str, Place] = NOWHERE
) -> list[Mark]:
    """Return the ``values`` filled into a block, its lower right corner at ``corner``; ``places``: where values, by name, are
    said, for who must change them.

    Raises: TemplateError naming, for every cell whose text does not fit or cannot be lettered, the place of the value that is to
    blame or else the cell.
    """
    shown = values.by_name()

    def place(cell: Cell) -> Place | None:
        return next((places[name] for name in _to_blame(cell, shown) if name in places), None)

    marks = _in_cells(block, lambda cell: text_marks(cell, cell.text.render(shown)) if cell.text else [], place)
    return moved(marks, corner[0] - block.width, corner[1])


def coded_marks(block: TitleBlock, code: str, corner: Vector, places: Mapping[str, Place] = NOWHERE) -> list[Mark]:
    """Return a sheet's code as a figure, and as text if no cell of the block shows it; corner and places as of ``filled_marks``.

    Raises: TemplateError for a code too long for the room that it has as text.
    """
    try:
        marks = code_marks(code, block)
    except LetteringError as error:
        place = places.get("number", Place(block.file, 0, "cells"))
        raise TemplateError([Fault(*place, str(error), 'a cell with text: "{{ number }}"')]) from None
    return moved(marks, corner[0] - block.width, corner[1])


def _to_blame(cell: Cell, shown: Mapping[str, object]) -> Iterator[str]:
    """The values that a cell's text is made of, the longest first: by it the text is too long."""
    text = cell.text
    if text is not None:
        for name in sorted(text.names, key=lambda name: (-len(str(shown[name])), name)):
            try:
                if text.render({**shown, name: ""}) != text.render(shown):
                    yield name
            except PhraseError:
                yield name


def _in_cells(
    block: TitleBlock, drawn: Callable[[Cell], Sequence[Mark]], place: Callable[[Cell], Place | None] = lambda _: None
) -> list[Mark]:
    """What is ``drawn`` in each cell; ``place``: where that is said, if not in the block.

    Raises: TemplateError with the faults of all cells.
    """
    marks: list[Mark] = []
    faults: list[Fault] = []
    for cell in block.cells:
        try:
            marks += drawn(cell)
        except LetteringError as error:
            wanted = "a text that fits, a wider cell or smaller lettering" if error.width else "signs of the lettering"
            faults.append(_told(block, cell, place(cell), str(error), wanted))
        except PhraseError as error:
            faults.append(Fault(block.file, cell.line, f"{cell.name}.text", error.found, error.wanted))
    if faults:
        raise TemplateError(faults)
    return marks


def _told(block: TitleBlock, cell: Cell, place: Place | None, found: str, wanted: str) -> Fault:
    if place is None:
        return Fault(block.file, cell.line, cell.name, found, wanted)
    return Fault(*place, found, f"{wanted}: it stands in {cell.name} of {block.file}, line {cell.line}")


def _label(cell: Cell, wording: Wording) -> str:
    return wording.render(f"labels.{cell.label}") if cell.label else cell.own_label


def _symbol(cell: Cell, projection: Projection) -> list[Mark]:
    if cell.symbol != "projection":
        return []
    x, y, width, height = cell.box
    size = min(MOST_SYMBOL, height - 2 * EDGE, (width - 2 * SIDE) / symbol_width(1.0))
    if size < LEAST_SYMBOL:
        raise LetteringError(f"a cell for a projection symbol only {size:.1f} mm high", cell.name, size)
    return symbol_marks(projection, (x + width / 2, y + height / 2), size)


def _crest(cell: Cell, crest: Crest | None) -> list[Mark]:
    """The crest, as large as its cell allows, in the middle of it."""
    if cell.symbol != "crest" or crest is None:
        return []
    x, y, width, height = cell.box
    factor = min((width - 2 * CREST_MARGIN) / crest.width, (height - 2 * CREST_MARGIN) / crest.height)
    return moved(enlarged(crest.marks, factor), x + (width - factor * crest.width) / 2, y + (height - factor * crest.height) / 2)


def _piece_mark(piece: FreeLine) -> Stroke:
    pen = Pen.BORDER if piece.thick else Pen.TABLE
    if piece.path:
        return Stroke(np.array(piece.path).reshape(-1, 2), pen)
    x, y, radius, start, end = piece.arc
    curve = arc_curve(np.array([x, y]), np.array([radius, 0.0]), np.array([0.0, radius]),
                      math.radians(start), math.radians(end))
    return Stroke(curve, pen, curved=True)
