"""The words of pages, as ``wording.py`` has those of sheets: every text by name, with the values it may show."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

PAGE_PHRASES: Mapping[str, tuple[str, ...]] = MappingProxyType({
    # the page of a pack
    **{f"pack.{text}": () for text in (
        "pack", "skip", "no_scripts", "failed", "loading", "problems", "choose", "search", "topic", "rung", "kind", "state",
        "any", "state_new", "state_begun", "state_done", "clear", "none", "progress", "kept", "not_kept", "export", "reset",
        "reset_sure", "reset_no", "reset_yes", "reset_done", "print", "advice_screen", "print_single", "questions", "answers",
        "construction", "hints", "ways", "all_problems", "previous", "next", "question", "answer", "part", "larger", "smaller",
        "whole_sheet", "print_sheet", "in_words", "turn", "turn_about", "turn_failed", "construction_show", "stage_next",
        "stage_previous", "check", "check_about", "check_hidden", "check_go", "right", "off", "no_number", "nothing_measured",
        "answer_about", "answer_show", "answer_sure", "answer_no", "answer_yes", "answer_hide", "done", "yes")},
    **{f"pack.kind_{kind}": () for kind in (
        "views", "faces", "match", "mistakes", "section", "third-view", "missing-lines", "pictorial", "auxiliary")},
    **{f"pack.head_{head}": () for head in ("number", "title", "code", "state", "hints", "stages", "right", "answer")},
    "pack.shown": ("shown", "all"), "pack.done_of": ("done", "all"),
    **{f"pack.{text}": ("number", "title") for text in ("numbered", "ready")},
    **{f"pack.{text}": ("number", "count") for text in ("page", "hint_next", "stage")},
    **{f"pack.{text}": ("right", "count") for text in ("result", "result_of")},
    "pack.advice": ("paper",), "pack.set": ("mark",), "pack.rung_of": ("rung", "what"), "pack.code": ("code",),
    "pack.pdf": ("book", "page"), "pack.picture": ("what", "title"),
    "pack.length": ("view", "what"), "pack.scroll": ("picture",), "pack.zoomed": ("percent",),
    # the list of packs
    **{f"packs.{text}": () for text in ("packs", "search", "none", "topics", "rungs")},
    "packs.count": ("problems",), "packs.shown": ("shown", "all"),
    # a part told in words: whole sentences, what features are called, where they lie, how large they are
    "part.whole": ("width", "depth", "height"), "part.line": ("what", "place", "going", "sizes"),
    **{f"part.{what}": () for what in (
        "base", "block", "plate", "upright", "slot", "groove", "notch", "recess", "step", "channel", "lug_top", "link", "rib",
        "round_slot", "closed_slot", "hollow", "cone_cut", "vee", "slant", "corner", "dovetail_groove", "dovetail_tongue")},
    **{f"part.{what}": ("way",) for what in ("boss", "spindle", "pin", "cone")},
    **{f"part.{what}": ("facing", "rounded", "corners") for what in ("shape", "shape_base", "shape_cut")},
    "part.hole": ("how_many",), "part.lug": ("side",), "part.open_slot": ("side",),
    **{f"part.{side}": () for side in ("left", "right", "front", "rear", "top", "bottom", "middle")},
    "part.at": ("sides",), "part.toward": ("sides",), "part.from": ("side",), "part.through": (),
    **{f"part.run_{way}": () for way in ("wide", "deep", "up")},
    **{f"part.{size}": ("size",) for size in (
        "wide", "deep", "high", "long", "thick", "across", "crest", "diameter", "radius", "sunk", "countersink")},
    "part.counterbore": ("size", "depth"), "part.tapers": ("first", "last"), "part.opening": ("angle",),
})
"""The page of a pack (``pack``), a page over packs (``packs``), and a part told in words (``part``)."""

PAGE_CHOICES: Mapping[str, tuple[str, ...]] = MappingProxyType({
    "facing": ("front", "top", "right"), "rounded": ("no", "yes"), "corners": ("3", "4", "more"),
    "how_many": ("1", "2", "3", "4", "more"),
})
"""Values that these texts choose by and do not show, and what they can be."""

PAGE_NEEDED = ("pack.rung_of", "pack.numbered", "pack.code", "pack.pdf")
"""Texts that must show each of their values as it is."""
