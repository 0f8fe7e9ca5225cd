"""Items: what stands together on paper. A span is one; a hole's diameter, depth and counterbore share one note."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from sheetgen.measures import Measure
from sheetgen.measures.measures import number
from sheetgen.solid import FarEnd, IntoBore, IntoHollow
from sheetgen.templating import Wording

NoteKind = Literal["span", "round", "angle"]

SUNK = ("counterbore", "countersink")
"""Sides of a hole that a line of its note names, and that a leader points at before the bore."""

ORDER = ("diameter", "radius", "depth", "angle")
"""Of the sizes in one line of a note."""


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


def items_of(
    measures: Sequence[Measure], wording: Wording, ends: Mapping[int, FarEnd] | None = None
) -> tuple[Item, ...]:
    """Group measures to items, in the order of the measures; notes speak in the words of ``wording``.

    ``ends``: of a pictorial, where those round surfaces end that are holes open at both ends. None for views: they show it, and
    what stands one behind the other on one axis is one circle there.
    """
    groups: dict[str | int, list[int]] = {}
    for i, measure in enumerate(measures):
        groups.setdefault(measure.side.feature if _joins(measure) else i, []).append(i)
    return tuple(_item(measures, indices, wording, ends) for indices in groups.values())


def _joins(measure: Measure) -> bool:
    """Whether a size shares the note of its feature, as those of a hole and its counterbore do. A radius stands alone, and so do
    the rims of a cone, which are two sizes at two places."""
    return bool(measure.rounds) and measure.kind != "radius" and measure.spec.b is None


def _item(measures: Sequence[Measure], indices: Sequence[int], wording: Wording, ends: Mapping[int, FarEnd] | None) -> Item:
    first = measures[indices[0]]
    if not first.rounds:
        return Item("span" if first.kind == "span" else "angle", tuple(indices), (first.size,), first)
    parts = [measures[i] for i in indices]
    main = next((m for m in parts if m.kind in ("diameter", "radius")), first)
    shown = next((m for m in parts if m.kind == "diameter" and m.side.name in SUNK), main)
    return Item("round", tuple(indices), _lines(parts, wording, ends), main, shown.rounds, shown.planes)


def _lines(parts: Sequence[Measure], wording: Wording, ends: Mapping[int, FarEnd] | None) -> tuple[str, ...]:
    """The lines of a note, one for each side of the feature. How many alike there are is said once, in the first."""
    lines, said = list[str](), 1
    for side in dict.fromkeys(m.side.name for m in parts):
        sizes = sorted((m for m in parts if m.side.name == side), key=lambda m: ORDER.index(m.kind))
        count = sizes[0].count
        text = ("" if count == said else f"{count} × ") + " × ".join(_size(m, wording) for m in sizes)
        # Of what has a radius, a slot's end or a saddle, the general notes tell that it runs right through.
        where = [ends[k] for m in sizes if ends and m.kind != "radius" for k in m.rounds if k in ends]
        text = _ended(text, where[0], wording) if where else text
        said = count if not lines and side not in SUNK else said
        lines.append(wording.render(f"hole.{side}", size=text) if side in SUNK else text)
    return tuple(lines)


def _size(measure: Measure, wording: Wording) -> str:
    if measure.kind != "depth":
        return measure.size
    return wording.render("hole.flat" if measure.flat else "hole.depth", depth=measure.figures)


def _ended(text: str, end: FarEnd, wording: Wording) -> str:
    """A size with the words for where its hole ends."""
    if isinstance(end, IntoBore):
        return wording.render("hole.to_bore", size=text, bore=f"Ø{number(end.diameter)}")
    if isinstance(end, IntoHollow):
        return wording.render("hole.to_hollow", size=text, hollow=f"R{number(end.radius)}")
    return wording.render("hole.through", size=text)
