"""Reading templates: lines are known, tricks are refused."""

import pytest

from sheetgen.templating import TemplateError
from sheetgen.templating.nodes import LIMITS, Form, nodes_of, read_nodes


def fault_of(text):
    with pytest.raises(TemplateError) as caught:
        nodes_of(text, "block.yaml")
    return caught.value.faults[0]


def test_words_that_yaml_takes_for_truth_values_stay_words():
    node = nodes_of("label: NO\ntext: yes\nnumber: 1_000\n", "block.yaml")
    assert [node.value[key].value for key in ("label", "text", "number")] == ["NO", "yes", "1_000"]


def test_every_value_knows_its_line():
    node = nodes_of("title: a\ncells:\n  - label: b\n  - label: c\n", "block.yaml")
    assert [item.line for item in node.value["cells"].value] == [3, 4]


@pytest.mark.parametrize(("text", "line"), [
    ("a: &x [1]\nb: *x\n", 1), ("a: 1\nb: !!python/object/apply:os.system [ls]\n", 2), ("a:\n  " + "[" * 30 + "]" * 30, 2),
    ("a: 1\na: 2\n", 2), ("a: [1\n", 2), ("a: {{ title }}: b\n", 1), ("- 1\n- 2\n", 1), ("", 1), ("a: \x00\n", 1),
    ("a: 1\n---\nb: 2\n", 2),
])
def test_tricks_and_slips_are_refused_with_their_line(text, line):
    assert fault_of(text).line == line


def test_a_thousand_brackets_do_not_exhaust_the_reader():
    assert fault_of("a: " + "[" * 20000).found == "more than 8 levels within each other"


def test_a_file_that_is_too_large_is_refused_unread(tmp_path):
    path = tmp_path / "large.yaml"
    path.write_text("a: 1\n#" + "x" * 1000 * LIMITS.kilobytes)
    with pytest.raises(TemplateError, match="at most 64 kB"):
        read_nodes(path, "large.yaml")


def test_a_file_that_is_missing_or_no_text_is_a_fault_and_no_traceback(tmp_path):
    with pytest.raises(TemplateError, match="no such file"):
        read_nodes(tmp_path / "gone.yaml", "gone.yaml")
    (tmp_path / "picture.yaml").write_bytes(b"\xff\xd8\xff")
    with pytest.raises(TemplateError, match="UTF-8"):
        read_nodes(tmp_path / "picture.yaml", "picture.yaml")


@pytest.mark.parametrize("value", ["nan", "inf", "1e999", "twelve", "[1]", "", "-1", "11"])
def test_a_number_out_of_its_range_or_no_number_is_a_fault(value):
    form = Form(nodes_of(f"width: {value}\n", "block.yaml"), "block.yaml")
    assert form.number("width", 0, 10, 5.0) == 5.0
    assert str(form.faults[0]).startswith("block.yaml:1: width: found ")
