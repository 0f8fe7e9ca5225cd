"""What every sheet carries besides its drawing: frame, title block, check bar."""

from __future__ import annotations

from collections.abc import Sequence

from sheetgen.ink import Mark
from sheetgen.sheet.checkbar import check_bar_on
from sheetgen.sheet.free import boxes_of
from sheetgen.sheet.paper import frame_marks
from sheetgen.sheet.settings import Settings
from sheetgen.sheet.titleblock_ink import titleblock_box, titleblock_marks
from sheetgen.templating import TitleBlockValues


def furniture(settings: Settings, values: TitleBlockValues, drawing: Sequence[Mark]) -> list[Mark]:
    """Return frame, check bar and the title block filled in with ``values``; the centring marks keep clear of ``drawing``."""
    paper = settings.paper
    block = titleblock_box(settings.block, paper)
    return [
        *frame_marks(paper, [block, *boxes_of(drawing)]),
        *check_bar_on(paper, settings.wording.render("check_bar")),
        *titleblock_marks(settings.block, values, settings.projection, (paper.x1, paper.y0)),
    ]
