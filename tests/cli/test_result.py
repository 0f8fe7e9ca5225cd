"""What becomes of finished sheets: told or not, shown or not, and never put in the place of others where that is not wanted."""

from __future__ import annotations

import os
import pty
import subprocess
import sys
from pathlib import Path

import click
import pytest
from click.testing import CliRunner

from sheetgen import __version__
from sheetgen.cli import main
from sheetgen.sets import FolderError, OutFolder
from tests import samples


@pytest.fixture
def place(tmp_path, monkeypatch):
    """A folder with one small family and a plan, in which we are."""
    samples.bank_of(tmp_path / "bank", step=samples.STEP)
    (tmp_path / "plan.yaml").write_text(samples.PLAN, encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    return tmp_path


SHEET = ("sheet", "step", "--only-bank", "bank")
SET = ("worksheet", "plan.yaml", "--only-bank", "bank")
CONTACT = ("bank", "contact", "--only-bank", "bank")


def run(*words, code=0):
    outcome = CliRunner().invoke(main, [str(word) for word in words])
    assert outcome.exit_code == code, outcome.output
    return outcome


@pytest.mark.parametrize(("words", "told"), [
    (SHEET, "{0}/step-1-question.pdf and {0}/step-1-answer.pdf written\n"),
    (SET, "3 problems: {0}/questions.pdf and {0}/answers.pdf written\n"),
    (CONTACT, "1 family: {0}/contact.pdf written\n"),
])
def test_the_closing_line_gives_each_path_as_the_folder_was_typed(place, words, told):
    for out in ("out", "./a/b", place / "whole"):
        assert run(*words, "--out", out).stdout == told.format(str(out).removeprefix("./"))


@pytest.mark.parametrize("words", [SHEET, SET, CONTACT])
def test_quiet_says_nothing_unless_something_is_wrong(place, words):
    said = run(*words, "--quiet")
    assert (said.stdout, said.stderr) == ("", "") and list((place / "output").glob("*.pdf"))
    assert "no such folder" in run(*words, "-q", "--bank", "none", code=2).stderr


@pytest.mark.parametrize(("words", "name", "other"), [
    (SHEET, "step-1-answer.pdf", "step-1-question.pdf"), (SET, "questions.pdf", "answers.pdf"), (CONTACT, "contact.pdf", ""),
    ((*SHEET, "--svg"), "step-1-question.svg", "step-1-question.pdf"), ((*SET, "--blank"), "blanks.pdf", "questions.pdf"),
])
def test_no_overwrite_writes_nothing_where_one_of_the_files_is(place, monkeypatch, words, name, other):
    (place / "output").mkdir()
    (place / "output" / name).write_text("mine", encoding="utf-8")

    def drawn(*_):
        raise AssertionError("drawn for nothing")

    with monkeypatch.context() as patch:
        patch.setattr("sheetgen.sets.worksheet.make_exercise", drawn)
        patch.setattr("sheetgen.exercises.contact.portrait_of", drawn)
        said = run(*words, "--no-overwrite", code=2)
    assert f"output: found {name} already, which --no-overwrite keeps" in said.stderr
    assert [path.name for path in (place / "output").iterdir()] == [name]
    run(*words, "--no-overwrite", "--out", "elsewhere")
    run(*words)
    assert (place / "output" / name).read_bytes()[:4] != b"mine" and (not other or (place / "output" / other).is_file())


def test_a_file_that_comes_while_we_draw_is_kept_too(place):
    with pytest.raises(FolderError, match=r"one\.txt already"), OutFolder(Path("out"), kept=["one.txt", "two.txt"]) as folder:
        folder.add("two.txt", lambda file: file.write(b"ours"))
        (place / "out" / "one.txt").write_text("mine", encoding="utf-8")
        folder.add("one.txt", lambda file: file.write(b"ours"))
    assert (place / "out" / "one.txt").read_text(encoding="utf-8") == "mine" and not (place / "out" / "two.txt").exists()


def test_open_shows_the_finished_pdfs_and_nothing_else(place, monkeypatch):
    shown = []
    monkeypatch.setattr(click, "launch", lambda path: shown.append(path) or 0)
    run(*SHEET, "--svg", "--open")
    assert shown == [str(place / "output" / f"step-1-{role}.pdf") for role in ("question", "answer")]
    shown.clear()
    run(*SHEET, "--title-block", "none", "--open", code=2)
    assert shown == []


def test_without_a_viewer_that_is_told_and_the_sheets_are_there(place, monkeypatch):
    monkeypatch.setattr(click, "launch", lambda _: 1)
    said = run(*CONTACT, "--open")
    assert said.stderr == "There is no program here to show output/contact.pdf.\n" and "written" in said.stdout


@pytest.mark.parametrize(("term", "linked"), [("xterm-256color", True), ("dumb", False), ("linux", False)])
def test_a_terminal_gets_links_and_a_pipe_does_not(place, term, linked):
    """Operating system command 8 of terminals (common practice, no source)."""
    ours, theirs = pty.openpty()
    command = [sys.executable, "-m", "sheetgen", "new", "plan", "a plan.yaml"]
    done = subprocess.run(command, stdout=theirs, stderr=subprocess.PIPE, check=True, env={**os.environ, "TERM": term})
    os.close(theirs)
    said = os.read(ours, 4000).decode()
    os.close(ours)
    assert done.stderr == b""
    link = f"\x1b]8;;{(place / 'a plan.yaml').as_uri()}\x1b\\a plan.yaml\x1b]8;;\x1b\\ written"
    assert (link in said) is linked and (said.startswith("a plan.yaml written") is not linked)
    assert "\x1b" not in run("new", "plan", "b.yaml").stdout


def test_version_has_a_short_name():
    assert run("-V").stdout == run("--version").stdout == f"sheetgen {__version__}\n"
