"""What a view across a prism shows where two strips of its plan meet: the rule by sectors round each point of the plan.

Looking along the line between two strips, one passes gaps (a face on each side) and meetings (points at which lines meet). Of
one slab of the part:

- an edge runs up where in a gap one side is filled and the other not (a wall), and in a meeting unless no wall reaches it, or
  one from each side and they go on smoothly;
- the line in the view is visible if, nothing being filled before, an edge is what one sees first: in a gap, if one side is
  filled; in a meeting, unless what one sees first goes on smoothly from one side to the other;
- else it is hidden, if there is an edge anywhere.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import product

import numpy as np

from sheetgen.certainty.clauses import Clauses
from sheetgen.certainty.encoding import Shown
from sheetgen.certainty.plan import Gap, Meeting
from sheetgen.certainty.sights import State
from sheetgen.geometry import IntArray, Mask
from sheetgen.refusals import Reason, RefusedError

MOST_ROUND_A_POINT = 9
"""Faces round a point of a plan, counted on both sides of the line between two strips: each doubles the clauses of its rule."""

Bits = tuple[bool, ...]


def facing(items: Sequence[Gap | Meeting], *, from_high: bool) -> tuple[Gap | Meeting, ...]:
    """The gaps and meetings of a seam from the eye on, which is at its low end, or else at its high end."""
    if not from_high:
        return tuple(items)
    return tuple(
        item if isinstance(item, Gap) else Meeting(
            item.left[::-1], item.right[::-1],
            frozenset((len(item.left) - 2 - i, len(item.right) - 2 - j) for i, j in item.smooth), item.walls[::-1])
        for item in reversed(items))


@dataclass(frozen=True, slots=True)
class Rule:
    """Of a meeting, by what is filled round it (left faces, then right): whether there is an ``edge``, and one ``seen`` first."""

    edge: dict[Bits, bool]
    seen: dict[Bits, bool]


@lru_cache(maxsize=1000)
def rule_of(left: int, right: int, smooth: frozenset[tuple[int, int]]) -> Rule:
    """The rule of a meeting with so many faces on its two sides, from the eye on."""
    edge, seen = {}, {}
    for bits in product((False, True), repeat=left + right):
        ours, theirs = bits[:left], bits[left:]
        one = [k for k in range(left - 1) if ours[k] != ours[k + 1]]
        other = [k for k in range(right - 1) if theirs[k] != theirs[k + 1]]
        walls = ours[0] != theirs[0], ours[-1] != theirs[-1]
        passes = len(one) == len(other) == 1 and not any(walls) and (one[0], other[0]) in smooth
        edge[bits] = bool(one or other) and not passes
        seen[bits] = bool(one or other) and not (one and other and (one[0], other[0]) in smooth)
    return Rule(edge, seen)


def is_plain(item: Meeting) -> bool:
    """True for a meeting that the gaps on its two sides tell all of: one line goes on smoothly, or none is there."""
    return len(item.left) == len(item.right) <= 2 and (len(item.left) == 1 or (0, 0) in item.smooth)


def seam_states(items: Sequence[Gap | Meeting], filled: Mask) -> IntArray:
    """What a view shows at a seam, from the eye on: State numbers (slabs,), if faces are ``filled`` (faces, slabs), air first."""
    count = filled.shape[1]
    free, visible, there = np.ones(count, dtype=bool), np.zeros(count, dtype=bool), np.zeros(count, dtype=bool)
    for item in items:
        if isinstance(item, Gap):
            round_it = filled[[item.left, item.right]]
            edge = seen = round_it[0] != round_it[1]
        else:
            round_it = filled[[*item.left, *item.right]]
            rule = rule_of(len(item.left), len(item.right), item.smooth)
            rows = [tuple(bits) for bits in round_it.T.tolist()]
            edge, seen = (np.array([table[bits] for bits in rows]) for table in (rule.edge, rule.seen))
        visible |= free & seen
        there |= edge
        free &= ~round_it.any(axis=0)
    return np.where(visible, State.VISIBLE, np.where(there, State.HIDDEN, State.NONE))


def seam_is_shown(clauses: Clauses, items: Sequence[Gap | Meeting], cells: IntArray) -> Shown:
    """Tell by variables (slabs,) what the view shows at a seam; ``cells`` (faces, slabs): the cells' variables, air first."""
    count = cells.shape[1]
    edges, sights = list[IntArray](), list[IntArray]()
    before: IntArray | None = None
    for item in items:
        if isinstance(item, Gap):
            round_it = [cells[item.left]] if item.left == item.right else [cells[item.left], cells[item.right]]
            found = None if item.left == item.right else _differ(clauses, *round_it)
            edge = seen = found
        elif is_plain(item):
            continue
        else:
            round_it = [cells[k] for k in (*item.left, *item.right)]
            edge, seen = _by_rule(clauses, item, round_it)
        if edge is not None and seen is not None:
            edges.append(edge)
            sights.append(seen if before is None else _and_not(clauses, seen, before))
        before = _or(clauses, [*([] if before is None else [before]), *round_it])
    return Shown(_none_of(clauses, edges, count), _none_of(clauses, sights, count))


def _differ(clauses: Clauses, one: IntArray, other: IntArray) -> IntArray:
    found = clauses.new(len(one))
    clauses.each(-found, one, other)
    clauses.each(-found, -one, -other)
    clauses.each(found, -one, other)
    clauses.each(found, one, -other)
    return found


def _by_rule(clauses: Clauses, item: Meeting, round_it: Sequence[IntArray]) -> tuple[IntArray, IntArray]:
    if len(round_it) > MOST_ROUND_A_POINT:
        raise RefusedError([Reason("too many lines of its plan meet in a point for a proof")])
    rule = rule_of(len(item.left), len(item.right), item.smooth)
    edge, seen = clauses.new(2, len(round_it[0]))
    for found, table in ((edge, rule.edge), (seen, rule.seen)):
        for bits, value in table.items():
            clauses.each(found if value else -found, *(-cell if bit else cell for bit, cell in zip(bits, round_it, strict=True)))
    return edge, seen


def _and_not(clauses: Clauses, one: IntArray, other: IntArray) -> IntArray:
    found = clauses.new(len(one))
    clauses.each(-found, one)
    clauses.each(-found, -other)
    clauses.each(found, -one, other)
    return found


def _or(clauses: Clauses, parts: Sequence[IntArray]) -> IntArray:
    if len(parts) == 1:
        return parts[0]
    found = clauses.new(len(parts[0]))
    for part in parts:
        clauses.each(found, -part)
    clauses.each(-found, *parts)
    return found


def _none_of(clauses: Clauses, parts: Sequence[IntArray], count: int) -> IntArray:
    """Variables (count,) that are true where none of ``parts`` is."""
    found = clauses.new(count)
    for part in parts:
        clauses.each(-found, -part)
    clauses.each(found, *parts)
    return found
