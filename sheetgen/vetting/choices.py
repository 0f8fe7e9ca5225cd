"""What can be said of a family before anything is drawn: how many variants it has, which rules reject how much, unused sizes."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from sheetgen.bank import Attempt, BankError, Family
from sheetgen.bank.counting import used_sizes
from sheetgen.bank.features import Feature
from sheetgen.choosing import topic_tree
from sheetgen.faults import Fault, shown
from sheetgen.vetting.report import LEAST_KEPT, LEAST_VARIANTS, RuleShare

SURELY = 100
"""Times as many variants as are wanted: so large an estimate need not be counted."""

SEEDS_COUNTED = 3
"""Seeds looked at for each different part that is wanted: of twice as many parts as are wanted, some come again."""


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


def unused_sizes(family: Family) -> list[Fault]:
    """Sizes that no feature uses: two variants that differ in them only are one part."""
    used = used_sizes(family, {spec.name for spec in family.features})
    wanted = "a feature that uses it, or a formula under values instead"
    return [Fault(family.file, spec.line, f"sizes.{spec.name}", "a size that no feature uses", wanted)
            for spec in family.sizes if spec.name not in used]


def unknown_topics(family: Family) -> list[Fault]:
    """A remark on each topic that stands nowhere in the tree: who asks for a topic that should cover it will not get it."""
    tree = topic_tree()
    return [Fault(family.file, 0, "topics", f"{shown(topic)}, which no other topic covers", tree.wanted_for(topic))
            for topic in family.topics if topic not in tree]
