"""Formulas: arithmetic as a teacher reads it, and nothing but arithmetic."""

import ast
import math
import operator

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from sheetgen.bank.formula_nodes import LIMIT
from sheetgen.bank.formulas import LONGEST, Formula, FormulaError, parse

SIZES = {"width": 80.0, "wall": 12.0, "hand": "left"}
KINDS = {"width": "number", "wall": "number", "hand": frozenset({"left", "right"})}


@pytest.mark.parametrize(("text", "value"), [
    ("width - 2*wall", 56.0),
    ("-wall + width/4 - 3", 5.0),
    ("width / wall / 2", 80 / 12 / 2),
    ("(width - wall) * 0.5", 34.0),
    ("min(width, 3*wall, 50)", 36.0),
    ("max(wall, 1) + abs(wall - width)", 80.0),
    ("round(2.5) + round(3.5)", 7.0),                 # a half goes up, as at school
    ("floor(0.29*100)", 29.0),                        # 28.999… only by the rounding of the machine
    ("ceil(0.1*3*10)", 3.0),
    ("sqrt(wall*wall)", 12.0),
    ("sin(30) + cos(60)", 1.0),                       # degrees
    ("tan(45)", 1.0),
    ('if(hand == "left", width, wall)', 80.0),
    ("--wall", 12.0),
    (".5 + 1.", 1.5),
    ("width - wall - 3", 65.0),                       # from the left: a second term after a minus, and a third
    ("width - wall + 3", 71.0),
    ("100 - width - wall - 3 - 2", 3.0),
    ("width - (wall - 3)", 71.0),
    ("width - 2*wall - 3*2", 50.0),
    ("width / 4 / 2 - 1 - 1", 8.0),
    ("width - -wall - 1", 91.0),
    ("width / 4 * 2", 40.0),                          # and a second factor after a division
    ("max(1, width - wall - 60)", 8.0),
])
def test_a_formula_comes_to_what_a_teacher_reads(text, value):
    assert parse(text).number(SIZES) == pytest.approx(value, abs=1e-12)


@pytest.mark.parametrize(("text", "holds"), [
    ("wall < width", True),
    ("10 <= wall < 12", False),
    ("width - wall - 60 == 8", True),
    ("100 - width - wall < 9", True),
    ("10 <= wall <= 12 < width", True),
    ("0.1 + 0.2 <= 0.3", True),                       # equal but for the machine's rounding
    ("0.1 + 0.2 > 0.3", False),
    ("0.1 + 0.2 == 0.3", True),
    ('hand == "left" and not width == 80', False),
    ('hand != "left" or wall >= 12', True),
    ("not wall > 12 and width > 12", True),           # not binds tighter than and
    ("wall > 12 and width > 12 or wall == 12", True),  # and binds tighter than or
])
def test_a_rule_holds_as_a_teacher_reads_it(text, holds):
    assert parse(text).truth(SIZES) is holds


@pytest.mark.parametrize(("text", "column", "wanted"), [
    ("width +", 8, "a number, a size or a bracket"),
    ("width 2", 7, "an operator"),
    ("(width", 7, "a closing bracket"),
    ("min(a", 6, "quotes"),                           # cut at a comma by YAML
    ("width ** 2", 7, "a*a"),
    ("width ^ 2", 7, "a*a"),
    ("width = 3", 7, "=="),
    ("width × 2", 7, "*"),
    ("width.real", 6, "an operator"),
    ("sinus(3)", 1, "sin"),
    ("sin(3, 4)", 1, "sin of 1"),
    ("if(width > 3, 1)", 1, "if of 3"),
    ("sin", 1, "sin(…)"),
    ("1e5", 2, "an operator"),
    ("9999999", 1, "1 000 000"),
    ("", 1, "a number, a size or a bracket"),
    ("__import__('os')", 1, "functions"),
    ("width[0]", 6, "an operator"),
    ("lambda: 3", 7, "an operator"),
])
def test_a_mistake_is_told_by_its_column_and_what_would_be_right(text, column, wanted):
    with pytest.raises(FormulaError) as caught:
        parse(text)
    assert caught.value.column == column
    assert wanted in caught.value.wanted


@pytest.mark.parametrize(("text", "column", "found", "wanted"), [
    ("widht / 2", 1, "'widht'", "width"),
    ("width + hand", 9, "a word", "a number"),
    ("width + (wall > 3)", 10, "a yes-or-no (a comparison)", "a number"),
    ("width and wall > 3", 1, "a number", "a yes-or-no (a comparison)"),
    ('hand == "lft"', 9, "'lft'", "left"),
    ('hand < "left"', 1, "words compared by <", "== or !="),
    ("hand == 3", 1, "a word", "two numbers, or two words, to compare"),
    ('if(wall > 3, 1, "left")', 17, "a word", "a number"),
])
def test_names_and_kinds_are_checked_before_there_are_sizes(text, column, found, wanted):
    with pytest.raises(FormulaError) as caught:
        parse(text).check(KINDS)
    assert (caught.value.column, caught.value.found) == (column, found)
    assert caught.value.wanted.startswith(wanted)


@pytest.mark.parametrize("text", ["width / (wall - 12)", "sqrt(-1)", "width*width*width*width", "tan(90)", "width/0.000001"])
def test_what_cannot_be_worked_out_is_refused_and_never_infinite(text):
    with pytest.raises(FormulaError):
        parse(text).number(SIZES)


def test_only_the_case_that_counts_is_worked_out():
    assert parse("if(wall == 12, 5, width/(wall - 12))").number(SIZES) == 5


@pytest.mark.parametrize("text", [
    "(" * 60 + "1" + ")" * 60, "-" * 60 + "1", "not " * 40 + "1 > 0", "1+" * 90 + "1", "1 + " * 60 + "1",
])
def test_a_formula_has_limits_of_depth_and_length(text):
    with pytest.raises(FormulaError):
        parse(text)


def test_a_number_from_the_file_is_a_formula_too():
    assert parse(12).number({}) == 12.0
    assert parse(2.5).text == "2.5"
    for huge in (10**400, -(10**9), math.inf, math.nan):
        with pytest.raises(FormulaError):
            parse(huge)


def plain_values(node, env):
    """Arithmetic by Python's own reader of expressions: the outside check."""
    if isinstance(node, ast.Expression):
        return plain_values(node.body, env)
    if isinstance(node, ast.Constant):
        return float(node.value)
    if isinstance(node, ast.Name):
        return env[node.id]
    if isinstance(node, ast.UnaryOp):
        return -plain_values(node.operand, env)
    work = {ast.Add: operator.add, ast.Sub: operator.sub, ast.Mult: operator.mul, ast.Div: operator.truediv}
    return work[type(node.op)](plain_values(node.left, env), plain_values(node.right, env))


def sums():
    leaf = st.sampled_from(["width", "wall", "3", "0.5", "12", "100"])
    return st.recursive(leaf, lambda inner: st.one_of(
        st.tuples(inner, st.sampled_from([" + ", "-", "*", " / "]), inner).map("".join),
        inner.map("({})".format), inner.map("-{}".format)), max_leaves=12)


@given(sums())
@example("width-3-wall")
@example("width-3 + wall-0.5")
@example("12 / 3 / 0.5-3-1")
def test_precedence_is_that_of_ordinary_arithmetic(text):
    env = {"width": 80.0, "wall": 12.0}
    try:
        value = parse(text).number(env)
    except FormulaError:
        return                                     # a division by 0, or a limit
    assert value == pytest.approx(plain_values(ast.parse(text, mode="eval"), env), rel=1e-12, abs=1e-9)


PIECES = ["width", "hand", "nosuch", "12", ".5", "9999999", "+", "-", "*", "/", "**", "(", ")", ",", "<", "<=", "==", "!=",
          "and", "or", "not", "if(", "min(", "sin(", "sqrt(", '"left"', "'", '"', " ", "\n", "\\", "é", "٣", "\x00", "open",
          "__class__", "."]


@settings(max_examples=300)
@given(st.one_of(st.text(max_size=2 * LONGEST), st.lists(st.sampled_from(PIECES), max_size=60).map(" ".join)))
@example("(" * 200)
@example("٣")                                       # a digit, but not one of ours
def test_no_text_does_anything_but_come_to_a_bounded_value_or_a_formula_error(text):
    try:
        formula = parse(text)
        kind = formula.check(KINDS)
        value = formula.value(SIZES)
    except FormulaError as error:
        assert error.column >= 1 and error.found and error.wanted
        return
    assert isinstance(formula, Formula)
    if kind == "number":
        assert type(value) is float and abs(value) <= LIMIT
    else:
        assert type(value) is (bool if kind == "truth" else str)
