"""What is printed where nobody can read it, and faults of a user's surroundings: in words, and never as the program's own."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest
from pypdf import PdfReader

from tests import samples

ROOT = Path(__file__).resolve().parent.parent.parent
LONG = "x" * 300


@pytest.fixture(scope="module")
def place(tmp_path_factory):
    """A folder with a bank of a sound family and two bad ones, and a small plan."""
    folder = tmp_path_factory.mktemp("printing")
    samples.bank_of(folder / "bank", step=samples.STEP)
    samples.bank_of(folder / "mixed", step=samples.STEP, bad="title: 1\n", lopsided=LOPSIDED, parts=samples.TWO_PIECES)
    (folder / "plan.yaml").write_text(samples.PLAN, encoding="utf-8")
    return folder


LOPSIDED = samples.STEP.replace("rung: 1\n", "rung: 1\nsymmetry: [x]\n")
"""Its step is on one side."""


def run(folder, *words, shell="", **environment):
    """The command in a process of its own; ``shell``: what a shell does with its streams."""
    command = [sys.executable, "-m", "sheetgen", *map(str, words)]
    if shell:
        command = ["sh", "-c", f'exec "$@" {shell}', "sh", *command]
    return subprocess.run(command, cwd=folder, capture_output=True, check=False, timeout=300,
                          env={**os.environ, "PYTHONPATH": str(ROOT), **environment})


def sheet(folder, out, **options):
    return run(folder, "sheet", "step", "--only-bank", "bank", "--out", out, **options)


WRITTEN = ["step-1-answer.pdf", "step-1-question.pdf"]


def listing(folder):
    return sorted(path.name for path in folder.iterdir()) if folder.exists() else []


@pytest.mark.parametrize("shell", [">&-", "> /dev/full", "2>&-", "2> /dev/full", ">&- 2>&- <&-", "> /dev/full 2> /dev/full"])
def test_sheets_are_written_whether_or_not_anything_can_be_printed(place, tmp_path, shell):
    done = sheet(place, tmp_path / "out", shell=shell)
    assert done.returncode == 0 and listing(tmp_path / "out") == WRITTEN
    assert all(len(PdfReader(tmp_path / "out" / name).pages) == 1 for name in WRITTEN)     # no line of ours has gone into them
    if shell == "> /dev/full":
        assert done.stderr.decode() == f"{tmp_path}/out/step-1-question.pdf and {tmp_path}/out/step-1-answer.pdf written\n"


def test_a_console_that_lacks_letters_gets_the_others(place, tmp_path):
    done = sheet(place, tmp_path / "Übungen-Ω", PYTHONIOENCODING="cp1252", PYTHONUTF8="0")
    said = done.stdout.decode("cp1252")
    assert done.returncode == 0 and said.endswith("/Übungen-?/step-1-answer.pdf written\n") and "\\u" not in said
    assert listing(tmp_path / "Übungen-Ω") == WRITTEN


def test_a_list_goes_to_a_console_that_lacks_letters(place):
    samples.bank_of(place / "greek", step=samples.STEP.replace("title: Plain step", "title: Plain stepΩ"))
    done = run(place, "bank", "list", "--only-bank", "greek", PYTHONIOENCODING="ascii", PYTHONUTF8="0")
    assert done.returncode == 0 and "Plain step?" in done.stdout.decode("ascii") and done.stderr == b""


@pytest.mark.parametrize("words", [
    ["bank", "list", "--only-bank", "bank"], ["bank", "list", "--only-bank", "bank", "--json"], ["--help"],
])
def test_a_list_that_cannot_be_printed_is_told(place, words):
    done = run(place, *words, shell="> /dev/full")
    assert done.returncode == 2 and done.stderr.decode() == "Not all could be printed: No space left on device.\n"


def test_a_reader_that_goes_ends_the_list_quietly(place):
    command = [sys.executable, "-m", "sheetgen", "bank", "list", "--only-bank", "bank"]
    with subprocess.Popen(command, cwd=place, stdout=subprocess.PIPE, stderr=subprocess.PIPE,
                          env={**os.environ, "PYTHONPATH": str(ROOT)}) as listing_:
        listing_.stdout.close()
        assert listing_.stderr.read() == b""
    assert listing_.returncode == 1


@pytest.mark.parametrize("words", [
    ["sheet", "step", "--only-bank", "bank", "--out", LONG],
    ["sheet", "step", "--only-bank", "bank", "--out", f"{LONG}/deeper"],
    ["sheet", "step", "--only-bank", LONG],
    ["sheet", f"{LONG}.yaml"],
    ["sheet", "step", "--only-bank", "bank", "--title-block", f"{LONG}.yaml"],
    ["sheet", "step", "--only-bank", "bank", "--wording", f"./{LONG}.yaml"],
    ["worksheet", f"{LONG}.yaml", "--only-bank", "bank"],
    ["worksheet", "plan.yaml", "--only-bank", "bank", "--out", LONG],
    ["bank", "contact", "--only-bank", "bank", "--out", LONG],
    ["bank", "list", "--only-bank", LONG],
    ["bank", "vet", "--only-bank", LONG],
])
def test_a_path_too_long_for_the_system_is_told(place, words):
    done = run(place, *words)
    assert done.returncode == 2 and LONG[:40].encode() in done.stderr
    assert b"Traceback" not in done.stderr and b"itself has failed" not in done.stderr
    assert not any(path.name.startswith("xxx") for path in place.iterdir())


@pytest.mark.parametrize(("seconds", "right"), [
    ("abc", False), ("-5", False), ("1e9", False), ("9" * 20, False), ("٣", False), ("", True), ("0", True)])
def test_the_date_that_is_asked_for_is_one_or_is_told(place, tmp_path, seconds, right):
    done = sheet(place, tmp_path / "out", SOURCE_DATE_EPOCH=seconds)
    assert done.returncode == (0 if right else 2)
    if not right:
        assert done.stderr.decode().startswith(f"SOURCE_DATE_EPOCH: found '{seconds}', wanted whole seconds since")
        assert listing(tmp_path) == []


def test_the_date_that_is_asked_for_stands_in_the_pdf_and_nothing_else_changes_the_bytes(place, tmp_path):
    found = []
    for number, environment in enumerate([{}, {"TZ": "Asia/Tokyo", "LANG": "C", "PYTHONHASHSEED": "7"},
                                          {"SOURCE_DATE_EPOCH": "1700000000", "TZ": "Asia/Tokyo"}]):
        assert sheet(place, tmp_path / f"{number}", **environment).returncode == 0
        found.append((tmp_path / f"{number}" / WRITTEN[0]).read_bytes())
    dates = [PdfReader(tmp_path / f"{number}" / WRITTEN[0]).metadata.creation_date.isoformat() for number in (0, 2)]
    assert found[0] == found[1] != found[2]
    assert dates == ["2000-01-01T00:00:00+00:00", "2023-11-14T22:13:20+00:00"]     # 1 700 000 000 s after 1970 began


def test_a_full_temporary_folder_disturbs_nothing(place, tmp_path):
    words = ["worksheet", "plan.yaml", "--only-bank", "bank", "--out", tmp_path / "out", "--jobs", 2]
    done = run(place, *words, TMPDIR="/dev/full")
    assert done.returncode == 0 and listing(tmp_path / "out") == ["answers.pdf", "questions.pdf"]


@pytest.mark.parametrize("family", ["{a: b}", "[a, b]", "[]", "{}", ""])
def test_what_is_no_name_in_a_plan_is_told(place, tmp_path, family):
    (tmp_path / "plan.yaml").write_text(f"problems:\n  - {{family: {family}, seed: 1}}\n", encoding="utf-8")
    done = run(tmp_path, "worksheet", "plan.yaml", "--only-bank", place / "bank")
    assert done.returncode == 2 and done.stderr.startswith(b"plan.yaml:2: problems[1]")
    assert listing(tmp_path) == ["plan.yaml"]


def test_the_list_goes_on_past_bad_families_with_a_line_for_each(place):
    done = run(place, "bank", "list", "--only-bank", "mixed", "--json")
    assert [row["name"] for row in json.loads(done.stdout)] == ["lopsided", "parts", "step"]
    [told] = done.stderr.decode().splitlines()
    assert done.returncode == 1 and told.startswith("mixed/bad.yaml:1: title: found 1")
    assert "(and 5 more: sheetgen bank vet mixed/bad.yaml)" in told


@pytest.mark.parametrize("jobs", [1, 2])
def test_vetting_goes_on_past_bad_families(place, jobs):
    done = run(place, "bank", "vet", "--only-bank", "mixed", "--seeds", 2, "--jobs", jobs)
    said = done.stdout.decode()
    assert done.returncode == 1 and "4 families vetted, 0 clean" in said and done.stderr == b""
    assert "symmetry: found x, but step.left has no mirror image along x" in said
    assert "falls apart into 2 pieces" in said and "fault: mixed/bad.yaml:1: title" in said
    assert "step.yaml: sizes: found 28 different parts" in said


def test_a_worksheet_with_bad_families_draws_nothing_and_tells_all(place, tmp_path):
    lines = [f"  - {{family: {name}, seed: 1}}\n" for name in ("step", "lopsided", "parts")]
    (place / "bad.yaml").write_text("problems:\n" + "".join(lines), encoding="utf-8")
    done = run(place, "worksheet", "bad.yaml", "--only-bank", "mixed", "--out", tmp_path / "out")
    told = done.stderr.decode()
    assert done.returncode == 2 and "no mirror image along x" in told and "falls apart into 2 pieces" in told
    assert len(told.splitlines()) == 2 and listing(tmp_path) == []


def test_a_wish_from_a_bank_with_bad_families_draws_nothing_and_tells_all(place, tmp_path):
    broken = samples.STEP.replace("rung: 1", "rung: high")
    samples.bank_of(tmp_path / "broken", one=broken, step=samples.STEP, two=broken)
    (tmp_path / "wish.yaml").write_text("problems:\n  - {topic: steps, count: 2}\n", encoding="utf-8")
    for words in (["--count", 2], ["wish.yaml"]):
        done = run(tmp_path, "worksheet", *words, "--only-bank", "broken")
        assert done.returncode == 2 and listing(tmp_path) == ["broken", "wish.yaml"]
        assert [line.partition(":")[0] for line in done.stderr.decode().splitlines()] == ["broken/one.yaml", "broken/two.yaml"]


def test_a_folder_without_room_is_told_and_nothing_is_left(place, tmp_path):
    little = ("import resource, signal\nsignal.signal(signal.SIGXFSZ, signal.SIG_IGN)\n"
              "resource.setrlimit(resource.RLIMIT_FSIZE, (3000, 3000))\nfrom sheetgen.cli import main\nmain()")
    words = ["sheet", "step", "--only-bank", "bank", "--out", str(tmp_path / "out")]
    done = subprocess.run([sys.executable, "-B", "-c", little, *words], cwd=place, capture_output=True, check=False,
                          env={**os.environ, "PYTHONPATH": str(ROOT)}, text=True)
    assert done.returncode == 2 and "File too large" in done.stderr and listing(tmp_path) == []
