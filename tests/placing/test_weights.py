"""Prices as they are: none is nothing, and what a reader must not stumble over costs more than what he hardly sees.

All of it is judgement (common practice, no source); what stands here is the order that the drawing books give.
"""

from __future__ import annotations

from dataclasses import fields

import pytest

from sheetgen.placing.weights import HARD, WEIGHTS, Weights

FREE = {"sight_aside"}
"""Lists of prices, the best place free."""


@pytest.mark.parametrize("name", [field.name for field in fields(Weights)])
def test_nothing_that_is_weighed_is_free_and_nothing_costs_as_much_as_what_is_forbidden(name):
    price = getattr(WEIGHTS, name)
    prices = price if isinstance(price, tuple) else (price,)
    assert list(prices) == sorted(prices), "the places of a list are tried from the best on"
    assert min(prices[name in FREE:]) > 0
    assert 1000 * max(prices) < HARD


@pytest.mark.parametrize(("worse", "better"), [
    ("cross_visible", "extension_cross"),          # a dimension line crosses no outline; an extension line may (MD p. 30)
    ("extension_cross", "cross_thin"),             # what is dashed is crossed rather than an outline
    ("line_through_extension", "extensions_cross"),          # crossing dimension lines are avoided (A145)
    ("shorter_outside_view", "extensions_cross"),  # shorter inside longer (ISO 129-1, from memory)
    ("hidden_end", "side_axis"),                   # no size to a hidden line where another view shows it (US school lists)
    ("shape", "later_view"),                       # on the view that shows its shape (US school lists)
    ("inside_view", "view_tier"),                  # outside the view where that can be
    ("most_hidden", "goes_on"), ("seems_edge", "tier"), ("goes_on", "tier"), ("strange_centre", "tier"), ("hidden_run", "reach"),
    ("lined_up", "tier"), ("past_stranger", "view_tier"), ("ends_on_line", "cross_thin"), ("starts_on_line", "cross_thin"),
])
def test_what_a_reader_stumbles_over_is_dearer_than_what_is_merely_less_good(worse, better):
    # MD, A145: see outside/test_dimension_rules.py
    assert getattr(WEIGHTS, worse) > 2 * getattr(WEIGHTS, better)
