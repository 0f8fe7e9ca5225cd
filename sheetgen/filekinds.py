"""Which kind of our YAML files a document is, so that one given in place of another is told as what it is."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Literal

from sheetgen.faults import Fault
from sheetgen.yamlines import Limits, YamlDocument

Kind = Literal["family", "plan", "title block", "wording", "tree of topics", "marking template"]

TOLD_BY: Mapping[Kind, frozenset[str]] = {
    "family": frozenset({"features", "measures", "sizes", "rung"}),
    "plan": frozenset({"problems"}),
    "title block": frozenset({"cells"}),
    "wording": frozenset({"views", "labels", "named", "documents", "spacing"}),
    "tree of topics": frozenset({"topics", "formerly"}),
    "marking template": frozenset({"way", "parts", "off"}),
}
"""Fields by which a kind is told from the others."""

FEW_FIELDS: Mapping[Kind, int] = {"family": 2, "wording": 2}
"""How many of these fields it takes, if more than one."""

TAKEN_BY: Mapping[Kind, str] = {
    "family": "`sheetgen sheet` and `sheetgen bank vet` take it",
    "plan": "`sheetgen worksheet` takes it",
    "title block": "--title-block takes it, and `title_block:` in a plan",
    "wording": "--wording takes it, and `wording:` in a plan",
    "tree of topics": "it tells which topics cover which",
    "marking template": "--scheme takes it, and `scheme:` in a plan",
}


def check_kind(document: YamlDocument, wanted: Kind, limits: Limits) -> None:
    """Raise ``limits.error`` if a document is plainly of another kind than the one ``wanted``."""
    data = document.data
    if not isinstance(data, dict) or _may_be(data, wanted):
        return
    for kind in TOLD_BY:
        if kind != wanted and _may_be(data, kind):
            raise limits.error([Fault(document.file, 0, "", f"this is a {kind}", TAKEN_BY[kind], plain=True)])


def _may_be(data: dict[str, object], kind: Kind) -> bool:
    return len(TOLD_BY[kind] & data.keys()) >= FEW_FIELDS.get(kind, 1)
