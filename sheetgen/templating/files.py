"""Where a template lies: one that comes with the program, by its plain name, or a teacher's own file, by its path."""

from __future__ import annotations

import re
from collections.abc import Collection, Sequence
from pathlib import Path

from sheetgen.faults import Fault
from sheetgen.shared import shipped
from sheetgen.templating.faults import TemplateError
from sheetgen.yamlines import Limits, is_yaml

LIMITS = Limits(TemplateError, kilobytes=64, deepest=8, most_nodes=5000, words_only=True)
"""Our templates are under 10 kB, five levels deep. A scalar keeps the text as written, so that ``label: NO`` is the word NO."""


BESIDE = re.compile(r"[A-Za-z0-9][A-Za-z0-9_-]{0,39}")


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
