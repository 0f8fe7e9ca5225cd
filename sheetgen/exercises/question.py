"""The question sheet: a dimensioned pictorial, the arrow of sight, what is to be drawn, the title block."""

from __future__ import annotations

import numpy as np
import shapely

from sheetgen.exercises.cells import cells_of
from sheetgen.exercises.drawing import INSET, Drawing
from sheetgen.exercises.roles import Particulars, Role
from sheetgen.ink import Mark, Page, dashed
from sheetgen.placing import (
    Item,
    PlacingError,
    Surroundings,
    choose,
    gathered,
    items_of,
    marks_of,
    pictorial_offers,
    sight_arrow,
)
from sheetgen.problem import Problem
from sheetgen.projection import seen_segments, symmetry_trace
from sheetgen.refusals import Reason, RefusedError
from sheetgen.sheet import Settings
from sheetgen.sheet.furniture import furniture
from sheetgen.sheet.layout import SCALES, SCALES_TRIED, Layout
from sheetgen.sheet.paper import Box
from sheetgen.sheet.textblock import Block, block_of
from sheetgen.sheet.titleblock_ink import titleblock_box
from sheetgen.sheet.viewmarks import view_marks
from sheetgen.sight import PlacedView, Sight, unseen_ends
from sheetgen.solid import Plane

LETTERS = ("first", "second", "third", "fourth")
"""Of the views that are asked for, in their order, as the wording calls its letters."""

COLUMN = 118.0
"""mm: width of the text column at the right."""

TEXT_HEIGHTS = (3.5, 2.5)
"""mm: of the text's lettering; the lower where the higher has no room above the title block."""

UNDER_TEXT = 8.0
"""mm kept free under the text."""

SHORTEST_AXIS = 2.0
"""mm of a centre line that shows past something before it: less would be a speck."""


def question_pages(problem: Problem, settings: Settings, drawing: Drawing, particulars: Particulars) -> tuple[Page, ...]:
    """Draw the question sheet, which asks for the views of ``drawing`` at its scale.

    Raises: RefusedError if no placing of the sizes on the pictorial keeps the rules.
    """
    paper, scale_name = settings.paper, drawing.layout.scale_name
    text, picture = _picture(problem, settings, drawing.layout)
    text_marks = text.marks(paper.x1 - INSET - COLUMN, paper.y1 - INSET - 2)
    values = cells_of(problem, settings, Role.QUESTION, scale_name, particulars)
    return (Page(paper.width, paper.height, [*furniture(settings, values, picture), *dashed(picture), *text_marks]),)


def _wording(problem: Problem, settings: Settings, layout: Layout, pictorial: str) -> Block:
    """What is to be drawn, at which scale, and what the pictorial cannot show; its own scale, if that is another.

    Raises: RefusedError if that has no room above the title block.
    """
    lines, block = _lines(problem, settings, layout, pictorial), titleblock_box(settings.block, settings.paper)
    for height in TEXT_HEIGHTS:
        text = block_of(lines, COLUMN, height)
        if settings.paper.y1 - INSET - text.breadth - UNDER_TEXT >= block[3]:
            return text
    raise RefusedError([Reason("there is no room on the question sheet for what it asks")])


def _lines(problem: Problem, settings: Settings, layout: Layout, pictorial: str) -> list[str]:
    say, scale_name = settings.wording.render, layout.scale_name
    scale = say("scale.full", scale=scale_name) if scale_name == "1:1" else say("scale.reduced", scale=scale_name)
    lines = [say("question.task", scale=scale, projection=say(f"projection.{settings.projection}"))]
    arrow, views = say("letters.arrow"), tuple(layout.places)
    lines += [
        say("question.view", letter=say(f"letters.{letter}"), view=say(f"named.{view}", arrow=arrow),
            last="yes" if view == views[-1] else "no")
        for letter, view in zip(LETTERS, views, strict=False)
    ]
    if problem.symmetry:
        lines.append(say("question.symmetries" if len(problem.symmetry) > 1 else "question.symmetry"))
    lines.append(say("question.hidden"))
    if problem.symmetry or any(not isinstance(surface, Plane) for surface in problem.solid.surfaces):
        lines.append(say("question.centre_lines"))
    lines.append(say("question.dimension"))
    notes = [say(f"notes.{note}") for note in problem.notes]
    if pictorial != scale_name:
        notes.append(say("notes.isometric_full") if pictorial == "1:1" else say("notes.isometric_reduced", scale=pictorial))
    return lines + (["", *notes] if notes else [])


def _picture(problem: Problem, settings: Settings, layout: Layout) -> tuple[Block, list[Mark]]:
    """The wording, and the pictorial with its sizes at the largest standard scale at which it fits or, if they cannot be placed
    there, the next. ``layout``: of the views that are asked for."""
    paper, tried, reasons = settings.paper, 0, list[Reason]()
    for name, scale in SCALES:
        text = _wording(problem, settings, layout, name)
        column = (paper.x1 - INSET - COLUMN - 4, paper.y1 - INSET - text.breadth - UNDER_TEXT, paper.x1, paper.y1)
        blocked, fits = [titleblock_box(settings.block, paper), column], False
        for placed in (_placed(sight, settings, scale) for sight in problem.pictorials()):
            if placed is None:
                continue
            fits = True
            items = items_of(problem.measures, settings.wording, unseen_ends(placed.sight))
            try:
                return text, _dimensioned(placed, items, problem, settings, blocked)
            except PlacingError as found:
                words = items[found.item].main.words if found.item < len(items) else "the arrow of sight"
                reasons.append(Reason(f"on the pictorial, {words}: {found.reason}"))
        tried += fits
        if tried == SCALES_TRIED:
            break
    raise RefusedError(reasons[:1] or [Reason("the pictorial fits on the paper at no scale")])


def _placed(sight: Sight, settings: Settings, scale: float) -> PlacedView | None:
    """The pictorial in the middle of the room left of the text column; None if it is too large."""
    paper = settings.paper
    points = np.concatenate(sight.view.visible) * scale
    low, high = points.min(axis=0), points.max(axis=0)
    room = (paper.x0 + INSET, paper.y0 + INSET, paper.x1 - INSET - COLUMN - 8, paper.y1 - INSET)
    if high[0] - low[0] > room[2] - room[0] - 50 or high[1] - low[1] > room[3] - room[1] - 30:
        return None
    middle = np.array([(room[0] + room[2]) / 2, (room[1] + room[3]) / 2])
    return PlacedView(sight, scale, np.round(middle - (low + high) / 2, 1))


def _dimensioned(
    placed: PlacedView, items: tuple[Item, ...], problem: Problem, settings: Settings, blocked: list[Box]
) -> list[Mark]:
    paper = settings.paper
    area = (paper.x0 + INSET, paper.y0 + INSET, paper.x1 - INSET, paper.y1 - INSET)
    cuts = [line for letter in problem.symmetry for line in symmetry_trace(placed.view, "xyz".index(letter), placed.scale)]
    traces = [line * placed.scale + placed.origin for line in cuts]
    surroundings = Surroundings(placed.coarse("visible"), traces, [shapely.box(*box) for box in blocked], area, [placed.shadow])
    sizes = pictorial_offers(placed, items, upright=settings.upright)
    arrow = sight_arrow(placed, settings.wording.render("letters.arrow"), len(items))
    chosen = choose(surroundings, gathered([sizes, arrow]), len(items) + 1)
    axes = [segment for placement in chosen for segment in placement.drawn.centres]
    seen = seen_segments(placed.view, axes, SHORTEST_AXIS / placed.scale)
    traces += [line * placed.scale + placed.origin for line in seen]
    return [*view_marks(placed, hidden=False, centres=False), *marks_of(chosen, traces, list(placed.straights))]
