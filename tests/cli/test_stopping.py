"""Stopped at any moment, by whatever signal: no process goes on, no half set lies there, and the next run comes to the same."""

from __future__ import annotations

import fcntl
import os
import shutil
import signal
import sys
import time
from pathlib import Path

import pytest

from sheetgen.sets.folder import WORK
from tests import samples
from tests.stops import AT_ONCE, Trial, contents, faults_after_kill, marks

pytestmark = pytest.mark.skipif(not sys.platform.startswith("linux"), reason="looks for processes in /proc")

PAIRS = 8
PLAN = f"problems:\n  - {{family: step, count: {PAIRS}}}\n"
OTHER = f"problems:\n  - {{family: step, count: {PAIRS}, first_seed: 50}}\n"


@pytest.fixture(scope="module")
def place(tmp_path_factory):
    """A folder with a bank, two plans, and what undisturbed runs make of them."""
    folder = tmp_path_factory.mktemp("stopping")
    samples.bank_of(folder / "bank", step=samples.STEP)
    for name, plan in (("plan", PLAN), ("other", OTHER)):
        (folder / f"{name}.yaml").write_text(plan, encoding="utf-8")
        assert run(folder, f"{name}.yaml", "--out", f"{name}-whole")[0] == 0
    return folder


def worksheet(folder, *words, **options):
    return Trial(["worksheet", *words, "--only-bank", "bank"], folder, **options)


def run(folder, *words, **options):
    """In one process, because that is quicker for so few."""
    return worksheet(folder, *words, "--jobs", 1, **options).ended()


HOLDS = """
import time
from sheetgen.sets import Shelf
put, left = Shelf.put, [{pairs}]
def held(shelf, *words):
    if left[0] == 0:
        time.sleep(600)
    left[0] -= 1
    return put(shelf, *words)
Shelf.put = held
"""
"""So that a run is still at work when it is stopped, however slow the machine is that stops it."""


@pytest.fixture
def begun(place, tmp_path):
    """Runs that have put so many pairs aside; what is left of them is ended after the test."""
    trials = []

    def begin(out, pairs, jobs=1, holds=True):
        trial = worksheet(place, "plan.yaml", "--out", out, "--jobs", jobs, before=HOLDS.format(pairs=pairs) if holds else "")
        trials.append(trial)
        trial.wait_for(lambda: len(list((out / WORK).glob("*.made"))) >= pairs, f"{pairs} pairs")
        return trial

    yield begin
    for trial in trials:
        trial.end()


@pytest.mark.parametrize("jobs", [2])
def test_a_killed_run_leaves_its_hidden_folder_alone_and_the_next_takes_it_up(place, tmp_path, begun, jobs):
    whole, out = contents(place / "plan-whole"), tmp_path / "out"
    trial = begun(out, 3, jobs)
    assert trial.stop(signal.SIGKILL) < AT_ONCE
    assert [path.name for path in out.iterdir()] == [WORK]
    kept = {path.name: path.stat().st_mtime_ns for path in (out / WORK).glob("*.pages")}
    watch = ("import pathlib, sys\nunlink = pathlib.Path.unlink\n"
             "def noted(path, *a, **k):\n"
             "    if path.name.endswith('.pages'): print(path.name, path.stat().st_mtime_ns, file=sys.stderr)\n"
             "    return unlink(path, *a, **k)\n"
             "pathlib.Path.unlink = noted")
    code, _, told = run(place, "plan.yaml", "--out", out, before=watch)
    assert code == 0 and "Going on with what an earlier run of this command has left" in told
    found = dict(line.rsplit(" ", 1) for line in told.splitlines() if ".pages " in line)
    assert len(kept) >= 6 and kept.items() <= {name: int(time) for name, time in found.items()}.items()    # not made again
    assert contents(out) == whole and [path.name for path in out.iterdir() if path.is_dir()] == []


def test_a_run_of_another_command_removes_what_lies_there_and_says_so(place, tmp_path, begun):
    out = tmp_path / "out"
    begun(out, 2).stop(signal.SIGKILL)
    code, _, told = run(place, "other.yaml", "--out", out)
    assert code == 0 and told == f"Removed what another command has left unfinished in {out}/.\n"
    assert contents(out) == contents(place / "other-whole") and not (out / WORK).exists()


def test_a_folder_in_which_a_run_is_at_work_is_refused_and_that_run_is_not_disturbed(place, tmp_path, begun):
    out = tmp_path / "out"
    living = begun(out, 1, holds=False)
    os.kill(living.process.pid, signal.SIGSTOP)          # or it might be through before the others have begun
    for words in (["plan.yaml"], ["other.yaml"]):
        code, said, told = run(place, *words, "--out", out)
        assert code == 2 and said == ""
        assert told == f"{out}: found another sheetgen that is writing to it, wanted to wait until that has ended; " \
                       "or another folder with --out\n"
    os.kill(living.process.pid, signal.SIGCONT)
    assert living.ended()[0] == 0
    assert contents(out) == contents(place / "plan-whole") and not (out / WORK).exists()


@pytest.mark.parametrize(("number", "group", "code"), [
    (signal.SIGINT, True, 130), (signal.SIGTERM, False, 143), (signal.SIGHUP, True, 129)])
def test_who_stops_a_worksheet_gets_one_line_at_once_and_all_is_as_before(place, tmp_path, begun, number, group, code):
    out = tmp_path / "new" / "out"
    trial = begun(out, 1, jobs=2)
    assert trial.stop(number, group=group) < AT_ONCE
    assert trial.ended() == (code, "", f"Stopped; nothing was written to {out}/.\n")
    assert list(tmp_path.iterdir()) == []                # not even the folders that it had made


def test_who_stops_a_run_over_old_sheets_keeps_them(place, tmp_path, begun):
    out = tmp_path / "out"
    shutil.copytree(place / "other-whole", out)
    trial = begun(out, 2)
    assert trial.stop(signal.SIGINT, group=True) < AT_ONCE
    assert trial.ended()[0] == 130
    assert contents(out) == contents(place / "other-whole") and not (out / WORK).exists()


@pytest.mark.parametrize("after", [0.0, 0.2])
def test_ctrl_c_while_workers_start_brings_no_traceback_from_them(place, tmp_path, after):
    trial = worksheet(place, "plan.yaml", "--out", tmp_path / "out", "--jobs", 2)
    try:
        trial.wait_for(lambda: len(trial.all()) > 1, "workers")
        time.sleep(after)
        assert trial.stop(signal.SIGINT, group=True) < AT_ONCE
        code, said, told = trial.ended()
        assert (code, said) == (130, "") and told.count("\n") == 1 and told.startswith("Stopped; ")
    finally:
        trial.end()


@pytest.mark.parametrize(("number", "group"), [(signal.SIGINT, True), (signal.SIGTERM, False), (signal.SIGKILL, False)])
def test_vetting_stops_at_once_too(place, number, group):
    trial = Trial(["bank", "vet", *["bank/step.yaml"] * 6, "--jobs", 2, "--seeds", 400], place)
    try:
        trial.wait_for(lambda: len(trial.all()) >= 3, "workers")
        assert trial.stop(number, group=group) < AT_ONCE
        code, _, told = trial.ended()
        assert number == signal.SIGKILL or (code, told) == (128 + number, "Stopped.\n")
    finally:
        trial.end()


KILLS_ITSELF = """
import os, pathlib, signal
replace, left = pathlib.Path.replace, [{after}]
def counted(path, to):
    if str(path).endswith(".pdf") or str(to).endswith(".pdf"):
        if left[0] == 0:
            os.kill(os.getpid(), signal.SIGKILL)
        left[0] -= 1
    return replace(path, to)
pathlib.Path.replace = counted
"""
"""Two old files go in, two new ones come out: killed before the first, the second …"""


@pytest.mark.parametrize(("after", "then"), [(0, "plan"), (2, "other"), (3, "plan")])
def test_killed_between_two_moves_no_mixed_set_lies_there_and_the_next_run_ends_what_was_begun(place, tmp_path, after, then):
    out, new, old = tmp_path / "out", contents(place / "plan-whole"), contents(place / "other-whole")
    shutil.copytree(place / "other-whole", out)
    code, _, _ = run(place, "plan.yaml", "--out", out, before=KILLS_ITSELF.format(after=after))
    assert code == -signal.SIGKILL
    assert faults_after_kill(out, old, new) == []
    code, _, told = run(place, f"{then}.yaml", "--out", out)
    assert code == 0 and "its questions.pdf and answers.pdf are in" in told
    assert contents(out) == contents(place / f"{then}-whole") and not (out / WORK).exists()


def test_what_was_begun_is_ended_even_if_the_next_run_comes_to_nothing(place, tmp_path):
    out, new = tmp_path / "out", contents(place / "plan-whole")
    shutil.copytree(place / "other-whole", out)
    run(place, "plan.yaml", "--out", out, before=KILLS_ITSELF.format(after=3))
    fails = "import sheetgen.sets.worksheet as w\ndef fails(*_): raise MemoryError\nw.make_exercise = fails"
    code, _, told = run(place, "other.yaml", "--out", out, before=fails)
    assert code == 2 and "Memory ran out" in told
    assert contents(out) == new


REFUSED = """
import pathlib
replace = pathlib.Path.replace
def refused(path, to):
    if path.name == "new-answers.pdf" and not path.parent.samefile(to.parent):
        raise PermissionError(13, "Permission denied")
    return replace(path, to)
pathlib.Path.replace = refused
"""
"""As Windows refuses to replace a file that a viewer has open."""


def test_if_one_file_cannot_be_replaced_the_others_go_back(place, tmp_path):
    out = tmp_path / "out"
    shutil.copytree(place / "other-whole", out)
    code, said, told = run(place, "plan.yaml", "--out", out, before=REFUSED)
    assert code == 2 and said == ""
    assert told == (f"{out}: found Permission denied, wanted files that may be replaced, and that no other program has open\n"
                    f"As before, {out}/ holds questions.pdf and answers.pdf.\n")
    assert contents(out) == contents(place / "other-whole") and not (out / WORK).exists()


def test_a_lock_of_a_dead_process_is_none(place, tmp_path):
    out = tmp_path / "out"
    (out / WORK).mkdir(parents=True)
    (out / WORK / "lock").touch()
    assert run(place, "plan.yaml", "--out", out)[0] == 0
    assert not (out / WORK).exists()


def test_what_somebody_else_has_put_into_the_hidden_folder_stays(place, tmp_path):
    out = tmp_path / "out"
    (out / WORK).mkdir(parents=True)
    (out / WORK / "thesis.odt").write_bytes(b"mine")
    assert run(place, "plan.yaml", "--out", out)[0] == 0
    assert contents(out / WORK).get("thesis.odt") == b"mine" and contents(out) == contents(place / "plan-whole")


def test_a_pair_that_was_put_aside_but_is_not_whole_is_made_again(place, tmp_path, begun):
    out = tmp_path / "out"
    begun(out, 3).stop(signal.SIGKILL)
    torn = out / WORK / "1-answer.pages"
    torn.write_bytes(torn.read_bytes()[:-20])
    (out / WORK / "2.made").write_bytes(b"{")
    assert run(place, "plan.yaml", "--out", out)[0] == 0
    assert contents(out) == contents(place / "plan-whole")


SLOWLY = """
import time
from sheetgen.sets import Shelf
put = Shelf.put
def slowly(shelf, *words):
    time.sleep(0.2)
    return put(shelf, *words)
Shelf.put = slowly
"""
"""So that most of the work is still to be done when the first pair has been put aside."""


def test_a_worker_that_is_killed_is_told_and_what_was_made_is_taken_up(place, tmp_path):
    out = tmp_path / "out"
    (place / "long.yaml").write_text("problems:\n  - {family: step, count: 20}\n", encoding="utf-8")
    trial = worksheet(place, "long.yaml", "--out", out, "--jobs", 2, before=SLOWLY)
    try:
        trial.wait_for(lambda: list((out / WORK).glob("*.made")), "a pair")
        os.kill(trial.process.pid, signal.SIGSTOP)       # or all might be made by the time a worker is found
        workers = [number for number in trial.all() - {trial.process.pid} if serves(number)]
        os.kill(workers[0], signal.SIGKILL)
        os.kill(trial.process.pid, signal.SIGCONT)
        code, said, told = trial.ended()
        assert (code, said) == (2, "") and "perhaps because memory ran out" in told and "--jobs 1" in told
        assert f"What was made by then waits in {out / WORK}/; the same command goes on there." in told
        assert trial.all() == set() and contents(out) == {}
    finally:
        trial.end()
    code, _, told = run(place, "long.yaml", "--out", out)
    assert code == 0 and "Going on with" in told
    assert run(place, "long.yaml", "--out", tmp_path / "whole")[0] == 0
    assert contents(out) == contents(tmp_path / "whole")


def serves(number):
    """Whether a process is a worker (not the helper that Python starts beside them)."""
    return b"spawn_main" in Path(f"/proc/{number}/cmdline").read_bytes()


def test_one_sheet_killed_while_it_is_written_is_taken_up_too(place, tmp_path):
    out = tmp_path / "out"
    words = ["sheet", "step", "--seed", 7, "--only-bank", "bank", "--out", out]
    assert Trial(words, place, before=KILLS_ITSELF.format(after=0)).ended()[0] == -signal.SIGKILL
    assert contents(out) == {}
    assert Trial(words, place).ended()[0] == 0
    assert len(contents(out)) == 2 and len(marks(contents(out))) == 1 and not (out / WORK).exists()


def test_the_lock_is_the_systems(place, tmp_path, begun):
    out = tmp_path / "out"
    begun(out, 1)
    with (out / WORK / "lock").open("rb") as file, pytest.raises(BlockingIOError):
        fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)
