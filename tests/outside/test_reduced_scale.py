"""A part too large for full size: drawn smaller, but with true figures and with lines, arrows and overshoots as large as ever."""

from __future__ import annotations

import numpy as np
import pytest

from sheetgen.bank import Identity
from sheetgen.bank.features import Block, Hole
from sheetgen.exercises import Role, sheets_of
from sheetgen.measures import measures_of
from sheetgen.problem import Problem
from sheetgen.sheet import Style, settings_of
from sheetgen.solid import build
from tests.outside.reader import read
from tests.outside.sheets import Made, pdf_of
from tests.outside.sizes import circle_at
from tests.parts import outer, size, span

FEATURES = (Block("base", False, (0, 200), (0, 110), (0, 90)), Block("step", True, (130, None), (None, None), (50, None)),
            Hole("bore", "top", ((60, 50),), 44), Hole("pin", "top", ((165, 40),), 16, level=50, depth=30))
SPECS = (*outer(), span("step.left", "base.right"), span("base.bottom", "step.bottom"),
         span("base.left", "bore.axis"), span("base.front", "bore.axis"), size("diameter", "bore"),
         span("pin.axis", "base.right"), span("base.front", "pin.axis"), size("diameter", "pin"), size("depth", "pin"))


@pytest.fixture(scope="module", params=["first", "third"])
def made(request) -> Made:
    """The answer sheet of a block 200 x 110 x 90 on A3."""
    solid = build(FEATURES)
    problem = Problem(Identity("large-block", 1), "Large block", ("holes",), solid, measures_of(solid, SPECS))
    side = {"first": "left", "third": "right"}[request.param]
    settings = settings_of(Style(projection=request.param, side=side))
    data = pdf_of(*sheets_of(problem, settings, [Role.ANSWER])[Role.ANSWER])
    return Made(problem, data, read(data))


def test_the_scale_is_the_next_reduction_of_the_standard(made):
    # ISO 5455 cl. 5.1, whole table seen: after 1:1 comes 1:2
    assert made.sheet.scale == 0.5
    x0, _, x1, _ = made.sheet.views["front"]
    assert x1 - x0 == pytest.approx(100, abs=0.02)


def test_figures_are_true_sizes_whatever_the_scale(made):
    # written dimensions are always true sizes (from memory; universal)
    assert made.sizes.stray == ()
    for linear in made.sizes.linear:
        assert linear.distance / made.sheet.scale == pytest.approx(linear.number, abs=0.05)
    assert {"200", "110", "90"} <= {linear.lettering.text for linear in made.sizes.linear}
    for note in made.sizes.notes:
        drawn = 2 * circle_at(made.sheet, note.arrow.tip).radius
        assert drawn / made.sheet.scale == pytest.approx(note.diameters[0], abs=0.05)


def test_lettering_arrowheads_and_lines_do_not_shrink(made):
    # ISO 3098 and ISO 128 give heights and widths on paper (from memory)
    assert {round(arrow.length, 2) for linear in made.sizes.linear for arrow in linear.arrows} == {3.0}
    assert {round(line.width, 3) for line in made.sheet.lines} <= {0.25, 0.35, 0.5, 0.7}


def test_centre_lines_run_3_to_6_mm_past_the_circle_on_paper(made):
    # 3 to 6 (print-reading textbook p. 20); at least 6 by EA p. 3-21
    rings = [circle for circle in made.sheet.circles if circle.line.closed and circle.centre[0] < 220]
    assert rings
    for ring in rings:
        narrow = [line for line in made.sheet.lines if line.straight and abs(line.width - 0.25) < 1e-3]
        through = [line for line in narrow if line.off(ring.centre) < 0.01 and 0 < line.along(ring.centre) < line.length]
        assert len(through) >= 2
        past = min(float(np.linalg.norm(end - ring.centre)) - ring.radius for line in through for end in line.points)
        assert 3 - 0.02 <= past <= 6 + 0.02, f"{past:.2f} mm past a circle of {2 * ring.radius:.1f}"


def test_the_arithmetic_speaks_of_the_sizes_as_drawn(made):
    # thirds rule, EA p. 5-8, at 1:2: (390 - 100 - 55) / 3
    [across] = [entry.text for entry in made.sheet.lettering if entry.text.startswith("Across")]
    assert "1:2" in across
    assert across.endswith("(390 - 100 - 55) / 3 = 78.33 mm")
