"""The words printed on sheets, from ``templates/wording``: one file a language, each text a phrase.

``PHRASES`` names every text and the values it may show, so that a file with a text too few, too many, or with a value
that nobody fills in is refused whole, before anything is printed.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from sheetgen.faults import Fault
from sheetgen.shared import shipped
from sheetgen.templating.faults import TemplateError
from sheetgen.templating.nodes import Form, Node, read_nodes
from sheetgen.templating.phrases import Phrase, PhraseError, phrase

LABELS = (
    "school_and_course", "title", "student", "class", "document_type", "scale", "sheet", "set_by", "date_of_issue",
    "identification_number", "status", "paper", "language", "topic", "number",
)
"""The labels that cells of title blocks can have, by name; what they say stands in the wording."""

PHRASES: Mapping[str, tuple[str, ...]] = MappingProxyType({
    "language.code": (),
    "notice": (), "units": (), "sheet_of": ("sheet", "sheets"),
    "check_bar": (),
    # titles under the views, and the same views inside a sentence
    **{f"views.{view}": () for view in ("front", "top", "left", "right", "rear", "bottom", "isometric")},
    **{f"named.{view}": ("arrow",) for view in ("front", "top", "left", "right", "rear", "bottom")},
    "projection.first": (), "projection.third": (),
    "documents.question": (), "documents.answer": (), "documents.blank": (),
    "scale.full": ("scale",), "scale.reduced": ("scale",), "scale.enlarged": ("scale",),
    # the question
    "question.task": ("scale", "projection"),
    "question.view": ("letter", "view", "last"),
    "question.symmetry": (), "question.symmetries": (),
    "question.hidden": (), "question.no_hidden": (),
    "question.centre_lines": (),
    "question.dimension": (), "question.no_dimension": (),
    "question.mitre": (),
    "question.time": ("minutes",), "question.marks": ("marks",),
    # general notes
    "notes.heading": (), "notes.millimetres": (), "notes.through_holes": (), "notes.through_cuts": (), "notes.slope_holes": (),
    "notes.sight": ("arrow",), "notes.symmetry": (), "notes.isometric_full": (), "notes.isometric_reduced": ("scale",),
    "notes.depth": ("feature", "depth"), "notes.alike": ("count", "feature"),
    # how the views were spaced
    "spacing.heading": (),
    "spacing.space": ("length", "breadth"),
    "spacing.sizes": ("width", "depth", "height"),
    **{f"spacing.across{scaled}": ("length", "sizes", "gaps", "gap", "scale") for scaled in ("", "_scaled")},
    **{f"spacing.up{scaled}": ("breadth", "kept", "sizes", "gaps", "gap", "scale") for scaled in ("", "_scaled", "_kept")},
    # labels in the cells of title blocks
    **{f"labels.{label}": () for label in LABELS},
    # contact sheets of the bank
    "contact.heading": ("rung", "what"), "contact.sheet": ("sheet", "sheets"), "contact.below": ("rung", "topics"),
    "contact.undrawn": (),
    **{f"contact.rung_{rung}": () for rung in range(1, 6)},
})
"""Every text by name, with the values it may show."""


@dataclass(frozen=True, slots=True)
class Wording:
    """The texts of one language."""

    language: str
    phrases: Mapping[str, Phrase]

    def render(self, key: str, **values: object) -> str:
        """Return a text with its values filled in.

        Raises: KeyError for a text that does not exist, PhraseError for a value that is missing or unprintable.

        >>> load_wording().render("spacing.across", length=390.0, sizes="100 - 50", gaps=3, gap=80.0, scale="1:1")
        'Across: (390 - 100 - 50) / 3 = 80 mm'
        """
        return self.phrases[key].render(values)


def load_wording(language: str = "en") -> Wording:
    """Return the texts of ``language``, the plain name of a file in ``templates/wording``.

    Raises: TemplateError with every fault of the file.
    """
    folder = shipped("templates") / "wording"
    names = sorted(path.stem for path in folder.glob("*.yaml"))
    if not re.fullmatch(r"[a-z]{2,3}(-[a-z0-9]{2,8})?", language) or language not in names:
        raise TemplateError([Fault("templates/wording", 0, "language", repr(language[:60]), f"one of {', '.join(names)}")])
    shown = f"templates/wording/{language}.yaml"
    return wording_of(read_nodes(folder / f"{language}.yaml", shown), language, shown)


def wording_of(node: Node, language: str, shown: str) -> Wording:
    """Return the texts written in ``node``. Raises: TemplateError with every fault."""
    form = Form(node, shown)
    flat = dict(_flat(form))
    for key in PHRASES.keys() - flat.keys():
        form.fault(key, Node("", 0), "this text", "no such text")
    phrases = {}
    for key, text in flat.items():
        if key not in PHRASES:
            form.fault(key, text, "a text of the list in en.yaml", "an unknown text")
            continue
        try:
            phrases[key] = phrase(text.value if isinstance(text.value, str) else "", PHRASES[key])
        except PhraseError as error:
            form.fault(key, text, error.wanted, error.found)
    if form.faults:
        raise TemplateError(form.faults)
    return Wording(language, phrases)


def _flat(form: Form) -> list[tuple[str, Node]]:
    """The texts with their full names: ``views: front:`` is ``views.front``."""
    flat: list[tuple[str, Node]] = []
    for key, node in form.fields().items():
        if isinstance(node.value, str):
            flat.append((key, node))
        elif isinstance(node.value, Mapping):
            flat.extend((f"{key}.{name}", inner) for name, inner in node.value.items())
        else:
            form.fault(key, node, "a text, or a group of texts")
    for key, node in flat:
        if not isinstance(node.value, str) or not node.value:
            form.fault(key, node, "a text")
    return flat
