"""A plan: a worksheet's course and problems, from a small YAML file that may come from a stranger. Text in, record out."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from sheetgen.bank import Bank, outlines
from sheetgen.choosing import ChoiceError, Entry, Wish, chosen, narrowed
from sheetgen.exercises import USUAL, Role, Serving
from sheetgen.faults import Fault, FaultError, Place, visible_text
from sheetgen.filekinds import check_kind, read_kind
from sheetgen.records import Reader
from sheetgen.sets.classes.students import ClassWishes
from sheetgen.sets.entries import ProblemReader, Problems
from sheetgen.sets.families import Asked, Beside, serving_of
from sheetgen.sets.look import IN_BLOCK, list_said, style_said, template_said
from sheetgen.sets.marks import MarkingWishes
from sheetgen.sets.plan_banks import with_banks
from sheetgen.sets.plan_file import PlanFile
from sheetgen.sets.terms import USUAL_WEEKS, Term, bank_digest, wishes_digest
from sheetgen.shared import shipped
from sheetgen.sheet import Style
from sheetgen.templating import marking_names
from sheetgen.yamlines import Limits, YamlDocument

USUAL_COUNT = 8
"""Problems of a worksheet for who names no number."""


class PlanError(FaultError):
    """A plan that cannot be used; it tells every fault of the file."""


LIMITS = Limits(PlanError, kilobytes=160, deepest=8, most_nodes=5000, words_only=True)


NO_CLASS = ClassWishes()
"""Of who names none."""

NOTHING_BESIDE = Beside()
"""Of who says all in the plan."""

NO_MARKING = MarkingWishes()
"""Of who says nothing of marks."""


@dataclass(frozen=True, slots=True)
class Plan:
    """A worksheet to be made. ``title``: empty if it has none of its own; ``problems``: families and seeds, and the bank
    that they are of; ``kind``: of its exercises, where their lines name none; ``place``: where its problems stand, if in a file;
    ``term``: if it is for a week of one; ``people``: who gets it, and how it is bound; ``marking``: what its problems are worth,
    and what its marker gets; ``helps``: which of FOR_STUDENTS are made; ``remarks``: what had better be changed in the file."""

    title: str
    style: Style
    problems: Problems
    file: str
    kind: str = USUAL
    place: Place | None = None
    term: Term | None = None
    people: ClassWishes = NO_CLASS
    marking: MarkingWishes = NO_MARKING
    helps: tuple[Role, ...] = ()
    remarks: tuple[Fault, ...] = ()

    @property
    def entries(self) -> tuple[Entry, ...]:
        """Family and seed of each problem, in the order of the sheets."""
        return self.problems.entries

    @property
    def kinds(self) -> tuple[str, ...]:
        """The kind in which each problem is asked."""
        return tuple(entry.kind or self.kind for entry in self.entries)


def demonstration() -> Path:
    """The plan that comes with sheetgen: eight problems of an invented school."""
    return shipped("templates") / "plans" / "demonstration.yaml"


def load_plan(
    path: Path, bank: Bank, shown_as: str = "", week: int | None = None, said: Beside = NOTHING_BESIDE
) -> Plan:
    """Read a plan whose problems are of ``bank``, or of families beside it; messages call it ``shown_as``. ``week``: of its term;
    ``said``: beside the plan, of which here only families are chosen by.

    Raises: PlanError with every fault of the file, and where a family does not serve the kind it is asked in; BankError if it
    wishes for a topic or a rung, or asks in a kind that not every family serves, and a family cannot be read.
    """
    file = shown_as or visible_text(path.as_posix(), quote=False)
    return plan_of(read_kind(path, file, "plan", LIMITS), bank, path.parent, week, said)


def wished(
    bank: Bank, topics: Sequence[str], rungs: Sequence[int], count: int | None, first_seed: int | None,
    said: Beside = NOTHING_BESIDE,
) -> Plan:
    """The plan of who writes none: ``count`` problems of the families that fit and serve what is ``said`` of kind and look; the
    plan itself is of the usual kind, in the usual look.

    Raises: ChoiceError if there is none; BankError if a family cannot be read.
    """
    families = outlines(bank)
    wish = Wish(tuple(topics), tuple(rungs), USUAL_COUNT if count is None else count, 1 if first_seed is None else first_seed)
    asked, fitting = Asked.of(USUAL, None, said), narrowed(families.values(), topics, rungs)
    serving = Serving(bank, families, asked.style, asked.told)
    able, told = serving_of(serving, bank, fitting, asked.kind, wish.words or "any family")
    if told:
        raise ChoiceError([Fault("the bank", 0, "", *told)])
    wish = replace(wish, among=able)
    digests = wishes_digest([wish]), bank_digest([wish], families)
    return Plan("", Style(), Problems(chosen(wish, families), bank, *digests), "")


def plan_of(
    document: YamlDocument, bank: Bank, folder: Path, week: int | None = None, beside: Beside = NOTHING_BESIDE
) -> Plan:
    """The plan that ``document`` holds; families and templates of the teacher's own lie in ``folder``. Raises: as ``load_plan``.
    """
    check_kind(document, "plan", LIMITS)
    reader = Reader(document)
    said = reader.model(PlanFile, document.data, ())
    data = document.data if isinstance(document.data, dict) else {}
    term = _term(document, said, week) if said else None
    lines = data.get("problems")
    bank = with_banks(reader, data, bank, folder)
    style = style_said(document, said, folder)
    asked = Asked.of(said.kind if said else USUAL, style, beside)
    problems = ProblemReader(reader, bank, folder, term, asked).problems(lines if isinstance(lines, list) else [])
    people = _people(document, said, folder) if said else NO_CLASS
    marking = _marking(document, said, folder) if said else NO_MARKING
    if said is None or style is None or document.faults:
        raise PlanError(sorted(document.faults, key=lambda fault: fault.line))
    document.remark_cut(lambda path: len(path) == 1 and path[0] in (*IN_BLOCK, "term"))
    if term:                                                        # the week stands where the set's title does
        said_at = Place(document.file, document.line(("term",)), "term")
        style = replace(style, week=term.week, places={"set_title": said_at, **style.places})
    place = Place(document.file, document.line(("problems",)), "problems")
    return Plan(said.title, style, problems, document.file, said.kind, place, term, people, marking, _helps(said),
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
    path = list_said(document, said.class_list, folder)
    shown_list = visible_text(str(said.class_list), quote=False) if path else ""
    return ClassWishes(
        path, shown_list, said.encoding, said.columns, said.problems_for == "each", said.order, said.books,
        said.doubtful_names == "refuse", said.double_sided == "yes", said.answer_key == "yes")


def _helps(said: PlanFile) -> tuple[Role, ...]:
    """The sheets for students that a plan asks for beside the others."""
    return tuple(role for role, word in {
        Role.HINTS: said.hints, Role.CONSTRUCTION: said.construction, Role.PROJECTORS: said.projectors}.items() if word == "yes")


def _marking(document: YamlDocument, said: PlanFile, folder: Path) -> MarkingWishes:
    """What a plan says of marks, and of what is made for who gives them."""
    scheme = None if said.scheme is None else template_said(document, "scheme", said.scheme, folder, marking_names())
    asked = {Role.MARKING: said.marking, Role.OVERLAY: said.overlay}
    return MarkingWishes(said.marks, scheme, tuple(role for role, word in asked.items() if word == "yes"))
