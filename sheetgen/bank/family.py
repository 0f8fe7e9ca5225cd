"""A family of parts and its variants: sizes are chosen by (family, seed, draw), the same on every machine."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass, field
from hashlib import sha256
from pathlib import Path
from typing import Literal

from sheetgen.bank.build import Unfit, build, fault_of
from sheetgen.bank.faults import BankError
from sheetgen.bank.features import Feature, MeasureSpec, SectionSpec
from sheetgen.bank.formulas import Formula, FormulaError, Value
from sheetgen.bank.specs import FeatureSpec, MeasureLine, RuleSpec, SectionLine, SizeSpec, ValueSpec
from sheetgen.faults import Fault, choice, shown
from sheetgen.units import SAME_POINT

ATTEMPTS = 500
"""Choices of sizes that are tried before a family is called impossible."""
MOST_STEPS = 100_000
MOST_SEED = 999_999_999
"""A seed stands on the sheet as part of its code."""

SIZE_DIGITS = 6
"""Decimals of a millimetre kept of a chosen size, so that 3 steps of 0.1 are 0.3."""

Symmetry = tuple[Literal["x", "y"], ...]


@dataclass(frozen=True, slots=True, order=True)
class Identity:
    """What tells a variant from all others: its family's name, the seed, and the draw of that seed.

    >>> str(Identity("stepped-block", 7)), str(Identity("stepped-block", 7, 2))
    ('stepped-block-7', 'stepped-block-7.2')
    """

    family: str
    seed: int
    draw: int = 0

    def __str__(self) -> str:
        return f"{self.family}-{self.seed}" + (f".{self.draw}" if self.draw else "")


@dataclass(frozen=True, slots=True)
class Variant:
    """A family with its sizes chosen. ``sizes`` in the order of the file, mm or words; ``values`` follow from them; ``measures``:
    what is to be printed, of each its alternatives, the preferred one first; ``sections``: its cutting planes."""

    family: Family
    seed: int
    draw: int
    sizes: Mapping[str, float | str]
    values: Mapping[str, float | str]
    features: tuple[Feature, ...]
    measures: tuple[tuple[MeasureSpec, ...], ...]
    sections: tuple[SectionSpec, ...] = ()

    @property
    def identity(self) -> Identity:
        """What tells it from all other variants."""
        return Identity(self.family.name, self.seed, self.draw)

    @property
    def measure_specs(self) -> tuple[MeasureSpec, ...]:
        """The measures as their author prefers them, without alternatives."""
        return tuple(specs[0] for specs in self.measures)

    @property
    def symmetry(self) -> Symmetry:
        """The axes to whose square mid-planes the part is symmetric."""
        return self.family.symmetry


@dataclass(frozen=True, slots=True)
class Attempt:
    """One choice of sizes, kept or not. ``broken``: line, field and reason of everything that speaks against it."""

    sizes: Mapping[str, float | str]
    broken: tuple[tuple[int, str, str], ...]


@dataclass(frozen=True, slots=True)
class Family:
    """One parametric part of the problem bank, as its file gives it."""

    name: str
    title: str
    topics: tuple[str, ...]
    rung: int
    sizes: tuple[SizeSpec, ...]
    features: tuple[FeatureSpec, ...]
    measures: tuple[MeasureLine, ...]
    about: str = ""
    values: tuple[ValueSpec, ...] = ()
    rules: tuple[RuleSpec, ...] = ()
    symmetry: Symmetry = ()
    sections: tuple[SectionLine, ...] = ()
    source: Path = Path()
    file: str = field(default="", compare=False)      # the source as messages show it
    remarks: tuple[Fault, ...] = field(default=(), compare=False)     # what had better be changed in the file

    def sample(self, seed: int, draw: int = 0) -> Variant:
        """The variant of a seed: the first choice of sizes that keeps every rule. ``draw`` 1, 2 … give others of the same seed.

        Raises: BankError if ATTEMPTS choices break a rule (which ones, how often), or a feature comes out impossible.
        """
        broken: Counter[tuple[int, str, str]] = Counter()
        for number in range(ATTEMPTS):
            attempt, env = self._try(seed, draw, number)
            if not attempt.broken:
                return self._filled(seed, draw, attempt.sizes, env)
            broken.update(list(dict.fromkeys(attempt.broken)))     # in the order of the file, which then settles ties
        faults = [Fault(self.file, line, where, f"{count} of {ATTEMPTS} choices of sizes refused: {why}",
                        "ranges and rules that more choices keep") for (line, where, why), count in broken.most_common(3)]
        raise BankError(faults)

    def attempt(self, seed: int, draw: int = 0, number: int = 0) -> Attempt:
        """The choice of sizes that ``sample`` looks at as its ``number``-th, whatever the rules say of it."""
        return self._try(seed, draw, number)[0]

    def ways(self, sizes: Mapping[str, float | str], names: Collection[str]) -> float:
        """How many choices of the sizes ``names`` there were on the way to ``sizes``: the product, size by size, of the options
        given those before.
        """
        return math.prod(float(_options(spec, sizes)) for spec in self.sizes if spec.name in sizes and spec.name in names)

    def variant(self, sizes: Mapping[str, float | str], seed: int = 0, draw: int = 0) -> Variant:
        """The variant with these sizes, which need not be of the ranges but must keep the rules.

        Raises: BankError for a size that is missing, unknown or of the wrong kind, a broken rule, an impossible feature.
        """
        faults = [self._fault(0, f"sizes.{name}", "an unknown size", choice(name, self.size_names)) for name in sizes
                  if name not in self.size_names]
        chosen: dict[str, float | str] = {}
        for spec in self.sizes:
            value = sizes.get(spec.name)
            if isinstance(value, str) if spec.kind != "number" else _is_size(value):
                chosen[spec.name] = value if isinstance(value, str) else float(value)      # type: ignore[arg-type]
            if spec.name not in chosen or (spec.kind != "number" and value not in spec.options):
                wanted = "a number of mm" if spec.kind == "number" else choice(str(value), map(str, spec.options))
                faults.append(self._fault(spec.line, f"sizes.{spec.name}", shown(value), wanted))
        if faults:
            raise BankError(faults)
        env, failed = self._derive(chosen)
        if failed:
            raise BankError([self._fault(line, where, why, "sizes that fit") for line, where, why in failed])
        return self._filled(seed, draw, chosen, env)

    @property
    def size_names(self) -> tuple[str, ...]:
        """The sizes in the order of the file."""
        return tuple(spec.name for spec in self.sizes)

    def _fault(self, line: int, where: str, found: str, wanted: str) -> Fault:
        return Fault(self.file, line, where, found, wanted)

    def _try(self, seed: int, draw: int, number: int) -> tuple[Attempt, dict[str, Value]]:
        """A choice of sizes, and sizes and values together."""
        sizes, reasons = self._choose(f"{self.name}/{seed}/{draw}/{number}")
        env, failed = self._derive(sizes) if not reasons else ({}, [])
        return Attempt(sizes, (*reasons, *failed)), env

    def _choose(self, key: str) -> tuple[dict[str, float | str], list[tuple[int, str, str]]]:
        """One choice of all sizes; or why there is none."""
        sizes: dict[str, float | str] = {}
        for spec in self.sizes:
            try:
                sizes[spec.name] = _chosen(spec, sizes, key)
            except FormulaError as error:
                return {}, [(spec.line, f"sizes.{spec.name}", f"{error.found}; wanted {error.wanted}")]
        return sizes, []

    def _derive(self, sizes: Mapping[str, float | str]) -> tuple[dict[str, Value], list[tuple[int, str, str]]]:
        """Sizes and values together, and the rules that are broken: line, field, why."""
        env: dict[str, Value] = dict(sizes)
        for value in self.values:
            try:
                env[value.name] = value.formula.value(env)
            except FormulaError as error:
                return env, [(value.line, f"values.{value.name}", f"{error.found}; wanted {error.wanted}")]
        failed = []
        for place, rule in enumerate(self.rules, 1):
            try:
                why = "" if rule.formula.truth(env) else rule.because or f"not {rule.formula.text}"
            except FormulaError as error:
                why = f"{error.found}; wanted {error.wanted}"
            if why:
                failed.append((rule.line, f"rules[{place}]", why))
        return env, failed

    def _filled(self, seed: int, draw: int, sizes: Mapping[str, float | str], env: Mapping[str, Value]) -> Variant:
        """The variant, its features built. Raises: BankError with every feature that cannot be."""
        features, faults = list[Feature](), list[Fault]()
        for spec in self.features:
            try:
                if self._counts(spec.when, env, spec):
                    features.append(build(spec, env))
            except Unfit as unfit:
                faults.append(fault_of(spec, unfit, self.file, sizes, self._needed(spec)))
        there = {feature.name for feature in features}
        measures = []
        for measure in self.measures:
            try:
                if (specs := measure.among(there)) and (measure.when is None or measure.when.truth(env)):
                    measures.append(specs)
            except FormulaError as error:
                faults.append(self._fault(measure.spec.line, f"measures {shown(measure.spec.text)}", error.found, error.wanted))
        sections = [*self._sections(env, faults)]
        if faults:
            raise BankError(faults)
        values = {value.name: env[value.name] for value in self.values}
        return Variant(self, seed, draw, sizes, values, tuple(features), tuple(measures), tuple(sections))

    def _sections(self, env: Mapping[str, Value], faults: list[Fault]) -> Iterator[SectionSpec]:
        """The cutting planes that count, with their numbers; ``faults`` gets what cannot be worked out."""
        for line in self.sections:
            try:
                if line.when is not None and not line.when.truth(env):
                    continue
                through = tuple(place if isinstance(place, str) else place.number(env) for place in line.through)
                turns = tuple(turn.number(env) for turn in line.turns)
            except FormulaError as error:
                faults.append(self._fault(line.line, f"sections[{line.number}]", error.found, error.wanted))
                continue
            yield SectionSpec(line.section, line.view, through, turns, line.number, line.line)    # type: ignore[arg-type]

    def _counts(self, when: Formula | None, env: Mapping[str, Value], spec: FeatureSpec) -> bool:
        try:
            return when is None or when.truth(env)
        except FormulaError as error:
            raise Unfit(("when",), error.found, error.wanted) from None

    def _needed(self, spec: FeatureSpec) -> frozenset[str]:
        """The sizes that a feature depends on, straight or through values."""
        values = {value.name: value.formula.names for value in self.values}
        names, todo = set[str](), list(spec.names)
        while todo:
            name = todo.pop()
            todo += values.get(name, frozenset()) - names
            names.add(name)
        return frozenset(names)


def _is_size(value: object) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool) and math.isfinite(value) and abs(value) <= 1e6


def _chosen(spec: SizeSpec, sizes: Mapping[str, float | str], key: str) -> float | str:
    """A size, chosen by the digest of ``key`` and its name. Raises: FormulaError if there is nothing to choose from."""
    if spec.options:
        return spec.options[_index(f"{key}/{spec.name}", len(spec.options))]
    first, last, step = _steps(spec, sizes)
    return round((first + _index(f"{key}/{spec.name}", last - first + 1)) * step, SIZE_DIGITS) + 0.0


def _options(spec: SizeSpec, sizes: Mapping[str, float | str]) -> int:
    """How many sizes there are to choose from."""
    if spec.options:
        return len(spec.options)
    first, last, _ = _steps(spec, sizes)
    return last - first + 1


def _steps(spec: SizeSpec, sizes: Mapping[str, float | str]) -> tuple[int, int, float]:
    """The first and the last step of a range, and the step. Raises: FormulaError if there is nothing between."""
    assert spec.low is not None and spec.high is not None and spec.step is not None
    low, high, step = (formula.number(sizes) for formula in (spec.low, spec.high, spec.step))
    if step <= SAME_POINT:
        raise FormulaError(1, f"a step of {step:g}", "a step above 0")
    first, last = math.ceil((low - SAME_POINT) / step), math.floor((high + SAME_POINT) / step)
    if last < first:
        raise FormulaError(1, f"nothing from {low:g} to {high:g}", f"a multiple of {step:g} between")
    if last - first >= MOST_STEPS:
        raise FormulaError(1, f"{last - first + 1} steps", f"fewer than {MOST_STEPS}")
    return first, last, step


def _index(key: str, count: int) -> int:
    """A number from 0 to ``count`` - 1 out of a digest: the same on every machine and in every version of the language."""
    return int.from_bytes(sha256(key.encode()).digest()[:8], "big") % count
