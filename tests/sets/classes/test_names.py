"""What the title block says of each student, and what it says instead of what cannot be printed."""

from __future__ import annotations

from dataclasses import replace

import pytest

from sheetgen.ink import Text
from sheetgen.sets.classes import Namer, class_list_of
from sheetgen.sets.classes.files import plain_names
from sheetgen.sets.classes.names import own_cells, without_own
from sheetgen.sheet import Style, settings_of
from sheetgen.sheet.titleblock_ink import filled_marks
from sheetgen.templating import TitleBlockValues
from sheetgen.templating.phrases import phrase

SETTINGS = settings_of(Style())
ENDLESS = "Wolfeschlegelsteinhausenbergerdorff" * 14


def namer(text, settings=SETTINGS):
    return Namer(class_list_of(text, "list.csv", {}), settings)


def printed(text, settings=SETTINGS):
    return [cells.student for cells in namer(text, settings).cells]


def remarks(text, settings=SETTINGS):
    return list(map(str, namer(text, settings).remarks))


def with_cell_for(name):
    """Settings in which the cell of the status shows a value of the student's."""
    cells = [replace(cell, text=phrase(f"{{{{ {name} }}}}", (name,))) if cell.text and "status" in cell.text.names else cell
             for cell in SETTINGS.block.cells]
    return replace(SETTINGS, block=replace(SETTINGS.block, cells=tuple(cells)))


def test_the_number_stands_beside_the_name_and_the_group_in_its_own_cell():
    [cells] = namer("No,Name,Class\n17,Ann Lee,10B\n").cells
    assert (cells.student, cells.student_number, cells.group) == ("Ann Lee, 17", "", "10B")
    assert remarks("No,Name,Class\n17,Ann Lee,10B\n") == []


def test_a_title_block_with_a_cell_for_the_number_has_it_there_alone():
    [cells] = namer("No,Name\n17,Ann Lee\n", with_cell_for("student_number")).cells
    assert (cells.student, cells.student_number) == ("Ann Lee", "17")
    [cells] = namer("Seat,Name\n4,Ann Lee\n", with_cell_for("seat")).cells
    assert (cells.student, cells.seat) == ("Ann Lee", "4")


def test_two_students_of_one_name_are_told_with_what_is_printed():
    text = "Name,No\nAnn Lee,1\nBen,2\nann  lee,3\n"
    assert printed(text) == ["Ann Lee, 1", "Ben, 2", "ann lee, 3"]
    assert remarks(text) == [
        "list.csv:2: name: found 'Ann Lee', which another student has too, wanted names that differ; 'Ann Lee, 1' is printed",
        "list.csv:4: name: found 'ann lee', as in line 2 too, wanted names that differ; 'ann lee, 3' is printed"]


def test_two_students_of_one_name_without_numbers_are_told_apart_by_their_places():
    assert printed("Name\nAnn Lee\nBen\nAnn Lee\n") == ["Ann Lee, 1", "Ben", "Ann Lee, 3"]


def test_a_name_too_long_for_its_cell_leaves_it_for_handwriting():
    assert printed(f"Name\n{ENDLESS}\n") == [""]
    [told] = remarks(f"Name\n{ENDLESS}\n")
    assert told.startswith("list.csv:2: name: found 'Wolfeschlegel") and len(told) < 200
    assert told.endswith(", too long for its cell, wanted a shorter one; the cell is left for handwriting")


def test_a_name_with_letters_that_the_lettering_lacks_leaves_its_cell_for_handwriting():
    text = "Name,No\nЖуков,1\nZoë Łukasiewicz-Ñandú,2\n"
    assert printed(text) == ["", "Zoë Łukasiewicz-Ñandú, 2"]
    assert remarks(text) == ["list.csv:2: name: found the signs 'Жуков' in 'Жуков', which the lettering lacks, wanted Latin "
                             "letters; the cell is left for handwriting"]


def test_signs_that_cannot_be_seen_are_left_out_and_told():
    text = "Name\nAnn\u202eeeL\u202c\nB\x07en\n"
    assert printed(text) == ["AnneeL", "Ben"]
    assert [told.partition(", wanted")[0] for told in remarks(text)] == [
        "list.csv:2: name: found signs in 'Ann\\u202eeeL\\u202c' that cannot be seen, such as '\\u202e'",
        "list.csv:3: name: found signs in 'B\\x07en' that cannot be seen, such as '\\x07'"]


def test_a_number_with_no_room_beside_the_name_is_left_out_and_told():
    name = "Maximiliana Featherstonehaugh-Cholmondeley of Marlingford and Little Wanstead upon Sea"
    number = "9" * 60
    assert printed(f"Name,No\n{name},{number}\n") == [name]
    assert remarks(f"Name,No\n{name},{number}\n")[0].endswith("a shorter one; the name alone is printed")


def test_a_group_that_its_cell_cannot_hold_gives_way_to_the_plans_class():
    text = f"Name,Group\nAnn,{'Advanced Drawing ' * 9}\n"
    for group, instead in (("10B", "the plan's class is printed"), ("", "the cell is left for handwriting")):
        settings = replace(SETTINGS, values=TitleBlockValues(group=group))
        assert namer(text, settings).cells[0].group == ""
        assert remarks(text, settings)[0].endswith(instead)


@pytest.mark.parametrize("text", ["=cmd|' /C calc'!A0", "../../etc/passwd", "{{ 7*7 }}", "<b>Ann</b>", "{% raw %}"])
def test_a_hostile_name_is_printed_as_it_is_written(text):
    assert printed(f'Name\n"{text}"\n') == [text]
    marks = filled_marks(own_cells(SETTINGS.block), TitleBlockValues(student=text), (0.0, 0.0))
    assert [mark.text for mark in marks if isinstance(mark, Text)] == [text]


@pytest.mark.parametrize("block", ["harbour", "quarry"])
def test_what_is_a_students_own_and_the_rest_make_the_whole_title_block(block):
    settings = settings_of(Style(title_block=block))
    values = TitleBlockValues(student="Ann", group="10B", title="Block", number="b-1", scale="1:2")

    def texts(of):
        return sorted(mark.text for mark in filled_marks(of, values, (0.0, 0.0)) if isinstance(mark, Text))

    assert texts(own_cells(settings.block)) == ["10B", "Ann"]
    assert sorted([*texts(own_cells(settings.block)), *texts(without_own(settings.block))]) == texts(settings.block)


@pytest.mark.parametrize("hostile", ["../../etc/passwd", "C:\\x", "CON", "a\0b", "‮gnp", ".hidden", "-rf", "x" * 500, "", "Жук"])
def test_names_of_files_lead_nowhere(hostile):
    [name] = plain_names([hostile], "student")
    assert name and len(name) <= 40 and set(name) <= set("abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789-")
    assert not name.startswith("-")


def test_no_two_files_have_names_that_differ_in_capitals_alone():
    names = plain_names(["a1", "A1", "a-1", "a.1", "A1"], "student")
    assert len({name.casefold() for name in names}) == 5
