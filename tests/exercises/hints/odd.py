"""Parts with what no family of the bank has, to see what hints say of them."""

from __future__ import annotations

HEAD = "title: {title}\ntopics: [steps]\nrung: 1\nsizes:\n  width: {{from: 80, to: 100, step: 5}}\nfeatures:\n"
MEASURES = "measures:\n  - base.left to base.right\n  - base.front to base.back\n  - base.bottom to base.top\n"
BLOCK = "{add: block, name: base, x: [0, width], y: [0, 60], z: [0, 40]}"


def family(title: str, *features: str, measures: str = MEASURES) -> str:
    """The file of a family with those features; its measures do not tell it, which hints do not mind."""
    return HEAD.format(title=title) + "".join(f"  - {feature}\n" for feature in features) + measures


def holes(count: int) -> str:
    """A block with a row of so many holes."""
    at = ", ".join(f"[{8 * k}, 30]" for k in range(1, count + 1))
    return family(f"Block with {count} holes", BLOCK, f"{{cut: hole, name: holes, mouth: top, at: [{at}], diameter: 4}}")


ODD = {
    "plain": family("Plain block", BLOCK),
    "shelf": family("Shelf", BLOCK, "{cut: step, name: step, x: [width - 30, open], z: [20, open]}"),
    "slots": family(
        "Three slots", BLOCK,
        *(f"{{cut: slot, name: {name}, x: [{x}, {x + 6}], z: [30, open]}}" for name, x in (("a", 10), ("b", 30), ("c", 60)))),
    "runs": family(
        "Two slots", BLOCK, "{cut: slot, name: across, y: [20, 30], z: [28, open]}",
        "{cut: slot, name: upright, x: [30, 40], y: [44, open]}"),
    "turned": family(
        "Turned things", "{add: block, name: base, x: [0, width], y: [0, 60], z: [0, 40]}",
        "{add: pin, name: pin, axis: z, at: [20, 30], diameter: 12, z: [40, 60]}",
        "{cut: recess, name: recess, x: [40, 60], y: [10, 30], z: [30, open]}",
        "{cut: bore, name: bore, axis: y, at: [64, 20], diameter: 14, y: [open, open]}",
        "{cut: cone, name: taper, axis: z, at: [70, 45], diameters: [6, 14], z: [28, 41]}"),
    "linked": family(
        "Link with a rebate",
        "{add: link, name: base, plane: top, centres: [[20, 20], [60, 20]], width: 40, z: [0, 20]}",
        "{cut: profile, name: rebate, plane: front, "
        "outline: [{start: [0, 0]}, {line: [12, 0]}, {line: [12, 6]}, {line: [0, 6]}, {close: yes}]}",
        measures="measures:\n  - base.bottom to base.top\n"),
    "nick": family(
        "Block with a nick at the back", BLOCK,
        "{cut: step, name: nick, x: [width - 30, open], y: [44, open], z: [36, open]}"),
    "knob": family(
        "Block with a knob behind", "{add: block, name: base, x: [0, width], y: [0, 30], z: [0, 40]}",
        "{add: boss, name: knob, axis: y, at: [40, 20], diameter: 20, y: [30, 42]}"),
    "nose": family(
        "Block with a round end", "{add: block, name: base, x: [0, width - 20], y: [0, 40], z: [0, 30]}",
        "{add: lug, name: nose, plane: top, centre: [width, 20], width: 40, toward: right, foot: 30, z: [0, 30]}",
        measures="measures:\n  - base.front to base.back\n"),
    "profiled": family(
        "Profiled block", "{add: profile, name: base, plane: front, outline: [{start: [0, 0]}, {line: [width, 0]}, "
        "{line: [width, 30]}, {line: [60, 30]}, {line: [40, 40]}, {line: [0, 40]}, {close: yes}], y: [0, 60]}",
        measures="measures:\n  - base.front to base.back\n"),
    "sawn": family(
        "Block with two slopes at its end", BLOCK,
        "{cut: profile, name: end, plane: front, outline: [{start: [width, 8]}, {line: [width - 20, 30]}, "
        "{line: [width - 40, 40]}, {line: [width, 40]}, {close: yes}]}"),
    "saddle": family(
        "Block with a half-round groove", BLOCK,
        "{cut: bore, name: hollow, axis: y, at: [40, 40], diameter: 30, y: [open, open]}"),
    "bevel": family(
        "Block with a cut corner", BLOCK,
        "{cut: corner, name: bevel, through: [[50, 0, 40], [width, 24, 40], [width, 0, 12]], corner: [right, front, top]}"),
    "bevels": family(
        "Block with two cut corners", BLOCK,
        "{cut: corner, name: front, through: [[50, 0, 40], [width, 24, 40], [width, 0, 12]], corner: [right, front, top]}",
        "{cut: corner, name: back, through: [[50, 60, 40], [width, 36, 40], [width, 60, 12]], corner: [right, back, top]}"),
    **{f"holes-{count}": holes(count) for count in (5, 6, 7, 8, 9)},
}
"""Families by name."""
