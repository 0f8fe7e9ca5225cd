"""A file of one kind given in place of another is told as what it is, and what takes it; .yml and capitals are understood."""

from __future__ import annotations

from pathlib import Path
from shutil import copy

import pytest

from sheetgen.bank import BankError, load_bank, load_family
from sheetgen.faults import FaultError
from sheetgen.sets import load_plan
from sheetgen.shared import shipped
from sheetgen.templating import load_instructions, load_marking, load_title_block, load_wording
from tests import samples

TEMPLATES = shipped("templates")
FILES = {
    "family": shipped("problem_bank") / "stepped-block.yaml", "plan": TEMPLATES / "plans" / "demonstration.yaml",
    "title block": TEMPLATES / "title_blocks" / "harbour.yaml", "wording": TEMPLATES / "wording" / "en.yaml",
    "tree of topics": TEMPLATES / "topics.yaml", "list of instructions": TEMPLATES / "start" / "instructions.yaml",
    "marking template": TEMPLATES / "marking" / "by-parts.yaml",
}
READERS = {
    "family": load_family, "plan": lambda path: load_plan(path, load_bank()), "title block": load_title_block,
    "wording": load_wording, "list of instructions": load_instructions, "marking template": load_marking,
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
    assert given != "plan" or fault.wanted == "`sheetgen worksheet` and `sheetgen pack` take it"


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


@pytest.mark.parametrize("text", ["", "# nothing but a comment\n", "\n\n"])
@pytest.mark.parametrize("wanted", READERS)
def test_an_empty_file_is_told_as_that_with_what_writes_one_to_begin_with(tmp_path, wanted, text):
    file = tmp_path / "ours.yaml"
    file.write_text(text, encoding="utf-8")
    with pytest.raises(FaultError) as caught:
        READERS[wanted](file)
    [fault] = caught.value.faults
    assert fault.found == "an empty file" and fault.wanted.startswith(f"a {wanted}: ")
    begun = f"sheetgen new {wanted.removeprefix('list of ').replace(' ', '-')} FILE"
    assert wanted in ("wording", "marking template") or begun in fault.wanted


TABLES = ["Number,First name,Last name\n1,Ann,Lee\n", '# a note\nName;Group\n"Lee, Ann";10A\n', "No\tName\n1\tAnn\n",
          '"Name","No"\n"Lee: Ann",1\n', "sep=;\nName;No\nAnn;1\n"]


@pytest.mark.parametrize(("wanted", "name", "text"), [
    *((wanted, "class.yaml", text) for wanted in READERS for text in TABLES),
    ("plan", "class.csv", "Name\nAnn\n"), ("plan", "class.CSV", "Name: full,No\n"), ("plan", "class.txt", TABLES[0])])
def test_a_class_list_given_as_another_file_is_told_with_where_it_belongs(tmp_path, wanted, name, text):
    (tmp_path / name).write_text(text, encoding="utf-8")
    with pytest.raises(FaultError) as caught:
        READERS[wanted](tmp_path / name)
    [fault] = caught.value.faults
    assert fault.found == "this is a class list" and fault.wanted.startswith("give it with --class-list")


def test_files_that_begin_with_words_are_no_class_lists(tmp_path):
    for text in ("title: Pipes, cones and spheres\nproblems: []\n", "{title: x, problems: []}\n", "- a, b\n"):
        (tmp_path / "plan.yaml").write_text(text, encoding="utf-8")
        with pytest.raises(FaultError) as caught:
            load_plan(tmp_path / "plan.yaml", load_bank())
        assert "class list" not in str(caught.value)


@pytest.mark.parametrize("sort", READERS)
def test_a_misspelt_file_brings_the_nearest_that_is_there(tmp_path, sort):
    (tmp_path / "our-own.yaml").write_text("a: 1\n", encoding="utf-8")
    (tmp_path / "our-wn.csv").write_text("a\n", encoding="utf-8")
    with pytest.raises(FaultError, match=r"found no such file, wanted our-own\.yaml, which lies there, or another"):
        READERS[sort](tmp_path / "Our-onw.yaml")
    with pytest.raises(FaultError, match="found no such file, wanted a file"):
        READERS[sort](tmp_path / "something.yaml")
