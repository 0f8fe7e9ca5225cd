"""Hand-made bodies, as feature records: the golden solids, and a set that between them hold every kind of feature."""

from __future__ import annotations

from sheetgen.bank.features import (
    Block,
    Cone,
    Corner,
    Cylinder,
    Dovetail,
    Feature,
    Hole,
    Lug,
    Obround,
    Piece,
    Profile,
    Rib,
    Slant,
    Span,
    Vee,
)

ALL: Span = (None, None)
Features = tuple[Feature, ...]


def block(x: tuple[float, float], y: tuple[float, float], z: tuple[float, float]) -> Block:
    return Block("block", False, x, y, z)


def slot(x: Span = ALL, y: Span = ALL, z: Span = ALL) -> Block:
    return Block("slot", True, x, y, z)


def profile(plane: str, start: tuple[float, float], *steps: tuple, along: Span, cut: bool = False) -> Profile:
    """An outline: (u, v) is a line to there; (u, v, cu, cv, turn) an arc about (cu, cv)."""
    pieces = tuple(Piece((s[0], s[1])) if len(s) == 2 else Piece((s[0], s[1]), None, (s[2], s[3]), s[4]) for s in steps)
    return Profile("outline", cut, plane, start, pieces, along)


S1: Features = (block((0, 60), (0, 40), (0, 15)), block((0, 20), (0, 40), (0, 40)), slot(x=(40, None), y=(12, 28)))
S2: Features = (block((0, 60), (0, 40), (0, 40)), Slant("slope", "front", ((36, 40), (60, 16)), "above", ALL),
                slot(x=(8, 20), z=(30, None)), slot(y=(14, 26), z=(None, 10)))
S3: Features = (block((0, 50), (0, 50), (0, 30)), Hole("hole", "top", ((25, 25),), 20, counterbore=(30, 10)))
S4: Features = (block((0, 60), (0, 40), (0, 20)), block((0, 60), (20, 40), (0, 50)), slot(x=(22, 38), y=(20, None), z=(10, None)))
S5: Features = (block((0, 40), (0, 40), (0, 40)), Corner("corner", ((20, 0, 40), (40, 24, 40), (40, 0, 10)), (1, -1, 1)))

GOLDEN = {"S1": S1, "S2": S2, "S3": S3, "S4": S4, "S5": S5}

BODIES: dict[str, Features] = {
    # base with an upright lug, a bore through both, a blind drilled hole and a rib at the back of the upright
    "lug bracket": (
        block((0, 80), (0, 50), (0, 12)),
        Lug("upright", False, "front", (40, 45), 36, "up", 12, (36, 50)),
        Hole("bore", "front", ((40, 45),), 18, level=36),
        Hole("bolt", "top", ((12, 14), (68, 14)), 10, level=12),
        Hole("drilled", "top", ((40, 12),), 8, level=12, depth=7, point_angle=118),
        Rib("rib", "right", (36, 12), (-20, 18), (56, 62))),
    # plate: counterbore from above, countersink from above, blind counterbore from the right, hole through the front boss
    "hole plate": (
        block((0, 90), (0, 60), (0, 25)),
        Hole("counterbore", "top", ((22, 20),), 12, counterbore=(22, 9)),
        Hole("countersink", "top", ((65, 37),), 10, countersink=(20, 90)),
        Hole("side", "right", ((30, 13),), 9, depth=18, counterbore=(14, 5)),
        Hole("left", "left", ((47, 10),), 7, depth=16, point_angle=120),
        Hole("back", "back", ((47, 12),), 6, depth=10, countersink=(11, 82)),
        Hole("under", "bottom", ((45, 20),), 8, depth=11)),
    # turned part standing on a square flange, with a coaxial cone and a cross bore
    "turned post": (
        block((0, 60), (0, 60), (0, 10)),
        Cylinder("post", False, "z", ((30, 30),), 36, (10, 40)),
        Cone("taper", False, "z", (30, 30), (36, 20), (40, 58)),
        Hole("axial", "top", ((30, 30),), 12, depth=18, point_angle=118),
        Cylinder("cross", True, "x", ((30, 25),), 10, ALL),
        Cylinder("pins", True, "z", ((8, 8), (52, 8), (52, 52)), 6, (None, 10))),
    # a bore crossed by a smaller one, to one side of its axis, and met by a blind one from the left
    "crossed bores": (
        block((0, 50), (0, 44), (0, 40)),
        Hole("bore", "top", ((25, 22),), 24),
        Hole("cross", "front", ((27, 14),), 12),
        Hole("oil", "left", ((22, 29),), 6, depth=20)),
    # saddle: outline with tangent and non-tangent arcs along the depth
    "saddle": (
        profile("front", (0, 0), (90, 0), (90, 12), (78, 24, 78, 12, "left"), (65, 24), (25, 24, 45, 24, "right"),
                (12, 24), (0, 12, 12, 12, "left"), (0, 0), along=(0, 40)),
        profile("top", (38, 0), (52, 0), (52, 9), (38, 9, 45, 9, "left"), (38, 0), along=ALL, cut=True)),
    # slots with round ends in all three planes, a pad with two round ends
    "slotted": (
        block((0, 80), (0, 50), (0, 30)),
        Obround("pad", False, "top", ((25, 25), (55, 25)), 30, (30, 38)),
        Obround("long", True, "top", ((30, 25), (50, 25)), 10, ALL),
        Obround("window", True, "front", ((12, 11), (12, 20)), 8, (None, 17)),
        Lug("open", True, "top", (68, 25), 12, "left", None, (12, None)),
        Lug("keyway", True, "right", (25, 9), 10, "up", None, (66, None)),
        Lug("floor", True, "front", (50, 18), 9, "down", 26, (None, 14))),
    "guide": (
        block((0, 70), (0, 46), (0, 36)),
        Dovetail("groove", True, "front", (22, 24), 24, 12, 60, "up", ALL),
        Dovetail("tongue", False, "right", (23, 48), 28, 12, 60, "up", (48, 70)),
        Vee("vee", "front", (70 - 12, 8), "right", 60, ALL),
        Vee("under", "right", (23, 10), "down", 90, (None, 48))),
    "wedge": (
        block((0, 72), (0, 48), (0, 44)),
        Slant("slope", "right", ((0, 16), (30, 44)), "above", (20, None)),
        Slant("end", "top", ((72, 30), (54, 48)), "right", ALL),
        Slant("chin", "front", ((0, 30), (9, 44)), "left", ALL),
        Hole("bore", "front", ((46, 14),), 12),
        Hole("steep", "top", ((46, 16),), 14, depth=30)),
    "oblique": (
        block((0, 60), (0, 50), (0, 46)),
        slot(x=(None, 22), y=(18, None), z=(20, None)),
        Corner("corner", ((28, 0, 46), (60, 33, 46), (60, 0, 13)), (1, -1, 1)),
        Corner("heel", ((60, 41, 0), (48, 50, 0), (60, 50, 17)), (1, 1, -1)),
        Hole("bore", "left", ((9, 11),), 10, depth=34, point_angle=118)),
    # a shaft lying along x, with a taper, a keyway, a flat and a cross hole of the same bore as its axial hole
    "shaft": (
        Cylinder("shaft", False, "x", ((20, 20),), 40, (0, 60)),
        Cone("taper", False, "x", (20, 20), (40, 24), (60, 90)),
        Cylinder("neck", False, "x", ((20, 20),), 16, (90, 104)),
        slot(x=(None, 24), y=(15, 25), z=(34, None)),
        slot(x=(30, 60), z=(36, None)),
        Cylinder("cross", True, "z", ((45, 20),), 12, ALL),
        Hole("axial", "left", ((20, 20),), 12, depth=52)),
    # two bosses on a wall, cut by a cone from below, ribs on both sides
    "bearing": (
        block((0, 100), (0, 44), (0, 10)),
        block((44, 56), (0, 44), (10, 34)),
        Cylinder("hub", False, "y", ((50, 44),), 40, (-4, 48)),
        Cylinder("boss", False, "z", ((18, 22), (82, 22)), 22, (10, 16)),
        Rib("left rib", "front", (44, 10), (-14, 14), (18, 26)),
        Rib("right rib", "front", (56, 10), (14, 14), (18, 26)),
        Hole("journal", "front", ((50, 44),), 24),
        Hole("bolts", "top", ((18, 22), (82, 22)), 9, level=16, countersink=(14, 90)),
        Cone("cup", True, "z", (50, 22), (26, 10), (0, 8))),
    # a fork: round-ended arms along the depth, tangent arc at the foot
    "fork": (
        profile("right", (0, 0), (56, 0), (56, 14), (30, 14), (20, 24, 30, 24, "right"), (20, 50), (0, 50), (0, 0),
                along=(0, 64)),
        Lug("arm", False, "right", (10, 50), 20, "up", 40, (0, 64)),
        slot(x=(20, 44), z=(26, None)),
        Hole("pin", "left", ((10, 50),), 10),
        Lug("left ear", True, "top", (12, 44), 11, "down", None, ALL),
        Lug("right ear", True, "top", (52, 44), 11, "down", None, ALL)),
    # two rounds that meet where both are upright: from above and below a line, though the join is smooth (the textbook rule of
    # the common tangent plane seen edge-on, from memory)
    "ogee": (
        profile("right", (0, 0), (56, 0), (56, 14), (30, 14), (20, 24, 30, 24, "right"), (10, 34, 10, 24, "left"), (0, 34),
                (0, 0), along=(0, 50)),
        slot(x=(20, 28), y=(34, None), z=(8, None))),
    "spike": (
        block((0, 40), (0, 40), (0, 10)),
        Cone("spike", False, "z", (20, 20), (32, 0), (10, 50)),
        Hole("drilled", "bottom", ((20, 20),), 10, depth=6, point_angle=90)),
    "tee of pipes": (
        Cylinder("run", False, "x", ((20, 20),), 30, (0, 70)),
        Cylinder("branch", False, "z", ((35, 20),), 30, (20, 50)),
        Cylinder("bore", True, "x", ((20, 20),), 18, ALL),
        Cylinder("branch bore", True, "z", ((35, 20),), 18, (20, None))),
    "round cut aslant": (
        Cylinder("post", False, "z", ((20, 20),), 40, (0, 60)),
        Corner("corner", ((20, 0, 60), (40, 20, 60), (40, 0, 20)), (1, -1, 1)),
        Slant("slope", "front", ((0, 40), (20, 60)), "above", ALL)),
    # a boss as wide as the block it stands on, its wall tangent to two faces
    "tangent boss": (
        block((0, 60), (0, 40), (0, 15)),
        Cylinder("boss", False, "z", ((20, 20),), 40, (15, 40)),
        Hole("bore", "top", ((20, 20),), 16)),
}
"""Between them they hold every record of ``sheetgen.bank.features``: added and cut, every plane, every mouth."""
