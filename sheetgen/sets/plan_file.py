"""The shape of a plan's file, for pydantic: which fields there are and what may stand in them. Only readers of plans
import this."""

from __future__ import annotations

from typing import Annotated, Any, ClassVar

from annotated_types import Len
from pydantic import Field, PlainValidator

from sheetgen.bank import MOST_SEED
from sheetgen.choosing import RUNGS
from sheetgen.exercises import USUAL, kinds
from sheetgen.faults import choice, shown
from sheetgen.filekinds import BEGUN_BY
from sheetgen.ink import missing_glyphs
from sheetgen.records import Strict, in_any_case, number_of, one_of, whole, wrong
from sheetgen.sets.classes.students import BOOKS, COLUMNS, DOUBTS, ENCODINGS, FOR_WHOM, ORDERS
from sheetgen.sets.terms import MOST_WEEKS
from sheetgen.sheet import ARROWS, DRAWN, FIGURES, MISSING, PAPER_NAMES, PROJECTIONS, SIDES, TITLE_BLOCK, WORDING, paper_name
from sheetgen.templating.marking import MARKS_WANTED, are_marks

MOST_TEXT = 80
"""Characters of a text for the title block."""

MOST_PROBLEMS = 500
"""Of one worksheet; a year's work for a class has fewer."""

MOST_WORDS = 20
"""Topics, or rungs, of one wish."""

EXAMPLES = "`family: …`, `family: …, seed: …`, `topic: …, count: …` or `rung: …, count: …`"


def _lettered(value: Any) -> str:
    """A text that can be lettered."""
    if not isinstance(value, str):
        raise wrong("a text")
    if len(value) > MOST_TEXT:
        raise wrong(f"at most {MOST_TEXT}", f"{len(value)} characters")
    if missing := missing_glyphs(value):
        raise wrong("letters that the sheet's lettering has", f"the sign {shown(missing[:5])}")
    return " ".join(value.split())


def words_said(what: str) -> Any:
    """A validator: one word or a list of words."""
    def check(value: Any) -> tuple[str, ...]:
        words = value if isinstance(value, list) else [value]
        if not words or len(words) > MOST_WORDS or not all(isinstance(word, str) for word in words):
            raise wrong(f"a {what}, or a list of up to {MOST_WORDS}")
        return tuple(words)
    return PlainValidator(check)


def rungs_said(value: Any) -> tuple[int, ...]:
    """A rung or a list of rungs."""
    words = value if isinstance(value, list) else [value]
    if not words or len(words) > MOST_WORDS or not all(isinstance(word, str) for word in words):
        raise wrong(f"a rung, or a list of up to {MOST_WORDS}")
    for word in words:
        if word not in map(str, RUNGS):
            raise wrong("1 (easiest) to 5, or a list of these", shown(word))
    return tuple(map(int, words))


def kind_said(value: Any) -> str:
    """The name of a kind of exercise."""
    return one_of(tuple(kinds()))(value)


def any_word(value: Any) -> Any:
    """Whatever stands there: it is looked at elsewhere."""
    return value


def _marks(value: Any) -> float:
    found = number_of(value)
    if found is None or not are_marks(found):
        raise wrong(MARKS_WANTED)
    return found


def columns_said(value: Any) -> dict[str, str]:
    """Headings of a class list, by what they hold."""
    if not isinstance(value, dict) or not value:
        raise wrong(f"fields {', '.join(COLUMNS)}, each with a heading of the list")
    for what, heading in value.items():
        if what not in COLUMNS:
            raise wrong(choice(str(what), COLUMNS), f"an unknown column {shown(what)}")
        if not isinstance(heading, str) or not heading.strip():
            raise wrong("a heading of the list", shown(heading), what)
    return dict(value)


Text = Annotated[str, PlainValidator(_lettered)]
Yes = Annotated[Any, PlainValidator(in_any_case(("no", "yes")))]


def _banks(value: Any) -> tuple[str, ...]:
    """Folders of families."""
    names = value if isinstance(value, list) else [value]
    if not names or len(names) > MOST_WORDS or not all(isinstance(name, str) and name for name in names):
        raise wrong(f"a folder of families beside the plan, or a list of up to {MOST_WORDS}")
    return tuple(names)


class LookFile(Strict):
    """What plans of all sorts say of how their sheets look."""

    title: Text = ""
    school: Text = ""
    course: Text = ""
    teacher: Text = ""
    approved_by: Text = ""
    class_: Text = Field("", alias="class")
    date: Text = ""
    status: Text = ""
    title_block: Annotated[Any, PlainValidator(any_word)] = TITLE_BLOCK
    wording: Annotated[Any, PlainValidator(any_word)] = WORDING
    crest: Annotated[Any, PlainValidator(any_word)] = ""
    banks: Annotated[tuple[str, ...], PlainValidator(_banks)] = ()
    projection: Annotated[Any, PlainValidator(in_any_case(PROJECTIONS))] = PROJECTIONS[0]
    side: Annotated[Any, PlainValidator(in_any_case(SIDES))] = SIDES[0]
    paper: Annotated[str, PlainValidator(in_any_case(PAPER_NAMES, paper_name))] = PAPER_NAMES[0]
    figures: Annotated[Any, PlainValidator(in_any_case(FIGURES))] = FIGURES[0]
    arrows: Annotated[Any, PlainValidator(in_any_case(ARROWS))] = ARROWS[0]
    missing: Annotated[Any, PlainValidator(in_any_case(MISSING))] = ""
    any_: Yes = Field("no", alias="any")
    pictorial: Yes = "no"
    drawn: Annotated[Any, PlainValidator(in_any_case(DRAWN))] = DRAWN[0]
    grid: Yes = "no"
    whole: Yes = "no"

    renamed: ClassVar = {"group": "class, the word that stands on the sheet"}


class PlanFile(LookFile):
    """The file of a plan; its problems are looked at one by one."""

    kind: Annotated[str, PlainValidator(kind_said)] = USUAL
    term: Text = ""
    weeks: Annotated[int | None, PlainValidator(whole(1, MOST_WEEKS))] = None
    class_list: Annotated[Any, PlainValidator(any_word)] = None
    encoding: Annotated[Any, PlainValidator(in_any_case(ENCODINGS))] = ENCODINGS[0]
    columns: Annotated[dict[str, str], PlainValidator(columns_said)] = Field(default_factory=dict)
    doubtful_names: Annotated[Any, PlainValidator(in_any_case(DOUBTS))] = DOUBTS[0]
    problems_for: Annotated[Any, PlainValidator(in_any_case(FOR_WHOM))] = FOR_WHOM[0]
    order: Annotated[Any, PlainValidator(in_any_case(ORDERS))] = ORDERS[0]
    books: Annotated[Any, PlainValidator(in_any_case(BOOKS))] = None
    marks: Annotated[float | None, PlainValidator(_marks)] = None
    scheme: Annotated[Any, PlainValidator(any_word)] = None
    marking: Yes = "no"
    overlay: Yes = "no"
    hints: Yes = "no"
    construction: Yes = "no"
    projectors: Yes = "no"
    double_sided: Yes = "no"
    answer_key: Yes = "no"
    problems: Annotated[list[Any], Len(1, MOST_PROBLEMS)]

    wanted: ClassVar = {"": f"fields such as title, school and problems; {BEGUN_BY['plan']}",
                        "problems": f"a list of at most {MOST_PROBLEMS} problems, each as `- {{family: …, seed: …}}`"}


class ProblemLine(Strict):
    """One line of the problems. What is left out is None."""

    family: Annotated[Any, PlainValidator(any_word)] = None
    topic: Annotated[tuple[str, ...], words_said("topic")] = ()
    rung: Annotated[tuple[int, ...], PlainValidator(rungs_said)] = ()
    seed: Annotated[int | None, PlainValidator(whole(0, MOST_SEED))] = None
    count: Annotated[int | None, PlainValidator(whole(1, MOST_PROBLEMS))] = None
    first_seed: Annotated[int | None, PlainValidator(whole(0, MOST_SEED))] = None
    kind: Annotated[str, PlainValidator(kind_said)] = ""

    wanted: ClassVar = {"": EXAMPLES}
