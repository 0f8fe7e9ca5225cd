"""What the title blocks of an exercise will have to hold, tried before anything is drawn."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from functools import cache

from sheetgen.bank import Family
from sheetgen.exercises.cells import cells_of, places_of
from sheetgen.exercises.coding import possible_codes
from sheetgen.exercises.kinds import kinds
from sheetgen.exercises.making import USUAL
from sheetgen.exercises.roles import ASKED, TITLED, Particulars, Role
from sheetgen.faults import Fault, Place
from sheetgen.ink import text_width
from sheetgen.sheet import Settings
from sheetgen.sheet.layout import SCALES
from sheetgen.sheet.titleblock_ink import coded_marks, filled_marks
from sheetgen.templating import TemplateError

HEIGHT = 2.5
"""mm of the lettering in which texts are compared; which is widest is the same in all."""


def block_faults(
    family: Family, seed: int, settings: Settings, roles: Sequence[Role] = ASKED, kind: str = USUAL,
    particulars: Particulars | None = None, places: Mapping[str, Place] | None = None,
) -> Iterator[Fault]:
    """What the title blocks of an exercise's sheets cannot hold, whichever draw and scale it comes to: with the widest of each.

    ``places``: where the values that the wording and the course do not give, by name, are said.
    """
    said = particulars or Particulars()
    if not said.code:
        said = replace(said, code=max(possible_codes(family.name, seed, kinds()[kind].mark), key=_width))
    for role in dict.fromkeys((*ASKED, *(role for role in roles if role in TITLED))):
        try:
            values = cells_of(family, settings, role, _widest_scale(), said)
            where = {**places_of(settings, role), **(places or {})}
            filled_marks(settings.block, values, (0.0, 0.0), where)
            coded_marks(settings.block, values.number, (0.0, 0.0), where)
        except TemplateError as error:
            yield from error.faults


@cache
def _widest_scale() -> str:
    return max((name for name, _ in SCALES), key=_width)


def _width(text: str) -> float:
    return text_width(text, HEIGHT)
