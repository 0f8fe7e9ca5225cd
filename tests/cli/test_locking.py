"""Books of answers locked from the command line: by a file, or by what is typed at a terminal."""

from __future__ import annotations

import fcntl
import os
import pty
import select
import signal
import subprocess
import sys
import termios
import time
from pathlib import Path

import pytest
from click.testing import CliRunner
from pypdf import PasswordType, PdfReader

from sheetgen.cli import main
from sheetgen.sets import worksheet
from sheetgen.sets.folder import WORK
from tests import samples

WORDS = "four plain words here"


@pytest.fixture
def place(tmp_path):
    """A folder with a family, a plan for a class of two, and a password."""
    samples.bank_of(tmp_path / "bank", step=samples.STEP)
    (tmp_path / "list.csv").write_text("No,Name\n1,Quin\n2,Zed\n", encoding="utf-8")
    (tmp_path / "plan.yaml").write_text(
        "class_list: list.csv\nanswer_key: yes\nproblems:\n  - {family: step, seed: 2}\n", encoding="utf-8")
    (tmp_path / "word.txt").write_text(f"{WORDS}\n", encoding="utf-8")
    return tmp_path


def command(place, *more):
    plan, bank, out = (str(place / name) for name in ("plan.yaml", "bank", "out"))
    return ["worksheet", plan, "--only-bank", bank, "--out", out, "--jobs", "1", *more]


def run(place, *more, code=0):
    outcome = CliRunner().invoke(main, command(place, *map(str, more)))
    assert outcome.exit_code == code, outcome.output
    assert "Traceback" not in outcome.output and WORDS not in outcome.output
    return outcome


def locked(folder):
    """The files of a folder, and whether each asks for the password."""
    found = {}
    for path in sorted(folder.glob("*.pdf")):
        reader = PdfReader(path)
        found[path.name] = reader.is_encrypted
        assert not reader.is_encrypted or reader.decrypt(WORDS) is not PasswordType.NOT_DECRYPTED
    return found


def test_what_has_answers_in_it_is_locked_and_nothing_else(place):
    run(place, "--lock-with", place / "word.txt")
    assert locked(place / "out") == {"answer-key.pdf": True, "answers.pdf": True, "questions.pdf": False}


def test_only_their_owner_can_open_what_is_locked_and_the_folder_in_which_it_is_made(place, monkeypatch):
    modes = []
    made = worksheet.WorksheetMaker.run

    def looked_at(maker, *more):
        modes.append((place / "out" / WORK).stat().st_mode & 0o777)
        return made(maker, *more)

    monkeypatch.setattr(worksheet.WorksheetMaker, "run", looked_at)
    run(place, "--lock-with", place / "word.txt")
    assert modes == [0o700]
    closed = {path.name for path in (place / "out").iterdir() if path.stat().st_mode & 0o077 == 0}
    assert closed == {"answers.pdf", "answer-key.pdf"}


def test_so_it_is_with_a_file_for_each_student(place):
    run(place, "--split", "--lock-with", place / "word.txt")
    found = locked(place / "out")
    assert len(found) == 5 and all(asks == name.startswith("answer") for name, asks in found.items())


def test_the_mark_of_the_set_and_the_questions_are_the_same_locked_or_not(place):
    run(place)
    plain = (place / "out" / "questions.pdf").read_bytes()
    mark = PdfReader(place / "out" / "answers.pdf").metadata.creator
    run(place, "--lock-with", place / "word.txt")
    assert (place / "out" / "questions.pdf").read_bytes() == plain
    reader = PdfReader(place / "out" / "answers.pdf")
    reader.decrypt(WORDS)
    assert reader.metadata.creator == mark


def test_a_password_that_will_not_do_is_told_before_anything_is_made(place):
    (place / "word.txt").write_text("short", encoding="utf-8")
    said = run(place, "--lock-with", place / "word.txt", code=2).stderr
    assert "word.txt: found a password of 5 characters, wanted 8 to 127" in said and not (place / "out").exists()


def test_both_ways_at_once_are_refused_and_without_a_terminal_nobody_is_asked(place):
    assert "only one of them" in run(place, "--lock", "--lock-with", place / "word.txt", code=2).stderr
    assert "without a terminal there is --lock-with FILE" in run(place, "--lock", code=2).stderr
    assert not (place / "out").exists()


def test_a_set_that_cannot_be_locked_leaves_the_one_before_as_it_was(place, monkeypatch):
    import pypdf

    run(place)
    before = {path.name: path.read_bytes() for path in (place / "out").iterdir()}

    def full(*_):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(pypdf.PdfWriter, "write_stream", full)
    said = run(place, "--lock-with", place / "word.txt", code=2).stderr
    assert "No space left on device" in said and "As before, " in said
    assert {path.name: path.read_bytes() for path in (place / "out").iterdir()} == before


def test_work_that_was_stopped_is_taken_up_whether_the_next_run_locks_or_not(place, monkeypatch):
    made = []
    drawn = worksheet._drawn
    monkeypatch.setattr(worksheet, "_drawn", lambda *given: made.append(given) or drawn(*given))
    monkeypatch.setattr("sheetgen.sets.worksheet.results", _then_killed(worksheet.results))
    with pytest.raises(SystemExit):
        main(command(place), standalone_mode=True)
    assert (place / "out" / WORK).exists() and len(made) == 1
    monkeypatch.setattr("sheetgen.sets.worksheet.results", worksheet.results.__wrapped__)
    said = run(place, "--lock-with", place / "word.txt").stderr
    assert "Going on with what an earlier run" in said and len(made) == 1
    assert locked(place / "out")["answers.pdf"]


def _then_killed(results):
    """Exercises are made and put aside; then memory runs out."""
    def run(call, *more):
        yield from results(call, *more)
        if call.__name__ == "_made":
            raise MemoryError
    run.__wrapped__ = results
    return run


STOP = b"\x03"
"""Ctrl-C."""


def at_terminal():
    """Ctrl-C is a signal there, whatever these tests were started by: what a shell runs in the background ignores it."""
    fcntl.ioctl(0, termios.TIOCSCTTY, 0)
    signal.signal(signal.SIGINT, signal.SIG_DFL)


def typed(place, *lines):
    """The program at a terminal of its own, at which these lines are typed; what stands there at the end, and the exit code."""
    own, other = pty.openpty()
    environment = {**os.environ, "PYTHONPATH": str(Path(__file__).parents[2])}
    process = subprocess.Popen(
        [sys.executable, "-m", "sheetgen", *command(place, "--lock")], stdin=other, stdout=other, stderr=other, env=environment,
        start_new_session=True, preexec_fn=at_terminal)
    os.close(other)
    said, waiting, until = b"", list(lines), time.monotonic() + 60
    while time.monotonic() < until:
        if not select.select([own], [], [], 1.0)[0]:
            continue
        try:
            said += os.read(own, 4096)
        except OSError:                # the other end is closed
            break
        asked = said.count(b"Password for the answers: ") + said.count(b"The same again: ")
        if waiting and asked > len(lines) - len(waiting):
            os.write(own, waiting.pop(0))
    os.close(own)
    try:
        return said.decode(), process.wait(timeout=60)      # it closes its end a little before it ends
    finally:
        process.kill()


def test_a_password_is_typed_twice_and_is_not_seen(place):
    line = f"{WORDS}\n".encode()
    said, code = typed(place, line, line)
    assert code == 0 and WORDS not in said
    assert locked(place / "out")["answers.pdf"]


def test_two_that_differ_are_asked_for_again(place):
    line = f"{WORDS}\n".encode()
    said, code = typed(place, line, b"other words here\n", line, line)
    assert code == 0 and said.count("Password for the answers") == 2
    assert locked(place / "out")["answers.pdf"]


def test_who_thinks_better_of_it_stops_there(place):
    said, code = typed(place, STOP)
    assert code == 130 and "Stopped." in said and not (place / "out").exists()
