"""Which problems a worksheet has: from a plan, or from the wish of the command line; and telling them without drawing."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from sheetgen.cli.common import file_or_name
from sheetgen.cli.options import Places
from sheetgen.cli.telling import say

if TYPE_CHECKING:
    from sheetgen.bank import Outline
    from sheetgen.faults import Fault
    from sheetgen.sets import Beside, Plan

DEMONSTRATION = "templates/plans/demonstration.yaml"


def fitting(
    outlines: Mapping[str, Outline], topics: Sequence[str], rungs: Sequence[int], faults: Sequence[Fault]
) -> list[Outline]:
    """The families that fit, the easiest first; ``faults``: of other files, told if none does. Raises: ChoiceError."""
    from sheetgen.choosing import ChoiceError, narrowed

    try:
        names = narrowed(outlines.values(), topics, rungs)
    except ChoiceError as error:
        raise ChoiceError([*faults, *error.faults]) from None
    return sorted((outlines[name] for name in names), key=lambda outline: (outline.rung, outline.name))


def beside(kind: str | None, look: Mapping[str, str | None], quiet: bool) -> Beside:
    """What the command line says beside a plan, by which families are chosen too."""
    from sheetgen.cli.serving import told_to_wait
    from sheetgen.sets import Beside

    return Beside(kind or "", _said(look), told_to_wait(quiet))


def _said(look: Mapping[str, str | None]) -> dict[str, Any]:
    return {name: value for name, value in look.items() if value is not None}


def plan_asked(plan: Path | None, places: Places, wish: Mapping[str, Any], week: int | None, said: Beside) -> Plan:
    """The plan of that file; else what the ``wish`` comes to; else the demonstration. Raises: FaultError."""
    from sheetgen.sets import demonstration, load_plan, wished

    bank = places.bank()
    if not any(wish.values()):
        if plan:
            return load_plan(plan, bank, week=week, said=said)
        return load_plan(demonstration(), bank, DEMONSTRATION, week, said)
    if plan:
        raise click.UsageError("either a plan, or --topic, --rung, --count and --first-seed")
    if week is not None:
        raise click.UsageError("--week needs a plan with a term: the choice depends on the term's name")
    return wished(bank, **wish, said=said)


def with_look(plan: Plan, kind: str | None, wording: str | None, look: Mapping[str, str | None]) -> Plan:
    """The plan with what the command line says of kind, words and look in place of its own; lines that name a kind keep it."""
    said = _said(look)
    if "title_block" in said:
        said["title_block"] = file_or_name(said["title_block"])
    if wording:
        said["wording"] = file_or_name(wording)
    return replace(plan, kind=kind or plan.kind, style=replace(plan.style, **said))


def tell_plan(plan: Plan) -> None:
    """Print which problems a plan comes to, and by what one sees that its wishes or the bank have changed."""
    from sheetgen.bank import outlines
    from sheetgen.cli.tables import problems_table

    known = outlines(plan.problems.bank, dict.fromkeys(entry.family for entry in plan.entries))
    problems_table(((entry.family, entry.seed, known[entry.family]) for entry in plan.entries), plan.kinds)
    count = f"{len(plan.entries)} problem{'s' if len(plan.entries) != 1 else ''}"
    of = f" of week {plan.term.week} (of {plan.term.weeks}), {plan.term.name}" if plan.term else ""
    say(f"{count}{of}; nothing has been drawn.")
    if plan.problems.wishes:
        digests = f"Wishes {plan.problems.wishes}, bank {plan.problems.families}"
        say(f"{digests}: as long as both stay the same, so does the choice.")
