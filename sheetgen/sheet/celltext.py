"""How a text fits its cell: narrow face, then more lines, then smaller lettering. Block mm."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from sheetgen.ink import HEIGHTS, Face, LetteringError, Text, checked, reach, text_width, wrapped
from sheetgen.templating.titleblock import Cell
from sheetgen.units import EXACT

SIDE = 1.2
"""mm kept free on the left and right of a text."""

EDGE = 0.9
"""mm kept free above a label, below a text, and above a text without a label."""

LABEL_HEIGHT, UNDER_LABEL = 1.8, 0.8
"""mm, lettering of labels, and what is kept free under it."""

LINE_PITCH = 1.5
"""Distance of base lines in heights; at least 1.4 (ISO 3098, type B lettering, from memory)."""

CLEAR_OF_RULE, CLEAR_OF_TEXT = 0.4, 0.2
"""mm kept free of tails and accents: from the middle of a rule, half of whose width (0.35 for a frame) is ink; from letters."""

MOST_LINES = 3

FACES = (Face.REGULAR, Face.NARROW)


def label_marks(cell: Cell, text: str) -> list[Text]:
    """Return the small label in the cell's upper left corner. Raises: LetteringError if it does not fit."""
    if not text:
        return []
    x, y, width, height = cell.box
    label, room = checked(text), width - 2 * SIDE
    face = next((face for face in FACES if text_width(label, LABEL_HEIGHT, face) <= room), None)
    if face is None:
        needed = text_width(label, LABEL_HEIGHT, Face.NARROW)
        raise LetteringError(f"the label {label!r}, {needed:.1f} mm wide for a room of {room:.1f} mm", label, room)
    return [Text(label, (x + SIDE, y + height - EDGE - LABEL_HEIGHT), LABEL_HEIGHT, face=face)]


def text_marks(cell: Cell, text: str) -> list[Text]:
    """Return ``text`` in its cell, in one line or more.

    Raises: LetteringError if it does not fit or has signs that the lettering lacks.
    """
    text = checked(text)
    if not text:
        return []
    x, y, width, _ = cell.box
    room_up, room = _room_up(cell), width - 2 * SIDE
    for height, face, count in _attempts(cell, room_up):
        lines = _lines(text, room, height, face, count)
        bases = _base_lines(cell, lines, height, face) if lines else None
        if lines is None or bases is None:
            continue
        at_x, anchor = {"left": (x + SIDE, "start"), "centre": (x + width / 2, "middle"),
                        "right": (x + width - SIDE, "end")}[cell.align]
        return [Text(line, (at_x, y + base), height, anchor=anchor, face=face) for line, base in zip(lines, bases, strict=True)]
    raise LetteringError(_refusal(cell, text, room, room_up), text, room)


def _base_lines(cell: Cell, lines: list[str], height: float, face: Face) -> list[float] | None:
    """Base lines over the cell's floor, top line first, capitals in the middle of the room as far as tails and accents let.

    None if these would touch a line of text, a label or a rule.
    """
    reaches = [[height * part for part in reach(line, face)] for line in lines]
    between = [height + below + above + CLEAR_OF_TEXT for (below, _), (_, above) in pairwise(reaches)]
    pitch = max([LINE_PITCH * height, *between])
    block, room_up = height + pitch * (len(lines) - 1), _room_up(cell)
    head = UNDER_LABEL - CLEAR_OF_TEXT if cell.labelled else EDGE - CLEAR_OF_RULE
    least = CLEAR_OF_RULE + reaches[-1][0] + block - height
    most = EDGE + room_up + head - reaches[0][1] - height
    if block > room_up + EXACT or least > most + EXACT:
        return None
    top = min(max(EDGE + (room_up + block) / 2 - height, least), most)
    return [top - pitch * row for row in range(len(lines))]


def _room_up(cell: Cell) -> float:
    head = EDGE + LABEL_HEIGHT + UNDER_LABEL if cell.labelled else EDGE
    return cell.box[3] - head - EDGE


def _attempts(cell: Cell, room_up: float) -> Iterator[tuple[float, Face, int]]:
    """Heights, faces and numbers of lines, best first, as far as the cell is high enough."""
    for height in (each for each in HEIGHTS if cell.least <= each <= cell.height):
        for count in range(1, MOST_LINES + 1):
            if _block_height(height, count) <= room_up + EXACT:
                for face in FACES:
                    yield height, face, count


def _block_height(height: float, count: int) -> float:
    return height * (1 + LINE_PITCH * (count - 1))


def _lines(text: str, room: float, height: float, face: Face, count: int) -> list[str] | None:
    """The text in exactly ``count`` lines, or None if it takes more."""
    if count == 1:
        return [text] if text_width(text, height, face) <= room else None
    try:
        lines = wrapped(text, room, height, face)
    except LetteringError:
        return None
    return lines if len(lines) == count else None


def _refusal(cell: Cell, text: str, room: float, room_up: float) -> str:
    shown = repr(text if len(text) <= 60 else text[:57] + "...")
    if _block_height(cell.least, 1) > room_up + EXACT:
        return f"a cell {cell.box[3]:g} mm high, too low for {shown} at {cell.least:g} mm"
    needed = text_width(text, cell.least, Face.NARROW)
    if needed <= room:
        return f"a cell {cell.box[3]:g} mm high, too low for the accents and tails of {shown} at {cell.least:g} mm"
    return f"{shown}, {needed:.1f} mm wide at {cell.least:g} mm, for a room of {room:.1f} mm"
