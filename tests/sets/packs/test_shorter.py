"""Pictures as short as can be show what the sheets show."""

from __future__ import annotations

import numpy as np
import pytest

from sheetgen.ink import Pen, Stroke, packed
from sheetgen.ink.compact import unpacked
from sheetgen.sets.packs.shorter import shortened

STEP = np.pi / 60
TURNS = np.arange(0.0, np.pi + STEP / 2, STEP)
PLACES = np.stack([50 + 20 * np.cos(TURNS), 60 + 12 * np.sin(TURNS)], axis=1)
SLOPES = STEP * np.stack([-20 * np.sin(TURNS), 12 * np.cos(TURNS)], axis=1)
HANDLES = np.stack([PLACES - SLOPES / 3, PLACES, PLACES + SLOPES / 3], axis=1).reshape(-1, 2)[1:-1]
CURVE = Stroke(HANDLES, Pen.HIDDEN, curved=True, dash=(3.0, 1.0), phase=0.5)
"""Half an ellipse, of which every point is known."""


def test_a_curve_with_fewer_knots_runs_within_a_hundredth_of_where_it_ran():
    text = shortened([CURVE])
    [mark] = unpacked(text)
    assert len(text) < 0.4 * len(packed([CURVE])) and (mark.dash, mark.pen) == (CURVE.dash, CURVE.pen)
    t = np.linspace(0, 1, 50)[:, None]
    for p, q, r, s in zip(*(mark.points[k::3][:len(mark.points) // 3] for k in range(4)), strict=True):
        on = (1 - t) ** 3 * p + 3 * (1 - t) ** 2 * t * q + 3 * (1 - t) * t**2 * r + t**3 * s
        off = np.hypot((on[:, 0] - 50) / 20, (on[:, 1] - 60) / 12) - 1
        assert np.abs(off).max() * 20 < 0.012
    assert mark.points[[0, -1]] == pytest.approx(CURVE.points[[0, -1]], abs=0.006)


def test_thin_lines_are_all_there_whatever_their_order():
    rng = np.random.default_rng(7)
    lines = [Stroke(np.round(rng.uniform(0, 200, (2, 2)), 2), Pen.CONSTRUCTION) for _ in range(40)]
    other = Stroke(np.array([[1.0, 2.0], [3.0, 4.0]]), Pen.OUTLINE)
    text = shortened([*lines, other])
    assert len(text) < len(packed([*lines, other]))

    def ends(marks):
        return sorted((str(mark.pen), *sorted(map(tuple, np.round(mark.points, 2).tolist()))) for mark in marks)

    assert ends(unpacked(text)) == ends([*lines, other])
    assert unpacked(text)[-1].pen is Pen.OUTLINE
