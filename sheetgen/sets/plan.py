"""A plan: a worksheet's course and problems, from a small YAML file that may come from a stranger. Text in, record out."""

from __future__ import annotations

import re
from collections.abc import Collection, Sequence
from dataclasses import dataclass
from pathlib import Path

from sheetgen.bank import Bank, outlines
from sheetgen.choosing import Entry, Wish, chosen, narrowed
from sheetgen.exercises import USUAL, Role
from sheetgen.faults import Fault, FaultError, Place, choice, shown, visible_text
from sheetgen.filekinds import check_kind, read_kind
from sheetgen.records import Reader
from sheetgen.sets.classes.students import ClassWishes
from sheetgen.sets.entries import ProblemReader, Problems
from sheetgen.sets.marks import MarkingWishes
from sheetgen.sets.plan_banks import with_banks
from sheetgen.sets.plan_file import PlanFile
from sheetgen.sets.terms import USUAL_WEEKS, Term, bank_digest, wishes_digest
from sheetgen.shared import shipped
from sheetgen.sheet import TITLE_BLOCK, WORDING, Style
from sheetgen.templating import TitleBlockValues, beside, marking_names, not_beside, title_block_names, wording_names
from sheetgen.templating.crest import SUFFIXES
from sheetgen.yamlines import SUFFIXES as YAML_SUFFIXES
from sheetgen.yamlines import Limits, YamlDocument

IN_BLOCK = {
    "title": "set_title", "school": "school", "course": "course", "teacher": "teacher", "approved_by": "approved_by",
    "class": "group", "date": "date", "status": "status",
}
"""A plan's fields that a title block can show, and as which of its values."""

LIST_NAME, LIST_SUFFIXES = re.compile(r"[A-Za-z0-9][A-Za-z0-9 ._-]{0,79}"), (".csv", ".tsv", ".txt")
"""What class lists are called, in more letters than our own files, because schools export them."""

USUAL_COUNT = 8
"""Problems of a worksheet for who names no number."""


class PlanError(FaultError):
    """A plan that cannot be used; it tells every fault of the file."""


LIMITS = Limits(PlanError, kilobytes=64, deepest=8, most_nodes=5000, words_only=True)


NO_CLASS = ClassWishes()
"""Of who names none."""

NO_MARKING = MarkingWishes()
"""Of who says nothing of marks."""


@dataclass(frozen=True, slots=True)
class Plan:
    """A worksheet to be made. ``title``: empty if it has none of its own; ``problems``: families and seeds, and the bank
    that they are of; ``kind``: of all its exercises; ``place``: where its problems stand, if in a file; ``term``: if it is for a
    week of one; ``people``: who gets it, and how it is bound; ``marking``: what its problems are worth, and what its marker gets;
    ``remarks``: what had better be changed in the file."""

    title: str
    style: Style
    problems: Problems
    file: str
    kind: str = USUAL
    place: Place | None = None
    term: Term | None = None
    people: ClassWishes = NO_CLASS
    marking: MarkingWishes = NO_MARKING
    remarks: tuple[Fault, ...] = ()

    @property
    def entries(self) -> tuple[Entry, ...]:
        """Family and seed of each problem, in the order of the sheets."""
        return self.problems.entries


def demonstration() -> Path:
    """The plan that comes with sheetgen: eight problems of an invented school."""
    return shipped("templates") / "plans" / "demonstration.yaml"


def load_plan(path: Path, bank: Bank, shown_as: str = "", week: int | None = None) -> Plan:
    """Read a plan whose problems are of ``bank``, or of families beside it; messages call it ``shown_as``. ``week``: of its term.

    Raises: PlanError with every fault of the file; BankError if it wishes for a topic or a rung and a family cannot be read.
    """
    file = shown_as or visible_text(path.as_posix(), quote=False)
    return plan_of(read_kind(path, file, "plan", LIMITS), bank, path.parent, week)


def wished(bank: Bank, topics: Sequence[str], rungs: Sequence[int], count: int | None, first_seed: int | None) -> Plan:
    """The plan of who writes none: ``count`` problems of the families that fit, in the usual look.

    Raises: ChoiceError if none fits; BankError if a family cannot be read.
    """
    families = outlines(bank)
    narrowed(families.values(), topics, rungs)
    wish = Wish(tuple(topics), tuple(rungs), USUAL_COUNT if count is None else count, 1 if first_seed is None else first_seed)
    digests = wishes_digest([wish]), bank_digest([wish], families)
    return Plan("", Style(), Problems(chosen(wish, families), bank, *digests), "")


def plan_of(document: YamlDocument, bank: Bank, folder: Path, week: int | None = None) -> Plan:
    """The plan that ``document`` holds; families and templates of the teacher's own lie in ``folder``. Raises: PlanError."""
    check_kind(document, "plan", LIMITS)
    reader = Reader(document)
    said = reader.model(PlanFile, document.data, ())
    data = document.data if isinstance(document.data, dict) else {}
    term = _term(document, said, week) if said else None
    lines = data.get("problems")
    bank = with_banks(reader, data, bank, folder)
    problems = ProblemReader(reader, bank, folder, term).problems(lines if isinstance(lines, list) else [])
    block = _template(document, "title_block", data.get("title_block", TITLE_BLOCK), folder, title_block_names())
    wording = _template(document, "wording", data.get("wording", WORDING), folder, wording_names())
    crest = _crest(document, data["crest"], folder) if data.get("crest", "") != "" else None
    people = _people(document, said, folder) if said else NO_CLASS
    marking = _marking(document, said, folder) if said else NO_MARKING
    if said is None or document.faults:
        raise PlanError(sorted(document.faults, key=lambda fault: fault.line))
    texts = {field: text for field, text in said.model_dump(by_alias=True).items() if field in IN_BLOCK and text}
    values = TitleBlockValues(**{IN_BLOCK[field]: text for field, text in texts.items()})
    document.remark_cut(lambda path: len(path) == 1 and path[0] in (*IN_BLOCK, "term"))
    places = {field: Place(document.file, document.line((field,)), field) for field in (*texts, "crest", "problems", "term")}
    in_block = {IN_BLOCK[field]: places[field] for field in texts}
    if term:
        in_block.setdefault("set_title", places["term"])           # the week stands there
    style = Style(
        title_block=block, wording=wording, projection=said.projection, side=said.side, paper=said.paper, figures=said.figures,
        arrows=said.arrows, values=values, crest=crest,
        places={**in_block, **({"crest": places["crest"]} if crest else {})}, week=term.week if term else None,
    )
    return Plan(said.title, style, problems, document.file, said.kind, places["problems"], term, people, marking,
                tuple(document.remarks))


def _term(document: YamlDocument, said: PlanFile, week: int | None) -> Term | None:
    """The term that a plan is for, in the week that is asked for."""
    weeks = said.weeks or USUAL_WEEKS
    if not said.term:
        if said.weeks or week is not None:
            found = "weeks without a term" if said.weeks else f"no term, and week {week} asked for"
            document.fault(document.line(("weeks",)), "term", found, "a term's name, such as `term: Autumn 2031`")
        return None
    if week is None or not 1 <= week <= weeks:
        found = "no week asked for" if week is None else f"week {week} asked for"
        more = "" if week is None else "; a longer term says so, `weeks: N`"
        document.fault(document.line(("term",)), "term", found, f"--week N, from 1 to {weeks}{more}")
        return Term(said.term, weeks, 1)
    return Term(said.term, weeks, week)


def _people(document: YamlDocument, said: PlanFile, folder: Path) -> ClassWishes:
    """What a plan says of its class."""
    path = beside(folder, said.class_list, LIST_SUFFIXES, LIST_NAME) if isinstance(said.class_list, str) else None
    if said.class_list is not None and path is None:
        _not_there(document, "class_list", said.class_list, folder, "the name of a .csv file beside the plan", LIST_SUFFIXES)
    shown_list = visible_text(str(said.class_list), quote=False) if path else ""
    return ClassWishes(
        path, shown_list, said.encoding, said.columns, said.problems_for == "each", said.order, said.books,
        said.doubtful_names == "refuse", said.double_sided == "yes", said.answer_key == "yes")


def _marking(document: YamlDocument, said: PlanFile, folder: Path) -> MarkingWishes:
    """What a plan says of marks, and of what is made for who gives them."""
    scheme = None if said.scheme is None else _template(document, "scheme", said.scheme, folder, marking_names())
    asked = {Role.MARKING: said.marking, Role.OVERLAY: said.overlay}
    return MarkingWishes(said.marks, scheme, tuple(role for role, word in asked.items() if word == "yes"))


def _template(document: YamlDocument, field: str, value: object, folder: Path, known: Sequence[str]) -> str | Path:
    """One of the ``known`` that come with sheetgen, or a file beside the plan; a path to elsewhere is refused."""
    if isinstance(value, str) and value in known:
        return value
    if isinstance(value, str) and (path := beside(folder, value)):
        return path
    _not_there(document, field, value, folder, choice(str(value), known) + ", or the name of a .yaml file beside the plan")
    return known[0]


def _crest(document: YamlDocument, value: object, folder: Path) -> Path | None:
    """The file of a crest beside the plan."""
    path = beside(folder, value, SUFFIXES) if isinstance(value, str) else None
    if path is None:
        _not_there(document, "crest", value, folder, "the name of an .svg or .png file beside the plan", SUFFIXES)
    return path


def _not_there(
    document: YamlDocument, field: str, value: object, folder: Path, wanted: str, suffixes: Collection[str] = YAML_SUFFIXES
) -> None:
    """Note that a file which a plan names does not lie beside it."""
    told = not_beside(folder, value, wanted, suffixes) if isinstance(value, str) else (shown(value), wanted)
    document.fault(document.line((field,)), field, *told)
