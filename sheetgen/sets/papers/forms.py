"""Which forms an item has: those whose middles lie nearest each other, none in two items. A form is a family of a wish, or the
options and the hand of one family; here it is a name. A choice among thousands of ways, made by integer programming (van der
Linden, Linear Models for Optimal Test Design, 2005; from memory).

The same forms come out on every machine: one thread, and a limit of nodes instead of one of time.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from statistics import median
from typing import Any

from sheetgen.sets.papers.equal import QUANTITIES, Middle, bound_of
from sheetgen.sets.papers.records import Bounds, Lot

SAMPLED = 10
"""Variants of a family that its own middle is found of."""

MOST_FORMS = 24
"""Families of a wish, or forms of a family, that are looked at, the key's first: four of them are ten thousand ways."""

MOST_NODES = 5000
"""Of the search: a paper of five items with four forms needs a few hundred."""

GRAIN = 6
"""Decimals of a quantity: of two that differ by less, the solver refuses the difference as too small a number."""

OPTIONS: Mapping[str, object] = {
    "output_flag": False, "threads": 1, "random_seed": 0, "mip_max_nodes": MOST_NODES, "mip_rel_gap": 0.0}

FEASIBLE = 2
"""By which the solver says that what it has found keeps all conditions."""

BEYOND = 1000.0
"""What it costs to leave a bound by its own width; far more than anything within."""

LEAST_BOUND = 0.05
"""Stands for a bound of nothing, by which nothing can be divided."""


@dataclass(frozen=True, slots=True)
class Wanted:
    """The families that an item may have, in the key's order, and how many it is to have."""

    families: tuple[str, ...]
    forms: int


@dataclass(frozen=True, slots=True)
class Chosen:
    """``families``: of an item, in the order in which its forms are numbered; ``beyond``: of each quantity by how much they lie
    further apart than twice its bound."""

    families: tuple[str, ...]
    beyond: Mapping[str, float]


def family_middle(lots: Sequence[Lot]) -> Middle:
    """What most variants of a family are like: the median of each quantity. Raises: StatisticsError for none."""
    return {name: median(lot.quantities()[name] for lot in lots) for name in QUANTITIES}


def common_middle(middles: Sequence[Middle]) -> Middle:
    """What lies as far from the least as from the greatest of several families, in everything."""
    return {name: (min(one[name] for one in middles) + max(one[name] for one in middles)) / 2 for name in QUANTITIES}


def chosen(wanted: Sequence[Wanted], middles: Mapping[str, Middle], bounds: Bounds) -> list[Chosen]:
    """The families of each item's forms: together those that lie nearest each other, in units of their bounds; of equal ones
    those that the key names first.

    Raises: ValueError if there are fewer families than forms.
    """
    model = _Model(wanted, middles, bounds)
    found = model.solved()
    return [Chosen(families, _beyond([middles[name] for name in families], bounds)) for families in found]


class _Model:
    """The program: x tells whether an item has a family; low and high enclose the middles of those that it has."""

    def __init__(self, wanted: Sequence[Wanted], middles: Mapping[str, Middle], bounds: Bounds) -> None:
        from highspy import Highs  # late: nothing else needs it

        self._highs: Any = Highs()
        for name, value in OPTIONS.items():
            self._highs.setOptionValue(name, value)
        self._wanted = wanted
        cost: Any = 0.0
        self._x = [[self._highs.addBinary() for _ in item.families] for item in wanted]
        for item, row in zip(wanted, self._x, strict=True):
            if len(item.families) < item.forms:
                raise ValueError(f"{len(item.families)} families for {item.forms} forms")
            self._highs.addConstr(sum(row) == item.forms)
            cost = cost + sum(1e-5 * place * x for place, x in enumerate(row))
            cost = cost + self._spread(item, row, middles, bounds)
        for name in sorted({name for item in wanted for name in item.families}):
            uses = [x for item, row in zip(wanted, self._x, strict=True) for other, x in zip(item.families, row, strict=True)
                    if other == name]
            if len(uses) > 1:
                self._highs.addConstr(sum(uses) <= 1)
        self._cost = cost

    def _spread(self, item: Wanted, row: Sequence[Any], middles: Mapping[str, Middle], bounds: Bounds) -> Any:
        """What it costs that the families of an item lie apart."""
        cost: Any = 0.0
        for quantity in QUANTITIES:
            values = [round(middles[name][quantity], GRAIN) for name in item.families]
            least, greatest, unit = min(values), max(values), max(bound_of(quantity, bounds), LEAST_BOUND)
            low, high = (self._highs.addVariable(lb=least, ub=greatest) for _ in range(2))
            beyond = self._highs.addVariable(lb=0.0, ub=max(greatest - least, 0.0))
            for value, x in zip(values, row, strict=True):
                self._highs.addConstr(low + (greatest - value) * x <= greatest)        # at most the value, if the item has it
                self._highs.addConstr(high + (least - value) * x >= least)             # at least the value
            self._highs.addConstr(high - low - beyond <= 2 * bound_of(quantity, bounds))
            cost = cost + (high - low) * (1.0 / unit) + beyond * (BEYOND / unit)
        return cost

    def solved(self) -> list[tuple[str, ...]]:
        """The families of each item. Raises: ValueError if there are not enough."""
        self._highs.minimize(self._cost)
        values = self._highs.getSolution().col_value
        if self._highs.getInfo().primal_solution_status != FEASIBLE:
            raise ValueError("no choice of families, each in one item alone")
        return [tuple(name for name, x in zip(item.families, row, strict=True) if values[x.index] > 0.5)
                for item, row in zip(self._wanted, self._x, strict=True)]


def _beyond(middles: Sequence[Middle], bounds: Bounds) -> Mapping[str, float]:
    found = {}
    for name in QUANTITIES:
        values = [middle[name] for middle in middles]
        if (apart := max(values) - min(values) - 2 * bound_of(name, bounds)) > 1e-6:
            found[name] = apart
    return found
