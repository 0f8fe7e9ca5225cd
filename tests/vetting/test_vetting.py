"""Vetting: each kind of fault that a family can have is found and told with its place; every shipped family is clean."""

from __future__ import annotations

import json
import math
import re
from dataclasses import replace

import numpy as np
import pytest
from click.testing import CliRunner

from sheetgen.bank import BankError, load_bank
from sheetgen.bank.counting import attempts_of, kept_and_variants
from sheetgen.bank.features import Block, Hole, Slant
from sheetgen.cli import main
from sheetgen.projection import Arc
from sheetgen.sight.parallels import least_lines
from sheetgen.sight.walls import least_wall
from sheetgen.solid import build
from sheetgen.vetting import vet, vet_all
from sheetgen.vetting.choices import distinct
from tests import samples

CLEAN = """\
title: Notched step
topics: [steps, notches]
rung: 1
sizes:
  width:  {from: 60, to: 90, step: 1}
  depth:  {from: 40, to: 60, step: 1}
  height: {from: 40, to: 60, step: 1}
  shelf:  {from: 12, to: 24, step: 1}
features:
  - add: block
    name: base
    x: [0, width]
    y: [0, depth]
    z: [0, height]
  - cut: step
    name: step
    x: [30, open]
    z: [shelf, open]
  - cut: notch
    name: notch
    x: [width - 16, open]
    y: [open, 14]
measures:
  - base.left to base.right
  - base.front to base.back
  - base.bottom to base.top
  - base.left to step.left
  - base.bottom to step.bottom
  - notch.left to base.right
  - base.front to notch.back
"""
"""Nothing is wrong with it."""

MEASURES = "measures:\n"


def report_of(folder, text, seeds=3, sheets=0):
    return vet(samples.family_of(folder, text), seeds, sheets)


def faults_of(folder, *changes, seeds=3, sheets=0):
    """Line, field and what was found, of all faults of the clean family with some changes."""
    text = CLEAN
    for old, new in changes:
        assert text.count(old) == 1, old
        text = text.replace(old, new)
    return [(fault.line, fault.field, fault.found) for fault in report_of(folder, text, seeds, sheets).faults]


@pytest.mark.parametrize("command", [["sheet", "step", "--seed", "1"], ["bank", "vet"]])
def test_a_symmetry_that_the_part_has_not_is_a_fault_of_the_family(tmp_path, monkeypatch, command):
    bank = samples.bank_of(tmp_path / "bank", step=CLEAN.replace("rung: 1", "rung: 1\nsymmetry: [x, y]"))
    monkeypatch.chdir(tmp_path)
    done = CliRunner().invoke(main, [*command, "--only-bank", str(bank)])
    assert done.exit_code in (1, 2)
    for axis, side in (("x", "step.left"), ("y", "notch.back")):
        told = " ".join(done.output.split())
        assert f"symmetry: found {axis}, but {side} has no mirror image along {axis}" in told
        assert "wanted only axes along which every variant is symmetric" in told


def line_of(words, text=CLEAN):
    return next(number for number, line in enumerate(text.splitlines(), 1) if words in line)


def test_a_clean_family_has_no_faults_and_the_report_its_figures(tmp_path):
    report = report_of(tmp_path, CLEAN, seeds=6, sheets=2)
    assert report.clean and report.notes == ()
    assert (report.solids, report.sheets, report.refused, report.reasons) == (6, 2, 0.0, ())
    assert (report.rung, report.computed) == (1, 1)
    assert report.variants == 31 * 21 * 21 * 13 // 1000 * 1000 or abs(report.variants - 31 * 21 * 21 * 13) < 10_000
    assert report.kept == 1.0
    assert all(count > 0 for count in report.adds.values())


def test_the_least_wall_face_and_distance_of_lines_are_those_of_the_part(tmp_path):
    """A shelf of 12 to 24 under the step, which is the thinnest; a notch 14 deep and 16 long is the narrowest."""
    least = report_of(tmp_path, CLEAN.replace("{from: 12, to: 24, step: 1}", "{one of: [9, 24]}"), seeds=8).least
    assert least["wall"].value == pytest.approx(9.0)
    assert least["face"].value == pytest.approx(9.0)
    assert least["lines"].value == pytest.approx(9.0)


def test_a_drill_point_that_comes_near_another_face_makes_a_thin_wall():
    # the point of a hole of 12 is 6 / tan 60 = 3.46 long: of 8 under a hole 12 deep 4.54 are left, less beside a slot from below
    room = Block("base", False, (0, 60), (0, 40), (0, 20))
    pit = Hole("pit", "top", ((30, 20),), 12, depth=12, point_angle=120)
    value, where = least_wall(build([room, pit]))
    assert value == pytest.approx(20 - 12 - 6 / math.tan(math.radians(60)))
    assert where == "between the tip of pit.point and base.bottom"
    assert least_wall(build([room, replace(pit, point_angle=None)]))[0] == pytest.approx(8)


def test_a_file_that_cannot_be_read_is_reported_with_the_lines_of_all_its_faults(tmp_path):
    text = CLEAN.replace("rung: 1", "rung: high").replace("width - 16", "width - ")
    with pytest.raises(BankError) as caught:
        samples.family_of(tmp_path, text)
    [report] = vet_all([caught.value])
    assert [fault.line for fault in report.faults] == [line_of("rung: 1"), line_of("width - 16")]
    assert not report.clean and report.name == "step"


def test_rules_that_reject_too_much_are_told_with_the_worst_of_them(tmp_path):
    changes = ("features:\n", "rules:\n  - width > 80\n  - depth == 40 and height == 50\nfeatures:\n")
    [(line, field, found), *_] = faults_of(tmp_path, changes)
    assert (line, field) == (11, "rules[2]")
    assert found == "rules that reject 100.0 % of all choices of sizes, most of all here (100 %): depth == 40 and height == 50"


def test_a_rule_that_rejects_nothing_is_a_note(tmp_path):
    report = report_of(tmp_path, CLEAN.replace("features:\n", "rules:\n  - width > 10\nfeatures:\n"))
    assert report.clean and [note.field for note in report.notes] == ["rules[1]"]


def test_few_variants_are_counted_part_by_part(tmp_path):
    family = samples.family_of(tmp_path, samples.STEP)
    assert kept_and_variants(family, attempts_of(family)) == (1.0, 28)
    assert distinct(family) == 28
    assert (0, "sizes", "28 different parts from 3000 seeds") in [
        (fault.line, fault.field, fault.found) for fault in vet(family, 2, 0).faults]


def test_sizes_of_a_feature_that_is_not_there_make_no_more_variants(tmp_path):
    text = samples.STEP.replace("rules:\n", """\
  kind:  {one of: [plain, slotted]}
  gap:   {from: 5, to: 14, step: 1}
rules:
""").replace(MEASURES, """\
  - cut: slot
    name: slot
    when: kind == "slotted"
    x: [0, gap]
    z: [30, open]
measures:
""")
    family = samples.family_of(tmp_path, text)
    _, variants = kept_and_variants(family, attempts_of(family, 4000))
    assert abs(variants - 28 * (1 + 10)) < 20


def test_a_size_that_nothing_uses_is_told_with_its_line(tmp_path):
    change = ("features:\n", "  idle: {from: 1, to: 9, step: 1}\nfeatures:\n")
    assert faults_of(tmp_path, change) == [(line_of("features:"), "sizes.idle", "a size that no feature uses")]


@pytest.mark.parametrize(("x", "y", "wanted"), [
    ("[width + 5, width + 20]", "[0, 20]", "falls apart into 2 pieces"),
    ("[width, width + 20]", "[depth, depth + 20]", "falls apart into 2 pieces"),
])
def test_parts_that_fall_apart_are_a_fault_with_the_number_of_variants(tmp_path, x, y, wanted):
    pad = f"  - {{add: block, name: pad, x: {x}, y: {y}, z: [0, 10]}}\nmeasures:\n"
    [(line, field, found), *_] = faults_of(tmp_path, (MEASURES, pad))
    assert wanted in found and "3 variants, such as step-5000" in found
    assert (line, field) == (0, "features")


def test_parts_that_touch_along_an_edge_or_in_a_point_only_are_a_fault(tmp_path):
    """Two pockets that meet corner to corner."""
    pockets = "".join(f"  - {{cut: recess, name: {name}, x: [{a}, {a + 5}], y: [{a}, {a + 5}], z: [height - 9, open]}}\n"
                      for name, a in (("one", 5), ("two", 10)))
    [(_, _, found), *_] = faults_of(tmp_path, (MEASURES, pockets + MEASURES))
    assert "parts of the solid touch along an edge or in a point only" in found


def test_a_feature_that_changes_nothing_is_told_with_its_line(tmp_path):
    within = "  - {add: block, name: within, x: [2, 20], y: [2, 20], z: [2, 10]}\n" + MEASURES
    [(line, field, found)] = faults_of(tmp_path, (MEASURES, within))
    assert (line, field) == (line_of(MEASURES.strip()), "features[4] within") and "it changes nothing" in found


def test_a_feature_that_another_one_takes_away_is_told_with_its_line(tmp_path):
    both = """\
  - {cut: groove, name: groove, x: [4, 10], z: [height - 5, open]}
  - {cut: step, name: ledge, x: [open, 15], z: [height - 9, open]}
measures:
"""
    faults = faults_of(tmp_path, (MEASURES, both))
    line = line_of(MEASURES.strip())
    assert (line, "features[4] groove", "a feature of which no face is left (3 variants, such as step-5000)") in faults
    assert (line, "features[4] groove", "a feature without which the part is the same (1 variant, such as step-5000)") in faults


def test_a_missing_measure_is_told_with_the_side_that_stays_free(tmp_path):
    [(_, field, found)] = faults_of(tmp_path, ("  - base.bottom to step.bottom\n", ""))
    assert field == "features[2] step" and found == "nothing fixes step.bottom"


def test_a_doubled_measure_is_told_with_its_line(tmp_path):
    faults = faults_of(tmp_path, ("  - base.left to step.left\n", "  - base.left to step.left\n  - step.left to base.right\n"))
    assert faults and all("say the same thing" in found for _, _, found in faults)
    listed = {int(word.strip(",")) for word in faults[0][2].split() if word.strip(",").isdigit()}
    assert line_of("base.left to step.left") + 1 in listed


def test_an_alternative_that_does_not_tell_as_much_is_told_with_its_line(tmp_path):
    """The step's level is not told by the height of the block, which is told already."""
    listed = "  - base.bottom to step.bottom\n"
    text = CLEAN.replace(listed, "  - base.bottom to step.bottom or base.bottom to base.top along z\n")
    [fault] = report_of(tmp_path, text).faults
    assert fault.field == "measures 'base.bottom to base.top along z'"
    assert text.splitlines()[fault.line - 1].startswith(listed.strip("\n"))
    assert "an alternative that will not do: nothing fixes where step.bottom is" in fault.found


def test_alternatives_that_will_not_do_together_are_told(tmp_path):
    """Each height by itself may be told by the step's; with both told so, nothing tells how high the block is."""
    text = CLEAN.replace("  - base.bottom to base.top\n", "  - base.bottom to base.top or step.bottom to base.top\n")
    text = text.replace("  - base.bottom to step.bottom\n", "  - base.bottom to step.bottom or base.top to step.bottom\n")
    [fault] = report_of(tmp_path, text).faults
    assert fault.field == "measures 'step.bottom to base.top' and 'base.top to step.bottom'"
    assert "alternatives that will not do together: nothing fixes" in fault.found


def test_how_often_each_alternative_is_taken_is_counted_and_one_never_taken_a_remark(tmp_path):
    text = CLEAN.replace("  - base.bottom to step.bottom\n", "  - base.bottom to step.bottom or step.bottom to base.top\n")
    report = report_of(tmp_path, text, seeds=5)
    assert [each.text for each in report.alternatives] == ["base.bottom to step.bottom", "step.bottom to base.top"]
    assert sum(each.times for each in report.alternatives) == 5 and {each.of for each in report.alternatives} == {5}
    never = [f"measures '{each.text}'" for each in report.alternatives if not each.times]
    assert [note.field for note in report.notes if "never taken" in note.found] == never
    assert report.clean


def test_measures_are_vetted_as_their_author_prefers_them(tmp_path):
    """A choice that happens to hold does not hide that the first listed does not."""
    text = CLEAN.replace("base.bottom to step.bottom", "base.bottom to base.top along z or base.bottom to step.bottom")
    assert any("nothing fixes" in fault.found for fault in report_of(tmp_path, text).faults)


def test_a_measure_of_a_side_that_is_gone_is_told_with_its_line(tmp_path):
    deeper = "  - {cut: step, name: deeper, x: [25, open], z: [8, open]}\nmeasures:\n"
    lines = [line for line, _, _ in faults_of(tmp_path, (MEASURES, deeper))]
    assert line_of("base.left to step.left") + 1 in lines


@pytest.mark.parametrize(("change", "wanted"), [
    (("[shelf, open]", "[3, open]"), "a wall 3 mm thick: between "),
    (("y: [open, 14]", "y: [open, 3]"), "a face 3 mm wide: "),
    (("y: [open, 14]", "y: [open, 2]"), "parallel lines 2 mm apart on paper: "),
])
def test_thin_walls_narrow_faces_and_lines_too_near_are_faults_with_a_variant_to_look_at(tmp_path, change, wanted):
    assert any(found.startswith(wanted) and "(step-50" in found for _, _, found in faults_of(tmp_path, change))


def test_circles_about_one_centre_are_near_only_where_they_run_beside_each_other():
    def quarter(radius, start):
        return Arc(np.zeros(2), np.array([radius, 0.0]), np.array([0.0, radius]), start, start + np.pi / 2)

    class Drawn:
        name = "top"
        hidden_lines = ()

        def __init__(self, *lines):
            self.visible_lines = lines

    assert least_lines(Drawn(quarter(10.0, 0.0), quarter(11.0, 0.5)), 1.0)[0] == pytest.approx(1.0)
    assert least_lines(Drawn(quarter(10.0, 0.0), quarter(11.0, 2 * np.pi)), 1.0)[0] == pytest.approx(1.0)
    assert least_lines(Drawn(quarter(10.0, 0.0), quarter(11.0, 2.0)), 1.0)[0] > 1000


def test_a_view_that_shows_nothing_of_its_own_is_a_fault(tmp_path):
    """A stepped block: its front view tells all, and the others are ruled across."""
    views = [fault.found for fault in report_of(tmp_path, samples.STEP).faults if fault.field == "features"]
    assert views == ["a top view that shows nothing of its own", "a side view that shows nothing of its own"]


def test_variants_that_cannot_be_read_are_counted_by_reason(tmp_path):
    edge_on = CLEAN.replace(MEASURES, """\
  - {cut: slant, name: ramp, plane: right, line: [[depth - 12, height], [depth, height - 12]], remove: above}
measures:
  - edge of ramp.face and base.top to base.back along y
  - edge of ramp.face and base.back to base.top along z
""")
    report = report_of(tmp_path, edge_on, seeds=4)
    assert report.refused == 1.0
    assert [count for reason, count in report.reasons if "edge-on" in reason] == [4]
    assert any("4 of 4 pictorials that cannot be read" in fault.found for fault in report.faults)


def test_variants_that_cannot_be_drawn_on_paper_are_counted_too(tmp_path):
    long = CLEAN.replace("{from: 60, to: 90, step: 1}", "{from: 9000, to: 9030, step: 1}")
    report = report_of(tmp_path, long, seeds=3, sheets=3)
    assert any("3 of 3 sheets that cannot be drawn" in fault.found for fault in report.faults)


def test_a_title_that_no_title_block_can_hold_is_a_fault_of_the_family(tmp_path):
    title = re.sub("title: .*", f"title: {'W' * 60}", CLEAN)
    [fault] = vet(samples.family_of(tmp_path, title), 2, 1).faults
    assert fault.found.startswith("what a title block cannot hold: harbour: 'WWW")
    assert fault.wanted == "a shorter title or topic"


def test_the_longest_name_of_a_family_has_room_because_codes_do_not_spell_it(tmp_path):
    assert vet(samples.family_of(tmp_path, CLEAN, "w" * 40), 2, 1).faults == ()


def test_a_rung_that_is_not_the_computed_one_is_a_fault(tmp_path):
    [(_, field, found)] = faults_of(tmp_path, ("rung: 1", "rung: 4"))
    assert field == "rung" and found.startswith("4, and a difficulty of 1.") and found.endswith("which is rung 1")


def run(*words, code):
    outcome = CliRunner().invoke(main, ["bank", "vet", "--seeds", "2", *map(str, words)])
    assert outcome.exit_code == code, outcome.output
    return outcome.stdout


def test_the_command_ends_with_1_if_a_family_has_faults_and_tells_each_in_words(tmp_path):
    bank = samples.bank_of(tmp_path / "bank", clean=CLEAN, step=samples.STEP, bad="title: 1\n")
    said = run("--only-bank", bank, code=1)
    assert said.endswith("3 families vetted, 1 clean\n")
    assert "step.yaml: features: found a side view that shows nothing of its own" in said
    assert "bad.yaml:1: title" in said
    assert run(bank / "clean.yaml", code=0).endswith("1 family vetted, 1 clean\n")


def test_a_topic_that_stands_nowhere_is_remarked_on_and_is_no_fault(tmp_path):
    bank = samples.bank_of(tmp_path / "bank", clean=CLEAN.replace("[steps, notches]", "[steps, notchs]"))
    said = run("--only-bank", bank, code=0)
    assert f"note: {bank}/clean.yaml: topics: found 'notchs', which no other topic covers, wanted notches, " in said
    assert said.endswith("1 family vetted, 1 clean\n")


def test_the_report_as_json_has_every_figure_of_the_table(tmp_path):
    bank = samples.bank_of(tmp_path / "bank", clean=CLEAN)
    [report] = json.loads(run("--only-bank", bank, "--json", code=0))
    assert report["clean"] and (report["rung"], report["computed"]) == (1, 1)
    assert set(report["least"]) <= {"wall", "face", "lines"} and set(report["adds"]) == {"front", "top", "left"}
    assert {"kept", "variants", "index", "refused", "reasons", "rules", "faults", "notes"} <= set(report)


SHIPPED = load_bank()


@pytest.mark.parametrize("name", sorted(SHIPPED))
def test_every_shipped_family_vets_clean(name):
    report = vet(SHIPPED[name], seeds=6, sheets=1)
    assert report.faults == ()
    assert report.computed == SHIPPED[name].rung


@pytest.mark.parametrize(("line", "wall"), [
    (((0, 60), (60, 0)), 60.0),          # 45 degrees: a wedge's tip, which is no wall
    (((0, 60), (60, 40)), 46.7),         # 18 degrees: what stands between is one; it is looked at in the middle of facets
])
def test_a_wedges_tip_is_no_thin_wall(line, wall):
    block = Block("base", False, (0, 60), (0, 60), (0, 60))
    found, _ = least_wall(build([block, Slant("ramp", "front", line, "above", (None, None))]))
    assert found == pytest.approx(wall, abs=0.1)
