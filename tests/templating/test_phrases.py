"""Phrases from strangers: what they can do, and what they cannot."""

import pytest

from sheetgen.templating.phrases import FILTERS, PhraseError, phrase

NAMES = ("title", "sheet", "sheets")


def test_a_phrase_shows_values_and_chooses():
    made = phrase("{{ title|upper }}{{ ', sheet ' ~ sheet if sheets != '1' else '' }}", NAMES)
    assert made.render({"title": "Bracket", "sheet": 2, "sheets": 3}) == "BRACKET, sheet 2"
    assert made.render({"title": "Bracket", "sheet": 1, "sheets": 1}) == "BRACKET"


@pytest.mark.parametrize("source", [
    "{% for a in title %}x{% endfor %}", "{{ range(9) }}", "{{ title * 1000000000 }}", "{{ 9 ** 9 ** 9 }}",
    "{{ title.__class__ }}", "{{ title['__class__'] }}", "{{ ''.join(title) }}", "{% set a = title %}",
    "{% include 'harbour.yaml' %}", "{% macro a() %}{% endmacro %}", "{{ title|center(99999999) }}",
    "{{ '%099999999d'|format(1) }}", "{{ title|attr('upper') }}", "{{ title|replace('a', 'aaaa') }}", "{{ [title] }}",
    "{{ cycler }}", "{{ title", "{% if title %}", "{{ " + "(" * 200 + "title" + ")" * 200 + " }}", "x" * 501,
])
def test_a_phrase_cannot_loop_call_repeat_or_look_inside_a_value(source):
    with pytest.raises(PhraseError) as caught:
        phrase(source, NAMES)
    assert caught.value.found and caught.value.wanted


def test_an_unknown_value_is_answered_with_the_known_ones():
    with pytest.raises(PhraseError, match="unknown value titel, wanted one of sheet, sheets, title"):
        phrase("{{ titel }}", NAMES)


def test_a_value_is_never_read_as_a_template():
    assert phrase("{{ title }}", NAMES).render({"title": "{{ 7 * 7 }} <b>"}) == "{{ 7 * 7 }} <b>"


def test_a_value_cannot_break_the_line_or_hide_signs():
    assert phrase("{{ title }}", NAMES).render({"title": "one\ntwo\t\u202ethree\x00"}) == "one two three"


def test_a_phrase_that_grows_too_long_is_refused():
    with pytest.raises(PhraseError, match="at most 300"):
        phrase("{{ title }}", NAMES).render({"title": "x" * 100_000})


def test_a_phrase_without_a_value_to_show_is_refused():
    with pytest.raises(PhraseError, match="no value for title"):
        phrase("{{ title }}", NAMES).render({})


def test_a_choice_without_an_else_that_comes_to_nothing_is_refused():
    with pytest.raises(PhraseError):
        phrase("{{ title if sheet < 3 }}", NAMES).render({"title": "a", "sheet": 1})


@pytest.mark.parametrize("name", FILTERS)
def test_every_filter_on_offer_works(name):
    assert phrase("{{ title|" + name + " }}", NAMES).render({"title": "Plate"}).lower() == "plate"
