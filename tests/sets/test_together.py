"""Files exchanged together, where even going back is refused: nothing is lost, and what lies where is told."""

from __future__ import annotations

from pathlib import Path

import pytest

from sheetgen.sets.together import Exchange, begun, lying


@pytest.fixture
def exchange(tmp_path):
    """Two old files, and two new ones that are to take their place."""
    (tmp_path / "work").mkdir()
    both = Exchange(tmp_path / "work", tmp_path, ("q.pdf", "a.pdf"))
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
    (1, "a.pdf as before, and out/work/ new-q.pdf, old-q.pdf and new-a.pdf"),
    (2, "none of the files, and out/work/ new-q.pdf, old-q.pdf, new-a.pdf and old-a.pdf"),
    (3, "q.pdf as made now, and out/work/ old-q.pdf, new-a.pdf and old-a.pdf"),
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


@pytest.mark.parametrize("note", ["", "{", "3", '["../q.pdf"]', '[".."]', '["/etc/q.pdf"]', "[[]]"])
def test_a_note_that_we_did_not_write_moves_nothing(exchange, note):
    (exchange.work / "moving.json").write_text(note, encoding="utf-8")
    assert begun(exchange.work, exchange.out) is None
