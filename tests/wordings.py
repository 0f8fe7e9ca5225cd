"""Wordings that no school uses, for tests: of invented words, by which one sees what a sheet prints of its own accord, and of the
shipped words at twice their length."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping

from sheetgen.templating import Wording, load_wording
from sheetgen.templating.texts import CHOICES, PHRASES
from sheetgen.templating.wording import wording_of
from sheetgen.yamlines import YamlDocument

LETTERS = "bdgklmnprstvz", "aeiou"
FIXED = ("language.code", "notice", "units", "status", "sheet_of", "check_bar", "documents.", "labels.")
"""Texts that do not grow: the tag is no word, and the others have a room of their own, by the check bar or in a cell of the title
block; who writes a text that is longer is told so."""


def invented(number: int) -> str:
    """A word of six letters, another for each number.

    >>> invented(0), invented(1), invented(65)
    ('bababa', 'bababe', 'babeba')
    """
    word = ""
    for _ in range(3):
        number, vowel = divmod(number, len(LETTERS[1]))
        number, consonant = divmod(number, len(LETTERS[0]))
        word = LETTERS[0][consonant] + LETTERS[1][vowel] + word
    return word


INVENTED: Mapping[str, str] = {key: invented(7 + 11 * number) for number, key in enumerate(PHRASES) if key != "language.code"}
"""The word that stands for each text."""


def nonsense() -> Wording:
    """Each text is its invented word and the values it may show; so all that is legible comes from elsewhere."""
    texts = {key: " ".join([word, *_shown(PHRASES[key])]) for key, word in INVENTED.items()}
    return wording_with({**texts, "language.code": "qaa"})


def _shown(names: Iterable[str]) -> list[str]:
    return [f"{{{{ {name} }}}}" for name in names if name not in CHOICES]


def twice_as_long(name: str = "en") -> Wording:
    """The words of a shipped wording, each written twice."""
    shipped = load_wording(name)
    return wording_with({
        key: shipped.phrases[key].source if key.startswith(FIXED) else doubled(shipped.phrases[key].source) for key in PHRASES})


def doubled(source: str) -> str:
    """The words outside the brackets, each twice without a blank.

    >>> doubled("({{ letter }}) C'BORE at {{ size }}")
    "({{ letter }}) C'BOREC'BORE atat {{ size }}"
    """
    parts = re.split(r"(\{\{.*?\}\})", source)
    return "".join(part if part.startswith("{{") else re.sub(r"[^\W\d_][\w']*", r"\g<0>\g<0>", part) for part in parts)


def wording_with(texts: Mapping[str, str]) -> Wording:
    """The wording that a file with these texts, by their full names, would give. Raises: TemplateError as the file would."""
    groups: dict[str, dict[str, str]] = {}
    for key, text in texts.items():
        group, _, name = key.partition(".")
        groups.setdefault(group, {})[name] = text
    return wording_of(YamlDocument("test.yaml", {group: inner.get("", inner) for group, inner in groups.items()}))
