"""Where a template lies: one that comes with the program, by its plain name, or a teacher's own file, by its path."""

from __future__ import annotations

import re
from collections.abc import Collection, Sequence
from pathlib import Path

from sheetgen.faults import Fault, shown
from sheetgen.filebytes import file_like
from sheetgen.shared import shipped
from sheetgen.templating.faults import TemplateError
from sheetgen.yamlines import Limits, is_yaml

LIMITS = Limits(TemplateError, kilobytes=160, deepest=8, most_nodes=5000, words_only=True)
"""Our wordings have 70 kB, those of other languages perhaps twice that; any file of ours has to be read to tell which kind it is.
Five levels deep. A scalar keeps the text as written, so that ``label: NO`` is the word NO."""


BESIDE = re.compile(r"[A-Za-z0-9][A-Za-z0-9_-]{0,39}")


FOLDER = re.compile(r"[A-Za-z0-9][A-Za-z0-9 _-]{0,39}")
"""What a folder of families that a plan names is called."""


def beside(
    folder: Path, name: str, suffixes: Collection[str] = (".yaml", ".yml"), stem: re.Pattern[str] = BESIDE
) -> Path | None:
    """The file of that plain name in a folder; None if there is none, or it is a link to elsewhere: who writes the name may be a
    stranger."""
    path = folder / name
    plain = stem.fullmatch(name.removesuffix(path.suffix)) and path.suffix.lower() in suffixes
    if plain and path.is_file() and path.resolve().parent == folder.resolve():
        return path
    return None


def folder_beside(folder: Path, name: str) -> Path | None:
    """The folder of that plain name in a folder; None as ``beside`` gives it."""
    path = folder / name
    if FOLDER.fullmatch(name) and path.is_dir() and path.resolve() == folder.resolve() / name:
        return path
    return None


def not_beside(folder: Path, name: str, wanted: str, suffixes: Collection[str] = (".yaml", ".yml")) -> tuple[str, str]:
    """Why ``beside`` gives no file for a name, as found and wanted, and which file there is most like it. ``wanted``: what the
    name should be, in words.

    >>> not_beside(Path("docs"), "../words.csv", "the name of a .csv file beside the plan", [".csv"])
    ("'../words.csv'", 'the name of a .csv file beside the plan')
    """
    if "/" in name or "\\" in name or not name:
        return shown(name), wanted
    near = file_like(folder, name, suffixes)
    missing = Path(name).suffix.lower() in suffixes and not (folder / name).exists()
    found = f"{shown(name)}, and there is no such file beside this one" if missing else shown(name)
    return found, f"{near}, which lies there; or {wanted}" if near and near != name else wanted


def found(name: str | Path, what: str, folder: str, known: Sequence[str]) -> tuple[Path, str]:
    """The file of a template, and what messages call it. ``what``: the sort of template, in words; ``folder``: of those that come
    with the program, whose names are ``known``. A ``str`` is one of these names, a ``Path`` any YAML file.

    Raises: TemplateError for another name, or a file of another sort.
    """
    if isinstance(name, Path):
        if not is_yaml(name.name):
            raise TemplateError([Fault(str(name), 0, what, f"a {name.suffix or 'nameless'} file", "a .yaml or .yml file")])
        return name, str(name)
    plain = name.removesuffix(".yaml").removesuffix(".yml")
    if not re.fullmatch(r"[a-z0-9][a-z0-9_-]{0,39}", plain) or plain not in known:
        raise TemplateError([Fault(f"templates/{folder}", 0, what, repr(name[:60]), f"one of {', '.join(known)}")])
    return shipped("templates") / folder / f"{plain}.yaml", f"templates/{folder}/{plain}.yaml"
