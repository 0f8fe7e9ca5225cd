"""Class lists as schools export them, and as strangers might."""

from __future__ import annotations

import pytest

from sheetgen.sets.classes import MOST_STUDENTS, ClassListError, ClassWishes, class_list_of, load_class_list
from sheetgen.shared import shipped


def students(text, **columns):
    return class_list_of(text, "list.csv", columns).students


def names(text, **columns):
    return [student.name for student in students(text, **columns)]


def faults(text, **columns):
    with pytest.raises(ClassListError) as told:
        class_list_of(text, "list.csv", columns)
    return [str(fault) for fault in told.value.faults]


def loaded(tmp_path, raw, encoding="utf-8", name="list.csv"):
    (tmp_path / name).write_bytes(raw)
    return load_class_list(ClassWishes(tmp_path / name, name, encoding)).students


# ---------------------------------------------------------------- what schools export


@pytest.mark.parametrize("sign", [",", ";", "\t"])
@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
def test_cells_may_be_parted_by_commas_semicolons_or_tabs_and_lines_end_as_any_system_ends_them(sign, end):
    text = end.join(sign.join(row) for row in (("No", "Name"), ("1", "Ann Lee"), ("2", "Ben Okoro"))) + end
    assert [(each.number, each.name, each.line) for each in students(text)] == [("1", "Ann Lee", 2), ("2", "Ben Okoro", 3)]


def test_a_spreadsheet_may_say_its_separating_sign_in_a_first_line():
    [ann] = students("sep=;\r\nNumber;Name\r\n1;Lee, Ann\r\n")
    assert (ann.number, ann.name, ann.line) == ("1", "Lee, Ann", 3)


def test_a_quoted_cell_may_hold_the_sign_a_line_end_and_a_mark_and_lines_are_still_counted_right():
    text = 'Name,No\n"Lee, Ann",1\n"Ben\n""Benny"" Okoro",2\nCai,3\n'
    assert [(each.name, each.line) for each in students(text)] == [("Lee, Ann", 2), ('Ben "Benny" Okoro', 3), ("Cai", 5)]


@pytest.mark.parametrize(("heading", "what"), [
    ("Full Name", "name"), ("PUPIL", "name"), ("Candidate name", "name"), ("No.", "number"), ("Student ID", "number"),
    ("roll-number", "number"), ("Reg Group", "group"), ("Form", "group"), ("Class", "group"), ("Desk", "seat"),
    ("Exam room", "room")])
def test_columns_are_found_by_the_usual_words(heading, what):
    text = f"{heading}\nQ7\n" if what == "name" else f"Name,{heading}\nAnn,Q7\n"
    assert getattr(students(text)[0], what) == "Q7"


@pytest.mark.parametrize(("first", "last"), [
    ("First name", "Last name"), ("Forename", "Surname"), ("given_names", "Family Name")])
def test_first_and_last_name_are_joined_in_whichever_order_the_columns_stand(first, last):
    assert names(f"{last},{first}\nLee,Ann\n") == names(f"{first},{last}\nAnn,Lee\n") == ["Ann Lee"]


def test_the_plan_may_say_which_heading_is_meant():
    text = "UPN,Pupil on roll,Reg\nA1,Ann,10B\n"
    [ann] = students(text, name="pupil on roll", number="UPN", group="Reg")
    assert (ann.name, ann.number, ann.group) == ("Ann", "A1", "10B")


def test_empty_rows_and_empty_cells_at_the_end_are_what_spreadsheets_write():
    assert names("Name,No\n\nAnn,1,,,\n,\n  \nBen,2\n,,,\n") == ["Ann", "Ben"]


def test_the_starting_list_that_comes_with_us_can_be_read():
    path = shipped("templates") / "start" / "class-list.csv"
    assert [each.called for each in load_class_list(ClassWishes(path)).students] == [
        "1 Ada Example", "2 Brook Sample", "3 Casey Specimen"]


# ---------------------------------------------------------------- how it was saved


def test_utf_8_is_read_with_and_without_a_byte_order_mark(tmp_path):
    raw = "Name\nZoë Łuk\n".encode()
    for begun in (b"", b"\xef\xbb\xbf"):
        assert [each.name for each in loaded(tmp_path, begun + raw)] == ["Zoë Łuk"]


def test_windows_1252_is_read_where_the_plan_says_so(tmp_path):
    raw = "Name;No\r\nZoë O’Hara;1\r\n".encode("windows-1252")
    assert loaded(tmp_path, raw, "windows-1252")[0].name == "Zoë O’Hara"
    with pytest.raises(ClassListError) as told:
        loaded(tmp_path, raw)
    assert str(told.value) == ("list.csv:2: found a letter that is not UTF-8, wanted a file saved as UTF-8; or say "
                               "`encoding: windows-1252` in the plan")


@pytest.mark.parametrize(("raw", "found"), [
    ("Name\nAnn\n".encode("utf-16"), "list.csv:1: found a file in UTF-16"),
    (b"Name\nA\0n\n", "list.csv:2: found something that is not text"),
    (b"Name\n" + b"x" * 9_000_000, "list.csv: found a file of more than 8 MB"),
    (b"", "list.csv: found an empty file"),
    (b"Name,No\n", "list.csv:1: found headings without students"),
])
def test_what_is_no_list_is_told(tmp_path, raw, found):
    with pytest.raises(ClassListError) as told:
        loaded(tmp_path, raw)
    assert str(told.value).startswith(found)


def test_a_list_that_is_not_there_or_is_a_folder_is_told(tmp_path):
    for path, found in ((tmp_path / "none.csv", "no such file"), (tmp_path, "a folder")):
        with pytest.raises(ClassListError, match=f"found {found}, wanted a class list"):
            load_class_list(ClassWishes(path, "none.csv"))


# ---------------------------------------------------------------- headings that do not tell


def test_a_list_without_headings_is_told_and_not_read_as_if_its_first_student_were_one():
    assert faults("1,Ann Lee\n2,Ben Okoro\n") == [
        "list.csv:1: found no column for names in the first row, '1', 'Ann Lee', wanted a row of headings, such as name, number "
        "and group; or say them in the plan, `columns: {name: …}`"]


def test_two_columns_that_may_be_the_group_are_told_with_the_way_out():
    text = "Name,Class,Form\nAnn,10,B\n"
    assert faults(text) == ["list.csv:1: group: found several columns that may be the group: 'Class' and 'Form', wanted one; or "
                            "say which in the plan, `columns: {group: …}`"]
    assert students(text, group="Form")[0].group == "B"


def test_a_heading_that_the_plan_names_and_the_list_lacks_is_told_with_the_nearest():
    assert faults("Name,Number\nAnn,1\n", number="Numbr") == [
        "list.csv:1: number: found no column 'Numbr', which the plan names, wanted Number (one of Name, Number)"]


# ---------------------------------------------------------------- rows that do not fit


@pytest.mark.parametrize(("row", "found"), [
    ('"Ann', "a quotation mark that is never closed"),
    ('"Ann" Lee,1', "letters after a closed quotation mark"),
    ("Lee, Ann, 1,x", "4 cells under 3 headings"),
    (f"{'x' * 1001},1", "1001 letters in one cell"),
    (f"{'x' * 140_000},1", "a cell of more than 100,000 letters"),
    (",,10B", "neither a name nor a number"),
    ("Ben,7", "'7', which stands in line 2 already"),
    ("," * 300, "301 cells in a row"),
])
def test_rows_at_fault_are_told_with_their_line(row, found):
    [told] = faults(f"Name,No,Group\nAnn,7\n{row}\n")
    assert told.startswith("list.csv:3:") and f"found {found}" in told


def test_all_rows_at_fault_are_told_together_up_to_a_number():
    text = "Name,No\n" + "".join(f"Ann,{k},x\n" for k in range(50))
    assert len(faults(text)) == 20


def test_two_groups_may_both_have_a_number_1():
    assert len(students("Name,No,Group\nAnn,1,10A\nBen,1,10B\n")) == 2


def test_no_more_students_are_read_than_can_be_printed():
    rows = "".join(f"Student {k}\n" for k in range(MOST_STUDENTS))
    assert len(students(f"Name\n{rows}")) == MOST_STUDENTS
    assert faults(f"Name\n{rows}One more\n") == ["list.csv:10002: found more than 10,000 students, wanted several lists"]


@pytest.mark.parametrize("text", [
    "=cmd|' /C calc'!A0", "@SUM(1)", "+49", "-1", "../../etc/passwd", "C:\\x", "<b>Ann</b>", "{{ 7*7 }}"])
def test_a_hostile_name_is_a_name_like_others(text):
    assert names(f'Name\n"{text}"\n') == [text]
