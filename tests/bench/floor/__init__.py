"""The writer of 1b25c09, frozen: the floor that the benchmarks measure against. It is not kept up, or it would be no floor."""

from __future__ import annotations

import io
from collections.abc import Sequence
from typing import Any

from tests.bench.floor.marks import Document, Face, Fill, Mark, Page, Pen, Stroke, Text
from tests.bench.floor.pdf import write_pdf

__all__ = ["frozen", "written"]


PENS = {pen.value: pen for pen in Pen}
"""Its pens by their names. A line of one that came later costs what a thin line costs."""


def frozen(page: Any) -> Page:
    """A page of today as one of the frozen writer, whatever today's marks are."""
    return Page(page.width, page.height, tuple(_mark(mark) for mark in page.marks))


def _mark(mark: Any) -> Mark:
    if hasattr(mark, "text"):
        return Text(mark.text, mark.at, mark.height, mark.along, mark.up, mark.anchor, Face(mark.face.value))
    if hasattr(mark, "pen"):
        pen, gaps = PENS.get(mark.pen.value, Pen.DIMENSION), (mark.gap_first, mark.gap_last)
        return Stroke(mark.points, pen, mark.curved, mark.closed, *gaps, mark.dash, mark.phase)
    return Fill(mark.points, mark.shade)


def written(pages: Sequence[Page]) -> bytes:
    """The pages as one PDF file."""
    out = io.BytesIO()
    write_pdf(Document(pages, title="floor"), out)
    return out.getvalue()
