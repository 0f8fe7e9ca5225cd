"""The bank: families by name, read when asked for; and the demonstration families that come with it."""

import subprocess
import sys

import pytest

from sheetgen.bank import BankError, UnknownFamilyError, load_bank, load_banks
from tests.bank.samples import BLOCK


@pytest.fixture
def folder(tmp_path):
    for name in ("wedge-block", "angle-plate", "clamp"):
        (tmp_path / f"{name}.yaml").write_text(BLOCK, encoding="utf-8")
    (tmp_path / "notes.txt").write_text("not a family", encoding="utf-8")
    return tmp_path


def test_families_come_in_the_order_of_their_names(folder):
    bank = load_bank(folder)
    assert list(bank) == ["angle-plate", "clamp", "wedge-block"]
    assert len(bank) == 3 and "clamp" in bank and "notes" not in bank
    assert bank["clamp"] is bank["clamp"]
    assert bank["clamp"].source == folder / "clamp.yaml"


def test_an_unknown_family_is_told_with_the_nearest(folder):
    bank = load_bank(folder)
    with pytest.raises(UnknownFamilyError, match=r"found no family 'angel-plate', wanted angle-plate") as caught:
        bank["angel-plate"]
    assert isinstance(caught.value, KeyError) and isinstance(caught.value, BankError)
    assert bank.get("angel-plate") is None


def test_one_bad_file_does_not_keep_the_others_from_use(folder):
    (folder / "broken.yaml").write_text("title: [", encoding="utf-8")
    (folder / "awry.yaml").write_text(BLOCK.replace("rung: 1", "rung: 0"), encoding="utf-8")
    (folder / "old.yml").write_text(BLOCK, encoding="utf-8")
    bank = load_bank(folder)
    assert bank["clamp"].rung == 1 and bank["old"].name == "old"
    with pytest.raises(BankError) as caught:
        bank.check()
    assert {fault.file.rpartition("/")[2] for fault in caught.value.faults} == {"broken.yaml", "awry.yaml"}


def test_a_single_file_is_a_bank_of_one(folder):
    assert list(load_bank(folder / "clamp.yaml")) == ["clamp"]


def test_no_file_is_read_from_outside_the_folder(folder, tmp_path_factory):
    elsewhere = tmp_path_factory.mktemp("elsewhere") / "secret.yaml"
    elsewhere.write_text(BLOCK, encoding="utf-8")
    (folder / "secret.yaml").symlink_to(elsewhere)
    bank = load_bank(folder)
    assert "secret" not in bank
    with pytest.raises(UnknownFamilyError):
        bank["../elsewhere0/secret"]


@pytest.mark.parametrize("name", ["empty", "none"])
def test_a_missing_or_empty_folder_is_told(tmp_path, name):
    (tmp_path / "empty").mkdir()
    with pytest.raises(BankError, match="found"):
        load_bank(tmp_path / name)


def test_starting_the_bank_loads_neither_the_yaml_reader_nor_the_schema():
    code = ("import sys, sheetgen.bank as b; list(b.load_bank());"
            "print(sorted({'yaml', 'pydantic', 'numpy'} & set(sys.modules)))")
    assert subprocess.run([sys.executable, "-c", code], check=True, capture_output=True, text=True).stdout == "[]\n"


def test_every_shipped_family_can_be_read_and_messages_call_it_by_its_place_in_the_bank():
    bank = load_bank()
    bank.check()
    assert {"stepped-block", "angle-bracket-bored"} <= set(bank)
    assert bank["stepped-block"].file == "problem_bank/stepped-block.yaml"
    assert (bank["stepped-block"].rung, bank["angle-bracket-bored"].rung) == (1, 4)


@pytest.mark.parametrize("name", ["stepped-block", "angle-bracket-bored"])
def test_three_views_of_a_demonstration_part_fit_an_a3_sheet_full_size(name):
    """Drawing space 390 by 277 (ISO 5457); front and side view beside each other, front and top above, three gaps of 30."""
    bank = load_bank()
    for seed in range(50):
        sizes = bank[name].sample(seed).sizes
        tall = sizes["height"] if "height" in sizes else sizes["rise"] + sizes["eye"]
        assert sizes["width"] + sizes["depth"] + 3 * 30 <= 390
        assert tall + sizes["depth"] + 3 * 30 <= 277


def test_ones_own_families_stand_beside_the_shipped_ones_or_alone(folder):
    both, alone = load_banks([folder]), load_banks(only=[folder])
    assert set(both) == set(load_bank()) | {"angle-plate", "clamp", "wedge-block"} and list(both) == sorted(both)
    assert list(alone) == ["angle-plate", "clamp", "wedge-block"]
    assert (both.home("clamp"), both.home("stepped-block")) == (folder.as_posix(), "problem_bank")
    assert both["clamp"].file == f"{folder.as_posix()}/clamp.yaml"


def test_several_banks_and_single_files_go_together(folder, tmp_path_factory):
    other = tmp_path_factory.mktemp("other")
    (other / "yoke.yaml").write_text(BLOCK, encoding="utf-8")
    assert list(load_banks([other], only=[folder / "clamp.yaml"])) == ["clamp", "yoke"]
    assert list(load_banks([folder, folder / "clamp.yaml"], only=[other])) == ["angle-plate", "clamp", "wedge-block", "yoke"]


def test_one_name_in_two_places_is_refused_naming_both_files(folder, tmp_path_factory):
    other = tmp_path_factory.mktemp("other")
    for name in ("clamp", "stepped-block"):
        (other / f"{name}.yaml").write_text(BLOCK, encoding="utf-8")
    with pytest.raises(BankError) as caught:
        load_banks([folder, other])
    wanted = "wanted another file name for one of the two"
    assert str(caught.value).splitlines() == [
        f"{other.as_posix()}/clamp.yaml: found a second family called clamp, beside {folder.as_posix()}/clamp.yaml, {wanted}",
        f"{other.as_posix()}/stepped-block.yaml: found a second family called stepped-block, beside "
        f"problem_bank/stepped-block.yaml, {wanted}"]
