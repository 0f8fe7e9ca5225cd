"""Marking templates: those that come with us, and what is told of others' files."""

from __future__ import annotations

from pathlib import Path

import pytest

from sheetgen.templating import TemplateError, load_marking, marking_names
from sheetgen.templating.marking import FAULTS, PARTS, SORTS

GOOD = """\
way: award
parts: {arrangement: 3, front: 5, top: 4, side: 4, dimensions: 2, line_work: 1, title_block: 0}
lines: {outlines: 1, curves: 1.5, hidden: 2, centre: 1}
"""
OFF = f"off: {{{', '.join(f'{fault}: 2' for fault in FAULTS)}}}\n"


def told(folder: Path, text: str) -> list[str]:
    file = folder / "ours.yaml"
    file.write_text(text, encoding="utf-8")
    with pytest.raises(TemplateError) as caught:
        load_marking(file)
    return [str(fault).replace(f"{file.as_posix()}:", "") for fault in caught.value.faults]


def test_three_schemes_come_with_us_of_which_one_takes_marks_off():
    assert marking_names() == ("by-deductions", "by-parts", "even-split")
    assert [name for name in marking_names() if load_marking(name).deducts] == ["by-deductions"]
    for name in marking_names():
        found = load_marking(name)
        assert set(found.parts) == set(PARTS) and set(found.lines) == set(SORTS)
        assert set(found.off) == (set(FAULTS) if found.deducts else set())


def test_a_file_of_ones_own_is_read(tmp_path):
    (tmp_path / "ours.yaml").write_text(GOOD, encoding="utf-8")
    found = load_marking(tmp_path / "ours.yaml")
    assert (found.deducts, found.parts["title_block"], found.lines["curves"]) == (False, 0.0, 1.5)


def test_every_fault_of_a_file_is_told_with_its_line_at_once(tmp_path):
    text = GOOD.replace("award", "awards").replace("front: 5", "front: -5").replace("side: 4", "sides: 4")
    text = text.replace("hidden: 2, ", "")
    found = told(tmp_path, f"{text}marks: 20\n")
    assert [line.partition(":")[0] for line in found] == ["1", "2", "2", "3", "4"]
    assert "way: found 'awards', wanted award" in found[0]
    assert "parts.front: found '-5', wanted a number from 0 to 1000" in " ".join(found)
    assert "parts.sides: found an unknown field 'sides', wanted side" in " ".join(found)
    assert "lines.hidden: found nothing" in " ".join(found) and "marks: found an unknown field 'marks'" in " ".join(found)


@pytest.mark.parametrize(("text", "said"), [
    (GOOD.replace("award", "deduct"), "way: found deduct, and no `off`"),
    (GOOD + OFF, "off: found `off` in a scheme that awards marks"),
    (GOOD.replace("front: 5, top: 4, side: 4", "front: 0, top: 0, side: 0"), "parts: found 0 for every view"),
    (GOOD.replace("centre: 1", "centre: 0"), "lines.centre: found '0', wanted a number from 0.1 to 1000"),
    (GOOD.replace("front: 5", "front: nan"), "parts.front: found 'nan', wanted a number"),
    (GOOD.replace("front: 5", "front: 1e9"), "parts.front: found '1e9', wanted a number from 0 to 1000"),
    ("way: award\nparts: 3\nlines: []\n", "parts: found '3', wanted numbers for arrangement"),
    ("- award\n", "wanted"),
])
def test_what_makes_no_scheme_is_told(tmp_path, text, said):
    assert said in " ".join(told(tmp_path, text))


@pytest.mark.parametrize("name", ["../by-parts", "BY-PARTS/..", "nosuch", ""])
def test_a_name_leads_nowhere_but_to_those_that_come_with_us(name):
    with pytest.raises(TemplateError, match="one of by-deductions, by-parts, even-split"):
        load_marking(name)
