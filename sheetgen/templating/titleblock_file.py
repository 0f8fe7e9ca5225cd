"""Title blocks read from YAML. Only ``load_title_block`` imports this, because pydantic takes long to start."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from pathlib import Path
from typing import Annotated, Any, ClassVar, Literal

import shapely
from annotated_types import Len
from pydantic import Field, PlainValidator

from sheetgen.faults import Fault, Place, choice, shown
from sheetgen.filekinds import read_kind
from sheetgen.ink import HEIGHTS
from sheetgen.records import Reader, Strict, number, number_of, numbers, one_of, wrong
from sheetgen.templating.crest import NO_CELL, SUFFIXES, load_crest
from sheetgen.templating.faults import TemplateError
from sheetgen.templating.files import LIMITS, beside, not_beside
from sheetgen.templating.phrases import Phrase, PhraseError, phrase
from sheetgen.templating.texts import LABELS
from sheetgen.templating.titleblock import CODE_BOX, LEAST_CREST, VALUE_NAMES, Cell, FreeLine, Rect, TitleBlock
from sheetgen.yamlines import YamlDocument, field_of

LEAST_SIZE, MOST_SIZE = (60.0, 12.0), (190.0, 80.0)
"""mm, width and height: 180 fits every paper (ISO 7200:2004, from memory); school blocks of 185 exist (SP 46, from memory)."""

LETTERING = tuple(sorted(height for height in HEIGHTS if height <= 10))
"""mm, the standard heights that fit a title block."""

USUAL_LETTERING, LEAST_LETTERING = 2.5, 1.8
"""mm, of a cell that says nothing else: its lettering, and the least it goes down to, that of ISO 3098-0:1997 (from memory)."""

SHOULD_SHOW = {"number": ("number",), "sheet": ("sheet", "sheet_of"), "document_type": ("document_type",)}
"""Values that tie a printed sheet to its answer and its set, all of them mandatory in ISO 7200:2004 (from memory), and the names
under which a cell may show them."""

MOST_CELLS, MOST_PIECES, MOST_TEXT = 60, 60, 500

TOUCH = 0.01
"""mm by which boxes may overlap and lines enter them: what is left of rounding in a template."""

TEXTS = ("title", "own_label", "text")
"""Fields that hold whatever their author says."""

YES = {"yes": True, "no": False}


def _lettering(value: Any) -> float:
    height = number_of(value)
    if height not in LETTERING:
        raise wrong(f"one of {', '.join(f'{each:g}' for each in LETTERING)} mm (ISO 3098)")
    return height


def _phrase(value: Any) -> Phrase | None:
    if not isinstance(value, str):
        raise wrong(f"a text of at most {MOST_TEXT} characters")
    try:
        return phrase(value, VALUE_NAMES) if value else None
    except PhraseError as error:
        raise wrong(error.wanted, error.found) from None


def _text(most: int) -> Any:
    def check(value: Any) -> str:
        if not isinstance(value, str) or len(value) > most:
            raise wrong(f"a text of at most {most} characters")
        return value
    return PlainValidator(check)


def _label(value: Any) -> str:
    if value not in LABELS:
        raise wrong(f"{choice(str(value), LABELS, 'one of the labels')}; words of your own stand under own_label" if isinstance(
            value, str) else "the name of a label")
    return str(value)


Box = Annotated[Any, PlainValidator(numbers(4, "four numbers: x, y, width, height in mm"))]
Lettering = Annotated[float, PlainValidator(_lettering)]
Line = Annotated[Any, PlainValidator(numbers(None, "x, y of two points or more, in mm"))]
Arc = Annotated[Any, PlainValidator(numbers(5, "five numbers: x, y, radius in mm, from, to in degrees"))]


class CellFile(Strict):
    """A cell as its file says it."""

    box: Box
    label: Annotated[str, PlainValidator(_label)] = ""
    own_label: Annotated[str, _text(60)] = ""
    text: Annotated[Phrase | None, PlainValidator(_phrase)] = None
    height: Lettering = USUAL_LETTERING
    least: Lettering = LEAST_LETTERING
    align: Literal["left", "centre", "right"] = "left"
    ruled: Annotated[str, PlainValidator(one_of(tuple(YES)))] = "yes"
    symbol: Literal["projection", "code", "crest"] | None = None

    wanted: ClassVar = {"box": "four numbers: x, y, width, height in mm"}


class GroupFile(Strict):
    """Free lines and arcs that stand together."""

    at: Annotated[Any, PlainValidator(numbers(2, "two numbers: x, y in mm"))] = (0.0, 0.0)
    pen: Literal["thin", "thick"] = "thin"
    lines: Annotated[list[Line], Len(0, MOST_PIECES), Field(default_factory=list)]
    arcs: Annotated[list[Arc], Len(0, MOST_PIECES), Field(default_factory=list)]

    wanted: ClassVar = dict.fromkeys(("lines", "arcs"), f"a list of at most {MOST_PIECES}")


class BlockFile(Strict):
    """The file of a title block."""

    title: Annotated[str, _text(60)]
    width: Annotated[float, PlainValidator(number(LEAST_SIZE[0], MOST_SIZE[0]))]
    height: Annotated[float, PlainValidator(number(LEAST_SIZE[1], MOST_SIZE[1]))]
    cells: Annotated[list[CellFile], Len(1, MOST_CELLS)]
    drawing: Annotated[list[GroupFile], Len(0, MOST_PIECES), Field(default_factory=list)]
    crest: Annotated[str, _text(60)] = ""

    wanted: ClassVar = {
        "title": "a name for the block", "width": "its width in mm", "height": "its height in mm",
        "cells": f"a list of at most {MOST_CELLS} cells, each with a box", "drawing": f"a list of at most {MOST_PIECES} groups",
    }


def read_title_block(path: Path, file: str) -> TitleBlock:
    """The title block in a file, which messages call ``file``. Raises: TemplateError with every fault."""
    return title_block_of(read_kind(path, file, "title block", LIMITS), path.stem, path.parent)


def title_block_of(document: YamlDocument, name: str, folder: Path | None) -> TitleBlock:
    """The title block called ``name`` that a ``document`` holds. ``folder``: where its crest lies; None: it is left out. Raises:
    TemplateError with every fault."""
    file = document.file
    found = Reader(document).model(BlockFile, document.data, ())
    if found is None or document.faults:
        raise TemplateError(document.faults)
    cells = tuple(_cell(document, place, cell) for place, cell in enumerate(found.cells))
    pieces = tuple(piece for place, group in enumerate(found.drawing) for piece in _pieces(document, place, group))
    block = TitleBlock(name, found.title, found.width, found.height, cells, pieces, file)
    faults = [*_misplaced(block), *_missing(block), *_disturbed(block)]
    if found.crest and folder:
        faults += _crest_faults(block, Place(file, document.line(("crest",)), "crest"), found.crest, folder)
    if faults:
        raise TemplateError(faults)
    crest = load_crest(folder / found.crest) if found.crest and folder else None
    document.remark_cut(lambda path: path[-1] in TEXTS)
    return replace(block, remarks=(*document.remarks, *_remarks(block)), crest=crest)


def _crest_faults(block: TitleBlock, place: Place, name: str, folder: Path) -> Iterator[Fault]:
    """What is wrong with naming a crest ``name``, as the file at ``place`` does."""
    if not beside(folder, name, SUFFIXES):
        yield Fault(*place, *not_beside(folder, name, "the name of an .svg or .png file beside the title block", SUFFIXES))
    if not block.takes_crest:
        yield Fault(*place, "a crest, and no cell for it", NO_CELL)


def _cell(document: YamlDocument, place: int, cell: CellFile) -> Cell:
    path = ("cells", place)
    return Cell(
        box=cell.box, line=document.line(path), name=field_of(path), label=cell.label, own_label=cell.own_label, text=cell.text,
        height=cell.height, least=min(cell.height, cell.least), align=cell.align, ruled=YES[cell.ruled],
        symbol=cell.symbol or "",
    )


def _pieces(document: YamlDocument, place: int, group: GroupFile) -> tuple[FreeLine, ...]:
    """The lines and arcs of one group, moved to where the group stands."""
    line, thick, (x, y) = document.line(("drawing", place)), group.pen == "thick", group.at
    moved = (tuple(value + (y if k % 2 else x) for k, value in enumerate(run)) for run in group.lines)
    return (*(FreeLine(thick, line, path=run) for run in moved),
            *(FreeLine(thick, line, arc=(arc[0] + x, arc[1] + y, *arc[2:])) for arc in group.arcs))


def _misplaced(block: TitleBlock) -> list[Fault]:
    """Cells that reach out of the block or into each other, and free lines that leave the block or run through a cell."""
    faults = []
    for place, cell in enumerate(block.cells):
        x, y, width, height = cell.box
        if min(width, height) <= 0 or not _inside(block, [(x, y), (x + width, y + height)]):
            wanted = f"a box inside the block's {block.width:g} x {block.height:g} mm"
            faults.append(Fault(block.file, cell.line, f"{cell.name}.box", _listed(cell.box), wanted))
        for other in block.cells[:place]:
            if _overlap(cell.box, other.box):
                found = f"{_listed(cell.box)}, which overlaps {_called(other)}"
                faults.append(Fault(block.file, cell.line, f"{cell.name}.box", found, "boxes side by side"))
    for piece in block.pieces:
        points = _points(piece)
        if not _inside(block, points) or (piece.arc and not (piece.arc[2] > 0 and 0 < abs(piece.arc[4] - piece.arc[3]) <= 360)):
            found = _listed(piece.path or piece.arc)
            faults.append(Fault(block.file, piece.line, "drawing", found, "lines and arcs inside the block"))
        crossed = [_called(cell) for cell in block.cells if _crosses(points, cell.box)]
        if crossed:
            found = f"{_listed(piece.path or piece.arc)}, which runs through {', '.join(crossed)}"
            faults.append(Fault(block.file, piece.line, "drawing", found, "lines between cells or beside them"))
    return faults


def _called(cell: Cell) -> str:
    """A cell as a message calls another than the one at fault: by what it shows, and its line."""
    what = cell.symbol or cell.label or cell.own_label or (cell.text.source if cell.text else "")
    return f"the cell {shown(what)} of line {cell.line}" if what else f"the cell of line {cell.line}"


def _missing(block: TitleBlock) -> list[Fault]:
    """What no sheet may lack: the notice and the symbol."""
    faults = []
    if not any(cell.text and "notice" in cell.text.names for cell in block.cells):
        faults.append(Fault(block.file, 0, "cells", "no practice notice", 'a cell with text: "{{ notice }}"'))
    if not any(cell.symbol == "projection" for cell in block.cells):
        faults.append(Fault(block.file, 0, "cells", "no projection symbol", "a cell with symbol: projection"))
    return faults


def _disturbed(block: TitleBlock) -> Iterator[Fault]:
    """Boxes for a code or a crest that are too small for one, or are not left free for it."""
    for cell in block.cells:
        if cell.symbol == "code" and min(cell.box[2:]) < CODE_BOX - TOUCH:
            found = f"{cell.box[2]:g} x {cell.box[3]:g} mm for a code"
            yield Fault(block.file, cell.line, f"{cell.name}.box", found, f"{CODE_BOX:g} x {CODE_BOX:g} mm or more")
        if cell.symbol == "crest" and min(cell.box[2:]) < LEAST_CREST - TOUCH:
            found = f"{cell.box[2]:g} x {cell.box[3]:g} mm for a crest"
            yield Fault(block.file, cell.line, f"{cell.name}.box", found, f"{LEAST_CREST:g} x {LEAST_CREST:g} mm or more")
        if cell.symbol in ("code", "crest") and (cell.labelled or cell.text):
            found = f"a label or text where a {cell.symbol} is to stand"
            yield Fault(block.file, cell.line, cell.name, found, "a cell of its own")


def _remarks(block: TitleBlock) -> Iterator[Fault]:
    """What a block should show and does not."""
    shown = set().union(*(cell.text.names for cell in block.cells if cell.text))
    for value, names in SHOULD_SHOW.items():
        if not shown & set(names):
            yield Fault(block.file, 0, "cells", f"no {value}", f'a cell with text: "{{{{ {value} }}}}"')


def _points(piece: FreeLine) -> list[tuple[float, float]]:
    """Points along a free line or arc, close enough to judge where it runs."""
    if piece.path:
        return list(zip(piece.path[::2], piece.path[1::2], strict=True))
    x, y, radius, start, end = piece.arc
    angles = (math.radians(start + (end - start) * step / 64) for step in range(65))
    return [(x + radius * math.cos(angle), y + radius * math.sin(angle)) for angle in angles]


def _inside(block: TitleBlock, points: Iterable[tuple[float, float]]) -> bool:
    return all(0 <= x <= block.width and 0 <= y <= block.height for x, y in points)


def _crosses(points: Sequence[tuple[float, float]], box: Rect) -> bool:
    """Whether a line through ``points`` runs through the inside of ``box``; along its sides it may run."""
    x, y, width, height = box
    if min(width, height) <= 2 * TOUCH:
        return False
    inside = shapely.box(x + TOUCH, y + TOUCH, x + width - TOUCH, y + height - TOUCH)
    return bool(shapely.LineString(points).intersects(inside))


def _overlap(a: Rect, b: Rect) -> bool:
    across = min(a[0] + a[2], b[0] + b[2]) - max(a[0], b[0])
    return across > TOUCH and min(a[1] + a[3], b[1] + b[3]) - max(a[1], b[1]) > TOUCH


def _listed(values: Sequence[float]) -> str:
    return f"[{', '.join(f'{value:g}' for value in values)}]"
