"""Which families of the bank a test looks at that need not look at all: a few that together have whatever any of them has.

What a family's file may get wrong is asked of every family: ``vetting/test_vetting.py`` vets it,
``outside/test_families_against_kernel.py`` holds its solid against another kernel's; ``outside/test_sweep.py`` draws, proves
and reads a fifth of them, and each that ``-k`` names. What the program may get wrong hangs on sorts of features, on how
surfaces lie, on sorts of sizes, and not on a family's name: such tests take ``sample("word")``. A bank of 60 families has
hardly more sorts than one of 40, so samples stay about as large as they are. The word is the test file's own: with each another
sample is taken, and together they have most families.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from hashlib import sha256

from sheetgen.bank import BankError, Family, load_bank
from sheetgen.bank.features import (
    NORMAL_AXIS,
    Cone,
    Corner,
    Cylinder,
    Dovetail,
    Feature,
    Hole,
    Lug,
    Obround,
    Profile,
    Rib,
    Slant,
    Vee,
)
from sheetgen.solid.turnings import MOUTH

FAMILIES = tuple(load_bank())
"""All of them, by name."""


def traits(family: Family) -> frozenset[str]:
    """What a family has that others may lack: features, surfaces by how they lie, sizes, planes of symmetry, sections, rung."""
    variant = family.sample(1)
    found = {f"rung {family.rung}", f"like halves: {'-'.join(variant.symmetry)}"}
    found |= {trait for feature in variant.features for trait in _traits(feature)}
    found |= {f"{spec.kind} of {len(spec.a.sides)}" for spec in variant.measure_specs}
    found |= {f"{spec.section} section in {spec.view}" for spec in variant.sections}
    return frozenset(found)


def _traits(feature: Feature) -> Iterator[str]:
    """What one feature brings along."""
    yield f"{type(feature).__name__}, {'cut' if getattr(feature, 'cut', True) else 'added'}"
    match feature:
        case Hole():
            yield f"round, hollow, along {MOUTH[feature.mouth][0]}"
            for name in ("depth", "point_angle", "counterbore", "countersink"):
                if getattr(feature, name) is not None:
                    yield f"hole with {name}"
            if len(feature.at) > 1:
                yield "holes alike"
        case Cylinder() | Cone():
            yield f"round, {'hollow' if feature.cut else 'full'}, along {feature.axis}"
        case Lug() | Obround():
            yield f"round, {'hollow' if feature.cut else 'full'}, along {NORMAL_AXIS[feature.plane]}"
        case Profile() if any(piece.centre for piece in feature.pieces):
            yield f"arc in an outline, along {NORMAL_AXIS[feature.plane]}"
        case Slant() | Rib() | Vee() | Dovetail():
            yield f"inclined, seen edge-on along {NORMAL_AXIS[feature.plane]}"
        case Corner():
            yield "oblique"


@cache
def _having() -> dict[str, frozenset[str]]:
    """The traits of each family; none of one that cannot be read, which the tests of the bank tell."""
    bank, found = load_bank(), {}
    for name in FAMILIES:
        try:
            found[name] = traits(bank[name])
        except BankError:
            found[name] = frozenset()
    return found


@cache
def sample(word: str) -> tuple[str, ...]:
    """Names of a few families, sorted, that together have every trait of the bank; which, hangs on ``word``.

    One after another is left out if those that stay have all that it has, in an order that the word draws, and that stays as it
    is when families are added.
    """
    kept = set(FAMILIES)
    for name in sorted(FAMILIES, key=lambda name: sha256(f"{word}/{name}".encode()).digest()):
        others = (_having()[other] for other in kept - {name})
        if _having()[name] <= frozenset().union(*others):
            kept.remove(name)
    return tuple(sorted(kept))
