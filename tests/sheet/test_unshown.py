"""What a course says and its title block shows nowhere is remarked on, once, where it is said."""

from __future__ import annotations

from dataclasses import replace

import pytest

from sheetgen.faults import Place
from sheetgen.shared import shipped
from sheetgen.sheet import Style, settings_of
from sheetgen.templating import TitleBlockValues

ALL = {"school": "EXAMPLEFORD", "course": "DRAWING", "set_title": "Week 3", "teacher": "T. SQUARE", "approved_by": "N. FERROUS",
       "group": "10B", "date": "2031-09-04", "status": "DRAFT"}


def settings(block, said):
    places = {name: Place("plan.yaml", line, name) for line, name in enumerate(said, 1)}
    return settings_of(Style(title_block=block, values=TitleBlockValues(**said), places=places))


def unshown(block, said=ALL):
    return {remark.field: remark.line for remark in settings(block, said).remarks}


def test_a_block_with_a_cell_for_everything_gives_no_remark():
    assert unshown("harbour") == {}


def test_a_block_that_shows_the_course_only_in_place_of_the_topic_shows_it_on_no_sheet():
    assert unshown("quarry") == {"course": 2}


def test_the_block_to_begin_with_shows_all_that_the_plan_to_begin_with_says():
    start = shipped("templates") / "start" / "title-block.yaml"
    assert unshown(start) == {"approved_by": 5, "status": 8}
    assert unshown(start, {name: text for name, text in ALL.items() if name not in ("approved_by", "status")}) == {}


def test_what_is_said_nowhere_or_is_not_said_at_all_is_not_remarked():
    start = shipped("templates") / "start" / "title-block.yaml"
    assert unshown(start, {}) == {}
    assert settings_of(Style(title_block=start, values=TitleBlockValues(status="DRAFT"))).remarks == ()


@pytest.mark.parametrize(("text", "told"), [
    ("{{ teacher }}", False), ("{{ student|default(teacher, true) }}", False), ("{{ title|default(teacher, true) }}", True),
    ("{{ teacher if sheets == '1' else 'SQUARE' }}", True), ("SQUARE", True)])
def test_a_value_is_shown_if_any_sheet_says_it(tmp_path, text, told):
    (tmp_path / "own.yaml").write_text(
        f"""title: Own
width: 120
height: 20
cells:
  - {{box: [0, 10, 60, 10], text: "{text}"}}
  - {{box: [60, 10, 30, 10], symbol: projection}}
  - {{box: [0, 0, 90, 10], text: "{{{{ notice }}}} {{{{ number }}}} {{{{ sheet }}}} {{{{ document_type }}}}"}}
""", encoding="utf-8")
    found = settings(tmp_path / "own.yaml", {"teacher": "T. SQUARE"}).remarks
    assert [remark.found for remark in found] == [f"'T. SQUARE', which no cell of {tmp_path}/own.yaml shows"] * told


def test_the_week_of_a_term_that_no_cell_shows_is_remarked_where_the_term_is_named():
    start = settings("quarry", {"set_title": ""})
    assert replace(start, week=3).remarks == ()
    bare = replace(start, week=3, block=replace(start.block, cells=tuple(
        cell for cell in start.block.cells if not (cell.text and "set_title" in cell.text.names))))
    [remark] = bare.remarks
    assert remark.line == 1 and remark.found.startswith("'Worksheet, week 3', which no cell of ")
