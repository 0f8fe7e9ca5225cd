"""Covers of a paper, read back from the file as an invigilator, a candidate and an examiner read them."""

from __future__ import annotations

from dataclasses import replace

import pytest

from sheetgen.faults import Place
from sheetgen.sets.papers.cover import Cover, CoverError
from sheetgen.sheet import PAPER_NAMES, settings_of
from sheetgen.templating import TemplateError, load_wording, wording_names
from tests.sets.papers.invented import HALL, paper
from tests.sets.papers.printed import bytes_of, defects, read
from tests.wordings import twice_as_long


def cover_of(plan, candidate=0):
    """The cover of a candidate, read back."""
    page = Cover(plan, settings_of(plan.style)).page(plan.candidates[candidate])
    return read(bytes_of([page]))


def texts(sheet):
    return [entry.text for entry in sheet.lettering]


@pytest.mark.parametrize("named", [True, False])
@pytest.mark.parametrize("paper_name", PAPER_NAMES)
def test_nothing_on_a_cover_is_in_the_way_of_anything(paper_name, named):
    for items in (1, 3, 20):
        assert list(defects(cover_of(paper(2, items=items, named=named, paper=paper_name)))) == []


@pytest.mark.parametrize("wording", wording_names())
def test_it_says_what_the_paper_is_how_long_it_takes_and_what_it_is_worth(wording):
    plan = paper(2)
    settings = replace(settings_of(plan.style), wording=load_wording(wording))
    said = texts(read(bytes_of([Cover(plan, settings).page(plan.candidates[0])])))
    assert {"EXAMPLEFORD BOARD OF DRAWING", "Drawing of parts, second paper", "12 May 2031", "150 minutes"} <= set(said)
    assert "You have 150 minutes for 3 items, worth 75 marks in all." in said


def test_number_seat_and_room_are_the_candidates_own():
    plan = paper(7)
    for place in (0, 6):
        said = texts(cover_of(plan, place))
        assert said.count(plan.candidates[place].number) == 1
        assert said.count(plan.candidates[place].seat.place) == 1 and said.count("Great Hall") == 1


def test_there_is_a_cell_for_the_name_only_if_the_paper_prints_names():
    assert {"NAME", "Quin Zeddle 1"} <= set(texts(cover_of(paper(2))))
    assert not {"NAME", "Quin Zeddle 1"} & set(texts(cover_of(paper(2, named=False))))


def test_a_name_that_the_lettering_lacks_is_left_to_be_written_in():
    plan = paper(1)
    said = texts(cover_of(replace(plan, candidates=(replace(plan.candidates[0], name="Жук"),))))
    assert "NAME" in said and not any("?" in text or "Ж" in text for text in said)


def test_an_only_room_without_a_name_has_no_cell():
    plan = paper(1)
    seat = replace(plan.candidates[0].seat, room="")
    plan = replace(plan, rooms=(replace(HALL, name=""),), candidates=(replace(plan.candidates[0], seat=seat),))
    assert "ROOM" not in texts(cover_of(plan))


def rows(sheet, label):
    """The table of marks: rows from the top, each the texts from the left."""
    [head] = [entry for entry in sheet.lettering if entry.text == label]
    left = head.start[0] - 25
    found: dict[float, list] = {}
    for entry in sheet.lettering:
        if entry.start[1] < head.start[1] - 1 and left < entry.start[0] < sheet.width - 10:
            found.setdefault(round(entry.start[1], 1), []).append(entry)
    ordered = [sorted(found[height], key=lambda entry: entry.start[0]) for height in sorted(found, reverse=True)]
    return [[entry.text for entry in row] for row in ordered]


@pytest.mark.parametrize("items", [1, 3, 14])
def test_marks_of_the_table_add_up_to_its_total(items):
    plan = paper(1, items=items, minutes=30 * items)
    table = rows(cover_of(plan), "ITEM")[:items + 1]
    assert [row[0] for row in table] == [*map(str, range(1, items + 1)), "TOTAL"]
    assert sum(int(row[2]) for row in table[:-1]) == int(table[-1][2]) == plan.marks
    assert sum(int(row[1]) for row in table[:-1]) == int(table[-1][1]) == plan.minutes


def test_where_minutes_of_items_do_not_come_to_the_time_no_sum_is_printed():
    table = rows(cover_of(paper(1, minutes=150)), "ITEM")
    assert table[3] == ["TOTAL", "75"]


def test_a_row_has_an_empty_cell_of_at_least_7_mm_to_write_in():
    for items, paper_name in ((3, "A3"), (20, "A4")):
        sheet = cover_of(paper(1, items=items, paper=paper_name))
        low = [entry for entry in sheet.lettering if entry.start[0] > sheet.width / 2 and entry.start[1] < sheet.height - 90]
        [one], [two] = ([entry for entry in low if entry.text == text] for text in ("67" if items > 3 else "23"))
        assert one.start[1] - two.start[1] >= 7.0


def test_a_plans_own_instructions_stand_in_place_of_the_usual_ones():
    own = ("Draw what item 2 asks. It has {{ marks }} marks' worth.", "Sing softly.")
    said = texts(cover_of(paper(1, instructions=own)))
    assert {"Draw what item 2 asks. It has 75 marks' worth.", "Sing softly."} <= set(said)
    assert not any(text.startswith("Leave this cover") for text in said)


def test_instructions_that_find_no_room_or_cannot_be_read_are_told_with_their_place():
    plan = replace(paper(1, paper="A4", instructions=("A line of words that goes on. " * 9,) * 20),
                   places={"instructions": Place("may.yaml", 9, "instructions")})
    with pytest.raises(CoverError, match=r"^may.yaml:9: instructions: found instructions that take \d+ lines, wanted fewer"):
        Cover(plan, settings_of(plan.style))
    with pytest.raises(TemplateError, match=r"^may.yaml:9: instructions\[2\]: found the unknown value seed"):
        Cover(replace(plan, instructions=("Draw.", "{{ seed }}")), settings_of(plan.style))


def test_more_items_than_the_cover_holds_are_told():
    plan = replace(paper(1, paper="A4", items=60), places={"items": Place("may.yaml", 20, "items")})
    with pytest.raises(CoverError, match=r"^may.yaml:20: items: found 60 items"):
        Cover(plan, settings_of(plan.style))


@pytest.mark.parametrize("paper_name", PAPER_NAMES)
def test_words_twice_as_long_find_room(paper_name):
    plan = paper(1, paper=paper_name)
    sheet = read(bytes_of([Cover(plan, replace(settings_of(plan.style), wording=twice_as_long())).page(plan.candidates[0])]))
    assert list(defects(sheet)) == []


def test_the_same_cover_is_the_same_bytes():
    plan = paper(2)
    first, second = (bytes_of([Cover(plan, settings_of(plan.style)).page(plan.candidates[1])]) for _ in range(2))
    assert first == second


def test_a_cover_adds_nothing_that_tells_family_or_code():
    said = " ".join(texts(cover_of(paper(2)))).lower()
    assert "stepped" not in said
