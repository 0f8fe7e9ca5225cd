"""Title blocks: a course's own block, read from a template. Block mm, origin at the block's lower left corner.

The fields are those of ISO 7200:2004 with the school's own (from memory). A template is a drawing of boxes, each with a
label and a text that may show the values of ``TitleBlockValues``. One is for the code's figure (``sheet/codebox.py``).
"""

from __future__ import annotations

from dataclasses import dataclass, fields
from pathlib import Path
from typing import Literal

from sheetgen.faults import Fault
from sheetgen.shared import shipped
from sheetgen.templating.crest import Crest
from sheetgen.templating.files import found
from sheetgen.templating.phrases import Phrase

Align = Literal["left", "centre", "right"]
Symbol = Literal["", "projection", "code", "crest"]
Rect = tuple[float, float, float, float]
"""x, y, width, height in block mm."""

CODE_BOX = 18.0
"""mm, the least side of the box for a code: 21 modules of 0.6 mm with a quiet zone of four at each side are 17.4, and the lines
round it reach in."""

LEAST_CREST = 8.0
"""mm, the least side of the box for a crest: a smaller one is a blot on a photocopy (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class TitleBlockValues:
    """What a title block can show. Blank texts leave room for handwriting."""

    school: str = ""
    course: str = ""
    title: str = ""             # of the part
    set_title: str = ""         # of the worksheet: ISO 7200's supplementary title
    document_type: str = ""
    teacher: str = ""           # who has set it
    approved_by: str = ""       # left blank for initials
    student: str = ""
    student_number: str = ""    # of a class list; where no cell shows it, it stands beside the name
    group: str = ""
    seat: str = ""
    date: str = ""
    number: str = ""            # identification: the code
    sheet: int = 1
    sheets: int = 1
    sheet_of: str = ""          # both in words
    scale: str = "1:1"
    paper: str = "A3"
    projection: str = ""        # in words
    topic: str = ""
    status: str = ""
    language: str = "en"
    units: str = ""             # in which sizes are given
    notice: str = ""            # that the parts are invented and nobody has checked that they would work

    def by_name(self) -> dict[str, object]:
        """The values by name, as phrases ask for them."""
        return {name: getattr(self, name) for name in VALUE_NAMES}


VALUE_NAMES = tuple(item.name for item in fields(TitleBlockValues))


@dataclass(frozen=True, slots=True)
class Cell:
    """One box of a title block. ``label``: which of the wording's labels stands in it, or ``own_label``: a label of the school's
    own; ``height``: of the lettering, mm; smaller ones are tried down to ``least``; ``symbol``: what stands in it instead."""

    box: Rect
    line: int
    name: str
    label: str = ""
    own_label: str = ""
    text: Phrase | None = None
    height: float = 2.5
    least: float = 1.8
    align: Align = "left"
    ruled: bool = True
    symbol: Symbol = ""

    @property
    def labelled(self) -> bool:
        """True if a label stands in it."""
        return bool(self.label or self.own_label)


@dataclass(frozen=True, slots=True)
class FreeLine:
    """A free line or arc: ``path`` of points, or ``arc`` as centre, radius, from and to in degrees. Block mm."""

    thick: bool
    line: int
    path: tuple[float, ...] = ()
    arc: tuple[float, ...] = ()


@dataclass(frozen=True, slots=True)
class TitleBlock:
    """A title block ready to be filled in. ``crest``: stands in its cells for one; ``remarks``: what a sheet should show and this
    one does not; it can be used."""

    name: str
    title: str
    width: float
    height: float
    cells: tuple[Cell, ...]
    pieces: tuple[FreeLine, ...]
    file: str
    remarks: tuple[Fault, ...] = ()
    crest: Crest | None = None

    @property
    def takes_crest(self) -> bool:
        """Whether a cell is kept for a crest."""
        return any(cell.symbol == "crest" for cell in self.cells)


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
    from sheetgen.templating.titleblock_file import read_title_block

    return read_title_block(*found(name, "title block", "title_blocks", title_block_names()))
