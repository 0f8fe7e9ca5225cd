"""The key of papers: its file, and what is drawn from it."""

from __future__ import annotations

import os
import pickle
import re
from hashlib import sha256

import pytest
from click.testing import CliRunner
from hypothesis import given
from hypothesis import strategies as st

from sheetgen.cli import main
from sheetgen.codes import sealed_code
from sheetgen.sets.papers.decided import code_of, family_turn, seed_of, shared_turn
from sheetgen.sets.papers.secret import Key, KeyFileError, load_key, new_key

SEEDS = (964799680, 633866248)
CODE, TURN, SHARED = "3U8CE2-8G1J4K-2HCFAW", "506f7ef7", (95, 52)

PARTS = st.lists(st.one_of(st.text(max_size=5), st.integers(0, 99), st.binary(max_size=5)), max_size=4)


def hmac_sha_256(key: bytes, text: bytes) -> bytes:
    """HMAC by its definition, RFC 2104 (from memory): H(K ^ opad, H(K ^ ipad, text)), in blocks of 64 bytes."""
    padded = key.ljust(64, b"\0")
    inner = sha256(bytes(byte ^ 0x36 for byte in padded) + text).digest()
    return sha256(bytes(byte ^ 0x5C for byte in padded) + inner).digest()


def test_what_is_drawn_is_the_hmac_of_its_purpose_and_parts():
    told = b"b17:sheetgen papers 1s4:seeds3:onei2:42b2:\x00\xff"
    assert Key(bytes(range(32))).digest("seed", "one", 42, b"\x00\xff") == hmac_sha_256(bytes(range(32)), told)


@given(one=PARTS, other=PARTS)
def test_no_two_lists_of_parts_give_the_same(one, other):
    key = Key(bytes(32))
    same = [(type(part), part) for part in one] == [(type(part), part) for part in other]
    assert (key.digest("x", *one) == key.digest("x", *other)) is same


@given(bits=st.binary(min_size=32, max_size=32), bit=st.integers(0, 255))
def test_one_changed_bit_of_the_key_changes_every_code(bits, bit):
    changed = bytearray(bits)
    changed[bit // 8] ^= 1 << bit % 8
    for item in range(3):
        assert sealed_code(Key(bits).digest("code", item)) != sealed_code(Key(bytes(changed)).digest("code", item))


def test_a_code_is_of_one_candidate_one_lot_and_one_shape_of_a_family():
    told = {"paper": "p", "item": 1, "kind": "views", "family": "step", "shape": "ab", "index": 7, "candidate": "12", "spare": 0}
    other = {"paper": "q", "item": 2, "kind": "other", "family": "slot", "shape": "cd", "index": 8, "candidate": "13", "spare": 1}
    key = Key(bytes(32))
    codes = [code_of(key, **told), *(code_of(key, **{**told, name: value}) for name, value in other.items())]
    assert len(set(codes)) == 9 and code_of(key, **told) == codes[0]


def test_what_the_key_decides_of_papers_stays_as_it_is():
    """Papers are printed again, and answered, years later: these came out in the first year."""
    key = Key(bytes(range(32)))
    assert seed_of(key, "p", 1, "step", 7) == SEEDS[0] and seed_of(key, "p", 1, "step", 7, "12", 2) == SEEDS[1]
    assert code_of(key, "p", 1, "views", "step", "ab", 7, "12") == CODE
    assert family_turn(key, "p", 1, "step").hex()[:8] == TURN and shared_turn(key, "p", 0, 3, 100) == SHARED


def test_a_new_key_is_256_bits_that_only_its_owner_may_read_and_no_two_are_alike(tmp_path):
    for name in ("one.key", "two.key"):
        new_key(tmp_path / name)
    texts = [(tmp_path / name).read_text() for name in ("one.key", "two.key")]
    bits = [re.findall(r"\b[0-9a-f]{64}\b", text) for text in texts]
    assert [len(found) for found in bits] == [1, 1] and bits[0] != bits[1]
    if os.name == "posix":
        assert (tmp_path / "one.key").stat().st_mode & 0o777 == 0o600
    assert load_key(tmp_path / "one.key").remark is None
    assert load_key(tmp_path / "one.key").digest("x") == load_key(tmp_path / "one.key").digest("x")
    assert load_key(tmp_path / "one.key").digest("x") != load_key(tmp_path / "two.key").digest("x")


def test_a_key_is_never_overwritten_and_never_shown(tmp_path):
    place = tmp_path / "our.key"
    first = CliRunner().invoke(main, ["new", "key", str(place)])
    before = place.read_bytes()
    again = CliRunner().invoke(main, ["new", "key", str(place)])
    assert (first.exit_code, again.exit_code) == (0, 2)
    assert "stays as it is" in again.output and place.read_bytes() == before
    bits = re.search(rb"[0-9a-f]{64}", before)[0].decode()
    key = load_key(place)
    for text in (first.output, again.output, repr(key), str(key), str(vars(type(key)))):
        assert bits not in text
    with pytest.raises(TypeError):
        pickle.dumps(key)


@pytest.mark.skipif(os.name != "posix", reason="systems without modes have none to look at")
def test_a_key_that_others_can_read_is_remarked_on(tmp_path):
    new_key(tmp_path / "our.key")
    (tmp_path / "our.key").chmod(0o644)
    assert "chmod 600" in str(load_key(tmp_path / "our.key").remark)


def test_a_lost_key_is_said_to_be_lost_and_a_damaged_one_is_found_out(tmp_path):
    with pytest.raises(KeyFileError, match="if it is lost, nothing brings it back"):
        load_key(tmp_path / "lost.key")
    new_key(tmp_path / "our.key")
    text = (tmp_path / "our.key").read_text()
    digit = re.search(r"^key (.)", text, re.MULTILINE)[1]
    other = text.replace(f"\nkey {digit}", f"\nkey {'0' if digit != '0' else '1'}")
    for wrong in (other, text + text, "", text[:-12], "x" * 5000):
        (tmp_path / "wrong.key").write_text(wrong)
        with pytest.raises(KeyFileError) as error:
            load_key(tmp_path / "wrong.key")
        assert not re.search(r"[0-9a-f]{16}", str(error.value)), "no message shows a key's digits"
