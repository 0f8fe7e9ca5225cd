"""Measures in the words of the trade: "base.left to bore.axis", "diameter of bore", "angle of body.ramp to base.bottom"."""

from __future__ import annotations

from collections.abc import Mapping
from typing import get_args

from sheetgen.bank.features import Axis, End, MeasureSpec
from sheetgen.bank.sides import round_names, side_names
from sheetgen.bank.specs import FeatureSpec
from sheetgen.faults import choice, shown

SHAPES = ("`base.left to base.right`, `diameter of bore`, `radius of body.nose` or `angle of body.ramp to base.bottom`; "
          "an end may be `edge of A and B`, and `along x` (y, z) may follow")


class MeasureError(ValueError):
    """A measure that cannot be read, or names what is not there."""

    def __init__(self, found: str, wanted: str) -> None:
        super().__init__(found, wanted)
        self.found, self.wanted = found, wanted


def read_measure(text: str, features: Mapping[str, FeatureSpec | None]) -> MeasureSpec:
    """Read one measure; ``features`` by name (None: one with faults of its own), so that only
    sides that there can be are named.

    Raises: MeasureError, with what was found and what would be right.
    """
    words = text.split()
    if len(words) >= 2 and words[0] in ("diameter", "radius") and words[1] == "of":
        end, rest = _side(words[2:]), words[3:]
        if rest:
            raise MeasureError(shown(" ".join(rest)), f"nothing more after `{' '.join(words[:3])}`")
        _check(end, features, rounds=True)
        return MeasureSpec("diameter" if words[0] == "diameter" else "radius", End((end,)))
    if len(words) >= 2 and words[0] == "angle" and words[1] == "of":
        a, b, rest = _pair(words[2:], text)
        spec = MeasureSpec("angle", a, b)
    else:
        a, b, rest = _pair(words, text)
        spec, rest = _along(a, b, rest)
    if rest:
        raise MeasureError(shown(" ".join(rest)), "nothing more, or `along x`, y or z")
    for end in (*a.sides, *b.sides):
        _check(end, features, rounds=False)
    if a == b:
        raise MeasureError(f"{shown(text)}, from a side to itself", "two sides")
    return spec


def _pair(words: list[str], text: str) -> tuple[End, End, list[str]]:
    a, rest = _end(words)
    if not rest or rest[0] != "to":
        raise MeasureError(shown(text), SHAPES)
    b, rest = _end(rest[1:])
    return a, b, rest


def _along(a: End, b: End, rest: list[str]) -> tuple[MeasureSpec, list[str]]:
    if not rest or rest[0] != "along":
        return MeasureSpec("span", a, b), rest
    axis: Axis
    for axis in get_args(Axis):
        if rest[1:2] == [axis]:
            return MeasureSpec("span", a, b, axis), rest[2:]
    raise MeasureError(f"along {shown(' '.join(rest[1:2]))}", "along x, along y or along z")


def _end(words: list[str]) -> tuple[End, list[str]]:
    """One end, and the words after it."""
    if words[:2] == ["edge", "of"]:
        one, rest = _side(words[2:]), words[3:]
        if rest[:1] != ["and"]:
            raise MeasureError(f"edge of {one} {' '.join(rest[:1])}".strip(), "edge of one side `and` another")
        other = _side(rest[1:])
        if one == other:
            raise MeasureError(f"edge of {one} and itself", "two sides that meet")
        return End((one, other)), rest[2:]
    return End((_side(words),)), words[1:]


def _side(words: list[str]) -> str:
    if not words:
        raise MeasureError("the end of the measure", "a side such as base.left")
    return words[0]


def _check(end: str, features: Mapping[str, FeatureSpec | None], *, rounds: bool) -> None:
    """Whether ``feature.side`` names a feature that there is and a side that it can have."""
    name, _, side = end.partition(".")
    if name not in features:
        raise MeasureError(shown(name), choice(name, features, "one of the features"))
    spec = features[name]
    if spec is None:      # its own faults are told already
        return
    allowed = round_names(spec) if rounds else side_names(spec)
    if side not in allowed:
        names = [f"{name}.{option}" if option else name for option in allowed]
        what = "something round of it:" if rounds else "one of its sides:"
        raise MeasureError(shown(end), choice(end, names, what))
