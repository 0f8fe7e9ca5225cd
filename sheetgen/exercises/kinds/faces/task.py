"""What all sheets of the kind ``faces`` have in common: the lettered pictorial over the numbered views, left of the table."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import combinations, product

import numpy as np
import shapely

from sheetgen.exercises.beside import pointed
from sheetgen.exercises.drawing import INSET
from sheetgen.exercises.kinds.faces.chosen import LETTER, NUMBER, Chosen, choose_faces
from sheetgen.exercises.kinds.faces.showing import Showing
from sheetgen.exercises.marking.labels import Leading, number_marks
from sheetgen.exercises.numbering import Numbered
from sheetgen.geometry import Array
from sheetgen.ink import Mark, Text, moved
from sheetgen.problem import Problem
from sheetgen.refusals import Reason, RefusedError
from sheetgen.sheet import Settings
from sheetgen.sheet.free import boxes_of
from sheetgen.sheet.layout import SCALES, place_of, views_asked
from sheetgen.sheet.paper import Box
from sheetgen.sheet.titleblock_ink import titleblock_box
from sheetgen.sheet.viewmarks import view_marks
from sheetgen.sight import PlacedView
from sheetgen.solid import Faces, faces_of

COLUMNS = ((118.0, 8.0), (92.0, 6.0))
"""mm: width of the text and the table at the right, and what is kept free at their left; the narrower on small paper."""

GAPS = ((26.0, 16.0), (19.0, 13.0))
"""mm between the views, and round them: room for numbers at their leaders, and for names."""

NAME, UNDER, CLEAR, BETWEEN_NAMES = 3.5, 9.0, 2.0, 6.0
"""mm: height of the views' names; from a view down to them; from a centre line; and between two of them."""

ENOUGH = 6
"""Faces with which another arrangement is not looked for."""

LEAST_PICTORIAL = 62.0
"""mm, the longer side: on a smaller pictorial letters hide the faces (common practice, no source)."""

APART = 6.0
"""mm between two numbers, and from one to a name: nearer ones read as one (common practice, no source)."""

OFF_BLOCK = 4.0
"""mm kept free round the title block."""

OVER, CAPTION = 8.0, 2.5
"""mm between the pictorial and the views; height of the words under it."""


@dataclass(frozen=True, eq=False)
class Task:
    """``scale_name``: of the views; ``picture``: the pictorial; ``placed``: the views in the order of the table; ``marks``: both
    with letters, numbers and names; ``width``: of text and table."""

    scale_name: str
    chosen: Chosen
    picture: PlacedView
    placed: tuple[PlacedView, ...]
    marks: tuple[Mark, ...]
    width: float

    @property
    def views(self) -> tuple[str, ...]:
        """The views by name, in the order of the table."""
        return tuple(view.view.name for view in self.placed)


def task_of(problem: Problem, settings: Settings) -> Task:
    """Letter and number the faces at the largest scale of the views at which all finds room.

    Raises: RefusedError if it does at none, or too few faces can be asked for.
    """
    found, reasons = list[Task](), list[Reason]()
    for scaled, column, gaps in product(SCALES[:2], COLUMNS, GAPS):
        try:
            found.append(_arranged(problem, settings, scaled, column, gaps))
        except RefusedError as error:
            reasons += error.reasons
            continue
        if len(found[-1].chosen.faces) >= ENOUGH:
            return found[-1]
    if not found:
        raise RefusedError(reasons[-1:])
    return max(found, key=lambda task: len(task.chosen.faces))


def served(problem: Problem, settings: Settings) -> Chosen:
    """The faces that the largest pictorial shows, at the first scale of the views at which they are enough.

    Raises: RefusedError if they are so at none.
    """
    reasons = list[Reason]()
    for scaled in SCALES[:2]:
        try:
            return _standing(problem, settings, scaled, COLUMNS[-1], GAPS[-1]).chosen()
        except RefusedError as error:
            reasons += error.reasons
    raise RefusedError(reasons[-1:])


@dataclass(frozen=True, eq=False)
class _Standing:
    """Pictorial and views where they stand, without letters and numbers; ``top``: of the views, and what is kept free;
    ``arrows``: letters of arrows of sight."""

    picture: PlacedView
    marks: list[Mark]
    views: tuple[PlacedView, ...]
    top: float
    faces: Faces
    arrows: tuple[str, ...]

    @cached_property
    def shown(self) -> list[Showing]:
        """The faces in the views."""
        return [Showing(view, self.faces) for view in self.views]

    def chosen(self) -> Chosen:
        """The faces that are asked for. Raises: RefusedError for too few."""
        return choose_faces(Showing(self.picture, self.faces), self.shown, self.arrows)


def _room(settings: Settings, column: tuple[float, float]) -> Box:
    """What text and table leave free."""
    paper = settings.paper
    return paper.x0 + INSET, paper.y0 + INSET, paper.x1 - INSET - sum(column), paper.y1 - INSET


def _standing(
    problem: Problem, settings: Settings, scaled: tuple[str, float], column: tuple[float, float], gaps: tuple[float, float]
) -> _Standing:
    """Raises: RefusedError if there is no room."""
    room = _room(settings, column)
    views = _views(problem, settings, scaled[1], room, gaps)
    top = max(view.box[3] for view in views) + gaps[1]
    words = settings.wording.render("notes.not_to_scale")
    picture, marks = _pictorial(problem, settings, (room[0], top + OVER, room[2], room[3]), words)
    arrows = tuple(settings.wording.render(f"letters.arrow_{view}") for view in ("front", "left", "right"))
    return _Standing(picture, marks, tuple(views), top, faces_of(problem.solid), arrows)


def _arranged(
    problem: Problem, settings: Settings, scaled: tuple[str, float], column: tuple[float, float], gaps: tuple[float, float]
) -> Task:
    standing, room = _standing(problem, settings, scaled, column, gaps), _room(settings, column)
    chosen = standing.chosen()
    letters = [Text(face.letter, _base(face.place, LETTER), LETTER, anchor="middle") for face in chosen.faces]
    area = (room[0], room[1], room[2], standing.top + OVER / 2)
    marks = (*standing.marks, *letters, *_numbered(standing.shown, chosen, settings, area))
    return Task(scaled[0], chosen, standing.picture, standing.views, marks, column[0])


def _views(problem: Problem, settings: Settings, scale: float, room: Box, gaps: tuple[float, float]) -> list[PlacedView]:
    """The views as they stand to each other in the angle of projection, at the foot of a room, in the middle across.

    Raises: RefusedError if the room is too small.
    """
    names, (between, around) = views_asked(settings.side), gaps
    sights = {name: problem.sights[name] for name in names}
    size = {name: (sight.view.extent[1] - sight.view.extent[0]) * scale for name, sight in sights.items()}
    stands = {name: place_of(sight.view.frame, sights["front"].view.frame, settings.projection) for name, sight in sights.items()}
    starts, whole = [], []
    for axis in (0, 1):
        at, found = 0.0, dict[int, float]()
        for track in sorted({place[axis] for place in stands.values()}):
            found[track] = at
            at += max(float(size[name][axis]) for name in names if stands[name][axis] == track) + between
        starts.append(found)
        whole.append(at - between)
    # Left of the title block, or else over it.
    block = titleblock_box(settings.block, settings.paper)
    x1, foot = min(room[2], block[0] - OFF_BLOCK), room[1]
    if whole[0] + 2 * around > x1 - room[0]:
        x1, foot = room[2], block[3] + OFF_BLOCK
    if whole[0] + 2 * around > x1 - room[0] or whole[1] + 2 * around + foot + LEAST_PICTORIAL / 2 > room[3]:
        raise RefusedError([Reason("no room for pictorial and views side by side with the table")])
    corner = np.round([(room[0] + x1 - whole[0]) / 2, foot + around], 1)
    corners = {name: corner + np.array([starts[axis][stands[name][axis]] for axis in (0, 1)]) for name in names}
    return [PlacedView.cornered(sights[name], scale, corners[name]) for name in names]


def _pictorial(problem: Problem, settings: Settings, room: Box, words: str) -> tuple[PlacedView, list[Mark]]:
    """The pictorial with its arrow of sight, as large as it goes up to full size, in the middle of a room, with words under it.

    Raises: RefusedError if that is too small.
    """
    sight = problem.pictorial
    alone = pointed(sight, 1.0, settings)
    low, high = _extent(alone)
    share = min(1.0, (room[2] - room[0]) / (high[0] - low[0]), (room[3] - room[1] - CAPTION - 4.0) / (high[1] - low[1]))
    for scale in np.round(share * np.array([1.0, 0.95, 0.9]), 3).tolist():      # its arrow does not shrink with it
        marks = pointed(sight, scale, settings)
        low, high = _extent(marks)
        wide, tall = (high - low).tolist()
        if wide > room[2] - room[0] or tall + CAPTION + 4.0 > room[3] - room[1]:
            continue
        if float((sight.view.extent[1] - sight.view.extent[0]).max()) * scale < LEAST_PICTORIAL:
            break
        x, y = ((np.array(room[:2]) + room[2:] - (high - low) + (0.0, CAPTION + 4.0)) / 2 - low).tolist()
        caption = Text(words, (x + (low[0] + high[0]) / 2, y + low[1] - 4.0 - CAPTION), CAPTION, anchor="middle")
        return PlacedView(sight, scale, np.array([x, y])), [*moved(marks, x, y), caption]
    raise RefusedError([Reason("no room for a pictorial whose faces take letters")])


def _numbered(shown: Sequence[Showing], chosen: Chosen, settings: Settings, area: Box) -> Iterator[Mark]:
    """The views with their names and numbers. Raises: RefusedError if a number finds no place."""
    names = [_name(each.view, settings.wording.render(f"views.{each.view.view.name}")) for each in shown]
    block = titleblock_box(settings.block, settings.paper)
    off = (block[0] - OFF_BLOCK, block[1], block[2], block[3] + OFF_BLOCK)
    if _overlapping(names) or any(x1 > off[0] and y0 < off[3] for _, y0, x1, _ in boxes_of(names).tolist()):
        raise RefusedError([Reason("the names of the views have no room side by side")])
    areas = [Text(str(one.number), _base(one.inside, NUMBER), NUMBER, anchor="middle")
             for those in chosen.pointed for one in those if one.inside is not None]
    lines = [[Numbered(one.number, "", one.line) for one in those if one.line is not None] for those in chosen.pointed]
    pointed_at = {(v, id(line.shape)) for v, those in enumerate(lines) for line in those}
    among = [line.points() * each.view.scale + each.view.origin for v, each in enumerate(shown) for line in each.lines
             if (v, id(line)) not in pointed_at]
    among += [line for each in shown for kind in ("visible", "hidden") for line in each.view.coarse(kind) if len(line) > 2]
    among += [line for each in shown for line in each.view.centres]
    texts: list[Box] = [tuple(box) for box in boxes_of([*names, *areas]).tolist()]
    leading = Leading(
        {one.number for those in chosen.pointed for one in those if not one.area}, APART, texts,
        shapely.union_all([shapely.box(*each.view.box) for each in shown]),
        shapely.union_all([one.area for those in chosen.pointed for one in those if one.inside is not None and one.area]))
    placed = [each.view for each in shown]
    found = number_marks(placed, lines, [off, *texts], area, NUMBER, among=among, leading=leading)
    if found is None:
        raise RefusedError([Reason("the number of a line finds no place")])
    for each in shown:
        yield from view_marks(each.view)
    yield from (*names, *areas, *found[0])


def _name(view: PlacedView, words: str) -> Text:
    """The name under a view, and under the centre lines that stick out of it."""
    (x0, y0, x1, _), lowest = view.box, min((float(line[:, 1].min()) for line in view.centres), default=np.inf)
    return Text(words, ((x0 + x1) / 2, min(y0 - UNDER + NAME, lowest - CLEAR) - NAME), NAME, anchor="middle")


def _overlapping(names: Sequence[Text]) -> bool:
    boxes = boxes_of(names)
    return any(one[0] - BETWEEN_NAMES < other[2] and other[0] - BETWEEN_NAMES < one[2] and one[1] < other[3] and other[1] < one[3]
               for one, other in combinations(boxes.tolist(), 2))


def _extent(marks: Sequence[Mark]) -> tuple[Array, Array]:
    boxes = boxes_of(marks)
    return boxes[:, :2].min(axis=0), boxes[:, 2:].max(axis=0)


def _base(middle: Array, height: float) -> tuple[float, float]:
    """Where a text's base line is whose middle stands there."""
    return float(middle[0]), float(middle[1]) - height / 2
