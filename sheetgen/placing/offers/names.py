"""Where the name of a view can stand: the ways offered to the search. Sheet millimetres."""

from __future__ import annotations

import numpy as np

from sheetgen.ink import Text
from sheetgen.placing.candidate import NEXT_TIER, Candidate, lettered_width
from sheetgen.placing.columns import Elements
from sheetgen.placing.table import Offers, boxes_at
from sheetgen.placing.weights import WEIGHTS, Weights
from sheetgen.sight import PlacedView

NAME_HEIGHT = 3.5        # mm: view names (sub-titles, textbook of engineering drawing p. 2.9)
UNDER, OVER = 9.0, 6.0   # mm from the view to the base line of a name under it, or over it
NUDGE = 12.0             # mm that a name stands aside where something small is in its way
BESIDE_FIGURES = 6.5     # mm from the middle of a view to a name that stands beside the figures there
TIERS = 5


def name_offers(view: PlacedView, name: str, number: int, on: int, row: int, weights: Weights = WEIGHTS) -> Offers:
    """Places for a view's name, item ``number``: under it, as near as the tiers of sizes allow, or over it; ``on``: the view's
    number; ``row``: that of the row of views in which it stands, whose names should stand at one height."""
    x0, y0, x1, y1 = view.box
    width = lettered_width(name, NAME_HEIGHT)
    half = width / 2
    # Under the middle, or beside it, or beside the figures that stand there, or level with an edge of the view.
    aside = (NUDGE, half + BESIDE_FIGURES, max((x1 - x0) / 2 - half, half + 2 * BESIDE_FIGURES))
    shifts = np.array([0.0, *(side * shift for shift in aside for side in (-1, 1))])
    tier = np.arange(TIERS)
    base = np.stack([y0 - UNDER - NEXT_TIER * tier, y1 + OVER + NEXT_TIER * tier], axis=1).ravel()
    over = weights.name_tier * np.repeat(tier, 2) + np.tile([0.0, weights.name_over], TIERS)
    at = np.stack([np.tile((x0 + x1) / 2 + shifts, len(base)), np.repeat(base, len(shifts))], axis=1)
    cost = np.repeat(over, len(shifts)) + np.tile([0.0, *np.repeat(weights.name_aside, 2)], len(base))
    n = len(at)
    level, up, wide = np.full((n, 2), (1.0, 0.0)), np.full((n, 2), (0.0, 1.0)), np.full(n, width)

    def drawn(k: int) -> Candidate:
        x, y = at[k].tolist()
        return Candidate((), (), (), (Text(name, (x, y), NAME_HEIGHT, anchor="middle"),))

    return Offers.made(
        drawn, np.full(n, number), cost, weights.over, row=row, view=on,
        boxes=Elements(boxes_at(at, level, up, wide, NAME_HEIGHT, wide / 2), np.arange(n)))
