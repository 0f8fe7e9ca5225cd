"""A file of one kind given in place of another is told as what it is, and what takes it; .yml and capitals are understood."""

from __future__ import annotations

from pathlib import Path
from shutil import copy

import pytest

from sheetgen.bank import BankError, load_bank, load_family
from sheetgen.faults import FaultError
from sheetgen.sets import load_plan
from sheetgen.shared import shipped
from sheetgen.templating import load_marking, load_title_block, load_wording
from tests import samples

TEMPLATES = shipped("templates")
FILES = {
    "family": shipped("problem_bank") / "stepped-block.yaml", "plan": TEMPLATES / "plans" / "demonstration.yaml",
    "title block": TEMPLATES / "title_blocks" / "harbour.yaml", "wording": TEMPLATES / "wording" / "en.yaml",
    "tree of topics": TEMPLATES / "topics.yaml", "marking template": TEMPLATES / "marking" / "by-parts.yaml",
}
READERS = {
    "family": load_family, "plan": lambda path: load_plan(path, load_bank()), "title block": load_title_block,
    "wording": load_wording, "marking template": load_marking,
}


@pytest.mark.parametrize("given", FILES)
@pytest.mark.parametrize("wanted", READERS)
def test_a_file_of_another_kind_is_told_as_what_it_is_and_nothing_else_is_said_of_it(tmp_path, given, wanted):
    file = copy(FILES[given], tmp_path / "Week 3.yaml" if given == "plan" else tmp_path / "file.yaml")
    if given == wanted:
        READERS[wanted](Path(FILES[given]))
        return
    with pytest.raises(FaultError) as caught:
        READERS[wanted](file)
    [fault] = caught.value.faults
    assert fault.found == f"this is a {given}" and str(fault).startswith(f"{file.as_posix()}: this is a {given}: ")
    assert given != "plan" or fault.wanted == "`sheetgen worksheet` takes it"


@pytest.mark.parametrize(("begins", "what"), [
    (b"%PDF-1.7\n", "a PDF"), (b"\x89PNG\r\n", "a picture"), (b"PK\x03\x04", "a packed file"), (b"<html>", "a web page")])
def test_what_is_no_text_of_ours_is_told_as_what_it_is(tmp_path, begins, what):
    file = tmp_path / "block.yaml"
    file.write_bytes(begins + bytes(range(256)))
    with pytest.raises(BankError) as caught:
        load_family(file)
    assert caught.value.faults[0].found.startswith(what)


@pytest.mark.parametrize("suffix", [".yml", ".YAML", ".Yml"])
def test_all_ways_to_write_the_end_of_a_name_are_understood(tmp_path, suffix):
    (tmp_path / f"step{suffix}").write_text(samples.STEP, encoding="utf-8")
    (tmp_path / f"plan{suffix}").write_text(f"title_block: ours{suffix}\nproblems:\n  - {{family: step{suffix}, seed: 4}}\n",
                                             encoding="utf-8")
    copy(FILES["title block"], tmp_path / f"ours{suffix}")
    assert load_family(tmp_path / f"step{suffix}").name == "step" and "step" in load_bank(tmp_path)
    plan = load_plan(tmp_path / f"plan{suffix}", load_bank())
    assert [(entry.family, entry.seed) for entry in plan.entries] == [("step", 4)]
    assert load_title_block(tmp_path / f"ours{suffix}").title == load_title_block("harbour").title


def test_two_files_of_one_name_that_end_differently_are_told(tmp_path):
    for suffix in (".yaml", ".yml"):
        (tmp_path / f"step{suffix}").write_text(samples.STEP, encoding="utf-8")
    with pytest.raises(BankError, match=r"step\.yml: found a second family called step, beside step\.yaml"):
        load_bank(tmp_path)
