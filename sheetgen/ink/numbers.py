"""Paper numbers as rounded arrays and text, in one place, so that the same drawing is the same bytes on every machine."""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np
import numpy.typing as npt

from sheetgen.geometry import Array
from sheetgen.units import PAPER_DIGITS

FARTHEST = 5000.0
"""mm: nothing is drawn farther from the corner of the paper; A0 is 1189 long and a PDF page at most 5080."""

_NUMBER = "%.9g"   # nine digits are exact for all that is drawn: five before the point (in points) and PAPER_DIGITS after it


def paper(points: npt.ArrayLike) -> Array:
    """Return ``points`` (any shape, mm) rounded to what is kept on paper, without a minus zero.

    Raises: ValueError for what is not a number or far off any paper.
    """
    values = np.asarray(points, float)
    if not (np.abs(values) <= FARTHEST).all():
        raise ValueError(f"a mark has a coordinate that is no number or farther than {FARTHEST:g} mm off")
    return np.round(values, PAPER_DIGITS) + 0.0


def number_text(values: Iterable[float]) -> str:
    """Return rounded numbers as text, a blank between, each as short as it goes.

    >>> number_text([297.0, 0.25, 841.8898])
    '297 0.25 841.8898'
    """
    return " ".join([_NUMBER % value for value in values])


def point_texts(points: Array) -> list[str]:
    """Return rounded points (n, k) as texts, in one go because a page has thousands.

    >>> point_texts(np.array([[20.0, 10.5], [0.0, 7.0]]))
    ['20 10.5', '0 7']
    """
    pattern = (" ".join([_NUMBER] * points.shape[1]) + "\n") * len(points)
    return (pattern % tuple(points.ravel().tolist())).splitlines()
