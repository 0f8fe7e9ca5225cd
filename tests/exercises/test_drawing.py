"""The views with their sizes: at what scale they are drawn, and asked for."""

from __future__ import annotations

import pytest

from sheetgen.bank import Identity
from sheetgen.exercises import drawing, sheets_of
from sheetgen.ink import Page, Text
from sheetgen.placing import PlacingError
from sheetgen.problem import Problem
from sheetgen.refusals import RefusedError
from sheetgen.sheet import Style, settings_of
from tests.parts import S3

WORKS = drawing.choose


def pages(monkeypatch, failures: int) -> list[Page]:
    """Question and answer of a small block, if so many times its sizes find no place on the views."""
    left = iter(range(failures))

    def choose(ground, offers, items):
        if next(left, None) is not None:
            raise PlacingError(0, "no room")
        return WORKS(ground, offers, items)

    monkeypatch.setattr(drawing, "choose", choose)
    problem = Problem(Identity("S3", 1), "Block", (), S3.solid(), S3.measures())
    return [page for pages in sheets_of(problem, settings_of(Style())).values() for page in pages]


def scales(page: Page) -> set[str]:
    """What the title block says."""
    return {mark.text for mark in page.marks if isinstance(mark, Text)} & {"1:1", "1:2", "1:5", "1:10"}


@pytest.mark.parametrize(("failures", "scale"), [(0, "1:1"), (1, "1:2")])
def test_the_scale_steps_down_where_the_sizes_do_not_fit_on_both_sheets_alike(monkeypatch, failures, scale):
    # ISO 5455: 1:1, 1:2
    question, answer = pages(monkeypatch, failures)
    assert scales(question) == scales(answer) == {scale}


def test_the_part_is_refused_where_they_do_not_fit_then(monkeypatch):
    with pytest.raises(RefusedError, match=r"on the views, .*: no room"):
        pages(monkeypatch, 2)
