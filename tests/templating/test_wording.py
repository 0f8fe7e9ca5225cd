"""The words on sheets."""

import pytest

from sheetgen.ink import missing_glyphs
from sheetgen.templating import TemplateError, load_wording
from sheetgen.templating.nodes import Node, nodes_of
from sheetgen.templating.phrases import PhraseError
from sheetgen.templating.titleblock import PRACTICE_NOTICE
from sheetgen.templating.wording import PHRASES, wording_of


def test_the_spacing_arithmetic_reads_as_a_pupil_would_write_it():
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


def test_every_text_can_be_lettered():
    words = load_wording()
    assert words.phrases.keys() == PHRASES.keys()
    for key, names in PHRASES.items():
        assert missing_glyphs(words.render(key, **dict.fromkeys(names, "20"))) == ""


def test_the_practice_notice_is_the_same_in_words_and_title_blocks():
    assert load_wording().render("notice") == PRACTICE_NOTICE


def test_a_file_with_texts_missing_unknown_and_misspelt_is_told_all_at_once():
    written = nodes_of("notice: x\nspacing:\n  up: '{{ hight }}'\n  down: y\nviews: [1]\n", "xx.yaml")
    with pytest.raises(TemplateError) as caught:
        wording_of(written, "xx", "xx.yaml")
    told = str(caught.value)
    assert "xx.yaml:3: spacing.up: found the unknown value hight, wanted one of breadth, gap, gaps, kept, scale, sizes" in told
    assert "xx.yaml:4: spacing.down: found an unknown text" in told
    assert "xx.yaml:5: views: found a list of 1" in told
    assert "check_bar: found no such text" in told


def test_a_value_that_the_caller_forgets_is_refused():
    with pytest.raises(PhraseError, match="no value for gap"):
        load_wording().render("spacing.across", length=1, sizes="1", gaps=3)


@pytest.mark.parametrize("language", ["../en", "/etc/passwd", "xx", "", "en.yaml"])
def test_a_language_is_the_plain_name_of_a_file_that_exists(language):
    with pytest.raises(TemplateError, match="wanted one of en"):
        load_wording(language)


def test_an_empty_text_is_a_fault():
    with pytest.raises(TemplateError, match=r"notice: found nothing, wanted a text"):
        wording_of(Node({"notice": Node("", 7)}, 1), "xx", "xx.yaml")
