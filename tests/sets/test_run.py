"""The mark of a set: the same for the same input, whenever and wherever; another for anything that changes what is printed."""

from __future__ import annotations

import os
import subprocess
import sys
from dataclasses import replace

import numpy as np
import pytest

from sheetgen.bank import load_text
from sheetgen.exercises import ASKED, Particulars, Role
from sheetgen.sets import Job, run_of
from sheetgen.sets.run import digest_of
from sheetgen.sheet import Style, settings_of
from sheetgen.templating import TitleBlockValues
from tests import samples

SETTINGS = settings_of(Style())
JOB = Job(load_text(samples.STEP, "step"), 7, Particulars(sheet=1, sheets=1))


def mark(job=JOB, settings=SETTINGS, title="Week 3", version="1.0"):
    return run_of(title, [job], settings, version).mark


def test_whatever_changes_what_is_printed_changes_the_mark():
    family = load_text(samples.STEP.replace("to: 90", "to: 95"), "step")
    others = [
        mark(replace(JOB, seed=8)), mark(replace(JOB, family=family)), mark(replace(JOB, kind="trial")),
        mark(replace(JOB, particulars=Particulars(sheet=1, sheets=2))), mark(title="Week 4"), mark(version="1.1"),
        mark(settings=replace(SETTINGS, side="right")), mark(settings=replace(SETTINGS, values=TitleBlockValues(school="A"))),
        mark(settings=settings_of(Style(title_block="quarry"))), mark(settings=settings_of(Style(wording="en-elevations"))),
    ]
    assert len({mark(), *others}) == len(others) + 1


def test_a_remark_in_a_family_file_changes_nothing():
    family = load_text(f"# for the second form\n{samples.STEP}", "step")
    assert mark(replace(JOB, family=family)) == mark()


def test_question_and_answer_belong_together_with_and_without_a_blank_sheet_but_are_not_the_same_work():
    plain, blank = (run_of("", [replace(JOB, roles=roles)], SETTINGS, "1.0") for roles in (ASKED, tuple(Role)))
    assert plain.mark == blank.mark and plain.digest != blank.digest


def test_the_mark_is_the_same_in_every_process():
    """Python orders sets of texts anew in each."""
    code = ("from sheetgen.bank import load_bank\nfrom sheetgen.sets.run import digest_of\n"
            "from sheetgen.sheet import Style, settings_of\nprint(digest_of(([*load_bank().values()], settings_of(Style()))))")
    found = {subprocess.run([sys.executable, "-c", code], capture_output=True, check=True, cwd="/",
                            env={**os.environ, "PYTHONPATH": os.pathsep.join(sys.path), "PYTHONHASHSEED": str(seed)}).stdout
             for seed in range(1, 5)}
    assert len(found) == 1


def test_numbers_and_texts_that_look_alike_are_told_apart():
    values = [1, 1.0, "1", True, None, [1], [[1]], [1, None], ["1"], {"1": 1}, np.array([1.0]), np.array([[1.0]]), np.array([1])]
    assert len({digest_of(value) for value in values}) == len(values)


def test_what_has_no_digest_is_no_silent_constant():
    with pytest.raises(TypeError, match="no digest of a object"):
        digest_of(object())
