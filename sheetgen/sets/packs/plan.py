"""A pack's plan: what practice problems it has, and in which look. Text in, record out; the file may come from a stranger."""

from __future__ import annotations

from dataclasses import dataclass, replace
from pathlib import Path

from sheetgen.bank import Bank, outlines
from sheetgen.exercises import USUAL
from sheetgen.faults import Place, visible_text
from sheetgen.filekinds import read_kind
from sheetgen.records import Reader
from sheetgen.sets.entries import ProblemReader
from sheetgen.sets.families import Asked, Beside
from sheetgen.sets.look import IN_BLOCK, style_said
from sheetgen.sets.packs.plan_file import PackFile
from sheetgen.sets.plan import LIMITS, NOTHING_BESIDE, Plan, PlanError
from sheetgen.sets.plan_banks import with_banks
from sheetgen.yamlines import YamlDocument


@dataclass(frozen=True, slots=True)
class PackPlan:
    """A pack to be made: a plan whose problems stand rung by rung; ``about``: what it says of itself; ``rungs``: of each."""

    plan: Plan
    about: str
    rungs: tuple[int, ...]


def load_pack(path: Path, bank: Bank, shown_as: str = "", said: Beside = NOTHING_BESIDE) -> PackPlan:
    """Read a pack's plan, whose problems are of ``bank`` or of families beside it; messages call it ``shown_as``; ``said``: as of
    ``load_plan``.

    Raises: PlanError with every fault of the file; BankError if a family cannot be read.
    """
    file = shown_as or visible_text(path.as_posix(), quote=False)
    return pack_of(read_kind(path, file, "plan", LIMITS), bank, path.parent, said)


def pack_of(document: YamlDocument, bank: Bank, folder: Path, beside: Beside = NOTHING_BESIDE) -> PackPlan:
    """The pack that ``document`` plans; families and templates of the teacher's own lie in ``folder``. Raises: as ``load_pack``.
    """
    reader = Reader(document)
    said = reader.model(PackFile, document.data, ())
    data = document.data if isinstance(document.data, dict) else {}
    lines = data.get("problems")
    bank = with_banks(reader, data, bank, folder)
    style = style_said(document, said, folder)
    asked = Asked.of(said.kind if said else USUAL, style, beside)
    problems = ProblemReader(reader, bank, folder, None, asked).problems(lines if isinstance(lines, list) else [])
    if said is None or style is None or document.faults:
        raise PlanError(sorted(document.faults, key=lambda fault: fault.line))
    document.remark_cut(lambda path: len(path) == 1 and path[0] in (*IN_BLOCK, "about"))
    known = outlines(problems.bank, dict.fromkeys(entry.family for entry in problems.entries))
    entries = tuple(sorted(problems.entries, key=lambda entry: known[entry.family].rung))
    place = Place(document.file, document.line(("problems",)), "problems")
    plan = Plan(said.title, style, replace(problems, entries=entries), document.file, said.kind, place,
                remarks=tuple(document.remarks))
    return PackPlan(plan, said.about, tuple(known[entry.family].rung for entry in entries))
