"""Faults of a document, noted with their lines: what pydantic and the formulas say, in words for the teacher."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, TypeVar

from pydantic import BaseModel, ValidationError

from sheetgen.bank.formulas import Formula, FormulaError, Kind
from sheetgen.bank.schema_parts import Feature
from sheetgen.bank.wanted import WANTED
from sheetgen.faults import choice, shown
from sheetgen.yamlines import MOST_FAULTS, Document, Path_, field_of

Model = TypeVar("Model", bound=BaseModel)


class Notes:
    """The faults of one document; ``kinds`` are those of the sizes and values known so far."""

    def __init__(self, document: Document) -> None:
        self.document = document
        self.kinds: dict[str, Kind] = {}

    def fault(self, path: Path_, found: str, wanted: str) -> None:
        """Note a fault at an entry; features are called by number and name."""
        self.document.fault(self.document.line(path), self.place(path), found, wanted)

    def place(self, path: Path_) -> str:
        """How a message calls an entry."""
        data = self.document.data
        if len(path) > 1 and path[0] == "features" and isinstance(path[1], int) and isinstance(data["features"][path[1]], dict):
            name = data["features"][path[1]].get("name")
            if isinstance(name, str):
                inner = field_of(path[2:])
                return f"{field_of(path[:2])} {shown(name)[1:-1]}" + (f": {inner}" if inner else "")
        return field_of(path)

    def model(self, model: type[Model], data: Any, path: Path_) -> Model | None:
        """Read an entry by a pydantic model; None, and the faults noted, if it does not fit."""
        try:
            return model.model_validate(data)
        except ValidationError as error:
            for item in error.errors(include_url=False)[:MOST_FAULTS]:
                if not self.document.full:
                    self.item(model, item, path)
            return None

    def item(self, model: type[BaseModel], item: Any, path: Path_) -> None:
        """One pydantic error as a fault."""
        kind, data, context = item["type"], item["input"], item.get("ctx", {})
        inner: Path_ = (*path, *item["loc"])
        field = next((str(step) for step in reversed(item["loc"]) if isinstance(step, str)), "")
        found, wanted = shown(data), WANTED.get(field, "something else")
        if kind == "missing":
            self.fault(inner, "nothing", wanted)
            return
        if kind == "bank":
            found, wanted = context["found"] or found, context["wanted"]
        elif kind == "extra_forbidden":
            found = f"an unknown field {shown(field)}"
            wanted = choice(field, self.fields_at(model, item["loc"]), "one of the fields")
        elif kind == "literal_error" and isinstance(data, str):
            wanted = choice(data, [word.strip(" ',") for word in context["expected"].replace(" or ", ",").split(",")])
        elif kind in ("too_short", "too_long") and isinstance(data, dict):
            found = f"{len(data)} of them"
        elif kind == "too_long" and any(isinstance(part, str) and part.count("(") > part.count(")") for part in data):
            wanted += "; inside [ ] a formula with a comma needs quotes round it"
        elif kind == "model_type" and not item["loc"]:
            wanted = f"fields {', '.join(field_names(model))}"
        while inner and inner not in self.document.lines:
            inner = inner[:-1]
        at = context.get("at")
        self.fault((*inner, at) if at else inner, found, wanted)

    def fields_at(self, model: type[BaseModel], loc: Path_) -> list[str]:
        """The fields that may stand where an unknown one stood."""
        inner: Any = model
        for step in loc[:-1]:
            if isinstance(step, str) and step in inner.model_fields:
                inner = model_within(inner.model_fields[step].annotation)
        return field_names(inner)

    def formula(self, formula: Formula, path: Path_, want: Kind | None, kinds: Mapping[str, Kind] | None = None) -> Kind | None:
        """Check the names and kinds in a formula; None, and the fault noted, if they do not fit."""
        try:
            return formula.check(self.kinds if kinds is None else kinds, want)
        except FormulaError as error:
            at = f" at column {error.column} of {shown(formula.text)}" if formula.text != error.found.strip("'") else ""
            self.fault(path, f"{error.found}{at}", error.wanted)
            return None


def field_names(model: type[BaseModel]) -> list[str]:
    """The fields of a model as a file spells them."""
    return [info.alias or name for name, info in model.model_fields.items()]


def model_within(annotation: Any) -> type[BaseModel]:
    """The model inside ``list[Model]`` or ``Model | None``."""
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return annotation
    found = [model_within(inner) for inner in getattr(annotation, "__args__", ()) if inner is not type(None)]
    return found[0] if found else Feature
