"""Centre lines of the families' views against the independent kernel's axes; planes of symmetry against its solid.

A centre line stands for an axis of what turns through half a circle or more, or for a plane of symmetry, and each has one unless
a line of the part lies there (precedence: visible, hidden, centre; ISO 128:1982, from memory).
"""

from __future__ import annotations

import math

import numpy as np
import pytest

from sheetgen.bank import Variant, load_bank
from sheetgen.projection import Straight, View, view_of
from sheetgen.solid import build
from tests.families import sample
from tests.outside.bodies import BODIES
from tests.outside.kernel import reference_solid
from tests.outside.kernel_axes import Axis, axes_of, unbalance
from tests.outside.kernel_lines import axes_of as frame_axes
from tests.parts import S3

BANK = load_bank()
NAMES = ("front", "top", "right", "left")
NEAR = 0.01      # mm


def carriers(axes: list[Axis], view: str, size) -> list[tuple[np.ndarray, np.ndarray]]:
    """The endless lines (point, way) of a view on which axes have centre lines: one, or two that cross if it is seen end-on."""
    rows, offset = frame_axes(view, size)
    found = []
    for axis in axes:
        if axis.turn > math.pi - 0.05:
            flat, at = axis.way @ rows.T, axis.point @ rows.T + offset
            length = float(np.linalg.norm(flat))
            ways = [flat / length] if length > 1e-6 else list(np.eye(2))
            found += [(at, way) for way in ways]
    return found


def mid_planes(symmetry, view: str, size) -> list[tuple[np.ndarray, np.ndarray]]:
    rows, offset = frame_axes(view, size)
    found = []
    for letter in symmetry:
        across = rows[:, "xyz".index(letter)]
        if np.abs(across).max() > 0.5:
            found.append((np.array(size) / 2 @ rows.T + offset, np.array([-across[1], across[0]])))
    return found


def on(line: tuple[np.ndarray, np.ndarray], shape: Straight) -> bool:
    point, (u, v) = line
    return all(abs(u * (end[1] - point[1]) - v * (end[0] - point[0])) < NEAR for end in (shape.p, shape.q))


def disagreements(view: View, axes: list[Axis], symmetry) -> list[str]:
    """What centre lines a view has that stand for nothing, and what has none."""
    size = tuple(view.solid.size.tolist())
    wanted = carriers(axes, view.name, size) + mid_planes(symmetry, view.name, size)
    drawn, told = view.centre_lines, []
    for line in drawn:
        if not any(on(each, line) for each in wanted):
            told.append(f"{view.name}: a centre line {line.p.round(2)} to {line.q.round(2)} stands for nothing")
    part = [shape for shape in (*view.visible_lines, *view.hidden_lines) if isinstance(shape, Straight)]
    for each in wanted:
        if not any(on(each, line) for line in (*drawn, *part)):
            told.append(f"{view.name}: no centre line through {each[0].round(2)} along {each[1].round(2)}")
    return told


@pytest.mark.parametrize("seed", [1, 2])
@pytest.mark.parametrize("family", sample("centre lines"))
def test_the_centre_lines_of_a_family_are_those_of_the_kernels_axes_and_of_its_planes_of_symmetry(family, seed):
    variant: Variant = BANK[family].sample(seed)
    solid, axes = build(variant.features), axes_of(reference_solid(variant.features).shape)
    views = [view_of(solid, name, symmetry=variant.symmetry) for name in NAMES]
    told = [line for view in views for line in disagreements(view, axes, variant.symmetry)]
    assert not told, "\n".join(told)


@pytest.mark.parametrize("name", BODIES)
def test_so_are_those_of_every_kind_of_feature(name):
    solid, axes = build(BODIES[name]), axes_of(reference_solid(BODIES[name]).shape)
    told = [line for view in NAMES for line in disagreements(view_of(solid, view), axes, ())]
    assert not told, "\n".join(told)


def test_the_kernels_axes_are_those_that_were_counted():
    # S3's bore and counterbore turn about one axis; a fork has a bore through both legs
    [axis] = axes_of(reference_solid(S3.features).shape)
    assert axis.turn == pytest.approx(2 * math.pi, abs=0.02)
    assert np.abs(axis.way).tolist() == pytest.approx([0, 0, 1])
    assert axis.point[:2].tolist() == pytest.approx([25, 25])


@pytest.mark.parametrize("family", BANK)
def test_a_part_is_symmetric_in_the_metal_where_its_family_says_so_and_nowhere_else(family):
    # or its question would not ask for what its answer needs; both ways at most, never from below upwards
    variant = BANK[family].sample(1)
    reference = reference_solid(variant.features)
    off = unbalance(reference.shape, np.array(reference.bounds[1]) / 2)
    assert {letter for letter in "xy" if off["xyz".index(letter)] < 1e-6} == set(variant.symmetry)
