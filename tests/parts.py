"""Sample parts with names and measures, for tests that speak of sides and sizes. Millimetres.

S1 to S5 are the golden solids of ``outside/bodies.py`` with names on their features; ``BRACKET`` has a round end, ribs and holes.
"""

from __future__ import annotations

from dataclasses import dataclass

from sheetgen.bank.features import Axis, Block, Corner, End, Feature, Hole, Lug, MeasureSpec, Rib, Slant
from sheetgen.measures import Measure, measures_of
from sheetgen.solid import Solid, build
from sheetgen.templating import load_wording

ENGLISH = load_wording()
"""The words of notes."""


@dataclass(frozen=True)
class Part:
    """A part to be drawn: ``measures`` as a bank file would give them, ``needed`` how many sizes a marking scheme counts."""

    features: tuple[Feature, ...]
    specs: tuple[MeasureSpec, ...]
    needed: int

    def solid(self) -> Solid:
        """Its solid."""
        return build(self.features)

    def measures(self) -> tuple[Measure, ...]:
        """Its measures, taken on its solid."""
        return measures_of(self.solid(), self.specs)


def end(text: str) -> End:
    """An end as the bank writes it: ``slot.left``, or ``ramp.face & base.top`` for the edge of two sides."""
    return End(tuple(side.strip() for side in text.split("&")))


def span(one: str, other: str, along: Axis | None = None) -> MeasureSpec:
    """A distance."""
    return MeasureSpec("span", end(one), end(other), along)


def size(kind: str, side: str) -> MeasureSpec:
    """A diameter, radius or depth."""
    return MeasureSpec(kind, end(side))  # type: ignore[arg-type]


def outer(name: str = "base") -> tuple[MeasureSpec, ...]:
    """Width, depth and height of a block."""
    return (span(f"{name}.left", f"{name}.right"), span(f"{name}.front", f"{name}.back"), span(f"{name}.bottom", f"{name}.top"))


S1 = Part(
    (Block("base", False, (0, 60), (0, 40), (0, 15)), Block("up", False, (0, 20), (0, 40), (0, 40)),
     Block("slot", True, (40, None), (12, 28), (None, None))),
    (*outer()[:2], span("up.bottom", "up.top"), span("base.bottom", "base.top"), span("up.left", "up.right"),
     span("slot.left", "base.right"), span("base.front", "slot.front"), span("slot.front", "slot.back")),
    8)
S2 = Part(
    (Block("base", False, (0, 60), (0, 40), (0, 40)), Slant("ramp", "front", ((36, 40), (60, 16)), "above", (None, None)),
     Block("slot", True, (8, 20), (None, None), (30, None)), Block("groove", True, (None, None), (14, 26), (None, 10))),
    (*outer(), span("base.left", "ramp.face & base.top"), span("base.bottom", "ramp.face & base.right"),
     span("base.left", "slot.left"), span("slot.left", "slot.right"), span("base.bottom", "slot.bottom"),
     span("base.front", "groove.front"), span("groove.front", "groove.back"), span("base.bottom", "groove.top")),
    11)
S3 = Part(
    (Block("base", False, (0, 50), (0, 50), (0, 30)), Hole("bore", "top", ((25, 25),), 20, counterbore=(30, 10))),
    (*outer(), span("base.left", "bore.axis"), span("base.front", "bore.axis"), size("diameter", "bore"),
     size("diameter", "bore.counterbore"), size("depth", "bore.counterbore")),
    8)
S4 = Part(
    (Block("base", False, (0, 60), (0, 40), (0, 20)), Block("back", False, (0, 60), (20, 40), (0, 50)),
     Block("slot", True, (22, 38), (20, None), (10, None))),
    (*outer()[:2], span("back.bottom", "back.top"), span("base.bottom", "base.top"), span("back.front", "base.back"),
     span("base.left", "slot.left"), span("slot.left", "slot.right"), span("base.bottom", "slot.bottom")),
    8)
S5 = Part(
    (Block("base", False, (0, 40), (0, 40), (0, 40)), Corner("cut", ((20, 0, 40), (40, 24, 40), (40, 0, 10)), (1, -1, 1))),
    (*outer(), span("base.left", "cut.face & base.top & base.front", "x"),
     span("base.front", "cut.face & base.top & base.right", "y"), span("base.bottom", "cut.face & base.front & base.right", "z")),
    6)
BRACKET = Part(
    (Block("base", False, (0, 100), (0, 60), (0, 14)), Lug("lug", False, "front", (50, 50), 50, "up", 0, (40, 60)),
     Hole("bore", "front", ((50, 50),), 26), Rib("rib", "right", (40, 14), (-25, 25), (44, 56)),
     Hole("holes", "top", ((15, 20), (85, 20)), 12, level=14)),
    (*outer(), span("base.left", "lug.axis"), span("base.bottom", "lug.axis"), size("radius", "lug.round"),
     size("diameter", "bore"), span("lug.front", "lug.back"), size("diameter", "holes"), span("base.left", "holes.1.axis"),
     span("holes.1.axis", "holes.2.axis"), span("base.front", "holes.1.axis"), span("base.front", "holes.2.axis"),
     span("rib.left", "rib.right"), span("base.left", "rib.left"), span("rib.slope & base.top", "lug.front", "y"),
     span("base.top", "rib.slope & lug.front", "z")),
    17)

PARTS = {"S1": S1, "S2": S2, "S3": S3, "S4": S4, "S5": S5, "bracket": BRACKET}
