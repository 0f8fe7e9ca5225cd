"""A plan: a worksheet's course and problems, from a small YAML file that may come from a stranger. Text in, record out."""

from __future__ import annotations

import re
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any, cast

from sheetgen.faults import FaultError, choice, shown, visible_text
from sheetgen.ink import missing_glyphs
from sheetgen.sets.style import FIGURES, PAPER_NAMES, PROJECTIONS, SIDES, TITLE_BLOCK, Figures, Style
from sheetgen.shared import shipped
from sheetgen.sheet import Projection, SideView, TitleBlockValues, title_block_names
from sheetgen.yamlines import Document, Limits, Path_, field_of, read, read_text

MOST_PROBLEMS = 500
"""Of one worksheet; a year's work for a class has fewer."""

MOST_SEED = 999_999_999
"""A seed stands on the sheet as part of its code."""

MOST_TEXT = 80
"""Characters of a text for the title block."""

TEXTS = ("school", "course", "teacher", "group", "date")
"""What a plan may say for the title block."""
CHOICES = {"projection": PROJECTIONS, "side": SIDES, "paper": PAPER_NAMES, "figures": FIGURES}
"""Choices, the first of each for who makes none."""
FIELDS = ("title", *TEXTS, "title_block", *CHOICES, "problems")
PROBLEM_FIELDS = ("family", "seed", "count", "first_seed")


class PlanError(FaultError):
    """A plan that cannot be used; it tells every fault of the file."""


LIMITS = Limits(PlanError, kilobytes=64, deepest=4, most_nodes=5000, words_only=True)


@dataclass(frozen=True, slots=True)
class Entry:
    """One problem of a plan."""

    family: str
    seed: int


@dataclass(frozen=True, slots=True)
class Plan:
    """A worksheet to be made."""

    title: str
    style: Style
    entries: tuple[Entry, ...]
    file: str


def demonstration() -> Path:
    """The plan that comes with sheetgen: eight problems of an invented school."""
    return shipped("templates") / "plans" / "demonstration.yaml"


def load_plan(path: Path, families: Collection[str], shown_as: str = "") -> Plan:
    """Read a plan whose problems are of ``families``; messages call it ``shown_as``.

    Raises: PlanError with every fault of the file.
    """
    file = shown_as or visible_text(path.as_posix(), quote=False)
    return plan_of(read(read_text(path, file, LIMITS), file, LIMITS), families, path.parent)


def plan_of(document: Document, families: Collection[str], folder: Path) -> Plan:
    """The plan that ``document`` holds; a title block of the teacher's own lies in ``folder``. Raises: PlanError."""
    data = document.data if isinstance(document.data, dict) else {}
    if not data:
        document.fault(1, "", shown(document.data), "the fields " + ", ".join(FIELDS))
    _check_keys(document, data, (), FIELDS)
    said = {key: _text(document, data, key) for key in TEXTS}
    chosen = {key: _choice(document, data, key, allowed) for key, allowed in CHOICES.items()}
    plan = Plan(
        title=_text(document, data, "title") or "Worksheet",
        style=Style(
            title_block=_title_block(document, data, folder),
            projection=cast(Projection, chosen["projection"]),
            side=cast(SideView, chosen["side"]),
            paper=chosen["paper"],
            figures=cast(Figures, chosen["figures"]),
            values=TitleBlockValues(
                school=said["school"], course=said["course"], teacher=said["teacher"], group=said["group"], date=said["date"]),
        ),
        entries=_entries(document, data, families),
        file=document.file,
    )
    if document.faults:
        raise PlanError(sorted(document.faults, key=lambda fault: fault.line))
    return plan


def _check_keys(document: Document, data: Mapping[str, Any], path: Path_, known: Sequence[str]) -> None:
    for key in data:
        if key not in known:
            document.fault(document.line((*path, key)), field_of((*path, key)), "an unknown field", choice(key, known))


def _text(document: Document, data: Mapping[str, Any], key: str) -> str:
    """A text that can be lettered; empty if there is none."""
    value = data.get(key, "")
    if not isinstance(value, str):
        document.fault(document.line((key,)), key, shown(value), "a text")
        return ""
    if len(value) > MOST_TEXT:
        document.fault(document.line((key,)), key, f"{len(value)} characters", f"at most {MOST_TEXT}")
        return ""
    if missing := missing_glyphs(value):
        document.fault(document.line((key,)), key, f"the sign {shown(missing[:5])}", "letters that the sheet's lettering has")
        return ""
    return " ".join(value.split())


def _choice(document: Document, data: Mapping[str, Any], key: str, allowed: Sequence[str]) -> str:
    """One of a few words; the first of them if there is none."""
    value = data.get(key, allowed[0])
    if value not in allowed:
        document.fault(document.line((key,)), key, shown(value), choice(str(value), allowed))
        return allowed[0]
    return str(value)


def _title_block(document: Document, data: Mapping[str, Any], folder: Path) -> str | Path:
    """One that comes with sheetgen, or a file beside the plan; a path to elsewhere is refused."""
    value = data.get("title_block", TITLE_BLOCK)
    if isinstance(value, str) and value in title_block_names():
        return value
    if isinstance(value, str) and re.fullmatch(r"[A-Za-z0-9][A-Za-z0-9_-]{0,39}\.yaml", value):
        path = folder / value
        if path.is_file() and path.resolve().parent == folder.resolve():
            return path
    wanted = choice(str(value), title_block_names()) + ", or the name of a .yaml file beside the plan"
    document.fault(document.line(("title_block",)), "title_block", shown(value), wanted)
    return TITLE_BLOCK


def _entries(document: Document, data: Mapping[str, Any], families: Collection[str]) -> tuple[Entry, ...]:
    value = data.get("problems")
    if not isinstance(value, list) or not value:
        wanted = "a list of problems, each as `- {family: …, seed: …}`"
        document.fault(document.line(("problems",)), "problems", shown(value), wanted)
        return ()
    entries: dict[Entry, int] = {}
    for place, item in enumerate(value):
        path: Path_ = ("problems", place)
        for entry in _of_one(document, item, path, families):
            if entry in entries:
                found = f"{entry.family} with seed {entry.seed}, which stands in line {entries[entry]} already"
                document.fault(document.line(path), field_of(path), found, "another seed")
            entries.setdefault(entry, document.line(path))
    if len(entries) > MOST_PROBLEMS:
        document.fault(document.line(("problems",)), "problems", f"{len(entries)} problems", f"at most {MOST_PROBLEMS}")
    return tuple(entries)


def _of_one(document: Document, item: object, path: Path_, families: Collection[str]) -> list[Entry]:
    """The problems of one line: one seed, or ``count`` seeds one after another; none if it has a fault."""
    before = len(document.faults)
    if not isinstance(item, dict):
        document.fault(document.line(path), field_of(path), shown(item), "`family: …, seed: …` or `family: …, count: …`")
        return []
    _check_keys(document, item, path, PROBLEM_FIELDS)
    family = item.get("family")
    if family not in families:
        wanted = choice(str(family), families) if families else "a family of the bank"
        document.fault(document.line((*path, "family")), field_of((*path, "family")), shown(family), wanted)
    if "seed" in item and ("count" in item or "first_seed" in item):
        wanted = "either seed, or count and first_seed"
        document.fault(document.line(path), field_of(path), "a seed beside count or first_seed", wanted)
    if "seed" in item:
        first, count = _whole(document, item, path, "seed", 0, MOST_SEED), 1
    else:
        first = _whole(document, item, path, "first_seed", 0, MOST_SEED, default=1)
        count = _whole(document, item, path, "count", 1, MOST_PROBLEMS)
    return [Entry(str(family), seed) for seed in range(first, first + count)] if len(document.faults) == before else []


def _whole(
    document: Document, item: Mapping[str, Any], path: Path_, key: str, least: int, most: int, default: int | None = None
) -> int:
    """A whole number from ``least`` to ``most``."""
    value = item.get(key, default)
    if isinstance(value, int):
        return value
    if isinstance(value, str) and re.fullmatch(r"[0-9]{1,9}", value) and least <= int(value) <= most:
        return int(value)
    wanted = f"a whole number from {least} to {most}"
    found = "no seed and no count" if key == "count" and value is None else shown(value)
    document.fault(document.line((*path, key)), field_of((*path, key)), found, wanted)
    return least
