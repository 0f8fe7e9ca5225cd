"""What the sheets of the kind ``auxiliary`` have in common: which face is asked for, two views with all sizes, the place of the
auxiliary view, the pictorial that tells the shape, the words."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, fields
from functools import cached_property
from itertools import product

from sheetgen.exercises.beside import plain_beside, taken_by, text_beside
from sheetgen.exercises.drawing import Drawing, drawing_of
from sheetgen.exercises.kinds.auxiliary.dressing import Asked, Folded
from sheetgen.exercises.kinds.auxiliary.face import faces_to_ask
from sheetgen.exercises.kinds.auxiliary.ways import HEIGHTS, WIDTHS, Way, ways_of
from sheetgen.exercises.kinds.views.answer import scales_beside
from sheetgen.ink import Mark
from sheetgen.placing import Blemish, ViewsRead
from sheetgen.problem import Problem
from sheetgen.refusals import Reason, RefusedError
from sheetgen.sheet import Settings
from sheetgen.sheet.free import Taken, boxes_of, outlines_of, rows_of
from sheetgen.sight import Sight

MARGINS = (6.0, 3.0)
"""mm kept free round the words, as they are tried."""

BESIDE_NAME = 12.0
"""mm kept free beside the name of a view, lest the words seem to go on from it."""

CLEAR, CLOSE = 5.0, 3.0
"""mm kept free round the pictorial, and where room is scarce."""

FACES, MOST, SOME = 2, 12, 3
"""So many faces are tried; so often sizes are placed for one of them at one scale, and where only slight things are marked."""

NO_ROOM = Reason("two views and the auxiliary view have no room on the paper")


@dataclass(frozen=True, eq=False)
class TaskRead(ViewsRead):
    """The two views as a strict reader sees them; ``lettered``: the distances of all points of the face have letters."""

    lettered: bool = True

    def serious(self) -> Iterator[Blemish]:
        """What they are sent back for."""
        yield from super().serious()
        if not self.lettered:
            yield Blemish.UNLETTERED


@dataclass(frozen=True, eq=False)
class Task:
    """``sized``: the problem with the sizes that the two views have; ``drawing``: the two views with all sizes, the reference
    lines and the arrow; ``asked``: what is asked for; ``sight``: the pictorial, ``picture``: it on the sheet; ``lines``: the
    words, ``text``: these on the sheet."""

    sized: Problem
    drawing: Drawing
    asked: Asked
    sight: Sight
    lines: tuple[str, ...]
    picture: tuple[Mark, ...]
    text: tuple[Mark, ...]

    @cached_property
    def folded(self) -> Folded:
        """All that belongs to the auxiliary view."""
        return self.asked.folded(self.drawing.views)

    @cached_property
    def read(self) -> TaskRead:
        """As a strict reader sees it."""
        read, equal = self.drawing.read, self.folded.equal
        own = {each.name: getattr(read, each.name) for each in fields(read)}
        return TaskRead(**own, lettered=len(equal[0].letters if equal else ()) >= len(self.folded.carried.levels[-2]))

    @property
    def option(self) -> int:
        """What a code has of it: 1 for the face alone, 2 for the whole part."""
        return 2 if self.asked.whole else 1


def task_of(problem: Problem, settings: Settings) -> Task:
    """The first of the faces that can be drawn right, at the largest scale at which it can, with views beside each other and in
    places so that a strict reader marks the least.

    Raises: UnsuitedError if the part has no inclined face; RefusedError if none can be drawn right.
    """
    reasons = list[Reason]()
    for face in faces_to_ask(problem, settings)[:FACES]:
        for ways in ways_of(problem, settings, face, reasons):
            if task := _cleanest(ways, settings, reasons):
                return task
    raise RefusedError(reasons or [NO_ROOM])


def _cleanest(ways: Iterator[Way], settings: Settings, reasons: list[Reason]) -> Task | None:
    """Of some ways to ask that on which a strict reader marks the least, then that with the fewest sizes told in words; the first
    on which he marks nothing, or soon one that is not sent back."""
    found, tried = list[tuple[tuple[int, int], int, Task]](), 0
    for way in ways:
        for asked in way.tries:
            tried += 1
            try:
                drawing = drawing_of(way.sized.problem, settings, asked.views, asked)
                picture, text = _beside(settings, drawing, way.sight, way.lines)
            except RefusedError as error:
                reasons += error.reasons
                continue
            task = Task(way.sized.problem, drawing, asked, way.sight, way.lines, tuple(picture), tuple(text))
            found.append((_marked(task), len(way.sized.besides), task))
            break
        if tried >= MOST or (found and not found[-1][0][0] and (tried >= SOME or not found[-1][0][1])):
            break
    return min(found, key=lambda one: (one[0][0], one[1], one[0][1]))[2] if found else None


def _marked(task: Task) -> tuple[int, int]:
    """How much a strict reader marks: what a page is sent back for, a distance without a letter twice; and what is slight."""
    return sum(1 for _ in task.read.serious()) + (not task.read.lettered), sum(1 for _ in task.read.slight())


def served(problem: Problem, settings: Settings) -> None:
    """Raise what ``task_of`` would if the part has no face that can be asked for, or its views no place, but draw nothing."""
    reasons = list[Reason]()
    for face in faces_to_ask(problem, settings)[:FACES]:
        if next(ways_of(problem, settings, face, reasons), None):
            return
    raise RefusedError(reasons or [NO_ROOM])


def _beside(
    settings: Settings, drawing: Drawing, sight: Sight, lines: Sequence[str]
) -> tuple[Sequence[Mark], Sequence[Mark]]:
    """The largest pictorial with which the words find room, and these. Raises: RefusedError if there is none."""
    paper, taken = settings.paper, _taken(settings, drawing)
    corners = [(paper.x0, paper.y1), (paper.x1, paper.y1), (paper.x0, paper.y0)]
    for height, scaled, towards in product(HEIGHTS, list(scales_beside(sight, settings)), corners):
        picture = plain_beside(sight, settings, taken, towards, [scaled], CLEAR)
        if not picture:
            continue
        try:
            return picture, words_beside(lines, taken.with_more(outlines_of(picture)), (paper.x0, paper.y1), (height,))
        except RefusedError:
            continue
    for width, towards in product(WIDTHS, corners):                  # the words in a corner, the pictorial in what is left
        try:
            words = words_beside(lines, taken, towards, HEIGHTS[-1:], (width,))
        except RefusedError:
            continue
        around = taken.with_more(outlines_of(words))
        for scaled, corner in product(scales_beside(sight, settings), corners):
            if picture := plain_beside(sight, settings, around, corner, [scaled], CLOSE):
                return picture, words
    raise RefusedError([Reason("there is no room for words and pictorial beside the views")])


def words_beside(
    lines: Sequence[str], taken: Taken, towards: tuple[float, float], heights: Sequence[float] = HEIGHTS,
    widths: Sequence[float] = WIDTHS,
) -> list[Mark]:
    """Words where there is room. Raises: RefusedError if there is none."""
    return text_beside(lines, taken, towards, Reason("there is no room for the words beside the views"), heights=heights,
                       widths=widths, margins=MARGINS)


def _taken(settings: Settings, drawing: Drawing) -> Taken:
    """What the views take of the sheet, and all that the answer adds to them."""
    assert isinstance(drawing.dressing, Asked)
    folded = drawing.dressing.folded(drawing.views)
    boxes = [box for area in folded.blocked() for box in rows_of(area)]
    for name in drawing.chosen[len(drawing.items):]:
        for x0, y0, x1, y1 in boxes_of(name.drawn.texts).tolist():
            boxes.append((x0 - BESIDE_NAME, y0 - 2.0, x1 + BESIDE_NAME, y1 + 2.0))
    taken = taken_by(drawing.marks, settings).with_more(folded.lines())
    return taken.with_boxes([*boxes, *(view.box for view in drawing.views)])
