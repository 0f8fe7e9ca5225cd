"""What the commands of the bank print: tables for people, JSON for programs."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping, Sequence
from typing import TYPE_CHECKING, Any

from rich import box
from rich.console import Console
from rich.table import Table
from rich.text import Text

from sheetgen.cli.telling import printing, say
from sheetgen.faults import visible_text

if TYPE_CHECKING:                                  # a list of families is to come at once
    from sheetgen.bank import Outline
    from sheetgen.exercises import Served
    from sheetgen.vetting import Report

MILLION = 1_000_000

FILE_WIDTH = 200
"""Columns of a table that goes to a file, which has no edge to wrap at."""


def families_json(outlines: Iterable[Outline], served: Mapping[str, Sequence[Served]] | None = None) -> None:
    """Print the families as JSON; with which kinds they serve, if that is given."""
    rows = [{"name": outline.name, "title": outline.title, "rung": outline.rung, "topics": list(outline.topics),
             "sizes": list(outline.sizes), "variants": outline.variants, "file": outline.file,
             **({"kinds": _kinds_json(served.get(outline.name, ()))} if served is not None else {})} for outline in outlines]
    _print_json(rows)


def _kinds_json(served: Iterable[Served]) -> dict[str, Any]:
    return {one.kind: {"share": one.share, "served": one.served, "looked": one.looked, "reason": one.reason} for one in served}


def families_table(outlines: Iterable[Outline]) -> None:
    """Print the families as a table."""
    from sheetgen.bank.load import SHIPPED

    outlines = list(outlines)
    own = any(outline.home != SHIPPED for outline in outlines)          # where all are shipped, that need not be told
    headings = ("Family", "Title", "Rung", "Topics", "Variants", *(("From",) if own else ()))
    table = _table(headings, numbers=("Rung", "Variants"))
    for outline in outlines:
        cells = (outline.name, outline.title, str(outline.rung), ", ".join(outline.topics), in_words(outline.variants),
                 f"{outline.home}/")
        _add(table, *cells[:len(headings)])
    _print(table)


def problems_table(rows: Iterable[tuple[str, int, Outline]], asked: Sequence[str]) -> None:
    """Print problems as a table: of each its family, its seed and what is known of the family; and its kind, if not all are
    ``asked`` in one."""
    kinds = [[kind] for kind in asked] if len(set(asked)) > 1 else [[] for _ in asked]
    more = ("Kind",) if any(kinds) else ()
    table = _table(("No.", "Family", "Seed", *more, "Rung", "Title", "Topics"), numbers=("No.", "Seed", "Rung"))
    for number, ((family, seed, outline), kind) in enumerate(zip(rows, kinds, strict=True), 1):
        _add(table, str(number), family, str(seed), *kind, str(outline.rung), outline.title, ", ".join(outline.topics))
    _print(table)


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
        _add(table, report.name, str(report.rung or "-"), f"{report.index:.1f}", in_words(report.variants),
             f"{100 * report.kept:.0f} %", *(least.get(what, "-") for what in ("wall", "face", "lines")), views or "-",
             f"{100 * report.refused:.0f} %" if report.solids else "-", str(len(report.faults) or "-"))
    _print(table)
    for report in reports:
        for reason, count in report.reasons:
            say(f"refused: {report.name}: {count} of {report.solids}: {visible_text(reason, quote=False)}")
    for report in reports:
        for each in report.alternatives:
            say(f"taken: {report.name}: {each.times} of {each.of}: {visible_text(each.text, quote=False)}")
    for report in reports:
        if report.served:
            say(f"serves: {report.name}: {served_words(report.served)}")
    for kind in ("note", "fault"):
        for report in reports:
            for fault in report.notes if kind == "note" else report.faults:
                say(f"{kind}: {fault}")
    clean = sum(report.clean for report in reports)
    say(f"{len(reports)} famil{'ies' if len(reports) != 1 else 'y'} vetted, {clean} clean")


def served_words(served: Iterable[Served]) -> str:
    """Which kinds a family serves, and in which of its variants only.

    >>> from sheetgen.exercises import Served
    >>> served_words([Served("faces", 5, 8, "too few"), Served("match", 2, 2), Served("third-view", 0, 5, "not certain")])
    'faces (5 of 8: too few), match; not third-view (not certain)'
    """
    some = [one.kind if one.share == "all" else f"{one.kind} ({one.served} of {one.looked}: {one.reason})"
            for one in served if not one.never]
    never = [f"{one.kind} ({one.reason})" for one in served if one.never]
    return visible_text("; ".join([", ".join(some) or "none", *(f"not {each}" for each in never)]), quote=False)


def in_words(count: int) -> str:
    """A number of variants for people: none asks whether there are 40 or 41 thousand million.

    >>> in_words(950), in_words(9400), in_words(310_000), in_words(1_000_000), in_words(18_000_000)
    ('950', '9 400', '310 000', '1 million', 'over 1 million')
    """
    if count < MILLION:
        return f"{count:,}".replace(",", " ")
    return "1 million" if count == MILLION else "over 1 million"


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
