"""The library for programs: bank, family, variant, solid and view, each giving the next. ``import sheetgen`` shows these names.

    bank = sheetgen.load_bank()
    variant = bank["stepped-block"].sample(seed=7)
    variant.solid().view("front").visible
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING

import sheetgen.bank
import sheetgen.solid
from sheetgen.bank import BankError, UnknownFamilyError
from sheetgen.faults import Fault, FaultError
from sheetgen.geometry import Array, IntArray
from sheetgen.measures import Measure
from sheetgen.problem import problem_of, solid_of
from sheetgen.refusals import RefusedError

if TYPE_CHECKING:                                    # loaded when the first view or proof is asked for
    from sheetgen.certainty import Certainty
    from sheetgen.projection import View


@dataclass(frozen=True, eq=False)
class Solid:
    """The exact shape of a variant; its lowest, leftmost, foremost corner is the origin."""

    exact: sheetgen.solid.Solid
    symmetry: tuple[str, ...] = ()

    @property
    def vertices(self) -> Array:
        """Corners (n, 3), mm: x to the right, y away from the viewer of the front view, z up."""
        return self.exact.vertices

    @property
    def triangles(self) -> IntArray:
        """Facets (m, 3), indices of vertices, anticlockwise seen from outside."""
        return self.exact.triangles

    @property
    def volume(self) -> float:
        """Volume, mm3, of the true curved surfaces."""
        return self.exact.volume

    @property
    def size(self) -> Array:
        """Width, depth and height (3,), mm."""
        return self.exact.size

    def view(self, name: str) -> View:
        """The solid seen along one direction: front, top, left, right, rear, bottom or isometric.

        ``visible`` and ``hidden`` of the view are lists of (k, 2) mm, u to the reader's right, v up.
        Raises: KeyError for another name.
        """
        from sheetgen.projection import view_of

        return view_of(self.exact, name, symmetry=self.symmetry)


@dataclass(frozen=True, eq=False)
class Variant:
    """A family with its sizes chosen."""

    record: sheetgen.bank.Variant

    @property
    def identity(self) -> str:
        """What tells it from all others, in one word: family, seed, and the draw if it is not the first."""
        return str(self.record.identity)

    @property
    def sizes(self) -> Mapping[str, float | str]:
        """The chosen sizes by name, mm."""
        return self.record.sizes

    def solid(self) -> Solid:
        """The exact shape. Raises: BankError naming the feature that makes none."""
        return self._solid

    @cached_property
    def measures(self) -> tuple[Measure, ...]:
        """What is printed, each with ``kind``, ``text`` and ``value`` (mm or degrees).

        Raises: BankError naming every measure that cannot be taken.
        """
        return problem_of(self.record, self._solid.exact).measures

    def certainty(
        self, kind: str, missing: str | None = None, limit: int = 50, side: str | None = None,
        left_out: Iterable[tuple[str, str, int]] = (),
    ) -> Certainty:
        """Whether exactly one answer fits what is given: ``certain``, ``count``, ``assuming`` and ``others``, meshes.

        ``kind``: ``third-view`` (of front, top and one side view two are given and the view ``missing`` is asked), ``pictorial``
        (the three are given) or ``missing-lines`` (the three are given without the lines ``left_out``, each a view, visible or
        hidden, and its number in that list of the view, from 0). ``side``: right or left, if ``missing`` does not tell it; right
        of who says neither. ``limit``: the most answers that are counted. Where ``assuming`` speaks of holes about centre lines,
        others are counted and not given.
        Raises: RefusedError for a part of which nothing can be proved; ValueError for another kind, view or line.
        """
        from sheetgen.certainty import certainty

        return certainty(self._solid.exact, kind, missing, limit, side, left_out)

    @cached_property
    def _solid(self) -> Solid:
        return Solid(solid_of(self.record), self.record.symmetry)


@dataclass(frozen=True, eq=False)
class Family:
    """One parametric part of the problem bank."""

    record: sheetgen.bank.Family

    @property
    def name(self) -> str:
        """The name of its file."""
        return self.record.name

    @property
    def title(self) -> str:
        """What its sheets are called."""
        return self.record.title

    @property
    def topics(self) -> tuple[str, ...]:
        """What it teaches."""
        return self.record.topics

    @property
    def rung(self) -> int:
        """How hard it is."""
        return self.record.rung

    def sample(self, seed: int, draw: int = 0) -> Variant:
        """The variant of a seed; ``draw`` 1, 2 … give others of the same seed. Raises: BankError if no choice of sizes fits."""
        return Variant(self.record.sample(seed, draw))


class Bank(Mapping[str, Family]):
    """Families by name; a file is read when its family is first asked for."""

    def __init__(self, record: sheetgen.bank.Bank) -> None:
        self.record = record

    def __getitem__(self, name: str) -> Family:
        """The family of that name. Raises: UnknownFamilyError (a KeyError) naming the nearest; BankError for a faulty file."""
        return Family(self.record[name])

    def __iter__(self) -> Iterator[str]:
        return iter(self.record)

    def __len__(self) -> int:
        return len(self.record)

    def __contains__(self, name: object) -> bool:
        return name in self.record

    def __repr__(self) -> str:
        return repr(self.record)


def load_bank(path: str | Path | None = None) -> Bank:
    """The bank in a folder (or one file); without a path, the one that comes with sheetgen.

    Raises: BankError if there is no such folder, or nothing in it.

    >>> bank = load_bank()
    >>> variant = bank["stepped-block"].sample(seed=7)
    >>> variant.identity, len(variant.solid().view("front").visible)
    ('stepped-block-7', 7)
    """
    return Bank(sheetgen.bank.load_bank(path))


__all__ = [
    "Bank", "BankError", "Certainty", "Family", "Fault", "FaultError", "Measure", "RefusedError", "Solid", "UnknownFamilyError",
    "Variant", "View", "load_bank",
]
