"""Choosing problems on the command line: banks, topics, terms, looks, and what a shell completes."""

from __future__ import annotations

import json
import subprocess
import sys

import pytest
from click.shell_completion import BashComplete
from click.testing import CliRunner
from pypdf import PdfReader

from sheetgen.cli import main, options
from sheetgen.codes import family_number
from sheetgen.sets import MOST_WEEKS
from sheetgen.sheet import ARROWS, FIGURES, MISSING, PAPER_NAMES, PROJECTIONS, SIDES
from tests import samples
from tests.samples import step

TERM = samples.PLAN.partition("problems:")[0] + "term: Autumn 2031\nweeks: 4\nproblems:\n  - {rung: 1, count: 2}\n"


@pytest.fixture
def bank(tmp_path):
    return samples.bank_of(tmp_path / "bank", step=samples.STEP.replace("step: 5}", "step: 0.1}"), other=step(1, "notches"))


def run(*words, code=0):
    outcome = CliRunner().invoke(main, [str(word) for word in words])
    assert outcome.exit_code == code, outcome.output
    return outcome


def written(folder):
    return sorted(path.name for path in folder.iterdir()) if folder.exists() else []


def names_listed(*words):
    return {row["name"]: row["file"] for row in json.loads(run("bank", "list", "--json", *words).stdout)}


def test_a_bank_of_ones_own_stands_beside_the_shipped_one_and_the_list_tells_which_is_which(bank):
    listed = names_listed("--bank", bank)
    assert listed["step"] == f"{bank}/step.yaml" and listed["stepped-block"] == "problem_bank/stepped-block.yaml"
    assert set(names_listed("--only-bank", bank)) == {"step", "other"}
    rows = run("bank", "list", "--bank", bank, "--rung", 1).stdout.splitlines()
    assert [row.split()[-1] for row in rows if row.split()[:1] in (["step"], ["stepped-block"])] == [f"{bank}/", "problem_bank/"]


def test_several_banks_may_be_given_and_a_name_in_two_of_them_is_refused(tmp_path, bank):
    second = samples.bank_of(tmp_path / "second", third=samples.STEP)
    assert set(names_listed("--only-bank", bank, "--bank", second)) == {"step", "other", "third"}
    assert set(names_listed("--only-bank", bank, "--only-bank", second)) == {"step", "other", "third"}
    samples.bank_of(second, step=samples.STEP)
    told = run("bank", "list", "--bank", bank, "--bank", second, code=2).stderr
    assert f"{second}/step.yaml" in told and f"{bank}/step.yaml" in told and len(told.splitlines()) == 1


def test_a_plan_may_name_a_familys_file_beside_it(tmp_path):
    samples.bank_of(tmp_path, ours=samples.STEP)
    (tmp_path / "plan.yaml").write_text("problems:\n  - {family: ours.yaml, seed: 3}\n  - family: ours.yaml\n", encoding="utf-8")
    run("worksheet", tmp_path / "plan.yaml", "--out", tmp_path / "out")
    pages = PdfReader(tmp_path / "out" / "questions.pdf").pages
    told = [samples.problem_told(page.extract_text()) for page in pages]
    assert told == [(family_number("ours"), seed) for seed in (3, 1)]


@pytest.mark.parametrize("name", ["missing.yaml", "../ours.yaml", "/etc/ours.yaml", "sub/ours.yaml", "link.yaml"])
def test_a_plan_reaches_no_family_outside_its_folder(tmp_path, name):
    folder = tmp_path / "plans"
    samples.bank_of(tmp_path, ours=samples.STEP)
    samples.bank_of(folder, here=samples.STEP)
    samples.bank_of(folder / "sub", ours=samples.STEP)
    (folder / "link.yaml").symlink_to(tmp_path / "ours.yaml")
    (folder / "plan.yaml").write_text(f"problems:\n  - {{family: {name}, seed: 3}}\n", encoding="utf-8")
    told = run("worksheet", folder / "plan.yaml", "--out", tmp_path / "out", code=2).stderr
    assert told.endswith("wanted the name of a .yaml file beside the plan\n") and len(told.splitlines()) == 1
    assert "plan.yaml:2: problems[1].family: found" in told and written(tmp_path / "out") == []


def test_a_file_beside_the_plan_that_is_called_like_a_family_of_the_bank_is_refused_naming_both(tmp_path):
    samples.bank_of(tmp_path, stepped_block=samples.STEP)
    (tmp_path / "plan.yaml").write_text("problems:\n  - {family: stepped-block.yaml}\n", encoding="utf-8")
    told = run("worksheet", tmp_path / "plan.yaml", code=2).stderr
    assert "plan.yaml:2: problems[1].family: " in told
    assert f"{tmp_path}/stepped-block.yaml" in told and "problem_bank/stepped-block.yaml" in told


def test_a_fault_of_a_family_beside_the_plan_is_told_with_its_own_line(tmp_path):
    samples.bank_of(tmp_path, ours=samples.STEP.replace("rung: 1", "rung: high"))
    (tmp_path / "plan.yaml").write_text("problems:\n  - {family: ours.yaml}\n", encoding="utf-8")
    assert f"{tmp_path}/ours.yaml:3: rung: found 'high'" in run("worksheet", tmp_path / "plan.yaml", code=2).stderr


def test_a_week_of_a_term_is_drawn_and_the_dry_run_has_told_which(tmp_path, bank):
    (tmp_path / "plan.yaml").write_text(TERM, encoding="utf-8")
    words = ("worksheet", tmp_path / "plan.yaml", "--only-bank", bank, "--out", tmp_path / "out", "--week", 2)
    said = run(*words, "--dry-run").stdout
    assert written(tmp_path / "out") == []
    assert "2 problems of week 2 (of 4), Autumn 2031; nothing has been drawn.\n" in said
    rows = [line.split() for line in said.splitlines()]
    told = [(family_number(row[1]), int(row[2])) for row in rows if len(row) > 5 and row[0] in ("1", "2") and row[2].isdigit()]
    run(*words)
    pages = [page.extract_text() for page in PdfReader(tmp_path / "out" / "questions.pdf").pages]
    assert len(told) == 2 and list(map(samples.problem_told, pages)) == told


def test_the_dry_run_tells_kinds_where_lines_name_them_and_lines_keep_theirs(tmp_path, bank):
    text = "problems:\n  - {family: step, seed: 3, kind: match}\n  - {family: step, seed: 4}\n"
    (tmp_path / "plan.yaml").write_text(text, encoding="utf-8")
    said = run("worksheet", tmp_path / "plan.yaml", "--only-bank", bank, "--dry-run", "--kind", "section").stdout
    rows = [line.split() for line in said.splitlines()]
    assert [row[3] for row in rows if len(row) > 5 and row[0] in ("1", "2") and row[2].isdigit()] == ["match", "section"]


def digests(said):
    [line] = [line for line in said.splitlines() if line.startswith("Wishes ")]
    return line.split(":")[0].split(", ")


def test_the_dry_run_shows_that_the_wishes_or_the_bank_have_changed(tmp_path, bank):
    plan = tmp_path / "plan.yaml"
    words = ("worksheet", plan, "--only-bank", bank, "--dry-run", "--week")
    plan.write_text(TERM, encoding="utf-8")
    usual = digests(run(*words, 1).stdout)
    assert digests(run(*words, 3).stdout) == usual
    plan.write_text(TERM.replace("count: 2", "count: 1"), encoding="utf-8")
    wishes, families = digests(run(*words, 1).stdout)
    assert wishes != usual[0] and families == usual[1]
    plan.write_text(TERM, encoding="utf-8")
    samples.bank_of(bank, more=step(1, "slots"))
    assert digests(run(*words, 1).stdout)[0] == usual[0] and digests(run(*words, 1).stdout)[1] != usual[1]


@pytest.mark.parametrize(("words", "told"), [
    ((), "plan.yaml:5: term: found no week asked for, wanted --week N, from 1 to 4"),
    (("--week", 5), "plan.yaml:5: term: found week 5 asked for, wanted --week N, from 1 to 4"),
])
def test_a_plan_with_a_term_wants_one_of_its_weeks(tmp_path, bank, words, told):
    (tmp_path / "plan.yaml").write_text(TERM, encoding="utf-8")
    assert told in run("worksheet", tmp_path / "plan.yaml", "--only-bank", bank, *words, code=2).stderr


def test_a_week_without_a_plan_or_of_a_plan_without_a_term_is_refused(tmp_path, bank):
    (tmp_path / "plan.yaml").write_text(samples.PLAN, encoding="utf-8")
    told = run("worksheet", tmp_path / "plan.yaml", "--only-bank", bank, "--week", 1, code=2).stderr
    assert "term: found no term, and week 1 asked for, wanted a term's name" in told
    assert "--week needs a plan with a term" in run("worksheet", "--rung", 1, "--week", 1, code=2).stderr


def test_a_worksheet_without_a_plan_has_the_look_that_is_asked_for(tmp_path, bank):
    run("worksheet", "--rung", 1, "--count", 1, "--only-bank", bank, "--out", tmp_path / "out", "--paper", "a2",
        "--projection", "Third", "--side", "RIGHT", "--figures", "Upright", "--title-block", "quarry",
        "--wording", "en-elevations")
    [page] = PdfReader(tmp_path / "out" / "answers.pdf").pages
    assert round(float(page.mediabox.width) * 25.4 / 72) == 594
    text = page.extract_text()
    assert "END ELEVATION FROM THE RIGHT" in text and "PLAN" in text


def test_what_the_options_say_of_the_look_goes_before_what_the_plan_says_and_the_rest_stays(tmp_path, bank):
    (tmp_path / "plan.yaml").write_text("paper: A4\nside: right\ntitle_block: quarry\n" + samples.PLAN, encoding="utf-8")
    run("worksheet", tmp_path / "plan.yaml", "--only-bank", bank, "--paper", "A3", "--out", tmp_path / "out")
    page = PdfReader(tmp_path / "out" / "answers.pdf").pages[0]
    assert round(float(page.mediabox.width) * 25.4 / 72) == 420 and "FROM THE RIGHT" in page.extract_text()


def test_paper_of_11_by_17_inch_is_as_large_as_it_is_called(tmp_path, bank):
    for number, spelt in enumerate(("11x17", "11 × 17", "11X17")):
        run("sheet", "step", "--only-bank", bank, "--paper", spelt, "--out", tmp_path / f"{number}")
        box = PdfReader(tmp_path / f"{number}" / "step-1-answer.pdf").pages[0].mediabox
        assert (float(box.width), float(box.height)) == pytest.approx((17 * 72, 11 * 72), abs=0.01)
    assert "'17 inches' is not one of" in run("sheet", "step", "--paper", "17 inches", code=2).stderr


def test_the_words_that_options_take_are_those_of_the_sheets():
    assert (options.PROJECTIONS, options.SIDES, options.FIGURES, options.ARROWS) == (PROJECTIONS, SIDES, FIGURES, ARROWS)
    assert options.MISSING == MISSING
    assert {option.name: option for option in main.commands["worksheet"].params}["week"].type.max == MOST_WEEKS
    assert sorted(options.PAPERS) == sorted(PAPER_NAMES) and options.PAPERS[0] == PAPER_NAMES[0]


def completions(*words):
    """What a shell offers for the last of some words."""
    *before, begun = map(str, words)
    return [item.value for item in BashComplete(main, {}, "sheetgen", "_SHEETGEN_COMPLETE").get_completions(before, begun)]


def test_a_shell_completes_families_those_of_ones_own_too(bank):
    assert completions("sheet", "stepped-b") == ["stepped-block", "stepped-bridge"]
    assert completions("sheet", "--bank", bank, "oth") == completions("sheet", "--only-bank", bank, "ot") == ["other"]
    assert completions("bank", "vet", "--only-bank", bank, "") == ["other", "step"]


def test_a_shell_completes_topics_with_hyphens_which_are_understood(bank):
    assert completions("worksheet", "--topic", "blind") == ["blind-holes"]
    assert completions("bank", "list", "--only-bank", bank, "--topic", "") == ["notches", "steps"]
    assert set(names_listed("--topic", "blind-holes")) == set(names_listed("--topic", "Blind holes")) > {"slotted-slide"}


def test_a_shell_completes_title_blocks_wordings_and_looks():
    assert completions("sheet", "--title-block", "") == ["harbour", "quarry"] == completions("worksheet", "--title-block", "")
    assert completions("worksheet", "--wording", "en-") == ["en-elevations"]
    assert completions("worksheet", "--paper", "11") == ["11x17"] and completions("sheet", "--paper", "a") == ["A3", "A2", "A4"]


def test_what_may_be_a_file_too_is_completed_as_one_where_no_name_begins_so():
    for words in (("sheet", "./our"), ("sheet", "our"), ("worksheet", "--title-block", "our"), ("bank", "vet", "our")):
        before, begun = list(words[:-1]), words[-1]
        [item] = BashComplete(main, {}, "sheetgen", "_SHEETGEN_COMPLETE").get_completions(before, begun)
        assert (item.value, item.type) == (begun, "file")
    assert completions("worksheet", "--topic", "our") == []


def test_where_a_bank_cannot_be_read_a_shell_completes_nothing_and_says_nothing(tmp_path, capfd):
    assert completions("worksheet", "--only-bank", tmp_path / "none", "--topic", "") == []
    assert completions("sheet", "--bank", tmp_path / "none", "st") == ["st"]           # a file may be meant
    assert capfd.readouterr() == ("", "")


def test_a_list_of_the_bank_loads_nothing_of_the_drawing_so_that_it_comes_at_once():
    run("bank", "list")                                             # the cache has it from now on
    heavy = ("numpy", "shapely", "manifold3d", "reportlab", "pydantic")
    code = ("import sys\nfrom sheetgen.cli import main\ntry: main(['bank', 'list', '--topic', 'holes'])\n"
            f"finally: print([name for name in {heavy} if name in sys.modules], file=sys.stderr)")
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=False)
    assert done.stderr.strip().splitlines()[-1] == "[]" and "countersunk-plate" in done.stdout
