"""What is looked for on printed pages, read back from the file: lettering in the way of lettering or lines, too small, out of the
frame; lines drawn twice."""

from __future__ import annotations

import io
from collections.abc import Iterator, Sequence

import pdfplumber
import shapely

from sheetgen.ink import Document, Page, write_pdf
from tests.outside.reader import Lettering, Line, Sheet, read

FINE = 0.02
LEAST = 0.3
"""mm between lettering and a line (common practice, no source)."""

CAPITALS = 0.7
"""Height of capitals, in sizes of the type."""


def bytes_of(pages: Sequence[Page] | Document) -> bytes:
    """The file."""
    out = io.BytesIO()
    write_pdf(pages if isinstance(pages, Document) else Document(pages, "Trial"), out)
    return out.getvalue()


def sheets_of(data: bytes) -> list[Sheet]:
    """All pages of a file, read."""
    with pdfplumber.open(io.BytesIO(data)) as pdf:
        count = len(pdf.pages)
    return [read(data, page) for page in range(count)]


def box_of(entry: Lettering) -> shapely.Polygon:
    """Base line to the height of capitals."""
    up = entry.up * entry.size * CAPITALS
    return shapely.Polygon([entry.start, entry.end, entry.end + up, entry.start + up])


def defects(sheet: Sheet) -> Iterator[str]:
    """What is wrong on a page."""
    seen = [entry for entry in sheet.lettering if entry.text.strip()]
    inside = [entry for entry in seen if 20 < entry.start[0] < sheet.width - 10 and 10 < entry.start[1] < sheet.height - 10]
    boxes = [box_of(entry) for entry in seen]
    for i, k in shapely.STRtree(boxes).query(boxes, predicate="intersects").T:
        if i < k:
            yield f"{seen[i].text!r} on {seen[k].text!r}"
    lines = [line.string.buffer(line.width / 2, cap_style="flat") for line in sheet.lines]
    tree = shapely.STRtree(lines)
    for entry, box in zip(seen, boxes, strict=True):
        if len(tree.query(box, predicate="dwithin", distance=LEAST - FINE)):
            yield f"a line at {entry.text!r}"
    frame = shapely.box(20, 10, sheet.width - 10, sheet.height - 10)
    for entry in inside:
        if not frame.contains(box_of(entry)):
            yield f"{entry.text!r} runs out of the frame"
        if round(entry.size * CAPITALS, 1) < 2.5:
            yield f"{entry.text!r} is smaller than 2.5 mm"
    yield from _twice(sheet.lines)


def _twice(lines: Sequence[Line]) -> Iterator[str]:
    legs = [shapely.LineString(pair) for line in lines for pair in zip(line.points, line.points[1:], strict=False)]
    for i, k in shapely.STRtree(legs).query(legs, predicate="intersects").T:
        if i < k and legs[i].intersection(legs[k]).length > 1.0:
            yield f"two lines on each other: {legs[i]} and {legs[k]}"


def within(sheet: Sheet, box: tuple[float, float, float, float]) -> list[str]:
    """What is lettered within a box, from the top."""
    found = [entry for entry in sheet.lettering if shapely.box(*box).contains(box_of(entry))]
    return [entry.text for entry in sorted(found, key=lambda entry: -entry.start[1])]
