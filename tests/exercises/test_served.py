"""Which kinds a family serves: what is told of it agrees with the sheets that can be made, and is found out once."""

from __future__ import annotations

import json
from functools import partial
from importlib import import_module

import pytest

from sheetgen.bank import BankError, load_bank, outlines
from sheetgen.bank.cache import FILE, Cache
from sheetgen.exercises import RefusedSeedError, Served, Serving, kinds, look_at, make_exercise
from sheetgen.exercises import served as served_module
from sheetgen.exercises.served import ENOUGH, MOST, deciding
from sheetgen.problem import problem_of
from sheetgen.refusals import Reason, RefusedError
from sheetgen.sets import local_workers, results
from sheetgen.sheet import Style
from sheetgen.templating import TitleBlockValues
from tests import samples

USUAL, THIRD = Style(), ("third-view",)


@pytest.fixture
def bank(tmp_path):
    return load_bank(samples.bank_of(tmp_path / "bank", step=samples.STEP, clipped=samples.CLIPPED))


@pytest.fixture
def looked(monkeypatch):
    """The variants that are looked at from now on."""
    found = []
    real = served_module.problem_of

    def problem(variant):
        found.append(variant.identity)
        return real(variant)

    monkeypatch.setattr(served_module, "problem_of", problem)
    return found


def serving(bank, folder=None, style=USUAL, **more):
    return Serving(bank, outlines(bank, cache=Cache(None)), style, cache=Cache(folder), **more)


def test_a_plain_step_serves_every_kind_that_asks_for_no_more_than_square_faces(bank):
    square = ("faces", "match", "missing-lines", "mistakes", "third-view")
    assert look_at((USUAL, square), bank["step"]) == tuple(Served(kind, ENOUGH, ENOUGH) for kind in square)


def test_a_part_with_an_oblique_face_serves_no_third_view_and_the_reason_is_that_of_the_sheet(bank):
    [found] = look_at((USUAL, THIRD), bank["clipped"])
    assert found.never and found.served == 0
    with pytest.raises(RefusedSeedError, match=found.reason):
        make_exercise(bank["clipped"], 1, samples.SETTINGS, kind="third-view")


@pytest.mark.parametrize(("kind", "family"), [
    ("faces", "stepped-block"), ("faces", "bored-tee"), ("faces", "hinge-lug"), ("match", "slotted-wedge"),
    ("match", "hinge-lug"), ("missing-lines", "corner-steps"), ("missing-lines", "slotted-wedge"), ("third-view", "trestle"),
    ("third-view", "pipe-saddle"),
])
def test_what_is_soon_found_out_is_what_the_whole_sheet_finds_out(kind, family):
    problem = problem_of(load_bank()[family].sample(3))
    asked = kinds()[kind]

    def refused(work):
        try:
            work(problem, samples.SETTINGS)
        except RefusedError as error:
            return error.reasons[0].what
        return None

    assert refused(asked.serves) == refused(asked.shared)


def test_of_a_kind_that_every_family_serves_nothing_is_looked_at(bank, looked):
    assert look_at((USUAL, ("views", "section")), bank["clipped"]) == (Served("views"), Served("section"))
    assert {name: one.share for name, one in serving(bank).of(bank, "views").items()} == {"step": "all", "clipped": "all"}
    assert looked == []


def test_a_kind_that_refuses_some_variants_is_looked_at_longer_and_the_commonest_reason_told(bank, monkeypatch):
    told = iter(["", "too small", "", "too wide", "", "too small", "too small", "", "never asked"])

    def serves(problem, settings):
        if what := next(told):
            raise RefusedError([Reason(what, str(problem.identity))])

    monkeypatch.setattr(served_module, "kinds", lambda: {"odd": _kind(serves)})
    assert look_at((USUAL, ("odd",)), bank["step"]) == (Served("odd", 4, MOST, "too small"),)
    assert next(told) == "never asked"


def _kind(serves):
    class Odd:
        of_every = False
    Odd.serves = staticmethod(serves)
    return Odd


def test_a_family_whose_measures_do_not_tell_the_part_serves_no_kind_that_looks_at_them(tmp_path):
    [found] = look_at((USUAL, THIRD), samples.family_of(tmp_path, samples.UNMEASURED))
    assert found.never and found.looked == MOST and "base.bottom" not in found.reason


def test_the_second_time_nothing_is_looked_at(bank, tmp_path, looked):
    told = []
    first = serving(bank, tmp_path / "kept", told=told.append).of(bank, "third-view")
    assert told == [2] and looked
    looked.clear()
    assert serving(bank, tmp_path / "kept", told=told.append).of(bank, "third-view") == first
    assert told == [2] and looked == []
    assert serving(bank, tmp_path / "kept").unknown(bank, ("views", "third-view")) == []
    assert serving(bank, tmp_path / "kept").unknown(bank, ("faces", "third-view")) == list(bank)


def test_workers_find_out_the_same(bank):
    with local_workers(2) as executor:
        shared = dict(serving(bank).each(bank, THIRD, partial(results, executor=executor)))
    assert shared == dict(serving(bank).each(bank, THIRD)) and len(shared) == 2


def test_another_file_style_or_kind_is_looked_at_anew(bank, tmp_path, looked, monkeypatch):
    def names():
        looked.clear()
        serving(bank, tmp_path / "kept", style).of(bank, "third-view")
        return {one.family for one in looked}

    style = USUAL
    assert names() == {"step", "clipped"} and names() == set()
    bank.path("step").write_text(samples.STEP.replace("step: 5", "step: 1"), encoding="utf-8")
    assert names() == {"step"}
    style = Style(missing="top")
    assert names() == {"step", "clipped"}
    style = Style(missing="top", figures="upright", values=TitleBlockValues(school="EXAMPLEFORD"))     # nothing that decides
    assert deciding(style) == Style(missing="top") and names() == set()
    monkeypatch.setattr(served_module, "edition_of_kind", lambda kind: "changed")
    assert names() == {"step", "clipped"}


def test_a_kinds_edition_hangs_on_its_own_files_alone(tmp_path, monkeypatch):
    kinds_module = import_module("sheetgen.exercises.kinds")           # not the function of that name
    own = {name: kinds_module.edition_of_kind(name) for name in kinds()}
    assert len(set(own.values())) == len(own)
    for module in ("faces", "third_view"):
        (tmp_path / module).mkdir()
        (tmp_path / module / "task.py").write_text("one = 1\n", encoding="utf-8")
    monkeypatch.setattr(kinds_module, "__file__", str(tmp_path / "__init__.py"))
    kinds_module.edition_of_kind.cache_clear()
    before = [kinds_module.edition_of_kind(name) for name in ("faces", "third-view")]
    (tmp_path / "faces" / "task.py").write_text("one = 2\n", encoding="utf-8")
    kinds_module.edition_of_kind.cache_clear()
    after = [kinds_module.edition_of_kind(name) for name in ("faces", "third-view")]
    kinds_module.edition_of_kind.cache_clear()
    assert before[0] != after[0] and before[1] == after[1]


@pytest.mark.parametrize("row", [{}, {"served": 9, "looked": 2, "reason": ""}, {"served": 1, "looked": 2, "reason": None}, "all"])
def test_a_row_that_is_none_of_ours_is_found_out_anew(bank, tmp_path, row):
    right = serving(bank, tmp_path).of(bank, "third-view")
    rows = json.loads((tmp_path / FILE).read_text(encoding="utf-8"))
    (tmp_path / FILE).write_text(json.dumps(dict.fromkeys(rows, row)), encoding="utf-8")
    assert serving(bank, tmp_path).of(bank, "third-view") == right


def test_a_family_at_fault_is_told_and_does_not_stop_the_others(tmp_path):
    bank = load_bank(samples.bank_of(tmp_path / "bank", broken=samples.TWO_PIECES, step=samples.STEP))
    found = dict(serving(bank).each(bank, THIRD))
    assert isinstance(found["broken"], BankError) and found["step"] == (Served("third-view", ENOUGH, ENOUGH),)
    with pytest.raises(BankError, match="pieces"):
        serving(bank).of(bank, "third-view")
