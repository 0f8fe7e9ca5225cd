"""Work shared among workers: here, in other processes, or wherever an executor sends it. Results come in the order of the work.

A worker is told all it needs by value: nothing that it would have to read from a file of this machine.
"""

from __future__ import annotations

import os
import pickle
import signal
from collections import deque
from collections.abc import Callable, Generator, Iterable, Iterator
from concurrent.futures import Executor, Future, ProcessPoolExecutor
from contextlib import contextmanager
from functools import lru_cache
from itertools import islice
from multiprocessing import get_context
from typing import Any, TypeVar

AHEAD = 8
"""Pieces of work that wait or are being done: enough for two to keep busy, few enough to keep memory flat. See ``results``."""

Common = TypeVar("Common")
Task = TypeVar("Task")
Result = TypeVar("Result")


def cores() -> int:
    """How many processors this process may use."""
    return len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1


@contextmanager
def local_workers(count: int) -> Iterator[Executor | None]:
    """An executor of so many processes of this machine; None for one, which needs no other.

    Each is a fresh process, not a copy of this one, which may have threads (a progress bar has).
    """
    if count <= 1:
        yield None
        return
    pool = ProcessPoolExecutor(count, get_context("spawn"), _left_to_the_parent)
    try:
        yield pool
    finally:
        pool.shutdown(wait=True, cancel_futures=True)


def results(
    work: Callable[[Common, Task], Result], common: Common, tasks: Iterable[Task], executor: Executor | None = None,
    ahead: int = AHEAD,
) -> Generator[Result, None, None]:
    """Yield what ``work`` makes of each task, in their order; ``common``: what all of them need, sent along and unpacked once by
    each worker. No more than ``ahead`` tasks are under way, so that what waits for its turn stays small.

    Raises: what ``work`` raises.
    """
    if executor is None:
        yield from (work(common, task) for task in tasks)
        return
    packed, todo = pickle.dumps(common, pickle.HIGHEST_PROTOCOL), iter(tasks)
    waiting: deque[Future[Result]] = deque(executor.submit(_done, work, packed, task) for task in islice(todo, ahead))
    try:
        while waiting:
            result = waiting.popleft().result()
            waiting.extend(executor.submit(_done, work, packed, task) for task in islice(todo, 1))
            yield result
    finally:
        for future in waiting:
            future.cancel()


def _done(work: Callable[[Any, Task], Result], packed: bytes, task: Task) -> Result:
    return work(_unpacked(packed), task)


@lru_cache(maxsize=2)
def _unpacked(packed: bytes) -> Any:
    """What the parent packed; a worker unpacks it once, and knows it again by its bytes."""
    return pickle.loads(packed)  # ours: nobody else can send to our workers


def _left_to_the_parent() -> None:
    """Ctrl-C ends the parent, which ends its workers."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
