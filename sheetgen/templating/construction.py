"""The texts of construction sheets by name, with the values that each may show: a part of the wording."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

EDGES = ("left", "right", "front", "back", "bottom", "top")
"""Edges of a part's box, from which places are told."""

CONSTRUCTION_PHRASES: Mapping[str, tuple[str, ...]] = MappingProxyType({
    "construction.heading": ("step", "steps", "what"), "construction.sheet": ("title", "code", "scale"),
    **{f"construction.{part}": () for part in ("boxes", "plane", "mitre", "hidden", "curves", "centres", "hatching", "sizes")},
    **{f"construction.of_{view}": () for view in ("front", "top", "side", "left", "right", "sides")},
    **{f"construction.{joint}": ("first", "second") for joint in ("list", "list_end", "then", "stop_both")},
    "construction.one_box": (), "construction.draw_box": ("box",), "construction.turn_back": ("top", "side", "depth"),
    "construction.draw_boxes": ("boxes",), "construction.box": ("view", "wide", "high"), "construction.to_scale": ("scale",),
    "construction.drawn": ("feature", "lines"), "construction.carried": ("lines", "whence"),
    **{f"construction.by_{by}": ("view",) for by in ("down", "up", "across", "mitre")},
    "construction.drawn_more": ("lines",), "construction.outermost": ("lines", "whence", "several"),
    "construction.ends_of": ("lines", "ends", "whence", "way"),
    "construction.on_box": ("several", "edges", "pieces"), "construction.on_box_all": ("pieces",),
    **{f"construction.box_{edge}": () for edge in EDGES},
    **{f"construction.{way}": ("several", "levels", "pieces") for way in ("upright", "level")},
    **{f"construction.from_{edge}": ("levels",) for edge in EDGES}, "construction.on_edge": ("edge",),
    "construction.apart": ("size",), "construction.apart_both": ("across", "up"),
    "construction.apart_along": ("size", "way"), "construction.inset": ("size", "way"),
    "construction.point": ("across", "up"), "construction.points": ("across", "up"),
    "construction.point_on": ("edge", "place", "last"),
    "construction.slope": ("first", "second"), "construction.slope_at": ("first", "angle", "fall"),
    "construction.slope_until": ("slope", "place"),
    "construction.mirrored": ("lines", "about"), "construction.ends": ("several", "whence"),
    **{f"construction.middle_{way}": () for way in ("width", "depth", "height", "both")},
    **{f"construction.{round_}": ("several", "count", "size", "place")
       for round_ in ("circle", "circles", "arc", "arc_end", "arc_corner")},
    **{f"construction.count_{count}": () for count in (2, 4)},
    "construction.draw_mitre": ("top", "side"), "construction.turn": ("top", "side", "depth"),
    "construction.hidden_of": ("feature", "sizes", "lines", "several"),
    "construction.hidden_more": ("lines", "several"), "construction.hidden_in": ("view", "whence"),
    "construction.hidden_off": ("view", "lines"),
    "construction.hidden_with": ("first", "second"), "construction.drill_point": ("angle", "several"),
    "construction.curve": ("feature", "view", "several", "unseen"), "construction.points_stand": ("others",),
    "construction.join": (), "construction.cone": (),
    "construction.stops": (), "construction.stops_at": ("lines",), "construction.rub_out": (),
    **{f"construction.stop_{way}": ("levels",) for way in ("upright", "level")},
    **{f"construction.centre_{what}": () for what in ("circles", "ends", "axes", "symmetry")},
    "construction.put_sizes": (), "construction.sizes_on": ("view", "sizes"),
})
"""Every text by name, with the values it may show."""

CONSTRUCTION_NEEDED = (
    "construction.heading", "construction.list", "construction.then", "construction.draw_boxes", "construction.box",
    "construction.drawn", "construction.carried", "construction.by_", "construction.from_", "construction.apart",
    "construction.inset", "construction.slope", "construction.ends_of", "construction.on_edge", "construction.outermost",
    "construction.stops_at", "construction.curve", "construction.points_stand", "construction.sizes_on", "construction.turn",
)
"""Texts, or beginnings of their names, that must show each of their values."""

CONSTRUCTION_CHOICES: Mapping[str, tuple[str, ...]] = MappingProxyType({
    "pieces": ("no", "yes", "one", "some"), "unseen": ("no", "yes", "some"), "about": ("centre", "both", "axis"),
    "ends": ("one", "both"),
    "fall": ("up_left", "up_right", "down_left", "down_right"),
})
"""Values that a text of a construction chooses by and does not show, and what they can be."""
