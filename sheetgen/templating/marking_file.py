"""Marking templates read from YAML. Only ``load_marking`` imports this, because pydantic takes long to start."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Annotated, ClassVar

from pydantic import PlainValidator

from sheetgen.filekinds import read_kind
from sheetgen.records import Reader, Strict, number, one_of
from sheetgen.templating.faults import TemplateError
from sheetgen.templating.files import LIMITS
from sheetgen.templating.marking import FAULTS, PARTS, SORTS, MarkingTemplate

WAYS = {"award": False, "deduct": True}

MOST_SHARE, LEAST = 1000.0, 0.1
"""The greatest share of a part or of a line; the least of a line, and of what is taken off."""


def _each(names: Sequence[str]) -> str:
    return f"numbers for {', '.join(names)}"


Share = Annotated[float, PlainValidator(number(0.0, MOST_SHARE))]
Weight = Annotated[float, PlainValidator(number(LEAST, MOST_SHARE))]
Off = Annotated[float, PlainValidator(number(LEAST, 100.0))]


class PartsFile(Strict):
    """Shares of the parts."""

    arrangement: Share
    front: Share
    top: Share
    side: Share
    dimensions: Share
    line_work: Share
    title_block: Share

    wanted: ClassVar[Mapping[str, str]] = {**dict.fromkeys(PARTS, "its share, 0 to leave it out"), "": _each(PARTS)}


class LinesFile(Strict):
    """What a line of each sort counts."""

    outlines: Weight
    curves: Weight
    hidden: Weight
    centre: Weight

    wanted: ClassVar[Mapping[str, str]] = {**dict.fromkeys(SORTS, "what such a line counts, such as 1"), "": _each(SORTS)}


class OffFile(Strict):
    """Marks of 100 taken off for each fault."""

    arrangement: Off
    wrong_side: Off
    outlines: Off
    curves: Off
    hidden: Off
    centre: Off
    dimensions: Off
    line_work: Off
    title_block: Off

    wanted: ClassVar[Mapping[str, str]] = {**dict.fromkeys(FAULTS, "marks of 100 that such a fault costs"), "": _each(FAULTS)}


class MarkingFile(Strict):
    """The file of a marking template."""

    way: Annotated[str, PlainValidator(one_of(tuple(WAYS)))]
    parts: PartsFile
    lines: LinesFile
    off: OffFile | None = None

    wanted: ClassVar[Mapping[str, str]] = {
        "way": "award or deduct", "parts": f"shares of {', '.join(PARTS)}",
        "lines": f"what a line counts of each sort: {', '.join(SORTS)}",
    }


def read_marking(path: Path, file: str) -> MarkingTemplate:
    """The marking template in a file, which messages call ``file``. Raises: TemplateError with every fault."""
    document = read_kind(path, file, "marking template", LIMITS)
    reader = Reader(document)
    said = reader.model(MarkingFile, document.data, ())
    if said is not None:
        if said.off is None and WAYS[said.way]:
            reader.fault(("way",), "deduct, and no `off`", f"`off:` with marks of 100 for {', '.join(FAULTS)}")
        if said.off is not None and not WAYS[said.way]:
            reader.fault(("off",), "`off` in a scheme that awards marks", "no such field, or `way: deduct`")
        if not (said.parts.front or said.parts.top or said.parts.side):
            reader.fault(("parts",), "0 for every view", "shares of front, top and side above 0")
    if said is None or document.faults:
        raise TemplateError(document.faults)
    off = said.off.model_dump() if said.off else {}
    return MarkingTemplate(WAYS[said.way], said.parts.model_dump(), said.lines.model_dump(), off, file, tuple(document.remarks))
