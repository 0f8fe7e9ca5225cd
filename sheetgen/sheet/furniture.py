"""What every sheet carries besides its drawing: frame, title block, check bar."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from sheetgen.ink import Mark
from sheetgen.sheet.checkbar import check_bar_on
from sheetgen.sheet.free import boxes_of
from sheetgen.sheet.paper import frame_marks
from sheetgen.sheet.problem import Problem, Settings
from sheetgen.sheet.titleblock import TitleBlockValues
from sheetgen.sheet.titleblock_ink import titleblock_box, titleblock_marks


def furniture(
    problem: Problem, settings: Settings, values: TitleBlockValues, sheet: int, sheets: int, drawing: Sequence[Mark]
) -> list[Mark]:
    """Return frame, check bar and the filled-in title block; the centring marks keep clear of ``drawing``."""
    paper, say = settings.paper, settings.wording.render
    filled = replace(
        values,
        title=problem.title,
        number=problem.code,
        sheet=sheet,
        sheets=sheets,
        paper=paper.name,
        projection=say(f"projection.{settings.projection}"),
        topic=problem.topics[0] if problem.topics else "",
        notice=say("notice"),
    )
    block = titleblock_box(settings.block, paper)
    return [
        *frame_marks(paper, [block, *boxes_of(drawing)]),
        *check_bar_on(paper, say("check_bar")),
        *titleblock_marks(settings.block, filled, settings.projection, (paper.x1, paper.y0)),
    ]
