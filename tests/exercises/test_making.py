"""Question and answer of one variant, and what happens when a variant or a family cannot be printed."""

from __future__ import annotations

from dataclasses import replace

import pytest

from sheetgen.bank import BankError
from sheetgen.exercises import PRINTED, Particulars, RefusedSeedError, Role, make_exercise, making
from sheetgen.exercises.kinds import views
from sheetgen.ink import Pen, Stroke, Text
from sheetgen.problem import problem_of
from sheetgen.refusals import Reason, RefusedError
from sheetgen.sheet.titleblock_ink import titleblock_box
from tests import samples


def words_on(page):
    return {mark.text for mark in page.marks if isinstance(mark, Text)}


def test_question_and_answer_carry_the_same_code(tmp_path):
    made = make_exercise(samples.family_of(tmp_path, samples.STEP), 3, samples.SETTINGS)
    assert made.particulars.code in words_on(made.sheets[Role.QUESTION][0])
    assert made.particulars.code in words_on(made.sheets[Role.ANSWER][0])


def test_both_sheets_are_numbered_as_they_stand_in_their_set(tmp_path):
    family, fourth = samples.family_of(tmp_path, samples.STEP), Particulars(sheet=4, sheets=9)
    made = make_exercise(family, 3, samples.SETTINGS, particulars=fourth)
    assert "4/9" in words_on(made.sheets[Role.QUESTION][0]) and "4/9" in words_on(made.sheets[Role.ANSWER][0])


def test_a_blank_sheet_has_the_title_block_filled_in_and_room_for_the_drawing(tmp_path):
    made = make_exercise(samples.family_of(tmp_path, samples.STEP), 3, samples.SETTINGS, roles=[Role.QUESTION, Role.BLANK],
                         particulars=Particulars(student="N. N."))
    [blank], [question] = made.sheets[Role.BLANK], made.sheets[Role.QUESTION]
    assert {"Drawing sheet", "1:1", made.particulars.code, "N. N.", "Plain step"} <= words_on(blank)
    assert not {measure.text for measure in made.problem.measures} & words_on(blank)
    x0, _, _, y1 = titleblock_box(samples.SETTINGS.block, samples.SETTINGS.paper)
    drawn = [mark for mark in blank.marks if isinstance(mark, Stroke) and mark.pen in (Pen.OUTLINE, Pen.HIDDEN)]
    assert drawn and all(mark.points[:, 0].min() > x0 and mark.points[:, 1].max() < y1 for mark in drawn)      # the symbol
    assert "N. N." in words_on(question)
    assert list(made.sheets) == [Role.QUESTION, Role.BLANK]


def test_question_and_answer_must_both_be_right_whatever_is_asked_for(tmp_path):
    family = samples.family_of(tmp_path, samples.SOMETIMES)
    seed = next(seed for seed in range(50) if family.sample(seed).sizes["width"] == 9000)
    everything, blank = (make_exercise(family, seed, samples.SETTINGS, roles=roles) for roles in (PRINTED, (Role.BLANK,)))
    assert everything.problem.identity == blank.problem.identity
    assert list(blank.sheets) == [Role.BLANK]


def test_the_answer_prints_the_sizes_of_the_question(tmp_path):
    made = make_exercise(samples.family_of(tmp_path, samples.STEP), 3, samples.SETTINGS)
    sizes = {measure.text for measure in made.problem.measures}
    assert sizes <= words_on(made.sheets[Role.QUESTION][0]) and sizes <= words_on(made.sheets[Role.ANSWER][0])


def test_another_draw_of_a_seed_has_another_code(tmp_path):
    family = samples.family_of(tmp_path, samples.STEP)
    assert str(family.sample(3).identity) == "step-3"
    assert str(family.sample(3, draw=1).identity) == "step-3.1"


def test_a_refused_variant_makes_way_for_the_next_draw_of_its_seed(tmp_path):
    family = samples.family_of(tmp_path, samples.SOMETIMES)
    seed = next(seed for seed in range(50) if family.sample(seed).sizes["width"] == 9000)
    draw = next(draw for draw in range(50) if family.sample(seed, draw).sizes["width"] == 60)
    made = make_exercise(family, seed, samples.SETTINGS)
    assert str(made.problem.identity) == f"step-{seed}.{draw}" and samples.told(made.particulars.code) == (seed, draw, "")
    assert len(made.refused) == draw and "does not fit" in made.refused[0][0].what


def test_a_seed_is_given_up_when_no_draw_can_be_printed_and_the_reasons_are_told(tmp_path):
    with pytest.raises(RefusedSeedError) as caught:
        make_exercise(samples.family_of(tmp_path, samples.UNMEASURED), 3, samples.SETTINGS)
    [fault] = caught.value.faults
    line = next(n for n, text in enumerate(samples.UNMEASURED.splitlines(), 1) if "cut: step" in text)
    assert str(fault).endswith(f"step.yaml:{line}: features[2] step: nothing fixes step.bottom: add a measure that ends there")


def test_measures_that_say_the_same_thing_are_told_with_their_lines(tmp_path):
    text = samples.STEP.replace("  - base.left to step.left\n", "  - base.left to step.left\n  - step.left to base.right\n")
    with pytest.raises(RefusedSeedError) as caught:
        make_exercise(samples.family_of(tmp_path, text), 3, samples.SETTINGS)
    [fault] = caught.value.faults
    lines = [n for n, line in enumerate(text.splitlines(), 1) if line.strip() in (
        "- base.left to base.right", "- base.left to step.left", "- step.left to base.right")]
    assert str(fault).endswith(f":{lines[0]}: measures: lines {', '.join(map(str, lines))} say the same thing: take one away")
    assert len(lines) == 3


def test_a_part_longer_than_the_paper_at_every_scale_is_refused(tmp_path):
    with pytest.raises(RefusedSeedError, match=r"a part that does not fit on A3 at any scale down to 1:10 \(9000 x "):
        make_exercise(samples.family_of(tmp_path, samples.TOO_LONG), 1, samples.SETTINGS)


@pytest.mark.parametrize(("text", "reason"), [
    (samples.TWO_PIECES, "falls apart into 2 pieces"),
    (samples.NOTHING_LEFT, "leave"),
])
def test_a_family_without_one_closed_solid_is_told_with_its_file_and_sizes(tmp_path, text, reason):
    family = samples.family_of(tmp_path, text)
    with pytest.raises(BankError) as caught:
        problem_of(family.sample(2))
    [fault] = caught.value.faults
    assert fault.file.endswith("step.yaml") and fault.field.startswith("features")
    assert reason in fault.found and "seed 2, draw 0: width " in fault.sizes


def test_every_measure_of_a_side_that_is_not_there_is_told_with_its_line(tmp_path):
    family = samples.family_of(tmp_path, samples.LOST_SIDE)
    with pytest.raises(BankError) as caught:
        problem_of(family.sample(2))
    lines = samples.LOST_SIDE.splitlines()
    assert [lines[fault.line - 1].strip() for fault in caught.value.faults] == [
        "- base.left to step.left", "- base.bottom to step.bottom"]
    assert all("step." in fault.field for fault in caught.value.faults)
    line = next(n for n, text in enumerate(lines, 1) if "name: deeper" in text) - 1
    assert {fault.found for fault in caught.value.faults} == {
        f"nothing is left of the side step.{side}: deeper in line {line} took it away" for side in ("left", "bottom")}


def told_by(monkeypatch, *marks: tuple[int, int]):
    """Reads each exercise that is made as if a strict reader marked so many serious and so many slight things in it, in turn."""
    class Read:
        def __init__(self, serious, slight):
            self.marks = serious, slight

        def serious(self):
            return iter(range(self.marks[0]))

        def slight(self):
            return iter(range(self.marks[1]))

    left = list(marks)
    monkeypatch.setattr(views, "KIND", replace(views.KIND, read=lambda _: (Read(*left.pop(0)),)))
    monkeypatch.setattr(making, "kinds", lambda: {"views": views.KIND})
    return left


@pytest.mark.parametrize(("marks", "draw", "read"), [
    ([(0, 3)], 0, 1),                                          # nothing serious: it is printed
    ([(1, 0), (0, 5)], 1, 2),                                  # the next has nothing serious
    ([(2, 0), (1, 4), (1, 2), (3, 0), (2, 2)], 2, 5),          # of five the one with the least, slight things second
    ([(1, 1), (1, 1), (1, 1), (1, 1), (1, 1)], 0, 5),          # of such that are alike the first
])
def test_of_the_draws_of_a_seed_that_is_printed_in_which_a_strict_reader_marks_least(tmp_path, monkeypatch, marks, draw, read):
    left = told_by(monkeypatch, *marks, (0, 0), (0, 0))
    made = make_exercise(samples.family_of(tmp_path, samples.STEP), 3, samples.SETTINGS)
    assert samples.told(made.particulars.code) == (3, draw, "")
    assert len(left) == len(marks) + 2 - read


def test_the_draws_that_may_be_taken_are_kept_to(tmp_path, monkeypatch):
    told_by(monkeypatch, (1, 0), (2, 0))
    made = make_exercise(samples.family_of(tmp_path, samples.STEP), 3, samples.SETTINGS, draws=(5, 7))
    assert samples.told(made.particulars.code) == (3, 5, "")


@pytest.mark.parametrize(("marks", "fail", "draw", "drawn"), [
    ([(0, 0), (0, 0)], (0,), 1, [0, 1]),                       # the first was clean but its pages refuse: the next has its turn
    ([(1, 0), (2, 0), (0, 0), (1, 0), (0, 0)], (2,), 4, [2, 4]),
    ([(2, 0), (1, 0), (2, 0), (2, 0), (2, 0), (3, 0)], (1,), 0, [1, 0]),   # the cleanest of five refuses: then of those left
])
def test_pages_are_drawn_only_of_what_is_printed_and_what_they_refuse_makes_way(tmp_path, monkeypatch, marks, fail, draw, drawn):
    told_by(monkeypatch, *marks)
    tried = []

    def question(problem, *rest):
        tried.append(problem.identity.draw)
        if tried[-1] in fail:
            raise RefusedError([Reason("no room for its text", "shorter words")])
        return asked(problem, *rest)

    asked = views.KIND.pages[Role.QUESTION]
    monkeypatch.setattr(views, "KIND", replace(views.KIND, pages={**views.KIND.pages, Role.QUESTION: question}))
    made = make_exercise(samples.family_of(tmp_path, samples.STEP), 3, samples.SETTINGS)
    assert (samples.told(made.particulars.code)[1], tried) == (draw, drawn)
