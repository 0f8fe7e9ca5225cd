"""Which of equivalent measures are printed: chosen once a variant, from the part alone, before any sheet, whatever its look."""

from __future__ import annotations

import heapq
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import islice

from sheetgen.measures import Measure, Proof, prove
from sheetgen.problem.price import prices_of
from sheetgen.refusals import RefusedError
from sheetgen.sight import Sight, Sights

CLEARLY = 12.0
"""mm by which the price of a later alternative must be lower: the first is the one that its author would print, and a shorter way
over the part is worth leaving it only where a reader would notice (common practice, no source)."""

TRIED = 6
"""Sets of measures that are tried against the proof, 1 to 12 ms each, before it is the first listed."""


@dataclass(frozen=True, eq=False)
class Choice:
    """The ``measures`` chosen, one of each alternatives; ``ranks``: which; their ``proof``, if they are not the first listed."""

    measures: tuple[Measure, ...]
    ranks: tuple[int, ...]
    proof: Proof | None = None


def chosen(alternatives: Sequence[Sequence[Measure]], sights: Sights, symmetry: tuple[str, ...] = ()) -> Choice:
    """The cheapest of each measure's ``alternatives``, the first listed unless another is clearly cheaper; of such sets the
    cheapest that passes the proof, of TRIED, else the first listed."""
    prices = iter(prices_of([way for ways in alternatives if len(ways) > 1 for way in ways], sights, _pictorial(sights)))
    costs = [[next(prices) + CLEARLY * (k > 0) for k in range(len(ways))] if len(ways) > 1 else [0.0] for ways in alternatives]
    for ranks in islice(cheapest(costs), TRIED):
        measures = tuple(ways[rank] for ways, rank in zip(alternatives, ranks, strict=True))
        if not any(ranks):
            return Choice(measures, ranks)
        proof = prove(sights.solid, measures, symmetry)
        if proof.holds:
            return Choice(measures, ranks, proof)
    return Choice(tuple(ways[0] for ways in alternatives), (0,) * len(alternatives))


def _pictorial(sights: Sights) -> Sight | None:
    """The pictorial from which the part is read; None if there is none: then nothing is printed that has one."""
    try:
        return next(sights.pictorials())
    except RefusedError:
        return None


def cheapest(costs: Sequence[Sequence[float]]) -> Iterator[tuple[int, ...]]:
    """Ways to take one of each, by their sum, lowest first; of alike ones the earlier listed.

    >>> list(cheapest([[0.0, 5.0], [3.0, 1.0]]))
    [(0, 1), (0, 0), (1, 1), (1, 0)]
    """
    order = [sorted(range(len(each)), key=each.__getitem__) for each in costs]
    added = [[each[rank] for rank in ranks] for each, ranks in zip(costs, order, strict=True)]

    def ways(steps: tuple[int, ...]) -> tuple[float, tuple[int, ...], tuple[int, ...]]:
        ranks = tuple(ranks[step] for ranks, step in zip(order, steps, strict=True))
        return round(sum(each[step] for each, step in zip(added, steps, strict=True)), 6), ranks, steps

    first = (0,) * len(costs)
    heap, seen = [ways(first)], {first}
    while heap:
        _, ranks, steps = heapq.heappop(heap)
        yield ranks
        for k, step in enumerate(steps):
            further = (*steps[:k], step + 1, *steps[k + 1:])
            if step + 1 < len(costs[k]) and further not in seen:
                seen.add(further)
                heapq.heappush(heap, ways(further))
