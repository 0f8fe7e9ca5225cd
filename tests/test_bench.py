"""The list of faults that the benchmark plants: it covers every folder, and its texts still stand in the program."""

from __future__ import annotations

from pathlib import Path

from tests.bench.mutants import WATCHING
from tests.bench.planted import FAULTS

ROOT = Path(__file__).resolve().parent.parent
HOUSE = ROOT / "sheetgen"


def test_every_folder_has_faults_planted_and_tests_that_watch_it():
    folders = {path.name for path in HOUSE.iterdir() if path.is_dir() and path.name != "__pycache__"}
    assert {fault.file.partition("/")[0] for fault in FAULTS} >= folders
    assert set(WATCHING) >= folders
    assert all((ROOT / tests).exists() for several in WATCHING.values() for tests in several)


def test_the_faults_are_more_than_eighty_and_all_of_their_texts_stand_where_they_say():
    there = [(HOUSE / fault.file).read_text(encoding="utf-8").count(fault.text) == 1 for fault in FAULTS]
    assert len(FAULTS) >= 80
    assert all(there), [fault for fault, stands in zip(FAULTS, there, strict=True) if not stands]
    assert all(fault.text != fault.instead for fault in FAULTS)
