"""The scale that is asked for: full size only where it fits, and the sheet says which, on every paper."""

from __future__ import annotations

import pytest

from sheetgen.bank import load_bank
from sheetgen.exercises import USUAL, Role, kinds, sheets_of
from sheetgen.ink import Text
from sheetgen.problem import problem_of
from sheetgen.refusals import RefusedError
from sheetgen.sheet import Style, settings_of
from sheetgen.sheet.layout import SCALES, layouts, views_asked
from sheetgen.sheet.titleblock_ink import titleblock_box

BANK = load_bank()
CASES = [*((family, "A4") for family in ("stepped-block", "slotted-wedge", "flanged-foot", "bearing-support", "bored-tee")),
         ("flanged-foot", "11x17"), ("stepped-block", "A3")]


def printed(page):
    return [mark.text for mark in page.marks if isinstance(mark, Text)]


def first_that_can_be_printed(family, settings, kind):
    for seed in range(1, 12):
        problem = problem_of(BANK[family].sample(seed))
        try:
            return problem, sheets_of(problem, settings, (Role.QUESTION, Role.ANSWER, Role.BLANK), kind)
        except RefusedError:
            continue
    raise AssertionError(family)


@pytest.mark.parametrize(("family", "paper"), CASES)
@pytest.mark.parametrize("kind", [name for name, kind in kinds().items() if kind.of_every])
def test_the_scale_stands_on_every_sheet_and_is_full_size_only_where_the_views_fit(family, paper, kind):
    settings = settings_of(Style(paper=paper, title_block="quarry"))
    problem, sheets = first_that_can_be_printed(family, settings, kind)
    names = [name for name, _ in SCALES]
    [scale] = {text for pages in sheets.values() for page in pages for text in printed(page) if text in names}
    block = titleblock_box(settings.block, settings.paper)
    largest = layouts(settings.paper, problem.solid.size, "first", views_asked("left"), block)[0].scale_name
    assert names.index(scale) >= names.index(largest)
    if kind == USUAL:
        asked = " ".join(printed(sheets[Role.QUESTION][0]))
        assert ("Draw full size" in asked) is (scale == "1:1")
        assert (f"Draw to a scale of {scale}" in asked) is (scale != "1:1")


def test_on_a4_most_parts_are_asked_for_at_half_size():
    settings = settings_of(Style(paper="A4", title_block="quarry"))
    block = titleblock_box(settings.block, settings.paper)
    sizes = [problem_of(BANK[family].sample(1)).solid.size for family in list(BANK)[::4]]
    scales = [layouts(settings.paper, size, "first", views_asked("left"), block)[0].scale_name for size in sizes]
    assert scales.count("1:2") > len(scales) / 2
