"""Records read from YAML by pydantic models, the one way for all our files: each fault with file, line and field, in words for a
teacher.

A model says which fields there are and what may stand in them; ``Reader`` holds a document against it. Only what reads files
imports this, because pydantic takes long to start.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Mapping, Sequence
from typing import Any, ClassVar, TypeVar, cast

from pydantic import BaseModel, ConfigDict, ValidationError
from pydantic_core import PydanticCustomError

from sheetgen.faults import Fault, choice, nearest, shown
from sheetgen.yamlines import MOST_FAULTS, Path_, YamlDocument, field_of

Model = TypeVar("Model", bound=BaseModel)

LONGEST_NUMBER = 20
"""Letters of a number in a file of words."""


class Strict(BaseModel):
    """No field but those named, no value converted. ``wanted``: what would be right, by field; "" for the whole record;
    ``renamed``: fields as they once were called, and their names now."""

    model_config = ConfigDict(strict=True, extra="forbid", arbitrary_types_allowed=True, defer_build=True)
    wanted: ClassVar[Mapping[str, str]] = {}
    renamed: ClassVar[Mapping[str, str]] = {}


def wrong(wanted: str, found: str | None = None, at: str | None = None) -> PydanticCustomError:
    """An error that carries what would be right; ``found`` None: the value itself; ``at``: a field within."""
    return PydanticCustomError("record", "wanted", {"wanted": wanted, "found": found, "at": at})


def one_of(allowed: Sequence[str]) -> Callable[[Any], str]:
    """A validator: one of a few words."""
    def check(value: Any) -> str:
        if not isinstance(value, str) or value not in allowed:
            raise wrong(choice(str(value), allowed) if isinstance(value, str) else f"one of {', '.join(allowed)}")
        return value
    return check


def in_any_case(allowed: Sequence[str], spelt: Callable[[str], str] = str.strip) -> Callable[[Any], str]:
    """A validator: one of a few words, in capitals or small letters; ``spelt``: makes others that are the same of what is
    written.

    >>> in_any_case(["first", "third"])("Third")
    'third'
    """
    by_letters = {word.casefold(): word for word in allowed}
    check = one_of(allowed)
    return lambda value: check(by_letters.get(spelt(value).casefold(), value) if isinstance(value, str) else value)


def whole(least: int, most: int) -> Callable[[Any], int]:
    """A validator: a whole number from ``least`` to ``most``, of a file of words."""
    def check(value: Any) -> int:
        if isinstance(value, str) and re.fullmatch(r"[0-9]{1,9}", value) and least <= int(value) <= most:
            return int(value)
        raise wrong(f"a whole number from {least} to {most}")
    return check


def number_of(value: Any) -> float | None:
    """The number that a word of a file is, or None if it is none.

    >>> number_of("12.5"), number_of("inf"), number_of("1_000"), number_of(["12"])
    (12.5, None, None, None)
    """
    if not isinstance(value, str) or len(value) > LONGEST_NUMBER or "_" in value:
        return None
    try:
        number = float(value)
    except ValueError:
        return None
    return number if math.isfinite(number) else None


def number(least: float, most: float) -> Callable[[Any], float]:
    """A validator: a number from ``least`` to ``most``, of a file of words."""
    def check(value: Any) -> float:
        found = number_of(value)
        if found is None or not least <= found <= most:
            raise wrong(f"a number from {least:g} to {most:g}")
        return found
    return check


def numbers(count: int | None, wanted: str) -> Callable[[Any], tuple[float, ...]]:
    """A validator: a list of ``count`` numbers (None: any even count from 4 to 400), of a file of words."""
    def check(value: Any) -> tuple[float, ...]:
        found = [number_of(item) for item in value] if isinstance(value, list) else []
        right = len(found) == count if count else 4 <= len(found) <= 400 and len(found) % 2 == 0
        if not right or None in found:
            raise wrong(wanted)
        return tuple(cast(list[float], found))
    return check


class Reader:
    """Holds a document against models and notes its faults. ``wanted``: what would be right, by the name of a field, where a
    model does not say it."""

    def __init__(self, document: YamlDocument, wanted: Mapping[str, str] | None = None) -> None:
        self.document, self.wanted = document, wanted or {}

    def fault(self, path: Path_, found: str, wanted: str) -> None:
        """Note a fault at an entry."""
        self.document.fault(self.document.line(path), self.place(path), found, wanted)

    def remark(self, path: Path_, found: str, wanted: str) -> None:
        """Note what had better be changed at an entry; the file can be used all the same."""
        if len(self.document.remarks) < MOST_FAULTS:
            self.document.remarks.append(Fault(self.document.file, self.document.line(path), self.place(path), found, wanted))

    def place(self, path: Path_) -> str:
        """How a message calls an entry."""
        return field_of(path)

    def model(self, model: type[Model], data: Any, path: Path_) -> Model | None:
        """Read an entry by a model; None, and the faults noted, if it does not fit."""
        try:
            return model.model_validate(data)
        except ValidationError as error:
            items = error.errors(include_url=False)[:MOST_FAULTS]
            for item in items:
                if not self.document.full and not _misspelt(item, items):
                    self._item(model, item, path)
            return None

    def _item(self, model: type[BaseModel], item: Any, path: Path_) -> None:
        """One pydantic error as a fault."""
        kind, data, context = item["type"], item["input"], item.get("ctx", {})
        inner: Path_ = (*path, *item["loc"])
        field = next((str(step) for step in reversed(item["loc"]) if isinstance(step, str)), "")
        within = _at(model, item["loc"])
        found, wanted = shown(data), within.wanted.get(field) or self.wanted.get(field, "something else")
        if kind == "missing":
            self.fault(inner, "nothing", wanted)
            return
        if kind == "record":
            found, wanted = context["found"] or found, context["wanted"]
        elif kind == "extra_forbidden":
            found = f"an unknown field {shown(field)}"
            wanted = within.renamed.get(field) or choice(field, field_names(within), "one of the fields")
        elif kind == "literal_error" and isinstance(data, str):
            wanted = choice(data, [word.strip(" ',") for word in context["expected"].replace(" or ", ",").split(",")])
        elif kind in ("too_short", "too_long") and isinstance(data, dict):
            found = f"{len(data)} of them"
        elif kind == "too_long" and any(isinstance(part, str) and part.count("(") > part.count(")") for part in data):
            wanted += "; inside [ ] a formula with a comma needs quotes round it"
        elif kind == "model_type":
            record = _within(model, item["loc"])
            wanted = record.wanted.get("") or f"fields {', '.join(field_names(record))}"
        while inner and inner not in self.document.lines:
            inner = inner[:-1]
        at = context.get("at")
        self.fault((*inner, at) if at else inner, found, wanted)


def _misspelt(item: Any, items: Sequence[Any]) -> bool:
    """Whether a field that is missing is there, but misspelt, of which another fault tells."""
    place, name = item["loc"][:-1], str(item["loc"][-1]) if item["loc"] else ""
    others = [str(other["loc"][-1]) for other in items if other["type"] == "extra_forbidden" and other["loc"][:-1] == place]
    return item["type"] == "missing" and any(nearest(other, [name]) for other in others)


def _at(model: type[BaseModel], loc: Path_) -> Any:
    """The model whose field an error is about."""
    return _within(model, loc[:-1])


def _within(model: type[BaseModel], loc: Path_) -> Any:
    """The model that stands at a place within another."""
    inner: Any = model
    for step in loc:
        if isinstance(step, str) and step in inner.model_fields:
            inner = _model_in(inner.model_fields[step].annotation) or inner
    return inner


def field_names(model: type[BaseModel]) -> list[str]:
    """The fields of a model as a file spells them."""
    return [info.alias or name for name, info in model.model_fields.items()]


def _model_in(annotation: Any) -> type[BaseModel] | None:
    """The model inside ``list[Model]`` or ``Model | None``."""
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return annotation
    found = [_model_in(inner) for inner in getattr(annotation, "__args__", ()) if inner is not type(None)]
    return next((model for model in found if model), None)
