"""Which kind of our YAML files a document is, so that one given in place of another is told as what it is."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Literal

from sheetgen.faults import Fault
from sheetgen.yamlines import Limits, YamlDocument, read, read_text

Kind = Literal[
    "family", "plan", "paper plan", "title block", "wording", "tree of topics", "list of instructions", "marking template"]

TOLD_BY: Mapping[Kind, frozenset[str]] = {
    "family": frozenset({"features", "measures", "sizes", "rung"}),
    "plan": frozenset({"problems"}),
    "paper plan": frozenset({"items", "rooms", "candidates"}),
    "title block": frozenset({"cells"}),
    "wording": frozenset({"views", "labels", "named", "documents", "spacing"}),
    "tree of topics": frozenset({"topics", "formerly"}),
    "list of instructions": frozenset({"instructions"}),
    "marking template": frozenset({"way", "parts", "off"}),
}
"""Fields by which a kind is told from the others."""

FEW_FIELDS: Mapping[Kind, int] = {"family": 2, "paper plan": 2, "wording": 2}
"""How many of these fields it takes, if more than one."""

TAKEN_BY: Mapping[Kind, str] = {
    "family": "`sheetgen sheet` and `sheetgen bank vet` take it",
    "plan": "`sheetgen worksheet` and `sheetgen pack` take it",
    "paper plan": "`sheetgen paper` takes it, with a key",
    "title block": "--title-block takes it, and `title_block:` in a plan",
    "wording": "--wording takes it, and `wording:` in a plan",
    "tree of topics": "it tells which topics cover which",
    "list of instructions": "`instructions:` in the plan of a paper takes it",
    "marking template": "--scheme takes it, and `scheme:` in a plan",
}


BEGUN_BY: Mapping[Kind, str] = {
    "family": "`sheetgen new family FILE` writes one to begin with",
    "plan": "`sheetgen new plan FILE` writes one to begin with",
    "paper plan": "`sheetgen new paper FILE` writes one to begin with",
    "title block": "`sheetgen new title-block FILE` writes one to begin with",
    "wording": "a copy of templates/wording/en.yaml is one to begin with",
    "tree of topics": "templates/topics.yaml is one",
    "list of instructions": "`sheetgen new instructions FILE` writes one to begin with",
    "marking template": "a copy of templates/marking/by-parts.yaml is one to begin with",
}

CLASS_LIST = "this is a class list", "give it with --class-list, or name it in a plan, `class_list: …`"

TABLE_SUFFIXES = (".csv", ".tsv")

SEPARATORS = ",;\t"


def read_kind(path: Path, file: str, wanted: Kind, limits: Limits) -> YamlDocument:
    """The document in a file; messages call it ``file``. Raises: ``limits.error`` if it cannot be read, or is plainly of another
    kind than the one ``wanted``."""
    text = read_text(path, file, limits)
    if _is_table(path.name, text):
        raise limits.error([Fault(file, 0, "", *CLASS_LIST, plain=True)])
    document = read(text, file, limits)
    check_kind(document, wanted, limits)
    return document


def check_kind(document: YamlDocument, wanted: Kind, limits: Limits) -> None:
    """Raise ``limits.error`` if a document is empty, or plainly of another kind than the one ``wanted``."""
    data = document.data
    if data is None:
        raise limits.error([Fault(document.file, 0, "", "an empty file", f"a {wanted}: {BEGUN_BY[wanted]}")])
    if not isinstance(data, dict) or _may_be(data, wanted):
        return
    for kind in TOLD_BY:
        if kind != wanted and _may_be(data, kind):
            raise limits.error([Fault(document.file, 0, "", f"this is a {kind}", TAKEN_BY[kind], plain=True)])


def _is_table(name: str, text: str) -> bool:
    """Whether a file holds rows of cells: its name says so, or it begins with a row of words that no file of ours begins with."""
    if name.lower().endswith(TABLE_SUFFIXES):
        return True
    head = next((line for line in text.splitlines() if line.strip() and not line.startswith("#")), "")
    return (head[:1].isalnum() or head[:1] == '"') and ":" not in head and any(sign in head for sign in SEPARATORS)


def _may_be(data: dict[str, object], kind: Kind) -> bool:
    if kind == "list of instructions":                 # other kinds have that field too, among others
        return data.keys() == TOLD_BY[kind]
    return len(TOLD_BY[kind] & data.keys()) >= FEW_FIELDS.get(kind, 1)
