"""What a sheet has to say may be assumed of the part: the proof holds among such parts, and among no others."""

from __future__ import annotations

from enum import StrEnum


class Assumption(StrEnum):
    """What the reader is told. The values are plain English, for programs; sheets print their wording's own words."""

    SQUARE = "ALL FACES ARE FLAT AND SQUARE TO THE VIEWS"
    UPRIGHT_IN_TOP = "EVERY FACE IS SEEN EDGE-ON OR IN ITS TRUE SHAPE IN THE TOP VIEW"
    UPRIGHT_IN_FRONT = "EVERY FACE IS SEEN EDGE-ON OR IN ITS TRUE SHAPE IN THE FRONT VIEW"
    UPRIGHT_IN_SIDE = "EVERY FACE IS SEEN EDGE-ON OR IN ITS TRUE SHAPE IN THE SIDE VIEW"


UPRIGHT = (Assumption.UPRIGHT_IN_SIDE, Assumption.UPRIGHT_IN_FRONT, Assumption.UPRIGHT_IN_TOP)
"""By the axis along which the view looks, x, y or z: the assumption about parts whose inclined and round faces run along it."""
