"""The record of a paper, ``record.json``: what it was made of and who got what, as indices into the key's sequence.

It gives neither the key nor a sheet away, and has no student's name. With the key it is enough to print a sheet again, or the
answer of a code, in two years; it is sealed by the key, so that nobody changes it unseen.
"""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import Any

from sheetgen.bank import Form
from sheetgen.faults import Fault, FaultError, visible_text
from sheetgen.filebytes import bytes_of
from sheetgen.sets.papers.paper import Paper
from sheetgen.sets.papers.records import Reached
from sheetgen.sets.papers.secret import Key
from sheetgen.sets.run import program_parts
from sheetgen.sheet import Style
from sheetgen.templating import marking_names
from sheetgen.templating.files import LIMITS, found
from sheetgen.templating.marking import USUAL_SCHEME
from sheetgen.templating.titleblock import title_block_names
from sheetgen.yamlines import read_text

NAME = "record.json"
FORMAT = "sheetgen paper record 1"

MOST_KILOBYTES = 100_000
"""Of a record: ten thousand candidates with twenty items need 3 MB."""

Given = Mapping[str, tuple[int, ...]]
"""To each candidate's number the index of a lot for every item."""


class RecordError(FaultError):
    """A record that cannot be used."""


@dataclass(frozen=True, slots=True)
class Record:
    """A record that the key has sealed. ``said``: all it holds; ``given``: who got what; ``spares``: by candidate and number."""

    said: Mapping[str, Any]
    given: Given
    spares: Mapping[tuple[str, int], tuple[int, ...]]

    @property
    def paper(self) -> str:
        """What tells the paper from others of the same key."""
        return str(self.said["paper"])

    @property
    def refused(self) -> list[list[int]]:
        """Of each slot, the indices that could not be given."""
        return [some for item in self.said["items"] for some in item["refused"]]

    @property
    def clean(self) -> list[bool]:
        """Of each slot, whether only lots were given that no strict reader would send back."""
        return [one for item in self.said["items"] for one in item["clean"]]


def record_text(
    paper: Paper, key: Key, given: Given, spares: Mapping[tuple[str, int], tuple[int, ...]], refused: Sequence[Sequence[int]],
    clean: Sequence[bool], reached: Sequence[Reached],
) -> bytes:
    """The record of a paper, sealed. ``refused``: of each slot, the indices that could not be given; ``clean``: of each,
    whether only lots were given that no strict reader would send back; ``reached``: what it comes to in all that is bounded."""
    said = {**_made_of(paper, key), **_who(paper, given, spares, refused, clean), "reached": [asdict(one) for one in reached]}
    said["seal"] = key.digest("record", _plain(said)).hex()
    return (json.dumps(said, indent=1, ensure_ascii=False) + "\n").encode()


def _made_of(paper: Paper, key: Key) -> dict[str, Any]:
    plan, settings = paper.plan, paper.settings
    own, *libraries = program_parts()
    return {
        "format": FORMAT, "sheetgen": paper.version, "paper": paper.name, "mark": paper.mark,
        "plan": plan.text, "instructions": list(plan.instructions), "scheme": _scheme_text(paper),
        "wording": {name: settings.wording.phrases[name].source for name in sorted(settings.wording.phrases)},
        "title_block": _block_text(plan.style),
        "look": {"projection": settings.projection, "side": settings.side, "paper": settings.paper.name,
                 "figures": plan.style.figures, "arrows": plan.style.arrows,
                 "missing": settings.missing, "any": settings.any_answer, "pictorial": settings.pictorial,
                 "drawn": settings.drawn, "grid": settings.grid, "whole": settings.whole},
        "crest": bool(settings.block.crest),
        "values": {name: value for name, value in settings.values.by_name().items() if value and isinstance(value, str)},
        "title": plan.title, "date": plan.date,
        "families": dict(sorted(paper.shapes.items())),
        "class_list": key.digest("class list", plan.listed).hex() if plan.listed else "",
        "program": own, "libraries": libraries,
    }


def _who(
    paper: Paper, given: Given, spares: Mapping[tuple[str, int], tuple[int, ...]], refused: Sequence[Sequence[int]],
    clean: Sequence[bool]
) -> dict[str, Any]:
    plan = paper.plan
    accepted: list[set[int]] = [set() for _ in paper.slots]
    for one in plan.candidates:
        for slot, index in zip(paper.slots_of(one), given.get(one.number, ()), strict=False):
            accepted[slot].add(index)
    return {
        "rooms": [{"name": room.name, "rows": room.rows, "columns": room.columns, "gaps": sorted(map(list, room.gaps))}
                  for room in plan.rooms],
        "items": [
            {"number": item.number, "kind": item.kind, "marks": item.marks, "minutes": item.minutes, "pool": item.pool,
             "families": [str(slot.form) for slot in paper.slots if slot.item == item],
             "forms": [_form_said(slot.form) for slot in paper.slots if slot.item == item],
             "accepted": [sorted(some) for slot, some in zip(paper.slots, accepted, strict=True) if slot.item == item],
             "clean": [lots for slot, lots in zip(paper.slots, clean, strict=True) if slot.item == item],
             "refused": [list(some) for slot, some in zip(paper.slots, refused, strict=True) if slot.item == item]}
            for item in plan.items],
        "candidates": [
            {"number": one.number, "room": one.seat.room, "row": one.seat.row, "column": one.seat.column,
             "lots": list(given[one.number])} for one in plan.candidates if one.number in given],
        "spares": [{"candidate": candidate, "spare": number, "lots": list(lots)}
                   for (candidate, number), lots in sorted(spares.items())],
    }


def _form_said(form: Form) -> dict[str, Any]:
    return {"family": form.family, "options": dict(form.options), "mirrored": form.mirrored}


def form_said(item: Mapping[str, Any], number: int) -> Form:
    """The form of that number, from 0, of an item of a record; in one of before forms came it is a family."""
    if "forms" not in item:
        return Form(item["families"][number])
    said = item["forms"][number]
    return Form(said["family"], tuple(said["options"].items()), said["mirrored"])


def load_record(path: Path, key: Key) -> Record:
    """Read a record that the ``key`` has sealed. Raises: RecordError."""
    shown = visible_text(path.as_posix(), quote=False)
    raw = bytes_of(path, shown, MOST_KILOBYTES, RecordError, "the record.json of the paper", "the record.json of a paper")
    try:
        said = json.loads(raw)
        if not isinstance(said, dict) or said.get("format") != FORMAT:
            raise ValueError
        seal = str(said.pop("seal"))
    except (ValueError, KeyError, RecursionError):
        raise RecordError([Fault(shown, 0, "", "no record of a paper", "the record.json that was made with it")]) from None
    if not key.seals(seal, "record", _plain(said)):
        raise RecordError([Fault(shown, 0, "", "a record that this key has not sealed, or that has been changed since",
                                 "the record and the key of one paper, as they were made")])
    given = {one["number"]: tuple(one["lots"]) for one in said["candidates"]}
    spares = {(one["candidate"], one["spare"]): tuple(one["lots"]) for one in said["spares"]}
    return Record(said, given, spares)


def changes(record: Record, paper: Paper, key: Key) -> Iterator[str]:
    """What has changed since a record was made that may change its sheets, in words."""
    now, before = _made_of(paper, key), record.said
    told = {"sheetgen": "the version of sheetgen", "plan": "the plan", "wording": "the wording", "title_block": "the title block",
            "instructions": "the instructions", "scheme": "the marking scheme",
            "class_list": "the class list", "program": "the program's files"}
    for name, words in told.items():
        if now[name] != before.get(name, now[name]):           # a record of before lacks what has come since
            yield words
    for name, digest in now["families"].items():
        if digest != before["families"].get(name):
            yield f"the family {name.partition(',')[0]}"
    libraries = before.get("libraries", [])
    for library in now["libraries"]:
        if library not in libraries:
            yield f"what it is made with, now {' '.join(str(library).split())[:60]}"


def same_sheets(record: Record, paper: Paper, key: Key) -> bool:
    """Whether who got what, as the record has it, is what would come of the same paper now: nothing that decides it has
    changed."""
    now, before = _made_of(paper, key), record.said
    decides = ("paper", "mark", "families", "program", "libraries", "title_block", "wording", "look")
    return all(json.loads(json.dumps(now[name])) == before.get(name) for name in decides)


def tells_of(record: Record, paper: Paper, place: int) -> bool:
    """Whether a record tells what the first candidates of the plan's list got, as many as ``place``: the same sit there still."""
    before = [(one["number"], one["room"], one["row"], one["column"]) for one in record.said["candidates"][:place]]
    now = [(one.number, one.seat.room, one.seat.row, one.seat.column) for one in paper.plan.candidates[:place]]
    return before == now


def _block_text(style: Style) -> str:
    """The text of the title block's file."""
    path, file = found(style.title_block, "title_block", "title_blocks", title_block_names())
    return read_text(path, file, LIMITS)


def _scheme_text(paper: Paper) -> str:
    """The text of the marking template's file; empty where there are no marking sheets."""
    if paper.scheme is None:
        return ""
    path, file = found(paper.plan.scheme or USUAL_SCHEME, "marking template", "marking", marking_names())
    return read_text(path, file, LIMITS)


def _plain(said: Mapping[str, Any]) -> bytes:
    """What is sealed: the same for the same record, however its text is spaced."""
    return json.dumps(said, sort_keys=True, separators=(",", ":"), ensure_ascii=True).encode()
