"""One pictorial at the right, four candidates for one of its views at the left. Sheet millimetres."""

from __future__ import annotations

from collections.abc import Sequence
from contextlib import suppress

from sheetgen.exercises.chance import shuffled
from sheetgen.exercises.kinds.match.grid import grid_of
from sheetgen.exercises.kinds.match.one import RIGHT, WHOLE, Option, options_of
from sheetgen.exercises.kinds.match.pointed import Pointed, pointed_in
from sheetgen.exercises.kinds.match.reasons import reason_of
from sheetgen.exercises.kinds.match.sheet import LETTERS, Asked, Slot
from sheetgen.exercises.kinds.match.siblings import Sibling
from sheetgen.problem import Problem
from sheetgen.refusals import Reason, RefusedError
from sheetgen.sheet import Settings
from sheetgen.sheet.layout import SCALES, views_asked
from sheetgen.sheet.paper import Box
from sheetgen.sheet.textblock import TextBlock, block_of

HEIGHTS = (3.5, 2.5)

ANSWER = 9.0
"""mm from the text down to the line for the answer."""

UNDER = 6.0
"""mm from the line for the answer down to the reasons, and from these to the pictorial."""

SCALES_OF_VIEWS = SCALES[:2]


def one_of(problem: Problem, settings: Settings, others: Sequence[Sibling]) -> Asked:
    """The sheet that asks for a view, at the largest scale of the candidates at which all finds room; ``others``: siblings.

    Raises: RefusedError if it finds none, or no view has enough candidates.
    """
    return _first(problem, settings, others, shuffled(problem, "view", views_asked(settings.side)))


def whole_of_one(problem: Problem, settings: Settings, others: Sequence[Sibling]) -> Asked:
    """The sheet that asks for the set of views. Raises: as ``one_of``."""
    return _first(problem, settings, others, [WHOLE])


def _first(problem: Problem, settings: Settings, others: Sequence[Sibling], views: Sequence[str]) -> Asked:
    """The sheet at the largest scale of the candidates at which all finds room.

    Raises: RefusedError if it finds none, or no view has enough candidates.
    """
    reasons = list[Reason]()
    for name, scale in SCALES_OF_VIEWS:
        for view in views:
            try:
                options = options_of(problem, settings, others, view, scale)
                return _sheet(problem, settings, view, options, name)
            except RefusedError as error:
                reasons += error.reasons
    raise RefusedError(reasons[:1])


def _sheet(problem: Problem, settings: Settings, view: str, options: Sequence[Option], name: str) -> Asked:
    """The candidates at the left, the text at the upper right and the pictorial under it."""
    say, grid = settings.wording.render, grid_of([option.views for option in options], LETTERS, settings)
    right = next(k for k, option in enumerate(options) if option.sort == RIGHT)
    reasons = [reason_of(option, LETTERS[k], problem, settings, view) for k, option in enumerate(options)]
    wrong = [reason for k, reason in enumerate(reasons) if k != right]
    left, low, x1, y1 = grid.room
    for height in HEIGHTS:
        text = block_of(lines_of(problem, settings, view, name), grid.text_width, height)
        foot = y1 - 2.0 - text.breadth - ANSWER
        slot = Slot(say("match.answer"), (left + grid.text_width - 15.0, foot + 1.0), LETTERS[right])
        below, told = foot - UNDER, [block_of(reasons, grid.text_width, size) for size in HEIGHTS]
        picture = _picture(problem, settings, (left, low, x1, below), told)
        if picture is None:
            continue
        return Asked(
            name, (*grid.marks, *picture.marks), tuple(text.marks(left, y1 - 2.0)), (slot,), (grid.at[right],),
            (reasons[right], *wrong), (say("match.look_one"), say("match.look_hidden")), ((wrong[0],), (wrong[1],)),
            (left, below), picture.top, grid.text_width, grid.placed, (picture.view,))
    raise RefusedError([Reason("no room for the pictorial beside the candidates")])


def _picture(problem: Problem, settings: Settings, room: Box, reasons: Sequence[TextBlock]) -> Pointed | None:
    """The pictorial under the room for the reasons, in the larger lettering unless it is drawn larger under the smaller; None if
    it has no room."""
    found = list[Pointed]()
    for block in reasons:
        with suppress(RefusedError):
            found.append(pointed_in(problem, settings, (*room[:3], room[3] - block.breadth - UNDER), ()))
    return max(found, key=lambda picture: picture.view.scale, default=None)


def lines_of(problem: Problem, settings: Settings, view: str, name: str) -> list[str]:
    """What is asked, and what the pictorial cannot show."""
    say = settings.wording.render
    scale = say("scale.full", scale=name) if name == "1:1" else say("scale.reduced", scale=name)
    arrow = say(f"letters.arrow_{view}") if view in settings.arrows else ""
    if view == WHOLE:
        projection = say(f"projection.{settings.projection}")
        lines = [say("match.whole", first=LETTERS[0], last=LETTERS[-1], projection=projection),
                 say("match.arrow", arrow=say("letters.arrow_front"))]
    else:
        lines = [say("match.one", first=LETTERS[0], last=LETTERS[-1], view=say(f"named.{view}", arrow=arrow))]
        if view != "front":
            lines.append(say("match.arrow", arrow=say("letters.arrow_front")))
    lines += [say("match.drawn", scale=scale), say("match.write")]
    if problem.symmetry:
        lines.append(say(f"question.symmetry_{''.join(sorted(problem.symmetry))}"))
    return [*lines, *(say(f"notes.{note.key}", **note.values) for note in problem.notes)]

