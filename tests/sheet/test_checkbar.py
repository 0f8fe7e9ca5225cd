"""The check bar."""

import numpy as np
import pytest

from sheetgen.ink import Face, LetteringError, Stroke, Text, text_width
from sheetgen.sheet import PAPERS
from sheetgen.sheet.checkbar import LENGTH, LETTERING, check_bar_marks, check_bar_on
from sheetgen.templating import load_wording
from sheetgen.templating.wording import CHECK_BAR
from tests.extent import bounds

TEXT = load_wording().render("check_bar")


@pytest.mark.parametrize("direction", ["across", "up"])
def test_the_check_bar_is_100_mm_long_from_tick_to_tick(direction):
    bar, first, *_, last, _ = check_bar_marks((30.0, 15.0), direction, TEXT)
    assert float(np.abs(bar.points[1] - bar.points[0]).sum()) == 100.0
    assert first.points[0].tolist() == bar.points[0].tolist()
    assert last.points[0].tolist() == bar.points[1].tolist()


def test_the_ticks_count_the_tens():
    ticks = [mark for mark in check_bar_marks((0.0, 0.0), "across", TEXT)[1:] if isinstance(mark, Stroke)]
    assert [tick.points[0, 0] for tick in ticks] == list(range(0, 101, 10))


@pytest.mark.parametrize("name", PAPERS)
def test_the_bar_lies_in_the_filing_border_clear_of_frame_and_paper_edge(name):
    paper = PAPERS[name]
    left, bottom, right, top = bounds(check_bar_on(paper, TEXT))
    assert left > 5 and right < paper.x0 - 5 - 0.7
    assert bottom > 5 and top < paper.height - 5


def test_the_words_on_the_bar_are_shorter_than_the_bar():
    words = next(mark for mark in check_bar_on(PAPERS["A3"], TEXT) if isinstance(mark, Text))
    assert text_width(words.text, words.height) < LENGTH - 10


def test_a_longer_text_is_set_narrow_and_one_longer_than_the_bar_is_refused():
    # a wording that does not fit is a fault of its file already
    [narrow] = [mark for mark in check_bar_marks((0.0, 0.0), "up", "measure me, " * 7) if isinstance(mark, Text)]
    assert narrow.face is Face.NARROW and CHECK_BAR == (LENGTH, LETTERING)
    with pytest.raises(LetteringError):
        check_bar_marks((0.0, 0.0), "up", "measure me, " * 14)
