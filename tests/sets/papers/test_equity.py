"""Pictures and tables of how even a paper is, read back from the file and held against the lots they are of."""

from __future__ import annotations

import statistics
from collections import Counter
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sheetgen.sets.papers.equity import EquitySheets
from sheetgen.sets.papers.records import Assignment, Reached
from sheetgen.sets.papers.spread import MOST_BARS, bins_of, spread_of
from sheetgen.sheet import settings_of
from tests.sets.papers.invented import lots, paper, reached
from tests.sets.papers.printed import bytes_of, defects, read, sheets_of
from tests.wordings import twice_as_long

NAMES = {"index": "Index of difficulty", "visible": "Visible lines", "hidden": "Hidden lines", "centre": "Centre lines",
         "dimensions": "Printed dimensions"}


def document(assignment: Assignment, items: int = 3, paper_name: str = "A3", found: list[Reached] | None = None):
    plan = paper(1, items=items, paper=paper_name)
    return EquitySheets(plan, assignment, found or reached(assignment, items), settings_of(plan.style), "0123456789ab").document


@pytest.mark.parametrize(("count", "items", "paper_name"), [(1, 1, "A3"), (1, 3, "A4"), (60, 3, "A3"), (5000, 2, "11x17")])
def test_nothing_is_in_the_way_of_anything(count, items, paper_name):
    sheets = sheets_of(bytes_of(document(lots(count, items), items, paper_name)))
    assert len(sheets) == (items + 1 if items > 1 else 1)
    for sheet in sheets:
        assert list(defects(sheet)) == []


def test_words_twice_as_long_find_room():
    plan, assignment = paper(1), lots(60)
    pages = EquitySheets(plan, assignment, reached(assignment), replace(settings_of(plan.style), wording=twice_as_long()))
    for sheet in sheets_of(bytes_of([*pages])):
        assert list(defects(sheet)) == []


def table(sheet):
    """The rows under QUANTITY, each the texts from the left."""
    [head] = [entry for entry in sheet.lettering if entry.text == "QUANTITY"]
    found: dict[float, list] = {}
    for entry in sheet.lettering:
        if head.start[1] - 35 < entry.start[1] < head.start[1] - 1:
            found.setdefault(round(entry.start[1], 1), []).append(entry)
    rows = [[entry.text for entry in sorted(row, key=lambda entry: entry.start[0])] for row in found.values()]
    return {row[0]: row[1:] for row in rows}


def test_the_table_says_what_was_bounded_and_what_was_reached():
    assignment = lots(60)
    for item in (1, 2, 3):
        rows = table(read(bytes_of(document(assignment)), item - 1))
        for name, called in NAMES.items():
            values = [lot.quantities()[name] for lot in assignment.of_item(item)]
            middle, bound, least, greatest, farthest, within = rows[called]
            assert (float(least), float(greatest)) == pytest.approx((min(values), max(values)), abs=0.006)
            assert float(bound.removeprefix("± ")) == {"index": 0.3, "dimensions": 1}.get(name, 2)
            assert float(farthest) == pytest.approx(max(abs(value - float(middle)) for value in values), abs=0.006)
            assert within == "YES"


def test_what_lies_beyond_its_bound_is_said_so():
    assignment = lots(20, 1)
    farthest = max(abs(lot.difficulty - 2.0) for lot in assignment.of_item(1))
    found = [replace(one, bound=farthest - 0.01) if one.quantity == "index" else one for one in reached(assignment, 1)]
    rows = table(read(bytes_of(document(assignment, 1, found=found))))
    assert rows[NAMES["index"]][-1] == "NO" and rows[NAMES["hidden"]][-1] == "YES"


def test_all_items_together_are_summed_over_each_candidate():
    assignment = lots(60)
    rows = table(read(bytes_of(document(assignment)), 3))
    for name, called in NAMES.items():
        sums = [sum(lot.quantities()[name] for lot in own) for own in assignment.lots.values()]
        assert list(map(float, rows[called])) == pytest.approx([min(sums), statistics.fmean(sums), max(sums)], abs=0.006)


def test_the_number_over_each_bar_is_that_of_the_candidates_with_the_value_under_it():
    assignment = lots(300)
    sheet = read(bytes_of(document(assignment)), 0)
    [title] = [entry for entry in sheet.lettering if entry.text == NAMES["hidden"] and entry.start[1] > 80]
    left, top = title.start
    near = [entry for entry in sheet.lettering
            if entry.text.isdigit() and left <= entry.start[0] < left + 75 and top - 55 < entry.start[1] < top]
    low = min(entry.start[1] for entry in near)
    under = [entry for entry in near if abs(entry.start[1] - low) < 0.1]
    told = {}
    for count in (entry for entry in near if entry.start[1] > low + 1):
        [value] = [entry for entry in under if abs(entry.middle[0] - count.middle[0]) < 0.5]
        told[int(value.text)] = int(count.text)
    assert told == Counter(lot.lines[1] for lot in assignment.of_item(1)) and sum(told.values()) == 300


def test_every_page_says_that_the_index_is_not_calibrated():
    for sheet in sheets_of(bytes_of(document(lots(5)))):
        said = " ".join(entry.text for entry in sheet.lettering)
        assert "It is not calibrated on students' results" in said


def test_a_hundred_thousand_candidates_are_counted_in_bins():
    assignment = lots(100_000, 1, pool=3000)
    page = document(assignment, 1).pages[0]
    assert len(page.marks) < 300
    assert "100000 candidates, different variants of this item: 3000" in next(
        mark.text for mark in page.marks if getattr(mark, "text", "").startswith("Item 1"))


def test_the_same_lots_are_the_same_bytes_and_tell_nobodys():
    one, two = (bytes_of(document(lots(40))) for _ in range(2))
    assert one == two
    assert not any("EX-" in entry.text for sheet in sheets_of(one) for entry in sheet.lettering)


@given(st.lists(st.integers(0, 400), min_size=1, max_size=50), st.integers(0, 200), st.integers(0, 20))
def test_bins_of_counts_hold_every_value_once_and_are_few(values, middle, bound):
    spread = spread_of(values, whole=True, middle=middle, bound=bound)
    bins = bins_of(spread)
    assert sum(bins.counts) == len(values) and len(bins.counts) <= MOST_BARS + 2
    for number, count in enumerate(bins.counts):
        low = bins.start + number * bins.width
        assert count == sum(low < value < low + bins.width for value in values)


INDICES = st.lists(st.floats(0, 30).map(lambda value: round(value, 3)), min_size=1, max_size=50)


@given(INDICES, st.none() | st.sampled_from([0.0, 0.3, 2.5]))
def test_bins_of_the_index_hold_every_value_once_and_are_few(values, bound):
    bins = bins_of(spread_of(values, whole=False, middle=None if bound is None else values[0], bound=bound))
    assert sum(bins.counts) == len(values) and len(bins.counts) <= MOST_BARS + 2


def test_what_lies_at_a_bound_is_counted_within_it():
    bins = bins_of(spread_of([1.7, 2.0, 2.3], whole=False, middle=2.0, bound=0.3))
    assert bins.bounds == (1.7, 2.3)
    assert bins.counts[0] == bins.counts[-1] == 0 and bins.counts[1] == bins.counts[-2] == 1
