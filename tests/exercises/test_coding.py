"""From an exercise to its code and back: the same problem in the same look, or a plain word why not."""

from __future__ import annotations

import re
from dataclasses import replace
from functools import cache
from itertools import product
from math import prod

import numpy as np
import pytest
from click.testing import CliRunner
from hypothesis import given, settings
from hypothesis import strategies as st

from sheetgen.bank import BankError, load_bank
from sheetgen.cli import main
from sheetgen.codes import MOST_CODED_SEED, OTHER_SET, Code, CodeError
from sheetgen.exercises import Particulars, Role, kinds, make_exercise, read_code, recalled, sheets_of, style_of
from sheetgen.exercises.coding import DRAWS, MARKS, PAPERS, code_of, possible_codes, ranks_of, set_number
from sheetgen.exercises.recalling import problem_of_code
from sheetgen.ink import Text
from sheetgen.problem import problem_of
from sheetgen.sheet import ARROWS, FIGURES, PROJECTIONS, SIDES, Style, settings_of
from sheetgen.sheet import PAPERS as ALL_PAPERS
from sheetgen.sheet.titleblock_ink import titleblock_box
from sheetgen.templating import TitleBlockValues
from tests import samples

BANK = load_bank()

LOOKS = [dict(zip(("projection", "side", "paper", "figures", "arrows"), each, strict=True))
         for each in product(PROJECTIONS, SIDES, PAPERS, FIGURES, ARROWS)]

CHOICES = "slotted-slide"
"""A family with three pairs of equivalent measures."""


@cache
def settings_with(number):
    return settings_of(Style(**LOOKS[number]))


def same_marks(one, other):
    """Whether two pages have the same marks, in the same order."""
    return len(one.marks) == len(other.marks) and all(
        type(a) is type(b) and (a == b if isinstance(a, Text) else np.array_equal(a.points, b.points))
        for a, b in zip(one.marks, other.marks, strict=True))


@settings(max_examples=25, deadline=None)
@given(st.sampled_from(list(BANK)), st.integers(0, MOST_CODED_SEED), st.integers(0, DRAWS - 1), st.integers(0, len(LOOKS) - 1),
       st.sampled_from(MARKS))
def test_the_code_of_any_problem_in_any_look_brings_both_back(family, seed, draw, look, mark):
    problem = problem_of(BANK[family].sample(seed, draw))
    read = read_code(code_of(problem, settings_with(look), mark.strip()).lower(), BANK)
    again = problem_of_code(read, BANK)
    assert (again.identity, again.ranks, again.sizes) == (problem.identity, problem.ranks, problem.sizes)
    assert [measure.words for measure in again.measures] == [measure.words for measure in problem.measures]
    assert style_of(read) == Style(**LOOKS[look]) and MARKS[read.kind] == mark


@pytest.mark.parametrize("family", BANK)
def test_every_family_is_found_by_its_code(family):
    problem = problem_of(BANK[family].sample(3))
    assert problem_of_code(Code.read(code_of(problem, samples.SETTINGS, "")), BANK).identity == problem.identity


def test_every_paper_and_the_mark_of_every_kind_have_a_number():
    assert set(PAPERS) == set(ALL_PAPERS) and len(MARKS) == 27
    assert all((kind.mark or " ") in MARKS for kind in kinds().values())


@pytest.mark.parametrize(("family", "seed", "style"), [
    ("stepped-block", 7, Style()),
    ("bearing-support", 16_777_215, Style(paper="A4", title_block="quarry", projection="third", side="both")),
    ("countersunk-plate", 5, Style(paper="A2", figures="upright", arrows="each", side="right", wording="en-elevations")),
    (CHOICES, 2, Style(paper="11x17", projection="third")),
])
def test_the_answer_of_a_code_is_the_one_that_was_made_with_the_question(family, seed, style):
    settings = settings_of(style)
    made = make_exercise(BANK[family], seed, settings)
    read = read_code(made.particulars.code, BANK)
    look = settings_of(style_of(read, title_block=style.title_block, wording=style.wording))
    again = recalled(read, BANK, look)
    assert (again.problem.identity, again.particulars) == (made.problem.identity, made.particulars)
    [one], [other] = made.sheets[Role.ANSWER], again.sheets[Role.ANSWER]
    assert same_marks(one, other)


def test_what_a_set_says_in_the_title_block_is_not_told_by_the_code_and_changes_no_drawing():
    values = TitleBlockValues(school="ALDERBROOK", course="DRAWING 1", set_title="Week 3")
    of_set = settings_of(Style(values=values))
    made = make_exercise(BANK["stepped-block"], 7, of_set, particulars=Particulars(sheet=4, sheets=9, student="N. N."))
    again = recalled(Code.read(made.particulars.code), BANK, samples.SETTINGS)
    block = titleblock_box(samples.SETTINGS.block, samples.SETTINGS.paper)

    def drawing(page):
        return replace(page, marks=[mark for mark in page.marks if not isinstance(mark, Text) or mark.at[0] < block[0]
                                    or mark.at[1] > block[3]])

    [one], [other] = made.sheets[Role.ANSWER], again.sheets[Role.ANSWER]
    assert not same_marks(one, other) and same_marks(drawing(one), drawing(other))


def test_a_later_draw_of_a_seed_is_recalled_without_trying_those_before(tmp_path):
    family = samples.family_of(tmp_path, samples.SOMETIMES)
    seed = next(seed for seed in range(50) if family.sample(seed).sizes["width"] == 9000)
    made = make_exercise(family, seed, samples.SETTINGS)
    again = recalled(Code.read(made.particulars.code), {"step": family}, samples.SETTINGS)
    assert again.problem.identity == made.problem.identity and again.problem.identity.draw > 0


def test_equivalent_measures_are_those_of_the_question_though_others_would_be_chosen_today():
    chosen = problem_of(BANK[CHOICES].sample(2))
    counts = [len(ways) for ways in chosen.alternatives]
    assert prod(counts) > 1
    codes = set()
    for ranks in product(*map(range, counts)):
        code = code_of(chosen.measured_by(ranks), samples.SETTINGS, "")
        assert problem_of_code(Code.read(code), BANK).ranks == ranks
        codes.add(code)
    assert len(codes) == prod(counts)


def test_a_set_of_measures_whose_number_has_no_room_is_chosen_again_and_held_against_the_sizes():
    counts = (4, 4, 4, 4)
    numbers = {ranks: set_number(ranks, counts) for ranks in product(range(4), repeat=4)}
    for ranks, number in numbers.items():
        assert ranks_of(number, counts) == (None if number == OTHER_SET else ranks)
    assert sum(number == OTHER_SET for number in numbers.values()) == 256 - OTHER_SET
    chosen = problem_of(BANK[CHOICES].sample(2))
    code = replace(Code.read(code_of(chosen, samples.SETTINGS, "")), measures=OTHER_SET)
    assert problem_of_code(code, BANK).ranks == chosen.ranks
    other = chosen.measured_by([len(ways) - 1 - rank for ways, rank in zip(chosen.alternatives, chosen.ranks, strict=True)])
    lost = replace(Code.read(code_of(other, samples.SETTINGS, "")), measures=OTHER_SET)
    with pytest.raises(CodeError, match="whose sizes are no longer those"):
        problem_of_code(lost, BANK)


def changed(folder, text, code):
    """What is told of a code when its family has become that of ``text``."""
    with pytest.raises(CodeError) as caught:
        recalled(Code.read(code), {"step": samples.family_of(folder, text)}, samples.SETTINGS)
    [fault] = caught.value.faults
    return fault.found


@pytest.mark.parametrize(("old", "new"), [
    ("{from: 60, to: 90, step: 5}", "{from: 95, to: 120, step: 5}"),      # other sizes
    ("z: [0, 40]", "z: [0, 42]"),                                         # the same sizes, another figure printed
    ("  - base.left to step.left\n", "  - step.left to base.right\n"),    # the same block, otherwise measured
])
def test_of_a_family_that_has_been_changed_no_answer_is_made(tmp_path, old, new):
    family = samples.family_of(tmp_path / "then", samples.STEP)
    code = make_exercise(family, 4, samples.SETTINGS).particulars.code
    found = changed(tmp_path / "now", samples.STEP.replace(old, new), code)
    assert found == f"{code}, whose sizes are no longer those of seed 4 of step"


def test_a_family_may_get_another_title_a_comment_or_other_topics(tmp_path):
    family = samples.family_of(tmp_path / "then", samples.STEP)
    code = make_exercise(family, 4, samples.SETTINGS).particulars.code
    text = "# tidied up\n" + samples.STEP.replace("Plain step", "Step").replace("[steps]", "[steps, slots]")
    again = recalled(Code.read(code), {"step": samples.family_of(tmp_path / "now", text)}, samples.SETTINGS)
    assert again.problem.title == "Step"


def test_of_two_families_with_the_same_digits_the_sizes_tell_which(tmp_path, monkeypatch):
    monkeypatch.setattr("sheetgen.exercises.recalling.family_number", lambda name: 5)
    monkeypatch.setattr("sheetgen.exercises.coding.family_number", lambda name: 5)
    bank = load_bank(samples.bank_of(tmp_path, one=samples.STEP, two=samples.STEP.replace("z: [0, 40]", "z: [0, 44]"),
                                     three=samples.IMPOSSIBLE))
    for name in ("one", "two"):
        problem = problem_of(bank[name].sample(9))
        assert problem_of_code(Code.read(code_of(problem, samples.SETTINGS, "")), bank).identity.family == name
    with pytest.raises(BankError, match="as long as a bus"):
        problem_of_code(replace(Code.read(code_of(problem, samples.SETTINGS, "")), seed=10), bank)


def test_a_code_of_a_family_that_is_not_here_is_told_apart_from_a_mistyped_one(tmp_path):
    family = samples.family_of(tmp_path, samples.STEP)
    code = make_exercise(family, 4, samples.SETTINGS).particulars.code
    with pytest.raises(CodeError, match=f"rightly typed, of none of the {len(BANK)} families here, wanted --bank"):
        recalled(Code.read(code), BANK, samples.SETTINGS)


def test_a_kind_that_is_not_here_is_told(tmp_path):
    problem = problem_of(samples.family_of(tmp_path, samples.STEP).sample(4))
    mark = next(mark for mark in MARKS[1:] if mark not in {kind.mark for kind in kinds().values()})
    with pytest.raises(CodeError, match=f"of a kind of exercise with the mark {mark}"):
        recalled(Code.read(code_of(problem, samples.SETTINGS, mark)), BANK, samples.SETTINGS)


def test_a_way_to_ask_that_the_kind_does_not_have_is_told():
    problem = problem_of(BANK["stepped-block"].sample(4))
    with pytest.raises(CodeError, match="of a way to ask that the kind views does not have"):
        recalled(Code.read(code_of(problem, samples.SETTINGS, "", 3)), BANK, samples.SETTINGS)


def test_what_cannot_be_drawn_with_another_title_block_is_told(tmp_path, monkeypatch):
    family = samples.family_of(tmp_path, samples.TOO_LONG)
    code = code_of(problem_of(family.sample(4)), samples.SETTINGS, "")
    with pytest.raises(CodeError, match="which cannot be drawn so: a part that does not fit on A3"):
        recalled(Code.read(code), {"step": family}, samples.SETTINGS)


def test_a_seed_too_large_for_a_code_is_printed_in_words_which_tell_their_command():
    problem = problem_of(BANK["stepped-block"].sample(MOST_CODED_SEED + 1))
    [page] = sheets_of(problem, samples.SETTINGS, [Role.BLANK])[Role.BLANK]
    assert "STEPPED-BLOCK-16777216" in {mark.text for mark in page.marks if isinstance(mark, Text)}
    for typed in ("STEPPED-BLOCK-16777216", " stepped-block-16777216 "):
        with pytest.raises(CodeError, match="sheetgen sheet stepped-block --seed 16777216, with the look of the question"):
            read_code(typed, BANK)


def test_no_code_of_a_seed_is_wider_than_those_that_are_tried_before_anything_is_drawn():
    assert list(possible_codes("step", MOST_CODED_SEED, "T")) == ["WWWWWW-WWWWWW-WWWWWW"]
    in_words = list(possible_codes("step", MOST_CODED_SEED + 1, "T"))
    assert in_words[0] == "step-16777216-T" and in_words[-1] == "step-16777216.19-T" and len(in_words) == DRAWS


def run(*words):
    return CliRunner().invoke(main, [str(word) for word in words])


def test_the_command_makes_the_same_file_as_the_one_that_made_the_question(tmp_path):
    bank = samples.bank_of(tmp_path / "bank", step=samples.STEP)
    look = ("--title-block", "quarry", "--wording", "en-elevations", "--only-bank", bank, "--out", tmp_path / "out")
    made = run("sheet", "step", "--seed", 5, "--paper", "A4", "--projection", "third", *look)
    assert made.exit_code == 0
    code = make_exercise(load_bank(bank)["step"], 5, settings_of(Style(paper="A4", projection="third"))).particulars.code
    answered = run("answer", code.lower().replace("-", ""), *look)
    assert answered.exit_code == 0, answered.output
    assert answered.output == f"Plain step (step, seed 5): {tmp_path / 'out' / f'{code}-answer.pdf'} written\n"
    assert (tmp_path / "out" / f"{code}-answer.pdf").read_bytes() == (tmp_path / "out" / "step-5-answer.pdf").read_bytes()


def test_the_command_writes_nothing_for_a_code_that_is_wrong_unknown_or_of_a_changed_bank(tmp_path):
    bank = samples.bank_of(tmp_path / "bank", step=samples.STEP)
    code = make_exercise(load_bank(bank)["step"], 5, samples.SETTINGS).particulars.code
    samples.bank_of(bank, step=samples.STEP.replace("z: [0, 40]", "z: [0, 42]"))
    mistyped = re.sub("[0-9]", lambda digit: str((int(digit[0]) + 1) % 10), code, count=1)
    for typed, places, told in ((code, ("--only-bank", bank), "whose sizes are no longer those"),
                                (code, (), f"of none of the {len(BANK)} families here"),
                                (mistyped, ("--only-bank", bank), "a mistyped code"),
                                ("step-5", ("--only-bank", bank), "sheetgen sheet step --seed 5")):
        outcome = run("answer", typed, *places, "--out", tmp_path / "out")
        assert (outcome.exit_code, told in outcome.stderr) == (2, True), outcome.stderr
        assert len(outcome.stderr.splitlines()) == 1
    assert not (tmp_path / "out").exists() or not list((tmp_path / "out").iterdir())
