"""Instructions on the cover of a paper: from a file that may be a stranger's."""

from __future__ import annotations

import pytest

from sheetgen.faults import Place
from sheetgen.templating import (
    TemplateError,
    load_instructions,
    load_wording,
    said_instructions,
    usual_instructions,
    wording_names,
)
from sheetgen.templating.instructions import MOST


def told(tmp_path, text):
    (tmp_path / "ours.yaml").write_text(text, encoding="utf-8")
    with pytest.raises(TemplateError) as caught:
        load_instructions(tmp_path / "ours.yaml")
    return [str(fault).replace(f"{tmp_path}/", "") for fault in caught.value.faults]


def test_a_file_gives_its_texts_in_their_order(tmp_path):
    (tmp_path / "ours.yaml").write_text("instructions:\n  - Sit  down.\n  - \"{{ marks }} marks.\"\n", encoding="utf-8")
    assert load_instructions(tmp_path / "ours.yaml") == ("Sit down.", "{{ marks }} marks.")


def test_every_fault_is_told_at_once_with_its_line(tmp_path):
    text = "instructions:\n  - \"{{ seed }}\"\n  - Ж\n  - \"\"\n  - " + "w" * 60 + "\n  - [a]\n  - \"{{ '' }}\"\n"
    assert [fault.split(" found ")[0] for fault in told(tmp_path, text)] == [
        f"ours.yaml:{line}: instructions[{line - 1}]:" for line in range(2, 8)]


@pytest.mark.parametrize(("text", "said"), [
    ("", "found an empty file, wanted a list of instructions: `sheetgen new instructions FILE` writes one"),
    ("[a]\n", "found a list of 1, wanted one field"),
    ("rules: [a]\n", "found fields rules, wanted one field"),
    ("instructions: [a]\nmore: b\n", "found fields instructions, more"),
    ("instructions: one text\n", "found 'one text', wanted a list of 1 to 24 texts"),
    ("instructions: []\n", "wanted a list of 1 to 24 texts"),
    ("instructions: [" + "a, " * MOST + "a]\n", "found a list of 25"),
    ("instructions: [\"{% for x in marks %}x{% endfor %}\"]\n", "found the construction 'for'"),
    ("instructions: [\"{{ marks.__class__ }}\"]\n", "found the construction 'getattr'"),
    ("instructions: [\"" + "a " * 400 + "\"]\n", "found 799 characters"),
])
def test_what_is_no_list_of_instructions_or_would_run_is_refused(tmp_path, text, said):
    [fault] = told(tmp_path, text)
    assert said in fault


def test_those_of_a_plan_are_told_of_at_their_place():
    with pytest.raises(TemplateError, match=r"^p.yaml:7: instructions\[2\]: found the unknown value key"):
        said_instructions(["Sit down.", "{{ key }}"], Place("p.yaml", 7, "instructions"))


@pytest.mark.parametrize("name", wording_names())
def test_those_of_a_wording_are_short_and_say_singular_and_plural(name):
    texts = [text for text, _ in usual_instructions(load_wording(name))]
    one = [text.render({"items": 1, "marks": 1, "minutes": ""}) for text in texts]
    many = [text.render({"items": 3, "marks": 60, "minutes": 90}) for text in texts]
    assert "You have 1 item, worth 1 mark in all." in one
    assert "You have 90 minutes for 3 items, worth 60 marks in all." in many
    assert max(map(len, many)) <= 75
