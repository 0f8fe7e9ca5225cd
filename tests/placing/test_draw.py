"""What placings are drawn of: the arrowheads that stand on paper."""

from __future__ import annotations

import math

import numpy as np
import pytest

from sheetgen.bank import load_bank
from sheetgen.exercises import Role, sheets_of
from sheetgen.ink import Fill
from sheetgen.problem import problem_of
from sheetgen.sheet import Style, settings_of

NAMES = ("flanged-foot", "sloped-arm", "stepped-block")

LONG = (3.0, 6.0)      # mm: of sizes, and of the arrow of sight


def heads_on(name: str, role: Role) -> list[np.ndarray]:
    """The arrowheads (3, 2) of a sheet: tip, and both corners at the back."""
    [page] = sheets_of(problem_of(load_bank()[name].sample(5)), settings_of(Style()))[role]
    found = [mark.points for mark in page.marks if isinstance(mark, Fill) and len(mark.points) == 3]
    assert len(found) > 10
    return found


@pytest.mark.parametrize("name", NAMES)
def test_an_arrowhead_on_a_view_has_an_included_angle_of_15_degrees(name):
    # closed, filled, 15 degrees (ISO 129-1:2018 Annex A allows 15 to 30, from memory); a tenth of a degree is 5 microns here
    heads = [(left - tip, right - tip) for tip, left, right in heads_on(name, Role.ANSWER)]
    sizes = [(one, other) for one, other in heads if np.linalg.norm(one + other) / 2 < sum(LONG) / 2]
    assert len(heads) - len(sizes) <= 1                # the arrow of sight lies in the plane of a pictorial
    for one, other in sizes:
        assert math.degrees(math.acos(one @ other / np.linalg.norm(one) / np.linalg.norm(other))) == pytest.approx(15, abs=0.1)


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("role", [Role.QUESTION, Role.ANSWER])
def test_every_arrowhead_is_3_8_times_as_long_as_wide_and_leans_no_more_than_the_figures_of_a_pictorial(name, role):
    # length to width: machine drawing textbook p. 30; on a pictorial it lies in the plane of its size, sheared by 30 degrees
    for tip, left, right in heads_on(name, role):
        back, wide = (left + right) / 2 - tip, left - right
        assert np.linalg.norm(back) / np.linalg.norm(wide) == pytest.approx(3.8, abs=0.01)
        assert min(abs(np.linalg.norm(back) - length) for length in LONG) < 1e-3
        assert abs(back @ wide) < np.linalg.norm(back) * np.linalg.norm(wide) * (0.5 + 1e-9)
