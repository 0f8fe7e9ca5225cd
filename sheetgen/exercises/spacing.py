"""What stands beside the views of an answer: notes that they need, and line by line how they were spaced, the arithmetic that
students learn."""

from __future__ import annotations

from sheetgen.measures.measures import number
from sheetgen.problem import Problem
from sheetgen.sheet import Settings
from sheetgen.sheet.layout import Layout


def notes_of_views(problem: Problem, settings: Settings) -> list[str]:
    """The general notes that views with sizes need as the pictorial does: at what angle drilled holes end in a point. All else
    that notes tell the views show."""
    return [settings.wording.render(f"notes.{note.key}", **note.values) for note in problem.notes if note.key == "drill_points"]


def spacing_lines(problem: Problem, settings: Settings, layout: Layout) -> list[str]:
    """The arithmetic as it is printed, a heading first."""
    paper, say = settings.paper, settings.wording.render
    length, breadth = number(paper.x1 - paper.x0), number(paper.y1 - paper.y0)
    width, depth, height = (number(float(v)) for v in problem.solid.size)
    scaled = "" if layout.scale_name == "1:1" else "_scaled"
    wide, deep, high = (number(float(v)) for v in layout.drawn)
    beside = len(layout.across.sizes) - 1
    across = f"{wide} - {deep}" if beside == 1 else f"{wide} - {beside} x {deep}"
    upward = f"up{'_kept' if layout.up.kept else scaled}"
    return [
        say("spacing.heading"),
        say("spacing.space", length=length, breadth=breadth),
        say("spacing.sizes", width=width, depth=depth, height=height),
        say(f"spacing.across{scaled}", length=length, sizes=across, gaps=layout.across.gaps, gap=number(layout.across.gap),
            scale=layout.scale_name),
        say(f"spacing.{upward}", breadth=breadth, kept=number(layout.up.kept), sizes=f"{high} - {deep}", gaps=layout.up.gaps,
            gap=number(layout.up.gap), scale=layout.scale_name),
    ]
