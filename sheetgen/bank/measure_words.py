"""Measures in the words of the trade: "base.left to bore.axis", "diameter of bore", "depth of bore",
"angle of body.ramp to base.bottom"; alternatives in one line: "base.bottom to bore.axis or base.top to bore.axis"."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Literal, get_args

from sheetgen.bank.features import Axis, End, MeasureSpec
from sheetgen.bank.sides import deep_names, round_names, side_names, tapered_names
from sheetgen.bank.specs import FeatureSpec
from sheetgen.faults import few, shown

SHAPES = ("`base.left to base.right`, `diameter of bore`, `radius of body.nose`, `depth of bore` or "
          "`angle of body.ramp to base.bottom`; an end may be `edge of A and B`, and `along x` (y, z) may follow")


MOST_ALTERNATIVES = 3
"""Of one measure: from the faces at either end, and from one between. More would be no choice but a search."""


class MeasureWordsError(ValueError):
    """A measure that cannot be read, or names what is not there."""

    def __init__(self, found: str, wanted: str) -> None:
        super().__init__(found, wanted)
        self.found, self.wanted = found, wanted


class UnknownFeatureError(MeasureWordsError):
    """A measure of a feature that there is not. ``name``: as the measure calls it."""

    def __init__(self, name: str, wanted: str) -> None:
        super().__init__(shown(name), wanted)
        self.name = name


def alternatives(text: str) -> list[str]:
    """The alternatives of a measure, each as a file would write it alone.

    >>> alternatives("base.bottom to bore.axis or base.top to bore.axis")
    ['base.bottom to bore.axis', 'base.top to bore.axis']
    """
    found: list[list[str]] = [[]]
    for word in text.split():
        if word == "or":
            found.append([])
        else:
            found[-1].append(word)
    return [" ".join(words) for words in found]


def check_alike(specs: Sequence[MeasureSpec]) -> None:
    """Whether measures can be alternatives: lengths, along one axis as far as they name one. (Of others it is known when they are
    taken on a solid.) Raises: MeasureWordsError."""
    if len(specs) > MOST_ALTERNATIVES:
        raise MeasureWordsError(f"{len(specs)} alternatives", f"at most {MOST_ALTERNATIVES}")
    for spec in specs if len(specs) > 1 else ():
        if spec.kind != "span":
            wanted = "lengths only: they can be measured from another face"
            raise MeasureWordsError(f"{shown(spec.text)} among alternatives", wanted)
    named = sorted({spec.along for spec in specs if spec.along})
    if len(named) > 1:
        raise MeasureWordsError(f"alternatives along {' and along '.join(named)}", "lengths along one axis")


def read_measure(text: str, features: Mapping[str, FeatureSpec | None], line: int = 0) -> MeasureSpec:
    """Read one measure, which stands in ``line`` of its file; ``features`` by name (None: one with faults of its own), so that
    only sides that there can be are named.

    Raises: MeasureWordsError, with what was found and what would be right.
    """
    return replace(_read(text, features), text=text, line=line)


def _read(text: str, features: Mapping[str, FeatureSpec | None]) -> MeasureSpec:
    words = text.split()
    kind: Literal["diameter", "radius", "depth"]
    for kind in ("diameter", "radius", "depth"):
        if words[:2] == [kind, "of"]:
            return _of_one(kind, words, features)
    if words[:2] == ["angle", "of"]:
        if len(words) == 3 and _taper(words[2], features):
            return MeasureSpec("angle", End((words[2],)))
        a, b, rest = _pair(words[2:], text)
        spec = MeasureSpec("angle", a, b)
    else:
        a, b, rest = _pair(words, text)
        spec, rest = _along(a, b, rest)
    if rest:
        raise MeasureWordsError(shown(" ".join(rest)), "nothing more, or `along x`, y or z")
    for end in (*a.sides, *b.sides):
        _check(end, features, "side")
    if a == b:
        raise MeasureWordsError(f"{shown(text)}, from a side to itself", "two sides")
    return spec


def _of_one(
    kind: Literal["diameter", "radius", "depth"], words: list[str], features: Mapping[str, FeatureSpec | None]
) -> MeasureSpec:
    """A size that one side has by itself, or a radius that several have."""
    if kind == "radius":
        return _radius(words, features)
    end, rest = _side(words[2:]), words[3:]
    rim = None
    if kind == "diameter" and rest[:1] == ["at"]:
        rim, rest = End((_side(rest[1:]),)), rest[2:]
        _check(rim.sides[0], features, "side")
    if rest:
        wanted = f"nothing more after `{' '.join(words[:3])}`, or `at` the face of a cone's rim"
        raise MeasureWordsError(shown(" ".join(rest)), wanted)
    _check(end, features, "depth" if kind == "depth" else "round")
    return MeasureSpec(kind, End((end,)), rim)


def _radius(words: list[str], features: Mapping[str, FeatureSpec | None]) -> MeasureSpec:
    """The radius of one arc, or of several alike: `radius of A`, `radius of A and B`, `radius of A, B and C`."""
    named = words[2:]
    names = [name.rstrip(",") for name in named if name != "and"]
    listed = ", ".join(names[:-1]) + (" and " if len(names) > 1 else "") + "".join(names[-1:])
    if not names or " ".join(named) != listed:
        raise MeasureWordsError(shown(" ".join(words)), "`radius of A`, `radius of A and B` or `radius of A, B and C`")
    if len(set(names)) < len(names):
        raise MeasureWordsError(shown(" ".join(words)), "each side once")
    for name in names:
        _check(name, features, "round")
    return MeasureSpec("radius", End(tuple(names)))


def _taper(end: str, features: Mapping[str, FeatureSpec | None]) -> bool:
    """Whether a side has an angle by itself: a countersink has, and of a feature with faults of its own one cannot tell."""
    name, _, side = end.partition(".")
    spec = features.get(name)
    return name in features and (spec is None or side in tapered_names(spec))


def _pair(words: list[str], text: str) -> tuple[End, End, list[str]]:
    a, rest = _end(words)
    if not rest or rest[0] != "to":
        raise MeasureWordsError(shown(text), SHAPES)
    b, rest = _end(rest[1:])
    return a, b, rest


def _along(a: End, b: End, rest: list[str]) -> tuple[MeasureSpec, list[str]]:
    if not rest or rest[0] != "along":
        return MeasureSpec("span", a, b), rest
    axis: Axis
    for axis in get_args(Axis):
        if rest[1:2] == [axis]:
            return MeasureSpec("span", a, b, axis), rest[2:]
    raise MeasureWordsError(f"along {shown(' '.join(rest[1:2]))}", "along x, along y or along z")


def _end(words: list[str]) -> tuple[End, list[str]]:
    """One end, and the words after it."""
    if words[:2] == ["corner", "of"]:
        return _corner(words)
    if words[:2] == ["edge", "of"]:
        one, rest = _side(words[2:]), words[3:]
        if rest[:1] != ["and"]:
            raise MeasureWordsError(f"edge of {one} {' '.join(rest[:1])}".strip(), "edge of one side `and` another")
        other = _side(rest[1:])
        if one == other:
            raise MeasureWordsError(f"edge of {one} and itself", "two sides that meet")
        return End((one, other)), rest[2:]
    return End((_side(words),)), words[1:]


def _corner(words: list[str]) -> tuple[End, list[str]]:
    """The corner of three sides, written `corner of A, B and C`, and the words after it."""
    names = words[2:4] + words[5:6]
    commas = len(names) == 3 and names[0].endswith(",") and words[4:5] == ["and"]
    sides = tuple(name.rstrip(",") for name in names)
    if not commas or len(set(sides)) < 3:
        raise MeasureWordsError(shown(" ".join(words[:6])), "a corner of three sides: `corner of A, B and C`")
    return End(sides), words[6:]


def _side(words: list[str]) -> str:
    if not words:
        raise MeasureWordsError("the end of the measure", "a side such as base.left")
    return words[0]


SIDES_LISTED = "docs/writing-a-family.md tells the sides of each feature"

_ALLOWED = {
    "side": (side_names, "one of its sides:", "a side"),
    "round": (round_names, "something round of it:", "something round"),
    "depth": (deep_names, "a mouth with an end of it:", "a blind hole, or a counterbore"),
}
"""What may be named: which sides these are, and how to put it, with the names and where there are none."""


def _check(end: str, features: Mapping[str, FeatureSpec | None], what: Literal["side", "round", "depth"]) -> None:
    """Whether ``feature.side`` names a feature that there is and a side that it can have."""
    name, _, side = end.partition(".")
    if name not in features:
        raise UnknownFeatureError(name, few(name, features, "they stand under features:", "one of the features"))
    spec = features[name]
    if spec is None:      # its own faults are told already
        return
    allowed_of, of_it, of_any = _ALLOWED[what]
    allowed = allowed_of(spec)
    if side not in allowed:
        names = [f"{name}.{option}" if option else name for option in allowed]
        raise MeasureWordsError(shown(end), few(end, names, SIDES_LISTED, of_it) if names else of_any)
