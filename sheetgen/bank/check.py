"""From a document to a family: every entry is looked at, and every fault noted with its line, before anyone is told."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from itertools import takewhile
from pathlib import Path
from typing import Any

from pydantic import BaseModel

from sheetgen.bank.family import Family
from sheetgen.bank.faults import BankError
from sheetgen.bank.features import MeasureSpec
from sheetgen.bank.formula_reader import FormulaReader
from sheetgen.bank.formulas import Formula
from sheetgen.bank.measure_words import MeasureWordsError, UnknownFeatureError, alternatives, check_alike, read_measure
from sheetgen.bank.schema import MODELS
from sheetgen.bank.schema_parts import Head, Measure, OneOf, Rule, Section, Spread, Value
from sheetgen.bank.specs import (
    ADDED,
    CUT,
    FORMER_ADDED,
    FORMER_CUT,
    FeatureSpec,
    MeasureLine,
    RuleSpec,
    SectionLine,
    SizeSpec,
    ValueSpec,
)
from sheetgen.bank.wanted import WANTED
from sheetgen.faults import choice, nearest, shown
from sheetgen.yamlines import Path_, YamlDocument

OPTIONAL = ("about", "values", "rules", "symmetry", "sections")

TEXTS = ("title", "about", "because")
"""Fields that hold whatever their author says."""


def family_of(document: YamlDocument, path: Path) -> Family:
    """The family that a document describes. Raises: BankError with all its faults, in the order of the lines."""
    checker = Checker(document)
    head, sizes, values, rules = checker.head(), checker.sizes(), checker.values(), checker.rules()
    features, measures, sections = checker.all_features(), checker.measures(), checker.sections()
    checker.tell_unknown()
    document.remark_cut(lambda path: path[-1] in TEXTS)
    if document.faults or head is None:
        raise BankError(sorted(dict.fromkeys(document.faults), key=lambda fault: fault.line))
    return Family(
        path.stem, head.title, tuple(head.topics), head.rung, tuple(sizes), tuple(features), tuple(measures), head.about or "",
        tuple(values), tuple(rules), tuple(head.symmetry), tuple(sections), path, document.file, tuple(document.remarks),
    )


class Checker(FormulaReader):
    """Looks through one document, part by part, in the order in which parts need each other."""

    def __init__(self, document: YamlDocument) -> None:
        super().__init__(document)
        self.features: dict[str, FeatureSpec | None] = {}    # None: there is one, but it could not be read

    def head(self) -> Head | None:
        """The top of the file; a part left empty counts as left out."""
        data = self.document.data
        if isinstance(data, dict):
            data = {key: value for key, value in data.items() if value is not None or key not in OPTIONAL}
        head = self.model(Head, data, ())
        if head is not None and len(set(head.symmetry)) < len(head.symmetry):
            self.fault(("symmetry",), "an axis twice", "each axis once")
        return head

    def part(self, name: str, kind: type) -> Any:
        """A part of the file if it is there and of the right kind, else an empty one (the head has said so)."""
        data = self.document.data
        found = data.get(name) if isinstance(data, dict) else None
        return found if isinstance(found, kind) else kind()

    def own_entries(self, name: str, after: str, is_of_after: Callable[[Any], bool]) -> list[Any]:
        """A list of the file. Where the line ``after:`` that should follow it is gone, which the head has told, the entries of
        that list have come to stand in this one: they are left out."""
        found: list[Any] = self.part(name, list)
        gone = isinstance(self.document.data, dict) and after not in self.document.data
        return list(takewhile(lambda data: not is_of_after(data), found)) if gone else found

    def sizes(self) -> list[SizeSpec]:
        """Sizes in order, each over earlier ones."""
        specs = []
        found = self.part("sizes", dict)
        self.nameless |= set() if found else {"sizes"}
        for name, data in list(found.items())[:40]:
            spec = self.size(name, data)
            specs += [spec] if spec else []
            self.unsure |= set() if spec else {name}
            self.kinds.setdefault(name, spec.kind if spec else "number")
        return specs

    def named(self, name: str, path: Path_) -> bool:
        """Whether something can have this name."""
        if self.model(Value, {"name": name, "formula": 0}, path):
            return True
        self.faulty.add(name)
        return False

    def size(self, name: str, data: Any) -> SizeSpec | None:
        path: Path_ = ("sizes", name)
        named = self.named(name, path)
        if isinstance(data, dict) and _meant_as_options(data):
            chosen = self.model(OneOf, data, path)
            return SizeSpec(name, self.document.line(path), options=tuple(chosen.options)) if chosen and named else None
        spread = self.model(Spread, data, path)
        if spread is None or not named:
            return None
        for field, formula in (("from", spread.low), ("to", spread.high), ("step", spread.step)):
            self.formula(formula, (*path, field), "number")
        return SizeSpec(name, self.document.line(path), spread.low, spread.high, spread.step)

    def values(self) -> list[ValueSpec]:
        """Values in order, each over the sizes and earlier values."""
        specs = []
        for name, data in list(self.part("values", dict).items())[:40]:
            path: Path_ = ("values", name)
            if name in self.kinds:
                self.fault(path, f"{shown(name)}, a size already", "another name")
                continue
            value = self.model(Value, {"name": name, "formula": data}, path) if self.named(name, path) else None
            kind = self.formula(value.formula, path, None) if value else None
            if kind == "truth":
                self.fault(path, "a comparison", "a number or a word, such as if(…, 1, 0)")
            if value:
                specs.append(ValueSpec(name, self.document.line(path), value.formula))
            self.unsure |= set() if kind else {name}
            self.kinds[name] = kind if kind is not None and kind != "truth" else "number"
        return specs

    def rules(self) -> list[RuleSpec]:
        """The rules, each a comparison."""
        specs = []
        for place, data in enumerate(self.own_entries("rules", "features", _is_feature)[:40]):
            path: Path_ = ("rules", place)
            rule = self.model(Rule, data if isinstance(data, dict) else {"rule": data}, path)
            if rule is not None:
                self.formula(rule.rule, path, "truth")
                specs.append(RuleSpec(self.document.line(path), rule.rule, rule.because))
        return specs

    def all_features(self) -> list[FeatureSpec]:
        """The features in order; names differ."""
        found = self.own_entries("features", "measures", _is_measure)
        self.nameless |= set() if found else {"features"}
        for place, data in enumerate(found[:60]):
            spec = self.feature(place, data)
            name = data.get("name") if isinstance(data, dict) else None
            if not isinstance(name, str) or name in self.features:
                self.nameless.add("features")
            if not isinstance(name, str):
                continue
            if name in self.features:
                self.fault(("features", place, "name"), f"{shown(name)} a second time", "another name")
            self.features.setdefault(name, spec)
        if found and isinstance(found[0], dict) and "cut" in found[0] and "add" not in found[0]:
            self.fault(("features", 0), "a cut before anything is added", "`add:` first")
        return [spec for spec in self.features.values() if spec]

    def feature(self, place: int, data: Any) -> FeatureSpec | None:
        path: Path_ = ("features", place)
        kind = self.kind_of(data, path)
        for field in [field for field in data if data[field] is None] if kind else []:
            self.fault((*path, field), "nothing", f"{WANTED.get(field, 'something')}, or no such line")
        model = self.model(MODELS[kind], data, path) if kind else None
        if kind is None or model is None:
            return None
        given = [field for field in data if field not in ("add", "cut", "name", "when")]
        fields = {field: plain(getattr(model, field)) for field in given if data[field] is not None}
        formulas = formulas_in(fields, ())
        for inner, formula in formulas:
            self.formula(formula, (*path, *inner), "number")
        if model.when is not None:
            self.formula(model.when, (*path, "when"), "truth")
        lines = {inner[2:]: line for inner, line in self.document.lines.items() if inner[:2] == path}
        word = model.add or model.cut or ""
        names = frozenset().union(*(formula.names for _, formula in formulas))
        place += 1
        return FeatureSpec(word, model.cut is not None, kind, model.name, place, lines[()], fields, lines, names, model.when)

    def kind_of(self, data: Any, path: Path_) -> str | None:
        """The kind of feature that its word after add or cut means."""
        if not isinstance(data, dict):
            self.fault(path, shown(data), "a feature: `add:` or `cut:`, `name:` and its fields")
            return None
        given = [verb for verb in ("add", "cut") if verb in data]
        if len(given) != 1:
            self.fault(path, "both add and cut" if given else "neither add nor cut", "one of add, cut")
            return None
        words, former = (ADDED, FORMER_ADDED) if given == ["add"] else (CUT, FORMER_CUT)
        word = data[given[0]]
        if isinstance(word, str) and word in former:
            self.remark((*path, given[0]), f"{shown(word)}, as it once was called", f"{shown(former[word])}, which is the same")
            word = data[given[0]] = former[word]
        if not isinstance(word, str) or word not in words:
            self.fault((*path, given[0]), shown(word), choice(str(word), words, f"one of the words after {given[0]}:"))
            return None
        return words[word]

    def measures(self) -> list[MeasureLine]:
        """The measures, each of features that there are."""
        lines, texts = [], set[str]()
        for place, data in enumerate(self.part("measures", list)[:80]):
            path: Path_ = ("measures", place)
            model = self.model(Measure, data if isinstance(data, dict) else {"measure": data}, path)
            if model is None:
                continue
            if model.when is not None:
                self.formula(model.when, (*path, "when"), "truth")
            found = alternatives(model.measure)
            before = set() if model.when is not None else texts
            for text in [text for k, text in enumerate(found) if text in before or text in found[:k]]:
                self.fault(path, f"{shown(text)} a second time", "each measure once")
            texts.update(found)
            specs = self.specs(found, path)
            lines += [MeasureLine(specs[0], model.when, tuple(specs[1:]))] if specs else []
        return lines

    def specs(self, texts: Sequence[str], path: Path_) -> list[MeasureSpec]:
        """A measure and its alternatives; nothing if one is faulty."""
        specs, count = list[MeasureSpec](), len(self.document.faults)
        for text in texts:
            try:
                specs.append(read_measure(text, self.features, self.document.line(path)))
                check_alike(specs if len(specs) == len(texts) else ())
            except UnknownFeatureError as error:
                faulty = {name.casefold() for name, spec in self.features.items() if spec is None}
                if "features" not in self.nameless and error.name.casefold() not in faulty:
                    self.unknown("features", error.name, path, error.found, error.wanted)
                return []
            except MeasureWordsError as error:
                self.fault(path, error.found, error.wanted)
        return specs if len(self.document.faults) == count else []

    def sections(self) -> list[SectionLine]:
        """The cutting planes, each through axes of features that there are, or at formulas."""
        lines = []
        for place, data in enumerate(self.part("sections", list)[:12]):
            path: Path_ = ("sections", place)
            model = self.model(Section, data, path)
            if model is None:
                continue
            formulas = [*(("through", found) for found in model.through), *(("turns", found) for found in model.turns)]
            for field, formula in formulas:
                if isinstance(formula, str):
                    self.known(formula.split(".")[0], (*path, field))
                else:
                    self.formula(formula, (*path, field), "number")
            if model.when is not None:
                self.formula(model.when, (*path, "when"), "truth")
            line, through, turns = self.document.line(path), tuple(model.through), tuple(model.turns)
            lines.append(SectionLine(place + 1, line, model.section, model.view, through, turns, model.when))
        return lines

    def known(self, feature: str, path: Path_) -> None:
        """Note a feature that there is not."""
        if feature not in self.features and "features" not in self.nameless:
            names = list(self.features)
            self.unknown("features", feature, path, f"an unknown feature {shown(feature)}", choice(feature, names))


def _is_feature(data: Any) -> bool:
    return isinstance(data, dict) and bool(data.keys() & {"add", "cut"})


def _is_measure(data: Any) -> bool:
    return isinstance(data, str) or (isinstance(data, dict) and "measure" in data)


def _meant_as_options(data: dict[str, Any]) -> bool:
    """Whether a size was meant as one out of a list."""
    return "one of" in data or (not data.keys() & {"from", "to", "step"} and any(nearest(key, ["one of"]) for key in data))


def plain(value: Any) -> Any:
    """A model's field as tuples, dicts, formulas and words."""
    if isinstance(value, list):
        return tuple(plain(item) for item in value)
    if isinstance(value, BaseModel):
        return {field: plain(getattr(value, field)) for field in value.model_fields_set if getattr(value, field) is not None}
    return value


def formulas_in(value: Any, path: Path_) -> list[tuple[Path_, Formula]]:
    """Every formula in a field, with its path."""
    if isinstance(value, Formula):
        return [(path, value)]
    items = enumerate(value) if isinstance(value, tuple) else value.items() if isinstance(value, dict) else ()
    return [found for key, item in items for found in formulas_in(item, (*path, key))]
