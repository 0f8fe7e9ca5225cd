"""The check bar."""

import numpy as np
import pytest

from sheetgen.ink import Stroke, Text, text_width
from sheetgen.sheet import PAPERS
from sheetgen.sheet.checkbar import LENGTH, check_bar_marks, check_bar_on
from sheetgen.templating import load_wording
from tests.extent import bounds


@pytest.mark.parametrize("direction", ["across", "up"])
def test_the_check_bar_is_100_mm_long_from_tick_to_tick(direction):
    bar, first, *_, last, _ = check_bar_marks((30.0, 15.0), direction)
    assert float(np.abs(bar.points[1] - bar.points[0]).sum()) == 100.0
    assert first.points[0].tolist() == bar.points[0].tolist()
    assert last.points[0].tolist() == bar.points[1].tolist()


def test_the_ticks_count_the_tens():
    ticks = [mark for mark in check_bar_marks((0.0, 0.0), "across")[1:] if isinstance(mark, Stroke)]
    assert [tick.points[0, 0] for tick in ticks] == list(range(0, 101, 10))


@pytest.mark.parametrize("name", PAPERS)
def test_the_bar_lies_in_the_filing_border_clear_of_frame_and_paper_edge(name):
    paper = PAPERS[name]
    left, bottom, right, top = bounds(check_bar_on(paper))
    assert left > 5 and right < paper.x0 - 5 - 0.7
    assert bottom > 5 and top < paper.height - 5


def test_the_words_on_the_bar_are_shorter_than_the_bar():
    words = next(mark for mark in check_bar_on(PAPERS["A3"]) if isinstance(mark, Text))
    assert words.text == load_wording().render("check_bar")
    assert text_width(words.text, words.height) < LENGTH - 10
