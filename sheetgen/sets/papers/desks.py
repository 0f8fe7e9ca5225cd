"""The plan of a room, page by page: a desk for each seat, its row and column by its place and by headings. Sheet millimetres."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np

from sheetgen.exercises.contact import fitted_line
from sheetgen.ink import HEIGHTS, Face, Fill, Mark, Pen, Stroke, Text, text_width
from sheetgen.sets.papers.office import MAIN, SMALL, lines_marks, name_text, paragraph, parted, rectangle, seat_text
from sheetgen.sets.papers.records import Candidate, Room, Seat
from sheetgen.sheet.paper import Box
from sheetgen.sheet.textblock import PITCH
from sheetgen.templating import Wording

GAP = 1.6
"""mm between two desks: they stand apart, and a line drawn twice is none."""

EDGE = 1.3
"""mm between the edge of a desk and what is on it."""

TICK = 2.8
"""mm, side of the square that is ticked."""

LARGEST = (46.0, 26.0)
"""mm, width and height of a desk in a small room."""

NAMED = 26.0
"""mm, least width of a desk on which a name stands."""

FRONT, ROWS, COLUMNS = 8.0, 14.0, 5.0
"""mm kept for the words at the front, and for the numbers of rows and columns."""

MAP = (20.0, 11.0)
"""mm, the most that the map of the parts takes."""


@dataclass(frozen=True, slots=True)
class Part:
    """The part of a room on one page: ``rows`` and ``columns``, from 0; how far apart its desks are (``pitch``, mm); which part
    it is (``place``, down and across, from 0) of how many (``parts``)."""

    rows: range
    columns: range
    pitch: tuple[float, float]
    place: tuple[int, int]
    parts: tuple[int, int]

    @property
    def of_several(self) -> bool:
        """Whether the room has other parts."""
        return self.parts != (1, 1)

    @property
    def map_width(self) -> float:
        """mm that the map at the right end of the head takes."""
        return MAP[0] + 4.0 if self.of_several else 0.0


def parts_of(room: Room, seated: Sequence[Candidate], box: Box, named: bool, wording: Wording) -> Iterator[Part]:
    """The parts in which a room is shown, row of parts by row, from the front."""
    wide, high = _least(room, seated, named, wording)
    across, down = _space(box)
    rows = parted(room.rows, max(1, int(down // (high + GAP))))
    columns = parted(room.columns, max(1, int(across // (wide + GAP))))
    pitch = (min(across / len(columns[0]), LARGEST[0] + GAP), min(down / len(rows[0]), LARGEST[1] + GAP))
    for i, part in enumerate(rows):
        for k, beside in enumerate(columns):
            yield Part(part, beside, pitch, (i, k), (len(rows), len(columns)))


def _space(box: Box) -> tuple[float, float]:
    """mm across and down for desks; the legend takes two lines."""
    x0, y0, x1, y1 = box
    return x1 - x0 - ROWS, y1 - y0 - FRONT - COLUMNS - 3 * PITCH * SMALL


def _least(room: Room, seated: Sequence[Candidate], named: bool, wording: Wording) -> tuple[float, float]:
    """Width and height of a desk, mm, in which all that stands on it can be read."""
    last = text_width(seat_text(Seat("", room.rows, room.columns), wording), SMALL, Face.NARROW)
    number = max((text_width(each.number, SMALL, Face.NARROW) for each in seated), default=0.0)
    wide = max(last + EDGE + TICK, number, NAMED - 2 * EDGE if named else 0.0) + 2 * EDGE
    return wide, 4 * EDGE + TICK + SMALL + (SMALL + EDGE if named else 0.0)


def desks_marks(
    room: Room, seated: Sequence[Candidate], part: Part, box: Box, named: bool, wording: Wording
) -> Iterator[Mark]:
    """What stands on the page of a ``part`` under its head."""
    say = wording.render
    x0, y0, x1, y1 = box
    across, _ = part.pitch[0] * len(part.columns), part.pitch[1] * len(part.rows)
    left = x0 + ROWS + (x1 - x0 - ROWS - across) / 2
    ahead = say("seating.ahead", rows=part.rows[0]) if part.rows[0] else say("seating.front")
    yield from _front(ahead, left + across / 2, y1, not part.rows[0], x1 - x0)
    top = y1 - FRONT - COLUMNS
    yield from _headings(part, left, top, say("seating.row"))
    who = {(each.seat.row, each.seat.column): each for each in seated
           if each.seat.row - 1 in part.rows and each.seat.column - 1 in part.columns}
    places = {(row, column): seat_text(Seat(room.name, row + 1, column + 1), wording)
              for row in part.rows for column in part.columns}
    height = _number_height(list(who.values()), part.pitch, named, max(places.values(), key=len))
    for (row, column), place in places.items():
        if (row + 1, column + 1) not in room.gaps:
            x, y = left + (column - part.columns[0]) * part.pitch[0], top - (row - part.rows[0] + 1) * part.pitch[1]
            box_of_it = (x + GAP / 2, y + GAP / 2, x + part.pitch[0] - GAP / 2, y + part.pitch[1] - GAP / 2)
            yield from _desk(box_of_it, place, who.get((row + 1, column + 1)), height)
    legend = paragraph(" ".join(say(f"seating.{text}") for text in ("looking", "desk", "free_seat")), x1 - x0)
    yield from lines_marks(legend, x0, y0 + SMALL + (len(legend) - 1) * PITCH * SMALL)
    if part.of_several:
        yield from _map(part, x1, y1)


def _desk(box: Box, place: str, candidate: Candidate | None, height: float) -> Iterator[Mark]:
    """A desk; a free one in a thin line."""
    x0, y0, x1, y1 = box
    yield rectangle(box, Pen.GRID if candidate else Pen.TABLE)
    yield Text(place, (x0 + EDGE, y1 - EDGE - SMALL), SMALL, face=Face.NARROW)
    if candidate is None:
        return
    yield rectangle((x1 - EDGE - TICK, y1 - EDGE - TICK, x1 - EDGE, y1 - EDGE), Pen.TABLE)
    width = x1 - x0 - 2 * EDGE
    low, middle = y0 + EDGE, (x0 + x1) / 2
    if printed := name_text(candidate):
        name = fitted_line(printed, (middle, low), width, min(height, MAIN))
        yield Text(name.text, name.at, name.height, anchor="middle", face=name.face)
        low += name.height + EDGE
    number = fitted_line(candidate.number, (middle, low), width, height)
    top = y1 - EDGE if _beside(place, number, width) else y1 - 2 * EDGE - TICK
    low += max(0.0, (top - low - number.height) / 2)
    yield Text(number.text, (middle, low), number.height, anchor="middle", face=number.face)


def _beside(place: str, number: Text, width: float) -> bool:
    """Whether a number may stand between the seat's place and the square, ``width`` mm of the desk being free."""
    aside = max(TICK, text_width(place, SMALL, Face.NARROW)) + EDGE
    return text_width(number.text, number.height, number.face) + 2 * aside <= width


def _number_height(seated: Sequence[Candidate], pitch: tuple[float, float], named: bool, place: str) -> float:
    """The height of numbers on a page, the same for all: the largest of the standard's, up to 7, in which each has room.
    ``place``: the longest of a seat there."""
    width, room = pitch[0] - GAP - 2 * EDGE, pitch[1] - GAP - 2 * EDGE - (MAIN + EDGE if named else 0.0)

    def fits(candidate: Candidate, height: float) -> bool:
        number = Text(candidate.number, (0.0, 0.0), height)
        under = height <= room - TICK - EDGE and text_width(number.text, height) <= width
        return under or (height <= room and _beside(place, number, width))

    return next((height for height in HEIGHTS if SMALL <= height <= 7.0 and all(fits(each, height) for each in seated)), SMALL)


def _headings(part: Part, left: float, top: float, row: str) -> Iterator[Text]:
    """The numbers of columns over the desks, those of rows at their left."""
    for number, column in enumerate(part.columns):
        yield Text(str(column + 1), (left + (number + 0.5) * part.pitch[0], top + 1.0), MAIN, anchor="middle")
    for number, each in enumerate(part.rows):
        y = top - (number + 0.5) * part.pitch[1] - MAIN / 2
        yield Text(str(each + 1), (left - 2.0, y), MAIN, anchor="end")
    yield fitted_line(row, (left - ROWS, top + 1.0), ROWS, SMALL)


def _front(said: str, middle: float, top: float, at_front: bool, room: float) -> Iterator[Mark]:
    """The words at the front: in a bar there, or with an arrow that points to it. ``room``: mm across the page."""
    base = top - FRONT + 3.0
    text = replace(fitted_line(said, (middle, base), room - 60.0, MAIN), anchor="middle")
    wide = text_width(text.text, text.height, text.face)
    yield text
    if at_front:
        yield rectangle((middle - wide / 2 - 20.0, base - 1.5, middle + wide / 2 + 20.0, base + MAIN + 1.5), Pen.BORDER)
        return
    for x in (middle - wide / 2 - 6.0, middle + wide / 2 + 6.0):
        yield Stroke(np.array([(x, base - 0.5), (x, base + 1.5)]), Pen.BORDER)
        yield Fill(np.array([(x - 1.2, base + 1.5), (x + 1.2, base + 1.5), (x, base + MAIN + 0.5)]))


def _map(part: Part, right: float, top: float) -> Iterator[Mark]:
    """The parts of the room, this one black, at the right end of the head."""
    down, across = part.parts
    side = min(MAP[0] / across, MAP[1] / down, 6.0)
    x, y = right - side * across, top + 4.0
    edge = min(0.4, side / 8)
    for i in range(down):
        for k in range(across):
            low = y + (down - 1 - i) * side
            box = (x + k * side + edge, low + edge, x + (k + 1) * side - edge, low + side - edge)
            yield rectangle(box, Pen.TABLE)
            if (i, k) == part.place:
                yield Fill(np.array([(box[0], box[1]), (box[2], box[1]), (box[2], box[3]), (box[0], box[3])]))
