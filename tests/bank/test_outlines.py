"""Outlines of families, and the cache that keeps them: it saves time, and whatever befalls it does no harm."""

from __future__ import annotations

import json

import pytest

from sheetgen.bank import MOST_SEED, BankError, load_bank, outlined, outlines
from sheetgen.bank.cache import FILE, MOST_ROWS, Cache
from sheetgen.bank.counting import attempts_of, kept_and_variants
from tests import samples
from tests.samples import step


@pytest.fixture
def bank(tmp_path):
    return load_bank(samples.bank_of(tmp_path / "bank", easy=samples.STEP, hard=step(4, "forks")))


@pytest.fixture
def kept(tmp_path):
    return tmp_path / "kept"


def read_families(monkeypatch):
    """The names of the families whose files are read from now on."""
    names = []
    real = load_bank.__globals__["load_family"]

    def load(path, shown_as=None):
        names.append(path.stem)
        return real(path, shown_as)

    monkeypatch.setitem(load_bank.__globals__, "load_family", load)
    return names


def test_an_outline_tells_what_the_family_tells(bank, tmp_path):
    hard = outlines(bank, counted=True, cache=Cache(None))["hard"]
    family = bank["hard"]
    assert (hard.title, hard.rung, hard.topics, hard.sizes) == (family.title, 4, ("forks",), family.size_names)
    assert hard.variants == kept_and_variants(family, attempts_of(family, 200))[1] == 28
    assert (hard.file, hard.home) == (f"{tmp_path}/bank/hard.yaml", f"{tmp_path}/bank")


def test_the_second_time_no_family_is_read(bank, kept, monkeypatch):
    first = outlines(bank, counted=True, cache=Cache(kept))
    again = load_bank(bank.path("easy").parent)
    names = read_families(monkeypatch)
    assert outlines(again, counted=True, cache=Cache(kept)) == first and names == []


def test_a_family_that_was_changed_is_read_again_and_its_neighbour_is_not(bank, kept, monkeypatch):
    before = outlines(bank, cache=Cache(kept))
    bank.path("hard").write_text(step(5, "forks"), encoding="utf-8")
    again = load_bank(bank.path("easy").parent)
    names = read_families(monkeypatch)
    after = outlines(again, cache=Cache(kept))
    assert names == ["hard"] and after["hard"].rung == 5 and after["easy"] == before["easy"]
    assert after["hard"].content != before["hard"].content


def test_line_ends_of_another_system_make_no_other_content(bank):
    before = outlines(bank, cache=Cache(None))["easy"].content
    bank.path("easy").write_bytes(samples.STEP.replace("\n", "\r\n").encode())
    assert outlines(bank, cache=Cache(None))["easy"].content == before


def test_another_version_of_the_program_counts_anew(bank, kept, monkeypatch):
    outlines(bank, cache=Cache(kept))
    monkeypatch.setitem(outlines.__globals__, "__version__", "99")
    names = read_families(monkeypatch)
    outlines(load_bank(bank.path("easy").parent), cache=Cache(kept))
    assert names == ["easy", "hard"]


def test_variants_are_counted_only_where_they_are_asked_for(bank, kept):
    assert outlines(bank, cache=Cache(kept))["easy"].variants == 0
    assert outlines(bank, counted=True, cache=Cache(kept))["easy"].variants == 28


@pytest.mark.parametrize("text", [
    b"", b"{", b"[]", b"\xff\xfe", b"null", b"[" * 100_000, b'{"a": 1}', b"\x00" * 100,
])
def test_a_broken_cache_is_made_anew_without_a_word(bank, kept, text, capfd):
    right = outlines(bank, counted=True, cache=Cache(kept))
    (kept / FILE).write_bytes(text)
    assert outlines(bank, counted=True, cache=Cache(kept)) == right
    assert len(json.loads((kept / FILE).read_bytes())) >= 2
    assert capfd.readouterr() == ("", "")


@pytest.mark.parametrize("change", [
    {"title": 7}, {"rung": "1"}, {"rung": True}, {"topics": "steps"}, {"topics": [1]}, {"sizes": None}, {"variants": -1},
])
def test_a_row_of_another_shape_is_worked_out_again(bank, kept, change):
    right = outlines(bank, counted=True, cache=Cache(kept))
    rows = json.loads((kept / FILE).read_bytes())
    (kept / FILE).write_text(json.dumps({key: {**row, **change} for key, row in rows.items()}), encoding="utf-8")
    assert outlines(bank, counted=True, cache=Cache(kept)) == right
    assert json.loads((kept / FILE).read_bytes()) == rows


def test_a_cache_that_cannot_be_written_does_no_harm(bank, tmp_path):
    (tmp_path / "file").write_bytes(b"mine")
    assert len(outlines(bank, cache=Cache(tmp_path / "file"))) == 2              # a folder that is a file
    assert len(outlines(bank, cache=Cache(tmp_path / "file" / "below"))) == 2
    (tmp_path / "kept" / FILE).mkdir(parents=True)                               # a file that is a folder
    assert len(outlines(bank, cache=Cache(tmp_path / "kept"))) == 2
    assert (tmp_path / "file").read_bytes() == b"mine" and [path.name for path in (tmp_path / "kept").iterdir()] == [FILE]


def test_of_many_rows_those_asked_for_last_are_kept(kept):
    with Cache(kept) as cache:
        for number in range(MOST_ROWS + 1):
            cache.put(str(number), {})
        cache.get("0")
    rows = json.loads((kept / FILE).read_bytes())
    assert len(rows) == MOST_ROWS and "0" in rows and "1" not in rows


def test_a_broken_family_is_told_and_the_others_have_their_outlines(bank, kept):
    bank.path("hard").write_text("title: 1\n", encoding="utf-8")
    for _ in range(2):
        found, faults = outlined(load_bank(bank.path("easy").parent), cache=Cache(kept))
        assert list(found) == ["easy"] and {fault.file for fault in faults} == {str(bank.path("hard"))}
    with pytest.raises(BankError):
        outlines(load_bank(bank.path("easy").parent), cache=Cache(kept))


def test_no_family_has_more_variants_than_there_are_seeds(tmp_path):
    wide = samples.STEP.replace("sizes:\n", "sizes:\n" + "".join(f"  s{k}: {{from: 1, to: 900, step: 1}}\n" for k in range(6)))
    wide = wide.replace("x: [30, open]", "x: [30 + 0 * (s0 + s1 + s2 + s3 + s4 + s5), open]")
    family = samples.family_of(tmp_path, wide)
    assert kept_and_variants(family, attempts_of(family, 50))[1] == MOST_SEED + 1
