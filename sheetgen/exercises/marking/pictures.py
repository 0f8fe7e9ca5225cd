"""Pictures for the marker: the views with their lines numbered, and what is wrong, small. Sheet millimetres."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from sheetgen.exercises.drawing import Drawing
from sheetgen.exercises.marking.labels import number_marks
from sheetgen.exercises.marking.likely import Likely
from sheetgen.exercises.marking.table import Block
from sheetgen.exercises.numbering import Numbered
from sheetgen.geometry import Array
from sheetgen.ink import Mark, Pen, Stroke, Text, moved, wrapped
from sheetgen.problem import Problem
from sheetgen.sheet import Settings
from sheetgen.sheet.free import boxes_of
from sheetgen.sheet.layout import place_of
from sheetgen.sheet.paper import Box
from sheetgen.sheet.symbol import Projection
from sheetgen.sheet.viewmarks import view_marks
from sheetgen.sight import PlacedView

BETWEEN = 20.0
"""mm between the views of the picture, and round them: room for numbers, and for a view's name under it."""

UNDER = 9.0
"""mm from a view down to the capitals of its name: room for a row of numbers and for centre lines that stick out."""

CLEAR = 2.0
"""mm between such a line and the name."""

NAME = 3.5
"""mm, height of the views' names."""

HEIGHTS = (3.5, 2.5)
"""mm, of the numbers: the lower where the higher have no room."""

CROSS = 1.3
"""mm, half the height of the cross at a smooth join."""

CAPTION = 2.5
"""mm, height of the words under what is wrong."""

SMALL_GAP = 6.0
"""mm between views that show what is wrong."""

LEAST_SCALE = 0.6
"""Of the scale asked for, at which lines can still be told from one another; smaller, the picture has a page of its own."""


PLAIN = 11.0
"""What a number may cost on average before the views are drawn larger: some have leaders, few of them across other lines (common
practice, no source)."""

LARGER = (1.15, 1.3, 1.5, 1.75, 2.0, 2.5, 3.0)
"""Of the scale asked for, tried where numbers find no place at that."""


@dataclass(frozen=True, eq=False)
class Picture:
    """The numbered views, ``share``: their scale beside that asked for; ``cost``: of a number on average, high where it is not
    plain which line it means."""

    marks: tuple[Mark, ...]
    share: float
    cost: float


def picture_in(
    drawing: Drawing, settings: Settings, lines: Mapping[str, Sequence[Numbered]], likely: Likely, area: Box
) -> Picture | None:
    """The views with their lines numbered, as they stand to each other on the answer, in the middle of ``area``: at the scale
    asked for if they find room, else smaller; None where that shows too little, or numbers find no place."""
    share = min(1.0, _greatest(drawing, settings, area))
    if share < LEAST_SCALE:
        return None
    return _picture(_spread(drawing, settings, area, share), drawing, settings, lines, likely, area, [], share)


def picture_on_its_own(
    drawing: Drawing, settings: Settings, lines: Mapping[str, Sequence[Numbered]], likely: Likely, area: Box, block: Box
) -> Picture | None:
    """The views where they stand on the answer, at its scale, their lines numbered; where numbers crowd there, larger.
    ``block``: of the title. None where they find no place at all."""
    found = [_picture(drawing.views, drawing, settings, lines, likely, area, [block], 1.0)]
    greatest = _greatest(drawing, settings, area)
    for share in (share for share in LARGER if share <= greatest):
        if found[-1] and found[-1].cost <= PLAIN:
            break
        views = _spread(drawing, settings, area, share)
        over = (area[0], max(area[1], block[3]), area[2], area[3])
        if share <= _greatest(drawing, settings, over):
            views = _spread(drawing, settings, over, share)
        if all(view.box[2] + BETWEEN / 2 < block[0] or view.box[1] - UNDER - NAME > block[3] for view in views):
            found.append(_picture(views, drawing, settings, lines, likely, area, [block], share))
    return min(filter(None, found), key=lambda picture: picture.cost, default=None)


def pictures_one_by_one(
    drawing: Drawing, settings: Settings, lines: Mapping[str, Sequence[Numbered]], likely: Likely, area: Box
) -> list[Picture] | None:
    """Each view alone in ``area``, as large as it goes, its lines numbered; None where even so numbers find no place."""
    found = []
    for view in drawing.views:
        size = (view.view.extent[1] - view.view.extent[0]) * view.scale
        room = np.array([area[2] - area[0], area[3] - area[1]]) - 2 * BETWEEN
        share = min(LARGER[-1], float((room / size).min()))
        corner = np.array([area[0] + area[2], area[1] + area[3]]) / 2 - size * share / 2
        alone = PlacedView.cornered(view.sight, view.scale * share, corner, view.scale)
        tries = (_picture([alone], drawing, settings, lines, likely, area, [], share, crowded=some) for some in (False, True))
        picture = next(filter(None, tries), None)
        if picture is None:
            return None
        found.append(picture)
    return found


def _picture(
    views: Sequence[PlacedView], drawing: Drawing, settings: Settings, lines: Mapping[str, Sequence[Numbered]], likely: Likely,
    area: Box, taken: Sequence[Box], share: float, *, crowded: bool = False,
) -> Picture | None:
    """The views of a ``drawing`` as they are placed, with names, crosses at smooth joins, and numbers: low ones where high ones
    crowd."""
    crosses = [cross for view in views for join in likely.joins.get(view.view.name, ()) for cross in _cross(view, join)]
    names = [_name(view, drawing.name(view.view.name, settings)) for view in views]
    blocked: list[Box] = [*taken, *((x0, y0, x1, y1) for x0, y0, x1, y1 in boxes_of([*names, *crosses]).tolist())]
    drawn, best = [*(mark for view in views for mark in view_marks(view)), *names, *crosses], None
    for height in HEIGHTS:
        found = number_marks(views, [lines[view.view.name] for view in views], blocked, area, height, crowded=crowded)
        if found and (best is None or found[1] < best.cost):
            best = Picture((*drawn, *found[0]), share, found[1])
        if best and best.cost <= PLAIN:
            break
    return best


def _greatest(drawing: Drawing, settings: Settings, area: Box) -> float:
    """How large the views can be in an area, as a share of their size on the answer."""
    grid, sizes = _grid(drawing, settings.projection), _sizes(drawing)
    shares = []
    for axis, places in enumerate(grid):
        tracks = _tracks(places, sizes, axis)
        shares.append((area[axis + 2] - area[axis] - BETWEEN * (len(tracks) + 1)) / sum(tracks.values()))
    return min(shares)


def _spread(drawing: Drawing, settings: Settings, area: Box, share: float) -> list[PlacedView]:
    """The views in ``area``, with equal gaps between and beside them."""
    grid, sizes = _grid(drawing, settings.projection), _sizes(drawing)
    starts = []
    for axis, places in enumerate(grid):
        tracks = _tracks(places, sizes, axis)
        gap = (area[axis + 2] - area[axis] - share * sum(tracks.values())) / (len(tracks) + 1)
        starts.append(_starts(tracks, share, gap, area[axis]))
    corners = [(starts[0][grid[0][view.view.name]], starts[1][grid[1][view.view.name]]) for view in drawing.views]
    return [PlacedView.cornered(view.sight, view.scale * share, at, view.scale)
            for view, at in zip(drawing.views, corners, strict=True)]


def _name(view: PlacedView, words: str) -> Text:
    """The name under a view, and under the centre lines that stick out of it."""
    (x0, y0, x1, _), lowest = view.box, min((float(line[:, 1].min()) for line in view.centres), default=np.inf)
    return Text(words, ((x0 + x1) / 2, min(y0 - UNDER, lowest - CLEAR) - NAME), NAME, anchor="middle")


def _cross(view: PlacedView, join: Array) -> list[Mark]:
    """A cross on the middle of a smooth join."""
    points = join * view.scale + view.origin
    runs = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(points, axis=0).T))])
    u, v = (float(np.interp(runs[-1] / 2, runs, points[:, k])) for k in (0, 1))
    ends = (np.array([(u - CROSS, v - sense * CROSS), (u + CROSS, v + sense * CROSS)]) for sense in (1, -1))
    return [Stroke(segment, Pen.DIMENSION) for segment in ends]


def _grid(drawing: Drawing, projection: Projection) -> tuple[dict[str, int], dict[str, int]]:
    """The column and the row of each view, counted from the front view to the right and up."""
    frames = {view.view.name: view.view.frame for view in drawing.views}
    stands = {name: place_of(frame, frames["front"], projection) for name, frame in frames.items()}
    return {name: place[0] for name, place in stands.items()}, {name: place[1] for name, place in stands.items()}


def _sizes(drawing: Drawing) -> dict[str, Array]:
    """Width and height (2,) of each view on the answer."""
    return {view.view.name: (view.view.extent[1] - view.view.extent[0]) * view.scale for view in drawing.views}


def _tracks(places: Mapping[str, int], sizes: Mapping[str, Array], axis: int) -> dict[int, float]:
    """The width of each column, or the height of each row, in order."""
    return {track: max(float(sizes[name][axis]) for name in places if places[name] == track)
            for track in sorted(set(places.values()))}


def _starts(tracks: Mapping[int, float], share: float, gap: float, start: float) -> dict[int, float]:
    found, at = {}, start
    for track, size in tracks.items():
        at += gap
        found[track] = at
        at += size * share
    return found


def wrong_ones(
    problem: Problem, drawing: Drawing, settings: Settings, likely: Likely, off: str, width: float, height: float
) -> Block:
    """The side view from the wrong side, and the views as they stand in the other angle, small, side by side in a block ``width``
    mm wide and at most ``height`` high; ``off``: marks taken off for the wrong side, "" for none."""
    say = settings.wording.render
    other: Projection = "third" if settings.projection == "first" else "first"
    angle = _small_views(drawing, other)
    shown = [(angle, say("marking.wrong_projection", projection=say(f"projection.{other}")))]
    if likely.other_side:
        view = PlacedView(problem.sights[likely.other_side], 1.0, np.zeros(2))
        words = say(f"views.{likely.other_side}")
        caption = say("marking.wrong_side_off", view=words, marks=off) if off else say("marking.wrong_side", view=words)
        shown.insert(0, (small(view_marks(view, centres=False)), caption))
    cell = width / len(shown)
    return _beside(shown, cell, height)


def _beside(shown: Sequence[tuple[list[Mark], str]], cell: float, height: float) -> Block:
    """Drawings in cells side by side, as large as all can be in one share of their size, with captions under them."""
    extents = [boxes_of(marks) for marks, _ in shown]
    lows, highs = [boxes[:, :2].min(axis=0) for boxes in extents], [boxes[:, 2:].max(axis=0) for boxes in extents]
    tall = height - 5.5 - 4.0 * max(len(_captions(words, cell, 0.0, 0.0)) for _, words in shown)
    found, top = list[Mark](), 0.0
    for number, ((marks, words), low, high) in enumerate(zip(shown, lows, highs, strict=True)):
        share = min(0.5, (cell - 8.0) / float(high[0] - low[0]), tall / float(high[1] - low[1]))
        size = (high - low) * share
        found += moved(_scaled(marks, low, share), cell * number + (cell - float(size[0])) / 2, -float(size[1]) - 1.0)
        top = max(top, float(size[1]))
        found += _captions(words, cell, cell * (number + 0.5), -tall - 5.5)
    drop = tall - top
    return Block(tuple(replace(mark, at=(mark.at[0], mark.at[1] + drop)) if isinstance(mark, Text) else mark for mark in found),
                 cell * len(shown), height - drop)


def _captions(words: str, width: float, middle: float, base: float) -> list[Mark]:
    """Words under a drawing, in as many lines as they need."""
    return [Text(line, (middle, base - 4.0 * k), CAPTION, anchor="middle") for k, line in enumerate(
        wrapped(words, width - 4.0, CAPTION))]


def _scaled(marks: Sequence[Mark], low: Array, share: float) -> list[Mark]:
    return [replace(mark, points=(mark.points - low) * share) for mark in marks if isinstance(mark, Stroke)]


def small(marks: Sequence[Mark]) -> list[Mark]:
    """With the pens of small pictures."""
    return [replace(mark, pen=Pen.SMALL) if isinstance(mark, Stroke) and mark.pen is Pen.OUTLINE else mark for mark in marks]


def _small_views(drawing: Drawing, projection: Projection) -> list[Mark]:
    """The views as they stand in an angle, near one another, visible lines only."""
    columns, rows = _grid(drawing, projection)
    sizes = _sizes(drawing)
    gap = SMALL_GAP / 0.25
    across, up = (_starts(_tracks(places, sizes, axis), 1.0, gap, 0.0) for axis, places in enumerate((columns, rows)))
    marks: list[Mark] = []
    for view in drawing.views:
        name = view.view.name
        there = PlacedView.cornered(view.sight, view.scale, (across[columns[name]], up[rows[name]]))
        marks += view_marks(there, hidden=False, centres=False)
    return small(marks)
