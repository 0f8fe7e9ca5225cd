"""Items: what stands together on paper. A span is one; a hole's diameter, depth and counterbore share one note."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType
from typing import Literal

from sheetgen.measures import Measure

NoteKind = Literal["span", "round", "angle"]


@dataclass(frozen=True, eq=False)
class Item:
    """Measures placed as one. ``measures``: their indices, ``lines``: the text, ``rounds``: the surfaces a note points
    at; ``faces``: of a cone, the faces on which the rim meant lies."""

    kind: NoteKind
    measures: tuple[int, ...]
    lines: tuple[str, ...]
    main: Measure
    rounds: tuple[int, ...] = ()
    faces: tuple[int, ...] = ()


def items_of(measures: Sequence[Measure], ends: Mapping[int, str] = MappingProxyType({})) -> tuple[Item, ...]:
    """Group measures to items, in the order of the measures.

    ``ends``: what notes say of round surfaces whose far end cannot be seen, such as THROUGH.
    """
    notes: dict[str, list[int]] = {}
    result: list[Item | str] = []
    for i, measure in enumerate(measures):
        if measure.kind == "span":
            result.append(Item("span", (i,), (measure.text,), measure))
        elif measure.kind == "angle" and not measure.rounds:
            result.append(Item("angle", (i,), (measure.text,), measure))
        else:
            feature = _feature(measure)
            if feature not in notes:
                result.append(feature)
            notes.setdefault(feature, []).append(i)
    return tuple(_note(measures, notes[entry], ends) if isinstance(entry, str) else entry for entry in result)


def _feature(measure: Measure) -> str:
    """The key by which sizes join in a note: a hole and its counterbore do, a radius stands alone."""
    name = measure.words.split(" of ", 1)[1]
    alone = measure.kind == "radius" or " at " in name        # a cone's rims are two sizes at two places
    return measure.words if alone else name.split(".")[0]


def _side(measure: Measure) -> str:
    """The side of its feature that a size is of: ``counterbore`` of bore.counterbore."""
    return measure.words.split(" of ", 1)[1].split(" at ")[0].partition(".")[2]


def _note(measures: Sequence[Measure], indices: Sequence[int], ends: Mapping[int, str]) -> Item:
    parts = [(measures[i], _side(measures[i])) for i in indices]
    lines: list[str] = []
    main = next((m for m, _ in parts if m.kind in ("diameter", "radius")), parts[0][0])
    for side in dict.fromkeys(side for _, side in parts):
        sizes = [m for m, s in parts if s == side]
        text = " × ".join(m.text for m in sorted(sizes, key=lambda m: ("diameter", "radius", "depth", "angle").index(m.kind)))
        # Of what has a radius, a slot's end or a saddle, the general notes tell that it runs right through.
        where = [ends[k] for m in sizes if m.kind != "radius" for k in m.rounds if k in ends]
        text += "".join(f" {words}" for words in where[:1])
        count = re.match(r"\d+ × ", lines[0]) if lines else None
        if count is not None:                                      # said once, in the first line, for all of them
            text = text.removeprefix(count[0])
        lines.append({"counterbore": "C'BORE ", "countersink": "CSK "}.get(side, "") + text)
    wide = [m for m, side in parts if m.kind == "diameter" and side in ("counterbore", "countersink")]
    shown = wide[0] if wide else main
    return Item("round", tuple(indices), tuple(lines), main, shown.rounds, shown.planes)
