"""Paper plans: what they come to, and what is told of those that cannot be used."""

from __future__ import annotations

import re

import pytest

from sheetgen.bank import load_bank
from sheetgen.sets.papers.paper import name_of
from sheetgen.sets.papers.plan import PaperError, load_paper
from sheetgen.sets.papers.records import Bounds
from tests import samples

PLAN = """\
title: Mock paper
names: no
date: May 2031
items:
  - {family: plain-step, marks: 10, minutes: 20}
  - {topic: steps, marks: 15, pool: 40}
rooms:
  - {name: Hall, rows: 2, columns: 3, gaps: [1-2]}
  - {name: Annexe, rows: 2, columns: 2, gaps: column 1}
candidates: 6
bounds: {index: 0.5, dimensions: 0}
"""
LIST = "No,Name,Seat,Room\n7,Ada Example,2-1,Annexe\n9,Brook Sample,1-1,Hall\n"
GROUPS = "No,Name,Group\n7,Ada Example,A\n7,Brook Sample,B\n"
"""A worksheet may have two of a number in two groups; a paper may not."""


@pytest.fixture
def load(tmp_path):
    """Reads a plan, with other files beside it."""
    bank = load_bank(samples.bank_of(tmp_path / "bank", plain_step=samples.STEP))

    def read(text=PLAN, **files):
        (tmp_path / "plan.yaml").write_text(text, encoding="utf-8")
        for name, contents in files.items():
            (tmp_path / f"{name}.csv").write_text(contents, encoding="utf-8")
        return load_paper(tmp_path / "plan.yaml", bank)[0]
    return read


def faults(load, text, **files):
    with pytest.raises(PaperError) as error:
        load(text, **files)
    return [(fault.line, fault.field, fault.found) for fault in error.value.faults]


def test_a_plan_has_items_rooms_and_candidates_on_seats_in_their_order(load):
    paper = load()
    assert [(item.number, item.families, item.marks, item.minutes, item.pool) for item in paper.items] == [
        (1, ("plain-step",), 10, 20, 0), (2, ("plain-step",), 15, 0, 40)]
    assert [(one.number, one.seat.room, one.seat.place) for one in paper.candidates] == [
        ("1", "Hall", "1-1"), ("2", "Hall", "1-3"), ("3", "Hall", "2-1"), ("4", "Hall", "2-2"), ("5", "Hall", "2-3"),
        ("6", "Annexe", "1-2")]
    assert (paper.marks, paper.minutes, paper.named, paper.bounds) == (25, 0, False, Bounds(0.5, 2, 0))


def test_a_class_list_may_say_who_sits_where_and_names_are_left_out_where_the_board_wants_it(load):
    text = PLAN.replace("candidates: 6", "class_list: people.csv").replace(", gaps: column 1", "")
    for names, printed in (("no", ["", ""]), ("yes", ["Ada Example", "Brook Sample"])):
        paper = load(text.replace("names: no", f"names: {names}"), people=LIST)
        assert [(one.number, one.seat.room, one.seat.place, one.line) for one in paper.candidates] == [
            ("7", "Annexe", "2-1", 2), ("9", "Hall", "1-1", 3)]
        assert [one.name for one in paper.candidates] == printed


@pytest.mark.parametrize(("was", "becomes", "line", "field", "found"), [
    ("title: Mock paper\n", "", 1, "title", "nothing"),
    ("candidates: 6", "candidates: 8", 7, "rooms", "7 seats for 8 candidates"),
    ("candidates: 6\n", "", 1, "candidates", "no candidates"),
    ("candidates: 6", "candidates: 0", 10, "candidates", "'0'"),
    ("marks: 10", "marks: 0", 5, "items[1].marks", "'0'"),
    ("{topic: steps, marks: 15", "{marks: 15", 6, "items[2]", "neither family nor topic nor rung"),
    ("topic: steps", "topic: steps, family: plain-step", 6, "items[2]", "both a family and a wish"),
    ("topic: steps", "topic: gears", 6, "items[2].topic", "'gears'"),
    ("topic: steps,", "topic: steps, forms: 2,", 6, "items[2].forms", "2 forms of 1 families"),
    ("name: Annexe", "name: Hall", 9, "rooms[2].name", "'Hall', which another room is called too"),
    ("gaps: [1-2]", "gaps: [1-2, 3-1]", 8, "rooms[1].gaps", "a gap beyond the last row or column"),
    ("gaps: [1-2]", "gaps: [aisle]", 8, "rooms[1].gaps", "'aisle'"),
    ("gaps: [1-2]", "gaps: [row 1, row 2]", 8, "rooms[1].gaps", "a room without seats"),
    ("bounds: {index: 0.5", "bounds: {index: -1", 11, "bounds.index", "'-1'"),
    ("date:", "dats:", 3, "dats", "an unknown field 'dats'"),
])
def test_each_fault_is_told_with_line_and_field(load, was, becomes, line, field, found):
    assert PLAN.count(was) == 1
    told = faults(load, PLAN.replace(was, becomes))
    assert [(at, what) for at, what, _ in told] == [(line, field)] and told[0][2] == found


def test_all_faults_of_a_plan_are_told_at_once(load):
    text = PLAN.replace("marks: 10", "marks: ten").replace("rows: 2, columns: 3", "rows: 0, columns: 3")
    text = text.replace("names: no", "names: x")
    assert [line for line, _, _ in faults(load, text)] == [2, 5, 8]


@pytest.mark.parametrize(("list_", "line", "field"), [
    (LIST.replace("2-1", "3-1"), 2, "seat"), (LIST.replace("2-1", "front"), 2, "seat"),
    (LIST.replace("Annexe", "Shed"), 2, "room"),
    (LIST.replace("2-1,Annexe", "1-1,Hall"), 3, "seat"), (GROUPS, 3, "number"),
    (LIST.replace("2-1,Annexe", "1-2,Hall"), 2, "seat"), (LIST.replace("7,", "7*,"), 2, "number"),
])
def test_seats_and_numbers_of_a_list_that_cannot_be_are_told_with_its_line(load, list_, line, field):
    text = PLAN.replace("candidates: 6", "class_list: people.csv").replace(", gaps: column 1", "")
    told = faults(load, text, people=list_)
    assert [(at, what) for at, what, _ in told] == [(line, field)]


def test_who_is_added_to_a_list_without_seats_takes_the_next_and_moves_nobody(load):
    text = PLAN.replace("candidates: 6", "class_list: people.csv")
    short, long = "No,Name\n1,A\n2,B\n", "No,Name\n1,A\n2,B\n3,C\n"
    before = load(text, people=short).candidates
    assert load(text, people=long).candidates[:2] == before


def test_a_plan_of_a_worksheet_is_told_as_what_it_is_and_a_papers_too(load, tmp_path):
    with pytest.raises(PaperError, match="this is a plan: `sheetgen worksheet` and `sheetgen pack` take it"):
        load("problems:\n  - {family: plain-step}\n")
    from sheetgen.sets import PlanError, load_plan

    (tmp_path / "plan.yaml").write_text(PLAN, encoding="utf-8")
    with pytest.raises(PlanError, match="this is a paper plan"):
        load_plan(tmp_path / "plan.yaml", load_bank())


def test_a_series_tells_papers_of_one_title_and_date_apart(load):
    dated = PLAN.replace("date:", "series: second sitting\ndate:")
    assert name_of(load(PLAN)) != name_of(load(dated))
    assert name_of(load(PLAN)) == name_of(load(PLAN.replace("marks: 10", "marks: 9")))


def test_a_paper_with_neither_date_nor_series_is_remarked_on(load):
    said = re.sub("date:.*", "", PLAN)
    [remark] = load(said).remarks
    assert (remark.line, remark.field, remark.found) == (1, "date", "neither a date nor a series")
    assert not load(PLAN).remarks and not load(said + "series: first\n").remarks


def test_an_item_wishes_only_for_families_that_serve_its_kind_and_one_that_is_named_must(tmp_path):
    families = {"clipped": samples.CLIPPED, "other": samples.step(1, "steps"), "step": samples.STEP}
    bank = load_bank(samples.bank_of(tmp_path / "bank", **families))
    rest = PLAN[PLAN.index("rooms:"):]

    def paper(*items):
        text = "title: Mock paper\ndate: May 2031\nnames: no\nitems:\n" + "".join(f"  - {item}\n" for item in items) + rest
        (tmp_path / "plan.yaml").write_text(text, encoding="utf-8")
        return load_paper(tmp_path / "plan.yaml", bank)[0]

    usual, third, named = paper("{topic: steps, marks: 10}", "{topic: steps, kind: third-view, marks: 10, forms: 2}",
                                "{family: step, kind: third-view, marks: 10}").items
    assert (usual.families, third.families, named.families) == (("clipped", "other", "step"), ("other", "step"), ("step",))
    with pytest.raises(PaperError) as caught:
        paper("{family: clipped, kind: third-view, marks: 10}", "{topic: steps, kind: third-view, marks: 10, forms: 3}")
    first, second = caught.value.faults
    assert (first.line, first.field) == (5, "items[1].family")
    assert first.found.startswith("clipped, which does not serve the kind third-view: not all its faces")
    assert (second.line, second.field, second.found) == (
        6, "items[2]", "3 forms, topic steps: 2 (other, step) of 3 that fit serve the kind third-view")
    assert second.wanted == "no more than 2, another topic or rung, or another kind; of all families 2 (other, step) serve it"
