"""Pages to files: one sheet, or all sheets of a set, with title, author, subject, keywords, language and bookmarks."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from sheetgen.exercises import Role
from sheetgen.ink import Document, Page
from sheetgen.sheet import Settings


def document_of_one(
    pages: Sequence[Page], role: Role, title: str, code: str, topics: Iterable[str], settings: Settings, set_mark: str = ""
) -> Document:
    """The sheets of one role of the exercise that is called ``title`` and ``code``."""
    called = settings.wording.render(f"files.{role}", title=title, code=code)
    return described(pages, called, settings, topics, [(f"{title} ({code})", 0)], set_mark)


def title_of_set(name: str, role: Role, settings: Settings) -> str:
    """What the sheets of one role of a set are called together; ``name``: of the set, if it has one."""
    say = settings.wording.render
    return say(f"files.{role.together}", title=name or say("files.worksheet"))


def described(
    pages: Sequence[Page], title: str, settings: Settings, topics: Iterable[str], outline: Iterable[tuple[str, int]],
    set_mark: str = "",
) -> Document:
    """Pages as a document that tells of itself what the course's settings and the ``topics`` tell; ``outline``: bookmarks;
    ``set_mark``: as of a document."""
    return Document(
        pages=pages,
        title=title,
        language=settings.wording.language,
        author=settings.values.teacher or settings.values.school,
        subject=subject_of(settings),
        keywords=", ".join(topics),
        outline=tuple(outline),
        set_mark=set_mark,
    )


def subject_of(settings: Settings) -> str:
    """What the sheets are about."""
    course = f"{settings.values.course}: " if settings.values.course else ""
    say = settings.wording.render
    return course + say("files.subject", projection=say(f"projection.{settings.projection}"))
