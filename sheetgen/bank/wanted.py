"""What would be right in each field of a family file, in words for the teacher."""

from __future__ import annotations

_NUMBER = "a number of mm or a formula"
_POINT = "a point [.., ..]"
_SPAN = "[from, to], each a number, a formula or `open`"
WANTED: dict[str, str] = {
    "title": "the name of the part, at most 60 characters", "topics": "1 to 8 short words", "rung": "1 (easiest) to 5",
    "sizes": "1 to 40 sizes, `name: {from: .., to: .., step: ..}` each", "values": "`name: formula` lines",
    "rules": "a list of formulas", "features": "a list of 1 to 60 features, each `add:` or `cut:`",
    "measures": "a list of 1 to 80 measures such as `base.left to base.right`", "symmetry": "a list of x, y, or both",
    "from": "the least size", "to": "the greatest size", "step": "the step from size to size",
    "one of": "a list of 1 to 40 options",
    "rule": "a formula", "measure": "a measure such as `base.left to base.right`", "name": "a name for the feature",
    "plane": "front, top or right", "outline": "a list of 3 to 100 pieces: start, then lines and arcs", "start": _POINT,
    "line": _POINT, "arc": "the end point [.., ..] of the arc", "close": "yes", "centre": "the centre [.., ..]",
    "turn": "left (anticlockwise) or right (clockwise)", "mouth": "left, right, front, back, bottom or top",
    "at": "a point [.., ..] or a list of up to 40 points", "diameter": _NUMBER, "depth": _NUMBER, "level": _NUMBER,
    "angle": "degrees", "point": "degrees of the drill's point", "counterbore": "{diameter: .., depth: ..}",
    "countersink": "{diameter: .., angle: ..}", "axis": "x, y or z", "diameters": "[diameter at the low end, at the high end]",
    "width": _NUMBER, "height": _NUMBER, "toward": "left, right, up or down", "foot": "where the straight part begins",
    "centres": "two points [[.., ..], [.., ..]]", "corner": "three words for a cut corner, a point [.., ..] for a rib",
    "legs": "[length along, length up], with signs", "tip": _POINT, "remove": "above, below, left or right",
    "through": "three points [x, y, z]", "x": _SPAN, "y": _SPAN, "z": _SPAN, "when": "a comparison",
}
"""What would be right, by the name of the field."""
