"""Hints as a page for practice gives them, with all else that helps there."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from sheetgen.exercises.help import Help, Length, Stage
from sheetgen.exercises.hints.record import Hints
from sheetgen.sheet import Settings
from sheetgen.sheet.layout import Layout


def help_of(
    settings: Settings, task: Iterable[str], hints: Hints, stages: Sequence[Stage] = (), layout: Layout | None = None
) -> Help:
    """What is asked, line by line, the hints, and the lengths of their self-check, each with its view."""
    say = settings.wording.render
    lengths = tuple(Length(say("pack.length", view=say(f"views.{length.view}"), what=length.words), length.paper)
                    for length in hints.lengths)
    return Help(tuple(filter(None, task)), tuple(stages), (hints.look, hints.begin, hints.missed), lengths, layout)
