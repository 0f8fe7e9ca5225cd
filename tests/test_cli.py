"""The command line as a teacher meets it: what it writes, what it says, and that it never ends in a traceback."""

from __future__ import annotations

import json
import subprocess
import sys

import pytest
from click.testing import CliRunner
from pypdf import PdfReader

from sheetgen.cli import main
from sheetgen.codes import family_number
from sheetgen.sets import MOST_SEED
from sheetgen.shared import shipped
from sheetgen.sheet import FIGURES, PAPER_NAMES, PROJECTIONS, SIDES, TITLE_BLOCK
from sheetgen.templating import title_block_names, wording_names
from tests import samples


@pytest.fixture
def bank(tmp_path):
    """A folder with one small family."""
    return samples.bank_of(tmp_path / "bank", step=samples.STEP)


def run(*words, code=0):
    """Run the command; all its words, and the exit code it must have."""
    outcome = CliRunner().invoke(main, [str(word) for word in words])
    assert outcome.exit_code == code, outcome.output
    assert "Traceback" not in outcome.output
    return outcome


def listing(folder):
    return sorted(path.name for path in folder.iterdir()) if folder.exists() else []


def test_a_seed_gives_a_question_and_an_answer_named_after_family_and_seed(tmp_path, bank):
    said = run("sheet", "step", "--seed", 7, "--only-bank", bank, "--out", tmp_path / "out").stdout
    assert listing(tmp_path / "out") == ["step-7-answer.pdf", "step-7-question.pdf"]
    assert said == f"{tmp_path}/out/step-7-question.pdf and {tmp_path}/out/step-7-answer.pdf written\n"


def test_the_same_command_gives_the_same_bytes(tmp_path, bank):
    for out in ("one", "two"):
        run("sheet", "step", "--seed", 7, "--only-bank", bank, "--out", tmp_path / out)
    for name in listing(tmp_path / "one"):
        assert (tmp_path / "one" / name).read_bytes() == (tmp_path / "two" / name).read_bytes()


def test_projection_and_paper_are_chosen_on_the_command_line(tmp_path, bank):
    run("sheet", "step", "--seed", 2, "--only-bank", bank, "--out", tmp_path, "--projection", "third", "--side", "right",
        "--paper", "A2", "--figures", "upright", "--title-block", "quarry")
    page = PdfReader(tmp_path / "step-2-answer.pdf").pages[0]
    assert round(float(page.mediabox.width) * 25.4 / 72) == 594
    text = page.extract_text()
    assert "SIDE VIEW FROM THE RIGHT" in text and "SIDE VIEW FROM THE LEFT" not in text


def test_the_kinds_of_exercise_are_listed_and_another_is_a_fault(tmp_path, bank):
    assert "views: from a pictorial with its sizes, draw the views\n" in run("kinds").stdout.splitlines(keepends=True)
    (tmp_path / "plan.yaml").write_text(samples.PLAN, encoding="utf-8")
    for command in (("sheet", "step"), ("worksheet", tmp_path / "plan.yaml")):
        run(*command, "--only-bank", bank, "--kind", "views", "--out", tmp_path / "out")
        told = run(*command, "--only-bank", bank, "--kind", "viws", "--out", tmp_path / "out", code=2)
        assert "there is no kind 'viws': it is one of" in told.stderr


def test_files_of_another_kind_carry_its_name_and_replace_none(tmp_path, bank):
    (tmp_path / "plan.yaml").write_text(samples.PLAN, encoding="utf-8")
    for kind in ("views", "section"):
        run("sheet", "step", "--seed", 2, "--only-bank", bank, "--kind", kind, "--out", tmp_path / "out")
        run("worksheet", tmp_path / "plan.yaml", "--only-bank", bank, "--kind", kind, "--out", tmp_path / "out")
    assert listing(tmp_path / "out") == [
        "answers-section.pdf", "answers.pdf", "questions-section.pdf", "questions.pdf",
        "step-2-answer.pdf", "step-2-question.pdf", "step-2-section-answer.pdf", "step-2-section-question.pdf"]


def test_the_command_can_be_run_as_a_module():
    done = subprocess.run([sys.executable, "-m", "sheetgen", "--version"], capture_output=True, text=True, check=True)
    assert done.stdout.startswith("sheetgen ")


def test_svg_files_come_beside_the_pdfs_when_asked_for(tmp_path, bank):
    run("sheet", "step", "--seed", 2, "--only-bank", bank, "--out", tmp_path / "out", "--svg")
    assert listing(tmp_path / "out") == ["step-2-answer.pdf", "step-2-answer.svg", "step-2-question.pdf", "step-2-question.svg"]
    picture = (tmp_path / "out" / "step-2-answer.svg").read_text(encoding="utf-8")
    assert picture.endswith("</svg>\n")
    assert f"<metadata>{PdfReader(tmp_path / 'out' / 'step-2-question.pdf').metadata.creator}</metadata>" in picture


def test_a_family_file_of_ones_own_is_taken_by_its_path(tmp_path, bank):
    run("sheet", bank / "step.yaml", "--seed", 3, "--out", tmp_path / "out")
    assert listing(tmp_path / "out") == ["step-3-answer.pdf", "step-3-question.pdf"]


def test_a_title_block_of_ones_own_is_taken_by_its_path(tmp_path, bank):
    run("sheet", "step", "--only-bank", bank, "--title-block", tmp_path / "none.yaml", "--out", tmp_path / "out", code=2)
    own = tmp_path / "ours.yaml"
    own.write_text("title: Ours\nwidth: 180\nheight: 20\ncells:\n  - {box: [0, 0, 150, 20], text: '{{ notice }} NO 1 SCHOOL'}\n"
                   "  - {box: [150, 0, 30, 20], symbol: projection}\n", encoding="utf-8")
    run("sheet", "step", "--only-bank", bank, "--title-block", own, "--out", tmp_path / "out")
    assert "NO 1 SCHOOL" in PdfReader(tmp_path / "out" / "step-1-answer.pdf").pages[0].extract_text()


@pytest.fixture
def plainly(tmp_path):
    """A wording of a teacher's own."""
    text = (shipped("templates") / "wording" / "en.yaml").read_text(encoding="utf-8")
    (tmp_path / "plainly.yaml").write_text(text.replace("FRONT VIEW", "FROM THE FRONT"), encoding="utf-8")
    return tmp_path / "plainly.yaml"


def test_the_words_on_sheets_are_chosen_by_name_or_are_ones_own(tmp_path, bank, plainly):
    for wording, title in (("en", "FRONT VIEW"), ("en-elevations", "FRONT ELEVATION"), (plainly, "FROM THE FRONT")):
        run("sheet", "step", "--only-bank", bank, "--wording", wording, "--out", tmp_path / "out")
        assert title in PdfReader(tmp_path / "out" / "step-1-answer.pdf").pages[0].extract_text()


def test_a_worksheet_may_be_printed_in_other_words_than_its_plan_has(tmp_path, bank):
    (tmp_path / "plan.yaml").write_text(samples.PLAN, encoding="utf-8")
    run("worksheet", tmp_path / "plan.yaml", "--only-bank", bank, "--wording", "en-elevations", "--out", tmp_path / "out")
    reader = PdfReader(tmp_path / "out" / "answers.pdf")
    assert all("PLAN" in page.extract_text() for page in reader.pages)
    assert reader.metadata.title == "Week 3: solutions"


def test_contact_sheets_have_the_words_that_are_chosen(tmp_path, bank, plainly):
    for wording, about in (("en-elevations", "elevations and plan"), (plainly, "orthographic views")):
        run("bank", "contact", "--only-bank", bank, "--wording", wording, "--out", tmp_path / "out")
        assert PdfReader(tmp_path / "out" / "contact.pdf").metadata.subject == about


def test_a_wording_with_a_fault_is_told_with_its_line_and_nothing_is_written(tmp_path, bank, plainly):
    text = plainly.read_text(encoding="utf-8").replace("{{ depth }} DEEP", "DEEP")
    plainly.write_text(text, encoding="utf-8")
    said = run("sheet", "step", "--only-bank", bank, "--wording", plainly, "--out", tmp_path / "out", code=2).stderr
    line = text.splitlines().index('  depth: "DEEP"') + 1
    assert f"plainly.yaml:{line}: hole.depth: found a text that does not show depth as it is" in said
    assert listing(tmp_path / "out") == []


def test_a_plan_gives_one_file_of_questions_and_one_of_answers(tmp_path, bank):
    (tmp_path / "plan.yaml").write_text(samples.PLAN, encoding="utf-8")
    said = run("worksheet", tmp_path / "plan.yaml", "--only-bank", bank, "--out", tmp_path / "out").stdout
    assert listing(tmp_path / "out") == ["answers.pdf", "questions.pdf"]
    assert said == f"3 problems: {tmp_path}/out/questions.pdf and {tmp_path}/out/answers.pdf written\n"


def test_no_progress_bar_runs_where_there_is_no_terminal(tmp_path, bank):
    (tmp_path / "plan.yaml").write_text(samples.PLAN, encoding="utf-8")
    assert run("worksheet", tmp_path / "plan.yaml", "--only-bank", bank, "--out", tmp_path / "out").stderr == ""


def test_redrawn_variants_are_counted_in_the_closing_line(tmp_path):
    bank = samples.bank_of(tmp_path / "bank", step=samples.SOMETIMES)
    family = samples.family_of(tmp_path / "bank", samples.SOMETIMES)
    widths = {seed: [family.sample(seed, draw).sizes["width"] for draw in range(3)] for seed in range(60)}
    once = next(seed for seed, found in widths.items() if found[:2] == [9000, 60])
    twice = next(seed for seed, found in widths.items() if found == [9000, 9000, 60])
    for seed, words in ((once, "(1 variant refused and redrawn)"), (twice, "(2 variants refused and redrawn)")):
        assert run("sheet", "step", "--seed", seed, "--only-bank", bank, "--out", tmp_path / "out").stdout.endswith(f"{words}\n")


def test_the_list_of_the_bank_tells_name_title_rung_topics_and_number_of_variants(bank):
    rows = [line.split() for line in run("bank", "list", "--only-bank", bank).stdout.splitlines()]
    assert ["Family", "Title", "Rung", "Topics", "Variants", "From"] in rows
    assert ["step", "Plain", "step", "1", "steps", "28", f"{bank}/"] in rows


def test_the_list_of_the_bank_as_json(bank):
    [row] = json.loads(run("bank", "list", "--only-bank", bank, "--json").stdout)
    assert row == {"name": "step", "title": "Plain step", "rung": 1, "topics": ["steps"], "sizes": ["width", "depth"],
                   "variants": 28, "file": f"{bank}/step.yaml"}


def test_the_list_is_narrowed_by_topic_and_rung(tmp_path):
    bank = samples.bank_of(tmp_path / "bank", step=samples.STEP, bore=samples.STEP.replace("topics: [steps]", "topics: [holes]"),
                           hard=samples.STEP.replace("rung: 1", "rung: 4"))

    def names(*words):
        return [row["name"] for row in json.loads(run("bank", "list", "--only-bank", bank, "--json", *words).stdout)]

    assert names("--topic", "holes") == ["bore"]
    assert names("--rung", 1) == ["bore", "step"]
    assert names("--rung", 4, "--rung", 1, "--topic", "steps") == ["step", "hard"]
    for words, said in ((("--topic", "Hols"), "found 'Hols', wanted holes (one of holes, steps)"),
                        (("--topic", "Holes", "--rung", 4), "no family with topic Holes, rung 4")):
        assert said in run("bank", "list", "--only-bank", bank, *words, code=2).stderr


def test_a_worksheet_by_topic_and_rung_needs_no_plan(tmp_path, bank):
    words = ("--topic", "steps", "--rung", 1, "--count", 2, "--only-bank", bank)
    assert run("worksheet", *words, "--out", tmp_path / "out").stdout.startswith(f"2 problems: {tmp_path}/out/questions.pdf and ")
    text = [page.extract_text() for page in PdfReader(tmp_path / "out" / "answers.pdf").pages]
    assert list(map(samples.problem_told, text)) == [(family_number("step"), seed) for seed in (1, 2)]
    (tmp_path / "plan.yaml").write_text(samples.PLAN, encoding="utf-8")
    assert "either a plan" in run("worksheet", tmp_path / "plan.yaml", *words, code=2).stderr


def test_a_broken_family_is_told_in_a_line_and_the_others_are_listed(bank):
    samples.bank_of(bank, bad="title: 1\n")
    outcome = run("bank", "list", "--only-bank", bank, code=1)
    assert "Plain step" in outcome.stdout and outcome.stderr.count("bad.yaml:1: title") == 1


@pytest.mark.parametrize(("name", "text", "wanted"), [
    ("no shape left", samples.NOTHING_LEFT, "step.yaml"),
    ("two pieces", samples.TWO_PIECES, "falls apart into 2 pieces"),
    ("rules nobody can meet", samples.IMPOSSIBLE, "500 of 500 choices of sizes refused: it should be as long as a bus"),
    ("a part for no paper", samples.TOO_LONG, "does not fit on A3 at any scale"),
    ("a size too few", samples.UNMEASURED, "nothing fixes step.bottom: add a measure that ends there"),
    ("measures of what is not there", samples.LOST_SIDE, "base.left to step.left"),
    ("a wrong type", samples.STEP.replace("rung: 1", "rung: high"), "step.yaml:3: rung: found 'high'"),
    ("a missing field", samples.STEP.replace("title: Plain step\n", ""), "title"),
    ("broken YAML", samples.STEP.replace("rung: 1", "rung: [1"), "step.yaml:"),
    ("a code that wants to run", samples.STEP.replace("title: Plain step", "title: !!python/object/apply:os.getcwd []"), "a tag"),
    ("an empty file", "", "step.yaml"),
    ("no text", "\x00\x01", "step.yaml:1"),
])
def test_a_family_that_makes_no_sheet_is_told_in_words_and_nothing_is_written(tmp_path, name, text, wanted):
    bank = samples.bank_of(tmp_path / "bank", step=text)
    outcome = run("sheet", "step", "--seed", 1, "--only-bank", bank, "--out", tmp_path / "out", code=2)
    assert wanted in outcome.stderr and outcome.stdout == ""
    assert listing(tmp_path / "out") == []


def test_a_misspelt_family_brings_the_nearest_name(tmp_path, bank):
    said = run("sheet", "stepp", "--only-bank", bank, "--out", tmp_path / "out", code=2).stderr
    assert "no family 'stepp', wanted step (one of step)" in said


@pytest.mark.parametrize("words", [
    ["sheet", "missing.yaml"],
    ["sheet", "../../etc/passwd"],
    ["sheet", "step\x1b[31m"],
    ["sheet", "step", "--seed", "seven"],
    ["sheet", "step", "--seed", "-1"],
    ["sheet", "step", "--seed", "1e9"],
    ["sheet", "step", "--projection", "second"],
    ["sheet", "step", "--title-block", "nobody"],
    ["sheet", "step", "--wording", "nobody"],
    ["sheet", "step", "--only-bank", "nowhere"],
    ["worksheet", "missing.yaml"],
    ["worksheet", "."],
    ["sheet"],
    ["shete"],
])
def test_a_slip_on_the_command_line_ends_with_words_and_code_2(tmp_path, bank, monkeypatch, words):
    monkeypatch.chdir(tmp_path)
    outcome = run(*words, *([] if "--only-bank" in words or words[0] == "shete" else ["--only-bank", bank]), code=2)
    assert outcome.stderr.strip() and "\x1b" not in outcome.stderr
    assert listing(tmp_path) == ["bank"]


def test_every_fault_of_a_plan_is_told_with_its_line(tmp_path, bank):
    (tmp_path / "plan.yaml").write_text("paper: A5\nproblems:\n  - {family: stepp, seed: 1}\n", encoding="utf-8")
    said = run("worksheet", tmp_path / "plan.yaml", "--only-bank", bank, "--out", tmp_path / "out", code=2).stderr
    assert "plan.yaml:1: paper: found 'A5', wanted one of A3" in said
    assert "plan.yaml:3: problems[1].family: found 'stepp', wanted step" in said


def test_a_folder_that_is_a_file_is_told_before_the_work(tmp_path, bank):
    (tmp_path / "out").write_bytes(b"mine")
    said = run("sheet", "step", "--only-bank", bank, "--out", tmp_path / "out", code=2).stderr
    assert "which is a file, wanted a folder" in said
    assert (tmp_path / "out").read_bytes() == b"mine"


def test_a_course_name_too_long_for_its_cell_is_told_with_the_plans_line_and_the_cell(tmp_path, bank):
    (tmp_path / "plan.yaml").write_text(samples.PLAN.replace("DRAWING 1", "W" * 80), encoding="utf-8")
    said = run("worksheet", tmp_path / "plan.yaml", "--only-bank", bank, "--out", tmp_path / "out", code=2).stderr
    assert said.startswith(f"{tmp_path}/plan.yaml:3: course: found 'WWW") and len(said.splitlines()) == 1
    assert "it stands in cells[2] of templates/title_blocks/harbour.yaml, line " in said
    assert listing(tmp_path / "out") == []


def test_a_block_of_the_teachers_own_that_shows_no_number_is_remarked_on_and_used(tmp_path, bank):
    (tmp_path / "ours.yaml").write_text(
        "title: Ours\nwidth: 100\nheight: 20\ncells:\n"
        '  - {box: [0, 0, 60, 20], text: "{{ notice }} {{ sheet_of }} {{ document_type }}"}\n'
        "  - {box: [60, 0, 40, 20], symbol: projection}\n", encoding="utf-8")
    (tmp_path / "plan.yaml").write_text("title_block: ours.yaml\n" + samples.PLAN, encoding="utf-8")
    sheet, worksheet = ("sheet", "step", "--title-block", tmp_path / "ours.yaml"), ("worksheet", tmp_path / "plan.yaml")
    for number, words in enumerate((sheet, worksheet)):
        said = run(*words, "--only-bank", bank, "--out", tmp_path / f"{number}").stderr
        first, *others = said.splitlines()
        assert first == f'Remark: {tmp_path}/ours.yaml: cells: found no number, wanted a cell with text: "{{{{ number }}}}"'
        assert [other.split(": ")[2] for other in others] == ([] if number == 0 else ["school", "course", "title", "teacher"])
        assert len(listing(tmp_path / f"{number}")) == 2


def test_a_fault_of_the_program_itself_is_told_in_one_line(tmp_path, bank, monkeypatch):
    def fails(*_):
        raise RuntimeError("out of ink")

    monkeypatch.setattr("sheetgen.sets.worksheet.make_exercise", fails)
    said = run("sheet", "step", "--only-bank", bank, "--out", tmp_path / "out", code=70).stderr
    failed = "sheetgen itself has failed; nothing was written to"
    assert said == f"{failed} {tmp_path}/out/. Please report this: RuntimeError: out of ink\n"


def test_ctrl_c_leaves_nothing_behind(tmp_path, bank, monkeypatch):
    def stopped(*_):
        raise KeyboardInterrupt

    monkeypatch.setattr("sheetgen.sets.worksheet.make_exercise", stopped)
    run("sheet", "step", "--only-bank", bank, "--out", tmp_path / "out", code=130)
    assert listing(tmp_path / "out") == []


@pytest.mark.parametrize("words", [["--help"], ["sheet", "--help"], ["worksheet", "--help"], ["bank", "--help"], ["--version"]])
def test_help_loads_nothing_of_the_drawing_so_that_it_comes_at_once(words):
    heavy = ("numpy", "shapely", "manifold3d", "reportlab", "pydantic", "rich", "yaml")
    code = (f"import sys\nfrom sheetgen.cli import main\ntry: main({words!r})\n"
            f"finally: print([name for name in {heavy} if name in sys.modules], file=sys.stderr)")
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=False)
    assert done.stderr.strip().splitlines()[-1] == "[]"


def test_the_choices_on_the_command_line_are_those_of_the_sheets():
    options = {option.name: option for option in main.commands["sheet"].params}
    for name, allowed in (("projection", PROJECTIONS), ("side", SIDES), ("paper", PAPER_NAMES), ("figures", FIGURES)):
        assert sorted(options[name].type.choices) == sorted(allowed)
        assert options[name].default == allowed[0]
    assert options["title_block"].default == TITLE_BLOCK
    assert all(block in options["title_block"].help for block in title_block_names())
    assert all(wording in options["wording"].help for wording in wording_names())
    assert options["seed"].type.max == MOST_SEED


def test_help_shows_commands_that_can_be_typed_as_they_stand():
    said = run("--help").stdout
    for line in ("sheetgen bank list", "sheetgen sheet stepped-block --seed 7", "sheetgen worksheet"):
        assert line in said


def test_contact_sheets_show_every_family_that_fits(tmp_path, bank):
    samples.bank_of(bank, hard=samples.STEP.replace("rung: 1", "rung: 4"))
    said = run("bank", "contact", "--only-bank", bank, "--out", tmp_path / "out")
    assert said.stdout == f"2 families: {tmp_path}/out/contact.pdf written\n" and said.stderr == ""
    assert len(PdfReader(tmp_path / "out" / "contact.pdf").pages) == 2
    run("bank", "contact", "--only-bank", bank, "--rung", 4, "--out", tmp_path / "four")
    [page] = PdfReader(tmp_path / "four" / "contact.pdf").pages
    assert "hard" in page.extract_text()
