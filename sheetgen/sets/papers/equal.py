"""How equal the problems of a paper are: the middle of an item, which lots lie near enough, what the candidates got.

The middle is found once, of the first lots that the key's sequence has, whoever the candidates are: so it stays where it is when
one more comes. What lies within the bounds of one middle is never further apart than both bounds together.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from sheetgen.sets.papers.records import LINES, Assignment, Bounds, Item, Lot, Reached
from sheetgen.units import EXACT

FIRST = 30
"""Variants of a family that its middle is found of."""

LEAST_SHARE = 0.2
"""Of them must lie within the bounds: with fewer, most of what is drawn would go to waste, and the family is not one whose
variants are alike (common practice, no source)."""

QUANTITIES = ("index", *LINES, "dimensions")

Middle = Mapping[str, float]
"""Each quantity of a lot, in the middle."""


def bound_of(quantity: str, bounds: Bounds) -> float:
    """How far from the middle a quantity may lie, each way.

    >>> bound_of("hidden", Bounds())
    2
    """
    return {"index": bounds.index, "dimensions": bounds.dimensions}.get(quantity, bounds.lines)


def words_of(quantity: str) -> str:
    """A quantity as a message has it.

    >>> words_of("hidden")
    'their numbers of hidden lines'
    """
    named = {"index": "their indices", "dimensions": "their numbers of dimensions"}
    return named.get(quantity, f"their numbers of {quantity} lines")


def within(lot: Lot, middle: Middle, bounds: Bounds) -> bool:
    """Whether a lot lies within the bounds in everything."""
    return all(abs(value - middle[name]) <= bound_of(name, bounds) + EXACT for name, value in lot.quantities().items())


def middle_of(first: Sequence[Lot], bounds: Bounds) -> tuple[Middle, float]:
    """The lot round which most of the ``first`` lie within the bounds, as a middle, and their share. Raises: ValueError for
    none."""
    middles = [lot.quantities() for lot in first]
    counts = [sum(within(lot, middle, bounds) for lot in first) for middle in middles]
    best = max(range(len(first)), key=lambda k: (counts[k], -k))
    return middles[best], counts[best] / len(first)


def missed(first: Sequence[Lot], bounds: Bounds) -> tuple[str, float, float, float]:
    """Of the quantity that keeps most of some variants apart: its name, the bound, the bound that would hold enough of them,
    and how far they spread from end to end."""
    def needed(quantity: str) -> float:
        values = sorted(lot.quantities()[quantity] for lot in first)
        wide = max(1, round(LEAST_SHARE * len(values) + 0.49))
        return min((high - low) / 2 for low, high in zip(values, values[wide - 1:], strict=False))

    def kept(quantity: str) -> int:
        values = [lot.quantities()[quantity] for lot in first]
        return max(sum(abs(other - value) <= bound_of(quantity, bounds) + EXACT for other in values) for value in values)

    worst = min(QUANTITIES, key=kept)
    spread = [lot.quantities()[worst] for lot in first]
    return worst, bound_of(worst, bounds), needed(worst), max(spread) - min(spread)


def reached(items: Sequence[Item], assignment: Assignment, middles: Sequence[Middle], bounds: Bounds) -> Iterator[Reached]:
    """What a paper comes to, item by item, spares included."""
    for item, middle in zip(items, middles, strict=True):
        lots = [*assignment.of_item(item.number), *(spare.lots[item.number - 1] for spare in assignment.spares)]
        for quantity in QUANTITIES:
            values = [lot.quantities()[quantity] for lot in lots]
            yield Reached(item.number, quantity, middle[quantity], bound_of(quantity, bounds), min(values), max(values))
