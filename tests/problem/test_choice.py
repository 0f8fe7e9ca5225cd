"""Which of equivalent measures are chosen: what shows more clearly, proved, and the same on every sheet.

The drawing practice behind it: extension lines should not run across the part for long (ISO 129-1, from memory, asks that they do
not cross other lines unless they must).
"""

from __future__ import annotations

import os
import subprocess
import sys
from dataclasses import replace

import pytest

import sheetgen
from sheetgen.bank import BankError, load_bank
from sheetgen.bank.features import Block, Corner, Hole
from sheetgen.exercises import Role, sheets_of
from sheetgen.measures import measures_of, prove
from sheetgen.problem import problem_of
from sheetgen.problem.choice import CLEARLY, TRIED, cheapest, chosen
from sheetgen.problem.price import SHORT, UNSEEN, prices_of
from sheetgen.sheet import Style, settings_of
from sheetgen.sight import Sights
from sheetgen.solid import build
from tests import samples
from tests.parts import outer, span

BANK = load_bank()
WITH_CHOICE = [name for name in BANK if any(measure.others for measure in BANK[name].measures)]
STEPPED = samples.STEP.replace("base.bottom to step.bottom", "base.bottom to step.bottom or step.bottom to base.top")


def block(*more):
    """A block of 100 x 60 x 50 with more features."""
    return build((Block("base", False, (0, 100), (0, 60), (0, 50)), *more))


def prices(solid, *lengths):
    sights = Sights(solid)
    return prices_of(measures_of(solid, lengths), sights, next(sights.pictorials()))


def test_a_size_over_the_whole_part_costs_nothing():
    assert prices(block(), *outer()) == [0.0, 0.0, 0.0]


def test_the_corner_of_a_cut_is_dearer_from_the_face_across_the_part():
    """On the front view both extension lines of either are clear; on the pictorial those from the far face run over the front."""
    solid = block(Corner("bevel", ((60, 0, 50), (100, 40, 50), (100, 0, 20)), (1, -1, 1)))
    corner = "bevel.face & base.right & base.top"
    near, far = prices(solid, span(corner, "base.back", "y"), span("base.front", corner, "y"))
    assert near + CLEARLY < far < UNSEEN


def test_the_floor_of_a_groove_right_through_is_measured_at_its_mouth():
    """Both edges end in the front face, side by side: no extension line need run over the part."""
    solid = block(Block("groove", True, (30, 45), (None, None), (38, None)))
    mouth, floor = prices(solid, span("groove.bottom", "base.top"), span("base.bottom", "groove.bottom"))
    assert mouth < SHORT <= floor


def test_a_hole_is_clearer_from_the_face_beside_it():
    solid = block(Hole("bore", "right", ((30.0, 38.0),), 12.0, 100.0))
    from_top, from_bottom = prices(solid, span("bore.axis", "base.top"), span("base.bottom", "bore.axis"))
    assert from_top <= from_bottom


def test_a_length_that_no_view_shows_costs_most():
    """The walls of a closed pocket in the bottom show on no view of the three, and not on the pictorial, which then is none."""
    solid = block(Block("pocket", True, (30, 70), (20, 40), (None, 20)))
    wide = measures_of(solid, [span("pocket.left", "pocket.right")])
    sights = Sights(solid)
    assert prices_of(wide, sights, None) == [UNSEEN]
    assert prices_of(wide, sights, sights.isometric) == [2 * UNSEEN]
    assert chosen([wide], sights).measures == wide


def test_the_first_listed_stays_unless_another_is_clearly_cheaper():
    solid = block(Block("groove", True, (30, 45), (None, None), (38, None)))
    mouth, floor = measures_of(solid, (span("groove.bottom", "base.top"), span("base.bottom", "groove.bottom")))
    rest = [(measure,) for measure in measures_of(solid, (*outer(), span("base.left", "groove.left"),
                                                          span("groove.left", "groove.right")))]
    costs = prices_of((mouth, floor), sights := Sights(solid), next(sights.pictorials()))
    for ways in ((mouth, floor), (floor, mouth)):
        found = chosen([*rest, ways], sights)
        listed, other = (costs[0], costs[1]) if ways[0] is mouth else (costs[1], costs[0])
        assert found.measures[-1] is (ways[1] if other + CLEARLY < listed else ways[0])
        assert found.measures[:-1] == tuple(measure for measure, in rest)


def test_a_set_that_the_proof_refuses_makes_way_for_the_next():
    """The cheaper way of each measure is the same size: with both, one is doubled and the groove's floor is free."""
    solid = block(Corner("bevel", ((60, 0, 50), (100, 40, 50), (100, 0, 20)), (1, -1, 1)))
    x, y, z = ("bevel.face & base.front & base.top", "bevel.face & base.right & base.top", "bevel.face & base.front & base.right")
    specs = (*outer(), span(x, "base.right", "x"), span(z, "base.top", "z"))
    far, near, wrong = measures_of(solid, (span("base.front", y, "y"), span(y, "base.back", "y"), span("base.left", x, "x")))
    fixed = [(measure,) for measure in measures_of(solid, specs)]
    sights = Sights(solid)
    assert chosen([*fixed, (far, near)], sights).measures[-1] is near
    found = chosen([*fixed, (far, wrong)], sights)
    assert found.measures[-1] is far and prove(solid, found.measures).holds
    assert not prove(solid, (*(measure for measure, in fixed), wrong)).holds


def test_sets_come_cheapest_first_each_once():
    costs = [[4.0, 1.0, 2.0], [0.0, 5.0], [0.0]]
    found = list(cheapest(costs))
    totals = [sum(each[rank] for each, rank in zip(costs, ranks, strict=True)) for ranks in found]
    assert len(set(found)) == 6 and totals == sorted(totals)
    assert next(cheapest([[1.0, 1.0], [2.0, 2.0]])) == (0, 0)


def test_what_the_proof_always_refuses_ends_with_the_first_listed(monkeypatch):
    """And is not tried for ever."""
    import sheetgen.problem.choice as choice

    tries = []

    class Refused:
        holds = False

    monkeypatch.setattr(choice, "prove", lambda *of: tries.append(of) or Refused())
    monkeypatch.setattr(choice, "prices_of", lambda lengths, *_: [float(100 - k) for k in range(len(lengths))])
    solid = block()
    ways = [tuple(measures_of(solid, (one, one, one))) for one in outer()]
    found = choice.chosen([(a, b, c) for a, b, c in ways], Sights(solid))
    assert found.ranks == (0, 0, 0) and len(tries) <= TRIED


@pytest.mark.parametrize("name", WITH_CHOICE)
def test_the_chosen_measures_of_shipped_families_pass_the_proof_and_tell_as_many_sizes(name):
    for seed in range(3):
        problem = problem_of(BANK[name].sample(seed))
        assert prove(problem.solid, problem.measures, problem.symmetry).faults() == []
        for ways, measure in zip(problem.alternatives, problem.measures, strict=True):
            assert measure in ways and {way.axis for way in ways} == {measure.axis}


def test_families_without_alternatives_are_not_looked_at():
    problem = problem_of(BANK["stepped-block"].sample(1))
    assert "sights" not in vars(problem) and problem.proof is None


@pytest.mark.parametrize("changes", [
    {"projection": "third"}, {"side": "right"}, {"paper": "A2"}, {"figures": "upright"}, {"wording": "en-elevations"}])
def test_the_choice_is_the_same_whatever_the_look_and_for_every_role(changes):
    """Numbers are compared as printed: question and answer show the same sizes."""
    problem = problem_of(BANK["slotted-slide"].sample(2))
    assert any(measure is not ways[0] for ways, measure in zip(problem.alternatives, problem.measures, strict=True))
    wanted = sorted(measure.size for measure in problem.measures if measure.kind == "span")
    for style in (Style(), replace(Style(), **changes)):
        sheets = sheets_of(problem, settings_of(style))
        for role in (Role.QUESTION, Role.ANSWER):
            words = [mark.text for page in sheets[role] for mark in page.marks if hasattr(mark, "text")]
            for size in set(wanted):
                assert words.count(size) >= wanted.count(size), (role, size)


def test_what_the_library_tells_is_what_is_printed():
    for seed in range(6):
        variant = sheetgen.load_bank()["slotted-slide"].sample(seed)
        told, printed = variant.measures, problem_of(BANK["slotted-slide"].sample(seed)).measures
        assert [measure.words for measure in told] == [measure.words for measure in printed]


def test_the_choice_needs_neither_templates_nor_pdf_nor_command_line():
    code = ("import sys, sheetgen; sheetgen.load_bank()['slotted-slide'].sample(2).measures\n"
            "print([name for name in ('jinja2', 'reportlab', 'click', 'rich', 'pypdf') if name in sys.modules])")
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True, env=dict(os.environ))
    assert done.stdout.strip() == "[]"


def test_an_alternative_along_another_axis_is_a_fault_with_its_line(tmp_path):
    text = samples.STEP.replace("base.bottom to step.bottom", "base.bottom to step.bottom or base.left to step.left")
    text = text.replace("  - base.left to step.left\n", "")
    with pytest.raises(BankError) as caught:
        problem_of(samples.family_of(tmp_path, text).sample(1))
    [fault] = caught.value.faults
    assert text.splitlines()[fault.line - 1].strip().startswith("- base.bottom to step.bottom")
    assert fault.field == "measures `base.left to step.left`"
    assert "a length along x, in place of one along z, `base.bottom to step.bottom`" in fault.found


def test_an_alternative_that_cannot_be_taken_is_a_fault_with_its_line(tmp_path):
    text = samples.LOST_SIDE.replace("  - base.left to step.left\n", "  - base.left to deeper.left or base.left to step.left\n")
    with pytest.raises(BankError) as caught:
        problem_of(samples.family_of(tmp_path, text).sample(1))
    assert any(fault.field == "measures `base.left to step.left`" for fault in caught.value.faults)


def test_the_part_is_looked_at_once(tmp_path):
    """The views from which the choice is made are those that are drawn, and the proof is not made again."""
    problem = problem_of(samples.family_of(tmp_path, STEPPED).sample(1))
    assert "sights" in vars(problem)
    assert problem.measured_by(problem.ranks).sights is problem.sights
    problem.check()
