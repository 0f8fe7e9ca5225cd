"""The texts of the kind ``pictorial`` by name, with the values that each may show: a part of the wording."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

DRAWN = ("isometric", "cavalier", "cabinet")
"""The pictorials that may be asked for."""

PICTORIAL_PHRASES: Mapping[str, tuple[str, ...]] = MappingProxyType({
    **{f"views.{drawn}": () for drawn in DRAWN}, **{f"pictorial.{drawn}": () for drawn in DRAWN},
    "pictorial.given": ("front", "top", "side", "projection"), "pictorial.task": ("what", "scale", "flank"),
    **{f"pictorial.along_{drawn}": () for drawn in DRAWN},
    **{f"pictorial.{text}": () for text in ("box", "hidden", "centre_lines")},
    **{f"pictorial.circles_{what}": () for what in ("isometric", "oblique", "ellipses")},
    "pictorial.arrow": ("arrow",), "pictorial.on_grid": ("pitch", "flank"),
    **{f"pictorial.grid_{lines}": ("pitch",) for lines in ("isometric", "square")},
    "pictorial.thin": (), "pictorial.thin_pieces": (), "pictorial.round_circles": ("rhombi",), "pictorial.true_ellipse": (),
    "pictorial.four_centres": ("size",),
    # hints and what is checked
    "pictorial.think": (), "pictorial.begin": ("wide", "deep", "high", "flank"), "pictorial.then": (),
    "pictorial.missed_inside": ("count", "all"),
    **{f"pictorial.missed_{what}": () for what in ("slopes", "curves", "covered")},
    **{f"pictorial.length_{what}": () for what in ("across", "up", "front", "side", "top")},
    # how it is built
    **{f"pictorial.stage_{stage}": () for stage in ("box", "curves", "last")},
    **{f"pictorial.build_{what}": () for what in ("whole", "edges", "round", "four_centres", "two_centres")},
    "pictorial.build_circles": ("rhombi",),
    "pictorial.span": ("start", "end"), "pictorial.build_piece": ("what", "wide", "deep", "high"),
    "pictorial.build_last": ("arrow", "centred"),
})
"""Every text by name, with the values it may show."""

PICTORIAL_NEEDED = (
    "pictorial.given", "pictorial.task", "pictorial.arrow", "pictorial.grid_", "pictorial.begin", "pictorial.missed_inside",
    "pictorial.span", "pictorial.build_piece",
)
"""Texts, or beginnings of their names, that must show each of their values."""

PICTORIAL_CHOICES: Mapping[str, tuple[str, ...]] = MappingProxyType({
    "flank": ("left", "right"), "rhombi": ("yes", "skew"), "centred": ("no", "yes"),
})
"""Values that these texts choose by and do not show, and what they can be."""
