"""Reading a family file: what a teacher writes comes out as written, and every fault is told, with its line, at once."""

import re
import time

import pytest
import yaml

from sheetgen import yamlines
from sheetgen.bank import BankError, load_text
from sheetgen.bank.reader import read
from sheetgen.yamlines import MOST_FAULTS
from tests.bank.samples import BLOCK, EVERY_KIND, changed


def faults_of(text):
    with pytest.raises(BankError) as caught:
        load_text(text, "plain-block")
    return caught.value.faults


def only_fault(text):
    (fault,) = faults_of(text)
    return fault


def test_a_plain_family_is_read_whole():
    family = load_text(BLOCK, "plain-block")
    assert (family.name, family.title, family.topics, family.rung) == ("plain-block", "Plain block", ("blocks",), 1)
    assert family.size_names == ("width", "height")
    assert [measure.spec.text for measure in family.measures] == ["base.left to base.right"]
    [spec] = family.sample(1).measure_specs
    assert (spec.text, BLOCK.splitlines()[spec.line - 1].strip()) == ("base.left to base.right", "- base.left to base.right")
    assert (family.about, family.symmetry, family.rules, family.values) == ("", (), (), ())


@pytest.mark.parametrize(("old", "new", "line", "field", "found", "wanted"), [
    ("title: Plain block", "title: 12", 1, "title", "12", "text, in quotes"),
    ("Plain block", "x" * 61, 1, "title", "61 characters", "at most 60"),
    ("[blocks]", "[]", 2, "topics", "a list of 0", "1 to 8"),
    ("rung: 1", "rung: 6", 3, "rung", "6", "1 (easiest) to 5"),
    ("rung: 1", "rung: one", 3, "rung", "'one'", "1 (easiest) to 5"),
    ("rung: 1", "rnug: 1\nrung: 1", 3, "rnug", "an unknown field", "rung"),
    ("rung: 1", "rung: 1\nsymmetry: [z]", 4, "symmetry[1]", "'z'", "one of x, y"),
    ("rung: 1", "rung: 1\nsymmetry: [x, x]", 4, "symmetry", "an axis twice", "once"),
    ("from: 60, to", "from: 60, too", 5, "sizes.width", "too", "to"),
    ("width/3", "widht/3", 6, "sizes.height.to", "'widht' at column 1", "width"),
    ("60, to: 120", "60, to: height", 5, "sizes.width.to", "'height'", "there are none"),
    ("{from: 60, to: 120, step: 5}", "{one of: [60, 60]}", 5, "sizes.width.one of", "an option twice", "once"),
    ("  width: ", "  open: ", 5, "sizes.open", "'open'", "another name"),
    ("add: block", "add: slot", 8, "features[1] base: add", "'slot'", "one of the words after add:"),
    ("add: block", "cut: slt", 8, "features[1] base: cut", "'slt'", "slot"),
    ("- add: block\n    name", "- name", 8, "features[1] base", "neither add nor cut", "one of add, cut"),
    ("x: [0, width]", "x: [0, width + ]", 10, "features[1] base: x[2]", "the end at column 8", "a number"),
    ("x: [0, width]", "x: [0, open]", 10, "features[1] base: x", "an open end", "two ends"),
    ("x: [0, width]", "x: [0, max(width, 3)]", 10, "features[1] base: x", "a list of 3", "quotes"),
    ("x: [0, width]", "x: yes", 10, "features[1] base: x", "yes", "[from, to]"),
    ("    x: [0, width]\n", "", 8, "features[1] base: x", "nothing", "two ends"),
    ("name: base", "name: to", 9, "features[1] to: name", "'to'", "another name"),
    ("base.left to base.right", "base.left to base.rihgt", 14, "measures[1]", "'base.rihgt'", "base.right"),
    ("base.left to base.right", "bse.left to base.right", 14, "measures[1]", "'bse'", "base"),
    ("base.left to base.right", "diameter of base", 14, "measures[1]", "'base'", "round"),
    ("base.left to base.right", "base.left", 14, "measures[1]", "'base.left'", "base.left to base.right"),
    ("base.left to base.right", "base.left to base.left", 14, "measures[1]", "to itself", "two sides"),
    ("base.left to base.right", "base.left to base.right along w", 14, "measures[1]", "along 'w'", "along x"),
    ("base.left to base.right", "edge of base.left to base.right", 14, "measures[1]", "edge of base.left to", "`and`"),
    ("base.left to base.right", "base.left to base.right or", 14, "measures[1]", "the end of the measure", "a side"),
    ("base.left to base.right", "base.left to base.right or bse.left to base.right", 14, "measures[1]", "'bse'", "base"),
    ("base.left to base.right", "base.left to base.right or base.left to base.right", 14, "measures[1]", "a second time", "once"),
    ("base.left to base.right", "base.left to base.right or angle of base.left to base.top", 14, "measures[1]",
     "'angle of base.left to base.top' among alternatives", "lengths only"),
    ("base.left to base.right", "base.left to base.right along x or base.left to base.right along y", 14, "measures[1]",
     "alternatives along x and along y", "along one axis"),
    ("base.left to base.right", " or ".join(f"base.left to base.{side}" for side in ("right", "top", "front", "back")), 14,
     "measures[1]", "4 alternatives", "at most 3"),
    ("name: base", "name: or", 9, "features[1] or: name", "'or'", "another name"),
])
def test_a_fault_names_line_field_what_was_found_and_what_would_be_right(old, new, line, field, found, wanted):
    text = changed(BLOCK, (old, new))
    hits = [fault for fault in faults_of(text) if fault.line == line and fault.field.startswith(field)]
    assert any(found in fault.found and wanted in fault.wanted for fault in hits), faults_of(text)


def test_each_faulty_alternative_is_told_and_one_that_another_measure_prints_already():
    width = "base.left to base.right"
    text = changed(BLOCK, (width, f"{width} or base.lfet to base.right or bse.top to base.right"))
    assert [fault.found for fault in faults_of(text)] == ["'base.lfet'", "'bse'"]
    text = changed(BLOCK, (width, f"{width}\n  - base.front to base.back or {width}"))
    assert (only_fault(text).line, only_fault(text).field) == (15, "measures[2]")


def test_alternatives_are_read_in_their_order_and_may_take_several_lines():
    one, other = "base.left to base.right along x", "base.right to base.left along x"
    text = changed(BLOCK, ("base.left to base.right", f"{one}\n    or {other}"))
    [line] = load_text(text).measures
    assert [spec.text for spec in (line.spec, *line.others)] == [one, other]
    variant = load_text(text).sample(1)
    assert [len(specs) for specs in variant.measures] == [2]
    assert [spec.text for spec in variant.measure_specs] == [one]


def test_all_faults_of_a_file_come_at_once_in_the_order_of_the_lines():
    text = changed(BLOCK, ("rung: 1", "rung: 7"), ("width/3", "widht/3"), ("base.left", "base.lfet"), ("[0, 40]", "[0, 4 0]"))
    faults = faults_of(text)
    assert [fault.line for fault in faults] == [3, 6, 11]      # the measure waits for its feature to be readable
    assert [fault.line for fault in faults_of(changed(text, ("[0, 4 0]", "[0, 40]")))] == [3, 6, 14]


def test_a_fault_prints_as_one_line_that_an_editor_can_jump_to():
    error = BankError(faults_of(changed(BLOCK, ("width/3", "widht/3"))))
    assert str(error) == ("plain-block.yaml:6: sizes.height.to: found 'widht' at column 1 of 'widht/3', "
                          "wanted width (one of the sizes known here: width)")


def test_the_same_faults_come_in_the_same_order_each_time():
    text = changed(EVERY_KIND, ("rung: 5", "rung: 9"), ("counterbore: {diameter: 12, depth", "counterbore: {diametr: 12, dpth"))
    assert len(faults_of(text)) == 3
    assert faults_of(text) == faults_of(text)


@pytest.mark.parametrize(("text", "line", "found"), [
    ("a: 1\nb: *x\n", 2, "an alias"),
    ("a: 1\nb: &x 1\n", 2, "an anchor"),
    ("a: !!python/object/apply:os.system [ls]\n", 1, "a tag"),
    ("a: !thing 1\n", 1, "a tag"),
    ("--- 1\n--- 2\n", 2, "a second document"),
    ("%YAML 1.1\n---\na: 1\n", 1, "a % line"),
    ("? [a]\n: b\n", 1, "in place of a word"),
    ("[" * 5000, 1, "levels within each other"),
    ("a: " + "{b: " * 5000, 1, "levels within each other"),
    ("a:\n  - b\n\t- c\n", 3, "YAML cannot read"),
    ("a: b: c", 1, "a colon where none can stand"),
    ("a: 'b", 1, "a quotation mark ' that is not closed"),
    ("a: \u202eb", 1, "an invisible sign"),
    ("a: \x07", 1, "an invisible sign"),
    ("- 1\n" * 20_001, 20_000, "entries"),
])
def test_what_a_family_does_not_need_of_yaml_is_refused(text, line, found):
    fault = faults_of(text)[-1]
    assert found in fault.found
    assert abs(fault.line - line) <= 1


def test_a_field_given_twice_and_a_merge_key_are_faults_among_others():
    text = changed(BLOCK, ("rung: 1", "rung: 1\nrung: 2"), ("name: base", "name: base\n    <<: {x: 1}"), ("width/3", "x"))
    told = [(fault.line, fault.found) for fault in faults_of(text)]
    assert (4, "'rung' a second time") in told
    assert (11, "a merge key <<") in told
    assert any(line == 7 for line, _ in told)


@pytest.mark.parametrize(("written", "value"), [
    ("12", 12), ("-3.50", -3.5), (".5", 0.5), ("010", 10), ("1:30", "1:30"), ("0x1F", "0x1F"), ("1e3", "1e3"), ("1_000", "1_000"),
    ("yes", True), ("No", False), ("true", True), ("on", "on"), ("y", "y"), ("~", None), ("", None), ("'12'", "12"),
    ('"yes"', "yes"),
    ("2024-05-01", "2024-05-01"), (".inf", ".inf"), ("9" * 40, "9" * 40),
])
def test_only_decimal_numbers_count_as_numbers(written, value):
    assert read(f"a: {written}", "f").data == {"a": value}


@pytest.mark.parametrize("loader", [yaml.SafeLoader, yaml.CSafeLoader])
def test_both_scanners_of_the_yaml_library_read_the_same(loader, monkeypatch):
    expected = read(EVERY_KIND, "f")
    monkeypatch.setattr(yamlines, "_LOADER", loader)
    again = read(EVERY_KIND, "f")
    assert again.data == expected.data == yaml.safe_load(EVERY_KIND)
    assert again.lines == expected.lines


def test_lines_are_those_of_the_file():
    lines = read(EVERY_KIND, "f").lines
    text = EVERY_KIND.splitlines()
    assert text[lines[("features", 1, "outline", 2, "centre")] - 1].strip() == "centre: [20, 20]"
    assert text[lines[("measures", 3)] - 1].strip() == "- base.bottom to body.nose.axis"
    assert text[lines[("features",)] - 1] == "features:"


def test_a_file_of_wrong_letters_size_or_name_is_refused(tmp_path):
    from sheetgen.bank import load_family

    cases = {"latin.yaml": "title: Équerre\n".encode("latin-1"), "big.yaml": b"#" * 200_001, "Bad-Name.yaml": BLOCK.encode(),
             "block.txt": BLOCK.encode(), "x.yaml": BLOCK.encode()}
    for name, raw in cases.items():
        (tmp_path / name).write_bytes(raw)
        with pytest.raises(BankError, match=re.escape(name)):
            load_family(tmp_path / name)
    for missing in (tmp_path / "none.yaml", tmp_path, tmp_path / "nul\0.yaml"):
        with pytest.raises(BankError):
            load_family(missing)
    (tmp_path / "mark.yaml").write_bytes(b"\xef\xbb\xbf" + BLOCK.encode())       # a byte order mark, as some editors leave
    assert load_family(tmp_path / "mark.yaml").title == "Plain block"


def test_windows_line_ends_change_nothing():
    assert load_text(BLOCK.replace("\n", "\r\n"), "a-b") == load_text(BLOCK, "a-b")


@pytest.mark.parametrize("text", [
    "a: " + "x " * 90_000, "a" * 190_000, "- [" + "1, " * 19_000 + "]", "#" * 190_000, "? " * 50_000, "'" + "''" * 90_000,
    "a: |\n" + " x\n" * 60_000, ("k" * 1000 + "\n") * 150, "{" + "a," * 9000,
    BLOCK.replace("name: base", "name: base\n" + "".join(f"    u{k}: 1\n" for k in range(9000))),
    BLOCK + "".join(f"  - base.left to base.{k}\n" for k in range(5000)),
])
def test_no_file_within_the_limits_takes_long_or_tells_too_much(text):
    begin = time.perf_counter()
    assert len(faults_of(text)) <= MOST_FAULTS + 1
    assert time.perf_counter() - begin < 5         # some tenths of a second as a rule; what is feared are minutes


def test_a_strange_name_is_printed_on_one_line_wherever_it_is_repeated():
    text = changed(BLOCK, ("  width: ", '  "w\\th\\ne": '))
    lines = str(BankError(faults_of(text))).split("\n")
    assert len(lines) == len(faults_of(text)) == 2
    assert all(line.startswith("plain-block.yaml:") and line.isprintable() for line in lines)
