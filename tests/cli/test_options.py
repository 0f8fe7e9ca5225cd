"""What is typed on the command line: understood where it can be, told in plain words where not."""

from __future__ import annotations

import pytest
from click.testing import CliRunner

from sheetgen.bank import load_bank, outlines
from sheetgen.choosing import topics_of
from sheetgen.cli import main
from tests import samples


def run(*words, code=0):
    outcome = CliRunner().invoke(main, [str(word) for word in words])
    assert outcome.exit_code == code, outcome.output
    return outcome


@pytest.mark.parametrize(("words", "option", "typed", "least", "most"), [
    (("sheet", "stepped-block", "--seed", "seven"), "--seed", "seven", 0, 999_999_999),
    (("sheet", "stepped-block", "--seed", "-1"), "--seed", "-1", 0, 999_999_999),
    (("sheet", "stepped-block", "--seed", "1.5"), "--seed", "1.5", 0, 999_999_999),
    (("worksheet", "--rung", "6"), "--rung", "6", 1, 5), (("worksheet", "--count", "many"), "--count", "many", 1, 500),
    (("worksheet", "--week", "0"), "--week", "0", 1, 52), (("worksheet", "--jobs", "x"), "--jobs", "x", 1, 64),
    (("bank", "vet", "--seeds", "0"), "--seeds", "0", 1, 5000),
])
def test_what_is_no_number_within_its_bounds_is_told_in_words(words, option, typed, least, most):
    told = run(*words, code=2).stderr
    assert f"Invalid value for '{option}': '{typed}' is no whole number from {least} to {most}.\n" in told


def test_a_topic_that_there_is_not_brings_the_nearest_few_and_where_all_are_listed():
    told = run("worksheet", "--topic", "bananas", code=2).stderr
    names, _, where = told.partition("wanted ")[2].partition(" (")
    assert where == "`sheetgen bank list` shows the topics of all families)\n"
    named = names.replace(" or ", ", ").split(", ")
    assert 1 < len(named) <= 3 and set(named) <= set(topics_of(outlines(load_bank()).values()))


def test_a_code_is_understood_with_blanks_in_it_as_one_word_or_as_several(tmp_path):
    told = {}
    for number, words in enumerate((["PNP8R0-K4D629-PV0G1X"], ["pnp8ro k4d629", "pvog1x"], ["pnp8ro", "k4d629", "pvog1x"])):
        assert "PNP8R0-K4D629-PV0G1X-answer.pdf written" in run("answer", *words, "--out", tmp_path / f"{number}").stdout
        [path] = (tmp_path / f"{number}").iterdir()
        told[number] = path.name, path.read_bytes()
    assert told[0] == told[1] == told[2]
    assert "found 12 signs in 'pnp8ro k4d629', wanted 18 signs" in run("answer", "pnp8ro", "k4d629", code=2).stderr


def test_a_folder_that_the_system_makes_nowhere_is_told_in_words(tmp_path, monkeypatch):
    def refused(path, *_, **__):
        raise FileNotFoundError(2, "No such file or directory")

    monkeypatch.setattr("pathlib.Path.mkdir", refused)                # as of folders in a system's own places
    told = run("sheet", "stepped-block", "--out", tmp_path / "none", code=2).stderr
    assert told == (f"{tmp_path}/none: found a place where no folder can be made, "
                    "wanted a folder of your own; choose another with --out\n")


def test_the_bank_tells_where_families_come_from_only_if_some_are_ones_own(tmp_path, monkeypatch):
    samples.bank_of(tmp_path / "ours", mine=samples.STEP)
    monkeypatch.chdir(tmp_path)
    alone, both = run("bank", "list").stdout, run("bank", "list", "--bank", "ours").stdout
    assert "From" not in alone and "problem_bank" not in alone
    assert "From" in both and "problem_bank/" in both and "ours/" in both
    assert "From" in run("bank", "list", "--only-bank", "ours").stdout


def test_a_class_list_given_as_a_plan_is_told_with_the_option_that_takes_it(tmp_path):
    (tmp_path / "10b.csv").write_text("Name,No\nAnn,1\n", encoding="utf-8")
    told = run("worksheet", tmp_path / "10b.csv", code=2).stderr
    assert told.startswith(f"{tmp_path}/10b.csv: this is a class list: give it with --class-list")


def test_what_a_plan_says_and_no_cell_shows_is_remarked_once(tmp_path):
    run("new", "title-block", tmp_path / "ours.yaml")
    plan = tmp_path / "plan.yaml"
    plan.write_text("approved_by: N. FERROUS\nschool: Pebble #2 School\ntitle_block: ours.yaml\nproblems:\n"
                    "  - {family: stepped-block, count: 3}\n", encoding="utf-8")
    said = run("worksheet", plan, "--dry-run").stderr.splitlines()
    assert [line.split(": ")[1:3] for line in said] == [[f"{plan}:2", "school"], [f"{plan}:1", "approved_by"]]


def test_a_path_with_other_letters_than_the_system_knows_can_be_recognised(tmp_path):
    """Bytes of a name that Python has not read as letters, as under a language without them."""
    strange = str(tmp_path / "Blätter.yaml").encode().decode("ascii", "surrogateescape")
    assert "Blätter.yaml: found no such file" in run("worksheet", strange, code=2).stderr
