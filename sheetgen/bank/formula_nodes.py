"""The parts a formula is made of. Each knows its value (``run``) and, before any sizes are known, its kind (``kind``).

Nothing else can happen in a formula: no names but sizes and values, no attributes, no powers, no text but words to compare.
Every result is checked, so that no step can grow beyond ``LIMIT`` or become infinite. Angles are in degrees.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Literal

from sheetgen.faults import choice, few
from sheetgen.units import SAME_POINT

SIZES_LISTED = "they stand under sizes: and values:"
"""Where a message sends who looks for a name."""

LIMIT = 1e6
"""Greatest number a formula may make, mm: a thousand metres is no school exercise, and nothing can overflow below it."""
TRIG_DIGITS = 12
"""Decimals kept of sin, cos and tan: libraries of different machines differ in the sixteenth."""

Value = float | bool | str
Env = Mapping[str, Value]
Kind = Literal["number", "truth"] | frozenset[str]
"""A number, a yes-or-no, or one of some words."""


class FormulaError(ValueError):
    """A formula that cannot be read or worked out. ``column`` counts from 1."""

    def __init__(self, column: int, found: str, wanted: str) -> None:
        super().__init__(column, found, wanted)
        self.column, self.found, self.wanted = column, found, wanted

    def __str__(self) -> str:
        return f"column {self.column}: found {self.found}, wanted {self.wanted}"


class UnknownNameError(FormulaError):
    """A name in a formula that is no size and no value. ``name``: it."""

    def __init__(self, column: int, name: str, wanted: str) -> None:
        super().__init__(column, f"'{name}'", wanted)
        self.name = name


def kind_words(kind: Kind) -> str:
    """A kind as a message says it."""
    if isinstance(kind, frozenset):
        return "a word"
    return "a number" if kind == "number" else "a yes-or-no (a comparison)"


@dataclass(frozen=True, slots=True)
class Number:
    """A number written out."""

    column: int
    number: float

    def run(self, env: Env) -> Value:
        return self.number

    def kind(self, kinds: Mapping[str, Kind]) -> Kind:
        return "number"


@dataclass(frozen=True, slots=True)
class Word:
    """A word in quotes, to compare a choice with."""

    column: int
    word: str

    def run(self, env: Env) -> Value:
        return self.word

    def kind(self, kinds: Mapping[str, Kind]) -> Kind:
        return frozenset({self.word})


@dataclass(frozen=True, slots=True)
class Name:
    """A size or a value."""

    column: int
    name: str

    def run(self, env: Env) -> Value:
        try:
            return env[self.name]
        except KeyError:
            raise FormulaError(self.column, f"'{self.name}'", few(self.name, env, SIZES_LISTED)) from None

    def kind(self, kinds: Mapping[str, Kind]) -> Kind:
        if self.name not in kinds:
            raise UnknownNameError(self.column, self.name, few(self.name, kinds, SIZES_LISTED, "one of the sizes known here:"))
        return kinds[self.name]


@dataclass(frozen=True, slots=True)
class Minus:
    """A sign turned."""

    column: int
    inner: Node

    def run(self, env: Env) -> Value:
        return -number(self.inner, env)

    def kind(self, kinds: Mapping[str, Kind]) -> Kind:
        return need(self.inner, "number", kinds)


@dataclass(frozen=True, slots=True)
class Sum:
    """Two numbers joined by ``+ - * /``."""

    column: int
    sign: str
    left: Node
    right: Node

    def run(self, env: Env) -> Value:
        a, b = number(self.left, env), number(self.right, env)
        if self.sign == "+":
            return bounded(a + b, self.column)
        if self.sign == "-":
            return bounded(a - b, self.column)
        if self.sign == "*":
            return bounded(a * b, self.column)
        if b == 0:
            raise FormulaError(self.column, "a division by 0", "a divisor that is never 0")
        return bounded(a / b, self.column)

    def kind(self, kinds: Mapping[str, Kind]) -> Kind:
        need(self.left, "number", kinds)
        return need(self.right, "number", kinds)


@dataclass(frozen=True, slots=True)
class Compare:
    """A chain of comparisons; numbers nearer than SAME_POINT are equal, so that 0.1 + 0.2 <= 0.3 holds."""

    column: int
    terms: tuple[Node, ...]
    signs: tuple[str, ...]

    def run(self, env: Env) -> Value:
        left = self.terms[0].run(env)
        for sign, term in zip(self.signs, self.terms[1:], strict=True):
            right = term.run(env)
            if not holds(left, sign, right, self.column):
                return False
            left = right
        return True

    def kind(self, kinds: Mapping[str, Kind]) -> Kind:
        left = self.terms[0].kind(kinds)
        for sign, term in zip(self.signs, self.terms[1:], strict=True):
            right = term.kind(kinds)
            if isinstance(left, frozenset) and isinstance(right, frozenset):
                check_words(left, right, sign, self, term)
            elif left != "number" or right != "number":
                wrong, where = (right, term) if left == "number" else (left, self)
                raise FormulaError(where.column, kind_words(wrong), "two numbers, or two words, to compare")
            left = right
        return "truth"


@dataclass(frozen=True, slots=True)
class Logic:
    """``and``, ``or``, ``not``."""

    column: int
    sign: Literal["and", "or", "not"]
    terms: tuple[Node, ...]

    def run(self, env: Env) -> Value:
        if self.sign == "not":
            return not truth(self.terms[0], env)
        if self.sign == "and":
            return all(truth(term, env) for term in self.terms)
        return any(truth(term, env) for term in self.terms)

    def kind(self, kinds: Mapping[str, Kind]) -> Kind:
        for term in self.terms:
            need(term, "truth", kinds)
        return "truth"


@dataclass(frozen=True, slots=True)
class Choose:
    """``if(condition, then, otherwise)``; only the one that counts is worked out."""

    column: int
    condition: Node
    then: Node
    otherwise: Node

    def run(self, env: Env) -> Value:
        return self.then.run(env) if truth(self.condition, env) else self.otherwise.run(env)

    def kind(self, kinds: Mapping[str, Kind]) -> Kind:
        need(self.condition, "truth", kinds)
        one, other = self.then.kind(kinds), self.otherwise.kind(kinds)
        if isinstance(one, frozenset) and isinstance(other, frozenset):
            return one | other
        if one != other:
            raise FormulaError(self.otherwise.column, kind_words(other), f"{kind_words(one)}, as in the other case")
        return one


@dataclass(frozen=True, slots=True)
class Call:
    """One of FUNCTIONS, of numbers."""

    column: int
    name: str
    inputs: tuple[Node, ...]

    def run(self, env: Env) -> Value:
        try:
            return bounded(FUNCTIONS[self.name][1](*(number(term, env) for term in self.inputs)), self.column)
        except FormulaError:
            raise
        except ValueError:
            raise FormulaError(self.column, f"{self.name} of a negative number", "a number from 0 up") from None

    def kind(self, kinds: Mapping[str, Kind]) -> Kind:
        for term in self.inputs:
            need(term, "number", kinds)
        return "number"


Node = Number | Word | Name | Minus | Sum | Compare | Logic | Choose | Call


def bounded(value: float, column: int) -> float:
    """``value`` if it is a number within LIMIT (neither infinite nor undefined)."""
    if not -LIMIT <= value <= LIMIT:
        raise FormulaError(column, "a result beyond 1 000 000", "a smaller one")
    return value + 0.0       # never a minus zero


def number(node: Node, env: Env) -> float:
    """The value of a node that must be a number."""
    value = node.run(env)
    if type(value) is not float:
        raise FormulaError(node.column, "a word or a comparison", "a number")
    return value


def truth(node: Node, env: Env) -> bool:
    """The value of a node that must be yes or no."""
    value = node.run(env)
    if type(value) is not bool:
        raise FormulaError(node.column, "a number or a word", "a comparison")
    return value


def need(node: Node, kind: Kind, kinds: Mapping[str, Kind]) -> Kind:
    """The kind of a node, which must be ``kind``."""
    found = node.kind(kinds)
    if found != kind:
        raise FormulaError(node.column, kind_words(found), kind_words(kind))
    return found


def holds(left: Value, sign: str, right: Value, column: int) -> bool:
    """One comparison; words only by == and !=."""
    if isinstance(left, str) and isinstance(right, str) and sign in ("==", "!="):
        return (left == right) is (sign == "==")
    if type(left) is not float or type(right) is not float:
        raise FormulaError(column, f"a comparison {sign} of unlike things", "two numbers, or two words by == or !=")
    gap = left - right
    return {"<": gap < -SAME_POINT, "<=": gap <= SAME_POINT, ">": gap > SAME_POINT, ">=": gap >= -SAME_POINT,
            "==": abs(gap) <= SAME_POINT, "!=": abs(gap) > SAME_POINT}[sign]


def check_words(left: frozenset[str], right: frozenset[str], sign: str, whole: Node, term: Node) -> None:
    """Two words may be compared by == and != only, and only if they could ever be the same."""
    if sign not in ("==", "!="):
        raise FormulaError(whole.column, f"words compared by {sign}", "== or !=")
    if not left & right:
        one = sorted(right)[0]
        raise FormulaError(term.column, f"'{one}'", choice(one, sorted(left)))


def _rounded(f: Callable[[float], float]) -> Callable[[float], float]:
    return lambda degrees: round(f(math.radians(degrees)), TRIG_DIGITS)


FUNCTIONS: dict[str, tuple[tuple[int, int], Callable[..., float]]] = {
    "min": ((1, 8), lambda *terms: min(terms)),
    "max": ((1, 8), lambda *terms: max(terms)),
    "abs": ((1, 1), abs),
    # a half goes up, and what is a whole number but for rounding counts as one
    "round": ((1, 1), lambda term: float(math.floor(term + 0.5 + SAME_POINT))),
    "floor": ((1, 1), lambda term: float(math.floor(term + SAME_POINT))),
    "ceil": ((1, 1), lambda term: float(math.ceil(term - SAME_POINT))),
    "sqrt": ((1, 1), math.sqrt),
    "sin": ((1, 1), _rounded(math.sin)),
    "cos": ((1, 1), _rounded(math.cos)),
    "tan": ((1, 1), _rounded(math.tan)),
}
"""Name: (fewest, most inputs), the function."""
