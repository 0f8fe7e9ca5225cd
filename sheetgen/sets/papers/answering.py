"""The answer of one code of a paper, from the key and the record alone: the drawing of that sheet, and of no other."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from sheetgen.bank import Bank, Form
from sheetgen.codes import sealed_read
from sheetgen.codes.faults import wrong_code
from sheetgen.exercises import Particulars, Role, kinds
from sheetgen.ink import Document
from sheetgen.problem import problem_of
from sheetgen.refusals import RefusedError
from sheetgen.sets.documents import document_of_one
from sheetgen.sets.papers.assigning import form_of
from sheetgen.sets.papers.cells import Numberer, item_settings
from sheetgen.sets.papers.decided import code_of, seed_of
from sheetgen.sets.papers.lots import masked, shape_digest
from sheetgen.sets.papers.record import Record, form_said
from sheetgen.sets.papers.records import Candidate, Item, PaperPlan, Room, Seat
from sheetgen.sets.papers.secret import Key
from sheetgen.sheet import Settings, Style
from sheetgen.sheet.paper import PAPERS
from sheetgen.templating import TitleBlockValues, Wording
from sheetgen.templating.files import LIMITS
from sheetgen.templating.phrases import phrase
from sheetgen.templating.texts import PHRASES
from sheetgen.templating.titleblock_file import title_block_of
from sheetgen.yamlines import read


@dataclass(frozen=True, slots=True)
class Found:
    """Whose item a code is of: ``item`` from 0; ``spare``: 0 if of none; ``index``: of the lot."""

    candidate: Candidate
    item: int
    form: Form
    index: int
    spare: int


def found_by(code: str, key: Key, record: Record) -> Found:
    """Whose a printed ``code`` is. Raises: CodeError if it is mistyped, or of nobody in this record."""
    for one in _all(record):
        item = record.said["items"][one.item]
        shape = record.said["families"][str(one.form)]
        if code == code_of(key, record.paper, one.item + 1, item["kind"], str(one.form), shape, one.index, one.candidate.number,
                           one.spare):
            return one
    count = len(record.given)
    raise wrong_code(f"{code}, rightly typed, of none of the {count} candidates of this record",
                     "the key and the record that were made with the sheet")


def answer_of(text: str, key: Key, record: Record, bank: Bank) -> tuple[str, Document]:
    """The code as it is printed, and its answer as a document.

    Raises: CodeError if it is mistyped, or of nobody, or if its family has changed since; BankError for a family at fault;
    TemplateError for what a title block cannot hold.
    """
    code = sealed_read(text)
    found = found_by(code, key, record)
    plan, own = _plan_of(record), _settings_of(record)
    item = plan.items[found.item]
    settings = item_settings(own, plan, item)
    if found.form.family not in bank:
        raise wrong_code(f"{code}, of a family that is not here, {found.form.family}", "--bank with its folder or file")
    family = found.form.of(bank[found.form.family])
    if shape_digest(family) != record.said["families"][str(found.form)]:
        raise wrong_code(f"{code}, of the family {found.form.family}, which has been changed since",
                         "the bank as it was when the paper was printed; the answer of today's would be of another block")
    seed = seed_of(key, record.paper, item.number, str(found.form), found.index, found.candidate.number, found.spare)
    shown = masked(family, plan.title, own.wording.render("paper.item", item=item.number))
    cells = Numberer(plan, settings, plan.file).cells([found.candidate])[found.candidate.number]
    said = cells.on(Particulars(code, item.number, len(plan.items)))
    try:
        problem = problem_of(shown.sample(seed))
        problem.check()
        sheets = kinds()[item.kind].sheets(problem, settings, said, [Role.ANSWER])
    except RefusedError as error:
        raise wrong_code(f"{code}, which cannot be drawn by this sheetgen: {error}",
                         f"sheetgen {record.said['sheetgen']}, of which the sheet was made") from None
    return code, document_of_one(sheets[Role.ANSWER], Role.ANSWER, plan.title, code, (), settings, record.said["mark"])


def _all(record: Record) -> list[Found]:
    """Everybody's items, spares last."""
    by_number = {one["number"]: _candidate(one, place) for place, one in enumerate(record.said["candidates"], 1)}
    found: list[Found] = []
    everything = [(number, 0, lots) for number, lots in record.given.items()]
    everything += [(number, spare, lots) for (number, spare), lots in record.spares.items()]
    for number, spare, lots in everything:
        for item, index in enumerate(lots):
            said, candidate = record.said["items"][item], by_number[number]
            form = form_said(said, form_of(candidate.seat, len(said["families"])))
            found.append(Found(candidate, item, form, index, spare))
    return found


def _candidate(said: Mapping[str, Any], place: int) -> Candidate:
    return Candidate(said["number"], Seat(said["room"], said["row"], said["column"]), place)


def _plan_of(record: Record) -> PaperPlan:
    """As much of the plan as one answer needs; candidates have no names, because the record has none."""
    said = record.said
    items = tuple(Item(one["number"], tuple(one["families"]), one["marks"], one["kind"], one["minutes"]) for one in said["items"])
    rooms = tuple(Room(one["name"], one["rows"], one["columns"], frozenset((row, column) for row, column in one["gaps"]))
                  for one in said["rooms"])
    return PaperPlan(said["title"], Style(), items, rooms, (), file="the record")


def _settings_of(record: Record) -> Settings:
    """The look of the paper, as the record has it; a crest is left out."""
    said, look = record.said, record.said["look"]
    words = {name: phrase(source, PHRASES[name]) for name, source in said["wording"].items() if name in PHRASES}
    if missing := sorted(PHRASES.keys() - words.keys()):
        raise wrong_code(f"a record whose wording lacks {', '.join(missing[:3])}",
                         f"sheetgen {said['sheetgen']}, of which the sheet was made")
    return Settings(
        block=title_block_of(read(said["title_block"], "the record's title block", LIMITS), "record", None),
        wording=Wording("the record's wording", words, dict.fromkeys(words, 0)),
        values=TitleBlockValues(**said["values"]), projection=look["projection"], side=look["side"],
        paper=PAPERS[look["paper"]], upright=look["figures"] == "upright", each_arrow=look["arrows"] == "each",
        missing=look.get("missing", ""), any_answer=look.get("any", False), pictorial=look.get("pictorial", False),
        drawn=look.get("drawn", "isometric"), grid=look.get("grid", False),
        whole=look.get("whole", False),
    )
