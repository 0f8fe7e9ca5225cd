"""Exercises put aside come back as they were, to the last bit, and nothing that is not whole comes back."""

from __future__ import annotations

import pickle

import numpy as np
import pytest

from sheetgen.exercises import Role
from sheetgen.ink import Face, Fill, MadePages, Page, Pen, Stroke, Text, page_of_text, page_text
from sheetgen.sets import Made, Shelf

MARKS = (
    Stroke(np.array([[0.1 + 0.2, 1 / 3], [-0.0, 2.5e-17]]), Pen.HIDDEN, True, False, True, False, (3.0, 1.5), 0.1),
    Fill(np.array([[0.0, 0.0], [1.0, 2.0], [3.0, 1.0]]), 0.25),
    Text("⌀20 “H7” \n", (1.1, 2.2), 3.5, (0.6, 0.8), (-0.8, 0.6), "middle", Face.NARROW),
)


def same(one, other):
    """Whether two pages are the same in every bit."""
    plain = [[page.width, page.height, *(type(mark).__name__ for mark in page.marks),
              *(value.tobytes() if isinstance(value, np.ndarray) else value
                for mark in page.marks for value in (getattr(mark, name) for name in mark.__dataclass_fields__))]
             for page in (one, other)]
    return plain[0] == plain[1]


def test_a_page_comes_back_as_it_was():
    page = Page(420.0, 297.0, MARKS)
    assert same(page_of_text(page_text(page)), page)


@pytest.mark.parametrize("text", ["", "[]", "null", "[1, 2]", "[1, 2, [[]]]", '[1, 2, [["fill"]]]', "[" * 5000,
                                  '[1, 2, [["stroke", [[0, 0]], "no pen", false, false, false, false, [], 0]]]'])
def test_a_text_that_is_no_page_is_refused(text):
    with pytest.raises(ValueError, match=r".*"):
        page_of_text(text)


def made(number):
    return Made(f"step-{number}", "Plain step", ("steps",), {
        Role.QUESTION: (Page(100.0 + number, 50.0, MARKS),), Role.ANSWER: (Page(200.0 + number, 50.0, ()), Page(1.0, 2.0, MARKS)),
    }, number)


def test_exercises_come_back_by_number_and_their_sheets_in_order(tmp_path):
    kept = {number: Shelf(tmp_path).put(number, made(number)) for number in (1, 2, 3)}
    shelf = Shelf(tmp_path)                                # another process
    assert {number: shelf.get(number) for number in (1, 2, 3)} == kept and shelf.get(4) is None
    assert (kept[2].code, kept[2].title, kept[2].topics, kept[2].refused) == ("step-2", "Plain step", ("steps",), 2)
    for number in kept:
        pages = shelf.sheets(number, Role.ANSWER)
        assert [page.width for page in pages] == [200.0 + number, 1.0] and same(pages[1], Page(1.0, 2.0, MARKS))


def test_pages_that_are_made_when_they_are_asked_for_are_a_sequence():
    asked = []
    pages = MadePages(6, lambda number: asked.append(number) or Page(200.0 + number, 1.0, ()))
    assert len(pages) == 6 and asked == []
    assert pages[4].width == 204.0 and pages[-1].width == 205.0 and asked == [4, 5]
    assert [page.width for page in pages[1:3]] == [201.0, 202.0]
    assert [page.width for page in pages] == [200.0 + k for k in range(6)]
    with pytest.raises(IndexError):
        pages[6]


@pytest.mark.parametrize("breaks", [
    lambda folder: (folder / "1.made").write_bytes(b""), lambda folder: (folder / "1.made").write_bytes(b"[]"),
    lambda folder: (folder / "1.made").write_bytes(pickle.dumps("a")), lambda folder: (folder / "1.made").unlink(),
    lambda folder: (folder / "1-answer.pages").unlink(), lambda folder: (folder / "1-question.pages").write_bytes(b"half"),
])
def test_what_is_not_whole_is_not_there(tmp_path, breaks):
    shelf = Shelf(tmp_path)
    shelf.put(1, made(1))
    breaks(tmp_path)
    assert shelf.get(1) is None
    shelf.put(1, made(1))
    assert shelf.get(1).code == "step-1"
