"""Small families and plans for these tests, so that they do not hang on what the shipped bank holds."""

from __future__ import annotations

import re
from pathlib import Path

from sheetgen.bank import Family, load_bank
from sheetgen.codes import Code
from sheetgen.exercises.coding import MARKS
from sheetgen.sheet import Style, settings_of

STEP = """\
title: Plain step
topics: [steps]
rung: 1
sizes:
  width: {from: 60, to: 90, step: 5}
  depth: {from: 30, to: 45, step: 5}
rules:
  - width > depth
features:
  - add: block
    name: base
    x: [0, width]
    y: [0, depth]
    z: [0, 40]
  - cut: step
    name: step
    x: [30, open]
    z: [15, open]
measures:
  - base.left to base.right
  - base.front to base.back
  - base.bottom to base.top
  - base.left to step.left
  - base.bottom to step.bottom
"""



def step(rung: int, *topics: str) -> str:
    """The plain step as a family of that rung and those topics, to be chosen and not to be drawn."""
    return STEP.replace("rung: 1", f"rung: {rung}").replace("[steps]", f"[{', '.join(topics)}]")


UNMEASURED = STEP.replace("  - base.bottom to step.bottom\n", "")
"""Nothing says how high the step is."""

_MEASURES = STEP.index("measures:")

TWO_PIECES = STEP[:_MEASURES].replace("x: [30, open]\n    z: [15, open]", "x: [20, 30]\n    z: [open, open]") + """\
measures:
  - base.left to base.right
"""
"""The cut parts the block in two."""

NOTHING_LEFT = STEP[:_MEASURES].replace("x: [30, open]\n    z: [15, open]", "x: [-1, 500]\n    z: [-1, 500]") + """\
measures:
  - base.left to base.right
"""
"""The cut takes the whole block away."""

LOST_SIDE = STEP.replace("measures:", """\
  - cut: step
    name: deeper
    x: [25, open]
    z: [10, open]
measures:""")
"""A second cut takes away what two measures speak of."""

IMPOSSIBLE = STEP.replace("width > depth", "rule: width > 1000\n    because: it should be as long as a bus")

TOO_LONG = STEP.replace("{from: 60, to: 90, step: 5}", "{from: 9000, to: 9000, step: 5}")
"""On no paper at any scale."""

SOMETIMES = STEP.replace("{from: 60, to: 90, step: 5}", "{one of: [60, 9000]}")
"""Half of its variants fit on no paper."""

PLAN = """\
title: Week 3
school: EXAMPLEFORD
course: DRAWING 1
teacher: T. SQUARE
problems:
  - {family: step, seed: 4}
  - {family: step, count: 2}
"""

SETTINGS = settings_of(Style())


def told(code: str) -> tuple[int, int, str]:
    """Seed, draw and the kind's mark that a printed code tells."""
    read = Code.read(code)
    return read.seed, read.draw, MARKS[read.kind].strip()


def problem_told(text: str) -> tuple[int, int]:
    """Which family, by its number, and which seed the code in a page's text is of."""
    [code] = re.findall(r"\b\w{6}-\w{6}-\w{6}\b", text)
    read = Code.read(code)
    return read.family, read.seed


def bank_of(folder: Path, **texts: str) -> Path:
    """Write families into ``folder`` and return it."""
    folder.mkdir(exist_ok=True)
    for name, text in texts.items():
        (folder / f"{name.replace('_', '-')}.yaml").write_text(text, encoding="utf-8")
    return folder


def family_of(folder: Path, text: str, name: str = "step") -> Family:
    """The family that ``text`` describes."""
    return load_bank(bank_of(folder, **{name: text}))[name]
