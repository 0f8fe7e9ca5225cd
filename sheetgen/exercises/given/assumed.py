"""What the reader of given views may assume of the part, in the words of the wording: an answer is certain under it only."""

from __future__ import annotations

from sheetgen.certainty import Assumption
from sheetgen.sheet import Settings
from sheetgen.sheet.layout import views_asked

VIEW = {Assumption.UPRIGHT_IN_TOP: "top", Assumption.UPRIGHT_IN_FRONT: "front", Assumption.UPRIGHT_IN_SIDE: "side"}
"""The view of which an assumption speaks, as the wording calls it within a sentence."""


def assumed(assumption: Assumption, settings: Settings) -> str:
    """The sentence that a question prints."""
    say, plain = settings.wording.render, assumption.plain
    faces = say("given.square") if plain is Assumption.SQUARE else say("given.upright", view=say(f"short.{VIEW[plain]}"))
    return f"{faces} {say('given.holes')}" if assumption.bored else faces


def side_of(settings: Settings) -> str:
    """The side view of three: left or right, of both the first."""
    return next(view for view in views_asked(settings.side) if view in ("left", "right"))


def called(view: str, settings: Settings) -> str:
    """A view within a sentence; there is but one side view."""
    return settings.wording.render(f"short.{'side' if view in ('left', 'right') else view}")
