"""From a variant to its problem: the solid, what is measured on it, the general notes."""

from __future__ import annotations

from sheetgen.bank import BankError, Variant
from sheetgen.faults import Fault
from sheetgen.measures import Measure, MeasureError, measures_of
from sheetgen.measures.symmetry import partners
from sheetgen.problem.notes import notes_of
from sheetgen.problem.problem import Problem
from sheetgen.solid import Solid, SolidError, build


def problem_of(variant: Variant) -> Problem:
    """Build the variant's solid and find its measures.

    Raises: BankError naming the feature, the measures or the symmetry that make no sense in this variant; that is a fault of the
    family.
    """
    solid = solid_of(variant)
    family = variant.family
    measures = measured(variant, solid)
    _assert_symmetric(variant, solid)
    return Problem(variant.identity, family.title, family.topics, solid, measures, variant.symmetry, notes_of(variant, solid))


def solid_of(variant: Variant) -> Solid:
    """The exact shape of a variant. Raises: BankError naming the feature at fault."""
    try:
        return build(variant.features)
    except SolidError as error:
        family = variant.family
        spec = next((spec for spec in family.features if spec.name == error.feature), None)
        line, where = (spec.line, f"features[{spec.number}] {spec.name}") if spec else (0, "features")
        wanted = "one closed solid; change the feature or add a rule"
        raise BankError([Fault(family.file, line, where, error.reason, wanted, sizes_text(variant))]) from None


def measured(variant: Variant, solid: Solid) -> tuple[Measure, ...]:
    """What is printed of a variant. Raises: BankError naming every measure that cannot be taken on this solid."""
    family, found, faults = variant.family, list[Measure](), list[Fault]()
    for spec in variant.measure_specs:
        try:
            found += measures_of(solid, [spec])
        except MeasureError as error:
            wanted = "a measure that every variant has"
            faults.append(Fault(family.file, spec.line, f"measures `{spec.text}`", str(error), wanted, sizes_text(variant)))
    if faults:
        raise BankError(faults)
    return tuple(found)


def _assert_symmetric(variant: Variant, solid: Solid) -> None:
    """Raise BankError with each symmetry that the family claims and this solid has not."""
    family, faults = variant.family, list[Fault]()
    for axis in variant.symmetry:
        try:
            partners(solid, "xyz".index(axis))
        except MeasureError as error:
            wanted = "only axes along which every variant is symmetric"
            faults.append(Fault(family.file, 0, "symmetry", str(error), wanted, sizes_text(variant)))
    if faults:
        raise BankError(faults)


def sizes_text(variant: Variant) -> str:
    """The sizes of a variant in one line, so that a teacher can draw the part that made trouble."""
    sizes = (f"{name} {value:g}" if isinstance(value, float) else f"{name} {value}" for name, value in variant.sizes.items())
    return f"seed {variant.seed}, draw {variant.draw}: {', '.join(sizes)}"
