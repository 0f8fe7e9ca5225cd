"""What can be said of a family before anything is drawn: how many variants it has, which rules reject how much, unused sizes."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Sequence

from sheetgen.bank import Attempt, BankError, Family
from sheetgen.bank.features import Feature
from sheetgen.faults import Fault
from sheetgen.vetting.report import LEAST_KEPT, LEAST_VARIANTS, RuleShare

LOOKED_AT = 600
"""Choices of sizes: 0.1 ms each, and enough to know a share of 5 % to within 2 %."""

SURELY = 100
"""Times as many variants as are wanted: so large an estimate need not be counted."""

SEEDS_COUNTED = 3
"""Seeds looked at for each different part that is wanted: of twice as many parts as are wanted, some come again."""


def attempts_of(family: Family, count: int = LOOKED_AT) -> tuple[Attempt, ...]:
    """The choices of sizes that are looked at, whatever the rules say of them."""
    return tuple(family.attempt(number) for number in range(count))


def kept_and_variants(family: Family, attempts: Sequence[Attempt]) -> tuple[float, int]:
    """Share of choices of sizes that keep the rules, and about how many such choices there are.

    Each choice kept stands for as many as there were ways to it: their mean over all choices is the number of leaves of the
    tree of choices, without bias (Knuth 1975, estimating the size of a tree of choices; from memory). Sizes of features that
    a variant does not have are not printed, and not counted.

    >>> from sheetgen.bank import load_bank
    >>> family = load_bank()["stepped-block"]
    >>> kept, variants = kept_and_variants(family, attempts_of(family))
    >>> 0 < kept <= 1 and variants > 1000
    True
    """
    ways = [_ways(family, attempt) for attempt in attempts if not attempt.broken]
    return len(ways) / len(attempts), int(float(f"{sum(ways) / len(attempts):.2g}"))


def _ways(family: Family, attempt: Attempt) -> float:
    """The ways to the sizes that this choice makes use of."""
    try:
        there = {feature.name for feature in family.variant(attempt.sizes).features}
    except BankError:                                   # an impossible feature: told where variants are looked at
        there = {spec.name for spec in family.features}
    return family.ways(attempt.sizes, used_sizes(family, there))


def distinct(family: Family, enough: int = LEAST_VARIANTS) -> int:
    """How many different parts the seeds give, counted one by one up to ``enough``.

    The printed sizes fix the part and the part its sizes (that is proved of each problem), so that parts are counted, which
    takes a hundredth of the time.
    """
    found: set[tuple[Feature, ...]] = set()
    for seed in range(SEEDS_COUNTED * enough):
        try:
            found.add(family.sample(seed).features)
        except BankError:
            continue
        if len(found) == enough:
            break
    return len(found)


def rule_shares(family: Family, attempts: Sequence[Attempt]) -> tuple[RuleShare, ...]:
    """Every rule, and every range that came out empty, with the share of choices it speaks against, in the order of the file."""
    whole: Counter[tuple[int, str]] = Counter()
    alone: Counter[tuple[int, str]] = Counter()
    words = {(rule.line, f"rules[{place}]"): rule.because or rule.formula.text for place, rule in enumerate(family.rules, 1)}
    for attempt in attempts:
        places = [(line, field) for line, field, _ in attempt.broken]
        words |= {(line, field): why for line, field, why in attempt.broken if (line, field) not in words}
        whole.update(places)
        alone.update(places if len(places) == 1 else ())
    return tuple(RuleShare(line, field, why, whole[line, field] / len(attempts), alone[line, field] / len(attempts))
                 for (line, field), why in sorted(words.items()))


def choice_faults(family: Family, kept: float, variants: int, rules: tuple[RuleShare, ...]) -> tuple[list[Fault], list[Fault]]:
    """Faults and notes of sizes and rules."""
    faults, notes = unused_sizes(family), list[Fault]()
    if kept < LEAST_KEPT:
        worst = max(rules, key=lambda rule: (rule.alone, rule.share), default=None)
        where = (worst.line, worst.field) if worst else (0, "rules")
        why = f", most of all here ({100 * worst.share:.0f} %): {worst.why}" if worst else ""
        faults.append(Fault(family.file, *where, f"rules that reject {100 * (1 - kept):.1f} % of all choices of sizes{why}",
                            f"at most {100 * (1 - LEAST_KEPT):.0f} %; draw the ranges of sizes closer to what the rules keep"))
    elif variants < SURELY * LEAST_VARIANTS and (count := distinct(family)) < LEAST_VARIANTS:
        wanted = f"at least {LEAST_VARIANTS}: wider ranges, or one more size"
        found = f"{count} different parts from {SEEDS_COUNTED * LEAST_VARIANTS} seeds"
        faults.append(Fault(family.file, 0, "sizes", found, wanted))
    wanted = "a rule that is needed, or none"
    notes += [Fault(family.file, rule.line, rule.field, f"a rule that rejected nothing: {rule.why}", wanted)
              for rule in rules if rule.field.startswith("rules") and rule.share == 0.0]
    return faults, notes


def used_sizes(family: Family, there: Collection[str]) -> set[str]:
    """The sizes that the features called ``there`` use, straight or through values, and those that choose among features."""
    through = {value.name: value.formula.names for value in family.values}
    todo = [name for spec in family.features if spec.name in there for name in spec.names]
    todo += [name for spec in family.features if spec.when for name in spec.when.names]
    used: set[str] = set()
    while todo:
        name = todo.pop()
        todo += through.get(name, frozenset()) - used
        used.add(name)
    return used


def unused_sizes(family: Family) -> list[Fault]:
    """Sizes that no feature uses: two variants that differ in them only are one part."""
    used = used_sizes(family, {spec.name for spec in family.features})
    wanted = "a feature that uses it, or a formula under values instead"
    return [Fault(family.file, spec.line, f"sizes.{spec.name}", "a size that no feature uses", wanted)
            for spec in family.sizes if spec.name not in used]
