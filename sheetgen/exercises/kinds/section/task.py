"""What the sheets of the kind ``section`` have in common: the part cut, its views, the pictorial they are asked from."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import partial

from sheetgen.exercises.drawing import drawing_of
from sheetgen.exercises.kinds.section.cut import Cut, cuts_of
from sheetgen.exercises.kinds.views.task import Task
from sheetgen.exercises.picture import picture_of
from sheetgen.measures.measures import number
from sheetgen.problem import Problem
from sheetgen.problem.cutting import holes_through
from sheetgen.refusals import Reason, RefusedError
from sheetgen.sheet import Settings
from sheetgen.sheet.layout import Layout
from sheetgen.solid import Plane, Stretch
from sheetgen.units import SAME_POINT

LETTERS = ("first", "second", "third", "fourth")
"""Of the views that are asked for, in their order, as the wording calls its letters."""


@dataclass(frozen=True, eq=False)
class SectionTask(Task):
    """As of the kind ``views``, and the part as it is ``cut``."""

    cut: Cut


def task_of(problem: Problem, settings: Settings) -> SectionTask:
    """The part cut along the first of its planes that can be drawn right, and the pictorial with the words that ask for it.

    Raises: RefusedError if along none it can.
    """
    reasons = list[Reason]()
    for cut in cuts_of(problem, settings):
        if isinstance(cut, RefusedError):
            reasons += cut.reasons
            continue
        try:
            drawing = drawing_of(problem, settings, dressing=cut)
        except RefusedError as error:
            reasons += error.reasons
            continue
        lines, enlarged = partial(lines_of, problem, settings, cut, drawing.layout), drawing.layout.scale > 1.0
        return SectionTask(drawing, *picture_of(problem, settings, lines, enlarged=enlarged), cut)
    raise RefusedError(reasons or [Reason("the part has no cutting plane")])


def lines_of(problem: Problem, settings: Settings, cut: Cut, layout: Layout, pictorial: str) -> list[str]:
    """What is to be drawn, where the cutting plane is, and what the pictorial cannot show; its own scale, if that is another."""
    say, scale_name = settings.wording.render, layout.scale_name
    scale = say("scale.full", scale=scale_name) if scale_name == "1:1" else say("scale.reduced", scale=scale_name)
    lines = [say("section.task", scale=scale, projection=say(f"projection.{settings.projection}"))]
    views, arrows = tuple(layout.places), {view: say(f"letters.arrow_{view}") for view in settings.arrows}
    for letter, view in zip(LETTERS, views, strict=False):
        named = say(f"named.{view}", arrow=arrows.get(view, ""))
        if view == cut.drawn:
            sort = "half" if cut.plane.sort == "half" else "full"
            named = say(f"section.{sort}", view=named, letter=cut.letter)
        lines.append(say("section.view", letter=say(f"letters.{letter}"), view=named, last="yes" if view == views[-1] else "no"))
    lines += ["", *where_cut(problem, settings, cut)]
    lines.append(say("section.show", letter=cut.letter, home=cut.home))
    if problem.symmetry:
        lines.append(say(f"question.symmetry_{''.join(sorted(problem.symmetry))}"))
    if not cut.section.ribs.is_empty:
        lines.append(say("section.leave_rib"))
    lines.append(say("section.hidden", half="yes" if cut.plane.sort == "half" else "no"))
    if problem.symmetry or any(not isinstance(surface, Plane) for surface in problem.solid.surfaces):
        lines.append(say("section.centre_lines"))
    lines += [say("section.dimension"), say("question.sheet")]
    notes = [say(f"notes.{note.key}", **note.values) for note in problem.notes]
    if pictorial != scale_name:
        notes.append(say("notes.isometric_full") if pictorial == "1:1" else say("notes.isometric_reduced", scale=pictorial))
    return lines + (["", *notes] if notes else [])


def where_cut(problem: Problem, settings: Settings, cut: Cut) -> Iterator[str]:
    """Where the cutting plane lies, and where it turns."""
    say, plane = settings.wording.render, cut.plane
    stretches = plane.stretches(cut.drawn)
    places = [_place(problem, settings, cut, stretch) for stretch in stretches]
    if plane.sort != "offset":
        yield say("section.plane", letter=cut.letter, sectioned=plane.view, place=places[0])
        if plane.sort == "half":
            yield say("section.half_turn")
        return
    yield say("section.offset", letter=cut.letter, sectioned=plane.view, place=places[0])
    for turn, place in zip(plane.turns, places[1:], strict=True):
        yield say("section.turn", turn=number(turn), sectioned=plane.view, place=place)


def _place(problem: Problem, settings: Settings, cut: Cut, stretch: Stretch) -> str:
    """Where a stretch of the plane lies, in words."""
    plane, solid = cut.plane, problem.solid
    middle = abs(stretch.level - float(solid.size[plane.axis]) / 2) < SAME_POINT
    holes = [f"Ø{number(diameter)}" for diameter in holes_through(solid, plane, stretch) if _given(problem, diameter)]
    return settings.wording.render(
        "section.place", sectioned=plane.view, at=number(stretch.level), middle="yes" if middle else "no",
        holes=" / ".join(holes), several="yes" if len(holes) > 1 else "no")


def _given(problem: Problem, diameter: float) -> bool:
    """Whether a diameter is printed."""
    return any(measure.kind == "diameter" and abs(measure.value - diameter) < SAME_POINT for measure in problem.measures)
