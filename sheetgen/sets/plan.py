"""A plan: a worksheet's course and problems, from a small YAML file that may come from a stranger. Text in, record out."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from sheetgen.bank import Family
from sheetgen.exercises import USUAL
from sheetgen.faults import FaultError, Place, choice, shown, visible_text
from sheetgen.records import Reader
from sheetgen.sets.choosing import Entry, Wish, chosen, narrowed
from sheetgen.sets.entries import entries_of
from sheetgen.sets.plan_file import PlanFile
from sheetgen.shared import shipped
from sheetgen.sheet import TITLE_BLOCK, WORDING, Style
from sheetgen.templating import TitleBlockValues, title_block_names, wording_names
from sheetgen.yamlines import Limits, YamlDocument, read, read_text

IN_BLOCK = {
    "title": "set_title", "school": "school", "course": "course", "teacher": "teacher", "approved_by": "approved_by",
    "group": "group", "date": "date", "status": "status",
}
"""A plan's fields that a title block can show, and as which of its values."""

USUAL_COUNT = 8
"""Problems of a worksheet for who names no number."""


class PlanError(FaultError):
    """A plan that cannot be used; it tells every fault of the file."""


LIMITS = Limits(PlanError, kilobytes=64, deepest=4, most_nodes=5000, words_only=True)


@dataclass(frozen=True, slots=True)
class Plan:
    """A worksheet to be made. ``title``: empty if it has none of its own; ``kind``: of all its exercises; ``place``: where its
    problems stand, if in a file."""

    title: str
    style: Style
    entries: tuple[Entry, ...]
    file: str
    kind: str = USUAL
    place: Place | None = None


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
    return Plan("", Style(), chosen(wish, families), "")


def plan_of(document: YamlDocument, families: Mapping[str, Family], folder: Path) -> Plan:
    """The plan that ``document`` holds; a title block of the teacher's own lies in ``folder``. Raises: PlanError."""
    reader = Reader(document)
    said = reader.model(PlanFile, document.data, ())
    data = document.data if isinstance(document.data, dict) else {}
    lines = data.get("problems")
    entries = entries_of(reader, lines, families) if isinstance(lines, list) else ()
    block = _template(document, "title_block", data.get("title_block", TITLE_BLOCK), folder, title_block_names())
    wording = _template(document, "wording", data.get("wording", WORDING), folder, wording_names())
    if said is None or document.faults:
        raise PlanError(sorted(document.faults, key=lambda fault: fault.line))
    texts = {field: text for field in IN_BLOCK if (text := getattr(said, field))}
    values = TitleBlockValues(**{IN_BLOCK[field]: text for field, text in texts.items()})
    places = {field: Place(document.file, document.line((field,)), field) for field in (*texts, "problems")}
    style = Style(
        title_block=block, wording=wording, projection=said.projection, side=said.side, paper=said.paper, figures=said.figures,
        arrows=said.arrows, values=values, places={IN_BLOCK[field]: places[field] for field in texts},
    )
    return Plan(said.title, style, entries, document.file, said.kind, places["problems"])


def _template(document: YamlDocument, field: str, value: object, folder: Path, known: Sequence[str]) -> str | Path:
    """One of the ``known`` that come with sheetgen, or a file beside the plan; a path to elsewhere is refused."""
    if isinstance(value, str) and value in known:
        return value
    if isinstance(value, str) and re.fullmatch(r"[A-Za-z0-9][A-Za-z0-9_-]{0,39}\.yaml", value):
        path = folder / value
        if path.is_file() and path.resolve().parent == folder.resolve():
            return path
    wanted = choice(str(value), known) + ", or the name of a .yaml file beside the plan"
    document.fault(document.line((field,)), field, shown(value), wanted)
    return known[0]
