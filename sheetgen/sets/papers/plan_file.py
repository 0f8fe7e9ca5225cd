"""The shape of a paper plan's file, for pydantic: which fields there are and what may stand in them. Only ``plan.py`` imports
this."""

from __future__ import annotations

import re
from typing import Annotated, Any, ClassVar

from annotated_types import Len
from pydantic import Field, PlainValidator

from sheetgen.exercises import USUAL
from sheetgen.faults import shown
from sheetgen.filekinds import BEGUN_BY
from sheetgen.ink import missing_glyphs
from sheetgen.records import Strict, in_any_case, number, whole, wrong
from sheetgen.sets.classes.students import ENCODINGS
from sheetgen.sets.plan_file import LookFile, Text, Yes, any_word, columns_said, kind_said, rungs_said, words_said

MOST_ITEMS, MOST_ROOMS, MOST_GAPS = 20, 200, 2000
"""Items of a paper, rooms, and gaps of a room; none comes near."""

MOST_ROWS = 100
"""Rows of a room, and columns."""

MOST_CANDIDATES = 10_000
"""Of one paper, as of one class list."""

MOST_LOTS = 5000
"""Lots that candidates share."""

MOST_FORMS = 8
"""Of one item; four versions are enough for neighbours on all sides."""

MOST_INSTRUCTIONS, LONGEST_INSTRUCTION = 20, 300

BOOKS = ("whole", "hundreds", "rooms", "candidates")
"""The words of a plan for what a file holds."""

MARKING_ORDERS = ("candidates", "items")
"""The words of a plan for what stands together in the books of those who mark."""

ITEM_EXAMPLES = "`{family: …, marks: …}` or `{topic: …, rung: …, marks: …}`"

_GAP = re.compile(r"(?:(row|column) )?([1-9][0-9]?[0-9]?)(?:-([1-9][0-9]?[0-9]?))?")

Gap = tuple[int | None, int | None]
"""A row and a column; None for all."""


def _gaps(value: Any) -> tuple[Gap, ...]:
    """Places without seats: 3-4 for row 3 and column 4, or a whole row or column."""
    words = value if isinstance(value, list) else [value]
    if len(words) > MOST_GAPS:
        raise wrong(f"at most {MOST_GAPS}", f"{len(words)} gaps")
    return tuple(map(_gap, words))


def _gap(word: Any) -> Gap:
    found = _GAP.fullmatch(word) if isinstance(word, str) else None
    if found is None or bool(found[1]) == bool(found[3]):
        raise wrong("a row and a column as 3-4, `row 3` or `column 4`, or a list of these", shown(word))
    if found[1]:
        return (int(found[2]), None) if found[1] == "row" else (None, int(found[2]))
    return int(found[2]), int(found[3])


def _instructions(value: Any) -> tuple[str, ...]:
    """Lines for the cover sheet."""
    lines = value if isinstance(value, list) else [value]
    if len(lines) > MOST_INSTRUCTIONS or not all(isinstance(line, str) for line in lines):
        raise wrong(f"a text, or a list of up to {MOST_INSTRUCTIONS}")
    for line in lines:
        if len(line) > LONGEST_INSTRUCTION:
            raise wrong(f"at most {LONGEST_INSTRUCTION}", f"{len(line)} characters in one line")
        if missing := missing_glyphs(line):
            raise wrong("letters that the sheet's lettering has", f"the sign {shown(missing[:5])}")
    return tuple(" ".join(line.split()) for line in lines)


class BoundsFile(Strict):
    """How unequal candidates' problems may be."""

    index: Annotated[float, PlainValidator(number(0.0, 5.0))] = 0.3
    lines: Annotated[int, PlainValidator(whole(0, 50))] = 2
    dimensions: Annotated[int, PlainValidator(whole(0, 20))] = 1


class RoomFile(Strict):
    """A room."""

    name: Text = ""
    rows: Annotated[int, PlainValidator(whole(1, MOST_ROWS))]
    columns: Annotated[int, PlainValidator(whole(1, MOST_ROWS))]
    gaps: Annotated[tuple[Gap, ...], PlainValidator(_gaps)] = ()

    wanted: ClassVar = {"": "`{name: Hall, rows: 6, columns: 5}`", "rows": f"a whole number from 1 to {MOST_ROWS}",
                        "columns": f"a whole number from 1 to {MOST_ROWS}"}


class ItemFile(Strict):
    """An item."""

    family: Annotated[Any, PlainValidator(any_word)] = None
    topic: Annotated[tuple[str, ...], words_said("topic")] = ()
    rung: Annotated[tuple[int, ...], PlainValidator(rungs_said)] = ()
    kind: Annotated[str, PlainValidator(kind_said)] = USUAL
    marks: Annotated[int, PlainValidator(whole(1, 200))]
    minutes: Annotated[int, PlainValidator(whole(1, 600))] = 0
    forms: Annotated[int, PlainValidator(whole(1, MOST_FORMS))] = 1
    pool: Annotated[int, PlainValidator(whole(1, MOST_LOTS))] = 0

    wanted: ClassVar = {"": ITEM_EXAMPLES, "marks": "a whole number from 1 to 200"}


class PaperFile(LookFile):
    """The file of a paper plan; its rooms and items are looked at one by one."""

    board: Text = ""
    series: Text = ""
    names: Yes = "yes"
    minutes: Annotated[int, PlainValidator(whole(1, 600))] = 0
    cover: Yes = "yes"
    instructions: Annotated[tuple[str, ...], PlainValidator(_instructions)] = ()
    rooms: Annotated[list[Any], Len(1, MOST_ROOMS)]
    candidates: Annotated[int | None, PlainValidator(whole(1, MOST_CANDIDATES))] = None
    class_list: Annotated[Any, PlainValidator(any_word)] = None
    encoding: Annotated[Any, PlainValidator(in_any_case(ENCODINGS))] = ENCODINGS[0]
    columns: Annotated[dict[str, str], PlainValidator(columns_said)] = Field(default_factory=dict)
    books: Annotated[Any, PlainValidator(in_any_case(BOOKS))] = None
    double_sided: Yes = "no"
    marking: Yes = "no"
    overlay: Yes = "no"
    marking_order: Annotated[Any, PlainValidator(in_any_case(MARKING_ORDERS))] = None
    scheme: Annotated[Any, PlainValidator(any_word)] = None
    bounds: Annotated[Any, PlainValidator(any_word)] = None
    items: Annotated[list[Any], Len(1, MOST_ITEMS)]

    wanted: ClassVar = {"": f"fields such as title, items and rooms; {BEGUN_BY['paper plan']}",
                        "items": f"a list of 1 to {MOST_ITEMS} items, each {ITEM_EXAMPLES}",
                        "rooms": f"a list of 1 to {MOST_ROOMS} rooms, each as `- {{name: Hall, rows: 6, columns: 5}}`"}
    renamed: ClassVar = {**LookFile.renamed, "problems": "items", "name": "title", "time": "minutes",
                         "students": "candidates, or class_list"}
