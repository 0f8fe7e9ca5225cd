"""Worksheet plans: what they say, and every fault of a plan told at once."""

from __future__ import annotations

import pytest

from sheetgen.bank import load_bank
from sheetgen.exercises import RefusedSeedError, look_at, make_exercise, serves_seed
from sheetgen.sets import Beside, ChoiceError, Entry, PlanError, demonstration, load_plan, wished
from sheetgen.shared import shipped
from sheetgen.sheet import Style
from tests import samples
from tests.samples import step

BANK = {"step": step(1, "steps"), "other": step(2, "Holes", "steps")}
RING = {"aa": step(2, "slots"), "bb": step(1, "slots", "holes"), "cc": step(3, "slots"), "dd": step(1, "steps")}


def plan_of(folder, text, families=BANK):
    path = folder / "plan.yaml"
    path.write_text(text, encoding="utf-8")
    return load_plan(path, load_bank(samples.bank_of(folder / "bank", **families)), "plan.yaml")


def problems_of(folder, *lines, families=RING):
    """Family and seed of each problem that the lines of a plan come to."""
    text = "problems:\n" + "".join(f"  - {line}\n" for line in lines)
    return [(entry.family, entry.seed) for entry in plan_of(folder, text, families).entries]


def faults_of(folder, text, families=BANK):
    with pytest.raises(PlanError) as caught:
        plan_of(folder, text, families)
    return [(fault.line, fault.field, fault.found) for fault in caught.value.faults]


def test_a_count_gives_seeds_one_after_another(tmp_path):
    lines = ("{family: step, seed: 9}", "{family: other, count: 3, first_seed: 20}", "{family: other, count: 2}")
    text = "problems:\n" + "".join(f"  - {line}\n" for line in lines)
    assert plan_of(tmp_path, text).entries == (
        Entry("step", 9), Entry("other", 20), Entry("other", 21), Entry("other", 22), Entry("other", 1), Entry("other", 2))


def test_the_course_stands_in_the_title_block(tmp_path):
    values = plan_of(tmp_path, samples.PLAN + "class: 10B\ndate: 2031-09-01\nstatus: For practice\n").style.values
    assert (values.school, values.course, values.teacher) == ("EXAMPLEFORD", "DRAWING 1", "T. SQUARE")
    assert (values.group, values.date, values.status) == ("10B", "2031-09-01", "For practice")


def test_a_plan_knows_in_which_line_it_says_what_stands_in_the_title_block(tmp_path):
    plan = plan_of(tmp_path, samples.PLAN + 'approved_by: N. FERROUS\nstatus: ""\n')
    assert (plan.style.values.set_title, plan.style.values.approved_by) == ("Week 3", "N. FERROUS")
    said = {name: (place.file, place.line, place.field) for name, place in plan.style.places.items()}
    assert said == {"set_title": ("plan.yaml", 1, "title"), "school": ("plan.yaml", 2, "school"),
                    "course": ("plan.yaml", 3, "course"), "teacher": ("plan.yaml", 4, "teacher"),
                    "approved_by": ("plan.yaml", 8, "approved_by")}           # nothing is said of the status
    assert [entry.place[1:] for entry in plan.entries] == [(6, "problems[1]"), (7, "problems[2]"), (7, "problems[2]")]


def test_a_plan_that_says_nothing_of_the_look_gets_first_angle_on_a3(tmp_path):
    style = plan_of(tmp_path, samples.PLAN).style
    assert (style.projection, style.side, style.paper, style.figures) == ("first", "left", "A3", "aligned")


def test_a_plan_chooses_the_look(tmp_path):
    text = samples.PLAN + "projection: third\nside: both\npaper: A2\nfigures: upright\ntitle_block: quarry\n"
    text += "wording: en-elevations\n"
    style = plan_of(tmp_path, text).style
    assert (style.projection, style.side, style.paper, style.figures) == ("third", "both", "A2", "upright")
    assert (style.title_block, style.wording) == ("quarry", "en-elevations")


def test_a_plan_chooses_the_kind_of_its_exercises(tmp_path):
    assert plan_of(tmp_path, samples.PLAN).kind == plan_of(tmp_path, samples.PLAN + "kind: views\n").kind == "views"
    assert faults_of(tmp_path, "kind: viws\n" + samples.PLAN) == [(1, "kind", "'viws'")]


def test_a_class_called_no_keeps_its_name(tmp_path):
    assert plan_of(tmp_path, samples.PLAN + "class: NO\n").style.values.group == "NO"


def test_a_plan_chooses_what_is_missing_from_given_views(tmp_path):
    text = samples.PLAN + "kind: third-view\nmissing: Top\nany: yes\npictorial: yes\nwhole: yes\n"
    (tmp_path / "plan.yaml").write_text(text, encoding="utf-8")
    style = load_plan(tmp_path / "plan.yaml", load_bank(samples.bank_of(tmp_path / "bank", step=samples.STEP))).style
    assert (style.missing, style.any_answer, style.pictorial, style.whole) == ("top", True, True, True)


def test_a_plan_chooses_how_a_pictorial_is_drawn_and_whether_on_a_grid(tmp_path):
    text = samples.PLAN + "kind: pictorial\ndrawn: Cabinet\ngrid: yes\n"
    (tmp_path / "plan.yaml").write_text(text, encoding="utf-8")
    style = load_plan(tmp_path / "plan.yaml", load_bank(samples.bank_of(tmp_path / "bank", step=samples.STEP))).style
    assert (style.drawn, style.grid) == ("cabinet", True)
    assert [fault[1:] for fault in faults_of(tmp_path, samples.PLAN + "drawn: dimetric\n")] == [("drawn", "'dimetric'")]


def test_all_faults_of_a_plan_are_told_at_once_each_with_its_line(tmp_path):
    text = """\
titel: Week 3
projection: second
paper: A5
problems:
  - {family: steep, seed: 1}
  - {family: step, seed: -1}
  - {family: step, seed: 1, count: 2}
  - {family: step, count: 100000}
  - step
"""
    assert faults_of(tmp_path, text) == [
        (1, "titel", "an unknown field 'titel'"),
        (2, "projection", "'second'"),
        (3, "paper", "'A5'"),
        (5, "problems[1].family", "'steep'"),
        (6, "problems[2].seed", "'-1'"),
        (7, "problems[3]", "a seed beside count or first_seed"),
        (8, "problems[4].count", "'100000'"),
        (9, "problems[5]", "'step'"),
    ]


def test_a_misspelt_family_brings_the_nearest_name(tmp_path):
    with pytest.raises(PlanError, match=r"plan.yaml:2: problems\[1\].family: found 'stepp', wanted step \(one of other, step\)"):
        plan_of(tmp_path, "problems:\n  - {family: stepp, seed: 1}\n")


def test_the_same_problem_twice_is_a_fault(tmp_path):
    faults = faults_of(tmp_path, "problems:\n  - {family: step, seed: 2}\n  - {family: step, count: 2}\n")
    assert faults == [(3, "problems[2]", "step with seed 2, which stands in line 2 already")]


@pytest.mark.parametrize(("text", "found"), [
    ("", "an empty file"),
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
    faults = faults_of(tmp_path, samples.PLAN.replace("EXAMPLEFORD", "Школа") + f"date: {'9' * 81}\n")
    assert [(line, field) for line, field, _ in faults] == [(2, "school"), (8, "date")]


@pytest.mark.parametrize("field", ["title_block", "wording"])
@pytest.mark.parametrize("block", ["../block.yaml", "/etc/passwd", "sub/block.yaml", "missing.yaml", "harbor", "[a, b]"])
def test_a_plan_reaches_no_template_outside_its_folder(tmp_path, field, block):
    (tmp_path / "block.yaml").write_text("title: x\n", encoding="utf-8")
    folder = tmp_path / "plans"
    (folder / "sub").mkdir(parents=True)
    (folder / "sub" / "block.yaml").write_text("title: x\n", encoding="utf-8")
    assert [fault[1] for fault in faults_of(folder, f"{field}: {block}\n{samples.PLAN}")] == [field]


def test_a_link_out_of_the_folder_is_no_title_block(tmp_path):
    (tmp_path / "block.yaml").write_text("title: x\n", encoding="utf-8")
    folder = tmp_path / "plans"
    folder.mkdir()
    (folder / "block.yaml").symlink_to(tmp_path / "block.yaml")
    assert [fault[1] for fault in faults_of(folder, f"title_block: block.yaml\n{samples.PLAN}")] == ["title_block"]


def test_a_title_block_beside_the_plan_is_taken(tmp_path):
    (tmp_path / "ours.yaml").write_text("title: x\n", encoding="utf-8")
    assert plan_of(tmp_path, f"title_block: ours.yaml\n{samples.PLAN}").style.title_block == tmp_path / "ours.yaml"


def test_a_topic_goes_round_all_families_that_have_it_before_one_comes_again(tmp_path):
    assert problems_of(tmp_path, "{topic: slots, count: 6}") == [
        ("bb", 1), ("bb", 4), ("aa", 2), ("aa", 5), ("cc", 3), ("cc", 6)]


def test_a_plan_of_next_week_goes_on_where_this_one_ended(tmp_path):
    this, following = (problems_of(tmp_path, f"{{topic: slots, count: 2, first_seed: {first}}}") for first in (1, 3))
    assert {family for family, _ in this} == {"aa", "bb"} and {family for family, _ in following} == {"bb", "cc"}


def test_a_rung_gives_families_of_that_rung_only(tmp_path):
    assert problems_of(tmp_path, "{rung: 1, count: 3}") in (
        [("bb", 1), ("dd", 2), ("bb", 3)], [("dd", 1), ("bb", 2), ("dd", 3)])


def test_topic_and_rungs_together_narrow_the_choice_and_the_easiest_come_first(tmp_path):
    assert problems_of(tmp_path, "{rung: [1, 2], topic: Slots, count: 4}") == [
        ("bb", 1), ("bb", 3), ("aa", 2), ("aa", 4)]


def test_a_wish_takes_no_problem_that_another_line_names_or_wishes_for(tmp_path):
    lines = ("{rung: 3, count: 2}", "{topic: slots, rung: 3, count: 2}", "{family: cc, seed: 1}")
    assert problems_of(tmp_path, *lines) == [("cc", 2), ("cc", 3), ("cc", 4), ("cc", 5), ("cc", 1)]


@pytest.mark.parametrize(("line", "field", "found"), [
    ("{topic: threads, count: 2}", "problems[1].topic", "'threads'"),
    ("{rung: 6, count: 2}", "problems[1].rung", "'6'"),
    ("{rung: [], count: 2}", "problems[1].rung", "a list of 0"),
    ("{rung: [1, two], count: 2}", "problems[1].rung", "'two'"),
    ("{topic: {slots: 1}, count: 2}", "problems[1].topic", "fields slots"),
    ("{topic: steps, rung: 3, count: 1}", "problems[1]", "no family with topic steps, rung 3"),
    ("{topic: slots, family: aa, count: 1}", "problems[1]", "topic beside family"),
    ("{topic: slots, rung: 1, seed: 4}", "problems[1]", "topic and rung beside seed"),
])
def test_a_wish_that_cannot_be_met_is_told_with_its_line(tmp_path, line, field, found):
    assert faults_of(tmp_path, f"problems:\n  - {line}\n", RING) == [(2, field, found)]


SOME_SERVE = {"clipped": samples.CLIPPED, "step": step(1, "steps"), "other": step(2, "steps")}
"""The first does not serve the kind third-view."""


def test_a_wish_for_third_views_takes_only_families_that_serve_them(tmp_path):
    wished = "problems:\n  - {topic: steps, count: 6}\n"
    of = {kind: {entry.family for entry in plan_of(tmp_path, f"kind: {kind}\n{wished}", SOME_SERVE).entries}
          for kind in ("views", "third-view")}
    assert of == {"views": {"clipped", "step", "other"}, "third-view": {"step", "other"}}


def test_what_is_said_beside_the_plan_decides_too_which_families_serve(tmp_path):
    path = tmp_path / "plan.yaml"
    path.write_text("problems:\n  - {topic: steps, count: 6}\n", encoding="utf-8")
    bank, told = load_bank(samples.bank_of(tmp_path / "bank", **SOME_SERVE)), []
    usual = load_plan(path, bank, said=Beside(told=told.append))
    assert told == [] and len({entry.family for entry in usual.entries}) == 3              # nothing need be looked at
    third = load_plan(path, bank, said=Beside("third-view", {"side": "right"}, told.append))
    assert told == [3] and {entry.family for entry in third.entries} == {"step", "other"}
    assert usual.problems.wishes == third.problems.wishes and usual.problems.families != third.problems.families


def test_a_family_that_is_named_and_does_not_serve_the_kind_is_told_with_its_line_and_the_reason(tmp_path):
    text = "kind: third-view\nproblems:\n  - {family: step}\n  - {family: clipped, count: 2}\n"
    [(line, field, found)] = faults_of(tmp_path, text, SOME_SERVE)
    assert (line, field) == (4, "problems[2].family")
    assert found == ("clipped, which does not serve the kind third-view: "
                     "not all its faces are seen edge-on or in their true shape in one view")
    with pytest.raises(PlanError, match=r"wanted a family that does .*sheetgen bank list --kinds.* or another kind"):
        plan_of(tmp_path, text, SOME_SERVE)


def test_a_seed_that_can_be_asked_in_the_kind_is_printed_again_though_others_of_its_family_cannot(tmp_path):
    family = samples.family_of(tmp_path / "alone", samples.RARELY_PLAIN)
    [looked] = look_at((Style(), ("third-view",)), family)
    able = [seed for seed in range(1, 9) if serves_seed(Style(), "third-view", family, seed)]
    assert looked.never and 0 < len(able) < 8                          # rare, and some seeds have one
    for seed in range(1, 9):
        text = f"kind: third-view\nproblems:\n  - {{family: step, seed: {seed}}}\n"
        if seed in able:
            assert plan_of(tmp_path, text, {"step": samples.RARELY_PLAIN}).entries == (Entry("step", seed),)
            continue
        assert [found[:2] for found in faults_of(tmp_path, text, {"step": samples.RARELY_PLAIN})] == [(3, "problems[1].family")]
        with pytest.raises(RefusedSeedError):
            make_exercise(family, seed, samples.SETTINGS, kind="third-view")
    assert make_exercise(family, able[0], samples.SETTINGS, kind="third-view").sheets


def test_a_wish_that_no_family_can_meet_in_its_kind_tells_how_many_do_and_which(tmp_path):
    families = {**SOME_SERVE, "clipped": samples.CLIPPED.replace("rung: 1", "rung: 5")}
    with pytest.raises(PlanError) as caught:
        plan_of(tmp_path, "kind: third-view\nproblems:\n  - {rung: 5}\n", families)
    [fault] = caught.value.faults
    assert (fault.line, fault.field) == (3, "problems[1]")
    assert fault.found == "rung 5: none of 1 that fit serve the kind third-view"
    assert fault.wanted == "another topic or rung, or another kind; of all families 2 (other, step) serve it"


def test_whether_families_serve_is_asked_only_of_a_plan_without_other_faults(tmp_path, monkeypatch):
    monkeypatch.setattr("sheetgen.exercises.served.Serving.each", None)
    assert faults_of(tmp_path, "kind: third-view\nproblems:\n  - {topic: steps}\n  - {family: step, seed: -1}\n", SOME_SERVE) == [
        (4, "problems[2].seed", "'-1'")]


def test_in_a_term_too_only_families_come_that_serve_the_kind(tmp_path):
    (tmp_path / "plan.yaml").write_text(
        "kind: third-view\nterm: Autumn\nweeks: 3\nproblems:\n  - {topic: steps, count: 4}\n", encoding="utf-8")
    many = {name: text.replace("step: 5}", "step: 0.1}") for name, text in SOME_SERVE.items()}
    bank = load_bank(samples.bank_of(tmp_path / "bank", **many))
    for week in (1, 3):
        assert {entry.family for entry in load_plan(tmp_path / "plan.yaml", bank, week=week).entries} == {"step", "other"}


def test_who_has_no_plan_gets_only_families_that_serve_the_kind(tmp_path):
    bank = load_bank(samples.bank_of(tmp_path / "bank", **SOME_SERVE))
    assert {entry.family for entry in wished(bank, ["steps"], [], 6, None, Beside("third-view")).entries} == {"step", "other"}
    alone = load_bank(samples.bank_of(tmp_path / "alone", clipped=samples.CLIPPED))
    with pytest.raises(ChoiceError, match="any family: none of 1 that fit serve the kind third-view"):
        wished(alone, [], [], 6, None, Beside("third-view"))


def test_an_unknown_topic_brings_the_topics_there_are(tmp_path):
    with pytest.raises(PlanError, match=r"found 'slot', wanted slots \(one of holes, slots, steps\)"):
        plan_of(tmp_path, "problems:\n  - {topic: slot, count: 1}\n", RING)


def test_the_demonstration_plan_asks_for_eight_problems_of_the_bank():
    assert len(load_plan(demonstration(), load_bank()).entries) == 8


def test_texts_that_a_number_sign_cuts_off_are_remarked_and_names_and_comments_are_not(tmp_path):
    text = "school: Pebble #2 School\npaper: A3 #or A4\nteacher: T. SQUARE   # who sets it\n" + samples.PLAN.replace(
        "school: EXAMPLEFORD\n", "").replace("teacher: T. SQUARE\n", "")
    plan = plan_of(tmp_path, text)
    assert [(remark.line, remark.field) for remark in plan.remarks] == [(1, "school")]
    assert plan.style.values.school == "Pebble" and 'keep it: "Pebble #2 School"' in plan.remarks[0].wanted


def test_the_plans_that_come_with_us_are_without_remarks(tmp_path):
    for path in (demonstration(), shipped("templates") / "start" / "plan.yaml"):
        assert load_plan(path, load_bank()).remarks == ()


@pytest.mark.parametrize(("field", "there", "written"), [
    ("title_block", "our-block.yaml", "our-blok.yaml"), ("title_block", "our-block.yaml", "our-block"),
    ("wording", "ours.yaml", "our.yaml"), ("crest", "crest.svg", "crst.svg"), ("crest", "crest.PNG", "crest"),
    ("class_list", "Class 10b.csv", "class10b.csv")])
def test_a_misspelt_file_beside_the_plan_brings_the_nearest_that_is_there(tmp_path, field, there, written):
    (tmp_path / there).write_text("a: 1\n", encoding="utf-8")
    (tmp_path / "something-else.txt").write_text("a: 1\n", encoding="utf-8")
    with pytest.raises(PlanError) as caught:
        plan_of(tmp_path, f"{field}: {written}\n{samples.PLAN}")
    [fault] = caught.value.faults
    assert (fault.line, fault.field) == (1, field) and fault.wanted.startswith(f"{there}, which lies there; or ")
    assert ("and there is no such file beside this one" in fault.found) == ("." in written)


def test_a_misspelt_file_without_anything_like_it_is_told_not_to_be_there(tmp_path):
    [(_, _, found)] = faults_of(tmp_path, f"crest: our-crest.svg\n{samples.PLAN}")
    assert found == "'our-crest.svg', and there is no such file beside this one"
    [(_, _, found)] = faults_of(tmp_path, f"crest: ../our-crest.svg\n{samples.PLAN}")       # what lies elsewhere is not looked at
    assert found == "'../our-crest.svg'"


def own_bank(folder, **families):
    samples.bank_of(folder / "ours", **families)
    return folder


def test_a_plan_names_its_banks_itself(tmp_path):
    own_bank(tmp_path, mine=step(1, "ramps"))
    samples.bank_of(tmp_path / "theirs", yours=step(1, "ramps"))
    for banks in ("ours", "[ours, theirs]"):
        plan = plan_of(tmp_path, f"banks: {banks}\nproblems:\n  - {{family: mine, seed: 3}}\n  - {{topic: ramps}}\n", RING)
        assert plan.entries[0] == Entry("mine", 3) and plan.problems.bank.path("mine") == tmp_path / "ours" / "mine.yaml"
        assert plan.entries[1].family in (("mine",) if banks == "ours" else ("mine", "yours"))


def test_a_bank_that_the_command_line_gives_too_is_one(tmp_path):
    own_bank(tmp_path, mine=step(1, "ramps"))
    (tmp_path / "plan.yaml").write_text("banks: ours\nproblems:\n  - {family: mine}\n", encoding="utf-8")
    bank = load_bank(tmp_path / "ours")
    assert load_plan(tmp_path / "plan.yaml", bank).entries == (Entry("mine", 1),)


@pytest.mark.parametrize(("banks", "field", "found"), [
    ("our", "banks", "'our'"), ("[ours, ../other]", "banks[2]", "'../other'"), ("/etc", "banks", "'/etc'"),
    ("link", "banks", "'link'"), ("ours/inner", "banks", "'ours/inner'"), ("..", "banks", "'..'"), ("file", "banks", "'file'"),
    ("{a: b}", "banks", "fields a"), ("[]", "banks", "a list of 0"), ("empty", "banks", "a folder without families")])
def test_a_bank_that_is_no_folder_of_families_beside_the_plan_is_a_fault(tmp_path, banks, field, found):
    samples.bank_of(tmp_path / "other", stranger=step(1, "ramps"))
    (tmp_path / "plans").mkdir()
    folder = own_bank(tmp_path / "plans", mine=step(1, "ramps"))
    (folder / "link").symlink_to(tmp_path / "other")
    samples.bank_of(folder / "ours" / "inner", inner=step(1, "ramps"))
    (folder / "empty").mkdir()
    (folder / "file").write_text("a: 1\n", encoding="utf-8")
    [(line, at, told)] = faults_of(folder, f"banks: {banks}\n{samples.PLAN}")
    assert (line, at) == (1, field) and told.removesuffix(found) in ("", f"{(folder / 'empty').as_posix()}, ")


def test_a_misspelt_bank_brings_the_nearest_folder(tmp_path):
    own_bank(tmp_path, mine=step(1, "ramps"))
    with pytest.raises(PlanError, match="found 'our', wanted ours, which lies there; or the name of a folder beside the plan"):
        plan_of(tmp_path, f"banks: our\n{samples.PLAN}")


def test_a_family_of_a_folder_that_is_not_given_is_told_with_the_line_that_gives_it(tmp_path):
    own_bank(tmp_path, mine=step(1, "ramps"))
    with pytest.raises(PlanError, match=r"found 'mine', wanted `banks: \[ours\]` in the plan: it lies in that folder"):
        plan_of(tmp_path, "problems:\n  - {family: mine}\n")
    with pytest.raises(PlanError, match=r"need `banks: \[FOLDER\]` in the plan, or --bank FOLDER"):
        plan_of(tmp_path, "problems:\n  - {family: theirs}\n")
