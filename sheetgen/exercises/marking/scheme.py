"""The scheme of a problem: what each part of its answer is worth, computed from the drawing. Half marks, which add up."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from sheetgen.exercises.drawing import Drawing
from sheetgen.exercises.marking.record import Marking
from sheetgen.exercises.marking.shares import shared
from sheetgen.exercises.numbering import Numbered, numbered, of_sort
from sheetgen.sheet.layout import SideView, views_asked
from sheetgen.templating.marking import SORTS, MarkingTemplate

BESIDES = {"hatching": 0.3, "cutting_plane": 0.2}
"""What hatching, and the line of a cutting plane, count beside all lines of their view together (hatching 1 to 1.5 of 8, CBSE;
3 of 12, Malta; the share of the line is common practice, no source)."""

ALL_LINES = "lines"
"""The sort of a row that has all lines of a view: where there are fewer half marks than sorts."""

CHECKS: Mapping[str, tuple[str, ...]] = {
    "arrangement": ("in_line", "symbol"), "line_work": ("widths", "dashes", "clean"), "title_block": ("filled_in", "lettering"),
    "box": ("box_axes", "box_sizes"), "direction": ("side_shown", "arrow"), "bold": ("widths", "thin_lines"),
}
"""What is looked at in parts that have no lines, as the wording calls it; the arrangement has the places of the views too."""


@dataclass(frozen=True, slots=True)
class Row:
    """Of ``count`` things of a sort; lines have the numbers from ``first`` on. ``off``: half marks taken off for each fault, 0
    where marks are given."""

    sort: str
    count: int
    halves: int
    first: int = 0
    off: int = 0


@dataclass(frozen=True, slots=True)
class Part:
    """What has marks of its own: ``name`` is one of PARTS, or the name of a ``view``."""

    name: str
    halves: int
    rows: tuple[Row, ...]
    view: bool = False


@dataclass(frozen=True)
class Scheme:
    """``lines``: of each view, as its rows count them; ``wrong_side``: half marks taken off for the side view from the other
    side, 0 where marks are given."""

    marking: Marking
    parts: tuple[Part, ...]
    lines: Mapping[str, tuple[Numbered, ...]]
    wrong_side: int = 0

    @property
    def deducts(self) -> bool:
        """Whether marks are taken off for faults."""
        return self.marking.template.deducts


def columns_of(side: SideView, marking: Marking) -> tuple[tuple[str, int], ...]:
    """The parts that have marks, and their half marks, the same for every problem: for a list of marks, before any is drawn."""
    names = _names(views_asked(side))
    halves = shared(marking.halves, [_weight(name, marking.template) for name in names])
    return tuple((name, part) for name, part in zip(names, halves, strict=True) if part)


def scheme_of(drawing: Drawing, side: SideView, marking: Marking) -> Scheme:
    """The scheme by which the answer that ``drawing`` is of is marked."""
    lines = {view.view.name: numbered(view) for view in drawing.views}
    counts = {"arrangement": len(drawing.views) - 1 + len(CHECKS["arrangement"]), "dimensions": len(drawing.items),
              **{name: len(CHECKS[name]) for name in ("line_work", "title_block")}}
    parts = []
    for name, halves in columns_of(side, marking):
        rows = (rows_of(lines[name], halves, marking, drawing.dressing.looked_at(name)) if name in lines
                else (Row(name, counts[name], halves, off=off_each(name, halves, marking)),))
        parts.append(Part(name, halves, rows, name in lines))
    wrong = off_each("wrong_side", marking.halves, marking)
    return Scheme(marking, tuple(parts), lines, wrong)


def _names(views: Sequence[str]) -> tuple[str, ...]:
    return ("arrangement", *views, "dimensions", "line_work", "title_block")


def _weight(name: str, template: MarkingTemplate) -> float:
    return template.parts["side" if name in ("left", "right") else name]


def rows_of(
    lines: Sequence[Numbered], halves: int, marking: Marking, besides: Sequence[tuple[str, int]] = ()
) -> tuple[Row, ...]:
    """The sorts of lines that a view has, and what is looked at ``besides``; all in one where there are too few half marks for
    each."""
    found = {sort: those for sort in SORTS if (those := of_sort(lines, sort))}
    if halves < len(found) + len(besides):
        return (Row(ALL_LINES, len(lines), halves, 1, off_each("outlines", halves, marking)),)
    weights = marking.template.lines
    lined = [weights[sort] * len(those) for sort, those in found.items()]
    shares = shared(halves, [*lined, *(BESIDES[sort] * sum(lined) for sort, _ in besides)])
    rows = [Row(sort, len(those), share, those[0].number, off_each(sort, share, marking))
            for (sort, those), share in zip(found.items(), shares, strict=False)]
    rows += [Row(sort, count, share, off=off_each("line_work", share, marking))
             for (sort, count), share in zip(besides, shares[len(found):], strict=True)]
    return tuple(rows)


def off_each(fault: str, most: int, marking: Marking) -> int:
    """Half marks taken off for each such fault: at least one, and no more than there are."""
    if not marking.template.deducts:
        return 0
    return min(most, max(1, round(marking.template.off[fault] * marking.halves / 100)))
