"""What the commands of the bank print: tables for people, JSON for programs."""

from __future__ import annotations

import json
from collections.abc import Iterable, Sequence
from typing import Any

from rich import box
from rich.console import Console
from rich.table import Table
from rich.text import Text

from sheetgen.bank import Family
from sheetgen.cli.telling import printing, say
from sheetgen.faults import visible_text
from sheetgen.vetting import Report, attempts_of, kept_and_variants

LOOKED_AT = 200
"""Choices of sizes from which a list estimates the number of variants: few, because a list is to come at once."""

FILE_WIDTH = 200
"""Columns of a table that goes to a file, which has no edge to wrap at."""


def families_json(families: Iterable[Family]) -> None:
    """Print the families as JSON."""
    rows = [{"name": family.name, "title": family.title, "rung": family.rung, "topics": list(family.topics),
             "sizes": list(family.size_names), "variants": _variants(family)} for family in families]
    _print_json(rows)


def families_table(families: Iterable[Family]) -> None:
    """Print the families as a table."""
    table = _table(("Family", "Title", "Rung", "Topics", "Variants"), numbers=("Rung", "Variants"))
    for family in families:
        _add(table, family.name, family.title, str(family.rung), ", ".join(family.topics), short(_variants(family)))
    _print(table)


def _variants(family: Family) -> int:
    return kept_and_variants(family, attempts_of(family, LOOKED_AT))[1]


def reports_json(reports: Iterable[Report]) -> None:
    """Print what vetting found as JSON."""
    _print_json([report.as_json() for report in reports])


def reports_table(reports: Sequence[Report]) -> None:
    """Print what vetting found: a line for each family, then the faults, the notes, and how many families are clean."""
    headings = ("Family", "Rung", "Index", "Variants", "Kept", "Wall", "Face", "Lines", "Views", "Refused", "Faults")
    table = _table(headings, numbers=headings[1:])
    for report in reports:
        least = {what: f"{found.value:.1f}" for what, found in (report.least or {}).items()}
        views = "/".join(f"{count:g}" for count in (report.adds or {}).values())
        _add(table, report.name, str(report.rung or "-"), f"{report.index:.1f}", short(report.variants),
             f"{100 * report.kept:.0f} %", *(least.get(what, "-") for what in ("wall", "face", "lines")), views or "-",
             f"{100 * report.refused:.0f} %" if report.solids else "-", str(len(report.faults) or "-"))
    _print(table)
    for report in reports:
        for reason, count in report.reasons:
            say(f"refused: {report.name}: {count} of {report.solids}: {visible_text(reason, quote=False)}")
    for report in reports:
        for each in report.alternatives:
            say(f"taken: {report.name}: {each.times} of {each.of}: {visible_text(each.text, quote=False)}")
    for kind in ("note", "fault"):
        for report in reports:
            for fault in report.notes if kind == "note" else report.faults:
                say(f"{kind}: {fault}")
    clean = sum(report.clean for report in reports)
    say(f"{len(reports)} famil{'ies' if len(reports) != 1 else 'y'} vetted, {clean} clean")


def short(count: int) -> str:
    """A number of variants in few signs.

    >>> short(950), short(9400), short(310_000), short(18_000_000_000)
    ('950', '9400', '310 k', '18 G')
    """
    for unit, name in ((10**9, " G"), (10**6, " M"), (10**4, " k")):
        if count >= unit:
            return f"{count / (1000 if name == ' k' else unit):.0f}{name}"
    return str(count)


def _table(headings: Sequence[str], numbers: Sequence[str]) -> Table:
    table = Table(box=box.SIMPLE_HEAD, pad_edge=False)
    for heading in headings:
        table.add_column(heading, justify="right" if heading in numbers else "left", overflow="fold",
                         no_wrap=heading == headings[0])
    return table


def _add(table: Table, *cells: str) -> None:
    table.add_row(*(Text(visible_text(cell, quote=False)) for cell in cells))


def _print(table: Table) -> None:
    console = Console(highlight=False)
    if not console.is_terminal:
        console = Console(highlight=False, width=FILE_WIDTH)
    with printing():
        console.print(table)


def _print_json(data: Any) -> None:
    say(json.dumps(data, indent=2, ensure_ascii=False))
