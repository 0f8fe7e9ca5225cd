"""Title blocks: every template prints what a sheet must carry, fits its texts, and refuses what it cannot print."""

import pickle
from dataclasses import replace

import numpy as np
import pytest
import shapely

from sheetgen.bank import load_bank
from sheetgen.faults import Place
from sheetgen.ink import Face, Pen, Stroke, Text, reach, text_box, width_of
from sheetgen.sets import MOST_SEED
from sheetgen.sheet import PAPERS
from sheetgen.sheet.titleblock_ink import filled_marks, ruled_marks, titleblock_box
from sheetgen.templating import TemplateError, TitleBlockValues, load_title_block, load_wording, title_block_names
from tests.extent import bounds

PRACTICE_NOTICE = "PRACTICE PART - NOT FOR MANUFACTURE"

VALUES = TitleBlockValues(
    school="Harbour Technical School", course="Engineering Drawing 1", title="Slotted bracket", document_type="Question sheet",
    teacher="M. Lindqvist", student="Amara Okonkwo", group="10 B", date="2025-03-14", number="slotted-bracket-7", sheet=1,
    sheets=2, sheet_of="1 OF 2", projection="first angle", topic="Slots", status="For practice",
    units="ALL DIMENSIONS IN MILLIMETRES", notice=PRACTICE_NOTICE)

WORDING = load_wording()

SMALL = """\
title: Small
width: 100
height: 20
cells:
  - box: [0, 10, 40, 10]
    label: title
    text: "{{ title }}"
    height: 3.5
  - box: [40, 10, 60, 10]
    symbol: projection
  - box: [0, 0, 100, 10]
    text: "{{ notice }}"
"""


def texts(marks):
    return [mark.text for mark in marks if isinstance(mark, Text)]


def titleblock_marks(block, values, projection, corner):
    """The whole block: what it always looks like, and what is filled in."""
    return [*ruled_marks(block, WORDING, projection, corner), *filled_marks(block, values, corner)]


def marks_of(name="harbour", values=VALUES):
    return titleblock_marks(load_title_block(name), values, "first", (410.0, 10.0))


def block_of(tmp_path, text):
    path = tmp_path / "own.yaml"
    path.write_text(text)
    return load_title_block(path)


def faults_of(tmp_path, text):
    with pytest.raises(TemplateError) as caught:
        block_of(tmp_path, text)
    return "\n".join(line.split("own.yaml", 1)[1] for line in str(caught.value).splitlines())


def test_there_are_two_blocks_to_choose_from():
    assert title_block_names() == ("harbour", "quarry")


@pytest.mark.parametrize("name", title_block_names())
def test_every_block_carries_notice_title_scale_and_number(name):
    printed = " ".join(texts(marks_of(name)))
    for wanted in (PRACTICE_NOTICE, "ALL DIMENSIONS IN MILLIMETRES", "1:1", "SLOTTED-BRACKET-7", "2025-03-14", "Amara Okonkwo"):
        assert wanted in printed
    assert "SLOTTED BRACKET" in printed.upper() and "HARBOUR TECHNICAL SCHOOL" in printed.upper()


@pytest.mark.parametrize("name", title_block_names())
@pytest.mark.parametrize("paper", PAPERS.values(), ids=PAPERS)
def test_a_block_stands_in_the_lower_right_corner_of_the_frame(name, paper):
    block = load_title_block(name)
    x0, y0, x1, y1 = titleblock_box(block, paper)
    assert (x1, y0) == (paper.x1, paper.y0) and x0 > paper.x0 and y1 < paper.y1
    reach = bounds(titleblock_marks(block, VALUES, "third", (x1, y0)))
    assert np.abs(np.subtract(reach, (x0, y0, x1, y1))).max() <= 0.25 + 1e-9      # half the border's width


@pytest.mark.parametrize("name", title_block_names())
def test_no_rule_is_drawn_twice_and_the_frame_is_left_to_draw_itself(name):
    rules = [mark.points for mark in marks_of(name)
             if isinstance(mark, Stroke) and mark.pen in (Pen.TABLE, Pen.BORDER) and len(mark.points) == 2]
    middles = [tuple(points.mean(axis=0).round(3).tolist()) for points in rules]
    assert len(set(middles)) == len(middles)
    assert not any((points[:, 0] == 410.0).all() or (points[:, 1] == 10.0).all() for points in rules)


@pytest.mark.parametrize("name", title_block_names())
def test_lettering_stays_inside_its_block_and_texts_apart(name):
    boxes = [text_box(mark) for mark in marks_of(name) if isinstance(mark, Text)]
    spans = [(*box.min(axis=0), *box.max(axis=0)) for box in boxes]
    for place, (x0, y0, x1, y1) in enumerate(spans):
        assert all(x0 >= x3 or x2 >= x1 or y0 >= y3 or y2 >= y1 for x2, y2, x3, y3 in spans[:place])


ACCENTED = replace(
    VALUES, school="École Polygone Ågren, Québec", course="Français, Élévations",
    title="Équerre à gorge, perçage Ø12 et rainure Ågren", teacher="Ő. Łukaszęwicz", student="Đorđe Ůgy",
    topic="Çàgg Ő", status="Entraînement", number="ÇÉ-11171")


def ink_box(mark):
    """x0, y0, x1, y1 of level lettering with its tails and accents."""
    below, above = (mark.height * part for part in reach(mark.text, mark.face))
    (x0, y0), (x1, y1) = text_box(mark)[[0, 2]]
    return x0, y0 - below, x1, y1 + above


def overlap(a, b):
    return min(a[2], b[2]) > max(a[0], b[0]) and min(a[3], b[3]) > max(a[1], b[1])


@pytest.mark.parametrize("name", title_block_names())
@pytest.mark.parametrize("values", [VALUES, ACCENTED], ids=["plain", "accented"])
def test_no_tail_or_accent_touches_another_text_or_a_rule(name, values):
    marks = marks_of(name, values)
    boxes = [ink_box(mark) for mark in marks if isinstance(mark, Text)]
    for place, box in enumerate(boxes):
        assert not any(overlap(box, other) for other in boxes[:place])
    for mark in marks:
        if isinstance(mark, Stroke) and mark.pen in (Pen.TABLE, Pen.BORDER) and not mark.curved:
            for ends in zip(mark.points, mark.points[1:], strict=False):
                (x0, y0), (x1, y1) = np.sort(ends, axis=0)
                half = width_of(mark.pen) / 2
                assert not any(overlap(box, (x0 - half, y0 - half, x1 + half, y1 + half)) for box in boxes)


def test_lines_with_accents_stand_further_apart(tmp_path):
    high = SMALL.replace("height: 20", "height: 30").replace("40, 10]\n    label: title", "40, 20]\n    label: title")
    marks = titleblock_marks(block_of(tmp_path, high), replace(ACCENTED, title="ÉQUERRE À GORGE, ÅGREN"), "first", (100, 0))
    first, second = [mark for mark in marks if isinstance(mark, Text) and mark.height == 3.5]
    assert (first.text, second.text) == ("ÉQUERRE À", "GORGE, ÅGREN")
    assert first.at[1] - second.at[1] > 1.5 * 3.5


def test_a_cell_too_low_for_accents_is_refused(tmp_path):
    low = SMALL.replace("[0, 0, 100, 10]", "[0, 0, 100, 4.3]\n    least: 2.5").replace("{{ notice }}", "{{ notice }}{{ course }}")
    block = block_of(tmp_path, low)
    assert titleblock_marks(block, VALUES, "first", (100, 0))
    with pytest.raises(TemplateError, match="too low for the accents and tails of 'PRACTICE PART"):
        titleblock_marks(block, ACCENTED, "first", (100, 0))


def test_a_question_leaves_room_to_write_a_name_by_hand():
    blank = marks_of(values=replace(VALUES, student="", group=""))
    assert "STUDENT" in texts(blank) and "Amara Okonkwo" not in texts(blank)


def test_first_and_third_angle_differ_in_the_symbol_alone():
    block = load_title_block("harbour")
    first, third = (titleblock_marks(block, VALUES, angle, (410.0, 10.0)) for angle in ("first", "third"))
    assert texts(first) == texts(third)
    moved = [a for a, b in zip(first, third, strict=True)
             if isinstance(a, Stroke) and (a.pen is Pen.CENTRE or a.curved) and not np.array_equal(a.points, b.points)]
    assert len(moved) == 5       # two circles and three centre lines


def test_a_longer_title_is_set_narrower_then_lower_then_in_lines():
    def title(text):
        return [mark for mark in marks_of(values=replace(VALUES, title=text)) if isinstance(mark, Text) and mark.text in text]

    short, longer, longest = (title(text) for text in (
        "Bracket", "Slotted bearing bracket 2",
        "Slotted bearing bracket with a vee groove and two countersunk holes near its left end"))
    assert (short[0].height, short[0].face) == (5.0, Face.REGULAR)
    assert (longer[0].height, longer[0].face) == (5.0, Face.NARROW)
    assert len(longest) == 2 and longest[0].height == 2.5


@pytest.mark.parametrize("block", title_block_names())
@pytest.mark.parametrize("family", load_bank())
def test_the_longest_number_of_every_family_fits_its_cell(block, family):
    number = f"{family}-{MOST_SEED}.19"
    assert number.upper() in texts(marks_of(block, replace(VALUES, number=number)))


def test_a_title_that_fits_nowhere_is_refused_with_file_line_cell_and_width():
    with pytest.raises(TemplateError) as caught:
        marks_of(values=replace(VALUES, title="Bracket " * 30, number="n" * 60))
    first, second = str(caught.value).splitlines()
    assert first.startswith("templates/title_blocks/harbour.yaml:") and "mm wide" in first and "'Bracket" in first
    assert "NNNN" in second


@pytest.mark.parametrize("name", title_block_names())
def test_every_block_shows_what_iso_7200_asks_for_and_what_a_course_may_say(name):
    # mandatory fields of ISO 7200:2004 (from memory): legal owner, identification number, date of issue, sheet number, title,
    # approval person, creator, document type; supplementary title and document status are optional
    block = load_title_block(name)
    names = set().union(*(cell.text.names for cell in block.cells if cell.text))
    assert {"school", "number", "date", "title", "approved_by", "teacher", "document_type", "set_title", "status"} <= names
    assert names & {"sheet", "sheet_of"} and block.remarks == ()
    said = replace(VALUES, approved_by="N. Ferrous", set_title="Week 3: steps", status="For homework")
    printed = " ".join(texts(marks_of(name, said))).upper()
    assert all(text in printed for text in ("APPROVED BY", "N. FERROUS", "WEEK 3: STEPS", "FOR HOMEWORK"))


ORDINARY = replace(
    VALUES, school="Sampleford Technical and Agricultural School", course="Engineering Drawing and Design 2",
    teacher="Margaret O'Shaughnessy", approved_by="Bartholomew K. Fenwick", student="Wilhelmina Featherstonehaugh",
    group="Year 10 B", date="30 November 2026", sheet=100, sheets=100, sheet_of="100 OF 100", scale="1:10",
    number="oblique-stepped-block-999999999.19-S", status="FOR PRACTICE", title="Twin ribbed bracket, bored and slotted",
    set_title="Autumn term, week 12: eight blocks in first angle", topic="intersecting cylinders", document_type="Drawing sheet")


@pytest.mark.parametrize("written", [str, str.upper], ids=["as-written", "capitals"])
@pytest.mark.parametrize("name", title_block_names())
@pytest.mark.parametrize("paper", PAPERS.values(), ids=PAPERS)
def test_ordinary_values_print_in_every_block_on_every_paper(name, paper, written):
    assert (len(ORDINARY.school), len(ORDINARY.teacher)) == (44, 22)
    said = replace(ORDINARY, **{key: written(text) for key, text in ORDINARY.by_name().items() if isinstance(text, str)})
    block = load_title_block(name)
    x0, y0, x1, y1 = titleblock_box(block, paper)
    marks = titleblock_marks(block, said, "first", (x1, y0))
    printed = " ".join(texts(marks)).upper()
    wanted = (said.school, said.teacher, said.approved_by, said.date, said.number, said.title, said.student, said.set_title)
    assert all(text.upper() in printed for text in wanted)
    boxes = [ink_box(mark) for mark in marks if isinstance(mark, Text)]
    assert all(x0 < box[0] and y0 < box[1] and box[2] < x1 and box[3] < y1 for box in boxes)
    for place, box in enumerate(boxes):
        assert not any(overlap(box, other) for other in boxes[:place])


@pytest.mark.parametrize("name", title_block_names())
def test_every_block_keeps_a_box_of_18_mm_free_for_a_code(name):
    block = load_title_block(name)
    [(x, y, wide, high)] = [cell.box for cell in block.cells if cell.symbol == "code"]
    assert min(wide, high) >= 18
    marks = titleblock_marks(block, ORDINARY, "third", (block.width, 0.0))
    inside = shapely.box(x + 0.36, y + 0.36, x + wide - 0.36, y + high - 0.36)      # 0.35: half the frame's line
    for mark in marks:
        shape = shapely.Polygon(text_box(mark)) if isinstance(mark, Text) else shapely.LineString(mark.points)
        assert not shape.intersects(inside)


@pytest.mark.parametrize(("cell", "told"), [
    ("box: [40, 10, 17, 10]\n    symbol: code", "cells[4].box: found 17 x 10 mm for a code, wanted 18 x 18 mm or more"),
    ("box: [100, 0, 20, 20]\n    symbol: code\n    own_label: CODE", "cells[4]: found a label or text where a code is to stand"),
    ('box: [100, 0, 20, 20]\n    symbol: code\n    text: "{{ number }}"', "cells[4]: found a label or text where a code is"),
])
def test_a_box_that_a_code_could_not_be_read_in_is_refused(tmp_path, cell, told):
    wider = SMALL.replace("width: 100", "width: 120").replace("[40, 10, 60, 10]", "[60, 10, 40, 10]")
    assert told in faults_of(tmp_path, f"{wider}  - {cell}\n")


def test_a_text_goes_down_to_the_smallest_lettering_of_iso_3098_where_a_cell_says_nothing_else(tmp_path):
    def heights(text, template=SMALL):
        marks = titleblock_marks(block_of(tmp_path, template), replace(VALUES, title=text), "first", (100, 0))
        return [mark.height for mark in marks if isinstance(mark, Text) and mark.text in text]

    assert heights("Slotted bracket with ribs") == [2.5]
    long = "Slotted bracket with ribs, bored twice and countersunk"
    assert heights(long) == [1.8, 1.8]
    with pytest.raises(TemplateError, match=r"mm wide at 2.5 mm, for a room of 37.6 mm"):
        heights(long, SMALL.replace("height: 3.5", "height: 3.5\n    least: 2.5"))


def test_a_value_too_long_is_told_where_it_is_said_and_which_cell_it_is_for():
    said = {"teacher": Place("plan.yaml", 4, "teacher"), "course": Place("plan.yaml", 3, "course")}
    with pytest.raises(TemplateError) as caught:
        filled_marks(load_title_block("quarry"), replace(VALUES, teacher="W" * 60, topic="", course="M" * 60), (0, 0), said)
    course, teacher = sorted(caught.value.faults)
    assert (teacher.file, teacher.line, teacher.field) == ("plan.yaml", 4, "teacher") and "'WWWW" in teacher.found
    assert (course.file, course.line, course.field) == ("plan.yaml", 3, "course")      # where there is no topic
    assert "it stands in cells[2] of templates/title_blocks/quarry.yaml, line " in teacher.wanted


def test_of_two_values_in_a_cell_the_longer_is_to_blame(tmp_path):
    block = block_of(tmp_path, SMALL.replace("{{ title }}", "{{ date }} {{ title }}"))
    places = {name: Place("plan.yaml", line, name) for line, name in enumerate(("date", "title"), 1)}
    for long in ("date", "title"):
        with pytest.raises(TemplateError) as caught:
            filled_marks(block, replace(VALUES, **{"date": "1 May", "title": "Block", long: "W" * 60}), (0, 0), places)
        assert [fault.field for fault in caught.value.faults] == [long]


@pytest.mark.parametrize(("shown", "missing"), [
    ("", ["no number", "no sheet", "no document_type"]), ("{{ number }}", ["no sheet", "no document_type"]),
    ("{{ document_type }} {{ number }}: {{ sheet_of }}", []), ("{{ sheet }}", ["no number", "no document_type"]),
])
def test_a_block_without_number_sheet_or_document_type_is_remarked_on_and_taken(tmp_path, shown, missing):
    block = block_of(tmp_path, SMALL.replace("{{ notice }}", "{{ notice }} " + shown))
    assert [remark.found for remark in block.remarks] == missing
    assert all(remark.file.endswith("own.yaml") and "{{ " in remark.wanted for remark in block.remarks)


def test_a_sign_that_the_lettering_lacks_is_named():
    with pytest.raises(TemplateError, match=r"Ж \(U\+0416 CYRILLIC CAPITAL LETTER ZHE\)"):
        marks_of(values=replace(VALUES, title="Жук"))


def test_a_block_goes_to_another_process_and_prints_the_same():
    block = load_title_block("quarry")
    again = pickle.loads(pickle.dumps(block))
    assert texts(titleblock_marks(again, VALUES, "first", (0, 0))) == texts(titleblock_marks(block, VALUES, "first", (0, 0)))


def test_errors_go_to_another_process_too():
    with pytest.raises(TemplateError) as caught:
        load_title_block("nothing")
    assert pickle.loads(pickle.dumps(caught.value)).faults == caught.value.faults


@pytest.mark.parametrize("name", [
    "../wording/en", "/etc/passwd", "..", "", "harbour/../quarry", "HARBOUR", "harbour\n", "x" * 9999])
def test_a_name_from_a_plan_cannot_leave_the_folder(name):
    with pytest.raises(TemplateError, match="wanted one of harbour, quarry"):
        load_title_block(name)


def test_a_teacher_may_bring_a_block_of_their_own(tmp_path):
    block = block_of(tmp_path, SMALL)
    assert PRACTICE_NOTICE in texts(titleblock_marks(block, VALUES, "first", (100, 0)))


@pytest.mark.parametrize(("old", "new", "told"), [
    ("width: 100", "width: wide", ":2: width: found 'wide', wanted a number from 60 to 190"),
    ("width: 100", "wdth: 100", ":2: wdth: found an unknown field 'wdth', wanted width (one of the fields title, width"),
    ("height: 3.5", "height: 4", ":8: cells[1].height: found '4', wanted one of 1.8, 2.5, 3.5, 5, 7, 10 mm"),
    ("[40, 10, 60, 10]", "[30, 10, 60, 10]", ":9: cells[2].box: found [30, 10, 60, 10], which overlaps the cell 'title' of line"),
    ("[40, 10, 60, 10]", "[40, 10, 70, 10]", ":9: cells[2].box: found [40, 10, 70, 10], wanted a box inside the block's"),
    ("[40, 10, 60, 10]", "[40, 10, 60]", ":9: cells[2].box: found a list of 3, wanted four numbers"),
    ("symbol: projection", "symbol: skull", ":10: cells[2].symbol: found 'skull', wanted one of projection"),
    ("symbol: projection", "label: scale", ": cells: found no projection symbol"),
    ("label: title", "label: TITEL", ":6: cells[1].label: found 'TITEL', wanted one of the labels school_and_course, title"),
    ("{{ notice }}", "hello", ": cells: found no practice notice"),
    ("{{ title }}", "{{ titel }}", ":7: cells[1].text: found the unknown value titel"),
    ("{{ title }}", "{% for x in title %}{% endfor %}", ":7: cells[1].text: found the construction 'for'"),
    ("box: [0, 0, 100, 10]", "own_label: X", ":11: cells[3].box: found nothing, wanted four numbers"),
    ("title: Small", "title: Small\ndrawing:\n  - lines: [[0, 0, 300, 300]]", ":3: drawing: found [0, 0, 300, 300]"),
    ("title: Small", "title: Small\ndrawing:\n  - arcs: [[5, 5, 9, 0, 360]]", ":3: drawing: found [5, 5, 9, 0, 360]"),
    ("title: Small", "title: Small\ndrawing:\n  - lines: [[0, 0, 1]]", ":3: drawing[1].lines[1]: found a list of 3"),
])
def test_a_slip_in_a_template_is_told_with_line_field_found_and_wanted(tmp_path, old, new, told):
    assert told in faults_of(tmp_path, SMALL.replace(old, new))


def test_all_slips_of_a_template_are_told_together(tmp_path):
    broken = SMALL.replace("width: 100", "width: wide").replace("height: 3.5", "height: 4").replace("{{ title }}", "{{ titel }}")
    assert faults_of(tmp_path, broken).count("found") == 3


def test_a_cell_too_low_for_its_lettering_is_refused(tmp_path):
    block = block_of(tmp_path, SMALL.replace("[0, 0, 100, 10]", "[0, 0, 100, 3]"))
    with pytest.raises(TemplateError, match="too low for 'PRACTICE PART"):
        titleblock_marks(block, VALUES, "first", (100, 0))


@pytest.mark.parametrize(("drawing", "cells"), [
    ("lines: [[0, 5, 100, 5]]", "the cell '{{ notice }}' of line 11"),
    ("arcs: [[40, 10, 4, 0, 90]]", "the cell 'projection' of line 9"),
    ("lines: [[20, 2, 20, 18]]", "the cell 'title' of line 5, the cell '{{ notice }}' of line 11")])
def test_a_free_line_through_a_cell_is_refused(tmp_path, drawing, cells):
    told = faults_of(tmp_path, SMALL + f"drawing:\n  - {drawing}\n")
    assert told.startswith(":14: drawing: found [") and f"which runs through {cells}, wanted" in told


def test_a_path_that_is_no_yaml_file_is_refused(tmp_path):
    with pytest.raises(TemplateError, match=r"wanted a \.yaml or \.yml file"):
        load_title_block(tmp_path / "secrets.txt")
