"""Nasty files, kept because they took minutes or gigabytes: told in plain lines, within budgets that count and never clock."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.bench.strangers import SOURCES, Worker, asked, mutant

NASTY = sorted((Path(__file__).parent / "bench" / "nasty").glob("*.yaml"))
TOLD = {
    "family-crossing-grooves": "there are too many crossings of faces by now: over 8000 facets",
    "family-stair-of-80-sizes": "variants refused",
    "family-sieve": "two lines run so near each other that they print as one",
    "plan-990-wishes": "problems: found a list of 990, wanted a list of at most 500 problems",
    "plan-long-term": "60 problems a week for 52 weeks, wanted at most 1500 in a term",
    "block-fields-of-others": "an unknown field",
}
MEGABYTES = 500.0


@pytest.fixture(scope="module")
def worker():
    made = Worker()
    yield made
    made.end()


def test_every_nasty_file_has_what_is_to_be_told_of_it():
    assert {file.stem for file in NASTY} == set(TOLD)


@pytest.mark.parametrize("file", NASTY, ids=lambda file: file.stem)
def test_a_nasty_file_is_refused_in_plain_lines_and_takes_no_great_memory(file, tmp_path, worker):
    code, _, most, words = worker.outcome(asked(file.stem.partition("-")[0], file, tmp_path))
    assert code == 2 and TOLD[file.stem] in words and "Traceback" not in words
    assert most < MEGABYTES


@pytest.mark.parametrize("kind", SOURCES)
def test_mutants_end_with_sheets_or_with_faults(kind, tmp_path, worker):
    for number in range(1, 9):
        file = tmp_path / f"{kind}-{number}.yaml"
        file.write_text(mutant(kind, number), encoding="utf-8")
        code, _, most, words = worker.outcome(asked(kind, file, tmp_path))
        assert code in (0, 2), words
        assert most < MEGABYTES


def test_a_mutant_is_the_same_each_time_it_is_made_and_others_are_others():
    made = [mutant("family", number) for number in range(20)]
    assert made == [mutant("family", number) for number in range(20)] and len(set(made)) == 20
