"""Finished sheets of the bank, made once: the pages that the tests in this folder measure."""

from __future__ import annotations

import io
from dataclasses import dataclass
from functools import cache, cached_property

from sheetgen.bank import load_bank
from sheetgen.exercises import Role, sheets_of
from sheetgen.ink import Document, Page, write_pdf
from sheetgen.problem import Problem, problem_of
from sheetgen.refusals import RefusedError
from sheetgen.sheet import Style, settings_of
from tests.families import sample
from tests.outside.reader import Sheet, read
from tests.outside.sizes import Sizes, sizes_of

DRAWS = 8
"""Draws of a seed that are tried: a family that is refused more often is no use to a class."""

SIDE = {"first": "left", "third": "right"}
"""The side view usual with each projection: it then stands to the right of the front view (common practice, no source)."""

SOME = sample("sheets")
"""The families of which sheets are read check by check; of all others one pair is read in ``test_sweep.py``."""

ANSWERS = [(family, *look)
           for number, family in enumerate(SOME) for look in [((1, "first"), (2, "third"))[number % 2]]]
"""The answer sheets that are read: of each of these families one, by turns in one projection and in the other."""


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


def answer(family: str, seed: int, projection: str = "first", side: str | None = None, wording: str = "en") -> Made:
    """The answer sheet of the first draw of a seed that is not refused."""
    return _told(_made(family, seed, projection, side or SIDE[projection], False, wording))


def question(family: str, seed: int, projection: str = "first", side: str | None = None) -> Made:
    """The question sheet of the first draw of a seed that is not refused."""
    return _told(_made(family, seed, projection, side or SIDE[projection], True))


def styled(role: str, family: str, seed: int, **look: str) -> Made:
    """A sheet in a look of its own: paper, figures, title block, as a style has them."""
    return _told(_styled(role, family, seed, tuple(sorted(look.items()))))


@cache
def _styled(role: str, family: str, seed: int, look: tuple[tuple[str, str], ...]) -> Made | str:
    return _drawn(family, seed, Style(**dict(look)), Role(role))                     # type: ignore[arg-type]


def _told(made: Made | str) -> Made:
    assert isinstance(made, Made), made
    return made


@cache
def _made(family: str, seed: int, projection: str, side: str, asked: bool, wording: str = "en") -> Made | str:
    """The page, made once; or why there is none."""
    style = Style(projection=projection, side=side, wording=wording)  # type: ignore[arg-type]
    return _drawn(family, seed, style, Role.QUESTION if asked else Role.ANSWER)


def _drawn(family: str, seed: int, style: Style, role: Role) -> Made | str:
    settings, reason = settings_of(style), ""
    for draw in range(DRAWS):
        part = problem(family, seed, draw)
        try:
            data = pdf_of(*sheets_of(part, settings, [role])[role])
        except RefusedError as refused:
            reason = str(refused)
            continue
        return Made(part, data, read(data))
    return f"{family} {seed}: every draw is refused, the last because {reason}"


def answer_anew(family: str, seed: int) -> Made:
    """The first-angle answer sheet, made afresh whether it was made before or not."""
    problem.cache_clear()
    return _told(_made.__wrapped__(family, seed, "first", "left", False))


def pdf_of(*pages: Page) -> bytes:
    """The pages as a file."""
    out = io.BytesIO()
    write_pdf(Document(pages, title="Test"), out)
    return out.getvalue()
