"""The names that programs use."""

from __future__ import annotations

import subprocess
import sys

import numpy as np
import pytest

import sheetgen
from tests import samples


@pytest.fixture(scope="module")
def bank(tmp_path_factory):
    return sheetgen.load_bank(samples.bank_of(tmp_path_factory.mktemp("api") / "bank", step=samples.STEP))


def test_the_shipped_bank_is_a_mapping_of_families_by_name():
    bank = sheetgen.load_bank()
    assert len(bank) == len(list(bank)) > 0
    assert all(bank[name].name == name for name in bank)


def test_a_block_less_its_step_has_the_volume_that_its_sizes_say(bank):
    variant = bank["step"].sample(seed=7)
    width, depth = variant.sizes["width"], variant.sizes["depth"]
    assert variant.solid().volume == pytest.approx(width * depth * 40 - (width - 30) * depth * 25)
    assert variant.solid().size.tolist() == [width, depth, 40]


def test_vertices_and_triangles_make_a_closed_surface(bank):
    solid = bank["step"].sample(seed=7).solid()
    assert solid.vertices.shape[1] == solid.triangles.shape[1] == 3
    assert np.issubdtype(solid.triangles.dtype, np.integer)
    sides = {(int(a), int(b)) for a, b, c in solid.triangles for a, b in ((a, b), (b, c), (c, a))}
    assert {(b, a) for a, b in sides} == sides


@pytest.mark.parametrize("name", ["front", "top", "left", "right", "rear", "bottom", "isometric"])
def test_every_view_gives_its_lines_as_arrays_of_points(bank, name):
    view = bank["step"].sample(seed=7).solid().view(name)
    assert view.visible
    assert all(line.ndim == 2 and line.shape[1] == 2 for line in (*view.visible, *view.hidden))


def test_the_front_view_is_as_wide_and_high_as_the_block(bank):
    variant = bank["step"].sample(seed=7)
    points = np.concatenate(variant.solid().view("front").visible)
    assert np.ptp(points, axis=0).tolist() == [variant.sizes["width"], 40]


def test_from_the_side_that_looks_at_the_high_part_the_shelf_is_hidden(bank):
    solid = bank["step"].sample(seed=7).solid()
    assert solid.view("left").hidden and not solid.view("right").hidden


def test_a_view_by_another_name_is_refused(bank):
    with pytest.raises(KeyError):
        bank["step"].sample(seed=7).solid().view("sideways")


def test_measures_tell_kind_text_and_value(bank):
    variant = bank["step"].sample(seed=7)
    shown = [(measure.kind, measure.text, measure.value) for measure in variant.measures]
    width, depth = variant.sizes["width"], variant.sizes["depth"]
    assert shown == [("span", f"{value:g}", pytest.approx(value)) for value in (width, depth, 40, 30, 15)]


def test_the_same_seed_gives_the_same_sizes_and_others_come_with_another_draw(bank):
    family = bank["step"]
    assert family.sample(7).sizes == family.sample(7).sizes
    assert len({tuple(family.sample(7, draw).sizes.values()) for draw in range(12)}) > 1
    assert family.sample(7, draw=2).identity == "step-7.2"


def test_an_unknown_family_is_a_key_error_with_the_nearest_name(bank):
    with pytest.raises(KeyError) as caught:
        bank["stepp"]
    assert isinstance(caught.value, sheetgen.UnknownFamilyError)
    assert "wanted step" in str(caught.value)


def test_importing_the_library_loads_nothing_until_a_name_is_used():
    code = "import sys, sheetgen; print('numpy' in sys.modules); sheetgen.load_bank; print('numpy' in sys.modules)"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.split() == ["False", "True"]


def test_solids_views_and_measures_need_neither_templates_nor_pdf(bank):
    code = ("import sys, sheetgen; v = sheetgen.load_bank()['stepped-block'].sample(7); v.solid().view('front'); v.measures;"
            "print({'jinja2', 'reportlab'} & set(sys.modules))")
    assert subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout == "set()\n"


def test_the_measures_of_a_variant_come_without_templates_pdf_or_command_line():
    """And without what numpy and pydantic load only for some: a part is read, built and measured in a moment."""
    unneeded = ("jinja2", "reportlab", "click", "rich", "pypdf", "numpy.ma")
    code = ("import sys, sheetgen; sheetgen.load_bank()['stepped-block'].sample(7).measures\n"
            f"from sheetgen.bank.schema import MODELS; built = [m for m in MODELS.values() if m.__pydantic_complete__]\n"
            f"print([name for name in {unneeded} if name in sys.modules], len(built) < len(MODELS))")
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[] True"


def test_every_public_name_can_be_had():
    assert all(getattr(sheetgen, name) is not None for name in sheetgen.__all__)
    assert set(sheetgen.__all__) <= set(dir(sheetgen))
    with pytest.raises(AttributeError, match="no attribute 'load_bnak'"):
        _ = sheetgen.load_bnak


def test_a_variant_tells_whether_one_answer_fits_what_is_given():
    variant = sheetgen.load_bank()["stepped-bridge"].sample(1)
    found = variant.certainty("third-view", missing="top", limit=50)
    assert (found.certain, found.count, len(found.others)) == (False, 3, 2)
    assert found.assuming == "ALL FACES ARE FLAT AND SQUARE TO THE VIEWS"
    for other in found.others:
        assert other.vertices.max(axis=0) == pytest.approx(variant.solid().size)
        assert other.triangles.shape[1] == 3 and len(other.vertices) > 8
    lines = [("front", "visible", 0), ("right", "hidden", 0)]
    assert variant.certainty("missing-lines", left_out=lines).certain and variant.certainty("pictorial").certain


def test_proofs_need_neither_templates_nor_pdf():
    code = ("import sys, sheetgen; sheetgen.load_bank()['stepped-block'].sample(7).certainty('third-view', 'right');"
            "print({'jinja2', 'reportlab', 'shapely.plotting'} & set(sys.modules))")
    assert subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout == "set()\n"
