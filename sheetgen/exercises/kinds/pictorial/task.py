"""What the sheets of the kind ``pictorial`` have in common: three views with their sizes, and the pictorial that is asked for."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import product

import numpy as np

from sheetgen.certainty import Certainty, certainty
from sheetgen.exercises.beside import taken_by
from sheetgen.exercises.drawing import Drawing, Dressing, drawing_of
from sheetgen.exercises.given.assumed import assumed, called, side_of
from sheetgen.exercises.kinds.pictorial.figure import Figure, figure_of
from sheetgen.exercises.kinds.pictorial.grid import PITCH
from sheetgen.exercises.kinds.pictorial.shown import clear_at, flank_of, sights_asked
from sheetgen.exercises.spacing import notes_of_views
from sheetgen.ink import Mark
from sheetgen.measures.measures import number
from sheetgen.problem import Problem
from sheetgen.refusals import Reason, RefusedError
from sheetgen.sheet import Settings
from sheetgen.sheet.free import boxes_of
from sheetgen.sheet.layout import Layout
from sheetgen.sheet.titleblock_ink import titleblock_box
from sheetgen.sight import Sight
from sheetgen.solid import Plane
from sheetgen.units import SAME_COSINE

MARGINS = (14.0, 8.0)
"""mm kept free round the pictorial, as they are tried."""

ARROW_ROOM = 24.0
"""mm that the arrow of sight takes at most beside a pictorial, across and up."""


@dataclass(frozen=True, eq=False)
class Given(Dressing):
    """The three views, beside ``asked``, the pictorials of which one must find room at their scale."""

    asked: Sequence[Sight]
    settings: Settings

    def suits(self, layout: Layout) -> bool:
        """Whether a pictorial has room on a sheet at the scale of the views."""
        low, high = self.asked[0].view.extent
        wide, high = ((high - low) * layout.scale).tolist()
        taken = taken_by([], self.settings)
        middle = _middle(self.settings)
        return any(taken.free_place(wide + across, high + up, middle, MARGINS[-1]) is not None
                   for across, up in ((ARROW_ROOM, 0.0), (0.0, ARROW_ROOM)))


@dataclass(frozen=True, eq=False)
class Task:
    """``drawing``: the views that are given; ``found``: that one part alone fits them; ``figure``: the pictorial, on its sheet;
    ``on_grid``: a sheet with a grid is given; ``lines``: the words of the question."""

    drawing: Drawing
    found: Certainty
    figure: Figure
    on_grid: bool
    lines: tuple[str, ...]

    @property
    def flank(self) -> str:
        """The side that the pictorial shows."""
        return flank_of(self.figure.view.sight)


def task_of(problem: Problem, settings: Settings) -> Task:
    """The views and the pictorial, of a part that alone fits the views.

    Raises: RefusedError if others fit them too, if no pictorial can be read, or something has no room.
    """
    found, sights = served(problem, settings)
    drawing = drawing_of(problem, settings, ("front", "top", side_of(settings)), Given({}, sights, settings))
    scale = drawing.layout.scale
    figure = _placed(figure_of(clear_at(sights, scale), scale, settings), settings)
    lines = lines_of(problem, settings, found, drawing, figure)
    return Task(drawing, found, figure, settings.grid, tuple(lines))


def served(problem: Problem, settings: Settings) -> tuple[Certainty, list[Sight]]:
    """The proof that one part alone fits the three views, and the pictorials that may be asked for, wherever they may find room.

    Raises: RefusedError if others fit the views too, or no pictorial can be read.
    """
    side = side_of(settings)
    found = certainty(problem.solid, "pictorial", limit=2, side=side, symmetry=problem.symmetry)
    if not found.certain:
        raise RefusedError([Reason("the part is not certain", "more than one part agrees with the three views")])
    return found, sights_asked(problem, settings, side)


def _middle(settings: Settings) -> tuple[float, float]:
    """Of the drawing space over the title block."""
    paper = settings.paper
    return (paper.x0 + paper.x1) / 2, (titleblock_box(settings.block, paper)[3] + paper.y1) / 2


def _placed(figure: Figure, settings: Settings) -> Figure:
    """The pictorial in the middle of its sheet, with room for its title under it if there is. Raises: RefusedError if it has no
    room."""
    drawn: list[Mark] = [*figure.box, *figure.bare]
    taken = taken_by([], settings)
    for marks, margin in product(([*drawn, figure.title(settings)], drawn), MARGINS):
        boxes = boxes_of(marks)
        (x0, y0), (x1, y1) = boxes[:, :2].min(axis=0).tolist(), boxes[:, 2:].max(axis=0).tolist()
        place = taken.free_place(x1 - x0, y1 - y0, _middle(settings), margin)
        if place is not None:
            dx, dy = np.round((place[0] - x0, place[1] - y0), 1).tolist()
            return figure.moved(dx, dy)
    raise RefusedError([Reason("the pictorial has no room on the paper at the scale of its views")])


def lines_of(problem: Problem, settings: Settings, found: Certainty, drawing: Drawing, figure: Figure) -> list[str]:
    """What is given, what is asked for, from where it is seen, and what may be assumed."""
    say, drawn, scale_name = settings.wording.render, figure.view.view.name, drawing.layout.scale_name
    scale = say("scale.full", scale=scale_name) if scale_name == "1:1" else say("scale.reduced", scale=scale_name)
    front, top, side = (called(view, settings) for view in ("front", "top", side_of(settings)))
    flank = flank_of(figure.view.sight)
    lines = [
        say("pictorial.given", front=front, top=top, side=side, projection=say(f"projection.{settings.projection}")),
        say("pictorial.task", what=say(f"pictorial.{drawn}"), scale=scale, flank=flank),
        say("pictorial.on_grid", pitch=number(PITCH), flank=flank) if settings.grid else say("question.sheet"),
        say(f"pictorial.along_{drawn}"), say("pictorial.box"), say("pictorial.hidden"),
        say("pictorial.arrow", arrow=say("letters.arrow_front"))]
    if figure.centres:
        lines.append(say("pictorial.centre_lines"))
    lines += [say(f"pictorial.circles_{which}") for which in _circles(problem, figure)]
    lines.append(assumed(found.assuming, settings))
    if problem.symmetry:
        lines.append(say(f"question.symmetry_{''.join(sorted(problem.symmetry))}"))
    return lines + notes_of_views(problem, settings)


def _circles(problem: Problem, figure: Figure) -> Iterator[str]:
    """What becomes of circles, as the wording calls it."""
    ways = [np.abs(surface.direction) for surface in problem.solid.surfaces if not isinstance(surface, Plane)]
    if not figure.view.view.frame.oblique:
        yield from ["isometric"] if ways else []
        return
    if any(way[1] > 1 - SAME_COSINE for way in ways):
        yield "oblique"
    if any(way[1] <= 1 - SAME_COSINE for way in ways):
        yield "ellipses"


def told_of(settings: Settings, figure: Figure, thin: str) -> list[str]:
    """What a finished pictorial says of itself; ``thin``: the text on its thin lines, as the wording calls it."""
    say, drawn = settings.wording.render, figure.view.view.name
    lines = [say(f"pictorial.along_{drawn}"), say(f"pictorial.{thin}")]
    if figure.rhombi:
        lines.append(say("pictorial.round_circles", rhombi=rhombi_of(figure)))
    if figure.rhombi and not figure.view.view.frame.oblique:
        lines.append(say("pictorial.true_ellipse"))
    return lines


def rhombi_of(figure: Figure) -> str:
    """What is drawn round circles: a rhombus (yes), or a parallelogram (skew), where depths are shortened."""
    return "skew" if figure.view.view.name == "cabinet" else "yes"
