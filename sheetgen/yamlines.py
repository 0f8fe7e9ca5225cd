"""YAML text in, plain data and the line of every entry out. A file is untrusted: nothing in it can run, repeat itself or grow.

The text is read event by event, not built by the YAML library: so depth and count are bounded before anything is stored,
anchors, aliases, tags and merge keys are refused, and only decimal numbers count as numbers (never 1:30 or 010 or 0x1F).
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import yaml

from sheetgen.faults import SHOWN, Fault, FaultError, shown
from sheetgen.filebytes import bytes_of
from sheetgen.yamlslips import bare_braces, cut_off, slip_of

MOST_FAULTS = 100      # told at once; who has more wants the first of them

Path_ = tuple[str | int, ...]
"""Where an entry lies: ("features", 1, "diameter"); lists counted from 0."""

_LINE_END = re.compile(r"\r+(?=\n|\Z)")
_DECIMAL = re.compile(r"[-+]?(\d{1,15}(\.\d{0,15})?|\.\d{1,15})", re.ASCII)
_WORDS: dict[str, bool | None] = {"": None, "~": None, "null": None, "true": True, "false": False, "yes": True, "no": False}
_JOINERS = "\u200c\u200d"     # invisible, but needed to spell in several scripts
QUOTED = ("'", '"', "|", ">")
_LOADER: Any = getattr(yaml, "CSafeLoader", yaml.SafeLoader)


@dataclass(frozen=True, slots=True)
class Limits:
    """How much a kind of file may hold, what its faults are raised as, and whether bare 12 and yes are more than words."""

    error: type[FaultError] = FaultError
    kilobytes: int = 200
    deepest: int = 12           # entries within each other
    most_nodes: int = 20_000
    words_only: bool = False


LIMITS = Limits()


@dataclass(slots=True)
class YamlDocument:
    """What a file says: ``data`` (dicts, lists, text, numbers, yes/no, None), ``lines`` of entries, what was wrong, and
    what had better be changed (``remarks``). ``cut``: texts without quotes, and what YAML has taken for a comment after them."""

    file: str
    data: Any = None
    lines: dict[Path_, int] = field(default_factory=dict)
    faults: list[Fault] = field(default_factory=list)
    remarks: list[Fault] = field(default_factory=list)
    cut: dict[Path_, tuple[str, str]] = field(default_factory=dict)

    def fault(self, line: int, where: str, found: str, wanted: str) -> None:
        """Note one thing wrong, unless there are enough already."""
        if not self.full:
            self.faults.append(Fault(self.file, line, where, found, wanted))

    def remark_cut(self, of: Callable[[Path_], bool]) -> None:
        """Remark on texts that YAML has cut off at a ``#``; ``of``: whether an entry holds whatever its author says, so that
        text was meant there."""
        for path, (text, rest) in self.cut.items():
            if of(path) and len(self.remarks) < MOST_FAULTS:
                found = f"{shown(text)}, cut off before {shown(rest)}" if text else f"nothing before {shown(rest)}"
                whole = f"{text} {rest}".strip()
                plain = len(whole) <= SHOWN and not set(whole) & set('"\\')
                wanted = "quotes round the whole text, which keep it" + (f': "{whole}"' if plain else "")
                self.remarks.append(Fault(self.file, self.line(path), field_of(path), found, wanted))

    @property
    def full(self) -> bool:
        """Whether there are enough faults to tell."""
        return len(self.faults) >= MOST_FAULTS

    def line(self, path: Path_) -> int:
        """The line of an entry, or of the nearest entry round it."""
        while path and path not in self.lines:
            path = path[:-1]
        return self.lines.get(path, 1)


SUFFIXES = (".yaml", ".yml")

OTHER_FILES: tuple[tuple[bytes, str], ...] = (
    (b"%PDF", "a PDF"), (b"\x89PNG", "a picture"), (b"\xff\xd8\xff", "a picture"),
    (b"PK\x03\x04", "a packed file, or a document"), (b"{\\rtf", "a document of a word processor"),
    (b"<!DOCTYPE", "a web page"), (b"<html", "a web page"), (b"<svg", "a drawing"))
"""How files begin that are no YAML, and what they are."""


def is_yaml(name: str) -> bool:
    """Whether a file of this name is YAML: it ends in .yaml or .yml, in capitals or small letters.

    >>> is_yaml("block.YML"), is_yaml("yaml")
    (True, False)
    """
    return name.lower().endswith(SUFFIXES)


def read_text(path: Path, file: str, limits: Limits = LIMITS) -> str:
    """The text of a file; messages call it ``file``. Raises: ``limits.error`` if it is missing, too big or not UTF-8."""
    raw = bytes_of(path, file, limits.kilobytes, limits.error)
    for begins, what in OTHER_FILES:
        if raw.startswith(begins):
            raise limits.error([Fault(file, 0, "", what, "a .yaml file, which is plain text")])
    try:
        return raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = raw.count(b"\n", 0, error.start) + 1
        raise limits.error([Fault(file, line, "", "a letter that is not UTF-8", "a file saved as UTF-8")]) from None


def read(text: str, file: str, limits: Limits = LIMITS) -> YamlDocument:
    """Read one YAML document. Faults of single entries are kept in it, so that others can be found too.

    Raises: ``limits.error`` if it cannot be read on: bad YAML, or beyond a limit.

    >>> read("a: [1, x]", "f").data, read("a: [1, x]", "f").lines[("a", 1)]
    ({'a': [1, 'x']}, 1)
    """
    document = YamlDocument(file)
    text = _LINE_END.sub("", text.removeprefix("\ufeff"))                     # so that the parser counts lines as editors do
    lines = text.split("\n")
    for number, line in enumerate(lines, 1):
        strange = next((sign for sign in line if not visible(sign) and sign not in "\t\ufeff"), None)
        if strange is not None:
            raise limits.error([Fault(file, number, "", f"an invisible sign {shown(strange)}", "plain text")])
    builder = _Builder(document, limits, lines)
    try:
        builder.build(yaml.parse(text, Loader=_LOADER))
    except yaml.MarkedYAMLError as error:
        slip = slip_of(error, lines, builder.quoted, builder.opened[-1] if builder.opened else None, limits.deepest)
        raise limits.error([*document.faults, Fault(file, slip.line, "", slip.found, slip.wanted)]) from None
    except (yaml.YAMLError, ValueError, OverflowError):
        raise limits.error([*document.faults, Fault(file, 1, "", "something that is not YAML", "plain YAML")]) from None
    return document


def visible(sign: str) -> bool:
    """Whether a sign can stand on paper: printable, or one of the joiners that scripts need."""
    return sign.isprintable() or sign in _JOINERS


class _Builder:
    """Puts events together; ``stack`` holds the containers that are open, outermost first."""

    def __init__(self, document: YamlDocument, limits: Limits, lines: Sequence[str]) -> None:
        self.document = document
        self.limits = limits
        self.lines = lines
        self.quoted: Any = None                         # the last text in quotes, as an event
        self.opened: list[Any] = []                     # the events that began what is in the stack
        self.stack: list[tuple[Path_, Any]] = []
        self.keys: list[tuple[str, int] | None] = []    # the key just read in each open mapping, and its line
        self.nodes = 0
        self.documents = 0

    def build(self, events: Iterable[Any]) -> None:
        """Take all events in. Raises: ``limits.error`` beyond a limit."""
        for event in events:
            line = event.start_mark.line + 1
            if isinstance(event, yaml.DocumentStartEvent):
                self.documents += 1
                if self.documents > 1 or event.version or event.tags:
                    self.stop(line, "a second document or a % line", "one document in a file")
            elif isinstance(event, yaml.AliasEvent):
                self.stop(line, f"an alias *{shown(event.anchor)}", "the thing itself, written again")
            elif isinstance(event, yaml.NodeEvent):
                self.node(event, line)
            elif isinstance(event, yaml.CollectionEndEvent):
                self.stack.pop()
                self.keys.pop()
                self.opened.pop()

    def stop(self, line: int, found: str, wanted: str) -> None:
        raise self.limits.error([*self.document.faults, Fault(self.document.file, line, "", found, wanted)])

    def node(self, event: Any, line: int) -> None:
        """One scalar, or the start of a list or mapping."""
        self.nodes += 1
        if self.nodes > self.limits.most_nodes:
            self.stop(line, f"more than {self.limits.most_nodes} entries", "a smaller file")
        if event.anchor is not None:
            self.stop(line, f"an anchor &{shown(event.anchor)}", "the thing itself, each time it is needed")
        if event.tag is not None:
            self.stop(line, f"a tag {shown(event.tag)}", "plain text (in quotes if it begins with !)")
        scalar = isinstance(event, yaml.ScalarEvent)
        self.quoted = event if scalar and event.style in QUOTED[:2] else self.quoted
        if self.awaits_key():
            if not scalar and bare_braces(self.lines, event.start_mark):
                self.stop(line, "{{ without quotation marks", 'the whole text in quotes, "{{ … }}"')
            if not scalar:
                self.stop(line, "a list or fields in place of a word", "`word: value`")
            self.key(event.value, line)
            return
        value: Any = self.scalar(event) if scalar else ({} if isinstance(event, yaml.MappingStartEvent) else [])
        path = self.place(value, line if scalar and not _empty(event) else None, line)
        if scalar and event.style not in QUOTED and (rest := cut_off(self.lines, event.end_mark)):
            self.document.cut[path] = (event.value, rest)
        if not scalar:
            if len(self.stack) >= self.limits.deepest:
                self.stop(line, f"more than {self.limits.deepest} levels within each other", "fewer")
            self.stack.append((path, value))
            self.keys.append(None)
            self.opened.append(event)

    def scalar(self, event: Any) -> Any:
        """The plain value of a scalar: quoted is always text."""
        text: str = event.value
        if self.limits.words_only or event.style in QUOTED:
            return text
        if text.lower() in _WORDS:
            return _WORDS[text.lower()]
        if _DECIMAL.fullmatch(text):
            return float(text) if "." in text else int(text)
        return text

    def awaits_key(self) -> bool:
        return bool(self.stack) and isinstance(self.stack[-1][1], dict) and self.keys[-1] is None

    def key(self, word: str, line: int) -> None:
        """A key of the innermost mapping."""
        path, holder = self.stack[-1]
        where = field_of(path)
        if word == "<<":
            self.document.fault(line, where, "a merge key <<", "the fields themselves")
        elif word in holder:
            self.document.fault(line, where, f"{shown(word)} a second time", "each field once")
        self.keys[-1] = (word, line)

    def place(self, value: Any, own_line: int | None, line: int) -> Path_:
        """Store a value where it belongs; return its path. ``own_line`` None: its line is that of its key."""
        if not self.stack:
            self.document.data = value
            self.document.lines[()] = line
            return ()
        path, holder = self.stack[-1]
        if isinstance(holder, list):
            holder.append(value)
            inner: Path_ = (*path, len(holder) - 1)
            self.document.lines[inner] = line
            return inner
        key = self.keys[-1]
        assert key is not None
        self.keys[-1] = None
        inner = (*path, key[0])
        if key[0] not in holder:          # a field given twice is a fault already; the first one stands
            holder[key[0]] = value
            self.document.lines[inner] = own_line or key[1]
        return inner


def _empty(event: Any) -> bool:
    return bool(event.value == "")


def field_of(path: Path_) -> str:
    """A path as a message shows it, lists counted from 1.

    >>> field_of(("features", 1, "at", 0))
    'features[2].at[1]'
    """
    return "".join(_steps(path))


def _steps(path: Path_) -> Iterator[str]:
    for place, step in enumerate(path):
        if isinstance(step, int):
            yield f"[{step + 1}]"
        else:
            name = step if step.isidentifier() and len(step) <= SHOWN else shown(step)[1:-1]
            yield f".{name}" if place else name
