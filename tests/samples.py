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

CLIPPED = STEP[:STEP.index("  - cut: step")].replace("Plain step", "Clipped block") + """\
  - cut: corner
    name: clip
    through: [[width - 24, 0, 40], [width, 16, 40], [width, 0, 20]]
    corner: [right, front, top]
measures:
  - base.left to base.right
  - base.front to base.back
  - base.bottom to base.top
  - corner of clip.face, base.front and base.top to base.right along x
  - base.front to corner of clip.face, base.right and base.top along y
  - base.bottom to corner of clip.face, base.front and base.right along z
"""
"""Of a part with an oblique face nothing can be proved from two views, nor from three with lines left out."""

RARELY_PLAIN = CLIPPED.replace("rules:", "  corner: {one of: [1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12]}\nrules:").replace(
    "  - cut: corner\n    name: clip\n", "  - cut: corner\n    name: clip\n    when: corner < 12\n")
"""One of twelve variants has no oblique face."""

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


EVERY_WORD = """\
title: Block with all that can be cut
topics: [slots]
rung: 5
sizes:
  width: {from: 100, to: 120, step: 10}
features:
  - {add: block, name: base, x: [0, width], y: [0, 80], z: [0, 40]}
  - {add: plate, name: shelf, x: [0, 20], y: [0, 80], z: [40, 46]}
  - {add: upright, name: wall, x: [0, width], y: [70, 80], z: [40, 70]}
  - {add: lug, name: eye, plane: front, centre: [60, 90], width: 20, toward: up, foot: 70, y: [70, 80]}
  - {add: lug, name: tongue, plane: top, centre: [130, 40], width: 20, toward: right, foot: 100, z: [0, 10]}
  - {add: link, name: tie, plane: top, centres: [[30, 20], [60, 20]], width: 12, z: [40, 50]}
  - {add: pin, name: pin, axis: z, at: [90, 20], diameter: 8, z: [40, 60]}
  - {add: spindle, name: spindle, axis: x, at: [68, 60], diameter: 10, x: [20, 60]}
  - {add: boss, name: boss, axis: y, at: [80, 60], diameter: 14, y: [60, 70]}
  - {add: cone, name: cone, axis: z, at: [70, 50], diameters: [20, 10], z: [40, 55]}
  - {add: rib, name: rib, plane: right, corner: [70, 40], legs: [-20, 20], x: [40, 46]}
  - {add: dovetail, name: rail, plane: front, centre: [15, 52], width: 10, height: 6, angle: 60, toward: up, y: [0, 80]}
  - add: profile
    name: wedge
    plane: front
    outline: [{start: [80, 40]}, {line: [98, 40]}, {line: [98, 50]}, {close: yes}]
    y: [0, 10]
  - {cut: slot, name: slot, x: [50, 60], y: [open, 10]}
  - {cut: groove, name: groove, x: [open, open], y: [30, 36], z: [36, open]}
  - {cut: notch, name: notch, x: [open, 8], y: [open, 8]}
  - {cut: recess, name: recess, x: [72, 90], y: [open, 6], z: [10, 20]}
  - {cut: step, name: step, x: [open, 10], z: [open, 6]}
  - {cut: channel, name: channel, x: [40, 56], z: [open, 8]}
  - {cut: bore, name: bore, axis: z, at: [30, 50], diameter: 10}
  - {cut: cone, name: taper, axis: z, at: [20, 60], diameters: [4, 10], z: [30, 40]}
  - {cut: hole, name: hole, mouth: top, at: [88, 44], diameter: 6, level: 40, depth: 12}
  - {cut: hole, name: sunk, mouth: front, at: [[14, 26], [30, 26]], diameter: 5, counterbore: {diameter: 9, depth: 3}}
  - {cut: hole, name: coned, mouth: right, at: [40, 25], diameter: 5, countersink: {diameter: 10, angle: 90}}
  - {cut: open_slot, name: fork, plane: top, centre: [90, 70], width: 6, toward: left, foot: open}
  - {cut: open_slot, name: pocket, plane: top, centre: [60, 36], width: 6, toward: right, foot: 40, z: [30, open]}
  - {cut: closed_slot, name: ways, plane: top, centres: [[20, 70], [30, 70]], width: 5}
  - {cut: vee, name: vee, plane: front, tip: [75, 36], toward: up, angle: 90}
  - {cut: slant, name: slant, plane: front, line: [[90, 40], [100, 30]], remove: above}
  - {cut: dovetail, name: tail, plane: front, centre: [30, 4], width: 10, height: 4, angle: 60, toward: down}
  - {cut: corner, name: corner, through: [[0, 0, 30], [0, 10, 40], [10, 0, 40]], corner: [left, front, top]}
  - cut: profile
    name: eyelet
    plane: front
    outline: [{start: [64, 16]}, {line: [70, 16]}, {line: [67, 22]}, {close: yes}]
measures:
  - base.left to base.right
  - depth of hole
  - radius of bore
"""
"""A family with every word that names a feature; nobody could draw it, but it can be told."""
