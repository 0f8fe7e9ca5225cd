"""Files exchanged together, where even going back is refused: nothing is lost, and what lies where is told."""

from __future__ import annotations

from pathlib import Path

import pytest

from sheetgen.sets.together import ARCHIVE, GONE, Exchange, begun, beside, lying


@pytest.fixture
def exchange(tmp_path):
    """Two old files, and two new ones that are to take their place."""
    (tmp_path / "aside").mkdir()
    both = Exchange(tmp_path / "aside", tmp_path, ("q.pdf", "a.pdf"))
    for name in both.names:
        (tmp_path / name).write_text(f"old {name}", encoding="utf-8")
        both.new(name).write_text(f"new {name}", encoding="utf-8")
    return both


def refuse(monkeypatch, after):
    """Let only so many files be moved."""
    replace, left = Path.replace, [after]

    def refused(path, to):
        if path.suffix == ".pdf":
            if left[0] == 0:
                raise PermissionError(13, "Permission denied")
            left[0] -= 1
        return replace(path, to)

    monkeypatch.setattr(Path, "replace", refused)


@pytest.mark.parametrize(("after", "told"), [
    (1, "a.pdf as before, and out/aside/ new-q.pdf, old-q.pdf and new-a.pdf"),
    (2, "none of the files, and out/aside/ new-q.pdf, old-q.pdf, new-a.pdf and old-a.pdf"),
    (3, "q.pdf as made now, and out/aside/ old-q.pdf, new-a.pdf and old-a.pdf"),
])
def test_where_going_back_is_refused_too_all_files_are_kept_and_the_next_run_goes_on(exchange, monkeypatch, after, told):
    refuse(monkeypatch, after)
    with pytest.raises(PermissionError):
        exchange.run()
    assert lying(exchange, "out") == f"now out/ holds {told}; the next command that writes there puts that right"
    monkeypatch.undo()
    begun(exchange.work, exchange.out).finish()
    assert {name: (exchange.out / name).read_text(encoding="utf-8") for name in exchange.names} == {
        "q.pdf": "new q.pdf", "a.pdf": "new a.pdf"}
    assert list(exchange.work.iterdir()) == []


@pytest.fixture
def pack(tmp_path):
    """A new page, an archive beside its folder, and a file that goes."""
    (tmp_path / "out" / "aside").mkdir(parents=True)
    pack = Exchange(tmp_path / "out" / "aside", tmp_path / "out", ("q.pdf", ARCHIVE, f"{GONE}old.pdf"))
    (tmp_path / "out" / "old.pdf").write_text("old", encoding="utf-8")
    beside(pack.out).write_text("old archive", encoding="utf-8")
    for name in ("q.pdf", ARCHIVE):
        pack.new(name).write_text(f"new {name}", encoding="utf-8")
    return pack


def test_an_archive_lies_beside_its_folder_and_what_is_to_go_goes(pack):
    pack.run()
    assert beside(pack.out) == pack.out.parent / "out.zip" and beside(pack.out).read_text(encoding="utf-8") == "new ..zip"
    assert sorted(path.name for path in pack.out.iterdir()) == ["aside", "q.pdf"] and list(pack.work.iterdir()) == []


@pytest.mark.parametrize("after", range(4))
def test_wherever_it_is_stopped_all_is_as_before_or_as_after(pack, monkeypatch, after):
    """The process ends between two moves: the next one goes on from the note."""
    replace, left = Path.replace, [after]

    def killed(path, to):
        if path.suffix in (".pdf", ".zip"):
            if left[0] == 0:
                raise KeyboardInterrupt
            left[0] -= 1
        return replace(path, to)

    monkeypatch.setattr(Path, "replace", killed)
    with pytest.raises(KeyboardInterrupt):
        pack.run()
    monkeypatch.undo()
    begun(pack.work, pack.out).finish()
    assert beside(pack.out).read_text(encoding="utf-8") == "new ..zip" and not (pack.out / "old.pdf").exists()
    assert (pack.out / "q.pdf").read_text(encoding="utf-8") == "new q.pdf" and list(pack.work.iterdir()) == []


def test_where_one_file_cannot_be_moved_the_archive_and_what_was_to_go_are_back(pack, monkeypatch):
    replace = Path.replace

    def refused(path, to):
        if path.name == "new-q.pdf":
            raise PermissionError(13, "Permission denied")
        return replace(path, to)

    monkeypatch.setattr(Path, "replace", refused)
    with pytest.raises(PermissionError):
        pack.run()
    assert beside(pack.out).read_text(encoding="utf-8") == "old archive" and (pack.out / "old.pdf").exists()
    assert "as before, out/ holds out.zip" in lying(pack, "out")


@pytest.mark.parametrize("note", [
    '["-../x"]', '["..zip/../x"]', "", "{", "3", '["../q.pdf"]', '[".."]', '["/etc/q.pdf"]', "[[]]"])
def test_a_note_that_we_did_not_write_moves_nothing(exchange, note):
    (exchange.work / "moving.json").write_text(note, encoding="utf-8")
    assert begun(exchange.work, exchange.out) is None
