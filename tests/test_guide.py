"""The guide to writing a family: what it shows can be typed as it stands, and its pictures are of what it says."""

from __future__ import annotations

import re
from importlib.util import module_from_spec, spec_from_file_location
from pathlib import Path

import click
import pytest

from sheetgen.bank import load_bank, load_family
from sheetgen.bank.formula_nodes import FUNCTIONS
from sheetgen.bank.formulas import parse
from sheetgen.bank.schema import MODELS
from sheetgen.bank.specs import ADDED, CUT
from sheetgen.cli import main
from sheetgen.cli.tables import in_words
from sheetgen.problem import problem_of
from sheetgen.records import field_names
from sheetgen.sets import MOST_PROBLEMS, MOST_WEEKS, load_plan
from sheetgen.sets.plan_file import PlanFile
from sheetgen.sets.terms import USUAL_WEEKS
from sheetgen.sheet import ARROWS, FIGURES, PAPER_NAMES, PROJECTIONS, SIDES
from sheetgen.sheet.celltext import EDGE, SIDE
from sheetgen.sheet.symbol import symbol_width
from sheetgen.sheet.titleblock_ink import LEAST_SYMBOL
from sheetgen.templating import TitleBlockValues, load_title_block, load_wording, title_block_names, wording_names
from sheetgen.templating.crest import MOST_KILOBYTES
from sheetgen.templating.crest_paths import MOST_POINTS
from sheetgen.templating.crest_png import MOST_DOTS
from sheetgen.templating.crest_svg import DEEPEST, MOST_ELEMENTS, SHAPES, WORDS
from sheetgen.templating.phrases import FILTERS, phrase
from sheetgen.templating.texts import LABELS, PHRASES
from sheetgen.templating.titleblock import CODE_BOX, LEAST_CREST, VALUE_NAMES
from sheetgen.templating.titleblock_file import (
    LEAST_SIZE,
    MOST_CELLS,
    MOST_PIECES,
    MOST_SIZE,
    MOST_TEXT,
    BlockFile,
    CellFile,
    GroupFile,
)
from sheetgen.vetting import SHEETS, vet
from sheetgen.vetting.report import MOST_REFUSED
from sheetgen.vetting.vet import SEEDS

ROOT = Path(__file__).resolve().parents[1]
GUIDE = (ROOT / "docs" / "writing-a-family.md").read_text(encoding="utf-8")
STEPS = sorted((ROOT / "docs" / "steps").glob("step-*.yaml"))
BLOCKS = [(int(number), text) for number, text in re.findall(r"```yaml\n# step (\d)[^\n]*\n(.*?)```", GUIDE, re.DOTALL)]


def family_of(number):
    return load_family(ROOT / "docs" / "steps" / f"step-{number}.yaml")


def test_every_block_of_code_in_the_guide_says_to_which_step_it_belongs():
    assert GUIDE.count("```yaml") == len(BLOCKS) > 12
    assert {number for number, _ in BLOCKS} == set(range(1, len(STEPS) + 1))


@pytest.mark.parametrize(("number", "text"), BLOCKS)
def test_every_block_of_code_stands_line_for_line_in_the_file_of_its_step(number, text):
    file = STEPS[number - 1].read_text(encoding="utf-8")
    assert f"\n{text}" in f"\n{file}"
    assert number > 1 or text == file


@pytest.mark.parametrize("number", range(1, len(STEPS) + 1))
def test_every_step_can_be_read_built_measured_and_seen(number):
    family = family_of(number)
    for seed in range(1, 6):
        problem = problem_of(family.sample(seed))
        problem.check()
        assert problem.pictorial


@pytest.mark.parametrize("number", range(2, len(STEPS) + 1))
def test_every_step_says_more_than_the_one_before(number):
    before, after = family_of(number - 1), family_of(number)
    assert len(after.measures) + len(after.rules) > len(before.measures) + len(before.rules)


def test_the_guide_ends_with_a_family_that_vets_clean_and_begins_with_one_that_does_not():
    assert vet(family_of(7), seeds=16, sheets=2).faults == ()
    assert not vet(family_of(1), seeds=2, sheets=0).clean


def test_the_fault_that_the_guide_explains_is_the_one_that_vetting_finds():
    [found] = [fault.found for fault in vet(family_of(6), seeds=5, sheets=0).faults]
    assert " ".join(found.split()) in " ".join(GUIDE.split())


def test_the_table_that_the_guide_shows_is_the_one_that_vetting_prints():
    report = vet(family_of(6), seeds=40, sheets=0)
    row = next(line for line in GUIDE.splitlines() if line.split()[:1] == ["step-6"])
    least = [f"{report.least[what].value:.1f}" for what in ("wall", "face", "lines")]
    views = "/".join(f"{count:g}" for count in report.adds.values())
    told = [report.name, str(report.rung), f"{report.index:.1f}", *in_words(report.variants).split(),
            f"{100 * report.kept:.0f}", "%", *least, views]
    assert row.split()[:len(told)] == told
    heads = ["Family", "Rung", "Index", "Variants", "Kept", "Wall", "Face", "Lines", "Views", "Refused", "Faults"]
    assert heads in [line.split() for line in GUIDE.splitlines()]


def test_the_guide_tells_all_functions_of_formulas_and_which_take_degrees():
    text = " ".join(GUIDE.split())
    assert all(f"`{name}(" in text for name in ("if", *FUNCTIONS))
    assert "`sin(…)`, `cos(…)`, `tan(…)` of an angle in degrees" in text and parse("sin(30)").number({}) == 0.5


def test_rungs_are_told_by_the_same_words_on_contact_sheets_and_in_the_page_on_difficulty():
    page = (ROOT / "docs" / "difficulty.md").read_text(encoding="utf-8")
    told = dict(re.findall(r"^\| (\d) \| [\d.]+ \| (.+) \|$", page, re.MULTILINE))
    for name in wording_names():
        assert told == {str(rung): load_wording(name).render(f"contact.rung_{rung}") for rung in range(1, 6)}


def test_pictures_are_those_of_the_steps(tmp_path):
    place = ROOT / "docs" / "make_pictures.py"
    spec = spec_from_file_location("make_pictures", place)
    module = module_from_spec(spec)
    spec.loader.exec_module(module)
    for made in module.make(tmp_path):
        assert made.read_bytes() == (ROOT / "docs" / "pictures" / made.name).read_bytes()
        assert f"(pictures/{made.name})" in GUIDE


def table_of_features():
    """For each row of the guide's table: the words after add, the words after cut, the fields."""
    part = GUIDE.partition("<!-- features: begin -->")[2].partition("<!-- features: end -->")[0]
    for row in part.strip().splitlines()[2:]:
        words, fields, _ = row.strip("| ").split(" | ", 2)
        groups = [group for group in re.split(r", (?=cut)", words) if group]
        named = [(group.split()[0].rstrip(","), set(re.findall(r"`(\w+)`", group))) for group in groups]
        if words.startswith("add, cut"):
            both = set(re.findall(r"`(\w+)`", words))
            named = [("add", both), ("cut", both)]
        yield named, set(re.findall(r"`(\w+)`", fields)) | ({"x", "y", "z"} if "+ range" in fields else set())


def test_the_table_has_every_feature_and_every_field():
    told = {"add": set(), "cut": set()}
    for named, fields in table_of_features():
        for verb, words in named:
            told[verb] |= words
            kinds = {(ADDED if verb == "add" else CUT)[word] for word in words}
            assert all(set(MODELS[kind].model_fields) - {"add", "cut", "name", "when"} == fields for kind in kinds), words
    assert told == {"add": set(ADDED), "cut": set(CUT)}


WORDING = (ROOT / "docs" / "wording.md").read_text(encoding="utf-8")


def test_the_page_on_wording_has_every_group_of_texts_and_every_value():
    part = WORDING.partition("<!-- texts: begin -->")[2].partition("<!-- texts: end -->")[0]
    rows = [row.strip("| ").split(" | ") for row in part.strip().splitlines()[2:]]
    told = {row[0].strip("`"): set(re.findall(r"`(\w+)`", row[2])) if len(row) > 2 else set() for row in rows}
    known: dict[str, set[str]] = {}
    for key, values in PHRASES.items():
        known.setdefault(key.partition(".")[0], set()).update(values)
    assert told == known


def test_the_page_on_wording_shows_texts_as_they_can_be_written(tmp_path):
    english = (ROOT / "templates" / "wording" / "en.yaml").read_text(encoding="utf-8")
    for block in re.findall(r"```yaml\n(.*?)```", WORDING, re.DOTALL):
        group, *lines = block.splitlines()
        for line in lines:
            key = line.partition(":")[0]
            text = re.sub(rf"(?ms)(^{group}\n.*?)^{key}:[^\n]*$", lambda found, line=line: found[1] + line, english, count=1)
            (tmp_path / "ours.yaml").write_text(text, encoding="utf-8")
            written = line.partition(":")[2].strip().strip('"')
            assert load_wording(tmp_path / "ours.yaml").phrases[f"{group[:-1]}.{key.strip()}"].source == written


@pytest.mark.parametrize("page", ["README.md", "DEVELOPERS.md"])
def test_the_guides_are_found_from_the_first_pages(page):
    text = (ROOT / page).read_text(encoding="utf-8")
    assert "(docs/writing-a-family.md)" in text and "(docs/wording.md)" in text
    assert "(docs/plans.md)" in text and "(docs/title-blocks.md)" in text


def options_of(command):
    """The options of a command and of all below it."""
    own = {name for one in command.params if isinstance(one, click.Option) for name in one.opts}
    return own.union(*map(options_of, getattr(command, "commands", {}).values()))


def test_every_option_that_the_readme_names_is_one():
    text = (ROOT / "README.md").read_text(encoding="utf-8").partition("## Use")[2].partition("## Test")[0]
    named = set(re.findall(r"(?<![\w-])--?[a-zA-Z][a-z-]*", text)) - {"-h", "-e"}
    assert {"--open", "--quiet", "--jobs", "--no-overwrite", "-V"} <= named <= options_of(main)


@pytest.mark.parametrize("page", sorted((ROOT / "docs").glob("*.md")), ids=lambda page: page.name)
def test_links_between_the_pages_lead_somewhere(page):
    for link in re.findall(r"\]\(([^)#]+)\)", page.read_text(encoding="utf-8")):
        assert (page.parent / link).exists()


PLANS = (ROOT / "docs" / "plans.md").read_text(encoding="utf-8")
TERM = next(block for block in re.findall(r"```yaml\n(.*?)```", PLANS, re.DOTALL) if "term:" in block)


def plan_of(folder, text, week=None):
    (folder / "plan.yaml").write_text(text, encoding="utf-8")
    return load_plan(folder / "plan.yaml", load_bank(), "plan.yaml", week)


def test_the_page_on_plans_shows_plans_that_can_be_typed_as_they_stand(tmp_path):
    (tmp_path / "our-block.yaml").write_bytes((ROOT / "docs" / "steps" / "step-7.yaml").read_bytes())
    [lines] = [block for block in re.findall(r"```yaml\n(.*?)```", PLANS, re.DOTALL) if "term:" not in block]
    problems = re.findall(r"^  - .*$", lines, re.MULTILINE)
    counts = [len(plan_of(tmp_path, f"problems:\n{line}\n").entries) for line in problems]
    assert counts == [1, 1, 3, 1, 4, 3, 1, 1] and len(plan_of(tmp_path, lines).entries) == sum(counts)


def test_the_term_of_the_page_on_plans_has_other_problems_in_each_of_its_weeks(tmp_path):
    weeks = [plan_of(tmp_path, TERM, week).entries for week in (1, 2, 14)]
    assert [len(week) for week in weeks] == [5, 5, 5] and len({entry for week in weeks for entry in week}) == 15
    assert plan_of(tmp_path, TERM, 14).term.weeks == 14


def test_the_page_on_plans_has_every_field_and_every_word_that_a_field_takes():
    assert {f"`{name}`" for name in field_names(PlanFile)} <= set(re.findall(r"`\w+`", PLANS))
    words = (*PROJECTIONS, *SIDES, *FIGURES, *ARROWS, *PAPER_NAMES, *title_block_names(), *wording_names())
    assert all(f"`{word}`" in PLANS for word in words)
    limits = (f"`weeks` is {USUAL_WEEKS}", f"at most {MOST_WEEKS}", f"at most {MOST_PROBLEMS}")
    assert all(limit in PLANS for limit in limits)


BLOCKS_PAGE = (ROOT / "docs" / "title-blocks.md").read_text(encoding="utf-8")


def between(name):
    return BLOCKS_PAGE.partition(f"<!-- {name}: begin -->")[2].partition(f"<!-- {name}: end -->")[0]


def first_column(part):
    """The words between backticks in the first cells of a table's rows."""
    return {word for row in part.strip().splitlines()[2:] for word in re.findall(r"`(\w+)`", row.split("|")[1])}


def test_the_page_on_title_blocks_has_every_field_every_label_and_every_value():
    assert first_column(between("cell")) == set(field_names(CellFile))
    assert set(re.findall(r"`(\w+)`", between("labels"))) == set(LABELS)
    assert first_column(between("values")) == set(VALUE_NAMES)
    for field in (*field_names(BlockFile), *field_names(GroupFile), *FILTERS, *SHAPES, *WORDS):
        assert re.search(rf"`{field}`|^ *-? ?{field}:", BLOCKS_PAGE, re.MULTILINE), field


def test_the_numbers_on_the_page_on_title_blocks_are_those_that_hold():
    said = " ".join(BLOCKS_PAGE.split())
    for text in (f"At most {MOST_CELLS};", f"at most {MOST_TEXT} letters", f"{LEAST_SIZE[0]:g} to {MOST_SIZE[0]:g}",
                 f"{LEAST_SIZE[1]:g} to {MOST_SIZE[1]:g} mm", f"at least {LEAST_CREST:g} x {LEAST_CREST:g} mm",
                 f"at most {MOST_KILOBYTES} kB, {MOST_ELEMENTS} elements, {DEEPEST} of them within each other, and 20 000 points",
                 f"may have {MOST_KILOBYTES} kB and a million dots", f"{MOST_PIECES} groups, each of at most {MOST_PIECES} lines",
                 f"at least {LEAST_SYMBOL * symbol_width(1.0) + 2 * SIDE + 0.05:.1f} x {LEAST_SYMBOL + 2 * EDGE:.1f} mm"):
        assert text in said, text
    assert (MOST_POINTS, MOST_DOTS) == (20_000, 1_000_000)


def test_the_guides_tell_the_room_of_a_code_and_how_refusals_are_counted():
    assert f"the figure of the printed code, {CODE_BOX:g} x {CODE_BOX:g} mm or more" in between("cell")
    assert f"a box of {CODE_BOX:g} mm at the block's left" in " ".join(BLOCKS_PAGE.split())
    said = " ".join(GUIDE.split())
    assert f"({SEEDS}, or `--seeds`)" in said and f"(a third of them, at most {SHEETS})" in said
    assert f"each is a fault if it is above {100 * MOST_REFUSED:.0f} % *and* more than one variant is refused" in said
    assert f"{100 / SEEDS:.1f} % of {SEEDS} and {100 / SHEETS:.0f} % of {SHEETS}" in said


def test_what_the_page_on_title_blocks_shows_is_a_block(tmp_path):
    text = "".join(re.findall(r"```yaml\n(.*?)```", BLOCKS_PAGE, re.DOTALL))
    assert text.count("crest: our-crest.svg") == 1
    drawing = '<svg xmlns="http://www.w3.org/2000/svg"><path d="M0 0h9v9"/></svg>'
    (tmp_path / "our-crest.svg").write_text(drawing, encoding="utf-8")
    path = tmp_path / "ours.yaml"
    path.write_text(text, encoding="utf-8")
    block = load_title_block(path)
    assert block.remarks == () and block.crest
    for source in re.findall(r"`(\{\{[^`]*)`", BLOCKS_PAGE):
        assert phrase(source, VALUE_NAMES).render({**TitleBlockValues().by_name(), "number": "seven", "course": "drawing",
                                                   "sheets": 3}) in ("SEVEN", "drawing", "OF 3")
