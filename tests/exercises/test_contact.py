"""Contact sheets: every family in its place, legible, nothing in another's way."""

from __future__ import annotations

from dataclasses import replace

import pytest
import shapely

from sheetgen.exercises.contact import COLUMNS, PAPER, ROWS, contact_sheets, portrait_of
from sheetgen.ink import Pen, Stroke, Text, flattened, text_box, width_of
from tests import samples
from tests.parts import ENGLISH


@pytest.fixture(scope="module")
def step(tmp_path_factory):
    """A small family, which stands here for many."""
    return samples.family_of(tmp_path_factory.mktemp("bank") / "bank", samples.STEP)


@pytest.fixture(scope="module")
def portraits(step):
    """A full page of rung 1 and one family more, one of rung 3, and a name and topics as long as they may be."""
    portrait = portrait_of(step)
    names = [f"step-{number:02}" for number in range(COLUMNS * ROWS)]
    longest = replace(step, name="w" * 40, title="W" * 60, topics=("wide words that wrap",) * 8)
    families = [replace(step, name="a-hard-one", rung=3), longest, *(replace(step, name=name) for name in names)]
    return [replace(portrait, family=family) for family in families]


@pytest.fixture(scope="module")
def document(portraits):
    return contact_sheets(portraits, ENGLISH)


def texts(page):
    return [mark for mark in page.marks if isinstance(mark, Text)]


def test_families_stand_by_rung_and_name_whatever_order_they_come_in(portraits, document):
    again = contact_sheets(portraits[::-1], ENGLISH)
    words = [[text.text for text in texts(page)] for page in document.pages]
    assert words == [[text.text for text in texts(page)] for page in again.pages]
    assert words[0].index("step-03") < words[0].index("step-04")


def test_a_rung_begins_a_page_and_goes_on_over_as_many_as_it_needs(document):
    headings = [next(text.text for text in texts(page) if text.height == 5.0) for page in document.pages]
    assert [heading.split(":")[0] for heading in headings] == [f"Problem bank, rung {rung}" for rung in (1, 1, 3)]
    assert [page for _, page in document.outline] == [0, 1, 2]


def test_name_title_rung_and_topics_stand_under_each_pictorial(document):
    words = [text.text for text in texts(document.pages[2])]
    assert all(said in words for said in ("a-hard-one", "Plain step", "Rung 3: steps"))


def test_outlines_of_small_pictorials_are_thinner_by_one_step_of_the_series(document):
    assert width_of(Pen.SMALL) == 0.35
    drawn = [mark for mark in document.pages[2].marks if isinstance(mark, Stroke) and mark.pen is Pen.SMALL]
    assert len(drawn) > 8


def test_lettering_of_families_is_never_smaller_than_2_5_mm(document):
    for page in document.pages:
        heights = {text.height for text in texts(page) if text.along == (1.0, 0.0)}
        assert min(heights) >= 2.5


def test_no_text_touches_another_or_a_pictorial_and_all_stays_on_the_paper(document):
    paper = shapely.box(0, 0, PAPER.width, PAPER.height)
    for page in document.pages:
        words = [shapely.Polygon(text_box(text, 0.3)) for text in texts(page)]
        lines = [shapely.LineString(flattened(mark, 0.05)) for mark in page.marks if isinstance(mark, Stroke)]
        tree = shapely.STRtree([*words, *lines])
        for number, word in enumerate(words):
            assert tree.query(word, predicate="intersects").tolist() == [number]
            assert word.within(paper)


def test_a_family_that_cannot_be_drawn_keeps_its_place_and_says_so(tmp_path):
    family = samples.family_of(tmp_path / "bank", samples.TWO_PIECES)
    words = [text.text for text in texts(contact_sheets([portrait_of(family)], ENGLISH).pages[0])]
    assert "step" in words and "This family cannot be drawn. Vet it." in words
