"""Overlays of a paper, and the books of those who mark in the order of items."""

from __future__ import annotations

import re
import shutil

import pytest
from pypdf import PdfReader

from sheetgen.exercises import Role, kinds
from tests.sets.papers.mock import CODE, LIST, codes, furnish, pages, paper, printed, streams

SAID = "marking: yes\noverlay: yes\nmarking_order: items\n"
NUMBERS = [line.partition(",")[0] for line in LIST.splitlines()[1:]]
SEATS = ["1-1", "1-2", "1-3", "2-1", "2-3", "3-1"]


@pytest.fixture(scope="module")
def made(tmp_path_factory):
    """A paper with marking sheets and overlays, item by item."""
    return printed(tmp_path_factory, SAID)


def by_item(found, count=1):
    """What stands candidate by candidate, two items each, put in the order of items; of each so many in a row."""
    return [one for item in (0, 1) for one in found[item::2] for _ in range(count)]


def test_each_view_of_each_answer_is_on_a_film_with_scale_code_item_number_and_seat(made):
    films = [" ".join(text.split()) for text in pages(made, "overlays.pdf")]
    assert [CODE.search(film)[0] for film in films] == by_item(codes(made), count=3)
    for n, film in enumerate(films):
        item, one, view = 1 + n // 18, n // 3 % 6, ("FRONT VIEW", "TOP VIEW", "SIDE VIEW FROM THE LEFT")[n % 3]
        assert f"{view}, scale 1:1" in film and f"item {item}, candidate " in film
        assert f"{NUMBERS[one]}, seat {SEATS[one]}" in film and "100 %" in film


def test_films_are_of_the_size_in_which_film_is_sold_and_have_no_title_block(made):
    for page in PdfReader(made / "out" / "overlays.pdf").pages:
        assert [round(float(edge) * 25.4 / 72) for edge in page.mediabox[2:]] == [297, 210]
        assert "EXAMPLEFORD" not in page.extract_text()


def test_marking_sheets_stand_item_by_item_and_all_else_candidate_by_candidate(made):
    assert codes(made, "marking.pdf") == by_item(codes(made)) and codes(made, "answers.pdf") == codes(made)
    for name in ("marking.pdf", "overlays.pdf"):
        reader = PdfReader(made / "out" / name)
        assert [mark["/Title"] for mark in reader.outline] == ["1. Item 1", "2. Item 2"]
        assert [reader.get_destination_page_number(mark) for mark in reader.outline] == [0, len(reader.pages) // 2]


def test_nothing_but_the_drawing_tells_the_family_on_overlays(made):
    reader = PdfReader(made / "out" / "overlays.pdf")
    told = " ".join([*map(str, reader.metadata.values()), *(mark["/Title"] for mark in reader.outline),
                     *pages(made, "overlays.pdf")])
    assert not re.search("step|slot|plain|seed|draw[^i]", told.lower())


def test_questions_and_answers_are_the_same_bytes_and_any_number_of_workers_makes_them(made):
    text = (made / "plan.yaml").read_text(encoding="utf-8")
    (made / "without.yaml").write_text(text.replace(SAID, ""), encoding="utf-8")
    paper(made, plan="without.yaml", out="without")
    for name in ("questions.pdf", "answers.pdf"):
        assert (made / "without" / name).read_bytes() == (made / "out" / name).read_bytes(), name
    paper(made, "--jobs", 1, out="one")
    for path in (made / "out").iterdir():
        assert (made / "one" / path.name).read_bytes() == path.read_bytes(), path.name


def test_one_candidate_and_a_spare_have_their_overlays_too(made):
    shutil.copytree(made / "out", made / "again", dirs_exist_ok=True)
    paper(made, "--only", 24, out="again")
    assert streams(made, "overlays-24.pdf", "again") == [
        film for film, text in zip(streams(made, "overlays.pdf"), pages(made, "overlays.pdf"), strict=True) if "24, seat" in text]
    paper(made, "--only", 24, "--spare", 1, out="again")
    spare = codes(made, "overlays-24-spare-1.pdf", "again")
    assert list(dict.fromkeys(spare)) == codes(made, "questions-24-spare-1.pdf", "again") and len(spare) == 6


def test_overlays_are_locked_and_in_as_many_books_as_the_answers(made):
    (made / "word.txt").write_text("four plain words here\n", encoding="utf-8")
    (made / "parted.yaml").write_text((made / "plan.yaml").read_text(encoding="utf-8") + "books: candidates\n", encoding="utf-8")
    paper(made, "--lock-with", made / "word.txt", plan="parted.yaml", out="parted")
    there = {path.name for path in (made / "parted").glob("*.pdf")}
    assert {f"{book}-{number}.pdf" for book in ("answers", "marking", "overlays") for number in NUMBERS} <= there
    asks = {name for name in there if PdfReader(made / "parted" / name).is_encrypted}
    assert asks == {name for name in there if name.startswith(("answers", "marking", "overlays"))}


@pytest.mark.parametrize(("said", "fault"), [
    ("marking_order: items\n", "marking_order: found an order, and nothing for those who mark, wanted `marking: yes` or"),
    ("marking: yes\nmarking_order: seats\n", "marking_order: found 'seats', wanted"),
    ("overlay: perhaps\n", "overlay: found 'perhaps', wanted"),
])
def test_what_a_plan_says_wrong_of_overlays_is_told(tmp_path, said, fault):
    place = furnish(tmp_path, said=said)
    assert fault in paper(place, code=2).output and not (place / "out").exists()


def test_overlays_of_a_kind_that_has_none_are_refused(tmp_path, monkeypatch):
    monkeypatch.delitem(kinds()["views"].pages, Role.OVERLAY)
    said = paper(furnish(tmp_path, said="overlay: yes\n"), code=2).output
    assert "items[1].kind: found the kind views, which has no overlays, wanted another kind (" in said
