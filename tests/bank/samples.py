"""Small family files for the tests of the bank, as text, to be changed line by line."""

BLOCK = """\
title: Plain block
topics: [blocks]
rung: 1
sizes:
  width:  {from: 60, to: 120, step: 5}
  height: {from: 20, to: width/3, step: 4}
features:
  - add: block
    name: base
    x: [0, width]
    y: [0, 40]
    z: [0, height]
measures:
  - base.left to base.right
"""

EVERY_KIND = """\
title: One of every kind
topics: [everything]
rung: 5
sizes:
  width: {from: 100, to: 100, step: 5}
  bore:  {one of: [12]}
features:
  - {add: plate, name: base, x: [0, width], y: [0, 80], z: [0, 20]}
  - add: profile
    name: body
    plane: front
    outline:
      - start: [0, 20]
      - line: [40, 20]
        side: sole
      - arc: [20, 40]
        centre: [20, 20]
        turn: left
        side: nose
      - line: [0, 40]
      - close: yes
        side: rear
    y: [10, 30]
  - add: boss
    name: bosses
    axis: z
    at: [[60, 20], [60, 60]]
    diameter: 2*bore
    z: [20, 30]
  - {add: cone, name: tip, axis: z, at: [85, 40], diameters: [20, 8], z: [20, 35]}
  - {add: lug, name: ear, plane: front, centre: [50, 60], width: 20, toward: up, foot: 20, y: [70, 80]}
  - {add: link, name: long_pad, plane: top, centres: [[70, 40], [74, 40]], width: 6, z: [20, 24]}
  - {add: rib, name: web, plane: right, corner: [70, 20], legs: [-20, 15], x: [48, 52]}
  - {add: dovetail, name: tongue, plane: front, centre: [90, 30], width: 16, height: 10, angle: 60, toward: up, y: [0, 10]}
  - {cut: slot, name: gap, x: [10, 20], z: [10, open]}
  - cut: hole
    name: drilled
    mouth: top
    at: [[60, 20], [60, 60]]
    diameter: bore
    level: 30
    depth: 15
    point: 120
  - {cut: hole, name: stepped, mouth: front, at: [30, 10], diameter: 6, counterbore: {diameter: 12, depth: 4}}
  - {cut: hole, name: sunk, mouth: front, at: [50, 10], diameter: 6, countersink: {diameter: 12, angle: 90}}
  - {cut: bore, name: through, axis: y, at: [50, 60], diameter: 8}
  - {cut: open_slot, name: eye, plane: top, centre: [30, 70], width: 8, toward: down}
  - {cut: closed_slot, name: long_slot, plane: top, centres: [[90, 60], [90, 70]], width: 6, z: open}
  - {cut: vee, name: vee, plane: front, tip: [80, 10], toward: up, angle: 90, y: [open, 5]}
  - {cut: slant, name: ramp, plane: right, line: [[60, 20], [80, 10]], remove: above}
  - {cut: corner, name: bevel, through: [[90, 0, 20], [100, 10, 20], [100, 0, 10]], corner: [right, front, top]}
measures:
  - base.left to gap.left
  - base.bottom to gap.bottom
  - radius of body.nose
  - base.bottom to body.nose.axis
  - body.front to body.back
  - diameter of bosses
  - diameter of drilled.2.wall
  - drilled.1.axis to drilled.2.axis
  - diameter of stepped.counterbore
  - base.front to stepped.shoulder
  - angle of ramp.face to base.top
  - edge of ramp.face and base.top to base.back along y
  - long_slot.1.axis to long_slot.2.axis
  - base.left to eye.left
  - edge of tongue.left and tongue.floor to base.right
"""


def changed(text: str, *changes: tuple[str, str]) -> str:
    """The text with each first part, which must be there, replaced by the second."""
    for old, new in changes:
        assert old in text, old
        text = text.replace(old, new, 1)
    return text
