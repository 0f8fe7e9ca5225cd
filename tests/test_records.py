"""Records read from YAML files of words: lines are known, tricks are refused, every fault is told with its field."""

from __future__ import annotations

from typing import Annotated, ClassVar

import pytest
from pydantic import PlainValidator

from sheetgen.faults import FaultError
from sheetgen.records import Reader, Strict, number, numbers, one_of, whole
from sheetgen.yamlines import Limits, read, read_text

LIMITS = Limits(FaultError, kilobytes=64, deepest=8, most_nodes=5000, words_only=True)


class Leg(Strict):
    height: Annotated[float, PlainValidator(number(0, 10))]
    side: Annotated[str, PlainValidator(one_of(("left", "right")))] = "left"


class Table(Strict):
    legs: list[Leg]
    seats: Annotated[int, PlainValidator(whole(1, 12))] = 4
    top: Annotated[tuple[float, ...], PlainValidator(numbers(2, "width and depth in mm"))] = (0.0, 0.0)
    name: str = ""

    wanted: ClassVar = {"legs": "a list of legs"}


def read_table(text):
    document = read(text, "table.yaml", LIMITS)
    return Reader(document).model(Table, document.data, ()), [str(fault) for fault in document.faults]


def test_words_that_yaml_takes_for_truth_values_stay_words():
    table, faults = read_table("legs: []\nname: NO\n")
    assert table.name == "NO" and not faults


def test_every_fault_is_told_with_its_line_and_field():
    _, faults = read_table("legs:\n  - {height: 12, side: rigth}\n  - high\nseats: 0\ntop: [1, two]\ncolour: red\n")
    assert faults == [
        "table.yaml:2: legs[1].height: found '12', wanted a number from 0 to 10",
        "table.yaml:2: legs[1].side: found 'rigth', wanted right (one of left, right)",
        "table.yaml:3: legs[2]: found 'high', wanted fields height, side",
        "table.yaml:4: seats: found '0', wanted a whole number from 1 to 12",
        "table.yaml:5: top: found a list of 2, wanted width and depth in mm",
        "table.yaml:6: colour: found an unknown field 'colour', wanted one of the fields legs, seats, top, name",
    ]


def test_what_is_missing_is_told_with_what_would_be_right():
    assert read_table("name: x\n")[1] == ["table.yaml:1: legs: found nothing, wanted a list of legs"]


@pytest.mark.parametrize("value", ["nan", "inf", "1e999", "twelve", "[1]", "''", "-1", "11", "1_0"])
def test_a_number_out_of_its_range_or_no_number_is_a_fault(value):
    _, faults = read_table(f"legs:\n  - height: {value}\n")
    assert len(faults) == 1 and faults[0].startswith("table.yaml:2: legs[1].height: found ")


@pytest.mark.parametrize(("text", "line"), [
    ("a: &x [1]\nb: *x\n", 1), ("a: 1\nb: !!python/object/apply:os.system [ls]\n", 2), ("a:\n  " + "[" * 30 + "]" * 30, 2),
    ("a: [1\n", 1), ("a: {{ title }}: b\n", 1), ("a: \x00\n", 1), ("a: 1\n---\nb: 2\n", 2),
])
def test_tricks_and_slips_are_refused_with_their_line(text, line):
    with pytest.raises(FaultError) as caught:
        read(text, "block.yaml", LIMITS)
    assert caught.value.faults[0].line == line


def test_a_thousand_brackets_do_not_exhaust_the_reader():
    with pytest.raises(FaultError, match="more than 8 levels within each other"):
        read("a: " + "[" * 20000, "block.yaml", LIMITS)


def test_a_file_that_is_too_large_is_refused_unread(tmp_path):
    path = tmp_path / "large.yaml"
    path.write_text("a: 1\n#" + "x" * 1000 * LIMITS.kilobytes)
    with pytest.raises(FaultError, match=f"at most {LIMITS.kilobytes} kB"):
        read_text(path, "large.yaml", LIMITS)


def test_a_file_that_is_missing_or_no_text_is_a_fault_and_no_traceback(tmp_path):
    with pytest.raises(FaultError, match="no such file"):
        read_text(tmp_path / "gone.yaml", "gone.yaml", LIMITS)
    (tmp_path / "old.yaml").write_bytes(b"title: Fl\xe4che")
    with pytest.raises(FaultError, match="UTF-8"):
        read_text(tmp_path / "old.yaml", "old.yaml", LIMITS)
    (tmp_path / "picture.yaml").write_bytes(b"\xff\xd8\xff")
    with pytest.raises(FaultError, match="found a picture"):
        read_text(tmp_path / "picture.yaml", "picture.yaml", LIMITS)
