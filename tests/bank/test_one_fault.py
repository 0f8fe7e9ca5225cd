"""One fault, one message: what only follows from a faulty entry is not told, and a name that nobody knows is told once."""

from __future__ import annotations

from pathlib import Path

import pytest

from sheetgen.bank import BankError, load_text
from sheetgen.bank.specs import ADDED, CUT, FORMER_ADDED, FORMER_CUT
from tests.bank.samples import BLOCK, EVERY_KIND, changed

STEP = (Path(__file__).parents[2] / "docs" / "steps" / "step-7.yaml").read_text(encoding="utf-8")


def faults_of(text):
    with pytest.raises(BankError) as caught:
        load_text(text)
    return caught.value.faults


def everywhere(old, new):
    assert old in STEP
    return STEP.replace(old, new)


@pytest.mark.parametrize(("text", "found"), [
    (everywhere("depth", "Depth"), "'Depth'"),
    (everywhere("sink", "the-sink"), "'the-sink'"),
    (everywhere("depth", "my depth"), "'my depth'"),
    (everywhere("pitch", "größe"), "'größe'"),
    (everywhere("middle:", "Middle:"), "'Middle'"),
    (everywhere("name: stop", "name: Stop").replace("stop.", "Stop."), "'Stop'"),
    (everywhere("name: stop", "name: 12"), "12"),
    (everywhere("    name: stop\n", ""), "nothing"),
    (everywhere("name: slot", "name: stop"), "'stop' a second time"),
    (everywhere("name: stop", "name: edge").replace("stop.", "edge."), "'edge'"),
    (everywhere("sizes:", "size:"), "an unknown field 'size'"),
    (everywhere("features:", "feature:"), "an unknown field 'feature'"),
    (everywhere("one of: [holes, slot]", "oneof: [holes, slot]"), "an unknown field 'oneof'"),
    (everywhere("cut: open_slot", "cut: opn_slot"), "'opn_slot'"),
    (everywhere("  hole:   {one of: [8, 10, 12]}", "  hole:   {one of: []}"), "a list of 0"),
])
def test_a_faulty_name_is_one_fault_whatever_hangs_on_it(text, found):
    assert [fault.found for fault in faults_of(text)] == [found]


def test_a_misspelt_size_is_told_once_with_all_its_lines_and_the_name_that_was_meant():
    text = everywhere("  pitch:", "  ptich:")
    [fault] = faults_of(text)
    lines = [number for number, line in enumerate(text.split("\n"), 1) if "pitch/2" in line]
    assert fault.line == lines[0] and fault.found.startswith("'pitch' at column 10 of 'middle - pitch/2'")
    assert fault.wanted.startswith("ptich, ") and fault.wanted.endswith("(they stand under sizes: and values:)")


def test_a_feature_that_no_line_adds_is_told_once_with_all_its_lines():
    [fault] = faults_of(everywhere("name: stop", "name: stpo"))
    assert fault.found == "'stop' (also in lines 81, 82, 84)" and fault.wanted.startswith("stpo (")


def test_two_faults_that_have_nothing_to_do_with_each_other_are_two():
    assert len(faults_of(changed(STEP, ("name: stop", "name: Stop"), ("mouth: top", "mouth: tpo")))) == 2


def test_a_sum_that_is_wrong_beside_a_faulty_size_is_told_too():
    found = [fault.found for fault in faults_of(everywhere("  pitch:", "  Pitch:").replace("wall + 8", "wall +").replace(
        "y: [depth - wall, depth]", "y: [depth -, depth]"))]
    assert found[0] == "'Pitch'" and len(found) == 2 and "depth -" in found[1]


@pytest.mark.parametrize(("verb", "old", "new"), [
    *(("add", *pair) for pair in FORMER_ADDED.items()), *(("cut", *pair) for pair in FORMER_CUT.items())])
def test_an_old_feature_word_is_read_as_the_new_one_with_a_remark(verb, old, new):
    words = ADDED if verb == "add" else CUT
    line = next((row for row in EVERY_KIND.split("\n") if f"{verb}: {new}," in row), None)
    text = EVERY_KIND.replace(line, line.replace(new, old, 1)) if line else BLOCK + ""
    if line is None:                                                                     # a word for a box, or a cylinder
        upright = "axis: z, at: [20, 20], diameter: 8, z: [0, 60]"
        fields = upright if words[new] == "cylinder" else "x: [0, 9], y: [0, 9], z: [0, 60]"
        text = changed(BLOCK, ("measures:", f"  - {{{verb}: {old}, name: more, {fields}}}\nmeasures:"))
    family = load_text(text)
    assert new in [spec.word for spec in family.features] and old not in words
    [remark] = family.remarks
    assert remark.line and remark.found.startswith(f"'{old}'") and remark.wanted.startswith(f"'{new}'")
    assert load_text(text.replace(f"{verb}: {old},", f"{verb}: {new},")).remarks == ()


@pytest.mark.parametrize("line", ["features", "measures"])
def test_a_line_that_is_gone_is_one_fault_though_its_entries_have_come_to_stand_in_another_list(line):
    start = (Path(__file__).parents[2] / "templates" / "start" / "family.yaml").read_text(encoding="utf-8")
    assert f"\n{line}:\n" in start
    [fault] = faults_of(start.replace(f"\n{line}:\n", "\n"))
    assert (fault.field, fault.found) == (line, "nothing")


def test_what_is_wrong_with_a_list_before_a_line_that_is_gone_is_told_too():
    start = (Path(__file__).parents[2] / "templates" / "start" / "family.yaml").read_text(encoding="utf-8")
    broken = start.replace("\nfeatures:\n", "\n").replace("because:", "becuse:")
    assert [fault.field for fault in faults_of(broken)] == ["features", "rules[1].becuse"]


def test_a_name_that_a_number_sign_cuts_off_is_remarked():
    [remark] = load_text(STEP.replace("title: ", "title: Part #2 ", 1)).remarks
    assert remark.field == "title" and remark.found.startswith("'Part', cut off before '#2 ")
