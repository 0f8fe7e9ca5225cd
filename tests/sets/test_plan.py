"""Worksheet plans: what they say, and every fault of a plan told at once."""

from __future__ import annotations

import pytest

from sheetgen.bank import load_bank
from sheetgen.sets import Entry, PlanError, demonstration, load_plan
from tests.sets import samples


def plan_of(folder, text, families=("step", "other")):
    path = folder / "plan.yaml"
    path.write_text(text, encoding="utf-8")
    return load_plan(path, families, "plan.yaml")


def faults_of(folder, text, families=("step", "other")):
    with pytest.raises(PlanError) as caught:
        plan_of(folder, text, families)
    return [(fault.line, fault.field, fault.found) for fault in caught.value.faults]


def test_a_count_gives_seeds_one_after_another(tmp_path):
    lines = ("{family: step, seed: 9}", "{family: other, count: 3, first_seed: 20}", "{family: other, count: 2}")
    text = "problems:\n" + "".join(f"  - {line}\n" for line in lines)
    assert plan_of(tmp_path, text).entries == (
        Entry("step", 9), Entry("other", 20), Entry("other", 21), Entry("other", 22), Entry("other", 1), Entry("other", 2))


def test_the_course_stands_in_the_title_block(tmp_path):
    values = plan_of(tmp_path, samples.PLAN + "group: 10B\ndate: 2031-09-01\n").style.values
    assert (values.school, values.course, values.teacher) == ("ALDERBROOK", "DRAWING 1", "I. MARLOWE")
    assert (values.group, values.date) == ("10B", "2031-09-01")


def test_a_plan_that_says_nothing_of_the_look_gets_first_angle_on_a3(tmp_path):
    style = plan_of(tmp_path, samples.PLAN).style
    assert (style.projection, style.side, style.paper, style.figures) == ("first", "left", "A3", "aligned")


def test_a_plan_chooses_the_look(tmp_path):
    text = samples.PLAN + "projection: third\nside: right\npaper: A2\nfigures: upright\ntitle_block: quarry\n"
    style = plan_of(tmp_path, text).style
    assert (style.projection, style.side, style.paper, style.figures) == ("third", "right", "A2", "upright")
    assert style.title_block == "quarry"


def test_a_class_called_no_keeps_its_name(tmp_path):
    assert plan_of(tmp_path, samples.PLAN + "group: NO\n").style.values.group == "NO"


def test_all_faults_of_a_plan_are_told_at_once_each_with_its_line(tmp_path):
    text = """\
titel: Week 3
projection: second
paper: A5
problems:
  - {family: steep, seed: 1}
  - {family: step, seed: -1}
  - {family: step}
  - {family: step, seed: 1, count: 2}
  - {family: step, count: 100000}
  - step
"""
    assert faults_of(tmp_path, text) == [
        (1, "titel", "an unknown field"),
        (2, "projection", "'second'"),
        (3, "paper", "'A5'"),
        (5, "problems[1].family", "'steep'"),
        (6, "problems[2].seed", "'-1'"),
        (7, "problems[3].count", "no seed and no count"),
        (8, "problems[4]", "a seed beside count or first_seed"),
        (9, "problems[5].count", "'100000'"),
        (10, "problems[6]", "'step'"),
    ]


def test_a_misspelt_family_brings_the_nearest_name(tmp_path):
    with pytest.raises(PlanError, match=r"plan.yaml:2: problems\[1\].family: found 'stepp', wanted step \(one of step, other\)"):
        plan_of(tmp_path, "problems:\n  - {family: stepp, seed: 1}\n")


def test_the_same_problem_twice_is_a_fault(tmp_path):
    faults = faults_of(tmp_path, "problems:\n  - {family: step, seed: 2}\n  - {family: step, count: 2}\n")
    assert faults == [(3, "problems[2]", "step with seed 2, which stands in line 2 already")]


@pytest.mark.parametrize(("text", "found"), [
    ("", "nothing"),
    ("problems: []\n", "a list of 0"),
    ("title: x\n", "nothing"),
    ("problems: step\n", "'step'"),
])
def test_a_plan_without_problems_is_a_fault(tmp_path, text, found):
    assert (found in [fault[2] for fault in faults_of(tmp_path, text)])


def test_a_worksheet_has_an_upper_limit(tmp_path):
    text = "problems:\n  - {family: step, count: 500}\n  - {family: other, count: 500}\n"
    assert faults_of(tmp_path, text) == [(1, "problems", "1000 problems")]


def test_a_text_that_cannot_be_lettered_is_a_fault_of_the_plan(tmp_path):
    faults = faults_of(tmp_path, samples.PLAN.replace("ALDERBROOK", "Школа") + f"date: {'9' * 81}\n")
    assert [(line, field) for line, field, _ in faults] == [(2, "school"), (8, "date")]


@pytest.mark.parametrize("block", ["../block.yaml", "/etc/passwd", "sub/block.yaml", "missing.yaml", "harbor", "[a, b]"])
def test_a_plan_reaches_no_title_block_outside_its_folder(tmp_path, block):
    (tmp_path / "block.yaml").write_text("title: x\n", encoding="utf-8")
    folder = tmp_path / "plans"
    (folder / "sub").mkdir(parents=True)
    (folder / "sub" / "block.yaml").write_text("title: x\n", encoding="utf-8")
    assert [fault[1] for fault in faults_of(folder, f"title_block: {block}\n{samples.PLAN}")] == ["title_block"]


def test_a_link_out_of_the_folder_is_no_title_block(tmp_path):
    (tmp_path / "block.yaml").write_text("title: x\n", encoding="utf-8")
    folder = tmp_path / "plans"
    folder.mkdir()
    (folder / "block.yaml").symlink_to(tmp_path / "block.yaml")
    assert [fault[1] for fault in faults_of(folder, f"title_block: block.yaml\n{samples.PLAN}")] == ["title_block"]


def test_a_title_block_beside_the_plan_is_taken(tmp_path):
    (tmp_path / "ours.yaml").write_text("title: x\n", encoding="utf-8")
    assert plan_of(tmp_path, f"title_block: ours.yaml\n{samples.PLAN}").style.title_block == tmp_path / "ours.yaml"


def test_the_demonstration_plan_asks_for_eight_problems_of_the_bank():
    assert len(load_plan(demonstration(), load_bank()).entries) == 8
