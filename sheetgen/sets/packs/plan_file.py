"""The shape of a pack plan's file, for pydantic: the grammar of a worksheet's plan without its class, its term and its marks.
Only ``plan.py`` imports this."""

from __future__ import annotations

from typing import Annotated, Any, ClassVar

from annotated_types import Len
from pydantic import PlainValidator

from sheetgen.exercises import USUAL
from sheetgen.faults import shown
from sheetgen.filekinds import BEGUN_BY
from sheetgen.ink import missing_glyphs
from sheetgen.records import wrong
from sheetgen.sets.plan_file import MOST_PROBLEMS, LookFile, kind_said

MOST_ABOUT = 300
"""Characters of what a pack says of itself: a few sentences."""


def _about(value: Any) -> str:
    """A few sentences."""
    if not isinstance(value, str):
        raise wrong("a text")
    if len(value) > MOST_ABOUT:
        raise wrong(f"at most {MOST_ABOUT}", f"{len(value)} characters")
    if missing := missing_glyphs(value):
        raise wrong("letters that the sheet's lettering has", f"the sign {shown(missing[:5])}")
    return " ".join(value.split())


class PackFile(LookFile):
    """The file of a pack's plan; its problems are looked at one by one."""

    about: Annotated[str, PlainValidator(_about)] = ""
    kind: Annotated[str, PlainValidator(kind_said)] = USUAL
    problems: Annotated[list[Any], Len(1, MOST_PROBLEMS)]

    wanted: ClassVar = {"": f"fields such as title, about and problems; {BEGUN_BY['plan']}",
                        "problems": f"a list of at most {MOST_PROBLEMS} problems, each as `- {{topic: …, count: …}}`"}
