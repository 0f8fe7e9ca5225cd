"""A problem: what all sheets of one variant have in common, whatever their look."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property
from typing import TYPE_CHECKING

from sheetgen.bank import Identity
from sheetgen.bank.features import Feature
from sheetgen.measures import Measure, Proof, prove
from sheetgen.problem.cutting import CuttingPlane
from sheetgen.problem.notes import Note
from sheetgen.refusals import RefusedError
from sheetgen.solid import Solid

if TYPE_CHECKING:                                    # loaded when something is to be seen: measures need neither
    from sheetgen.projection import View
    from sheetgen.sight import Sight, Sights


@dataclass(frozen=True, eq=False)
class Problem:
    """One part to be drawn. ``measures``: those chosen of their alternatives, the same on all its sheets; ``notes``: what its
    pictorial cannot show; ``alternatives``: what the measures were chosen from, the preferred one of each first; ``proof``: of
    the measures, if they were proved when they were chosen; ``ranks``: which of its alternatives each measure is; ``sizes``: the
    variant's, by name; ``features``: of which the part is made, in order, each with its word in the file; ``planes``: along
    which it can be cut."""

    identity: Identity
    title: str
    topics: tuple[str, ...]
    solid: Solid
    measures: tuple[Measure, ...]
    symmetry: tuple[str, ...] = ()
    notes: tuple[Note, ...] = ()
    alternatives: tuple[tuple[Measure, ...], ...] = ()
    proof: Proof | None = None
    ranks: tuple[int, ...] = ()
    sizes: Mapping[str, float | str] = field(default_factory=dict)
    features: tuple[tuple[str, Feature], ...] = ()
    planes: tuple[CuttingPlane, ...] = ()

    @cached_property
    def sights(self) -> Sights:
        """The part from all sides."""
        from sheetgen.sight import Sights

        return Sights(self.solid, self.symmetry)

    def view(self, name: str) -> View:
        """The view called ``name``, worked out once."""
        return self.sights[name].view

    def pictorials(self) -> Iterator[Sight]:
        """The isometric views from which the part can be read, best first. Raises: RefusedError if there is none."""
        return self.sights.pictorials()

    @property
    def pictorial(self) -> Sight:
        """The best of them. Raises: RefusedError if there is none."""
        return next(self.pictorials())

    def measured_by(self, ranks: Sequence[int], proof: Proof | None = None) -> Problem:
        """The same part with those of its alternatives as measures; what has been seen of it is kept."""
        measures = tuple(ways[rank] for ways, rank in zip(self.alternatives, ranks, strict=True))
        other = replace(self, measures=measures, proof=proof, ranks=tuple(ranks))
        if "sights" in vars(self):
            vars(other)["sights"] = self.sights
        return other

    @cached_property
    def proved(self) -> Proof:
        """The proof of its measures."""
        return self.proof or prove(self.solid, self.measures, self.symmetry)

    def check(self) -> None:
        """Raise RefusedError unless the measures prove complete, not doubled and true."""
        faults = self.proved.faults()
        if faults:
            raise RefusedError(faults)

