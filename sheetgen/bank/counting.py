"""How many variants a family has, estimated from some choices of sizes; and which sizes a part uses."""

from __future__ import annotations

from collections.abc import Collection, Sequence

from sheetgen.bank.family import MOST_SEED, Attempt, Family
from sheetgen.bank.faults import BankError

LOOKED_AT = 600
"""Choices of sizes: 0.1 ms each, and enough to know a share of 5 % to within 2 %."""


def attempts_of(family: Family, count: int = LOOKED_AT) -> tuple[Attempt, ...]:
    """The choices of sizes that are looked at, whatever the rules say of them."""
    return tuple(family.attempt(number) for number in range(count))


def kept_and_variants(family: Family, attempts: Sequence[Attempt]) -> tuple[float, int]:
    """Share of choices of sizes that keep the rules, and about how many such choices there are.

    Each choice kept stands for as many as there were ways to it: their mean over all choices is the number of leaves of the
    tree of choices, without bias (Knuth 1975, estimating the size of a tree of choices; from memory). Sizes of features that
    a variant does not have are not printed, and not counted. There are never more than seeds to ask for them by.

    >>> from sheetgen.bank import load_bank
    >>> family = load_bank()["stepped-block"]
    >>> kept, variants = kept_and_variants(family, attempts_of(family))
    >>> 0 < kept <= 1 and variants > 1000
    True
    """
    ways = [_ways(family, attempt) for attempt in attempts if not attempt.broken]
    return len(ways) / len(attempts), min(int(float(f"{sum(ways) / len(attempts):.2g}")), MOST_SEED + 1)


def _ways(family: Family, attempt: Attempt) -> float:
    """The ways to the sizes that this choice makes use of."""
    try:
        there = {feature.name for feature in family.variant(attempt.sizes).features}
    except BankError:                                   # an impossible feature: told where variants are looked at
        there = {spec.name for spec in family.features}
    return family.ways(attempt.sizes, used_sizes(family, there))


def used_sizes(family: Family, there: Collection[str]) -> set[str]:
    """The sizes that the features called ``there`` use, straight or through values, and those that choose among features."""
    through = {value.name: value.formula.names for value in family.values}
    todo = [name for spec in family.features if spec.name in there for name in spec.names]
    todo += [name for spec in family.features if spec.when for name in spec.when.names]
    used: set[str] = set()
    while todo:
        name = todo.pop()
        todo += through.get(name, frozenset()) - used
        used.add(name)
    return used
