"""Files are whole or absent, and stay in their folder."""

from __future__ import annotations

import os
import stat

import pytest

from sheetgen.sets import FolderError, OutFolder, safe_name


def listing(folder):
    return sorted(path.name for path in folder.iterdir())


def test_files_appear_together_when_all_are_whole(tmp_path):
    with OutFolder(tmp_path / "new" / "folder") as folder:
        first = folder.add("a.pdf", lambda file: file.write(b"one"))
        assert not first.exists()
        folder.add("b.pdf", lambda file: file.write(b"two"))
    assert listing(tmp_path / "new" / "folder") == ["a.pdf", "b.pdf"]
    assert first.read_bytes() == b"one"


def test_after_an_error_nothing_is_left_and_old_files_are_untouched(tmp_path):
    (tmp_path / "a.pdf").write_bytes(b"old")

    def breaks(file):
        file.write(b"half")
        raise ValueError("in the middle")

    with pytest.raises(ValueError, match="in the middle"), OutFolder(tmp_path) as folder:
        folder.add("a.pdf", lambda file: file.write(b"new"))
        folder.add("b.pdf", breaks)
    assert listing(tmp_path) == ["a.pdf"]
    assert (tmp_path / "a.pdf").read_bytes() == b"old"


def test_a_file_can_be_read_by_whom_any_new_file_can(tmp_path):
    (tmp_path / "usual").touch()
    with OutFolder(tmp_path) as folder:
        place = folder.add("a.pdf", lambda file: file.write(b"one"))
    assert stat.S_IMODE(place.stat().st_mode) == stat.S_IMODE((tmp_path / "usual").stat().st_mode)


@pytest.mark.parametrize("name", ["../a.pdf", "/etc/a.pdf", "..", "a/../../b.pdf", ".hidden", "a\x00b", "-rf", "x" * 400])
def test_no_name_leads_out_of_the_folder(tmp_path, name):
    with OutFolder(tmp_path / "out") as folder:
        place = folder.add(name, lambda file: file.write(b"one"))
    assert place.parent == tmp_path / "out" and place.read_bytes() == b"one"
    assert listing(tmp_path) == ["out"]


def test_a_name_keeps_what_is_harmless_in_it():
    assert safe_name("angle-bracket-7.2-answer.pdf") == "angle-bracket-7.2-answer.pdf"


def test_a_link_in_the_folder_is_replaced_and_not_followed(tmp_path):
    (tmp_path / "elsewhere").write_bytes(b"mine")
    out = tmp_path / "out"
    out.mkdir()
    (out / "a.pdf").symlink_to(tmp_path / "elsewhere")
    with OutFolder(out) as folder:
        folder.add("a.pdf", lambda file: file.write(b"sheet"))
    assert (tmp_path / "elsewhere").read_bytes() == b"mine"
    assert (out / "a.pdf").read_bytes() == b"sheet"


def test_a_file_in_the_place_of_the_folder_is_told_before_the_work(tmp_path):
    (tmp_path / "out").write_bytes(b"")
    with pytest.raises(FolderError, match="which is a file, wanted a folder"), OutFolder(tmp_path / "out" / "deeper"):
        raise AssertionError("the work began")


def test_a_folder_that_cannot_be_written_to_is_told_before_the_work(tmp_path, monkeypatch):
    monkeypatch.setattr(os, "access", lambda *_: False)      # root, who runs some tests, may write anywhere
    with pytest.raises(FolderError, match="cannot be written to"), OutFolder(tmp_path):
        raise AssertionError("the work began")


def test_a_folder_in_the_place_of_a_file_is_told(tmp_path):
    (tmp_path / "a.pdf").mkdir()
    with pytest.raises(FolderError, match=r"a folder in the place of a\.pdf"), OutFolder(tmp_path) as folder:
        folder.add("a.pdf", lambda file: file.write(b"one"))
    assert listing(tmp_path) == ["a.pdf"]


def test_a_full_disk_is_told_in_words(tmp_path):
    def full(file):
        raise OSError(28, "No space left on device")

    with pytest.raises(FolderError, match="No space left on device"), OutFolder(tmp_path) as folder:
        folder.add("a.pdf", full)
    assert listing(tmp_path) == []
