"""Pages as text, and back, for keeping them for a while. It is plain data: reading it runs nothing, whoever has written it.

Numbers come back as they were, to the last bit.
"""

from __future__ import annotations

import json
from base64 import b64decode, b64encode
from collections.abc import Sequence
from typing import Any

import numpy as np

from sheetgen.ink.marks import Colour, Face, Fill, Mark, Page, Pen, Picture, Shape, Stroke, Text


def page_text(page: Page) -> str:
    """A page as JSON.

    >>> page_text(Page(420, 297, [Text("60", (1.5, 2), 3.5)]))
    '[420.0,297.0,[["text","60",[1.5,2.0],3.5,[1.0,0.0],[0.0,1.0],"start","regular"]]]'
    """
    return json.dumps([float(page.width), float(page.height), [_plain(mark) for mark in page.marks]], separators=(",", ":"))


def page_of_text(text: str) -> Page:
    """The page that ``page_text`` wrote. Raises: ValueError for a text that it did not write."""
    try:
        width, height, marks = json.loads(text)
        return Page(float(width), float(height), tuple(_mark(*plain) for plain in marks))
    except (TypeError, RecursionError) as error:
        raise ValueError("no stored page") from error


def _plain(mark: Mark) -> list[Any]:
    if isinstance(mark, Text):
        return ["text", mark.text, _floats(mark.at), float(mark.height), _floats(mark.along), _floats(mark.up), mark.anchor,
                mark.face.value]
    points = np.asarray(mark.points, float).tolist()
    if isinstance(mark, Fill):
        return ["fill", points, float(mark.shade)]
    if isinstance(mark, Picture):
        return ["picture", points, b64encode(mark.png).decode()]
    if isinstance(mark, Shape):
        return ["shape", points, [[int(count), bool(closed)] for count, closed in mark.runs], mark.fill, mark.line,
                float(mark.width), mark.even_odd, mark.ends, mark.corners]
    flags = [bool(flag) for flag in (mark.curved, mark.closed, mark.gap_first, mark.gap_last)]
    return ["stroke", points, mark.pen.value, *flags, _floats(mark.dash), float(mark.phase)]


def _floats(values: tuple[float, ...]) -> list[float]:
    return [float(value) for value in values]


def _mark(sort: str, *said: Any) -> Mark:
    if sort == "text":
        text, at, height, along, up, anchor, face = said
        return Text(text, tuple(at), height, tuple(along), tuple(up), anchor, Face(face))
    if sort == "fill":
        points, shade = said
        return Fill(np.array(points, float), shade)
    if sort == "picture":
        points, png = said
        return Picture(np.array(points, float), b64decode(png, validate=True))
    if sort == "shape":
        points, runs, fill, line, width, even_odd, ends, corners = said
        return Shape(np.array(points, float), tuple((count, closed) for count, closed in runs), _colour(fill), _colour(line),
                     width, even_odd, ends, corners)
    points, pen, curved, closed, first, last, dash, phase = said
    return Stroke(np.array(points, float), Pen(pen), curved, closed, first, last, tuple(dash), phase)


def _colour(said: Sequence[float] | None) -> Colour | None:
    if said is None:
        return None
    red, green, blue = said
    return red, green, blue
