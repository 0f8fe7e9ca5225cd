"""What is said of the mistakes of a drawing: what is wrong, in which view, with which line or size, and what would be right."""

from __future__ import annotations

from sheetgen.exercises.drawing import Drawing
from sheetgen.exercises.hints.landmarks import landmarks_of
from sheetgen.exercises.kinds.mistakes.mistake import AS_HIDDEN, AS_VISIBLE, MISSING, NO_CENTRE, PLACE, Mistake
from sheetgen.exercises.kinds.mistakes.planted import Planted
from sheetgen.exercises.pieces import pieces_of
from sheetgen.exercises.saying import ANY, line_words, size_words
from sheetgen.problem import Problem
from sheetgen.sheet import Settings


def where(settings: Settings, drawing: Drawing, mistake: Mistake) -> str:
    """The view that a mistake is in; both of a size given twice, for either of the two may be struck out."""
    names = [drawing.name(drawing.views[k].view.name, settings) for k in (mistake.view, mistake.other) if k is not None]
    if len(names) == 1:
        return names[0]
    return settings.wording.render("hints.and", one=names[0], other=names[1])


def sentences(problem: Problem, settings: Settings, drawing: Drawing, made: Planted) -> list[str]:
    """What is wrong, mistake by mistake, with its number; ``drawing``: the right one."""
    say, pieces = settings.wording.render, pieces_of(problem)
    landmarks = [landmarks_of(view, pieces, settings.wording) for view in drawing.views]

    def what(mistake: Mistake) -> str:
        sort, at = mistake.sort, mistake.view if mistake.other is None else mistake.other
        view, marks = drawing.views[at], landmarks[at]
        if sort == PLACE:
            return say("mistakes.place", projection=say(f"projection.{settings.projection}"))
        if mistake.shape is not None:
            assert mistake.kind is not None
            drawn = ANY if sort in (AS_HIDDEN, AS_VISIBLE) else mistake.kind
            line = line_words(mistake.shape, drawn, view, marks, settings)
            return say(f"mistakes.{MISSING if sort == NO_CENTRE else sort}", line=line)
        if mistake.item is None:
            return say(f"mistakes.{sort}")
        measure, right = drawing.items[mistake.item].main, mistake.said["right"]
        if not measure.rounds or _several(drawing, measure.size):
            right = size_words(measure, right, view, marks, pieces, settings)
        return say(f"mistakes.{sort}", **{**mistake.said, "right": right})

    return [say("mistakes.row", number=number, view=where(settings, drawing, each), what=what(each))
            for number, each in enumerate(made.mistakes, 1)]


def _several(drawing: Drawing, size: str) -> bool:
    """Whether a size stands several times on a drawing."""
    return sum(item.main.size == size for item in drawing.items) > 1
