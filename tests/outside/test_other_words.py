"""A stranger reads answers in other words: front elevation, plan, end elevation."""

from __future__ import annotations

import inspect

import pytest

from tests.outside import test_reading_the_answer
from tests.outside.sheets import Made, answer

SHEETS = [("stepped-block", 1, "first", "left"), ("counterbored-block", 2, "third", "right"), ("sloped-arm", 2, "third", "left"),
          ("countersunk-plate", 1, "first", "right"), ("bearing-support", 1, "first", "both")]
CHECKS = {name: check for name, check in vars(test_reading_the_answer).items()
          if name.startswith("test_") and [*inspect.signature(check).parameters] == ["made"]}
"""What must be true of every answer."""


@pytest.fixture(scope="module", params=SHEETS, ids=lambda key: "-".join(map(str, key)))
def made(request) -> Made:
    """Answers of a few families."""
    return answer(*request.param, wording="en-elevations")


def test_the_views_stand_where_they_stand_in_the_first_wording(made):
    identity, [side] = made.problem.identity, [key[2:] for key in SHEETS if key[0] == made.problem.identity.family]
    first = answer(identity.family, identity.seed, *side)
    assert len(made.sheet.views) == (4 if "both" in side else 3)
    assert made.sheet.views == {view: pytest.approx(box) for view, box in first.sheet.views.items()}


@pytest.mark.parametrize("check", CHECKS.values(), ids=CHECKS)
def test_its_sizes_can_be_read_and_are_true(made, check):
    check(made)
