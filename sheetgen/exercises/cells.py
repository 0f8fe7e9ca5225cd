"""What an exercise's sheets say in the cells of the title block, and where that can be changed."""

from __future__ import annotations

from dataclasses import replace
from typing import Protocol

from sheetgen.exercises.roles import Particulars, Role
from sheetgen.faults import Place
from sheetgen.sheet import Settings
from sheetgen.templating import TitleBlockValues


class Titled(Protocol):
    """A problem, or the family that it will be drawn of."""

    @property
    def title(self) -> str:
        """What the part is called."""

    @property
    def topics(self) -> tuple[str, ...]:
        """What it teaches, the first of them first."""


def cells_of(part: Titled, settings: Settings, role: Role, scale: str, particulars: Particulars) -> TitleBlockValues:
    """The values of one sheet: the course's own, and what problem, role, set and wording add."""
    say = settings.wording.render
    return replace(
        settings.values,
        set_title=settings.set_title,
        document_type=say(f"documents.{role}"),
        scale=scale,
        title=part.title,
        number=particulars.code,
        student=particulars.student,
        student_number=particulars.student_number,
        group=particulars.group or settings.values.group,
        seat=particulars.seat,
        sheet=particulars.sheet,
        sheets=particulars.sheets,
        sheet_of=say("sheet_of", sheet=particulars.sheet, sheets=particulars.sheets),
        paper=settings.paper.name,
        projection=say(f"projection.{settings.projection}"),
        topic=part.topics[0] if part.topics else "",
        status=settings.values.status or say("status"),
        units=say("units"),
        language=settings.wording.language.partition("-")[0],      # ISO 7200:2004 gives it four letters (from memory)
        notice=say("notice"),
    )


def places_of(settings: Settings, role: Role) -> dict[str, Place]:
    """Where the values of one sheet are said, as far as that is the wording or the course's plan."""
    texts = {"document_type": f"documents.{role}", "projection": f"projection.{settings.projection}", "language": "language.code",
             **{name: name for name in ("sheet_of", "units", "notice", "status")}}
    return {**{name: settings.wording.place(key) for name, key in texts.items()}, **settings.places}
