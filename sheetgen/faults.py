"""What is wrong with a file that teachers edit, in their words: file, line, field, found, wanted; all faults at once."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import NamedTuple

SHOWN = 48
"""Characters of a wrong text that a message repeats: enough to find it, short enough for one line."""


@dataclass(frozen=True, slots=True, order=True)
class Fault:
    """One thing wrong. ``line`` counts from 1; 0 where the whole file is meant; ``sizes``: those with which it was found, if it
    depends on them. ``plain``: ``found`` is a sentence, and ``wanted`` what to do.

    >>> print(Fault("problem_bank/x.yaml", 14, "features[2] bore: diameter", "-4", "a diameter above 0"))
    problem_bank/x.yaml:14: features[2] bore: diameter: found -4, wanted a diameter above 0
    >>> print(Fault("problem_bank/x.yaml", 14, "", "nothing fixes base.top", "add a measure that ends there", plain=True))
    problem_bank/x.yaml:14: nothing fixes base.top: add a measure that ends there
    """

    file: str
    line: int
    field: str
    found: str
    wanted: str
    sizes: str = ""
    plain: bool = False

    def __str__(self) -> str:
        place = f"{self.file}:{self.line}" if self.line else self.file
        field = f" {self.field}:" if self.field else ""
        if self.plain:
            sizes = f" ({self.sizes})" if self.sizes else ""
            return visible_text(f"{place}:{field} {self.found}: {self.wanted}{sizes}", quote=False)
        found = f"{self.found} ({self.sizes})" if self.sizes else self.found
        return visible_text(f"{place}:{field} found {found}, wanted {self.wanted}", quote=False)


class Place(NamedTuple):
    """Where something is said that a teacher can change: ``line`` as of a fault."""

    file: str
    line: int
    field: str


class FaultError(Exception):
    """A file, or something asked of it, cannot be used. ``str`` gives one line for each fault."""

    faults: tuple[Fault, ...]

    def __init__(self, faults: Iterable[Fault]) -> None:
        self.faults = tuple(faults)
        super().__init__(self.faults)       # whole, so that it can travel between processes

    def __str__(self) -> str:
        return "\n".join(map(str, self.faults))


def nearest(word: str, options: Iterable[str]) -> str | None:
    """The option most like ``word``, or None if none is like it.

    >>> nearest("diametre", ["depth", "diameter"])
    'diameter'
    """
    from difflib import get_close_matches

    close = get_close_matches(word[:SHOWN], list(options), 1, 0.6)
    return close[0] if close else None


def choice(word: str, options: Iterable[str], of: str = "one of") -> str:
    """Say what would have been right: the nearest option first, then all of them.

    >>> choice("frnt", ["front", "top"])
    'front (one of front, top)'
    """
    options = [option[:SHOWN] for option in options]
    listed = f"{of} {', '.join(options)}" if options else f"{of} nothing: there are none"
    near = nearest(word, options)
    return f"{near} ({listed})" if near else listed


FEW = 12
"""Names that a message lists; of more it gives the nearest ones and tells where all of them are listed."""

NEAREST = 3


def few(word: str, options: Iterable[str], where: str, of: str = "one of") -> str:
    """As ``choice``; but of more than FEW options the nearest few, and ``where`` all are listed.

    >>> few("frnt", ["front", "top"], "they stand on page 3")
    'front (one of front, top)'
    >>> few("n7", (f"n{k}x" for k in range(100)), "all stand on page 3")
    'n7x, n97x or n87x (all stand on page 3)'
    >>> few("?", (f"n{k}x" for k in range(100)), "all stand on page 3")
    'one of 100 names (all stand on page 3)'
    """
    from difflib import get_close_matches

    options = [option[:SHOWN] for option in options]
    if len(options) <= FEW:
        return choice(word, options, of)
    close = get_close_matches(word[:SHOWN].casefold(), options, NEAREST, 0.4)
    listed = " or ".join([", ".join(close[:-1])] * (len(close) > 1) + close[-1:]) or f"one of {len(options)} names"
    return f"{listed} ({where})"


def shown(value: object) -> str:
    """A found value as a message shows it.

    >>> shown("width +"), shown(None), shown(True), shown([1, 2]), shown(12)
    ("'width +'", 'nothing', 'yes', 'a list of 2', '12')
    """
    if value is None:
        return "nothing"
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, int | float):
        return f"{value:g}" if abs(value) < 1e9 else "a huge number"
    if isinstance(value, str):
        return visible_text(value if len(value) <= SHOWN else value[:SHOWN - 1] + "…")
    if isinstance(value, list | tuple):
        return f"a list of {len(value)}"
    if isinstance(value, dict):
        names = [str(key) for key in list(value)[:4]]
        return f"fields {visible_text(', '.join(names), quote=False)}" if names else "an empty set of fields"
    return type(value).__name__


def _has_bytes(text: str) -> bool:
    """Whether a file name has bytes in it that could not be read as letters, and nothing else of that sort."""
    strange = [sign for sign in text if "\ud800" <= sign <= "\udfff"]
    return bool(strange) and all("\udc80" <= sign <= "\udcff" for sign in strange)


def visible_text(text: str, *, quote: bool = True) -> str:
    """``text`` with whatever a terminal could not print as a visible sign written as an escape. Bytes of a file name that a
    system without a language has not read as letters are read as UTF-8.

    >>> visible_text("Bl\\udcc3\\udca4tter", quote=False), visible_text("a\\tb")
    ('Blätter', "'a\\\\tb'")
    """
    text = text.encode("utf-8", "surrogateescape").decode("utf-8", "replace") if _has_bytes(text) else text
    safe = "".join(sign if sign.isprintable() else sign.encode("unicode_escape").decode() for sign in text)
    return f"'{safe}'" if quote else safe
