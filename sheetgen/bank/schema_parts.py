"""The shape of a family file, for pydantic: which fields there are and what may stand in them. Strict: nothing is converted.

Only ``check.py`` imports this, and only when a file is read, because pydantic takes long to start.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from typing import Annotated, Any, ClassVar, Literal

from annotated_types import Len
from pydantic import AfterValidator, BeforeValidator, Field, PlainValidator, model_validator

from sheetgen.bank.formulas import RESERVED, Formula, FormulaError, parse
from sheetgen.faults import shown
from sheetgen.records import Strict, wrong
from sheetgen.yamlines import visible

NAME = r"[a-z][a-z0-9_]{0,39}"
AXIS = rf"{NAME}(\.({NAME}|[0-9]{{1,3}}))+"
"""The name of an axis, or of a round side that has one: `bore.axis`, `holes.2.axis`, `nose.round`."""
MEASURE_WORDS = ("to", "of", "along", "and", "or", "edge", "diameter", "radius", "depth", "angle", "x", "y", "z")


def _formula(value: Any) -> Formula:
    if isinstance(value, bool) or not isinstance(value, int | float | str):
        raise wrong("a number or a formula", shown(value))
    try:
        return parse(value)
    except FormulaError as error:
        where = f" at column {error.column} of {shown(value)}" if isinstance(value, str) else ""
        raise wrong(error.wanted, f"{error.found}{where}") from None


def _end(value: Any) -> Formula | None:
    return None if value == "open" else _formula(value)


def _name(value: Any) -> str:
    if not isinstance(value, str) or not re.fullmatch(NAME, value):
        raise wrong("a name of small letters a-z, digits and _, beginning with a letter, at most 40 long")
    if value in RESERVED:
        raise wrong("another name: this word has a meaning in formulas")
    return value


def _feature_name(value: Any) -> str:
    if value in MEASURE_WORDS:
        raise wrong("another name: this word has a meaning in measures")
    return _name(value)


def _text(most: int) -> Callable[[Any], str]:
    def check(value: Any) -> str:
        if not isinstance(value, str) or not value.strip():
            raise wrong("text" + (", in quotes" if value is not None else ""))
        if len(value) > most:
            raise wrong(f"at most {most} characters", f"{len(value)} characters")
        line = " ".join(value.split())
        if not all(visible(sign) for sign in line):
            raise wrong("text without invisible signs")
        return line
    return check


def _topic(value: Any) -> str:
    if not isinstance(value, str) or not re.fullmatch(r"[a-z][a-z0-9 -]{0,29}", value):
        raise wrong("a short word or two in small letters, at most 30 long")
    return value


def _options(value: list[Any]) -> list[float | str]:
    if all(isinstance(option, int | float) and not isinstance(option, bool) for option in value):
        numbers = [_formula(option).number({}) for option in value]
        if len(set(numbers)) < len(numbers):
            raise wrong("each option once", "an option twice")
        return [*numbers]
    for option in value:
        if not isinstance(option, str) or not re.fullmatch(NAME, option):
            found = "numbers and words mixed" if isinstance(option, int | float) else shown(option)
            raise wrong("numbers only, or words of small letters only", found)
    if len(set(value)) < len(value):
        raise wrong("each option once", "an option twice")
    return value


def _as_open(value: Any) -> Any:
    return ["open", "open"] if value == "open" else value


def _as_list(value: Any) -> Any:
    return value if isinstance(value, list) else [value]


def _axis_or_number(value: Any) -> Formula | str:
    """The name of an axis, or a formula."""
    return value if isinstance(value, str) and re.fullmatch(AXIS, value.strip()) else _formula(value)


def _as_points(value: Any) -> Any:
    return [value] if isinstance(value, list) and value and not isinstance(value[0], list) else value


# Formulas, but told as Any: pydantic would take a formula's whole tree apart, a third of the time in which a family is read.
Number = Annotated[Any, PlainValidator(_formula)]
NumberOrOpen = Annotated[Any, PlainValidator(_end)]
AxisOrNumber = Annotated[Any, PlainValidator(_axis_or_number)]
Name = Annotated[str, PlainValidator(_name)]
FeatureName = Annotated[str, PlainValidator(_feature_name)]
Pair = Annotated[list[Number], Len(2, 2)]
Triple = Annotated[list[Number], Len(3, 3)]
Points = Annotated[list[Pair], Len(1, 40), BeforeValidator(_as_points)]
Range = Annotated[list[NumberOrOpen], Len(2, 2), BeforeValidator(_as_open)]
Axis = Literal["x", "y", "z"]


class Head(Strict):
    """The top of a file; the long parts are looked at one by one."""

    title: Annotated[str, PlainValidator(_text(60))]
    topics: Annotated[list[Annotated[str, PlainValidator(_topic)]], Len(1, 8)]
    rung: Annotated[int, Field(ge=1, le=5)]
    about: Annotated[str | None, PlainValidator(_text(400))] = None
    sizes: Annotated[dict[str, Any], Len(1, 40)]
    values: Annotated[dict[str, Any], Len(0, 40), Field(default_factory=dict)]
    rules: Annotated[list[Any], Len(0, 40), Field(default_factory=list)]
    symmetry: Annotated[list[Literal["x", "y"]], Len(0, 2), Field(default_factory=list)]
    features: Annotated[list[Any], Len(1, 60)]
    measures: Annotated[list[Any], Len(1, 80)]
    sections: Annotated[list[Any], Len(0, 12), Field(default_factory=list)]


class Spread(Strict):
    """A size between two limits."""

    low: Annotated[Number, Field(alias="from")]
    high: Annotated[Number, Field(alias="to")]
    step: Number


class OneOf(Strict):
    """A size out of a list."""

    options: Annotated[list[Any], Len(1, 40), AfterValidator(_options), Field(alias="one of")]


class Value(Strict):
    """A derived value."""

    name: Name
    formula: Number


class Rule(Strict):
    """A rule with its reason."""

    rule: Number
    because: Annotated[str | None, PlainValidator(_text(200))] = None


class Measure(Strict):
    """A measure with its alternatives; one that counts only sometimes."""

    measure: Annotated[str, PlainValidator(_text(600))]
    when: Number | None = None


class Section(Strict):
    """A cutting plane."""

    wanted: ClassVar[Mapping[str, str]] = {
        "section": "full, half or offset", "view": "front, top or side",
        "through": "an axis such as `bore.axis`, a formula, or a list of 2 to 4 of these for an offset section",
        "turns": "a formula, or a list: where an offset section turns",
    }

    section: Literal["full", "half", "offset"]
    view: Literal["front", "top", "side"]
    through: Annotated[list[AxisOrNumber], Len(1, 4), BeforeValidator(_as_list)]
    turns: Annotated[list[Number], Len(0, 3), BeforeValidator(_as_list), Field(default_factory=list)]
    when: Number | None = None

    @model_validator(mode="after")
    def stretches(self) -> Section:
        count = len(self.through)
        if (count > 1) is not (self.section == "offset"):
            few = "one place: only an offset section has more"
            raise wrong("two places or more" if self.section == "offset" else few, f"{count}", "through")
        if len(self.turns) != count - 1:
            raise wrong(f"{count - 1}: one turn between each two places", f"{len(self.turns)}", "turns")
        return self


class Feature(Strict):
    """What every feature may have. The word after ``add`` or ``cut`` has been looked at already."""

    add: str | None = None
    cut: str | None = None
    name: FeatureName
    when: Annotated[Any, PlainValidator(_formula)] = None
