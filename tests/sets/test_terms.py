"""A term: each week has problems of its own, by the wishes, the term's name and the week alone."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import replace
from itertools import combinations

import pytest

from sheetgen.bank import load_bank, outlines
from sheetgen.choosing import Wish
from sheetgen.codes import MOST_CODED_SEED
from sheetgen.exercises import DRAWS, Role
from sheetgen.ink import Text
from sheetgen.sets import MOST_WEEKS, PlanError, Shelf, Term, WorksheetMaker, edition_of, load_plan
from sheetgen.sets.terms import SpentError, bank_digest, week_of, wishes_digest
from sheetgen.sheet import settings_of
from tests import samples
from tests.samples import step

BANK = load_bank()
OUTLINES = outlines(BANK)
PLAN = "term: Autumn 2031\nproblems:\n  - {topic: holes, count: 3}\n  - {rung: 1}\n"

FEW = step(1, "steps").replace("{from: 60, to: 90, step: 5}", "{from: 60, to: 62, step: 1}")
"""A family of a dozen blocks."""


def weeks_of(wishes, weeks, name="Autumn"):
    """The problems of each week, all wishes together."""
    return [[entry for entries in week_of(Term(name, 52, week), wishes, OUTLINES, BANK) for entry in entries]
            for week in range(1, weeks + 1)]


def plan_of(folder, text, week=None, bank=BANK):
    (folder / "plan.yaml").write_text(text, encoding="utf-8")
    return load_plan(folder / "plan.yaml", bank, "plan.yaml", week)


def faults_of(folder, text, week=None, bank=BANK):
    with pytest.raises(PlanError) as caught:
        plan_of(folder, text, week, bank)
    return [(fault.line, fault.field, fault.found) for fault in caught.value.faults]


def test_over_the_weeks_of_a_term_no_block_comes_twice_whichever_draw_is_printed():
    wishes = [Wish(("slots",), (1, 2, 3), count=4)]
    blocks = defaultdict(list)
    for week in weeks_of(wishes, 8):
        for entry in week:
            draws = [BANK[entry.family].sample(entry.seed, draw).sizes for draw in range(DRAWS)]
            blocks[entry.family].append({tuple(sizes.items()) for sizes in draws})
    assert max(map(len, blocks.values())) >= 2                      # or nothing would be shown
    for several in blocks.values():
        assert all(one.isdisjoint(other) for one, other in combinations(several, 2))


def test_seeds_that_would_bring_a_block_again_are_passed_over(tmp_path):
    """Of a family of so few blocks that chance alone would repeat one."""
    small = FEW.replace("{from: 30, to: 45, step: 5}", "{from: 30, to: 49, step: 1}").replace("to: 62", "to: 89")
    bank = load_bank(samples.bank_of(tmp_path / "bank", small=small))
    seeds = [week_of(Term("Autumn", 16, week), [Wish()], outlines(bank), bank)[0][0].seed for week in range(1, 8)]
    assert any(seed != Term("Autumn", 16, week).seeds(week)[0] for week, seed in enumerate(seeds, 1))
    blocks = [{tuple(bank["small"].sample(seed, draw).sizes.values()) for draw in range(DRAWS)} for seed in seeds]
    assert all(one.isdisjoint(other) for one, other in combinations(blocks, 2))


def test_a_family_comes_again_only_when_all_others_that_fit_have_come():
    fitting = sum(outline.rung in (1, 2) for outline in OUTLINES.values())
    names = [entry.family for week in weeks_of([Wish(rungs=(1, 2), count=5)], 6) for entry in week]
    for start in range(0, len(names) - fitting, fitting):
        assert len(set(names[start:start + fitting // 5 * 5])) == fitting // 5 * 5
    last: dict[str, int] = {}
    for number, name in enumerate(names):
        assert number - last.get(name, -fitting) > fitting - 5       # within a week the easiest stands first
        last[name] = number


def test_wishes_that_overlap_leave_each_other_the_families_that_waited_longest():
    names = [entry.family for week in weeks_of([Wish(count=4), Wish(("holes",), count=2)], 5) for entry in week]
    assert len(names) == len(set(names)) == 30


def test_each_week_has_seeds_of_its_own_and_each_term_too():
    seeds = [{entry.seed for entry in week} for name in ("Autumn", "Spring") for week in weeks_of([Wish(count=3)], 4, name)]
    assert all(one.isdisjoint(other) for one, other in combinations(seeds, 2))
    assert all(seed // 512 % 64 == week for week, several in zip((1, 2, 3, 4) * 2, seeds, strict=True) for seed in several)


def test_all_seeds_of_all_terms_have_room_in_a_code():
    terms = [Term(f"term {k}", MOST_WEEKS, 1) for k in range(6000)]
    assert len({term.seeds(1)[0] // (64 * 512) for term in terms}) == 512          # every lot is drawn
    assert max(max(term.seeds(MOST_WEEKS)) for term in terms) <= MOST_CODED_SEED


def test_terms_that_are_drawn_alike_still_begin_at_other_seeds():
    terms = [Term(f"term {k}", MOST_WEEKS, 1) for k in range(3000)]
    assert len({term.seeds(1)[0] for term in terms}) > 2950                        # of 261632


def test_a_week_is_the_same_whether_the_weeks_before_were_printed_or_not():
    wishes = [Wish(count=3)]
    assert weeks_of(wishes, 6)[-1] == list(week_of(Term("Autumn", 20, 6), wishes, OUTLINES, BANK)[0])


def test_rungs_rise_through_the_sheet_of_every_week():
    for week in weeks_of([Wish(count=6)], 8):
        rungs = [OUTLINES[entry.family].rung for entry in week]
        assert rungs == sorted(rungs) and len(set(rungs)) >= 4


def test_a_family_whose_blocks_are_used_up_makes_way_for_others_and_at_last_the_plans_line_is_told(tmp_path):
    bank = load_bank(samples.bank_of(tmp_path / "bank", few=FEW, many=step(1, "steps").replace("step: 5}", "step: 1}")))
    known = outlines(bank)
    names = [week_of(Term("Autumn", 16, week), [Wish()], known, bank)[0][0].family for week in range(1, 5)]
    assert names.count("few") == 1 and names.count("many") == 3
    with pytest.raises(SpentError):
        week_of(Term("Autumn", 16, 2), [Wish(family="few")], known, bank)
    [(line, field, found)] = faults_of(tmp_path, "term: Autumn\nproblems:\n  - {family: few}\n", 2, bank)
    assert (line, field) == (3, "problems[1]") and found.startswith("family few: in week 2 no block is left")


def test_a_plan_with_a_term_comes_to_other_problems_each_week(tmp_path):
    first, second, again = (plan_of(tmp_path, PLAN, week) for week in (1, 2, 1))
    assert len(first.entries) == len(second.entries) == 4
    assert first.entries == again.entries and not {e.family for e in first.entries} & {e.family for e in second.entries}
    assert (first.term.name, first.term.weeks, first.term.week) == ("Autumn 2031", 16, 1)
    assert [entry.place.line for entry in first.entries] == [3, 3, 3, 4]


def test_a_line_that_names_a_family_gets_another_seed_each_week(tmp_path):
    text = "term: Autumn\nproblems:\n  - {family: stepped-block, count: 2}\n"
    seeds = [entry.seed for week in (1, 2) for entry in plan_of(tmp_path, text, week).entries]
    assert len(set(seeds)) == 4


@pytest.mark.parametrize(("text", "week", "found"), [
    (PLAN, None, (1, "term", "no week asked for")),
    (PLAN, 17, (1, "term", "week 17 asked for")),
    ("weeks: 10\n" + PLAN, 11, (2, "term", "week 11 asked for")),
    ("weeks: 10\nproblems:\n  - {rung: 1}\n", None, (1, "term", "weeks without a term")),
    ("problems:\n  - {rung: 1}\n", 3, (1, "term", "no term, and week 3 asked for")),
    ("weeks: 53\n" + PLAN, 3, (1, "weeks", "'53'")),
    ("term: Autumn\nproblems:\n  - {family: stepped-block, seed: 7}\n", 1,
     (3, "problems[1].seed", "seed 7 in a plan with a term")),
    ("term: Autumn\nproblems:\n  - {rung: 1, count: 2, first_seed: 9}\n", 1,
     (3, "problems[1].first_seed", "first_seed 9 in a plan with a term")),
])
def test_what_does_not_go_with_a_term_is_told_with_its_line(tmp_path, text, week, found):
    assert faults_of(tmp_path, text, week) == [found]


def test_the_digests_change_with_what_the_choice_depends_on_and_with_nothing_else(tmp_path):
    def digests(text=PLAN, bank=BANK):
        problems = plan_of(tmp_path, text, 2, bank).problems
        return problems.wishes, problems.families

    usual = digests()
    assert all(len(digest) == 6 for digest in usual)
    assert digests("title: Another\npaper: A4\n" + PLAN) == usual == digests(PLAN.replace("holes", "Holes"))
    assert digests(PLAN.replace("count: 3", "count: 4")) == (wishes_digest([Wish(("holes",), count=4), Wish(rungs=(1,))],
                                                                           "Autumn 2031"), usual[1])
    assert digests(PLAN.replace("2031", "2032"))[0] != usual[0]
    own = load_bank(samples.bank_of(tmp_path / "own", ours=step(1, "steps"), hard=step(4, "forks")))
    wider = BANK.joined(own)
    assert digests(bank=wider)[0] == usual[0] and digests(bank=wider)[1] != usual[1]
    assert bank_digest([Wish(rungs=(5,))], OUTLINES) == bank_digest([Wish(rungs=(5,))], outlines(wider))


def test_the_week_stands_beside_the_title_of_the_set_in_the_words_of_the_sheets(tmp_path):
    titled = "title: Weekly sheet\n" + PLAN
    said = {text: settings_of(plan_of(tmp_path, text, 3).style).set_title for text in (titled, PLAN)}
    assert said == {titled: "Weekly sheet, week 3", PLAN: "Worksheet, week 3"}
    other = settings_of(replace(plan_of(tmp_path, titled, 3).style, wording="en-elevations"))
    assert other.set_title == "Weekly sheet, week 3"
    untermed = "title: Weekly sheet\nproblems:\n  - {topic: holes}\n"
    assert settings_of(plan_of(tmp_path, untermed).style).set_title == "Weekly sheet"


def test_the_files_of_a_week_are_called_by_it_and_its_sheets_show_it(tmp_path):
    plan = plan_of(tmp_path, "title: Weekly sheet\nanswer_key: yes\nterm: Autumn\nproblems:\n  - {family: stepped-block}\n", 3)
    edition = edition_of(plan, settings_of(plan.style), (Role.QUESTION,))
    maker = WorksheetMaker(plan, edition.jobs, edition.settings, Shelf(tmp_path))
    assert len(list(maker.run())) == 1
    files = dict(edition.files(maker))
    assert {name: file.title for name, file in files.items()} == {
        "questions.pdf": "Weekly sheet, week 3: questions", "answer-key.pdf": "Weekly sheet, week 3: answer key"}
    for name, text in (("questions.pdf", "Weekly sheet, week 3"), ("answer-key.pdf", "Weekly sheet, week 3: answer key")):
        assert text in [mark.text for mark in files[name].pages[0].marks if isinstance(mark, Text)]


def test_a_title_too_long_with_its_week_is_told_at_the_titles_line_or_the_terms(tmp_path):
    for text, line in ((f"title: {'W' * 79}\n{PLAN}", 1), (PLAN, 1)):
        assert plan_of(tmp_path, text, 3).style.places["set_title"].line == line
    assert plan_of(tmp_path, PLAN, 3).style.places["set_title"].field == "term"
