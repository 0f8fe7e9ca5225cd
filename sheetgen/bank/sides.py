"""The names of a feature's sides, so that a measure that names a side that cannot be is found when the file is read."""

from __future__ import annotations

from collections.abc import Iterable

from sheetgen.bank.features import NORMAL_AXIS, PLANE_AXES
from sheetgen.bank.specs import FeatureSpec

END_NAMES = {"x": ("left", "right"), "y": ("front", "back"), "z": ("bottom", "top")}
"""The low and the high end along an axis."""


def side_names(spec: FeatureSpec) -> tuple[str, ...]:
    """Every side that the feature can have, without the feature's name: ``left``, ``wall``, ``2.axis`` …

    Whether the finished part still has the side is known only when the solid is made.
    """
    fields, kind = spec.fields, spec.kind
    if kind == "block":
        return tuple(name for axis in "xyz" for name in _ends(spec, axis))
    if kind == "hole":
        return _each(spec, _hole_sides(spec))
    if kind in ("cylinder", "cone"):
        return _each(spec, ("axis", "wall", *_ends(spec, fields["axis"])))
    if kind == "corner":
        return ("face",)
    ends = _ends(spec, NORMAL_AXIS[fields["plane"]])
    return (*_drawn_sides(spec), *ends)


def round_names(spec: FeatureSpec) -> tuple[str, ...]:
    """The sides that have a diameter or a radius; "" where the feature's own name will do, ``counterbore`` for all alike."""
    if spec.kind == "hole":
        mouths = tuple(side for side in ("counterbore", "countersink") if side in spec.fields)
        return ("", *(mouths if _count(spec) > 1 else ()), *_each(spec, ("wall", "axis", *mouths)))
    if spec.kind == "cylinder":
        return ("", *_each(spec, ("wall", "axis")))
    if spec.kind == "profile":
        arcs = [piece for piece in spec.fields["outline"] if "arc" in piece and "side" in piece]
        return tuple(name for piece in arcs for name in _round(piece["side"]))
    return tuple(name for name in side_names(spec) if name.rpartition(".")[2] in ("round", "axis", "wall"))


def deep_names(spec: FeatureSpec) -> tuple[str, ...]:
    """The sides that have a depth: a blind hole's wall ("" for short), and a counterbore."""
    if spec.kind != "hole":
        return ()
    blind = ("wall",) if "depth" in spec.fields else ()
    mouth = ("counterbore",) if "counterbore" in spec.fields else ()
    return (*(("",) if blind else ()), *(mouth if _count(spec) > 1 else ()), *_each(spec, (*blind, *mouth)))


def tapered_names(spec: FeatureSpec) -> tuple[str, ...]:
    """The sides that have an angle by themselves: countersinks."""
    if spec.kind != "hole" or "countersink" not in spec.fields:
        return ()
    return (*(("countersink",) if _count(spec) > 1 else ()), *_each(spec, ("countersink",)))


def _ends(spec: FeatureSpec, axis: str) -> tuple[str, ...]:
    """The ends along an axis; an open one is no side."""
    span = spec.fields.get(axis, (None, None))
    return tuple(name for name, end in zip(END_NAMES[axis], span, strict=True) if end is not None)


def _each(spec: FeatureSpec, sides: Iterable[str]) -> tuple[str, ...]:
    """Of one, its sides; of several alike, ``1.side``, ``2.side`` …"""
    count = _count(spec)
    return tuple(sides) if count == 1 else tuple(f"{k}.{side}" for k in range(1, count + 1) for side in sides)


def _count(spec: FeatureSpec) -> int:
    """How many alike there are."""
    return len(spec.fields["at"]) if spec.kind != "cone" else 1


def _hole_sides(spec: FeatureSpec) -> tuple[str, ...]:
    fields = spec.fields
    names = ["axis", "wall"]
    names += ["counterbore", "shoulder"] if "counterbore" in fields else []
    names += ["countersink"] if "countersink" in fields else []
    if "depth" in fields:
        names += ["point" if "point" in fields else "floor"]
    return tuple(names)


def _round(side: str) -> tuple[str, ...]:
    return (side, f"{side}.axis", f"{side}.wall")


def _drawn_sides(spec: FeatureSpec) -> tuple[str, ...]:
    """Sides of what is drawn in a plane, but for its ends."""
    kind, fields = spec.kind, spec.fields
    if kind == "profile":
        named = [piece for piece in fields["outline"] if "side" in piece]
        return tuple(name for piece in named for name in (_round(piece["side"]) if "arc" in piece else (piece["side"],)))
    if kind == "rib":
        return ("slope",)
    if kind == "slant":
        return ("face",)
    along, across = PLANE_AXES[fields["plane"]]
    if kind == "obround":
        rounds = tuple(f"{k}.{name}" for k in (1, 2) for name in ("round", "axis", "wall"))
        return (*rounds, *END_NAMES[along], *END_NAMES[across])
    flats = END_NAMES[along if fields["toward"] in ("up", "down") else across]
    if kind == "lug":
        return ("round", "axis", "wall", *(("floor",) if fields.get("foot") is not None else ()), *flats)
    return (*(("floor",) if kind == "dovetail" else ()), *flats)
