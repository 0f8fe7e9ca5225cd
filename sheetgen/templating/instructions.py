"""The instructions on the cover of a paper: those of the wording, or a school's own, from its plan or from a file of its own.

Such a file has one field, ``instructions``, a list of texts. A text may show what ``OF_PAPER`` names.
"""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from sheetgen.faults import Place, shown
from sheetgen.filekinds import read_kind
from sheetgen.ink import missing_glyphs, text_width
from sheetgen.templating.faults import TemplateError
from sheetgen.templating.files import LIMITS, found
from sheetgen.templating.phrases import Phrase, PhraseError, phrase
from sheetgen.templating.texts import INSTRUCTIONS, OF_PAPER
from sheetgen.templating.wording import LONGEST_WORD, Wording
from sheetgen.yamlines import Path_, YamlDocument

FIELD = "instructions"

MOST = 24
"""Instructions of one paper: nobody reads more before an examination, and a cover has no room for them."""

Instruction = tuple[Phrase, Place]
"""A text, and where it is said."""


def usual_instructions(wording: Wording) -> tuple[Instruction, ...]:
    """Those that come with a wording, in their order."""
    return tuple((wording.phrases[f"{FIELD}.{name}"], wording.place(f"{FIELD}.{name}")) for name in INSTRUCTIONS)


def load_instructions(path: Path) -> tuple[str, ...]:
    """Those of a file, as they are written. Raises: TemplateError with every fault of it."""
    file, name = found(path, FIELD, "", ())
    document = read_kind(file, name, "list of instructions", LIMITS)
    data = document.data
    if not isinstance(data, dict) or data.keys() != {FIELD}:
        document.fault(1, "", shown(data), f"one field, `{FIELD}:`, with a list of texts")
        raise TemplateError(document.faults)
    return tuple(phrase.source for phrase in phrases_in(document, data[FIELD], (FIELD,)))


def said_instructions(texts: Sequence[str], place: Place) -> tuple[Instruction, ...]:
    """Those that a plan has, all at one ``place``. Raises: TemplateError with every fault."""
    document = YamlDocument(place.file, lines={(): place.line})
    return tuple((each, place) for each in phrases_in(document, list(texts), (FIELD,)))


def phrases_in(document: YamlDocument, listed: object, path: Path_) -> list[Phrase]:
    """The phrases of a list in a ``document``, at ``path`` in it. Raises: TemplateError with every fault."""
    where = ".".join(map(str, path))
    if not isinstance(listed, list) or not 1 <= len(listed) <= MOST:
        document.fault(document.line(path), where, shown(listed), f"a list of 1 to {MOST} texts")
        raise TemplateError(document.faults)
    made = []
    for number, text in enumerate(listed):
        try:
            made.append(_phrase(text))
        except PhraseError as error:
            document.fault(document.line((*path, number)), f"{where}[{number + 1}]", error.found, error.wanted)
    if document.faults:
        raise TemplateError(document.faults)
    return made


def _phrase(text: object) -> Phrase:
    """Raises: PhraseError, also for what cannot be lettered, or broken into lines."""
    if not isinstance(text, str) or not text.strip():
        raise PhraseError(shown(text or None), "a text")
    made = phrase(text, OF_PAPER)
    if missing := missing_glyphs(made.source):
        raise PhraseError(f"the sign {shown(missing[:5])}", "letters that the sheet's lettering has")
    if long := next((word for word in made.source.split() if text_width(word, LONGEST_WORD[1]) > LONGEST_WORD[0]), None):
        raise PhraseError(f"the word {shown(long[:60])}", "shorter words, about 25 letters at most")
    if not made.render(dict.fromkeys(OF_PAPER, "5")):
        raise PhraseError("a text that comes to nothing", "a text")
    return made
