"""Slips of the hand in YAML are told in words, at the line where they were made; and text that a # would swallow is told too."""

from __future__ import annotations

import pytest

from sheetgen.faults import FaultError
from sheetgen.yamlines import Limits, read

LIMITS = Limits(FaultError, words_only=True)


def slip(text):
    """Line, found and wanted of the one fault of a text."""
    with pytest.raises(FaultError) as caught:
        read(text, "f.yaml", LIMITS)
    [fault] = caught.value.faults
    return fault.line, fault.found, fault.wanted


@pytest.mark.parametrize(("text", "line", "found"), [
    ('a: 1\ntitle: "abc\nschool: X\n\n\n', 2, 'a quotation mark " that is not closed'),
    ('a: 1\ntitle: "abc\nschool: "X"\nb: 2\n', 2, 'a quotation mark " that is not closed'),
    ("a: 1\ntitle: 'abc\nb: it's\n", 2, "a quotation mark ' that is not closed"),
    ('a:\n  - {b: "c, d: 1}\n  - {b: "e"}\n', 2, 'a quotation mark " that is not closed'),
    ("a: 1\nb: [c, d\n\n\n", 2, "a bracket [ that is not closed"),
    ("a:\n  - {b: c\n  - {d: e}\n", 2, "a bracket { that is not closed before line 3"),
    ("a:\n  - {b: c,\n    d: [1\n  - {d: e}\n", 3, "a bracket [ that is not closed before line 4"),
    ("a: 1\nb: [c,\n\n\n", 2, "a bracket [ that is not closed"),
    ("a: 1\nb: [\n\n", 2, "a bracket [ that is not closed"), ("a: 1\nb: [c, {d:\n", 2, "a bracket { that is not closed"),
    ('a: 1\nb: ["c" "d"]\n', 2, "neither a comma nor ] after an entry of [ ]"),
    ("a: 1\nb: {c: d e: f}\n", 2, "neither a comma nor } after an entry of { }"),
])
def test_what_is_not_closed_is_told_where_it_was_opened(text, line, found):
    assert slip(text)[:2] == (line, found)


@pytest.mark.parametrize(("text", "line", "found"), [
    ("a: 1\nb\nc: 2\n", 2, "a line without a colon where a field begins"),
    ("a: 1\n  b: 2\n", 2, "a colon where none can stand"),
    ('a: "b" c\n', 1, "something that does not go on with what stands before it"),
    ("a:\n  - b\n  c: d\n", 3, "something that does not go on with what stands before it"),
    ("a:\n\tb: 1\n", 2, "a tab"), ("a: @b\n", 1, "a text that begins with @"), ("a: `b`\n", 1, "a text that begins with `"),
])
def test_common_slips_are_told_in_words(text, line, found):
    assert slip(text)[:2] == (line, found)


@pytest.mark.parametrize(("text", "line", "sign"), [
    ('a: 1\r\r\r\nb: "c\r\r\r\n', 2, '"'), ("a: 1\r\r\n\r\r\nb: [c, \r\r\n", 3, "["), ("b: [", 1, "["), ("b: [c,\r", 1, "["),
    ('b: "', 1, '"'), ("\ufeffb: {", 1, "{")])
def test_strange_ends_of_lines_and_of_files_do_not_lead_astray(text, line, sign):
    told = slip(text)
    assert told[0] == line and told[1].endswith(f"{sign} that is not closed")


def test_no_message_has_the_parsers_own_words():
    for text in ('a: "b\n', "a: [b\n", "a: {b: c\n", "a: 'b\n"):
        assert not any(word in " ".join(map(str, slip(text))) for word in ("stream", "expected", "scalar", "flow", "mapping"))


@pytest.mark.parametrize("text", ["text: {{ school }}", "text: {{ sheet }}/{{ sheets }}", "- {text: {{ school }}}", "- {{ a }}"])
def test_a_value_in_double_brackets_without_quotes_is_told_to_need_them(text):
    assert slip(f"a:\n  {text}\n") == (2, "{{ without quotation marks", 'the whole text in quotes, "{{ … }}"')


def remarks(text):
    document = read(text, "f.yaml", LIMITS)
    document.remark_cut(bool)
    return [str(remark) for remark in document.remarks]


def test_a_text_that_a_number_sign_cuts_off_is_remarked_with_the_quotes_that_keep_it():
    assert remarks("a: 1\nschool: Pebble #2 School\n") == [
        "f.yaml:2: school: found 'Pebble', cut off before '#2 School', wanted quotes round the whole text, which keep it: "
        '"Pebble #2 School"']
    assert remarks("school: #2 School\n")[0].startswith("f.yaml:1: school: found nothing before '#2 School', wanted quotes")
    assert remarks("school: #Élan\r\nb: c\r\n")[0].startswith("f.yaml:1: school: found nothing before '#Élan'")


@pytest.mark.parametrize("text", [
    "school: Pebble # 2 School", "school: Pebble   # a remark", "school: 'Pebble' #2", 'school: "Pebble #2"', "school: Pebble#2",
    "school:   # left blank", "school: |\n  Pebble #2", "# school: #2", "school: {a: b} #2", "school: Pebble #", "school: #"])
def test_comments_as_our_own_files_have_them_and_quoted_texts_are_not_remarked(text):
    assert remarks(f"{text}\n") == []
