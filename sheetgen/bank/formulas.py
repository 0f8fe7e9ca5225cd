"""Formulas over sizes, as a bank file writes them: ``width - 2*wall``. Text in, a ``Formula`` out; nothing runs but arithmetic.

The grammar, loosest binding first: ``or``; ``and``; ``not``; comparisons, also in chains; ``+ -``; ``* /``; a leading ``-``;
numbers, names, words in quotes, parentheses, ``min max abs round floor ceil sqrt sin cos tan`` and ``if(condition, a, b)``.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field

from sheetgen.bank.formula_nodes import (
    FUNCTIONS,
    LIMIT,
    Call,
    Choose,
    Compare,
    Env,
    FormulaError,
    Kind,
    Logic,
    Minus,
    Name,
    Node,
    Number,
    Sum,
    Value,
    Word,
    kind_words,
    number,
    truth,
)
from sheetgen.faults import choice, visible_text

__all__ = ["RESERVED", "Env", "Formula", "FormulaError", "Kind", "Value", "parse"]

LONGEST = 200      # characters: a formula that is longer belongs in several values
DEEPEST = 20       # brackets or signs within each other
MOST_TOKENS = 60   # numbers, names and signs: 80 formulas of as many, tried 500 times, still take less than two seconds
RESERVED = frozenset({*FUNCTIONS, "if", "and", "or", "not", "open"})
"""Words that no size may be called."""

_TOKEN = re.compile(r"""\s*(?:(?P<number>\d+\.?\d*|\.\d+)|(?P<name>[A-Za-z_][A-Za-z0-9_]*)
    |(?P<word>"[^"]*"|'[^']*')|(?P<sign><=|>=|==|!=|\*\*|[-+*/()<>,])|(?P<wrong>\S)|(?P<end>$))""", re.VERBOSE | re.ASCII)
_COMPARE = ("<", "<=", ">", ">=", "==", "!=")
_HINTS = {"=": "== to compare", "^": "a*a for a square", "×": "* to multiply", "·": "* to multiply", "÷": "/ to divide",
          "−": "- for minus", "–": "- for minus", "≤": "<=", "≥": ">=", "≠": "!=", "²": "a*a for a square",
          "°": "plain degrees", "&": "and", "|": "or", "!": "not, or !="}


@dataclass(frozen=True, slots=True)
class Formula:
    """A formula that has been read. ``names`` are the sizes it needs.

    >>> parse("width - 2*wall").number({"width": 80.0, "wall": 10.0})
    60.0
    """

    text: str
    names: frozenset[str]
    root: Node = field(repr=False)

    def value(self, env: Env) -> Value:
        """What it comes to with these sizes. Raises: FormulaError."""
        return self.root.run(env)

    def number(self, env: Env) -> float:
        """The number it comes to, at most LIMIT in size. Raises: FormulaError."""
        return number(self.root, env)

    def truth(self, env: Env) -> bool:
        """Whether the condition holds. Raises: FormulaError."""
        return truth(self.root, env)

    def check(self, kinds: Mapping[str, Kind], want: Kind | None = None) -> Kind:
        """The kind of its result, worked out before there are sizes. Raises: FormulaError (unknown name, words added …)."""
        kind = self.root.kind(kinds)
        if want is not None and kind != want:
            raise FormulaError(self.root.column, kind_words(kind), kind_words(want))
        return kind


def parse(source: str | int | float) -> Formula:
    """Read a formula; a plain number counts as one.

    Raises: FormulaError, which gives the column and what was expected there.

    >>> parse("width +")
    Traceback (most recent call last):
    sheetgen.bank.formula_nodes.FormulaError: column 8: found the end, wanted a number, a size or a bracket
    """
    if not isinstance(source, str):
        text = f"{source:.12g}" if abs(source) <= LIMIT else "a huge number"
        if not abs(source) <= LIMIT:
            raise FormulaError(1, text, "at most 1 000 000")
        return Formula(text, frozenset(), Number(1, float(source) + 0.0))
    if len(source) > LONGEST:
        raise FormulaError(LONGEST + 1, f"{len(source)} characters", f"at most {LONGEST}; put parts under `values:`")
    reader = _Reader(source)
    root = reader.either(0)
    if reader.kind != "end":
        raise reader.error("an operator (+ - * / < <= > >= == != and or) or the end")
    return Formula(source, frozenset(reader.names), root)


class _Reader:
    """Walks over the tokens of one formula; each method reads one level of binding and returns its node."""

    def __init__(self, text: str) -> None:
        self.text, self.place, self.tokens = text, 0, 0
        self.names: set[str] = set()
        self.step()

    def step(self) -> None:
        """Go to the next token."""
        match = _TOKEN.match(self.text, self.place)
        assert match is not None and match.lastgroup is not None   # the pattern matches any text
        self.kind, self.token = match.lastgroup, match[match.lastgroup]
        self.column, self.place = match.start(match.lastgroup) + 1, match.end()
        self.tokens += 1
        if self.tokens > MOST_TOKENS:
            raise FormulaError(self.column, "a formula of too many parts", "a shorter one; put parts under `values:`")

    def error(self, wanted: str) -> FormulaError:
        """What is wrong with the present token."""
        found = "the end" if self.kind == "end" else visible_text(self.token)
        if self.token == "**":
            wanted = "a*a for a square"
        if self.kind == "wrong":
            wanted = _HINTS.get(self.token, wanted)
        return FormulaError(self.column, found, wanted)

    def takes(self, token: str) -> bool:
        """Whether the present token is this sign or word; if so, go past it."""
        if self.kind in ("sign", "name") and self.token == token:
            self.step()
            return True
        return False

    def either(self, depth: int) -> Node:
        """``a or b or c``"""
        return self._joined("or", depth)

    def _joined(self, sign: str, depth: int) -> Node:
        if depth > DEEPEST:
            raise FormulaError(self.column, f"more than {DEEPEST} brackets within each other", "fewer")
        column, terms = self.column, [self._tighter(sign, depth)]
        while self.takes(sign):
            terms.append(self._tighter(sign, depth))
        if len(terms) == 1:
            return terms[0]
        return Logic(column, "or" if sign == "or" else "and", tuple(terms))

    def _tighter(self, sign: str, depth: int) -> Node:
        return self._joined("and", depth) if sign == "or" else self.negated(depth)

    def negated(self, depth: int) -> Node:
        """``not a``"""
        column = self.column
        if self.takes("not"):
            if depth > DEEPEST:
                raise FormulaError(column, "too many `not`", "fewer")
            return Logic(column, "not", (self.negated(depth + 1),))
        return self.compared(depth)

    def compared(self, depth: int) -> Node:
        """``a <= b < c``"""
        column, terms, signs = self.column, [self.added(depth)], list[str]()
        while self.kind == "sign" and self.token in _COMPARE:
            signs.append(self.token)
            self.step()
            terms.append(self.added(depth))
        return Compare(column, tuple(terms), tuple(signs)) if signs else terms[0]

    def added(self, depth: int) -> Node:
        """``a + b - c``; the tree grows to the left, so its depth is bounded by the number of tokens."""
        node = self.multiplied(depth)
        while self.kind == "sign" and self.token in "+-":
            column, sign = self.column, self.token
            self.step()
            node = Sum(column, sign, node, self.multiplied(depth))
        return node

    def multiplied(self, depth: int) -> Node:
        """``a * b / c``"""
        node = self.signed(depth)
        while self.kind == "sign" and self.token in "*/":
            column, sign = self.column, self.token
            self.step()
            node = Sum(column, sign, node, self.signed(depth))
        return node

    def signed(self, depth: int) -> Node:
        """``-a``"""
        column = self.column
        if self.takes("-"):
            if depth > DEEPEST:
                raise FormulaError(column, "too many minus signs", "fewer")
            return Minus(column, self.signed(depth + 1))
        return self.single(depth)

    def single(self, depth: int) -> Node:
        """A number, a name, a word in quotes, a call, or something in brackets."""
        kind, token, column = self.kind, self.token, self.column
        if kind == "number":
            if not float(token) <= LIMIT:
                raise FormulaError(column, "a huge number", "at most 1 000 000")
            self.step()
            return Number(column, float(token))
        if kind == "word":
            self.step()
            return Word(column, token[1:-1])
        if self.takes("("):
            node = self.either(depth + 1)
            self.close()
            return node
        if kind == "name" and token not in ("and", "or", "not"):
            self.step()
            return self.call(token, column, depth) if self.takes("(") else self.name(token, column)
        raise self.error("a number, a size or a bracket")

    def name(self, name: str, column: int) -> Node:
        """A size or value; whether it exists is asked later, when all names are known."""
        if name in RESERVED:
            raise FormulaError(column, f"'{name}'", f"{name}(…) with brackets" if name != "open" else "a number or a formula")
        self.names.add(name)
        return Name(column, name)

    def call(self, name: str, column: int, depth: int) -> Node:
        """What stands in the brackets of a function."""
        if name != "if" and name not in FUNCTIONS:
            raise FormulaError(column, f"'{name}('", choice(name, ["if", *FUNCTIONS], "one of the functions"))
        inputs = [self.either(depth + 1)]
        while self.takes(","):
            inputs.append(self.either(depth + 1))
        self.close()
        fewest, most = (3, 3) if name == "if" else FUNCTIONS[name][0]
        if not fewest <= len(inputs) <= most:
            count = str(most) if fewest == most else f"{fewest} to {most}"
            raise FormulaError(column, f"{name} of {len(inputs)}", f"{name} of {count}, with commas between")
        return Choose(column, *inputs) if name == "if" else Call(column, name, tuple(inputs))

    def close(self) -> None:
        """The bracket that ends."""
        if not self.takes(")"):
            hint = " (inside [ ] or { } a formula with a comma needs quotes round it)" if self.kind == "end" else ""
            raise self.error(f"a closing bracket{hint}")
