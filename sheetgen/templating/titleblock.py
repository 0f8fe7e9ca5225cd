"""Title blocks: a course's own block, read from a template. Block mm, origin at the block's lower left corner.

The fields are those of ISO 7200:2004 with the school's own (from memory). A template is a drawing of boxes, each with a
label and a text that may show the values of ``TitleBlockValues``.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, fields
from pathlib import Path
from typing import Literal

import shapely

from sheetgen.faults import Fault
from sheetgen.ink import HEIGHTS
from sheetgen.shared import shipped
from sheetgen.templating.faults import TemplateError
from sheetgen.templating.nodes import Form, read_nodes
from sheetgen.templating.phrases import Phrase, PhraseError, phrase

PRACTICE_NOTICE = "PRACTICE PART - NOT FOR MANUFACTURE"
"""Every sheet carries it: the parts are invented and nobody has checked that they would work."""

LEAST_SIZE, MOST_SIZE = (60.0, 12.0), (190.0, 80.0)
"""mm, width and height: 180 fits every paper (ISO 7200:2004, from memory); school blocks of 185 exist (SP 46, from memory)."""

LETTERING = tuple(sorted(height for height in HEIGHTS if height <= 10))
"""mm, the standard heights that fit a title block."""

MOST_CELLS, MOST_PIECES = 60, 60

TOUCH = 0.01
"""mm by which boxes may overlap and lines enter them: what is left of rounding in a template."""

Align = Literal["left", "centre", "right"]
Rect = tuple[float, float, float, float]
"""x, y, width, height in block mm."""


@dataclass(frozen=True, slots=True)
class TitleBlockValues:
    """What a title block can show. Blank texts leave room for handwriting."""

    school: str = ""
    course: str = ""
    title: str = ""
    document_type: str = ""
    teacher: str = ""
    student: str = ""
    group: str = ""
    date: str = ""
    number: str = ""            # identification, such as family and seed
    sheet: int = 1
    sheets: int = 1
    scale: str = "1:1"
    paper: str = "A3"
    projection: str = ""        # in words
    topic: str = ""
    status: str = ""
    language: str = "en"
    notice: str = PRACTICE_NOTICE

    def by_name(self) -> dict[str, object]:
        """The values by name, as phrases ask for them."""
        return {name: getattr(self, name) for name in VALUE_NAMES}


VALUE_NAMES = tuple(item.name for item in fields(TitleBlockValues))


@dataclass(frozen=True, slots=True)
class Cell:
    """One box of a title block. ``height``: of the lettering, mm; smaller ones are tried down to ``least``."""

    box: Rect
    line: int
    name: str
    label: str = ""
    text: Phrase | None = None
    height: float = 2.5
    least: float = 2.5
    align: Align = "left"
    ruled: bool = True
    symbol: bool = False


@dataclass(frozen=True, slots=True)
class Piece:
    """A free line or arc: ``path`` of points, or ``arc`` as centre, radius, from and to in degrees. Block mm."""

    thick: bool
    line: int
    path: tuple[float, ...] = ()
    arc: tuple[float, ...] = ()


@dataclass(frozen=True, slots=True)
class TitleBlock:
    """A title block ready to be filled in."""

    name: str
    title: str
    width: float
    height: float
    cells: tuple[Cell, ...]
    pieces: tuple[Piece, ...]
    file: str


def title_block_names() -> tuple[str, ...]:
    """Return the names of the title blocks that come with the program."""
    return tuple(sorted(path.stem for path in (shipped("templates") / "title_blocks").glob("*.yaml")))


def load_title_block(name: str | Path) -> TitleBlock:
    """Return a title block: a ``str`` is the plain name of one in ``templates/title_blocks``, a ``Path`` any YAML file.

    A name comes from a plan, which may be a stranger's, and so cannot leave the folder; a path comes from the teacher.

    Raises: TemplateError with every fault of the file.

    >>> load_title_block("harbour").width
    180.0
    """
    path, shown = _found(name)
    form = Form(read_nodes(path, shown), shown)
    form.check_keys(("title", "width", "height", "cells", "drawing"), ("title", "width", "height", "cells"))
    block = TitleBlock(
        name=path.stem,
        title=form.text("title", most=60),
        width=form.number("width", LEAST_SIZE[0], MOST_SIZE[0], MOST_SIZE[0]),
        height=form.number("height", LEAST_SIZE[1], MOST_SIZE[1], MOST_SIZE[1]),
        cells=form.items("cells", MOST_CELLS, _cell),
        pieces=tuple(piece for group in form.items("drawing", MOST_PIECES, _pieces) for piece in group),
        file=shown,
    )
    faults = [*form.faults, *_misplaced(block), *_missing(block)]
    if faults:
        raise TemplateError(faults)
    return block


def _found(name: str | Path) -> tuple[Path, str]:
    if isinstance(name, Path):
        if name.suffix != ".yaml":
            raise TemplateError([Fault(str(name), 0, "title block", f"a {name.suffix or 'nameless'} file", "a .yaml file")])
        return name, str(name)
    plain = name.removesuffix(".yaml")
    if not re.fullmatch(r"[a-z0-9][a-z0-9_-]{0,39}", plain) or plain not in title_block_names():
        wanted = f"one of {', '.join(title_block_names())}"
        raise TemplateError([Fault("templates/title_blocks", 0, "title block", repr(name[:60]), wanted)])
    return shipped("templates") / "title_blocks" / f"{plain}.yaml", f"templates/title_blocks/{plain}.yaml"


def _cell(form: Form) -> Cell:
    form.check_keys(("box", "label", "text", "height", "least", "align", "ruled", "symbol"), ("box",))
    box = form.inner("box").numbers(4, "four numbers: x, y, width, height in mm")
    height = _lettering(form, "height", 2.5)
    align = form.choice("align", ("left", "centre", "right"), "left")
    return Cell(
        box=(box[0], box[1], box[2], box[3]),
        line=form.node.line,
        name=form.name,
        label=form.text("label", most=60),
        text=_phrase(form, "text"),
        height=height,
        least=min(height, _lettering(form, "least", 2.5)),
        align="left" if align == "left" else "right" if align == "right" else "centre",
        ruled=form.choice("ruled", ("yes", "no"), "yes") == "yes",
        symbol=form.choice("symbol", ("projection",), "") == "projection",
    )


def _lettering(form: Form, key: str, default: float) -> float:
    height = form.number(key, LETTERING[0], LETTERING[-1], default)
    if height not in LETTERING:
        form.fault(key, form.fields()[key], f"one of {', '.join(f'{each:g}' for each in LETTERING)} mm (ISO 3098)")
    return height


def _phrase(form: Form, key: str) -> Phrase | None:
    source = form.text(key)
    if not source:
        return None
    try:
        return phrase(source, VALUE_NAMES)
    except PhraseError as error:
        form.fault(key, form.fields()[key], error.wanted, error.found)
        return None


def _pieces(form: Form) -> tuple[Piece, ...]:
    """The lines and arcs of one group, moved to where the group stands."""
    form.check_keys(("at", "pen", "lines", "arcs"), ())
    thick = form.choice("pen", ("thin", "thick"), "thin") == "thick"
    x, y = form.inner("at").numbers(2, "two numbers: x, y in mm") if "at" in form.fields() else (0.0, 0.0)
    lines = form.items("lines", MOST_PIECES, lambda item: item.numbers(None, "x, y of two points or more, in mm"))
    arcs = form.items("arcs", MOST_PIECES,
                      lambda item: item.numbers(5, "five numbers: x, y, radius in mm, from, to in degrees"))
    moved = (tuple(value + (y if place % 2 else x) for place, value in enumerate(line)) for line in lines)
    return (*(Piece(thick, form.node.line, path=line) for line in moved),
            *(Piece(thick, form.node.line, arc=(arc[0] + x, arc[1] + y, *arc[2:])) for arc in arcs))


def _misplaced(block: TitleBlock) -> list[Fault]:
    """Cells that reach out of the block or into each other, and free lines that leave the block or run through a cell."""
    faults = []
    for place, cell in enumerate(block.cells):
        x, y, width, height = cell.box
        if min(width, height) <= 0 or not _within(block, [(x, y), (x + width, y + height)]):
            wanted = f"a box inside the block's {block.width:g} x {block.height:g} mm"
            faults.append(Fault(block.file, cell.line, f"{cell.name}.box", _listed(cell.box), wanted))
        for other in block.cells[:place]:
            if _overlap(cell.box, other.box):
                found = f"{_listed(cell.box)}, which overlaps {other.name}"
                faults.append(Fault(block.file, cell.line, f"{cell.name}.box", found, "boxes side by side"))
    for piece in block.pieces:
        points = _points(piece)
        if not _within(block, points) or (piece.arc and not (piece.arc[2] > 0 and 0 < abs(piece.arc[4] - piece.arc[3]) <= 360)):
            found = _listed(piece.path or piece.arc)
            faults.append(Fault(block.file, piece.line, "drawing", found, "lines and arcs inside the block"))
        crossed = [cell.name for cell in block.cells if _crosses(points, cell.box)]
        if crossed:
            found = f"{_listed(piece.path or piece.arc)}, which runs through {', '.join(crossed)}"
            faults.append(Fault(block.file, piece.line, "drawing", found, "lines between cells or beside them"))
    return faults


def _missing(block: TitleBlock) -> list[Fault]:
    """What no sheet may lack: the notice and the symbol."""
    faults = []
    if not any(cell.text and "notice" in cell.text.names for cell in block.cells):
        faults.append(Fault(block.file, 0, "cells", "no practice notice", 'a cell with text: "{{ notice }}"'))
    if not any(cell.symbol for cell in block.cells):
        faults.append(Fault(block.file, 0, "cells", "no projection symbol", "a cell with symbol: projection"))
    return faults


def _points(piece: Piece) -> list[tuple[float, float]]:
    """Points along a free line or arc, close enough to judge where it runs."""
    if piece.path:
        return list(zip(piece.path[::2], piece.path[1::2], strict=True))
    x, y, radius, start, end = piece.arc
    angles = (math.radians(start + (end - start) * step / 64) for step in range(65))
    return [(x + radius * math.cos(angle), y + radius * math.sin(angle)) for angle in angles]


def _within(block: TitleBlock, points: Iterable[tuple[float, float]]) -> bool:
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
