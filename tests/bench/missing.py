"""Looks, by trying, for other parts that complete the views of the kind ``missing-lines``, and counts them. Nothing is asserted.

    python tests/bench/missing.py [--sheets 100] [--families a,b] [--finer 2]

Tried are, by rules written apart from the program's: each box of cells filled and cut out, on a grid with every gap between two
levels of the part in ``--finer`` pieces, and any one or two cells of its own grid turned over; of parts whose inclined and round
faces run along one axis, columns over one or two faces of their plan in place of boxes, told by the projection. Exit code 1 if
one is found. Views are those from the front, from above and from the right.
"""

from __future__ import annotations

import argparse
import sys
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))
from sheetgen.bank import load_bank
from sheetgen.certainty.grid import is_square
from sheetgen.exercises import kinds
from sheetgen.problem import problem_of
from sheetgen.refusals import RefusedError
from sheetgen.sheet import Style, settings_of
from tests.exercises.alternatives import others_found
from tests.exercises.alternatives_upright import others_found_upright

SQUARE = ("channelled-elbow", "corner-block", "corner-steps", "cross-block", "crossed-channels", "notched-tee", "parapet-bridge",
          "slotted-angle", "standing-cross", "stepped-block", "stepped-bridge", "stepped-trough", "tenoned-rail", "two-way-steps",
          "webbed-spacer", "winding-steps")
UPRIGHT = ("flanged-bush", "forked-foot", "gland-cover", "roofed-slide", "round-ended-link", "sloped-desk", "slotted-wedge",
           "splayed-stop", "trestle")


def main() -> None:
    """Draw, try and print."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--sheets", type=int, default=100)
    parser.add_argument("--families", default=",".join((*SQUARE, *UPRIGHT)))
    parser.add_argument("--finer", type=int, default=2)
    options = parser.parse_args()
    bank, kind, settings = load_bank(), kinds()["missing-lines"], settings_of(Style(side="right"))
    names, start, found, asked = options.families.split(","), time.process_time(), 0, 0
    for sheet in range(options.sheets):
        family, seed = names[sheet % len(names)], 100 + sheet // len(names)
        problem = problem_of(bank[family].sample(seed))
        try:
            task = kind.shared(problem, settings)
        except RefusedError as error:
            print(f"{family} {seed}: refused, {error}")
            continue
        asked += 1
        looked_for = others_found if is_square(problem.solid) else others_found_upright
        boxes = looked_for(problem.solid, task.chosen.lines, options.finer, pairs=False)
        pairs = looked_for(problem.solid, task.chosen.lines, 1, pairs=True)
        if boxes or pairs:
            found += 1
            print(f"{family} {seed}: {boxes} by boxes, {pairs} by pairs of cells")
    print(f"{asked} of {options.sheets} sheets asked, {found} with another answer; {time.process_time() - start:.0f} s")
    raise SystemExit(bool(found))


if __name__ == "__main__":
    main()
