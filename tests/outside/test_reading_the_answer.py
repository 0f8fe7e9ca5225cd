"""A stranger reads the answer sheet: every number is held against the drawing itself, with a rule laid on the paper.

``reader`` and ``sizes`` know nothing of the program; they see lines, filled triangles and letters. What should be printed
comes from the part's own measures.
"""

from __future__ import annotations

from collections import Counter

import numpy as np
import pytest
import shapely

from tests.outside.reader import Box, Line, Sheet
from tests.outside.sheets import ANSWERS, Made, answer
from tests.outside.sizes import circle_at, circles_at, part_lines

RULE = 0.05       # mm, and degrees: as near as a size is read


@pytest.fixture(scope="module", params=ANSWERS, ids=lambda key: "-".join(map(str, key)))
def made(request) -> Made:
    """Answer sheets of some families, in one projection or the other, with sizes to be read."""
    found = answer(*request.param)
    assert len(found.sizes.linear) + len(found.sizes.notes) >= 5
    return found


def test_every_number_in_the_drawing_stands_at_one_dimension_line_or_leader(made):
    assert made.sizes.stray == ()


def test_a_length_is_the_distance_between_the_arrowheads_under_it(made):
    wrong = [(size.number, size.distance / made.sheet.scale) for size in made.sizes.linear
             if abs(size.distance / made.sheet.scale - size.number) > RULE]
    assert made.sizes.linear
    assert wrong == []


def test_an_angle_is_the_turn_between_its_arrowheads_about_the_corner(made):
    for size in made.sizes.angular:
        assert size.degrees == pytest.approx(size.number, abs=RULE)
        away = [np.linalg.norm(line.points - size.centre, axis=1).min() for line in made.sheet.wide]
        assert min(away) < RULE, "the arc is not centred on the corner"


def test_every_measure_of_the_part_is_printed_once_and_no_other_number(made):
    lengths = [size.lettering.text for size in (*made.sizes.linear, *made.sizes.angular)]
    in_notes = [m for m in made.problem.measures if m.kind in ("diameter", "radius", "depth") or m.rounds]
    across = [text for text in lengths if text.startswith("Ø")]
    assert Counter(lengths) - Counter(across) == Counter(m.text for m in made.problem.measures if m not in in_notes)
    noted = Counter(part for note in made.sizes.notes for entry in note.letterings for part in _said(entry.text, note.places))
    noted += Counter(part for text in across for part in _said(text, _printed(text)))
    assert noted == Counter(part for m in in_notes for part in _said(m.text, m.count))


def _printed(text: str) -> int:
    """How many things alike a size across the outlines of one says that there are."""
    return int(text.split(" × ")[0]) if text.split(" × ")[0].isdecimal() else 1


def _said(text: str, places: int) -> list[tuple[str, int]]:
    """A note's sizes one by one, each with its sign and how many places it speaks of.

    2 × Ø16, C'BORE Ø28 × 10 DEEP says Ø16 and Ø28, both at two places, and 10 DEEP. The number may stand in the first line
    only, for all of them, or in each (common practice, no source); a depth is measured at one place.
    """
    words = text.removeprefix("C'BORE ").removeprefix("CSK ").removesuffix(" THROUGH").removesuffix(" FLAT").split(" × ")
    counts = [int(word) for word in words if word.isdecimal()]
    assert counts in ([], [places]), f"{text} stands at {places} places"
    return [(word, places if word[0] in "ØR" else 1) for word in words if not word.isdecimal()]


def test_a_leader_touches_a_circle_of_the_diameter_or_radius_it_gives(made):
    for note in made.sizes.notes:
        touched = circles_at(made.sheet, note.arrow.tip)
        assert touched, f"the arrowhead of {note.text} touches no circle"
        sizes = {round(circle.radius / made.sheet.scale, 2) for circle in touched}
        given = {*(diameter / 2 for diameter in note.diameters), *note.radii}
        assert sizes & given, f"{note.text} points at a circle of radius {sizes}"


def test_every_diameter_in_a_note_is_a_circle_about_the_same_centre(made):
    for note in made.sizes.notes:
        centre = circle_at(made.sheet, note.arrow.tip).centre
        about = [circle for circle in made.sheet.circles if np.linalg.norm(circle.centre - centre) < RULE]
        drawn = [circle.radius / made.sheet.scale for circle in about]
        for radius in (*(diameter / 2 for diameter in note.diameters), *note.radii):
            assert any(abs(radius - other) < RULE for other in drawn), f"no circle of radius {radius} for {note.text}"


def test_a_leader_points_at_the_centre_of_its_circle(made):
    """Leaders to circles are radial (common practice, no source)."""
    for note in made.sizes.notes:
        circle = circle_at(made.sheet, note.arrow.tip)
        radial = (note.arrow.tip - circle.centre) / circle.radius
        assert abs(float(note.arrow.way @ radial)) == pytest.approx(1.0, abs=1e-4)


def test_a_note_for_several_holes_finds_as_many_circles(made):
    """Or arcs, of a radius; a boss round which an arc runs shows its whole circle. Those of the same size that have a note of
    their own are not counted. Of holes one behind the other on one axis a view shows one circle."""
    axes = {(m.kind, round(m.value, 3), m.count): len(m.rounds) for m in made.problem.measures if m.rounds}
    for note in made.sizes.notes:
        if note.places > 1:
            view, round_holes = _view_of(made.sheet, circle_at(made.sheet, note.arrow.tip).centre), bool(note.diameters)
            radius = note.diameters[0] / 2 if round_holes else note.radii[0]
            bare = all(2 * radius not in other.diameters for other in made.sizes.notes)      # no note is of such circles
            others = [circle_at(made.sheet, other.arrow.tip).centre for other in made.sizes.notes
                      if other is not note and radius in (*(diameter / 2 for diameter in other.diameters), *other.radii)]
            alike = [circle for circle in made.sheet.circles
                     if (circle.line.closed == round_holes or bare) and _within(circle.centre, view)
                     and abs(circle.radius / made.sheet.scale - radius) < RULE
                     and not any(np.linalg.norm(circle.centre - other) < RULE for other in others)]
            kind, value = ("diameter", note.diameters[0]) if round_holes else ("radius", note.radii[0])
            assert len({tuple(np.round(circle.centre, 2)) for circle in alike}) == axes[kind, round(value, 3), note.places]


def _view_of(sheet: Sheet, point) -> Box:
    """The box of the view in which a point lies."""
    found = [box for box in sheet.views.values() if _within(point, box)]
    assert found, f"no view is named of which {point[0]:.1f}, {point[1]:.1f} is a place"
    return found[0]


def _within(point, box: Box) -> bool:
    return bool(box[0] < point[0] < box[2] and box[1] < point[1] < box[3])


def test_a_depth_in_a_note_is_the_length_of_the_holes_hidden_sides(made):
    hidden = [line for line in made.sheet.lines if line.dash and line.straight]
    for note in made.sizes.notes:
        # Ø16, C'BORE Ø28 × 10 DEEP: depths belong to the last diameters
        deep = zip(note.diameters[len(note.diameters) - len(note.depths):], note.depths, strict=True)
        for k, (diameter, depth) in enumerate(deep):
            # a depth counts from the outer surface (ASME Y14.5, from memory); a hole's own sides begin where its counterbore ends
            own = depth - sum(note.depths[k + 1:])
            sides = [line for line in hidden if abs(line.length - own * made.sheet.scale) < RULE]
            assert any(_apart(one, other, diameter * made.sheet.scale) for one in sides for other in sides), note.text


def _apart(one: Line, other: Line, distance: float) -> bool:
    """True if two lines run beside each other from the same level to the same level, that far apart."""
    return abs(abs(float(one.unit @ other.unit)) - 1) < 1e-6 and abs(one.off(other.points[0]) - distance) < RULE and min(
        abs(one.along(other.points[k])) for k in (0, 1)) < RULE


def test_every_arrowhead_touches_a_line_that_leads_to_the_part(made):
    """An extension line, a centre line or an edge passes through the tip, square to the dimension line."""
    dimension_lines = {id(size.line) for size in made.sizes.linear}
    others = [line for line in made.sheet.lines if line.straight and id(line) not in dimension_lines]
    for size in made.sizes.linear:
        for arrow in size.arrows:
            assert any(_crosses_at(line, arrow.tip, size.line) for line in others), f"{size.number}: nothing at {arrow.tip}"


def _crosses_at(line: Line, point, other: Line) -> bool:
    square = abs(float(line.unit @ other.unit)) < 1e-6
    return square and line.off(point) < 0.03 and -0.03 < line.along(point) < line.length + 0.03


def test_every_extension_line_begins_at_an_edge_or_axis_of_the_part(made):
    """It starts 1 to 2 mm from the line it extends (or on it), in the line's own direction or at its end."""
    drawn = shapely.MultiLineString([line.string for line in part_lines(made.sheet)])
    for size in made.sizes.linear:
        for arrow in size.arrows:
            for line in made.sheet.thin:
                if line.straight and line is not size.line and _crosses_at(line, arrow.tip, size.line):
                    nearest = min(shapely.distance(drawn, shapely.Point(end)) for end in line.points)
                    assert nearest < 2.0 + 0.03, f"{size.number}: an extension line through {arrow.tip} begins in the air"
