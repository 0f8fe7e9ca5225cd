"""The texts of the kind auxiliary: letters, names, the question, hints, and how the answer is built."""

from __future__ import annotations

from collections.abc import Mapping

AUXILIARY_PHRASES: Mapping[str, tuple[str, ...]] = {
    **{f"auxiliary.{letter}": () for letter in ("letter", "from", "to", "from_1", "to_1")},
    "auxiliary.name": ("letter",), "auxiliary.name_partial": ("letter",),
    # the question
    "auxiliary.given": ("first", "second", "scale", "projection", "every"), "auxiliary.task": ("letter",),
    "auxiliary.task_partial": ("letter", "opens"), "auxiliary.place": ("first", "second"),
    "auxiliary.besides": ("sizes",), "auxiliary.sized": ("what", "size"),
    "auxiliary.hidden": (), "auxiliary.centre_lines": (), "auxiliary.dimension": (),
    "auxiliary.equal": ("second",),
    # how it is built
    **{f"auxiliary.step_{step}": () for step in ("project", "distances", "join", "curves", "hidden", "finish")},
    **{f"auxiliary.{text}_{of}": () for text in ("join", "finish") for of in ("partial", "whole")},
    **{f"auxiliary.project_{of}": ("first",) for of in ("partial", "whole")},
    "auxiliary.distances": ("second",), "auxiliary.nearest": ("second",), "auxiliary.curves": ("first", "second"),
    "auxiliary.behind": (),
    # hints
    "auxiliary.think": ("first",), "auxiliary.think_second": ("first", "second"), "auxiliary.square": (),
    "auxiliary.missed": (),
    **{f"auxiliary.measure_{length}": () for length in ("along", "across", "diagonal", "nearest", "farthest")},
}
"""Every text by name, with the values it may show."""

AUXILIARY_NEEDED = ("auxiliary.given", "auxiliary.task", "auxiliary.name", "auxiliary.besides", "auxiliary.sized")
"""Beginnings of the names of texts that must show each of their values."""

AUXILIARY_CHOICES: Mapping[str, tuple[str, ...]] = {"every": ("no", "yes"), "opens": ("no", "yes")}
"""Values that a text chooses by and does not show."""
