"""A worksheet: the pairs of a plan, made one after another or on several cores, the same either way."""

from __future__ import annotations

import signal
from collections import deque
from collections.abc import Generator, Iterator, Mapping, Sequence
from concurrent.futures import Future, ProcessPoolExecutor
from contextlib import closing
from dataclasses import dataclass
from multiprocessing import get_context

from sheetgen.bank import BankError, Family
from sheetgen.exercises import RefusedSeedError, make_pair
from sheetgen.faults import Fault, FaultError
from sheetgen.ink import Document, Page
from sheetgen.sets.documents import PageFile, author_of, language_of, subject_of
from sheetgen.sets.plan import Plan
from sheetgen.sheet import Settings, Style, settings_of

FEW = 6
"""Up to so many pairs are made in this process, because another one takes a second to start."""

AHEAD = 4
"""Pairs in work or waiting, for each worker: enough to keep it busy, few enough to keep memory flat."""


class SetError(FaultError):
    """Some problems of a set cannot be made; it tells of all of them."""


@dataclass(frozen=True, slots=True)
class Job:
    """One pair to be made: sheet ``sheet`` of ``sheets``."""

    family: Family
    seed: int
    sheet: int
    sheets: int


@dataclass(frozen=True, eq=False)
class Made:
    """A finished pair, with what the documents say of it. ``refused``: as in a Pair."""

    code: str
    title: str
    topics: tuple[str, ...]
    question: Page
    answer: Page
    refused: tuple[str, ...]


@dataclass(frozen=True, eq=False)
class Worksheet:
    """Questions and answers as documents, and how many variants were refused and drawn again."""

    questions: Document
    answers: Document
    refused: int


def jobs_of(plan: Plan, bank: Mapping[str, Family]) -> list[Job]:
    """The pairs of a plan, in its order. Raises: BankError with all faults of all families that the plan names."""
    families: dict[str, Family] = {}
    faults: list[Fault] = []
    for name in dict.fromkeys(entry.family for entry in plan.entries):
        try:
            families[name] = bank[name]
        except BankError as error:
            faults += error.faults
    if faults:
        raise BankError(faults)
    count = len(plan.entries)
    return [Job(families[entry.family], entry.seed, number, count) for number, entry in enumerate(plan.entries, 1)]


def make_pairs(jobs: Sequence[Job], style: Style, workers: int = 1) -> Generator[Made, None, None]:
    """Yield the pairs of ``jobs`` in their order. More than one of ``workers`` are other processes.

    Raises: TemplateError at once; SetError at the end with the faults of all jobs that came to nothing.
    """
    faults: dict[Fault, None] = {}
    with closing(_outcomes(jobs, style, workers)) as outcomes:
        for outcome in outcomes:
            if isinstance(outcome, Made):
                yield outcome
            else:
                faults.update(dict.fromkeys(outcome.faults))
    if faults:
        raise SetError(faults)


def _outcomes(jobs: Sequence[Job], style: Style, workers: int) -> Generator[Made | FaultError, None, None]:
    """What comes of each job, in their order."""
    if workers <= 1 or len(jobs) <= FEW:
        settings = settings_of(style)
        yield from (_made(job, settings) for job in jobs)
        return
    # A fresh process each, not a copy of this one, which may have threads (the progress bar has).
    pool = ProcessPoolExecutor(workers, get_context("spawn"), _start_worker, (style,))
    waiting: deque[Future[Made | FaultError]] = deque()
    try:
        for job in jobs:
            waiting.append(pool.submit(_work, job))
            if len(waiting) >= AHEAD * workers:
                yield waiting.popleft().result()
        while waiting:
            yield waiting.popleft().result()
    finally:
        pool.shutdown(wait=True, cancel_futures=True)


class WorksheetMaker:
    """Puts the pages of a plan's pairs aside as they are made; ``with`` it, because they lie in temporary files."""

    def __init__(self, plan: Plan, jobs: Sequence[Job], workers: int = 1) -> None:
        self.plan, self.jobs, self.workers = plan, jobs, workers
        self._questions, self._answers = PageFile(), PageFile()
        self._outline: list[str] = []
        self._topics: dict[str, None] = {}
        self._refused = 0

    def __enter__(self) -> WorksheetMaker:
        return self

    def __exit__(self, *_: object) -> None:
        self._questions.close()
        self._answers.close()

    def run(self) -> Iterator[Made]:
        """Make the pairs, and yield each when it is put aside (for a progress bar)."""
        with closing(make_pairs(self.jobs, self.plan.style, self.workers)) as pairs:
            for number, made in enumerate(pairs, 1):
                self._questions.append(made.question)
                self._answers.append(made.answer)
                self._outline.append(f"{number}. {made.title} ({made.code})")
                self._topics.update(dict.fromkeys(made.topics))
                self._refused += len(made.refused)
                yield made

    def worksheet(self) -> Worksheet:
        """The documents of what was made. They read their pages from the temporary files."""
        settings = settings_of(self.plan.style)
        questions = self._document(self._questions, "questions", settings)
        return Worksheet(questions, self._document(self._answers, "answers", settings), self._refused)

    def _document(self, pages: PageFile, kind: str, settings: Settings) -> Document:
        return Document(
            pages=pages,
            title=f"{self.plan.title}: {kind}",
            language=language_of(settings),
            author=author_of(settings),
            subject=subject_of(settings),
            keywords=", ".join(self._topics),
            outline=tuple((title, page) for page, title in enumerate(self._outline)),
        )


def _made(job: Job, settings: Settings) -> Made | FaultError:
    try:
        pair = make_pair(job.family, job.seed, settings, job.sheet, job.sheets)
    except (BankError, RefusedSeedError) as error:
        return error
    problem = pair.problem
    return Made(problem.code, problem.title, problem.topics, pair.question, pair.answer, pair.refused)


_settings: Settings | None = None      # of a worker process, made once when it starts


def _start_worker(style: Style) -> None:
    global _settings
    signal.signal(signal.SIGINT, signal.SIG_IGN)      # Ctrl-C ends the parent, which ends its workers
    _settings = settings_of(style)


def _work(job: Job) -> Made | FaultError:
    assert _settings is not None
    return _made(job, _settings)
