"""The tree of topics: what covers what, and what is wrong with a tree."""

from __future__ import annotations

import pytest

from sheetgen.bank import load_bank, outlines
from sheetgen.choosing import TopicError, Wish, chosen, fits, load_topics, topic_tree, topics_of
from sheetgen.choosing import unknown_topics as choosing_unknown
from sheetgen.vetting.choices import unknown_topics
from tests import samples
from tests.samples import step

SHIPPED = outlines(load_bank())


def tree_of(folder, text):
    (folder / "topics.yaml").write_text(text, encoding="utf-8")
    return load_topics(folder / "topics.yaml", "topics.yaml")


def test_holes_are_through_blind_counterbored_and_countersunk_ones_too():
    for topic in ("through holes", "blind holes", "Counterbored  holes", "countersunk holes", "holes"):
        assert topic_tree().covers(["Holes"], [topic])
    assert not topic_tree().covers(["blind holes"], ["holes"]) and not topic_tree().covers(["holes"], ["slots"])


def test_who_asks_for_holes_gets_families_with_each_sort_of_hole():
    names = {name for name, outline in SHIPPED.items() if fits(outline, ["holes"], ())}
    assert {"twin-ribbed-bracket", "slotted-slide", "flanged-foot", "countersunk-plate", "conical-boss"} <= names
    assert len(chosen(Wish(("holes",), count=len(names)), SHIPPED)) == len({entry.family for entry in chosen(
        Wish(("holes",), count=len(names)), SHIPPED)}) == len(names)


def test_every_topic_of_a_shipped_family_stands_in_the_tree_and_every_topic_of_the_tree_finds_a_family():
    bank = load_bank()
    assert [fault for name in bank for fault in unknown_topics(bank[name])] == []
    assert set(topic_tree().above) <= set(topics_of(SHIPPED.values()))


def test_a_topic_may_cover_one_that_covers_others(tmp_path):
    tree = tree_of(tmp_path, "- round shapes:\n    - holes:\n        - blind holes\n    - bosses\n- steps\n")
    assert list(tree.over("blind holes")) == ["blind holes", "holes", "round shapes"]
    assert tree.covers(["round shapes"], ["blind holes"]) and not tree.covers(["bosses"], ["blind holes"])


@pytest.mark.parametrize(("text", "line", "found"), [
    ("- holes\n- slots\n- Holes\n", 3, "a topic that stands in two places"),
    ("- holes:\n    - holes\n", 2, "a topic that stands in two places"),
    ("- holes:\n", 1, "''"),
    ("- holes: blind holes\n", 1, "'blind holes'"),
    ("- [holes, slots]\n", 1, "a list of 2"),
    ("holes: [blind holes]\n", 1, "fields holes"),
    ("", 1, "nothing"),
])
def test_a_fault_of_the_tree_is_told_with_its_line(tmp_path, text, line, found):
    with pytest.raises(TopicError) as caught:
        tree_of(tmp_path, text)
    assert (line, found) in [(fault.line, fault.found) for fault in caught.value.faults]


def test_who_asks_by_an_old_word_finds_what_has_the_new_one_and_the_other_way_round():
    for old, new in (("obround slots", "slots with rounded ends"), ("V-grooves", "vee grooves"),
                     ("quarter-round-corners", "rounded corners")):
        assert topic_tree().covers([old], [new]) and topic_tree().covers([new], [old]) and old in topic_tree()
        assert choosing_unknown([old], topics_of(SHIPPED.values())) == []
    assert topic_tree().covers(["slots"], ["obround slots"]) and not topic_tree().covers(["steps"], ["obround slots"])


@pytest.mark.parametrize(("text", "line"), [
    ("topics: [holes, slots]\nformerly: {bores: drillings}\n", 2),
    ("topics: [holes, slots]\nformerly: {slots: holes}\n", 2),
    ("topics: [holes]\nformerly: [bores]\n", 2),
    ("topics: [holes]\nformer: {bores: holes}\n", 1),
])
def test_an_old_word_must_lead_to_a_topic_and_be_none(tmp_path, text, line):
    with pytest.raises(TopicError) as caught:
        tree_of(tmp_path, text)
    assert [fault.line for fault in caught.value.faults] == [line]


def test_a_topic_of_ones_own_that_stands_nowhere_is_remarked_on_with_the_nearest(tmp_path):
    family = samples.family_of(tmp_path, step(1, "steps", "blind hole", "fancy work"))
    near, far = unknown_topics(family)
    assert near.found == "'blind hole', which no other topic covers" and near.wanted.startswith("blind holes, ")
    assert "(the topics stand in templates/topics.yaml)" in near.wanted
    assert far.found.startswith("'fancy work'")
