"""Pages to files: one sheet, or all sheets of a set, with title, author, subject, keywords, language and bookmarks."""

from __future__ import annotations

import pickle
from collections.abc import Iterable, Iterator, Sequence
from tempfile import TemporaryFile
from typing import overload

from sheetgen.exercises import Exercise, Role
from sheetgen.ink import Document, Page
from sheetgen.sheet import Settings


def document_of(exercise: Exercise, role: Role, settings: Settings) -> Document:
    """The sheets of one role of one exercise."""
    problem, code = exercise.problem, exercise.particulars.code
    title = settings.wording.render(f"files.{role}", title=problem.title, code=code)
    return described(exercise.sheets[role], title, settings, problem.topics, [(f"{problem.title} ({code})", 0)])


def title_of_set(name: str, role: Role, settings: Settings) -> str:
    """What the sheets of one role of a set are called together; ``name``: of the set, if it has one."""
    say = settings.wording.render
    return say(f"files.{role.book}", title=name or say("files.worksheet"))


def described(
    pages: Sequence[Page], title: str, settings: Settings, topics: Iterable[str], outline: Iterable[tuple[str, int]]
) -> Document:
    """Pages as a document that tells of itself what the course's settings and the ``topics`` tell; ``outline``: bookmarks."""
    return Document(
        pages=pages,
        title=title,
        language=settings.wording.language,
        author=settings.values.teacher or settings.values.school,
        subject=subject_of(settings),
        keywords=", ".join(topics),
        outline=tuple(outline),
    )


def subject_of(settings: Settings) -> str:
    """What the sheets are about."""
    course = f"{settings.values.course}: " if settings.values.course else ""
    say = settings.wording.render
    return course + say("files.subject", projection=say(f"projection.{settings.projection}"))


class PageFile(Sequence[Page]):
    """Pages put aside in a nameless temporary file and read one at a time, so that memory stays flat as a set grows."""

    def __init__(self) -> None:
        self._file = TemporaryFile()  # noqa: SIM115 - closed with the record
        self._starts: list[int] = []

    def append(self, page: Page) -> None:
        """Put a page at the end."""
        self._starts.append(self._file.seek(0, 2))
        pickle.dump(page, self._file, pickle.HIGHEST_PROTOCOL)

    def __len__(self) -> int:
        return len(self._starts)

    @overload
    def __getitem__(self, place: int) -> Page: ...
    @overload
    def __getitem__(self, place: slice) -> list[Page]: ...
    def __getitem__(self, place: int | slice) -> Page | list[Page]:
        if isinstance(place, slice):
            return [self[k] for k in range(len(self))[place]]
        self._file.seek(self._starts[place])
        page = pickle.load(self._file)  # ours: nobody else can reach a nameless file
        assert isinstance(page, Page)
        return page

    def __iter__(self) -> Iterator[Page]:
        return (self[k] for k in range(len(self)))

    def close(self) -> None:
        """Give the file back."""
        self._file.close()
