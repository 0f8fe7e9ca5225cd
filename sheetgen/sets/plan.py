"""A plan: a worksheet's course and problems, from a small YAML file that may come from a stranger. Text in, record out."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any, cast

from sheetgen.bank import Family
from sheetgen.faults import FaultError, choice, shown, visible_text
from sheetgen.ink import missing_glyphs
from sheetgen.sets.choosing import Entry, Wish, chosen, narrowed
from sheetgen.sets.entries import check_keys, entries_of
from sheetgen.shared import shipped
from sheetgen.sheet import FIGURES, PAPER_NAMES, PROJECTIONS, SIDES, TITLE_BLOCK, Figures, Projection, SideView, Style
from sheetgen.templating import TitleBlockValues, title_block_names
from sheetgen.yamlines import Document, Limits, read, read_text

MOST_TEXT = 80
"""Characters of a text for the title block."""

USUAL_COUNT = 8
"""Problems of a worksheet for who names no number."""

TEXTS = ("school", "course", "teacher", "group", "date")
"""What a plan may say for the title block."""
CHOICES = {"projection": PROJECTIONS, "side": SIDES, "paper": PAPER_NAMES, "figures": FIGURES}
"""Choices, the first of each for who makes none."""
FIELDS = ("title", *TEXTS, "title_block", *CHOICES, "problems")


class PlanError(FaultError):
    """A plan that cannot be used; it tells every fault of the file."""


LIMITS = Limits(PlanError, kilobytes=64, deepest=4, most_nodes=5000, words_only=True)


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


def load_plan(path: Path, families: Mapping[str, Family], shown_as: str = "") -> Plan:
    """Read a plan whose problems are of ``families``; messages call it ``shown_as``.

    Raises: PlanError with every fault of the file; BankError if it wishes for a topic or a rung and a family cannot be read.
    """
    file = shown_as or visible_text(path.as_posix(), quote=False)
    return plan_of(read(read_text(path, file, LIMITS), file, LIMITS), families, path.parent)


def wished(
    families: Mapping[str, Family], topics: Sequence[str], rungs: Sequence[int], count: int | None, first_seed: int | None
) -> Plan:
    """The plan of who writes none: ``count`` problems of the families that fit, in the usual look.

    Raises: ChoiceError if none fits; BankError if a family cannot be read.
    """
    narrowed(list(families.values()), topics, rungs)
    wish = Wish(tuple(topics), tuple(rungs), USUAL_COUNT if count is None else count, 1 if first_seed is None else first_seed)
    return Plan(f"Worksheet: {wish.words}" if wish.words else "Worksheet", Style(), chosen(wish, families), "")


def plan_of(document: Document, families: Mapping[str, Family], folder: Path) -> Plan:
    """The plan that ``document`` holds; a title block of the teacher's own lies in ``folder``. Raises: PlanError."""
    data = document.data if isinstance(document.data, dict) else {}
    if not data:
        document.fault(1, "", shown(document.data), "the fields " + ", ".join(FIELDS))
    check_keys(document, data, (), FIELDS)
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
        entries=entries_of(document, data.get("problems"), families),
        file=document.file,
    )
    if document.faults:
        raise PlanError(sorted(document.faults, key=lambda fault: fault.line))
    return plan


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
