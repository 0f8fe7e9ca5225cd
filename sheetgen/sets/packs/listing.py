"""A page over many packs, for a school's web space. In: the folders of packs; out: the page, which needs no server program.

What is read of a pack is its ``pack.json``, which somebody else may have written: it is held against limits, and its texts are
only ever text.
"""

from __future__ import annotations

import json
import os
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any
from urllib.parse import quote

from sheetgen.faults import Fault, FaultError, visible_text
from sheetgen.filebytes import bytes_of
from sheetgen.ink import clean
from sheetgen.sets.packs.site import HERE, page_of
from sheetgen.templating import Wording

RECORD = "pack.json"

LARGEST = 256
"""kB of the record of a pack; one of 500 problems has 60."""

MOST_PACKS, MOST_TEXT, MOST_TOPICS, MOST_FILES = 1000, 300, 100, 5000

OURS = re.compile(r"(questions|answers|construction|hints)-rung-[1-5]\.pdf|(problem|solid|small)-[0-9]{1,4}\.js|"
                  r"(pack|sheet|page|viewer)\.js|page\.css|three-licence\.txt")
"""Files that a pack has and another may not have."""


class PackListError(FaultError):
    """Folders of which no list of packs can be made."""


@dataclass(frozen=True, slots=True)
class Listed:
    """A pack in a list. ``address``: of its page, from the list's folder."""

    address: str
    title: str
    about: str
    problems: int
    rungs: tuple[int, ...]
    topics: tuple[str, ...]


def packs_in(folders: Sequence[Path], out: Path) -> list[Listed]:
    """The packs in ``folders``, for a page in ``out``. Files are passed over: who names all there is names archives too.

    Raises: PackListError with all that is wrong with them.
    """
    faults: list[Fault] = []
    found: dict[str, Listed] = {}
    folders = [folder for folder in folders if not folder.is_file()]
    if not folders:
        raise _fault("the packs", "no folder", "the folders of packs")
    if len(folders) > MOST_PACKS:
        raise _fault("the packs", f"{len(folders)} folders", f"at most {MOST_PACKS}")
    for folder in folders:
        try:
            pack = _listed(folder, out)
            found.setdefault(pack.address, pack)
        except PackListError as error:
            faults += error.faults
    if faults:
        raise PackListError(faults)
    return list(found.values())


def files_of_list(packs: Sequence[Listed], wording: Wording) -> list[tuple[str, bytes]]:
    """The files of a page over packs, the page first."""
    policy = ("default-src 'none'; script-src 'self' file:; style-src 'self' file:; img-src data:; "
              "form-action 'none'; base-uri 'none'")
    html = page_of("packs.html", language=wording.language, packs=packs, policy=policy,
                   say=lambda key, **more: wording.render(f"packs.{key}", **more),
                   shown=wording.render("packs.shown", shown="%shown%", all=len(packs)))
    own = [(name, (HERE / name).read_bytes()) for name in ("packs.js", "page.css")]
    return [("index.html", html.encode()), *own]


def files_of_pack(folder: Path) -> list[str]:
    """The files of an earlier pack in a folder, of those that only packs have; none if it has no record of one."""
    try:
        said = _record(folder / RECORD)
    except PackListError:
        return []
    return [name for name in _several(said, "files", MOST_FILES) if isinstance(name, str) and OURS.fullmatch(name)]


def _listed(folder: Path, out: Path) -> Listed:
    """What a list tells of the pack in a folder. Raises: PackListError."""
    shown = visible_text(folder.as_posix(), quote=False)
    home, place = (Path(os.path.abspath(path)) for path in (out, folder))  # noqa: PTH100 - links are kept: addresses follow them
    if not place.is_relative_to(home) or place == home:
        raise _fault(shown, "a folder that does not lie within that of the list",
                     f"packs within {visible_text(out.as_posix(), quote=False)}, which --out names: addresses lead from there")
    said = _record(folder / RECORD)
    if said.get("sheetgen") != "pack" or not (folder / "index.html").is_file():
        raise _fault(shown, "a folder without a pack", "what `sheetgen pack --out` has made")
    address = "/".join(quote(part) for part in (*place.relative_to(home).parts, "index.html"))
    rungs = [rung for rung in _several(said, "rungs") if type(rung) is int and 1 <= rung <= 5]
    problems = said.get("problems")
    return Listed(address, _text(said.get("title")) or place.name, _text(said.get("about")),
                  problems if type(problems) is int and 0 < problems < 10_000 else 0, tuple(sorted(set(rungs))),
                  tuple(dict.fromkeys(filter(None, map(_text, _several(said, "topics"))))))


def _record(path: Path) -> dict[str, Any]:
    """The record of a pack. Raises: PackListError for a file that is none."""
    shown = visible_text(path.as_posix(), quote=False)
    raw = bytes_of(path, shown, LARGEST, PackListError)
    try:
        said = json.loads(raw)
    except (ValueError, RecursionError):
        said = None
    if not isinstance(said, dict):
        raise _fault(shown, "a file that is no record of a pack", "what `sheetgen pack` has written there")
    return said


def _several(said: dict[str, Any], key: str, most: int = MOST_TOPICS) -> Iterator[Any]:
    values = said.get(key)
    yield from values[:most] if isinstance(values, list) else ()


def _text(value: object) -> str:
    """A text of a stranger's, of one line."""
    return " ".join(clean(value[:MOST_TEXT]).split()) if isinstance(value, str) else ""


def _fault(file: str, found: str, wanted: str) -> PackListError:
    return PackListError([Fault(file, 0, "", found, wanted)])


