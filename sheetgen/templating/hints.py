"""The texts of hint sheets by name, with the values that each may show: a part of the wording."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

MOST_COUNTED = 9
"""Things that are counted in words; of more there are figures."""

HINT_PHRASES: Mapping[str, tuple[str, ...]] = MappingProxyType({
    # the views within a sentence
    **{f"short.{view}": () for view in ("front", "top", "side", "sides", "left", "right")},
    # the sheet itself, and what is checked
    "hints.title": ("title", "code"), "hints.check": ("scale",), "hints.further": ("number",), "hints.size": ("wide", "high"),
    **{f"hints.{text}": () for text in (
        "use", "sizes", "fold", "look", "begin", "missed", "line", "view", "outlines", "curves", "hidden", "centre_lines", "all",
        "whole", "measure", "yours", "right_lengths", "length_wide", "length_high")},
    "hints.length": ("start", "end"), "hints.length_slanting": ("several", "longest"),
    # what is named in a sentence
    "hints.and": ("one", "other"), "hints.comma": ("one", "other"),
    "hints.counted": ("count", "what"), **{f"hints.count_{count}": () for count in range(2, MOST_COUNTED + 1)},
    **{f"hints.edge_{end}": () for end in ("left", "right", "front", "back", "bottom", "top")},
    **{f"hints.side_{side}": ("what",) for side in (
        "left", "right", "front", "back", "bottom", "top", "cut_front", "cut_back", "floor", "roof", "riser", "shoulder",
        "lowest")},
    **{f"hints.{text}": ("what",) for text in (
        "each", "centre", "centre_of_end", "centre_point", "centres_points", "centres_of_ends", "limit", "end_round")},
    "hints.from_edge": ("value", "edge"), "hints.on_edge": ("edge",),
    "hints.lies": ("what", "at", "several"), "hints.box": ("view", "wide", "high"),
    # what to look for
    "hints.over_all": ("width", "depth", "height"), "hints.one_piece": ("what",), "hints.built_up": ("what",),
    "hints.cut_out": ("what", "several"), "hints.cut_on": ("piece", "what"),
    "hints.standing": ("view", "what", "several"), "hints.outline": ("view", "what", "several"),
    **{f"hints.{text}": ("view", "what", "several") for text in ("edge_on", "askew")}, "hints.ellipse": ("view", "several"),
    "hints.plotted": ("view", "what", "several"),
    "hints.plotted_where": ("view", "what", "several", "one", "other"),
    "hints.oblique": ("several",), "hints.joins": (), "hints.none_hidden": (),
    **{f"hints.kind_{kind}": ("what", "hidden") for kind in ("plain", "counterbored", "countersunk")},
    "hints.kind_blind": ("what", "drilled", "hidden"),
    "hints.most_hidden": ("view",), "hints.only_hidden": ("view", "several"),
    # how to begin
    "hints.boxes": ("what",), "hints.halves_x": ("view", "several"), "hints.halves_y": ("view", "several"),
    "hints.axis": ("view", "what"), "hints.start": ("view", "what"), "hints.carry": ("front", "top", "side", "where"),
    "hints.line_in": (),
    # a line easily missed
    "hints.missed_at": ("view", "run", "seen", "length", "at"), "hints.missed_line": ("view", "run", "seen", "length"),
    **{f"hints.missed_{some}": ("view", "run", "seen", "count", "length", "at") for some in ("row", "pair")},
    "hints.missed_slant": ("view", "seen", "length", "one", "other"),
    "hints.missed_slants": ("view", "seen", "count", "length", "one", "other"),
    "hints.missed_curve": ("view", "seen"), "hints.too_much": ("view",),
    **{f"hints.is_{what}": ("what", "which") for what in ("side", "edge", "outline", "fold", "turning")},
    **{f"hints.why_{why}": ("several",) for why in ("unseen", "partly", "short", "hidden", "limit", "shortest")},
})
"""Every text by name, with the values it may show."""

HINT_NEEDED = (
    "hints.title", "hints.check", "hints.size", "hints.over_all", "hints.box", "hints.from_edge", "hints.missed_at",
    "hints.missed_line", "hints.missed_row", "hints.missed_pair", "hints.missed_slant",
)
"""Texts without whose values a hint would be wrong."""

HINT_CHOICES: Mapping[str, tuple[str, ...]] = MappingProxyType({
    "run": ("vertical", "horizontal"), "seen": ("no", "yes"),
    "longest": ("no", "yes", "least"), "which": ("it", "they", "one"), "hidden": ("no", "yes"), "drilled": ("no", "yes"),
})
"""Values that a text of a hint chooses by and does not show, and what they can be."""
