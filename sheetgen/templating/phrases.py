"""Phrases: short texts with {{ values }} in them, from templates that strangers may have written.

A phrase may print values, join them (~), choose (if, else) and use a few filters. Nothing in it can repeat, call,
look inside a value or grow without bound, so that its length is limited by what goes in.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from functools import lru_cache

from jinja2 import StrictUndefined, Template, nodes
from jinja2 import TemplateError as JinjaError
from jinja2.sandbox import SandboxedEnvironment

from sheetgen.ink import clean

MOST_SOURCE = 500
"""Characters of a phrase as written."""

MOST_RENDERED = 300
"""Characters of a phrase with its values filled in: two full lines of a title block are under 200."""

MOST_COMPOSED = 20_000
"""The same of a phrase that others are put into, as the sentences of a construction are: nobody's own texts come near it."""

FILTERS = ("capitalize", "default", "lower", "title", "trim", "upper")
"""Filters that return about as much text as they are given."""

_ALLOWED = (nodes.Template, nodes.Output, nodes.TemplateData, nodes.Name, nodes.Const, nodes.If, nodes.CondExpr,
            nodes.Compare, nodes.Operand, nodes.And, nodes.Or, nodes.Not, nodes.Concat, nodes.Filter)


class PhraseError(ValueError):
    """A phrase that cannot be used: what was found in it and what is wanted."""

    def __init__(self, found: str, wanted: str) -> None:
        self.found, self.wanted = found, wanted
        super().__init__(f"found {found}, wanted {wanted}")


@dataclass(frozen=True, slots=True)
class Phrase:
    """A checked phrase; make it with ``phrase``. ``names``: the values it asks for; ``most``: characters, filled in."""

    source: str
    names: frozenset[str] = frozenset()
    most: int = MOST_RENDERED

    def render(self, values: Mapping[str, object]) -> str:
        """Return the phrase with the values filled in, on one line, without unprintable signs.

        Raises: PhraseError if a value is missing or the text is too long.

        >>> phrase("{{ sheet }} of {{ sheets }}", ("sheet", "sheets")).render({"sheet": 2, "sheets": 12.0})
        '2 of 12'
        """
        try:
            shown = tuple([(name, number_text(values[name])) for name in sorted(self.names)])
        except KeyError:
            missing = ", ".join(sorted(self.names - values.keys()))
            raise PhraseError(f"no value for {missing}", "a value for each name") from None
        return _rendered(self.source, shown, self.most)


@lru_cache(maxsize=4096)
def _rendered(source: str, values: tuple[tuple[str, str], ...], most: int) -> str:
    """A phrase with its values; most come again on every sheet. Raises: PhraseError."""
    try:
        text = " ".join(clean(_compiled(source).render(values)).split())
    except (JinjaError, TypeError) as error:
        raise PhraseError(f"{source!r}: {error}", "a phrase that has a text for these values") from None
    if len(text) > most:
        raise PhraseError(f"{len(text)} characters", f"at most {most} characters")
    return text


def phrase(source: str, allowed: Collection[str]) -> Phrase:
    """Check ``source`` and return it as a phrase that may use the values named in ``allowed``.

    Raises: PhraseError.
    """
    source = " ".join(source.split())
    if len(source) > MOST_SOURCE:
        raise PhraseError(f"{len(source)} characters", f"at most {MOST_SOURCE} characters")
    try:
        parsed = _environment().parse(source)
        faults = [fault for node in parsed.find_all(nodes.Node) if (fault := _fault(node))]
    except JinjaError as error:
        raise PhraseError(f"{source!r} ({error.message})", "text with values as {{ name }}") from None
    except RecursionError:
        raise PhraseError("brackets too deep", "a simpler phrase") from None
    if faults:
        raise PhraseError(faults[0], "values, if and else, ~ and the filters " + ", ".join(FILTERS))
    names = frozenset(node.name for node in parsed.find_all(nodes.Name))
    unknown = sorted(names - set(allowed))
    if unknown:
        offer = f"one of {', '.join(sorted(allowed))}" if allowed else "no values in this phrase"
        raise PhraseError(f"the unknown value {', '.join(unknown)}", offer)
    _try_compiling(source)
    return Phrase(source, names)


def number_text(value: object) -> str:
    """A value as it is printed: whole millimetres without a decimal point, others with two decimals at most.

    >>> [number_text(value) for value in (80.0, 79.3333, 42.5, -0.0, "1:2")]
    ['80', '79.33', '42.5', '0', '1:2']
    """
    if isinstance(value, float):
        return f"{round(value, 2) + 0.0:.2f}".rstrip("0").rstrip(".")
    return str(value)


def _fault(node: nodes.Node) -> str | None:
    if not isinstance(node, _ALLOWED):
        return f"the construction {type(node).__name__.lower()!r}"
    if isinstance(node, nodes.Filter) and node.name not in FILTERS:
        return f"the filter {node.name!r}"
    return None


def _try_compiling(source: str) -> None:
    try:
        _compiled(source)
    except (JinjaError, SyntaxError, RecursionError, MemoryError):
        raise PhraseError(repr(source), "a simpler phrase") from None


@lru_cache(maxsize=1)
def _environment() -> SandboxedEnvironment:
    environment = SandboxedEnvironment(undefined=StrictUndefined, autoescape=False, cache_size=0)
    environment.globals.clear()
    return environment


@lru_cache(maxsize=1024)
def _compiled(source: str) -> Template:
    return _environment().from_string(source)
