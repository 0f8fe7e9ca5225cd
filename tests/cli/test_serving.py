"""Which kinds families serve, as the command line tells it."""

from __future__ import annotations

import json
import re

import pytest
from click.testing import CliRunner

from sheetgen.cli import main
from sheetgen.cli.serving import served_table, told_to_wait
from sheetgen.exercises import Served, kinds
from tests import samples


@pytest.fixture
def bank(tmp_path):
    return samples.bank_of(tmp_path / "bank", step=samples.STEP, clipped=samples.CLIPPED)


def run(*words, code=0):
    outcome = CliRunner().invoke(main, [str(word) for word in words])
    assert outcome.exit_code == code, outcome.output
    return outcome


def columns(text):
    """By family the sign under each kind, of a table as it is printed."""
    lines = text.splitlines()
    steps = {re.sub(r"^Family|[ |]", "", line): len(line) - len(line.lstrip("F amily|")) for line in lines[:len(kinds())]}
    starts = {name: lines[number].rindex(name) for number, name in enumerate(kinds())}
    assert list(steps) == list(kinds())
    rows = lines[len(kinds()):lines.index("")]
    return {row.split()[0]: {name: row[at] for name, at in starts.items()} for row in rows}


def test_a_line_for_each_family_tells_under_each_kind_whether_it_serves_it(bank):
    found = columns(run("bank", "list", "--kinds", "--only-bank", bank).stdout)
    assert list(found) == ["clipped", "step", "served"]
    assert {found["step"][kind] for kind in ("faces", "match", "mistakes", "missing-lines", "third-view", "views")} == {"*"}
    assert {name for name, sign in found["clipped"].items() if sign == "."} >= {"third-view", "missing-lines"}
    assert (found["clipped"]["views"], found["served"]["third-view"], found["served"]["views"]) == ("*", "1", "2")


def test_programs_get_numbers_and_reasons(bank):
    rows = {row["name"]: row["kinds"] for row in
            json.loads(run("bank", "list", "--kinds", "--json", "--only-bank", bank).stdout)}
    assert rows["step"]["third-view"] == {"share": "all", "served": 2, "looked": 2, "reason": ""}
    told = rows["clipped"]["third-view"]
    assert (told["share"], told["served"]) == ("none", 0) and told["reason"].startswith("not all its faces")
    plain = json.loads(run("bank", "list", "--json", "--only-bank", bank).stdout)
    assert all("kinds" not in row for row in plain)


def test_the_table_fits_a_terminal_however_long_the_names_and_is_the_same_each_time(capsys):
    rows = {"a" * 40: tuple(Served(name, 1, 8, "too few") for name in kinds()), "b": tuple(map(Served, kinds()))}
    served_table(rows)
    text = capsys.readouterr().out
    served_table(rows)
    assert max(map(len, text.splitlines())) <= 80 and capsys.readouterr().out == text
    assert {sign for row, signs in columns(text).items() if row.startswith("a") for sign in signs.values()} == {"-"}


def test_a_family_at_fault_is_told_below_and_the_others_are_listed(tmp_path):
    bank = samples.bank_of(tmp_path / "bank", step=samples.STEP, broken=samples.TWO_PIECES)
    outcome = run("bank", "list", "--kinds", "--only-bank", bank, code=1)
    assert "broken" not in outcome.stdout and "broken.yaml" in outcome.stderr and "step" in outcome.stdout


def test_it_is_said_that_families_are_looked_at_but_not_of_a_few_nor_to_who_wants_quiet(capsys):
    told_to_wait()(3)
    told_to_wait(quiet=True)(42)
    assert capsys.readouterr() == ("", "")
    told_to_wait()(42)
    assert capsys.readouterr().err.startswith("Finding out which kinds 42 families serve")


def test_vetting_tells_in_a_line_which_kinds_a_family_serves(bank):
    said = run("bank", "vet", "--seeds", "2", "--only-bank", bank, "clipped", code=1).stdout
    assert "serves:" not in said                                        # its faults come first
    block = run("bank", "vet", "--seeds", "2", "counterbored-block").stdout
    [line] = [line for line in block.splitlines() if line.startswith("serves: counterbored-block: ")]
    assert "third-view" in line
    assert "; not missing-lines (not all its faces are seen edge-on or in their true shape in one view)" in line


def test_the_demonstration_asked_for_third_views_tells_at_once_which_of_its_families_do_not_serve(tmp_path):
    said = run("worksheet", "--kind", "third-view", "--out", tmp_path / "out", code=2).stderr
    assert "templates/plans/demonstration.yaml:" in said and "bearing-support, which does not serve the kind third-view" in said
    assert not (tmp_path / "out").exists()
