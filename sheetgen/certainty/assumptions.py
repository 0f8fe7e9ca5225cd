"""What a sheet has to say may be assumed of the part: the proof holds among such parts, and among no others."""

from __future__ import annotations

from enum import StrEnum

HOLES = "HOLES ABOUT CENTRE LINES, WHICH ARE ROUND AND HAVE THE DIAMETERS GIVEN"
"""What is excepted of a part whose holes are told by these; a hole about no centre line is none of them."""


class Assumption(StrEnum):
    """What the reader is told. The values are plain English, for programs; sheets print their wording's own words."""

    SQUARE = "ALL FACES ARE FLAT AND SQUARE TO THE VIEWS"
    UPRIGHT_IN_TOP = "EVERY FACE IS SEEN EDGE-ON OR IN ITS TRUE SHAPE IN THE TOP VIEW"
    UPRIGHT_IN_FRONT = "EVERY FACE IS SEEN EDGE-ON OR IN ITS TRUE SHAPE IN THE FRONT VIEW"
    UPRIGHT_IN_SIDE = "EVERY FACE IS SEEN EDGE-ON OR IN ITS TRUE SHAPE IN THE SIDE VIEW"
    SQUARE_BORED = f"{SQUARE}, BUT FOR {HOLES}"
    UPRIGHT_IN_TOP_BORED = f"{UPRIGHT_IN_TOP}, BUT FOR {HOLES}"
    UPRIGHT_IN_FRONT_BORED = f"{UPRIGHT_IN_FRONT}, BUT FOR {HOLES}"
    UPRIGHT_IN_SIDE_BORED = f"{UPRIGHT_IN_SIDE}, BUT FOR {HOLES}"

    @property
    def bored(self) -> bool:
        """Whether round holes are excepted."""
        return self.endswith(HOLES)

    @property
    def plain(self) -> Assumption:
        """The same without that."""
        return Assumption(self.removesuffix(f", BUT FOR {HOLES}"))

    def but_for_holes(self) -> Assumption:
        """The same with round holes excepted."""
        return Assumption(f"{self.plain}, BUT FOR {HOLES}")


UPRIGHT = (Assumption.UPRIGHT_IN_SIDE, Assumption.UPRIGHT_IN_FRONT, Assumption.UPRIGHT_IN_TOP)
"""By the axis along which the view looks, x, y or z: the assumption about parts whose inclined and round faces run along it."""
