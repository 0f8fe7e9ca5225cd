"""A template's YAML as nodes that know their line, and a form that asks them for what a template should hold.

A scalar keeps the text as written, so that ``label: NO`` is the word NO and not a truth value.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, TypeVar

from sheetgen.faults import Fault, shown
from sheetgen.templating.faults import TemplateError
from sheetgen.yamlines import Document, Limits, Path_, read, read_text

LIMITS = Limits(TemplateError, kilobytes=64, deepest=8, most_nodes=5000, words_only=True)
"""Our templates are under 5 kB, five levels deep."""

Made = TypeVar("Made")


@dataclass(frozen=True, slots=True)
class Node:
    """A scalar as written, a list or a mapping, with the line it begins on."""

    value: str | tuple[Node, ...] | Mapping[str, Node]
    line: int

    def found(self) -> str:
        """What a message says was found here."""
        if isinstance(self.value, str):
            return shown(self.value or None)
        return f"a list of {len(self.value)}" if isinstance(self.value, tuple) else "a group of fields"


def read_nodes(path: Path, shown: str) -> Node:
    """Return the file's mapping as nodes; ``shown`` is the file's name in messages.

    Raises: TemplateError, also where the file cannot be read.
    """
    return nodes_of(read_text(path, shown, LIMITS), shown)


def nodes_of(text: str, shown: str) -> Node:
    """Return the mapping written in ``text``; ``shown`` is the file name for messages. Raises: TemplateError."""
    document = read(text, shown, LIMITS)
    node = _node(document, document.data or "", ())
    if not isinstance(node.value, Mapping):
        document.fault(node.line, "", node.found(), "fields, each as name: value")
    if document.faults:
        raise TemplateError(document.faults)
    return node


def _node(document: Document, data: Any, path: Path_) -> Node:
    line = document.line(path)
    if isinstance(data, dict):
        return Node({key: _node(document, value, (*path, key)) for key, value in data.items()}, line)
    if isinstance(data, list):
        return Node(tuple(_node(document, value, (*path, place)) for place, value in enumerate(data)), line)
    return Node(data, line)


@dataclass
class Form:
    """Asks one mapping for its fields and notes every fault in the shared list ``faults``."""

    node: Node
    shown: str
    name: str = ""
    faults: list[Fault] = field(default_factory=list)

    def fields(self) -> Mapping[str, Node]:
        """The fields of the mapping; none if it is not a mapping."""
        return self.node.value if isinstance(self.node.value, Mapping) else {}

    def fault(self, key: str, node: Node, wanted: str, found: str | None = None) -> None:
        """Note that ``node``, the value of ``key``, is not what is ``wanted``."""
        self.faults.append(Fault(self.shown, node.line, self.path(key), found or node.found(), wanted))

    def path(self, key: str) -> str:
        """The field's full name, such as ``cells[3].box``."""
        return f"{self.name}.{key}" if self.name and key else self.name or key

    def inner(self, key: str) -> Form:
        """The field's own form; of a missing field one whose faults nobody reads."""
        node = self.fields().get(key)
        return Form(node, self.shown, self.path(key), self.faults) if node else Form(Node("", 0), self.shown)

    def check_keys(self, known: Sequence[str], required: Sequence[str]) -> None:
        """Note fields that nobody asks for and required ones that are missing."""
        if not isinstance(self.node.value, Mapping):
            self.fault("", self.node, f"the fields {', '.join(required)}")
            return
        for key, value in self.fields().items():
            if key not in known:
                self.fault(key, value, f"one of the fields {', '.join(known)}", "an unknown field")
        for key in required:
            if key not in self.fields():
                self.fault(key, self.node, "this field", "no such field")

    def text(self, key: str, default: str = "", most: int = 500) -> str:
        """A text, as written."""
        node = self.fields().get(key)
        if node is None:
            return default
        if not isinstance(node.value, str) or len(node.value) > most:
            self.fault(key, node, f"a text of at most {most} characters")
            return default
        return node.value

    def choice(self, key: str, allowed: Sequence[str], default: str) -> str:
        """One of a few words."""
        node = self.fields().get(key)
        if node is None:
            return default
        if not isinstance(node.value, str) or node.value not in allowed:
            self.fault(key, node, f"one of {', '.join(allowed)}")
            return default
        return node.value

    def number(self, key: str, least: float, most: float, default: float) -> float:
        """A number between ``least`` and ``most``."""
        node = self.fields().get(key)
        if node is None:
            return default
        value = number_of(node)
        if value is None or not least <= value <= most:
            self.fault(key, node, f"a number from {least:g} to {most:g}")
            return default
        return value

    def items(self, key: str, most: int, make: Callable[[Form], Made]) -> tuple[Made, ...]:
        """What ``make`` makes of each item of a list."""
        node = self.fields().get(key)
        if node is None:
            return ()
        if not isinstance(node.value, tuple) or len(node.value) > most:
            self.fault(key, node, f"a list of at most {most}")
            return ()
        names = (f"{self.path(key)}[{place}]" for place in range(1, len(node.value) + 1))
        return tuple(make(Form(item, self.shown, name, self.faults))
                     for item, name in zip(node.value, names, strict=True))

    def numbers(self, count: int | None, wanted: str) -> tuple[float, ...]:
        """The node itself as a list of ``count`` numbers (None: any even count from 4 to 400); zeros if it is not."""
        items = self.node.value if isinstance(self.node.value, tuple) else ()
        values = tuple(number_of(item) for item in items)
        right = len(values) == count if count else 4 <= len(values) <= 400 and len(values) % 2 == 0
        good = tuple(value for value in values if value is not None)
        if not right or len(good) < len(values):
            self.fault("", self.node, wanted)
            return (0.0,) * (count or 4)
        return good


def number_of(node: Node) -> float | None:
    """The node's number, or None if it is none.

    >>> number_of(Node("12.5", 1)), number_of(Node("inf", 1)), number_of(Node("twelve", 1))
    (12.5, None, None)
    """
    if not isinstance(node.value, str) or len(node.value) > 20 or "_" in node.value:
        return None
    try:
        value = float(node.value)
    except ValueError:
        return None
    return value if math.isfinite(value) else None
