"""What an exercise's sheets say in the cells of the title block."""

from __future__ import annotations

from dataclasses import replace

from sheetgen.problem import Problem
from sheetgen.sheet import Settings
from sheetgen.templating import TitleBlockValues


def cells_of(
    problem: Problem, settings: Settings, document: str, scale: str, sheet: int = 1, sheets: int = 1
) -> TitleBlockValues:
    """The values of one sheet, number ``sheet`` of ``sheets``; ``document``: its name in the wording's documents."""
    say = settings.wording.render
    return replace(
        settings.values,
        document_type=say(f"documents.{document}"),
        scale=scale,
        title=problem.title,
        number=problem.code,
        sheet=sheet,
        sheets=sheets,
        paper=settings.paper.name,
        projection=say(f"projection.{settings.projection}"),
        topic=problem.topics[0] if problem.topics else "",
        notice=say("notice"),
    )
