"""Finished sheets of the bank, made once: the pages that the tests in this folder measure."""

from __future__ import annotations

import io
from dataclasses import dataclass
from functools import cache, cached_property

from sheetgen.bank import load_bank
from sheetgen.ink import Document, Page, write_pdf
from sheetgen.sets import Style, problem_of, settings_of
from sheetgen.sheet import NoRoomError, Problem, RefusedError, answer_page, question_page
from tests.outside.reader import Sheet, read
from tests.outside.sizes import Sizes, sizes_of

SIDE = {"first": "left", "third": "right"}
"""The side view usual with each projection: it then stands to the right of the front view (common practice, no source)."""

FAMILIES = tuple(load_bank())
ALL = [(family, seed, projection) for family in FAMILIES for seed, projection in ((1, "first"), (2, "third"))]
"""The answer sheets that are read: of each family one in each projection, of different sizes."""


@dataclass(frozen=True, eq=False)
class Made:
    """A page and what was to be drawn."""

    problem: Problem
    data: bytes
    sheet: Sheet

    @cached_property
    def sizes(self) -> Sizes:
        """The sizes that can be read from the page."""
        return sizes_of(self.sheet)


@cache
def problem(family: str, seed: int, draw: int = 0) -> Problem:
    """One problem of the bank."""
    return problem_of(load_bank()[family].sample(seed, draw))


@cache
def answer(family: str, seed: int, projection: str = "first", side: str | None = None) -> Made:
    """The answer sheet of the first draw of a seed that is not refused."""
    return _made(family, seed, projection, side or SIDE[projection], question=False)


@cache
def question(family: str, seed: int, projection: str = "first", side: str | None = None) -> Made:
    """The question sheet of the first draw of a seed that is not refused."""
    return _made(family, seed, projection, side or SIDE[projection], question=True)


def _made(family: str, seed: int, projection: str, side: str, *, question: bool) -> Made:
    settings = settings_of(Style(projection=projection, side=side))  # type: ignore[arg-type]
    for draw in range(20):
        part = problem(family, seed, draw)
        try:
            page = (question_page if question else answer_page)(part, settings)
        except (RefusedError, NoRoomError):
            continue
        data = pdf_of(page)
        return Made(part, data, read(data))
    raise AssertionError(f"{family} {seed}: every draw is refused")


def pdf_of(*pages: Page) -> bytes:
    """The pages as a file."""
    out = io.BytesIO()
    write_pdf(Document(pages, title="Test"), out)
    return out.getvalue()
