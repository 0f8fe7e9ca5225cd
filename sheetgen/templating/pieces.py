"""What parts are made of, as all sheets call it: texts by name, with the values that each may show; a part of the wording."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

PIECES = (
    "block", "plate", "upright", "foot", "boss", "spindle", "pin", "cone", "rib", "roof", "arm", "shaped", "lug", "round_end",
    "link", "tongue", "slot", "groove", "notch", "recess", "corner_recess", "step", "channel", "tunnel", "keyway", "rebate",
    "round_slot", "vee", "dovetail", "hollow", "bore", "cone_cut", "cut", "sloping_cut", "hole", "plain_hole", "blind_hole",
    "counterbored", "countersunk", "slope", "chamfer", "skew", "corner", "upright_face", "curve",
)
"""The nouns."""

PIECE_PHRASES: Mapping[str, tuple[str, ...]] = MappingProxyType({
    **{f"pieces.{piece}": ("form",) for piece in PIECES},
    "pieces.the": ("what",), "pieces.the_first": ("what",), "pieces.sized": ("size", "what"),
    **{f"pieces.at_{place}": ("what",) for place in (
        "left", "right", "front", "back", "lower", "upper", "middle", "wide", "deep", "high")},
})
"""Every text by name, with the values it may show: nouns, and what tells things of one noun apart."""

PIECE_NEEDED = ("pieces.sized",)
"""Texts without whose values a sentence would be wrong."""

PIECE_CHOICES: Mapping[str, tuple[str, ...]] = MappingProxyType({"form": ("one", "several", "bare")})
"""Values that a text chooses by and does not show, and what they can be."""
