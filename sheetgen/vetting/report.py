"""What vetting finds out about a family: figures, faults and notes. Its limits have their one home here, but for those of solids
and lines, which stand where these are measured."""

from __future__ import annotations

from dataclasses import asdict, dataclass
from typing import Any

from sheetgen.exercises import Served
from sheetgen.faults import Fault

LEAST_VARIANTS = 1000
"""Different parts; a family with fewer would repeat itself within a school year of some classes."""

LEAST_KEPT = 0.02
"""Share of choices of sizes that the rules must keep; with fewer, some seeds give up after their 500 attempts."""

MOST_REFUSED = 0.02
"""Share of variants that may be refused, and drawn again, because their sheets could not be printed right."""


@dataclass(frozen=True, slots=True)
class RuleShare:
    """How often a rule (or a range that came out empty) spoke against a choice: ``share`` of all; ``alone``: as the only one."""

    line: int
    field: str
    why: str
    share: float
    alone: float


@dataclass(frozen=True, slots=True)
class Least:
    """The smallest of something over all variants looked at: mm, where it is, and in which variant."""

    value: float
    words: str
    code: str


@dataclass(frozen=True, slots=True)
class Taken:
    """How often an alternative of a measure was printed: ``times`` of so many variants that had it."""

    line: int
    text: str
    times: int
    of: int


@dataclass(frozen=True, slots=True)
class Report:
    """One family vetted.

    ``kept``: share of choices of sizes that keep the rules; ``variants``: about how many differ; ``computed``: its rung by
    ``difficulty`` (None if no variant could be looked at) and ``index``, the number behind it. ``least``: wall, face (mm of
    part), lines (mm on paper). ``adds``: for each view, the lines that only it shows (the median). ``solids`` and ``sheets``:
    variants looked at, and variants drawn; ``refused``: the share that is refused, ``reasons``: why, each with the number of
    variants; ``alternatives``: how often each of a measure's was taken; ``served``: how the family serves each kind, empty if
    nobody asked. ``faults`` must be put right, ``notes`` should be looked at.
    """

    name: str
    file: str
    title: str = ""
    rung: int = 0
    computed: int | None = None
    index: float = 0.0
    kept: float = 0.0
    variants: int = 0
    rules: tuple[RuleShare, ...] = ()
    least: dict[str, Least] | None = None
    adds: dict[str, float] | None = None
    solids: int = 0
    sheets: int = 0
    refused: float = 0.0
    reasons: tuple[tuple[str, int], ...] = ()
    alternatives: tuple[Taken, ...] = ()
    faults: tuple[Fault, ...] = ()
    notes: tuple[Fault, ...] = ()
    served: tuple[Served, ...] = ()

    @property
    def clean(self) -> bool:
        """True if nothing must be put right."""
        return not self.faults

    def as_json(self) -> dict[str, Any]:
        """The report as plain data."""
        return {**asdict(self), "clean": self.clean}
