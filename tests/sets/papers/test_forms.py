"""Forms: which an item has, families or options and hands of one, and that neighbours have different ones."""

from __future__ import annotations

import re
from dataclasses import replace
from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pypdf import PdfReader

from sheetgen.bank import Form, load_bank
from sheetgen.problem import problem_of
from sheetgen.sets.papers.assigning import allowed, form_of
from sheetgen.sets.papers.decided import seed_of
from sheetgen.sets.papers.equal import QUANTITIES, bound_of
from sheetgen.sets.papers.families import families_of
from sheetgen.sets.papers.forms import BEYOND, Wanted, chosen, common_middle
from sheetgen.sets.papers.lots import Slot, Variant, measured
from sheetgen.sets.papers.plan import PaperError
from sheetgen.sets.papers.record import form_said, load_record
from sheetgen.sets.papers.records import Bounds, Item, PaperPlan, Room, Seat
from sheetgen.sets.papers.secret import Key, load_key
from sheetgen.sheet import Style, settings_of
from tests import samples
from tests.sets.papers.halls import seated
from tests.sets.papers.mock import codes, furnish, invoke, long, pages, paper

BOUNDS = Bounds()
SETTINGS = settings_of(Style())
MIDDLE = st.fixed_dictionaries({"index": st.floats(5, 8), **dict.fromkeys(QUANTITIES[1:], st.integers(0, 12))})


def cost(families, middles):
    """What it costs that some families lie apart, by the words of the rule: in units of the bounds, and dear beyond them."""
    total = 0.0
    for name in QUANTITIES:
        values = [middles[family][name] for family in families]
        apart, bound = max(values) - min(values), bound_of(name, BOUNDS)
        total += apart / bound + BEYOND * max(0.0, apart - 2 * bound) / bound
    return total


@settings(max_examples=15, deadline=None)
@given(middles=st.lists(MIDDLE, min_size=7, max_size=7))
def test_no_other_families_lie_nearer_each_other(middles):
    """Against all ways of taking three families for one item and two for another, tried one by one."""
    names = tuple("abcdefg")
    by_name = dict(zip(names, middles, strict=True))
    found = chosen([Wanted(names, 3), Wanted(names, 2)], by_name, BOUNDS)
    assert [len(one.families) for one in found] == [3, 2] and not set(found[0].families) & set(found[1].families)
    best = min(cost(one, by_name) + cost(other, by_name) for one in combinations(names, 3)
               for other in combinations([name for name in names if name not in one], 2))
    assert sum(cost(one.families, by_name) for one in found) == pytest.approx(best, rel=1e-6, abs=1e-3)


def test_of_families_that_are_equally_near_the_keys_first_are_taken():
    middle = dict.fromkeys(QUANTITIES, 5.0)
    [found] = chosen([Wanted(("d", "a", "c", "b"), 2)], dict.fromkeys("abcd", middle), BOUNDS)
    assert found.families == ("d", "a")


def test_how_far_forms_lie_beyond_the_bounds_is_told():
    middles = {name: {**dict.fromkeys(QUANTITIES, 5.0), "hidden": hidden} for name, hidden in (("a", 0), ("b", 9))}
    [found] = chosen([Wanted(("a", "b"), 2)], middles, BOUNDS)
    assert found.beyond == {"hidden": 5.0}
    assert common_middle(list(middles.values()))["hidden"] == 4.5


def test_too_few_families_are_refused():
    middle = dict.fromkeys(QUANTITIES, 5.0)
    with pytest.raises(ValueError, match="1 families for 2 forms"):
        chosen([Wanted(("a",), 2)], {"a": middle}, BOUNDS)
    with pytest.raises(ValueError, match="each in one item alone"):
        chosen([Wanted(("a", "b"), 2), Wanted(("a", "b"), 1)], dict.fromkeys("ab", middle), BOUNDS)


BANK = load_bank()
EASY = ("two-way-steps", "corner-steps", "stepped-block", "stepped-bridge", "cross-block")


def plan(*items, bounds=BOUNDS):
    return PaperPlan("Paper", Style(), items, (Room("Hall", 2, 2),), seated([Room("Hall", 2, 2)]), bounds)


def test_items_take_different_families_of_the_bank_by_the_key():
    items = [Item(number, EASY, 10) for number in (1, 2, 3)]
    found = [families_of(plan(*items), BANK, Key(bytes([n] * 32)), "p", settings_of(Style())) for n in range(6)]
    assert all(len({form.family for [form] in each}) == 3 for each in found)
    assert len({tuple(each) for each in found}) > 1, "another key takes others"


def test_forms_of_the_bank_are_none_that_another_item_has_and_too_unlike_ones_are_told():
    single, several = Item(1, ("stepped-block",), 10), Item(2, EASY, 10, forms=3)
    wide = Bounds(2.0, 20, 8)
    [_, forms] = families_of(plan(single, several, bounds=wide), BANK, Key(bytes(32)), "p", settings_of(Style()))
    families = {form.family for form in forms}
    assert len(families) == 3 and "stepped-block" not in families and families <= set(EASY)
    unlike = Item(2, ("cross-block", "bored-tee"), 10, forms=2)
    with pytest.raises(PaperError, match=r"item 2, forms of .*: their .* lie .* further apart than the bounds let them, wanted"):
        families_of(plan(single, unlike), BANK, Key(bytes(32)), "p", settings_of(Style()))


def test_what_lies_within_the_bounds_is_weighed_by_them():
    """Half a point of the index is most of what the bounds let; two lines are half of it."""
    middle = dict.fromkeys(QUANTITIES, 5.0)
    middles = {"a": middle, "b": {**middle, "index": 5.5}, "c": {**middle, "visible": 7}}
    [found] = chosen([Wanted(("a", "b", "c"), 2)], middles, BOUNDS)
    assert found.families == ("a", "c")


KINDS = long(samples.STEP).replace("rules:\n", "  kind: {one of: [stepped, notched]}\nrules:\n").replace(
    "z: [up, open]\n", "z: [up, open]\n    when: kind == \"stepped\"\n  - cut: notch\n    name: notch\n    x: [at, open]\n"
    "    y: [open, 12]\n    when: kind == \"notched\"\n").replace(
    "  - base.left to step.left\n  - base.bottom to step.bottom\n", """\
  - measure: base.left to step.left
    when: kind == "stepped"
  - measure: base.bottom to step.bottom
    when: kind == "stepped"
  - measure: base.left to notch.left
    when: kind == "notched"
  - measure: base.front to notch.back
    when: kind == "notched"
""")
"""A block with one of two cuts."""

ITEMS = """\
  - {family: long-step, forms: 2, marks: 10}
  - {family: two-kinds, forms: 4, marks: 15}
"""


@pytest.fixture(scope="module")
def formed(tmp_path_factory):
    """A paper of which one item has two hands of a family, the other two options in both hands."""
    place = furnish(tmp_path_factory.mktemp("formed"), said="bounds: {index: 1.5, lines: 6}\n")
    samples.bank_of(place / "bank", long_step=long(samples.STEP), two_kinds=KINDS)
    text = (place / "plan.yaml").read_text(encoding="utf-8")
    (place / "plan.yaml").write_text(re.sub(r"  - \{.*\n  - \{.*\n", ITEMS, text, count=1), encoding="utf-8")
    paper(place)
    return place


def test_neighbours_have_another_hand_or_another_option_of_the_same_family(formed):
    record = load_record(formed / "out" / "record.json", load_key(formed / "our.key"))
    forms = [[str(form_said(item, number)) for number in range(len(item["forms"]))] for item in record.said["items"]]
    assert sorted(forms[0]) == ["long-step", "long-step, mirrored"]
    assert sorted(forms[1]) == [f"two-kinds, kind {kind}{hand}" for kind in ("notched", "stepped") for hand in ("", ", mirrored")]
    seats = {one["number"]: Seat(one["room"], one["row"], one["column"]) for one in record.said["candidates"]}
    mine = {number: form_of(seat, 4) for number, seat in seats.items()}
    beside = [(a, b) for a, b in combinations(seats, 2)
              if max(abs(seats[a].row - seats[b].row), abs(seats[a].column - seats[b].column)) == 1]
    assert len(beside) > 5 and all(mine[a] != mine[b] for a, b in beside)


def test_what_is_printed_of_a_form_is_in_its_hand(formed):
    """The step is cut from the right; in the other hand from the left. The front view tells by its upright in the step."""
    record = load_record(formed / "out" / "record.json", load_key(formed / "our.key"))
    bank, key = load_bank(formed / "bank"), load_key(formed / "our.key")
    for number, form in enumerate(form_said(record.said["items"][0], n) for n in (0, 1)):
        accepted = record.said["items"][0]["accepted"][number]
        assert accepted
        for index in accepted:
            variant = form.of(bank["long-step"]).sample(seed_of(key, record.paper, 1, str(form), index))
            view = problem_of(variant).view("front")
            outline = max(v for line in view.visible_lines for _, v in (line.p, line.q))
            top = [line for line in view.visible_lines if line.p[1] == line.q[1] == outline]
            assert [min(line.p[0], line.q[0]) > 1 for line in top] == [form.mirrored]


def test_the_answer_of_a_code_is_that_of_its_form(formed):
    for place, code in enumerate(codes(formed)):
        if place % 5 == 0:
            invoke(formed, "answer", code, "--key", formed / "our.key", "--record", formed / "out" / "record.json", "--only-bank",
                   formed / "bank", "--out", formed / "one")
            [page] = PdfReader(formed / "one" / f"{code}-answer.pdf").pages
            there = re.sub(r"[A-Z][a-z]+ [A-Z][a-z]+, ", "", pages(formed, "answers.pdf")[place])
            assert sorted(page.extract_text().split()) == sorted(there.split())


def test_more_forms_than_a_family_has_are_refused(formed):
    text = (formed / "plan.yaml").read_text(encoding="utf-8")
    (formed / "many.yaml").write_text(text.replace("forms: 2", "forms: 3"), encoding="utf-8")
    said = paper(formed, plan="many.yaml", out="many", code=2).output
    assert "items[1]: found 3 forms of long-step, which has 2: its options, in both hands, wanted `forms: 2`, or a topic" in said


def test_a_part_that_is_its_own_mirror_image_has_no_other_hand_whether_its_file_says_so_or_not(tmp_path):
    text = samples.STEP.replace("x: [30, open]", "x: [width/2 - 10, width/2 + 10]").replace(
        "  - base.left to step.left\n", "  - base.left to step.left\n  - step.left to step.right\n")
    bank = load_bank(samples.bank_of(tmp_path / "bank", middle=text))
    item = Item(1, ("middle",), 10, forms=2)
    with pytest.raises(PaperError, match="2 forms of middle, which has 1"):
        families_of(plan(item), bank, Key(bytes(32)), "p", settings_of(Style()))


def test_a_neighbour_with_the_mirror_image_of_the_same_sizes_is_not_allowed():
    family = BANK["stepped-block"]
    lots = []
    for form in (Form("stepped-block"), Form("stepped-block", mirrored=True)):
        formed = form.of(family)
        lots.append(measured((Slot(Item(1, ("stepped-block",), 10), 0, form, formed, formed, 1, SETTINGS, SETTINGS),),
                             Variant(0, 0, 5)))
    assert lots[0].block != lots[1].block and lots[0].printed == lots[1].printed
    assert not allowed(*lots)


def test_the_kind_of_an_item_adds_to_the_difficulty_of_its_lots():
    family, form = BANK["stepped-block"], Form("stepped-block")
    reached = [measured((Slot(Item(1, ("stepped-block",), 10, kind), 0, form, family, family, 1, settings, settings),),
                        Variant(0, 0, 5)).difficulty
               for kind, settings in (("views", SETTINGS), ("third-view", SETTINGS), ("missing-lines", SETTINGS),
                                      ("missing-lines", replace(SETTINGS, pictorial=True)))]
    assert reached[0] < reached[3] < reached[2] < reached[1]
