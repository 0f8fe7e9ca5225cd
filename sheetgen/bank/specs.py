"""What a family says before sizes are chosen: sizes, values, rules, features and measures, with formulas for numbers."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from itertools import compress
from typing import Any

from sheetgen.bank.features import MeasureSpec
from sheetgen.bank.formulas import Formula, Kind

BLOCK_ADDED = ("block", "plate", "upright")
BLOCK_CUT = ("slot", "groove", "notch", "recess", "step", "channel")
ROUND_ADDED = ("boss", "spindle", "pin")
ADDED: Mapping[str, str] = {
    **dict.fromkeys(BLOCK_ADDED, "block"), "profile": "profile", **dict.fromkeys(ROUND_ADDED, "cylinder"),
    "cone": "cone", "lug": "lug", "link": "obround", "rib": "rib", "dovetail": "dovetail",
}
"""What stands after ``add:``, and the kind of feature it is."""
CUT: Mapping[str, str] = {
    **dict.fromkeys(BLOCK_CUT, "block"), "profile": "profile", "hole": "hole", "bore": "cylinder", "cone": "cone",
    "open_slot": "lug", "closed_slot": "obround", "vee": "vee", "slant": "slant", "dovetail": "dovetail", "corner": "corner",
}
"""What stands after ``cut:``, and the kind of feature it is."""


FORMER_ADDED: Mapping[str, str] = {"pad": "block", "shaft": "spindle", "obround": "link"}
"""Words that stood after ``add:`` in older files, which are still read, and the words now."""
FORMER_CUT: Mapping[str, str] = {"pocket": "recess", "round_slot": "open_slot", "obround": "closed_slot"}
"""The same after ``cut:``."""


@dataclass(frozen=True, slots=True)
class SizeSpec:
    """A size to be chosen: from, to, step (formulas over earlier sizes), or one of some numbers or words."""

    name: str
    line: int
    low: Formula | None = None
    high: Formula | None = None
    step: Formula | None = None
    options: tuple[float | str, ...] = ()

    @property
    def kind(self) -> Kind:
        """A number, or the words it can be."""
        words = frozenset(option for option in self.options if isinstance(option, str))
        return words or "number"


@dataclass(frozen=True, slots=True)
class ValueSpec:
    """A number, or a word, that follows from the sizes."""

    name: str
    line: int
    formula: Formula


@dataclass(frozen=True, slots=True)
class RuleSpec:
    """What must hold between sizes, and why (for the teacher)."""

    line: int
    formula: Formula
    because: str | None = None


@dataclass(frozen=True, slots=True)
class FeatureSpec:
    """A feature with formulas for numbers.

    ``fields``: field -> Formula, word, None (an open end), or tuples and dicts of these. ``lines``: the line of each field,
    by its path within the feature ("at", 0).
    """

    word: str
    cut: bool
    kind: str                        # block, profile, hole, cylinder, cone, lug, obround, rib, vee, slant, dovetail, corner
    name: str
    number: int                      # place in the file, from 1
    line: int
    fields: Mapping[str, Any]
    lines: Mapping[tuple[str | int, ...], int]
    names: frozenset[str]            # the sizes and values in its formulas
    when: Formula | None = None

    def field(self, *path: str | int) -> str:
        """A field as a message shows it."""
        inner = "".join(f"[{step + 1}]" if isinstance(step, int) else f".{step}" for step in path)
        return f"features[{self.number}] {self.name}: {inner.lstrip('.')}".rstrip(": ")

    def line_of(self, *path: str | int) -> int:
        """The line of a field, or of the nearest one round it."""
        while path and path not in self.lines:
            path = path[:-1]
        return self.lines.get(path, self.line)


@dataclass(frozen=True, slots=True)
class SectionLine:
    """An entry under ``sections:``: what a cutting plane goes ``through``, stretch by stretch, an axis by its name or a formula;
    where it ``turns`` from each stretch to the next; ``when`` it counts."""

    number: int
    line: int
    section: str                               # full, half, offset
    view: str                                  # front, top, side
    through: tuple[Formula | str, ...]
    turns: tuple[Formula, ...] = ()
    when: Formula | None = None


@dataclass(frozen=True, slots=True)
class MeasureLine:
    """A line under ``measures:``, read; ``when`` it counts; ``others``: alternatives, any of which may stand in its place."""

    spec: MeasureSpec
    when: Formula | None = None
    others: tuple[MeasureSpec, ...] = ()

    def among(self, features: Collection[str]) -> tuple[MeasureSpec, ...]:
        """What can be printed of it where there are these features, the preferred one first; nothing if that needs another."""
        first, *others = (all(side.feature in features for side in spec.sides) for spec in (self.spec, *self.others))
        return (self.spec, *compress(self.others, others)) if first else ()
