"""A pair: question and answer of one variant, two pages. A variant that cannot be printed right makes way for the next draw."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass

from sheetgen.bank import BankError, Family, Variant
from sheetgen.dimensions import Measure, MeasureError, measures_of
from sheetgen.faults import Fault, FaultError
from sheetgen.ink import Page
from sheetgen.sets.notes import notes_of
from sheetgen.sheet import NoRoomError, Problem, RefusedError, Settings, answer_page, question_page
from sheetgen.solid import Solid, SolidError, build

DRAWS = 20
"""Variants of one seed that are tried before the seed is given up."""

MOST_REASONS = 6
"""Reasons told of a seed that was given up."""


class RefusedSeedError(FaultError):
    """None of the variants of a seed can be printed so that it would be right."""


@dataclass(frozen=True, eq=False)
class Pair:
    """Question and answer of one problem. ``refused``: why earlier variants of the same seed were not printed."""

    problem: Problem
    question: Page
    answer: Page
    refused: tuple[str, ...] = ()


def code_of(variant: Variant) -> str:
    """The code printed on question and answer: family, seed, and the draw if it is not the first.

    >>> from sheetgen.bank import load_bank
    >>> family = load_bank()["stepped-block"]
    >>> code_of(family.sample(7)), code_of(family.sample(7, draw=2))
    ('stepped-block-7', 'stepped-block-7.2')
    """
    return f"{variant.family.name}-{variant.seed}" + (f".{variant.draw}" if variant.draw else "")


def problem_of(variant: Variant) -> Problem:
    """Build the variant's solid and find its measures.

    Raises: BankError naming the feature or the measures that make no sense in this variant; that is a fault of the family.
    """
    solid = solid_of(variant)
    family = variant.family
    measures = measured(variant, solid)
    return Problem(code_of(variant), family.title, family.topics, solid, measures, variant.symmetry, notes_of(variant, solid))


def solid_of(variant: Variant) -> Solid:
    """The exact shape of a variant. Raises: BankError naming the feature at fault."""
    try:
        return build(variant.features)
    except SolidError as error:
        family = variant.family
        spec = next((spec for spec in family.features if spec.name == error.feature), None)
        line, where = (spec.line, f"features[{spec.number}] {spec.name}") if spec else (0, "features")
        found = f"{error.reason} ({sizes_text(variant)})"
        raise BankError([Fault(family.file, line, where, found, "one closed solid; change the feature or add a rule")]) from None


def measured(variant: Variant, solid: Solid) -> tuple[Measure, ...]:
    """What is printed of a variant. Raises: BankError naming every measure that cannot be taken on this solid."""
    family, found, faults = variant.family, list[Measure](), list[Fault]()
    lines = {id(line.spec): line for line in family.measures}
    for spec in variant.measure_specs:
        try:
            found += measures_of(solid, [spec])
        except MeasureError as error:
            line = lines.get(id(spec))
            where = f"measures `{line.text}`" if line else "measures"
            why = f"{error} ({sizes_text(variant)})"
            faults.append(Fault(family.file, line.line if line else 0, where, why, "a measure that every variant has"))
    if faults:
        raise BankError(faults)
    return tuple(found)


def sizes_text(variant: Variant) -> str:
    """The sizes of a variant in one line, so that a teacher can draw the part that made trouble."""
    sizes = (f"{name} {value:g}" if isinstance(value, float) else f"{name} {value}" for name, value in variant.sizes.items())
    return f"seed {variant.seed}, draw {variant.draw}: {', '.join(sizes)}"


def make_pair(family: Family, seed: int, settings: Settings, sheet: int = 1, sheets: int = 1) -> Pair:
    """Draw question and answer of the first variant of ``seed`` that can be printed right, as sheet ``sheet`` of ``sheets``.

    Raises: BankError for a fault of the family, TemplateError for a title block that cannot hold what it should,
    RefusedSeedError if DRAWS variants are refused.
    """
    refused: list[str] = []
    for draw in range(DRAWS):
        problem = problem_of(family.sample(seed, draw))
        try:
            problem.check()
            question = question_page(problem, settings, sheet, sheets)
            answer = answer_page(problem, settings, sheet, sheets)
        except (RefusedError, NoRoomError) as error:
            refused.append(str(error))
            continue
        return Pair(problem, question, answer, tuple(refused))
    raise RefusedSeedError(_given_up(family, seed, refused))


def _given_up(family: Family, seed: int, refused: list[str]) -> list[Fault]:
    """Each reason with the number of variants that it stopped, the most frequent first."""
    wanted = "sizes, measures or paper that let at least one be printed right"
    reasons = Counter(reason for text in refused for reason in dict.fromkeys(text.split("; ")))
    return [Fault(family.file, 0, f"seed {seed}", f"{count} of {DRAWS} variants refused: {reason}", wanted)
            for reason, count in reasons.most_common(MOST_REASONS)]
