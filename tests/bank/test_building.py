"""Features with sizes: each kind comes out as its record, and what no workshop could make is refused at its field."""

import math

import pytest

from sheetgen.bank import BankError, load_text
from sheetgen.bank.features import (
    Block,
    Cone,
    Corner,
    Cylinder,
    Dovetail,
    End,
    Hole,
    Lug,
    MeasureSpec,
    Obround,
    Piece,
    Profile,
    Rib,
    Slant,
    Vee,
)
from sheetgen.bank.sides import side_names
from tests.bank.samples import BLOCK, EVERY_KIND, changed


@pytest.fixture(scope="module")
def every():
    return load_text(EVERY_KIND, "every-kind")


def test_every_kind_of_feature_comes_out_as_it_was_written(every):
    assert every.sample(1).features == (
        Block("base", False, (0, 100), (0, 80), (0, 20)),
        Profile("body", False, "front", (0, 20),
                (Piece((40, 20), "sole"), Piece((20, 40), "nose", (20, 20), "left"), Piece((0, 40)), Piece((0, 20), "rear")),
                (10, 30)),
        Cylinder("bosses", False, "z", ((60, 20), (60, 60)), 24, (20, 30)),
        Cone("tip", False, "z", (85, 40), (20, 8), (20, 35)),
        Lug("ear", False, "front", (50, 60), 20, "up", 20, (70, 80)),
        Obround("long_pad", False, "top", ((70, 40), (74, 40)), 6, (20, 24)),
        Rib("web", "right", (70, 20), (-20, 15), (48, 52)),
        Dovetail("tongue", False, "front", (90, 30), 16, 10, 60, "up", (0, 10)),
        Block("gap", True, (10, 20), (None, None), (10, None)),
        Hole("drilled", "top", ((60, 20), (60, 60)), 12, 30, 15, 120),
        Hole("stepped", "front", ((30, 10),), 6, counterbore=(12, 4)),
        Hole("sunk", "front", ((50, 10),), 6, countersink=(12, 90)),
        Cylinder("through", True, "y", ((50, 60),), 8, (None, None)),
        Lug("eye", True, "top", (30, 70), 8, "down", None, (None, None)),
        Obround("long_slot", True, "top", ((90, 60), (90, 70)), 6, (None, None)),
        Vee("vee", "front", (80, 10), "up", 90, (None, 5)),
        Slant("ramp", "right", ((60, 20), (80, 10)), "above", (None, None)),
        Corner("bevel", ((90, 0, 20), (100, 10, 20), (100, 0, 10)), (1, -1, 1)),
    )


def test_measures_come_out_in_order_as_ends_and_kinds(every):
    specs = every.sample(1).measure_specs
    assert specs[0] == MeasureSpec("span", End(("base.left",)), End(("gap.left",)))
    assert specs[2] == MeasureSpec("radius", End(("body.nose",)))
    assert specs[10] == MeasureSpec("angle", End(("ramp.face",)), End(("base.top",)))
    assert specs[11] == MeasureSpec("span", End(("ramp.face", "base.top")), End(("base.back",)), "y")
    assert len(specs) == 15


@pytest.mark.parametrize(("measure", "spec"), [
    ("depth of drilled", MeasureSpec("depth", End(("drilled",)))),
    ("depth of stepped.counterbore", MeasureSpec("depth", End(("stepped.counterbore",)))),
    ("diameter of sunk.countersink", MeasureSpec("diameter", End(("sunk.countersink",)))),
    ("angle of sunk.countersink", MeasureSpec("angle", End(("sunk.countersink",)))),
])
def test_a_note_at_a_hole_gives_diameters_depths_and_the_angle_of_a_countersink(measure, spec):
    drilled = changed(EVERY_KIND, ("diameter of bosses", measure))
    flat = changed(drilled, ("    depth: 15\n    point: 120\n", "    depth: 15\n"))
    assert load_text(drilled).sample(1).measure_specs[5] == load_text(flat).sample(1).measure_specs[5] == spec


@pytest.mark.parametrize(("measure", "sides"), [
    ("radius of long_slot.1.round and long_slot.2.round", ("long_slot.1.round", "long_slot.2.round")),
    ("radius of long_pad.1.round, long_pad.2.round and body.nose", ("long_pad.1.round", "long_pad.2.round", "body.nose")),
])
def test_arcs_that_are_alike_may_share_one_radius(measure, sides):
    shared = changed(EVERY_KIND, ("diameter of bosses", measure))
    assert load_text(shared).sample(1).measure_specs[5] == MeasureSpec("radius", End(sides))


@pytest.mark.parametrize(("measure", "found", "wanted"), [
    ("radius of body.nose long_slot.1.round", "body.nose long_slot.1.round", "`radius of A and B`"),
    ("radius of body.nose and", "radius of body.nose and", "`radius of A and B`"),
    ("radius of", "radius of", "`radius of A`"),
    ("radius of body.nose and body.nose", "body.nose and body.nose", "each side once"),
    ("radius of body.nose and base.left", "'base.left'", "round"),
    ("depth of stepped", "'stepped'", "stepped.counterbore"),              # the hole itself goes right through
    ("depth of base", "'base'", "a blind hole"),
    ("depth of sunk to base.top", "to base.top", "nothing more"),
    ("angle of ramp.face", "angle of ramp.face", "angle of body.ramp to base.bottom"),
    ("angle of stepped.counterbore", "angle of stepped.counterbore", "angle of body.ramp to base.bottom"),
])
def test_only_what_has_a_depth_or_an_angle_by_itself_is_measured_so(measure, found, wanted):
    with pytest.raises(BankError) as error:
        load_text(changed(EVERY_KIND, ("diameter of bosses", measure)))
    (fault,) = error.value.faults
    assert found in f"{fault.found} ({fault.sizes})" and wanted in fault.wanted


def test_several_holes_alike_share_one_note_for_their_counterbores():
    two = changed(EVERY_KIND, ("at: [30, 10], diameter: 6", "at: [[30, 10], [40, 10]], diameter: 6"),
                  ("stepped.shoulder", "stepped.1.shoulder"), ("diameter of bosses", "depth of stepped.counterbore"))
    assert load_text(two).sample(1).measure_specs[5] == MeasureSpec("depth", End(("stepped.counterbore",)))


@pytest.mark.parametrize(("name", "sides"), [
    ("base", {"left", "right", "front", "back", "bottom", "top"}),
    ("gap", {"left", "right", "bottom"}),                        # an open end is no side
    ("body", {"sole", "nose", "nose.axis", "nose.wall", "rear", "front", "back"}),
    ("stepped", {"axis", "wall", "counterbore", "shoulder"}),
    ("sunk", {"axis", "wall", "countersink"}),
    ("drilled", {f"{k}.{side}" for k in (1, 2) for side in ("axis", "wall", "point")}),
    ("through", {"axis", "wall"}),
    ("tip", {"axis", "wall", "bottom", "top"}),
    ("ear", {"round", "axis", "wall", "floor", "left", "right", "front", "back"}),
    ("eye", {"round", "axis", "wall", "left", "right"}),
    ("web", {"slope", "left", "right"}),
    ("vee", {"left", "right", "back"}),
    ("ramp", {"face"}),
    ("tongue", {"floor", "left", "right", "front", "back"}),
    ("bevel", {"face"}),
])
def test_a_feature_names_its_sides(every, name, sides):
    spec = next(spec for spec in every.features if spec.name == name)
    assert set(side_names(spec)) == sides


@pytest.mark.parametrize(("old", "new", "field", "found"), [
    ("z: [0, 20]}", "z: [0, width - 100]}", "base: z", "from 0 to 0 (with width 100)"),
    ("diameter: 2*bore", "diameter: bore - 12", "bosses: diameter", "0 (with bore 12)"),
    ("[[60, 20], [60, 60]]", "[[60, 20], [60, 20]]", "bosses: at[2]", "[60, 20] a second time"),
    ("diameters: [20, 8]", "diameters: [8, 8]", "tip: diameters", "[8, 8]"),
    ("foot: 20", "foot: 60", "ear: foot", "60, with the centre at 60"),
    ("[[70, 40], [74, 40]]", "[[70, 40], [74, 41]]", "long_pad: centres", "[70, 40] and [74, 41]"),
    ("legs: [-20, 15]", "legs: [0, 15]", "web: legs", "[0, 15]"),
    ("width: 16, height: 10", "width: 11, height: 10", "tongue: width", "a neck of"),
    ("depth: 15", "depth: -15", "drilled: depth", "-15"),
    ("point: 120", "point: 180", "drilled: point", "180"),
    ("{diameter: 12, depth: 4}", "{diameter: 6, depth: 4}", "stepped: counterbore.diameter", "6"),
    ("{diameter: 12, angle: 90}", "{diameter: 12, angle: 190}", "sunk: countersink.angle", "190"),
    ("toward: up, angle: 90", "toward: up, angle: 180", "vee: angle", "180"),
    ("[[60, 20], [80, 10]], remove", "[[60, 20], [60, 10]], remove", "ramp: line", "[60, 20] to [60, 10]"),
    ("[[90, 0, 20], [100, 10, 20], [100, 0, 10]]", "[[0, 0, 0], [1, 1, 1], [2, 2, 2]]", "bevel: through", "one line"),
    ("arc: [20, 40]", "arc: [20, 41]", "body: outline[3].centre", "20 mm from the beginning and 21"),
    ("- close: yes\n        side: rear", "- line: [0, 30]", "body: outline[5]", "an end at [0, 30]"),
    ("- line: [0, 40]", "- line: [20, 40]", "body: outline[4]", "no length"),
    ("diameter: 8}", "diameter: 8/(width - 100)}", "through: diameter", "a division by 0 (with width 100)"),
])
def test_what_no_workshop_could_make_is_refused_at_its_field_with_the_sizes(old, new, field, found):
    text = changed(EVERY_KIND, (old, new))
    with pytest.raises(BankError) as caught:
        load_text(text, "every-kind").sample(1)
    (fault,) = caught.value.faults
    assert fault.field.endswith(field)
    assert found in f"{fault.found} ({fault.sizes})"
    line = text.splitlines()[fault.line - 1]
    assert line in new or new.splitlines()[0] in line or "centre:" in line


@pytest.mark.parametrize(("old", "new", "wanted"), [
    ("axis: z\n", "axis: y\n", "`y:` instead"),
    ("plane: front\n", "plane: top\n", "`z:` instead"),
    ("    point: 120\n", "    counterbore: {diameter: 20, depth: 3}\n    countersink: {diameter: 20, angle: 90}\n",
     "one of counterbore"),
    ("    depth: 15\n", "", "a depth as well"),
    ("turn: left\n", "turn: clockwise\n", "left, right"),
    ("        turn: left\n", "", "clockwise"),
    ("- line: [40, 20]\n        side: sole", "- line: [40, 20]\n        side: nose", "another name"),
    ("side: sole", "side: front", "another name"),
    ("- start: [0, 20]", "- line: [0, 20]", "`start:` first"),
    ("- close: yes\n        side: rear", "- close: yes\n      - line: [0, 20]", "last"),
    ("[right, front, top]", "[right, top, front]", "front or back"),
    ("{cut: slot, name: gap, x: [10, 20], z: [10, open]}", "{cut: slot, name: gap, x: open}", "leaves nothing"),
    ("name: gap", "name: base", "another name"),
    ("foot: 20, ", "", "where the straight part begins"),
    ("toward: down}", "toward: dwon}", "down"),
    ("mouth: top", "mouth: upper", "left, right, front, back, bottom, top"),
])
def test_fields_that_do_not_go_together_are_told_when_the_file_is_read(old, new, wanted):
    with pytest.raises(BankError) as caught:
        load_text(changed(EVERY_KIND, (old, new)), "every-kind")
    assert any(wanted in fault.wanted for fault in caught.value.faults), str(caught.value)


def test_an_alternative_needs_its_features_and_a_measure_those_of_its_first():
    text = changed(
        BLOCK,
        ("sizes:\n", "sizes:\n  hand: {one of: [left, right]}\n"),
        ("measures:\n", '  - {cut: step, name: notch, x: [width/2, open], z: [10, open], when: hand == "right"}\n'
                        "measures:\n  - base.bottom to base.top or notch.bottom to base.top\n"
                        "  - notch.left to base.right or base.left to notch.left\n"),
    )
    family = load_text(text, "handed")
    left, right = (family.variant({"hand": hand, "width": 90, "height": 20}) for hand in ("left", "right"))
    assert [len(specs) for specs in left.measures] == [1, 1]
    assert [len(specs) for specs in right.measures] == [2, 2, 1]


def test_a_feature_that_does_not_count_takes_its_measures_with_it():
    text = changed(
        BLOCK,
        ("sizes:\n", "sizes:\n  hand: {one of: [left, right]}\n"),
        ("measures:\n", '  - {cut: step, name: notch, x: [width/2, open], z: [10, open], when: hand == "right"}\n'
                        "measures:\n  - notch.left to base.right\n"
                        '  - {measure: base.bottom to base.top, when: hand == "left"}\n'),
    )
    family = load_text(text, "handed")
    left, right = (family.variant({"hand": hand, "width": 90, "height": 20}) for hand in ("left", "right"))
    assert [len(v.features) for v in (left, right)] == [1, 2]
    assert [spec.a.sides for spec in left.measure_specs] == [("base.bottom",), ("base.left",)]
    assert [spec.a.sides for spec in right.measure_specs] == [("notch.left",), ("base.left",)]


def test_a_left_arc_of_the_shipped_profile_record_turns_anticlockwise(every):
    """The arc from (40, 20) about (20, 20) to (20, 40) is a quarter turn with the area on its left."""
    body = every.sample(1).features[1]
    assert isinstance(body, Profile)
    (cx, cy), before, after = body.pieces[1].centre, body.pieces[0].end, body.pieces[1].end
    turn = math.atan2(after[1] - cy, after[0] - cx) - math.atan2(before[1] - cy, before[0] - cx)
    assert body.pieces[1].turn == "left"
    assert turn == pytest.approx(math.pi / 2)
