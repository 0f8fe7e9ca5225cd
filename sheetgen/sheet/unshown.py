"""What a course says of itself and its title block shows nowhere: a teacher who wrote it should know."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import TYPE_CHECKING

from sheetgen.faults import Fault, shown
from sheetgen.templating.phrases import PhraseError
from sheetgen.templating.titleblock import VALUE_NAMES, Cell

if TYPE_CHECKING:
    from sheetgen.sheet.settings import Settings

OF_A_COURSE = ("school", "course", "set_title", "teacher", "approved_by", "group", "date", "status")
"""Values that a course gives itself."""

MAY_BE_BLANK = ("student", "student_number", "seat")
"""Values that no plan gives, and that some sheets lack; all others that no plan gives are on every sheet."""


def unshown(settings: Settings) -> Iterator[Fault]:
    """A remark, at its place, for each value of the course that has one and stands in no cell, whatever else the sheets say."""
    said = {**settings.values.by_name(), "set_title": settings.set_title}
    full = {**dict.fromkeys(VALUE_NAMES, "x"), **{name: said[name] for name in OF_A_COURSE}}
    for name in (name for name in OF_A_COURSE if said[name] and name in settings.places):
        cells = [cell for cell in settings.block.cells if cell.text and name in cell.text.names]
        if not any(_shows(cell, name, {**full, **dict.fromkeys(MAY_BE_BLANK, blank)}) for cell in cells for blank in ("x", "")):
            found = f"{shown(said[name])}, which no cell of {settings.block.file} shows"
            yield Fault(*settings.places[name], found, f'a title block with a cell for it, text: "{{{{ {name} }}}}"')


def _shows(cell: Cell, name: str, values: Mapping[str, object]) -> bool:
    """Whether what a cell says hangs on a value."""
    assert cell.text is not None
    try:
        return cell.text.render(values) != cell.text.render({**values, name: ""})
    except PhraseError:
        return True                                        # told where the sheets are tried
