"""Linework as text, sorted by kind and place, and held against files that are read in review like code.

These files are recorded: they tell when a drawing changes, not whether it is right. What is right is worked by hand in
``outside/golden.py``, ``projection/test_centre.py`` and asked of the outside kernel.

A line is a row: its kind; then for a straight line both ends; for a whole ellipse (round) centre, half axes, tilt of the longer;
for an arc also both ends and its middle; for a free curve both ends and its length. View mm, u right, v up.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from difflib import unified_diff
from pathlib import Path

import numpy as np

from sheetgen.projection import Arc, Shape, Straight, View

FOLDER = Path(__file__).parent
RECORDED = "# recorded: what the program drew when this was last read and approved, not worked by hand"
DIGITS = 3


def text_of(view: View) -> str:
    """All lines of a view as text."""
    kinds = (("visible", view.visible_lines), ("hidden", view.hidden_lines), ("centre", view.centre_lines))
    return "".join(f"{row}\n" for kind, shapes in kinds for row in sorted(_row(kind, shape) for shape in shapes))


def _row(kind: str, shape: Shape) -> str:
    if isinstance(shape, Straight):
        ends = sorted((shape.p.round(DIGITS).tolist(), shape.q.round(DIGITS).tolist()))
        return f"{kind:8} line  {_numbers(ends[0] + ends[1])}"
    if isinstance(shape, Arc):
        return f"{kind:8} {_arc(shape)}"
    points = shape.points()
    ends = sorted((points[0].round(DIGITS).tolist(), points[-1].round(DIGITS).tolist()))
    return f"{kind:8} curve {_numbers([*ends[0], *ends[1], round(shape.length, 1)])}"


def _arc(shape: Arc) -> str:
    """An ellipse by its half axes, the longer first, and its tilt; an arc of one by its ends and middle as well."""
    axes = sorted((shape.a, shape.b), key=lambda axis: -float(np.linalg.norm(axis)))
    half = [float(np.linalg.norm(axis)) for axis in axes]
    tilt = 0.0 if half[0] - half[1] < 1e-6 else math.degrees(math.atan2(axes[0][1], axes[0][0])) % 180
    text = f"{_numbers([*shape.centre, *half, round(tilt, DIGITS) % 180])}"
    if shape.closed:
        return f"round {text}"
    first, last = sorted(shape.at(t).round(DIGITS).tolist() for t in (shape.start, shape.stop))
    return f"arc   {text} {_numbers([*first, *last, *shape.at((shape.start + shape.stop) / 2)])}"


def _numbers(values: Iterator[float] | list[float]) -> str:
    return " ".join(f"{round(float(value), DIGITS) + 0.0:9.{DIGITS}f}" for value in values)


def assert_same_lines(view: View, name: str) -> None:
    """Hold a view against ``NAME.lines`` of this folder; the difference is told as a unified diff."""
    file = FOLDER / f"{name}.lines"
    assert RECORDED in file.read_text(encoding="utf-8").splitlines(), f"{file.name} does not say where it comes from"
    wanted = [line for line in file.read_text(encoding="utf-8").splitlines(keepends=True) if not line.startswith("#")]
    told = "".join(unified_diff(wanted, text_of(view).splitlines(keepends=True), str(file.name), "drawn"))
    assert not told, told
