"""What a sheet has to say may be assumed of the part: the proof holds among such parts, and among no others."""

from __future__ import annotations

from enum import StrEnum


class Assumption(StrEnum):
    """What the reader is told. The values are plain English, for programs; sheets print their wording's own words."""

    SQUARE = "ALL FACES ARE FLAT AND SQUARE TO THE VIEWS"
