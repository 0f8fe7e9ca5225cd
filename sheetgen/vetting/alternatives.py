"""Alternatives of measures, vetted: whether each will do, and how often each is taken."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from itertools import islice, product

from sheetgen.bank import Family
from sheetgen.faults import Fault, shown
from sheetgen.measures import Measure, prove
from sheetgen.problem import Problem
from sheetgen.vetting.report import Taken

MOST_SETS = 64
"""Sets of measures that are proved of one variant, 1 to 12 ms each."""


def alternative_faults(family: Family, problem: Problem, every: bool) -> Iterator[Fault]:
    """Alternatives with which the measures do not determine the part, or double a size: each by itself, the others as listed
    first; with ``every`` all sets that can be chosen, up to MOST_SETS."""
    first = as_listed(problem)
    if not prove(problem.solid, first, problem.symmetry).holds:
        return                                          # told of the measures themselves
    faulty = set[Measure]()
    for measures in _alone(problem.alternatives):
        reasons = prove(problem.solid, measures, problem.symmetry).faults()
        if reasons:
            [swapped] = set(measures) - set(first)
            faulty.add(swapped)
            yield Fault(family.file, swapped.spec.line, f"measures {shown(swapped.spec.text)}",
                        f"an alternative that will not do: {reasons[0]}", "one that tells as much as the measure it stands for")
    if every:
        sound = [[way for way in ways if way not in faulty] for ways in problem.alternatives]
        for together in islice(product(*sound), MOST_SETS):
            others = [measure for measure in together if measure not in first]
            reasons = prove(problem.solid, together, problem.symmetry).faults() if len(others) > 1 else []
            if reasons:
                names = " and ".join(shown(measure.spec.text) for measure in others)
                yield Fault(family.file, others[0].spec.line, f"measures {names}",
                            f"alternatives that will not do together: {reasons[0]}", "such as do, whichever are chosen")
                return


def as_listed(problem: Problem) -> tuple[Measure, ...]:
    """The measures as their author prefers them."""
    return tuple(ways[0] for ways in problem.alternatives)


def _alone(alternatives: Sequence[Sequence[Measure]]) -> Iterator[tuple[Measure, ...]]:
    """The measures first listed, with one alternative in place of its own."""
    first = tuple(ways[0] for ways in alternatives)
    for k, ways in enumerate(alternatives):
        for way in ways[1:]:
            yield (*first[:k], way, *first[k + 1:])


class TakenTally:
    """Counts how often each alternative is taken."""

    def __init__(self) -> None:
        self._had, self._chosen = Counter[tuple[int, str]](), Counter[tuple[int, str]]()

    def count(self, problem: Problem) -> None:
        """Count those of one variant."""
        for ways, measure in zip(problem.alternatives, problem.measures, strict=True):
            if len(ways) > 1:
                self._had.update((way.spec.line, way.spec.text) for way in ways)
                self._chosen[measure.spec.line, measure.spec.text] += 1

    def found(self) -> tuple[Taken, ...]:
        """All that there were, in the order of the file."""
        order = {place: k for k, place in enumerate(self._had)}
        places = sorted(self._had, key=lambda place: (place[0], order[place]))
        return tuple(Taken(*place, self._chosen[place], self._had[place]) for place in places)


def never_taken(family: Family, found: Sequence[Taken]) -> list[Fault]:
    """Remarks on alternatives that are never taken, so that there is no choice."""
    return [Fault(family.file, each.line, f"measures {shown(each.text)}", f"an alternative never taken in {each.of} variants",
                  "alternatives each of which is clearer in some variants") for each in found if not each.times]
