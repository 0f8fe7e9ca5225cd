"""Room on a sheet: the nearest place that no ink touches."""

import numpy as np
import pytest

from sheetgen.sheet.free import Taken, taken_of

AREA = (10.0, 20.0, 50.0, 50.0)


def free_by_hand(taken: Taken, width: int, height: int) -> set[tuple[int, int]]:
    """The squares at which a box of whole squares, and the one more that it may reach into, is clear of ink."""
    columns, rows = taken.inked.shape
    return {(i, j) for i in range(columns - width) for j in range(rows - height)
            if not taken.inked[i:i + width + 1, j:j + height + 1].any()}


@pytest.mark.parametrize(("width", "height", "towards"), [(6, 4, (10.0, 20.0)), (11, 3, (50.0, 50.0)), (1, 1, (33.0, 31.0))])
def test_the_place_found_is_the_nearest_that_is_free(width: int, height: int, towards: tuple[float, float]) -> None:
    rng = np.random.default_rng(width)
    lines = [np.array(AREA[:2]) + rng.uniform(0, 1, (2, 2)) * (40.0, 30.0) for _ in range(4)]
    taken = taken_of(AREA, (40.0, 20.0, 50.0, 25.0), lines)
    free = free_by_hand(taken, width, height)
    off = {(i, j): (10 + i + width / 2 - towards[0]) ** 2 + (20 + j + height / 2 - towards[1]) ** 2 for i, j in free}
    place = taken.free_place(width, height, towards, 0.0)
    assert place is not None
    found = (round(place[0] - 10), round(place[1] - 20))
    assert found in free
    assert off[found] == pytest.approx(min(off.values()))


def test_the_nearest_free_place_is_found_however_far_off_it_is() -> None:
    area = (0.0, 0.0, 400.0, 100.0)
    for wanted_at, found_at in ((50.0, 101.0), (50.0, 301.0), (385.0, 301.0)):        # all to the left is taken
        taken = taken_of(area, (0.0, 0.0, found_at, 100.0), [])
        place = taken.free_place(9.5, 9.5, (wanted_at, 50.0), 0.0)
        assert place == (max(found_at, wanted_at - 5.0), 45.0)


@pytest.mark.parametrize("towards", [(0.0, 0.0), (100.0, 60.0), (100.0, 0.0)])
def test_a_box_in_the_middle_of_a_room_has_as_much_on_either_side(towards: tuple[float, float]) -> None:
    # a room from x = 30 to 90 and from y = 10 to 60, behind walls a square thick
    walls = [np.array(wall, float) for wall in (((29.5, 9.5), (90.5, 9.5)), ((29.5, 9.5), (29.5, 60)), ((90.5, 9.5), (90.5, 60)))]
    taken = taken_of((0.0, 0.0, 100.0, 60.0), (0.0, 0.0, 29.0, 60.0), walls)
    place = taken.middle_place(19.0, 9.0, towards, 5.0)
    assert place is not None
    assert place == pytest.approx((30 + 20.5, 10 + 20.5), abs=1.0)


def test_a_box_in_the_middle_of_a_corner_keeps_clear_of_what_juts_into_it() -> None:
    pillar = np.array([(50.5, 0.5), (50.5, 30.5)])
    taken = taken_of((0.0, 0.0, 100.0, 60.0), (0.0, 0.0, 0.0, 0.0), [pillar])
    place = taken.middle_place(18.0, 8.0, (100.0, 0.0), 5.0)
    assert place is not None
    assert place == pytest.approx(((51 + 100) / 2 - 9, 60 / 2 - 4), abs=1.0)
    assert taken.middle_place(45.0, 12.0, (100.0, 0.0), 5.0) is not None           # over the pillar
    assert taken.middle_place(45.0, 45.0, (100.0, 0.0), 5.0) is None


def test_a_box_that_is_taken_is_taken_inside_too() -> None:
    taken = taken_of((0.0, 0.0, 100.0, 60.0), (0.0, 0.0, 0.0, 0.0), []).with_boxes([(10.0, 10.0, 90.0, 50.0)])
    assert taken.inked[10:90, 10:50].all() and taken.inked.sum() == 80 * 40


def test_where_every_box_meets_ink_there_is_no_place() -> None:
    rule = np.array([(10.0, 35.0), (50.0, 35.0)])
    taken = taken_of(AREA, (10.0, 20.0, 11.0, 21.0), [rule])
    assert taken.free_place(10.0, 20.0, (10.0, 20.0), 0.0) is None
    assert taken.free_place(39.0, 29.0, (10.0, 20.0), 1.0) is None          # larger than the area


def test_a_line_takes_every_square_it_runs_through_and_what_lies_outside_takes_none() -> None:
    across = np.array([(0.0, 21.5), (90.0, 21.5)])
    taken = taken_of(AREA, (10.0, 20.0, 10.0, 20.0), [across])
    assert taken.inked[:, 1].all()
    assert taken.inked.sum() == 40
