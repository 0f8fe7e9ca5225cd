"""The words on sheets."""

import re
from pathlib import Path

import pytest

from sheetgen.ink import missing_glyphs
from sheetgen.shared import shipped
from sheetgen.templating import TemplateError, load_wording, wording_names
from sheetgen.templating.files import LIMITS
from sheetgen.templating.phrases import PhraseError
from sheetgen.templating.texts import PHRASES
from sheetgen.templating.wording import wording_of
from sheetgen.yamlines import read


def test_the_spacing_arithmetic_reads_as_a_student_would_write_it():
    words = load_wording()
    assert words.render("spacing.across", length=390, sizes="100 - 50", gaps=3, gap=80.0, scale="1:1") == (
        "Across: (390 - 100 - 50) / 3 = 80 mm")
    assert words.render("spacing.up", breadth=277.0, kept="0", sizes="62.5 - 50", gaps=3, gap=54.83333, scale="1:1") == (
        "Up: (277 - 62.5 - 50) / 3 = 54.83 mm")


def test_the_question_names_its_views_and_ends_the_list_with_a_full_stop():
    words = load_wording()
    front = words.render("named.front", arrow="F")
    assert words.render("question.view", letter="a", view=front, last="no") == (
        "(a) the front view, looking in the direction of arrow F;")
    assert words.render("question.view", letter="b", view=words.render("named.top", arrow="F"), last="yes") == "(b) the top view."


def test_the_task_gives_scale_and_projection():
    words = load_wording()
    task = words.render("question.task", scale=words.render("scale.full", scale="1:1"),
                        projection=words.render("projection.first"))
    assert task == "Draw full size, in first angle projection, these views of the part shown:"


def test_a_file_with_texts_missing_unknown_and_misspelt_is_told_all_at_once():
    written = read("notice: x\nspacing:\n  up: '{{ hight }}'\n  down: y\nviews: [1]\n", "xx.yaml", LIMITS)
    with pytest.raises(TemplateError) as caught:
        wording_of(written)
    told = str(caught.value)
    assert "xx.yaml:3: spacing.up: found the unknown value hight, wanted one of breadth, gap, gaps, kept, scale, sizes" in told
    assert "xx.yaml:4: spacing.down: found an unknown text" in told
    assert "xx.yaml:5: views: found a list of 1" in told
    assert "check_bar: found no such text, wanted" in told


def test_a_value_that_the_caller_forgets_is_refused():
    with pytest.raises(PhraseError, match="no value for gap"):
        load_wording().render("spacing.across", length=1, sizes="1", gaps=3)


@pytest.mark.parametrize("name", ["../en", "/etc/passwd", "xx", "", "wording/en"])
def test_a_name_is_the_plain_name_of_a_wording_that_comes_with_us(name):
    with pytest.raises(TemplateError, match="wanted one of en, en-elevations"):
        load_wording(name)


def changed(folder: Path, old: str, new: str) -> Path:
    """The English wording with one text changed, as a file of a teacher's own."""
    text = (shipped("templates") / "wording" / "en.yaml").read_text(encoding="utf-8")
    assert text.count(old) == 1
    path = folder / "ours.yaml"
    path.write_text(text.replace(old, new), encoding="utf-8")
    return path


def test_a_wording_of_ones_own_is_taken_by_its_path(tmp_path):
    ours = load_wording(changed(tmp_path, "TOP VIEW", "PLAN VIEW"))
    assert ours.render("views.top") == "PLAN VIEW" and ours.file.endswith("ours.yaml")
    with pytest.raises(TemplateError, match=r"wanted a \.yaml or \.yml file"):
        load_wording(tmp_path / "ours.txt")


@pytest.mark.parametrize(("old", "new", "told"), [
    ('"{{ size }} THROUGH"', "THROUGH", "hole.through: found a text that does not show size as it is"),
    ('"{{ depth }} DEEP"', '"{{ depth if depth == 8 else 7 }} DEEP"', "hole.depth: found a text that does not show depth as"),
    ('"{{ depth }} DEEP"', '"{{ depth }} DEEP +1"', "hole.depth: found a number of its own"),
    ('"C\'BORE {{ size }}"', '"{{ size|lower }} c\'bore"', "hole.counterbore: found a text that does not show size as it is"),
    ('"CSK {{ size }}"', '"CSK {{ size }} {{ size }}"', "hole.countersink: found a text that does not show size as it is"),
    ("{{ scale }}, in {{ projection }}", "it in {{ projection }}", "question.task: found a text that does not show scale as"),
], ids=["no size", "no depth", "a number", "changed size", "twice", "no scale"])
def test_a_text_without_which_the_sheet_would_be_wrong_must_show_its_values(tmp_path, old, new, told):
    with pytest.raises(TemplateError, match=re.escape(told)):
        load_wording(changed(tmp_path, old, new))


@pytest.mark.parametrize(("new", "told"), [
    ("正面図", "views.front: found the sign '正面図', wanted letters that the sheet's lettering has"),
    ("V" * 60, "views.front: found the word 'VVV"),
    ("{{ view }}", "views.front: found the unknown value view"),
    ("{{ '' }}", "views.front: found a text that comes to nothing"),
])
def test_a_text_that_no_sheet_could_hold_is_told_with_its_line(tmp_path, new, told):
    with pytest.raises(TemplateError) as caught:
        load_wording(changed(tmp_path, "FRONT VIEW", f'"{new}"'))
    assert told in str(caught.value)
    assert caught.value.faults[0].line > 1


def test_a_text_is_tried_with_everything_that_it_may_choose_by(tmp_path):
    rest = "{{ 'VERTICAL' if way == 'up' else 'LEVEL' }}"
    sloping = next(line for line in (shipped("templates") / "wording" / "en.yaml").read_text(encoding="utf-8").splitlines()
                   if line.startswith("  sloping_slot:"))
    load_wording(changed(tmp_path, sloping, f'  sloping_slot: "{rest}"'))
    with pytest.raises(TemplateError, match=r"notes\.sloping_slot: found a text that comes to nothing"):
        load_wording(changed(tmp_path, sloping, f'  sloping_slot: "{rest}"'.replace("LEVEL", "")))
    with pytest.raises(TemplateError, match=r"notes\.sloping_slot: found the unknown value size"):
        load_wording(changed(tmp_path, sloping, '  sloping_slot: "{{ size }} {{ way }}"'))


def test_a_note_agrees_with_how_many_there_are_and_where_they_run():
    words = load_wording()
    assert [words.render("notes.through_slot", several=several) for several in ("no", "yes")] == [
        "THE SLOT RUNS RIGHT THROUGH", "THE SLOTS RUN RIGHT THROUGH"]
    assert [words.render("notes.sloping_hole", several="no", faces="no", way=way, size="") for way in ("up", "wide", "deep")] == [
        "THE HOLE IN THE SLOPING FACE IS VERTICAL", "THE HOLE IN THE SLOPING FACE IS HORIZONTAL, FROM LEFT TO RIGHT",
        "THE HOLE IN THE SLOPING FACE IS HORIZONTAL, FROM FRONT TO BACK"]


@pytest.mark.parametrize("name", wording_names())
def test_a_side_view_is_named_by_the_side_it_is_seen_from_not_by_where_it_stands(name):
    # in first angle projection the view from the left stands on the right
    words = load_wording(name)
    for side in ("left", "right"):
        assert words.render(f"views.{side}").endswith(f"FROM THE {side.upper()}")
        assert words.render(f"named.{side}", arrow="").endswith(f"from the {side}")
        assert words.render(f"named.{side}", arrow="K").endswith(f"from the {side}, along arrow K")


def test_the_words_at_the_check_bar_may_not_be_longer_than_the_bar(tmp_path):
    with pytest.raises(TemplateError, match="check_bar: found 124 characters"):
        load_wording(changed(tmp_path, "100 mm: measure me;", "100 mm:" + " measure me," * 5 + " by all means;"))


def test_a_language_is_told_by_its_tag(tmp_path):
    assert load_wording(changed(tmp_path, "code: en-GB", "code: pt-BR")).language == "pt-BR"
    with pytest.raises(TemplateError, match=r"language\.code: found 'English as she is spoke'"):
        load_wording(changed(tmp_path, "code: en-GB", "code: English as she is spoke"))


@pytest.mark.parametrize("name", wording_names())
def test_every_wording_that_comes_with_us_has_every_text_and_can_be_lettered(name):
    words = load_wording(name)
    assert words.phrases.keys() == PHRASES.keys()
    for key, names in PHRASES.items():
        assert missing_glyphs(words.render(key, **dict.fromkeys(names, "20"))) == ""
    assert words.render("notice") == "PRACTICE PART - NOT FOR MANUFACTURE"
    assert words.language == "en-GB"                        # our English is spelt as in Britain


def test_schools_that_say_elevation_and_plan_have_a_wording_of_their_own():
    # usage of drawing classes in Britain and Ireland (common practice, no source)
    words = load_wording("en-elevations")
    assert [words.render(f"views.{view}") for view in ("front", "top", "left")] == [
        "FRONT ELEVATION", "PLAN", "END ELEVATION FROM THE LEFT"]
    assert words.render("named.front", arrow="F") == "the front elevation in the direction of arrow F"


def test_an_empty_text_is_a_fault():
    with pytest.raises(TemplateError, match=r"notice: found nothing, wanted a text"):
        wording_of(read("notice:\n", "xx.yaml", LIMITS))


def test_a_text_that_a_number_sign_cuts_off_is_remarked_with_its_line():
    text = (shipped("templates") / "wording" / "en.yaml").read_text(encoding="utf-8")
    cut = text.replace("  worksheet: Worksheet\n", "  worksheet: Sheet #1 of ours\n")
    words = wording_of(read(cut, "ours.yaml", LIMITS))
    [remark] = words.remarks
    assert (remark.line, remark.field) == (words.lines["files.worksheet"], "files.worksheet")
    assert remark.found == "'Sheet', cut off before '#1 of ours'" and load_wording().remarks == ()
