"""From a variant to its problem: the solid, what is measured on it, the general notes."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from sheetgen.bank import BankError, Variant
from sheetgen.bank.features import Hole
from sheetgen.faults import Fault
from sheetgen.measures import DRILL_POINT, LostSideError, Measure, MeasureError, check_symmetry, measures_of
from sheetgen.problem.cutting import planes_of
from sheetgen.problem.notes import notes_of, worded
from sheetgen.problem.problem import Problem
from sheetgen.problem.takers import Takers
from sheetgen.solid import Solid, SolidError, build

Choosing = Callable[[Sequence[int]], Sequence[int] | None]
"""Of alternatives, so many for each measure, which are taken; or None if that is not known."""


def problem_of(variant: Variant, solid: Solid | None = None, choosing: Choosing | None = None) -> Problem:
    """Build the variant's ``solid`` if it is not given, find its measures, and choose among alternatives, as ``choosing`` says or
    by what they cost.

    Raises: BankError naming the feature or the measures that make no sense in this variant, or a symmetry that it has not. That
    is a fault of the family.
    """
    _check_points(variant)
    solid = solid or solid_of(variant)
    family = variant.family
    _check_symmetry(variant, solid)
    alternatives = alternatives_of(variant, solid)
    measures = tuple(ways[0] for ways in alternatives)
    # Alternatives are lengths, and notes speak of holes and hollows: they are the same whichever is chosen.
    notes = notes_of(variant, solid, measures)
    problem = Problem(
        variant.identity, family.title, family.topics, solid, measures, variant.symmetry, notes, alternatives,
        ranks=(0,) * len(measures), sizes=variant.sizes, features=worded(variant), planes=planes_of(variant, solid))
    if all(len(ways) == 1 for ways in alternatives):
        return problem
    if choosing and (ranks := choosing([len(ways) for ways in alternatives])) is not None:
        return problem.measured_by(ranks)
    # Loaded where there is a choice: else measures need no views.
    from sheetgen.problem.choice import chosen

    choice = chosen(alternatives, problem.sights, variant.symmetry)
    return problem.measured_by(choice.ranks, choice.proof)


def _check_points(variant: Variant) -> None:
    """Raise BankError for drill points of another angle than the sheets say they have."""
    faults = []
    for feature in variant.features:
        if isinstance(feature, Hole) and feature.point_angle not in (None, DRILL_POINT):
            spec = next(spec for spec in variant.family.features if spec.name == feature.name)
            faults.append(Fault(variant.family.file, spec.line, f"features[{spec.number}] {spec.name}: point",
                                f"{feature.point_angle:g} degrees", f"{DRILL_POINT:g}, which a note on the sheets says of all"))
    if faults:
        raise BankError(faults)


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


def _check_symmetry(variant: Variant, solid: Solid) -> None:
    """Raise BankError unless a variant has each symmetry that its sheets would claim."""
    family, faults = variant.family, list[Fault]()
    for axis in variant.symmetry:
        try:
            check_symmetry(solid, "xyz".index(axis))
        except MeasureError as error:
            wanted = "only axes along which every variant is symmetrical"
            faults.append(Fault(family.file, 0, "symmetry", f"{axis}, but {error}", wanted, sizes_text(variant)))
    if faults:
        raise BankError(faults)


def alternatives_of(variant: Variant, solid: Solid) -> tuple[tuple[Measure, ...], ...]:
    """What may be printed of a variant: of each measure its alternatives, the preferred one first.

    Raises: BankError naming every measure that cannot be taken on this solid.
    """
    family, found, faults, takers = variant.family, list[tuple[Measure, ...]](), list[Fault](), Takers(variant)
    for specs in variant.measures:
        ways = list[Measure]()
        for spec in specs:
            try:
                ways += measures_of(solid, [spec])
                _check_axis(ways)
            except LostSideError as error:
                found_out = f"nothing is left of the side {error.side}: {takers.taker(error.side)}"
                wanted = "another side, or a rule that leaves it"
                faults.append(Fault(family.file, spec.line, f"measures `{spec.text}`", found_out, wanted, sizes_text(variant)))
            except MeasureError as error:
                wanted = "a measure that every variant has"
                faults.append(Fault(family.file, spec.line, f"measures `{spec.text}`", str(error), wanted, sizes_text(variant)))
        found.append(tuple(ways))
    if faults:
        raise BankError(faults)
    return tuple(found)


def _check_axis(ways: Sequence[Measure]) -> None:
    """Raises: MeasureError if the last of some alternatives is a length along another axis than the first."""
    axes = ["xyz"[way.axis] for way in ways if way.axis is not None]
    if len(set(axes)) > 1:
        raise MeasureError(f"{ways[-1].words}: a length along {axes[-1]}, in place of one along {axes[0]}, `{ways[0].words}`")


def sizes_text(variant: Variant) -> str:
    """The sizes of a variant in one line, so that a teacher can draw the part that made trouble."""
    sizes = (f"{name} {value:g}" if isinstance(value, float) else f"{name} {value}" for name, value in variant.sizes.items())
    return f"seed {variant.seed}, draw {variant.draw}: {', '.join(sizes)}"
