"""A drawing with mistakes against the part itself: lines from an independent kernel, sizes from the drawing without any. What is
different is counted by a reader of the finished sheets, who knows nothing of how mistakes are made."""

from __future__ import annotations

import re
from collections import Counter
from functools import cache

import numpy as np
import pytest
import shapely

from sheetgen.bank import load_bank
from sheetgen.exercises import Role, kinds, make_exercise, sheets_of
from sheetgen.sheet import Style, settings_of
from tests.outside.kernel import reference_solid
from tests.outside.reader import TITLES, circle_through, read
from tests.outside.sheets import pdf_of

BANK = load_bank()
NEAR = 0.12          # mm on paper
LEAST = 1.5          # mm: what is left of lines by rounding is shorter
OTHER = {"left": "right", "right": "left"}
CASES = [("counterbored-block", 3, "first", "right"), ("two-way-steps", 9, "third", "right"),
         ("slotted-slide", 2, "first", "right"), ("nosed-clamp", 4, "third", "left")]


@cache
def exercise(family, seed, projection, side):
    settings = settings_of(Style(projection=projection, side=side))
    made = make_exercise(BANK[family], seed, settings, (Role.QUESTION, Role.ANSWER), "mistakes")
    right = sheets_of(made.problem, settings, (Role.ANSWER,))[Role.ANSWER]
    wrong = made.sheets[Role.QUESTION][1]
    return made, read(pdf_of(wrong)), read(pdf_of(*right))


def inside(sheet, box, chosen):
    """The lines of a sheet in a box that are chosen by their width and their dashes, from the box's corner."""
    frame = shapely.box(*box).buffer(NEAR)
    return [line.points - np.array(box[:2]) for line in sheet.lines if chosen(line) and frame.covers(line.string)]


def visible(line):
    return not line.dash and abs(line.width - 0.5) < 1e-3


def hidden(line):
    return len(line.dash) == 2


def chain(line):
    return len(line.dash) == 4


def left_of(mine, others):
    """What some lines have that others lack, as names of straight lines and circles on which it lies."""
    if not mine:
        return set()
    both = [shapely.union_all([shapely.LineString(line) for line in lines]) for lines in (mine, others)]
    rest = shapely.line_merge(shapely.difference(both[0], shapely.buffer(both[1], NEAR)))
    return {carrier(shapely.get_coordinates(part)) for part in shapely.get_parts(rest) if part.length > LEAST}


def carrier(points):
    way = (points[-1] - points[0]) / max(np.hypot(*(points[-1] - points[0])), 1e-9)
    away = points - points[0]
    if np.hypot(*way) > 0.5 and np.abs(way[0] * away[:, 1] - way[1] * away[:, 0]).max() < 0.05:
        way = way if (way[0], way[1]) > (0, 0) else -way
        off = abs(way[0] * points[0, 1] - way[1] * points[0, 0])
        return "line", round(np.degrees(np.arctan2(way[1], way[0])) % 180 / 2), round(2 * off)
    found = circle_through(points)
    return ("circle", *np.round(found[0] / 2).tolist(), round(found[1] / 2)) if found else ("curve",)


def wrong_lines(sheet, box, part, view, scale):
    """The lines of one view that are not as an independent kernel draws the part."""
    seen, unseen = ([line * scale for line in lines] for lines in part.views(view))
    corner = np.concatenate(seen).min(axis=0)
    seen, unseen = [line - corner for line in seen], [line - corner for line in unseen]
    covered = shapely.buffer(shapely.union_all([shapely.LineString(line) for line in seen]), NEAR)
    drawn = inside(sheet, box, visible)
    # Right beside a visible line nobody tells a hidden one.
    unseen, dashes = (
        [shapely.get_coordinates(piece) for line in lines
         for piece in shapely.get_parts(shapely.difference(shapely.LineString(line), covered)) if piece.length > LEAST]
        for lines in (unseen, inside(sheet, box, hidden)))
    return left_of(drawn, seen) | left_of(seen, drawn) | left_of(dashes, unseen) | left_of(unseen, dashes)


def names_in_place(views, projection):
    """The views that do not stand where they belong: in first angle a view stands beyond the part, in third angle on the side
    from which it is seen (ISO 5456-2:1996 clause 5, from memory)."""
    _, y0, x1, y1 = views["front"]
    beyond = projection == "first"
    right = {"top": views["top"][3] < y0 if beyond else views["top"][1] > y1} if "top" in views else {}
    for side, sign in (("left", 1), ("right", -1)):
        if side in views:
            to_the_right = views[side][0] > x1
            right[side] = to_the_right == ((sign > 0) == beyond)
    return {view for view, good in right.items() if not good}


def figures(sheet):
    """All figures of sizes on a drawing, as they are lettered."""
    told = [entry.text for entry in sheet.lettering if abs(entry.size - read_size(sheet)) < 0.2]
    return Counter(text for text in told if re.search(r"\d", text) and text == text.upper() and text not in TITLES
                   and not re.search(r"MISTAKES|SPACING|SIZES|:|=|PAGE|-", text) and re.match(r"[ØR\d(]|C'BORE|CSK", text))


def read_size(sheet):
    """The size of the type of the views' names, in which all sizes are lettered."""
    return next(entry.size for entry in sheet.lettering if entry.text in TITLES)


@pytest.mark.parametrize("case", CASES, ids=lambda case: f"{case[0]}-{case[2]}")
def test_a_sheet_has_as_many_mistakes_as_it_says_and_no_more(case):
    made, wrong, right = exercise(*case)
    headings = [re.search(r"\bWITH (\d+) MISTAKES$", entry.text) for entry in wrong.lettering]
    [count] = [int(heading[1]) for heading in headings if heading]
    problem, projection, found = made.problem, case[2], []
    part = reference_solid([feature for _, feature in problem.features])
    found += [("place", view) for view in names_in_place(wrong.views, projection)]
    for view, box in wrong.views.items():
        own = wrong_lines(wrong, box, part, view, wrong.scale)
        if view in OTHER and own and not wrong_lines(wrong, box, part, OTHER[view], wrong.scale):
            found.append(("side", view))
            continue
        found += [("line", view, *each) for each in own]
        chains = [inside_chains(sheet, sheet.views[view]) for sheet in (wrong, right)]
        # A size may lead a centre line farther; that is the same line.
        one, other = ({carrier(line) for line in lines} for lines in chains)
        found += [("centre", view, *each) for each in one ^ other]
    here, there = figures(wrong), figures(right)
    lost, more = there - here, here - there
    found += [("size", text) for text in lost.elements()] + [("twice", text) for text in more.elements() if text in there]
    assert len(found) == count, found
    assert len(kinds()["mistakes"].shared(problem, settings_of(Style(projection=projection, side=case[3]))).mistakes) == count


def inside_chains(sheet, box):
    """The centre lines of a view, which stick out of it, from its corner."""
    around = shapely.box(*box).buffer(8.0)
    return [line.points - np.array(box[:2]) for line in sheet.lines if chain(line) and around.covers(line.string)]
