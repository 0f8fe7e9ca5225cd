"""The text column of a sheet, at the right of the drawing space: what is to be done, and the notes. Sheet millimetres."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from sheetgen.exercises.drawing import INSET
from sheetgen.ink import Mark
from sheetgen.refusals import Reason, RefusedError
from sheetgen.sheet import Paper, Settings
from sheetgen.sheet.paper import Box
from sheetgen.sheet.textblock import TextBlock, block_of
from sheetgen.sheet.titleblock_ink import titleblock_box

WIDTH = 118.0
"""mm: width of the text."""

TEXT_HEIGHTS = (3.5, 2.5)
"""mm: of the lettering; the lower where the higher has no room above the title block."""

UNDER, BESIDE = 8.0, 4.0
"""mm kept free under the text and at its left."""


@dataclass(frozen=True)
class Column:
    """The wrapped text in its place."""

    paper: Paper
    text: TextBlock

    @property
    def box(self) -> Box:
        """What it takes of the drawing space, the free space round it included."""
        paper = self.paper
        return (paper.x1 - INSET - WIDTH - BESIDE, paper.y1 - INSET - self.text.breadth - UNDER, paper.x1, paper.y1)

    @property
    def marks(self) -> list[Mark]:
        """The text as marks."""
        return self.text.marks(self.paper.x1 - INSET - WIDTH, self.paper.y1 - INSET - 2)


def column_of(lines: Sequence[str], settings: Settings) -> Column:
    """The column of some lines of text; an empty one is half a line of space.

    Raises: RefusedError if it has no room above the title block.
    """
    block = titleblock_box(settings.block, settings.paper)
    for height in TEXT_HEIGHTS:
        column = Column(settings.paper, block_of(lines, WIDTH, height))
        if column.box[1] >= block[3]:
            return column
    raise RefusedError([Reason("there is no room on the question sheet for what it asks")])
