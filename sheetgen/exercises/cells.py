"""What an exercise's sheets say in the cells of the title block."""

from __future__ import annotations

from dataclasses import replace

from sheetgen.exercises.roles import Particulars, Role
from sheetgen.problem import Problem
from sheetgen.sheet import Settings
from sheetgen.templating import TitleBlockValues


def cells_of(problem: Problem, settings: Settings, role: Role, scale: str, particulars: Particulars) -> TitleBlockValues:
    """The values of one sheet: the course's own, and what problem, role, set and wording add."""
    say = settings.wording.render
    return replace(
        settings.values,
        document_type=say(f"documents.{role}"),
        scale=scale,
        title=problem.title,
        number=particulars.code,
        student=particulars.student,
        sheet=particulars.sheet,
        sheets=particulars.sheets,
        sheet_of=say("sheet_of", sheet=particulars.sheet, sheets=particulars.sheets),
        paper=settings.paper.name,
        projection=say(f"projection.{settings.projection}"),
        topic=problem.topics[0] if problem.topics else "",
        units=say("units"),
        language=settings.wording.language.partition("-")[0],      # ISO 7200:2004 gives it four letters (from memory)
        notice=say("notice"),
    )
