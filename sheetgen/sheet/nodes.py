"""YAML as nodes that know their line, and a form that asks them for what a template should hold.

Templates are shared by strangers: no tags, no anchors, no deep nesting, 64 kB at most. A scalar keeps the text
as written, so that ``label: NO`` is the word NO and not a truth value.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import TypeVar

import yaml

from sheetgen.faults import Fault
from sheetgen.sheet.faults import TemplateError

MOST_BYTES = 64 * 1024
"""Size of a template file; ours are under 4 kB."""

MOST_DEPTH = 8
"""Nesting of a template file; ours need five levels."""

Made = TypeVar("Made")


@dataclass(frozen=True, slots=True)
class Node:
    """A scalar as written, a list or a mapping, with the line it begins on."""

    value: str | tuple[Node, ...] | Mapping[str, Node]
    line: int

    def found(self) -> str:
        """What a message says was found here."""
        if isinstance(self.value, str):
            return repr(self.value if len(self.value) <= 60 else self.value[:57] + "...") if self.value else "nothing"
        return f"a list of {len(self.value)}" if isinstance(self.value, tuple) else "a group of fields"


def read_nodes(path: Path, shown: str) -> Node:
    """Return the file's mapping as nodes; ``shown`` is the file's name in messages.

    Raises: TemplateError, also where the file cannot be read.
    """
    try:
        with path.open("rb") as file:
            raw = file.read(MOST_BYTES + 1)
    except OSError as error:
        raise TemplateError([Fault(shown, 0, "", error.strerror or "no file", "a file that can be read")]) from None
    if len(raw) > MOST_BYTES:
        raise TemplateError([Fault(shown, 0, "", "a larger file", f"at most {MOST_BYTES // 1024} kB")])
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError:
        raise TemplateError([Fault(shown, 0, "", "bytes that are no text", "a text file in UTF-8")]) from None
    return nodes_of(text, shown)


def nodes_of(text: str, shown: str) -> Node:
    """Return the mapping written in ``text``; ``shown`` is the file name for messages. Raises: TemplateError."""
    try:
        _refuse_tricks(text, shown)
        root = yaml.compose(text, Loader=yaml.SafeLoader)
    except yaml.YAMLError as error:
        raise TemplateError([_syntax_fault(error, shown)]) from None
    faults: list[Fault] = []
    node = _node(root, shown, faults) if root is not None else Node("", 1)
    if not isinstance(node.value, Mapping):
        faults.append(Fault(shown, node.line, "", node.found(), "fields, each as name: value"))
    if faults:
        raise TemplateError(faults)
    return node


def _refuse_tricks(text: str, shown: str) -> None:
    depth = 0
    for event in yaml.parse(text, Loader=yaml.SafeLoader):
        line = event.start_mark.line + 1 if event.start_mark else 0
        if isinstance(event, yaml.CollectionStartEvent):
            depth += 1
        elif isinstance(event, yaml.CollectionEndEvent):
            depth -= 1
        if depth > MOST_DEPTH:
            raise TemplateError([Fault(shown, line, "", "deep nesting", f"at most {MOST_DEPTH} levels")])
        if getattr(event, "anchor", None) is not None:
            raise TemplateError([Fault(shown, line, "", "an anchor or alias (& or *)", "the value written out")])
        if (tag := getattr(event, "tag", None)) is not None:
            raise TemplateError([Fault(shown, line, "", f"the tag {tag!r}", "plain values only")])


def _syntax_fault(error: yaml.YAMLError, shown: str) -> Fault:
    mark = getattr(error, "problem_mark", None)
    problem = getattr(error, "problem", None) or "something that is not YAML"
    hint = "valid YAML; text with : { or # goes in quotation marks, indents are blanks"
    return Fault(shown, mark.line + 1 if mark else 0, "", problem, hint)


def _node(raw: yaml.Node, shown: str, faults: list[Fault]) -> Node:
    line = raw.start_mark.line + 1
    if isinstance(raw, yaml.ScalarNode):
        return Node("" if raw.tag.endswith(":null") else str(raw.value), line)
    if isinstance(raw, yaml.SequenceNode):
        return Node(tuple(_node(item, shown, faults) for item in raw.value), line)
    fields: dict[str, Node] = {}
    for key, value in raw.value:
        name = key.value if isinstance(key, yaml.ScalarNode) else "?"
        if name in fields:
            faults.append(Fault(shown, key.start_mark.line + 1, name, "a second time", "each field once"))
        fields[name] = _node(value, shown, faults)
    return Node(fields, line)


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
