"""Files to begin with: what a teacher is given works as it stands, and nothing of the teacher's is ever lost."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
import yaml
from click.testing import CliRunner
from pypdf import PdfReader

from sheetgen.bank import load_bank, load_family
from sheetgen.cli import main
from sheetgen.cli.new import SORTS, _suffix
from sheetgen.sets.plan import IN_BLOCK
from sheetgen.shared import shipped
from sheetgen.sheet.codebox import code_place
from sheetgen.templating import load_title_block
from sheetgen.vetting import vet


@pytest.fixture
def place(tmp_path, monkeypatch):
    """A folder to work in."""
    monkeypatch.chdir(tmp_path)
    return tmp_path


def run(*words, code=0):
    outcome = CliRunner().invoke(main, [str(word) for word in words])
    assert outcome.exit_code == code, outcome.output
    return outcome


def test_there_is_a_file_to_begin_with_for_each_sort():
    assert {path.name for path in (shipped("templates") / "start").iterdir()} == {
        f"{sort}{_suffix(sort)}" for sort in SORTS if sort != "key"}     # every key is another


@pytest.mark.parametrize(("sort", "name"), [
    ("plan", "week-1.yaml"), ("family", "our-part.yaml"), ("title-block", "our-block.yaml"), ("class-list", "10b.csv"),
    ("pack", "our-pack.yaml")])
def test_sheets_come_of_the_command_that_is_told(place, sort, name):
    said = run("new", sort, name).stdout
    assert said.startswith(f"{name} written. ")
    command = said.split("sheetgen ", 1)[1].split()
    assert name in command
    run(*command)
    pages = sum(len(PdfReader(path).pages) for path in (place / "output").glob("*.pdf") if "-rung-" not in path.name
                or path.name.startswith(("questions", "answers")))
    assert pages == {"plan": 10, "class-list": 48, "pack": 16}.get(sort, 2)       # of three students, eight problems each


def test_the_family_to_begin_with_is_clean_and_the_block_lacks_nothing(place):
    for sort in ("family", "title-block"):
        run("new", sort, f"our-{sort}.yaml")
    assert vet(load_family("our-family.yaml"), seeds=16, sheets=2).faults == ()
    block = load_title_block(place / "our-title-block.yaml")
    assert block.remarks == () and block.takes_crest
    assert code_place(block).beside is None                                   # a cell of it is for the code
    shown = set().union(*(cell.text.names for cell in block.cells if cell.text))
    plan = yaml.safe_load((shipped("templates") / "start" / "plan.yaml").read_text(encoding="utf-8"))
    assert {name for field, name in IN_BLOCK.items() if field in plan} <= shown


def test_the_remarks_of_a_plan_can_be_taken_at_their_word(place):
    """Each line behind a # is tried: alone, or with what it asks for beside it."""
    run("new", "plan", "plan.yaml")
    run("new", "title-block", "our-block.yaml")
    run("new", "family", "our-part.yaml")
    (place / "our-families").mkdir()
    run("new", "family", "our-families/another.yaml")
    (place / "our-crest.svg").write_text('<svg xmlns="http://www.w3.org/2000/svg"><path d="M0 0h9v9"/></svg>', encoding="utf-8")
    text = (place / "plan.yaml").read_text(encoding="utf-8")
    said = re.findall(r"^ *# (?:[a-z_]+: |- \{).*$", text, re.MULTILINE)
    assert len(said) == 14
    for line in said:
        if not line.startswith(("# term", "# weeks", "# crest")):
            text = text.replace(line, line.replace("# ", "", 1))
    text = text.replace("# crest", "crest")
    (place / "plan.yaml").write_text(text, encoding="utf-8")
    assert "9 problems" in run("worksheet", "plan.yaml", "--dry-run").stdout
    term = "".join(line for line in text.splitlines(keepends=True) if "seed:" not in line).replace("# term", "term")
    (place / "plan.yaml").write_text(term.replace("# weeks", "weeks"), encoding="utf-8")
    assert "week 3 (of 14)" in run("worksheet", "plan.yaml", "--week", 3, "--dry-run").stdout
    run("sheet", "our-part.yaml", "--title-block", "our-block.yaml")


def test_topics_and_families_that_the_plan_names_are_in_the_bank():
    text = (shipped("templates") / "start" / "plan.yaml").read_text(encoding="utf-8")
    assert set(re.findall(r"family: ([a-z-]+)[,}]", text)) <= set(load_bank())


@pytest.mark.parametrize("sort", SORTS)
def test_what_is_there_already_stays_as_it_is(place, sort):
    mine, dead = (f"{name}{_suffix(sort)}" for name in ("mine", "dead"))
    (place / mine).write_text("mine", encoding="utf-8")
    (place / dead).symlink_to(place / "nowhere")
    for name in (mine, dead):
        said = run("new", sort, name, code=2)
        assert f"{name}: found something of that name already" in said.stderr and said.stdout == ""
    assert (place / mine).read_text(encoding="utf-8") == "mine" and not (place / "nowhere").exists()


@pytest.mark.parametrize(("words", "told"), [
    (("plan", "week-1"), "a name that does not end in .yaml, wanted such as week-1.yaml"),
    (("plan", "none/week-1.yaml"), "no such folder as none"),
    (("family", "Our Part.yaml"), "a name that no family can have"),
    (("block", "x.yaml"), "'block' is not one of 'plan', 'family', 'title-block', 'class-list'"),
    (("class-list", "10b.yaml"), "a name that does not end in .csv, wanted such as 10b.csv"),
])
def test_names_that_would_not_do_are_refused_before_anything_is_written(place, words, told):
    said = run("new", *words, code=2)
    assert told in said.stderr and not list(place.iterdir())


def test_a_disk_that_is_full_leaves_no_half_a_file(place, monkeypatch):
    opened = Path.open

    def full(path, mode="r", *more, **named):
        file = opened(path, mode, *more, **named)
        if mode == "xb":
            file.close()
            file = opened("/dev/full", "wb", buffering=0)
        return file

    monkeypatch.setattr(Path, "open", full)
    assert "No space left" in run("new", "plan", "week-1.yaml", code=2).stderr
    assert not list(place.iterdir())
