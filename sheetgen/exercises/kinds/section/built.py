"""How the answer of the kind ``section`` is built: the line of the cutting plane, the views, the hatching of what is cut."""

from __future__ import annotations

from sheetgen.exercises.construction import Dressed, Part, Stage, construction_pages, projector_pages, stages_of
from sheetgen.exercises.kinds.section.task import SectionTask, where_cut
from sheetgen.exercises.roles import Particulars
from sheetgen.ink import Page
from sheetgen.measures.measures import number
from sheetgen.problem import Problem
from sheetgen.sheet import Settings


def construction_sheets(problem: Problem, settings: Settings, task: SectionTask, particulars: Particulars) -> tuple[Page, ...]:
    """A page for each stage."""
    return construction_pages(problem, settings, task.drawing, particulars, dressed=_dressed(problem, settings, task))


def projector_sheet(problem: Problem, settings: Settings, task: SectionTask, particulars: Particulars) -> tuple[Page, ...]:
    """The answer with its projectors."""
    return projector_pages(problem, settings, task.drawing, particulars)


def section_stages(problem: Problem, settings: Settings, task: SectionTask) -> tuple[Stage, ...]:
    """The stages of the answer."""
    return stages_of(problem, settings, task.drawing, dressed=_dressed(problem, settings, task))


def _dressed(problem: Problem, settings: Settings, task: SectionTask) -> tuple[Dressed, Dressed]:
    """The line of the cutting plane, and the hatching."""
    say, cut, drawing = settings.wording.render, task.cut, task.drawing
    turns = "yes" if cut.plane.sort == "offset" else "no"
    plane = (*where_cut(problem, settings, cut), say("section.draw_plane", letter=cut.letter, home=cut.home, turns=turns),
             say("section.think", letter=cut.letter))
    [view] = [view for view in drawing.views if view.view.name == cut.drawn]
    hatching = [say("section.hatch", angle=number(cut.slope), spacing=number(cut.spacing(view)))]
    if not cut.section.ribs.is_empty:
        hatching.append(say("section.rib"))
    if cut.plane.sort == "half":
        hatching.append(say("section.half_line"))
    return (Dressed(Part.PLANE, plane, tuple(cut.plane_line(drawing.views))),
            Dressed(Part.HATCHING, tuple(hatching), tuple(cut.hatching(drawing.views, drawing.texts))))
