"""A part told in words: every number is a size of the part, and what is said of it is true."""

from __future__ import annotations

import re
from functools import cache

import numpy as np
import pytest

from sheetgen.bank import load_bank
from sheetgen.exercises.description import description_of
from sheetgen.problem import problem_of, solid_of
from sheetgen.solid import Plane
from sheetgen.templating import load_wording, wording_names
from tests.families import sample
from tests.samples import EVERY_WORD, family_of

NUMBER = re.compile(r"[0-9]+(?:\.[0-9]+)?")

FAMILIES = sample("description")


@cache
def bank():
    return load_bank()


@cache
def told(family, seed, wording="en"):
    variant = bank()[family].sample(seed)
    return description_of(variant, problem_of(variant).solid, load_wording(wording))


def sizes_of(family, seed):
    """All that can be measured on a part: between two of its planes, over all, its printed measures, its chosen sizes."""
    variant = bank()[family].sample(seed)
    problem = problem_of(variant)
    solid = problem.solid
    found = {float(value) for value in [*solid.size, *(measure.value for measure in problem.measures)]}
    found |= {float(value) for value in variant.sizes.values() if not isinstance(value, str)}
    for axis in range(3):
        levels = {round(float(surface.offset * np.sign(surface.normal[axis])), 4) for surface in solid.surfaces
                  if isinstance(surface, Plane) and abs(surface.normal[axis]) > 1 - 1e-9}
        levels |= {0.0, round(float(solid.size[axis]), 4)}
        found |= {round(high - low, 4) for low in levels for high in levels if high > low}
    return found


@pytest.mark.parametrize("wording", wording_names())
@pytest.mark.parametrize("family", FAMILIES)
def test_every_number_that_is_told_is_a_size_of_the_part(family, wording):
    for seed in (1, 5):
        text, sizes = told(family, seed, wording), sizes_of(family, seed)
        strange = [number for number in NUMBER.findall(text) if all(abs(float(number) - size) > 0.006 for size in sizes)]
        assert strange == [], text


@pytest.mark.parametrize("family", FAMILIES)
def test_sentences_are_whole(family):
    text = told(family, 3)
    sentences = text.split(". ")
    assert text.endswith(".") and len(sentences) >= 2
    for sentence in sentences:
        assert sentence[0].isupper() and not any(slip in sentence for slip in ("  ", " ,", ": ,", "{"))
        assert not sentence.endswith((",", ":"))


def number(value):
    return f"{value:g}"


def test_a_bracket_is_told_from_its_base_up():
    size = {name: number(value) for name, value in bank()["angle-bracket-bored"].sample(1).sizes.items()}
    across, high = (number(factor * float(size["eye"]) + more) for factor, more in ((2, 0), (1, float(size["rise"]))))
    assert told("angle-bracket-bored", 1) == " ".join([
        f"The part is {size['width']} wide, {size['depth']} deep and {high} high.",
        f"A base: {size['width']} wide, {size['depth']} deep, {size['base']} high.",
        f"An upright with a round top, at the rear: {across} across, {size['wall']} thick.", f"A rib: {size['rib']} thick.",
        f"A hole, from the front, towards the top, right through: diameter {size['bore']}.",
        f"Two holes, from the top, right through: diameter {size['hole']}."])


def sentences(family, beginning, seed=1):
    return [sentence for sentence in told(family, seed).split(". ") if sentence.startswith(beginning)]


def test_a_slot_in_a_foot_runs_through_the_foot_though_the_part_is_higher():
    slots = sentences("bearing-support", "A slot with one round end")
    assert len(slots) == 2 and all("from top to bottom" in slot for slot in slots)
    assert "open to the left" in slots[0] and "open to the right" in slots[1]


def test_how_far_a_branch_runs_into_a_body_is_not_told():
    """The branch begins at the axis of the body, where the part has no plane: no drawing shows that length."""
    [branch] = sentences("bored-tee", "A round boss, standing")
    assert "high" not in branch and "diameter" in branch
    [port] = sentences("bored-tee", "A hole, from the top")
    assert "right through" not in port and "floor" not in port


def test_of_a_cut_that_leaves_a_post_only_what_it_takes_is_told():
    """The seat of the tool post is open to the right, where the post ends long before the part does."""
    variant = bank()["tool-post"].sample(1)
    [seat] = sentences("tool-post", "A slot is cut, from front to rear")
    assert seat.endswith(f"{number(variant.sizes['nest'])} wide, {number(variant.sizes['tool'])} high")


def test_whatever_a_family_can_be_made_of_is_told(tmp_path):
    variant = family_of(tmp_path, EVERY_WORD).sample(1)
    text = description_of(variant, solid_of(variant), load_wording())
    assert text.count(". ") == len(variant.features)
    for words in ("A link with two round ends", "A round pin, standing", "A conical hollow is cut", "A V-shaped groove is cut",
                  "A tongue with a round end, pointing to the right", "A triangular opening is cut, seen from the front"):
        assert words in text


def test_elevations_are_called_so_in_their_own_usage():
    assert "in plan" in told("flanged-foot", 1, "en-elevations") and "from above" in told("flanged-foot", 1)
