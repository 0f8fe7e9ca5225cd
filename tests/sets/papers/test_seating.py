"""Plans of rooms, read back from the file: every candidate once at their seat, gaps as gaps."""

from __future__ import annotations

import io
import re
from dataclasses import replace

import pytest
from pypdf import PdfReader

from sheetgen.sets.papers.desks import GAP
from sheetgen.sets.papers.records import Room
from sheetgen.sets.papers.seating import SeatingSheets
from sheetgen.sheet import settings_of
from tests.sets.papers.invented import BARN, CORRIDOR, HALL, paper
from tests.sets.papers.printed import bytes_of, defects, sheets_of, within
from tests.wordings import twice_as_long

ODD = Room("Tower", 9, 4, frozenset((row, column) for row in range(1, 10) for column in range(1, 5) if (row * column) % 3 == 0))
"""Of which half is no seat."""

PLANS = {
    "a small hall with names, some seats free": paper(22, skipped=9),
    "one candidate": paper(1),
    "a large barn without names": paper(1100, (BARN,), named=False),
    "a barn with names": paper(60, (replace(BARN, rows=12, gaps=frozenset({(2, 2), (11, 30)})),)),
    "several rooms, on paper in inches": paper(68, (HALL, ODD, CORRIDOR), paper="11x17"),
    "a corridor": paper(25, (CORRIDOR,)),
}


@pytest.fixture(scope="module", params=PLANS)
def made(request):
    """A plan and its pages, read back."""
    plan = PLANS[request.param]
    return plan, sheets_of(bytes_of(SeatingSheets(plan, settings_of(plan.style)).document))


def desks_of(sheet):
    """The desks of a page: what each says, by its box; thin lines are free ones, wider ones taken."""
    for line in sheet.lines:
        low, high = line.points.min(axis=0), line.points.max(axis=0)
        if line.closed and line.width < 0.45 and min(high - low) > 6.5:
            yield line.width > 0.3, (*low, *high), within(sheet, (*low, *high))


def seat_of(texts):
    """Row and column, as a desk says them."""
    [place] = [text for text in texts if re.fullmatch(r"\d+-\d+", text)]
    return tuple(map(int, place.split("-")))


def test_every_candidate_sits_once_at_their_seat_and_every_other_seat_is_free(made):
    plan, sheets = made
    found, free = {}, []
    for sheet in sheets:
        called = [room.name for room in plan.rooms if any(entry.text.startswith(f"{room.name}: ") for entry in sheet.lettering)]
        for taken, _, texts in desks_of(sheet):
            [room], (row, column) = called, seat_of(texts)
            if taken:
                [number] = [text for text in texts if text.startswith("EX-")]
                assert number not in found
                found[number] = (room, row, column)
                assert len(texts) == (3 if plan.named else 2)
            else:
                free.append((room, row, column))
                assert len(texts) == 1
    assert found == {each.number: (each.seat.room, each.seat.row, each.seat.column) for each in plan.candidates}
    used = {room for room, _, _ in found.values()}
    seats = {(seat.room, seat.row, seat.column) for room in plan.rooms if room.name in used for seat in room.seats()}
    assert sorted([*found.values(), *free]) == sorted(seats)


def test_desks_stand_in_rows_from_the_front_and_in_columns_and_where_a_gap_is_there_is_none(made):
    _, sheets = made
    for sheet in sheets:
        desks = [(seat_of(texts), box) for _, box, texts in desks_of(sheet)]
        for (row, column), box in desks:
            for (other_row, other_column), other in desks:
                assert (box[0] < other[0] - GAP) == (column < other_column) and (box[1] > other[1] + GAP) == (row < other_row)


def test_numbers_of_rows_and_columns_stand_beside_the_desks(made):
    _, sheets = made
    for sheet in sheets:
        for (row, column), box in [(seat_of(texts), box) for _, box, texts in desks_of(sheet)]:
            level = [entry.text for entry in sheet.lettering if box[1] < entry.start[1] < box[3] and entry.text.isdigit()]
            above = [entry.text for entry in sheet.lettering if box[0] < entry.middle[0] < box[2] and entry.text.isdigit()]
            assert str(row) in level and str(column) in above


def test_every_candidate_stands_once_in_the_list_of_their_room_by_number(made):
    plan, sheets = made
    for room in plan.rooms:
        texts = [entry.text for sheet in sheets for entry in sheet.lettering
                 if any(text.text == f"{room.name}: by candidate number" for text in sheet.lettering)]
        numbers = [text for text in texts if text.startswith("EX-")]
        seated = [each.number for each in plan.candidates if each.seat.room == room.name]
        assert numbers == sorted(seated, key=lambda number: int(number[3:]))
        for each in plan.candidates[:3]:
            if each.number in texts:
                assert texts[texts.index(each.number):].index(each.seat.place) <= 2


def test_nothing_is_in_the_way_of_anything(made):
    _, sheets = made
    for number, sheet in enumerate(sheets, 1):
        assert list(defects(sheet)) == [], f"page {number}"


@pytest.mark.parametrize("plan", [PLANS["several rooms, on paper in inches"], paper(60, (replace(BARN, rows=40),))])
def test_words_twice_as_long_find_room(plan):
    pages = SeatingSheets(plan, replace(settings_of(plan.style), wording=twice_as_long()))
    for sheet in sheets_of(bytes_of([*pages])):
        assert list(defects(sheet)) == []


def test_pages_are_a4_for_a_clipboard_or_the_paper_in_inches(made):
    plan, sheets = made
    size = (431.8, 279.4) if plan.style.paper == "11x17" else (297, 210)
    assert {(round(sheet.width, 1), round(sheet.height, 1)) for sheet in sheets} == {size}


def test_the_front_is_told_on_every_page_of_a_plan():
    sheets = sheets_of(bytes_of(SeatingSheets(PLANS["a large barn without names"], settings_of(paper(1).style)).document))
    for sheet in sheets:
        rows = [seat_of(texts)[0] for _, _, texts in desks_of(sheet)]
        texts = [entry.text for entry in sheet.lettering]
        if rows:
            ahead = min(rows) - 1
            assert ("FRONT OF THE ROOM" in texts) == (ahead == 0)
            assert (f"THE FRONT IS THIS WAY, {ahead} ROWS FURTHER ON" in texts) == (ahead > 0)


def test_several_rooms_are_listed_with_their_seats_and_sheets():
    plan = PLANS["several rooms, on paper in inches"]
    document = SeatingSheets(plan, settings_of(plan.style)).document
    sheets = sheets_of(bytes_of(document))
    rows = {}
    for entry in sheets[0].lettering:
        rows.setdefault(round(entry.start[1], 1), []).append(entry.text)
    found = [texts for texts in rows.values() if texts[0] in ("Great Hall", "Tower", "Corridor", "ALL ROOMS")]
    assert [row[:4] for row in found] == [
        ["Great Hall", "27", "27", "0"], ["Tower", "18", "18", "0"], ["Corridor", "25", "23", "2"],
        ["ALL ROOMS", "70", "68", "2"]]
    first = [int(row[4].split(" ")[0]) for row in found[:3]]
    assert [page for _, page in document.outline] == [number - 1 for number in first]


def test_a_room_in_which_nobody_sits_has_no_pages():
    plan = paper(3, (HALL, CORRIDOR))
    assert len(SeatingSheets(plan, settings_of(plan.style))) == 3


def test_the_same_plan_is_the_same_bytes_and_its_file_says_what_it_is():
    plan = PLANS["a small hall with names, some seats free"]
    one, two = (bytes_of(SeatingSheets(plan, settings_of(plan.style), "0123456789ab").document) for _ in range(2))
    assert one == two
    said = PdfReader(io.BytesIO(one)).metadata
    assert said.title == "Drawing of parts, second paper: seating" and said.creator == "sheetgen, set 0123456789ab"


def test_numbers_are_7_mm_high_where_they_have_room_and_never_below_2_5():
    # from arm's length, 7 mm; a copier loses what is smaller than 2.5 (common practice, no source)
    for name, least, most in (("a small hall with names, some seats free", 7.0, 7.0), ("a large barn without names", 2.5, 5.0)):
        sheets = sheets_of(bytes_of([SeatingSheets(PLANS[name], settings_of(PLANS[name].style))[0]]))
        sizes = {round(entry.size * 0.7, 1) for entry in sheets[0].lettering if entry.text.startswith("EX-")}
        assert sizes and all(least <= size <= most for size in sizes)
