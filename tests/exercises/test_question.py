"""The question sheet: at what scale the pictorial is drawn."""

from __future__ import annotations

import pytest

from sheetgen.bank import Identity
from sheetgen.exercises import Role, picture, sheets_of
from sheetgen.ink import Text
from sheetgen.placing import PlacingError
from sheetgen.problem import Problem
from sheetgen.refusals import RefusedError
from sheetgen.sheet import Style, settings_of
from tests.parts import S1

SETTINGS = settings_of(Style())


def scales_tried(monkeypatch, works_at: float) -> tuple[list[float], list[str]]:
    """Scales at which the pictorial of a small block is tried if its sizes find place at one only; what the page says."""
    tried = []

    def choose(ground, offers, items):
        if tried[-1] != works_at:
            raise PlacingError(0, "no room")
        return []

    def offers(placed, items, **words):
        tried.append(placed.scale)
        return whole(placed, items, **words)

    whole = picture.pictorial_offers
    monkeypatch.setattr(picture, "pictorial_offers", offers)
    monkeypatch.setattr(picture, "choose", choose)
    problem = Problem(Identity("S1", 1), "Block", (), S1.solid(), S1.measures())
    [page] = sheets_of(problem, SETTINGS, [Role.QUESTION])[Role.QUESTION]
    return tried, [mark.text for mark in page.marks if isinstance(mark, Text)]


def test_the_pictorial_is_drawn_as_large_as_it_fits_or_one_step_smaller(monkeypatch):
    # ISO 5455: 1:1, 1:2
    tried, said = scales_tried(monkeypatch, 0.5)
    assert set(tried) == {1.0, 0.5}
    assert "ISOMETRIC DRAWN 1:2 ALONG THE AXES" in said               # while the views are asked for full size


def test_where_it_has_the_scale_of_the_views_nothing_is_said_of_it(monkeypatch):
    tried, said = scales_tried(monkeypatch, 1.0)
    assert set(tried) == {1.0} and not any("ISOMETRIC" in line for line in said)


def test_it_is_refused_rather_than_drawn_smaller_still(monkeypatch):
    with pytest.raises(RefusedError, match=r"on the pictorial, .*: no room"):
        scales_tried(monkeypatch, 0.2)
