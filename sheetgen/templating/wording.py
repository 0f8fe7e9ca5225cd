"""The words printed on sheets, from ``templates/wording`` or a teacher's own file: each text a phrase.

``texts.py`` names every text and the values it may show, so that a file with a text too few, too many, or with a value
that nobody fills in is refused whole, before anything is printed.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, replace
from itertools import product
from pathlib import Path

from sheetgen.faults import Fault, Place
from sheetgen.faults import shown as shown_value
from sheetgen.filekinds import check_kind, read_kind
from sheetgen.ink import Face, missing_glyphs, text_width
from sheetgen.shared import shipped
from sheetgen.templating.faults import TemplateError
from sheetgen.templating.files import LIMITS, found
from sheetgen.templating.phrases import MOST_COMPOSED, Phrase, PhraseError, phrase
from sheetgen.templating.texts import CHOICES, COMPOSED, NEEDED, PHRASES
from sheetgen.yamlines import Path_, YamlDocument

LONGEST_WORD = (50.0, 2.5)
"""mm of a single word, at that height of lettering: a line of the narrowest column holds it, and it cannot be broken."""

CHECK_BAR = (100.0, 1.8)
"""mm of the check bar's text, at that height in the narrow face: the bar's own length."""

LANGUAGE = re.compile(r"[A-Za-z]{2,3}(-[A-Za-z0-9]{2,8}){0,3}")
"""A language tag (RFC 5646), as far as a sheet needs one."""


@dataclass(frozen=True, slots=True)
class Wording:
    """The texts of one wording. ``file``: where they stand, as messages show it; ``lines``: each in which; ``remarks``: what had
    better be changed in it."""

    file: str
    phrases: Mapping[str, Phrase]
    lines: Mapping[str, int]
    remarks: tuple[Fault, ...] = ()

    @property
    def language(self) -> str:
        """The tag of the language they are in, such as en-GB."""
        return self.render("language.code")

    def place(self, key: str) -> Place:
        """Where a text stands. Raises: KeyError for a text that does not exist."""
        return Place(self.file, self.lines[key], key)

    def render(self, key: str, **values: object) -> str:
        """Return a text with its values filled in.

        Raises: KeyError for a text that does not exist, PhraseError for a value that is missing or unprintable.

        >>> load_wording().render("spacing.across", length=390.0, sizes="100 - 50", gaps=3, gap=80.0, scale="1:1")
        'Across: (390 - 100 - 50) / 3 = 80 mm'
        """
        return self.phrases[key].render(values)


def wording_names() -> tuple[str, ...]:
    """Return the names of the wordings that come with the program."""
    return tuple(sorted(path.stem for path in (shipped("templates") / "wording").glob("*.yaml")))


def load_wording(name: str | Path = "en") -> Wording:
    """Return a wording: a ``str`` is the plain name of one in ``templates/wording``, a ``Path`` any YAML file.

    A name comes from a plan, which may be a stranger's, and so cannot leave the folder; a path comes from the teacher.

    Raises: TemplateError with every fault of the file.
    """
    path, shown = found(name, "wording", "wording", wording_names())
    return wording_of(read_kind(path, shown, "wording", LIMITS))


def wording_of(document: YamlDocument) -> Wording:
    """Return the texts of a document. Raises: TemplateError with every fault."""
    check_kind(document, "wording", LIMITS)
    texts = _texts(document)
    missing = sorted(PHRASES.keys() - texts.keys())
    for group in dict.fromkeys(key.partition(".")[0] for key in missing):
        keys = [key for key in missing if key.partition(".")[0] == group]
        document.fault(0, ", ".join(keys), "no such text" if len(keys) == 1 else "no such texts", "what en.yaml has there")
    phrases = {}
    for key, (path, text) in texts.items():
        if not isinstance(text, str) or not text:
            document.fault(document.line(path), key, shown_value(text or None), "a text")
        elif key not in PHRASES:
            document.fault(document.line(path), key, "an unknown text", "a text of the list in en.yaml")
        else:
            try:
                phrases[key] = _phrase(key, text)
            except PhraseError as error:
                document.fault(document.line(path), key, error.found, error.wanted)
    if document.faults:
        raise TemplateError(document.faults)
    document.remark_cut(bool)
    lines = {key: document.line(path) for key, (path, _) in texts.items()}
    return Wording(document.file, phrases, lines, tuple(document.remarks))


def _texts(document: YamlDocument) -> dict[str, tuple[Path_, object]]:
    """The texts with their full names, and where each stands: ``views: front:`` is ``views.front``."""
    if not isinstance(document.data, dict):
        document.fault(1, "", shown_value(document.data), "texts, each as name: text")
        return {}
    texts: dict[str, tuple[Path_, object]] = {}
    for key, value in document.data.items():
        if isinstance(value, dict):
            texts |= {f"{key}.{name}": ((key, name), text) for name, text in value.items()}
        elif isinstance(value, list):
            document.fault(document.line((key,)), key, shown_value(value), "a text, or a group of texts")
        else:
            texts[key] = (key,), value
    return texts


def _phrase(key: str, source: str) -> Phrase:
    """The phrase of a text. Raises: PhraseError, also for what cannot be lettered and for needed values that it does not show."""
    made = phrase(source, PHRASES[key])
    if key == "language.code" and not LANGUAGE.fullmatch(source):
        raise PhraseError(shown_value(source), "the tag of a language, such as en-GB")
    if missing := missing_glyphs(made.source):
        raise PhraseError(f"the sign {shown_value(missing[:5])}", "letters that the sheet's lettering has")
    if long := next((word for word in made.source.split() if text_width(word, LONGEST_WORD[1]) > LONGEST_WORD[0]), None):
        raise PhraseError(f"the word {shown_value(long[:60])}", "shorter words, about 25 letters at most")
    if key == "check_bar" and text_width(made.source, CHECK_BAR[1], Face.NARROW) > CHECK_BAR[0]:
        raise PhraseError(f"{len(made.source)} characters", "a text that is no longer than the bar, about 90 characters")
    if source:
        _try(key, made)
    return replace(made, most=MOST_COMPOSED) if key.startswith(COMPOSED) else made


def _try(key: str, made: Phrase) -> None:
    """Fill the phrase in with each choice, as on a sheet. Raises: PhraseError if it comes to nothing, or hides or adds a size."""
    values = {name: f"R{number}.5" for number, name in enumerate(PHRASES[key], 1) if name not in CHOICES}
    choices = [name for name in PHRASES[key] if name in CHOICES]
    for chosen in product(*(CHOICES[name] for name in choices)):
        text = made.render(values | dict(zip(choices, chosen, strict=True)))
        if not text:
            raise PhraseError("a text that comes to nothing", "a text")
        unseen = [name for name, value in values.items() if text.count(value) != 1]
        if key.startswith(NEEDED) and unseen:
            raise PhraseError(f"a text that does not show {', '.join(unseen)} as it is", "each of its values once, unchanged")
        for value in values.values():
            text = text.replace(value, "")
        if key.startswith("hole.") and re.search(r"\d", text):
            raise PhraseError("a number of its own", "words; a number in a note is a size")
