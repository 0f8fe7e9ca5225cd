"""Work shared among workers: here, in other processes, or wherever an executor sends it. Results come in the order of the work.

A worker is told all it needs by value: nothing that it would have to read from a file of this machine.
"""

from __future__ import annotations

import os
import pickle
from collections import deque
from collections.abc import Callable, Generator, Iterable, Iterator
from concurrent.futures import BrokenExecutor, Executor, Future
from contextlib import contextmanager
from functools import lru_cache
from itertools import islice
from typing import Any, TypeVar

from sheetgen.faults import Fault, FaultError
from sheetgen.sets.local import AHEAD_EACH, LocalWorkers

AHEAD = 2 * AHEAD_EACH
"""Pieces of work that wait or are being done by an executor that does not say how many it has room for."""

Common = TypeVar("Common")
Task = TypeVar("Task")
Result = TypeVar("Result")


class WorkersError(FaultError):
    """The work came to nothing because a worker was lost. What was made by then is as good as ever."""


def cores() -> int:
    """How many processors this process may use."""
    return len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1


@contextmanager
def local_workers(count: int) -> Iterator[Executor | None]:
    """An executor of so many processes of this machine; None for one, which needs no other. After an error they end at once."""
    if count <= 1:
        yield None
        return
    workers = LocalWorkers()
    try:
        workers.start(count)
        yield workers
    except BaseException:
        workers.kill()
        raise
    workers.shutdown()


def results(
    work: Callable[[Common, Task], Result], common: Common, tasks: Iterable[Task], executor: Executor | None = None,
    ahead: int | None = None,
) -> Generator[Result, None, None]:
    """Yield what ``work`` makes of each task, in their order; ``common``: what all of them need, sent along and unpacked once by
    each worker. No more than ``ahead`` tasks are under way (None: as many as the executor asks for), so that what waits stays
    small.

    Raises: what ``work`` raises; WorkersError if a worker is lost.
    """
    if executor is None:
        yield from (work(common, task) for task in tasks)
        return
    under_way: int = getattr(executor, "ahead", AHEAD) if ahead is None else ahead
    packed, todo = pickle.dumps(common, pickle.HIGHEST_PROTOCOL), iter(tasks)
    waiting: deque[Future[Result]] = deque(executor.submit(_done, work, packed, task) for task in islice(todo, under_way))
    try:
        while waiting:
            result = waiting.popleft().result()
            waiting.extend(executor.submit(_done, work, packed, task) for task in islice(todo, 1))
            yield result
    except BrokenExecutor:
        raise WorkersError([Fault("the workers", 0, "", "one that was ended from outside, perhaps because memory ran out",
                                  "more memory, or fewer workers: --jobs 1")]) from None
    finally:
        for future in waiting:
            future.cancel()


def _done(work: Callable[[Any, Task], Result], packed: bytes, task: Task) -> Result:
    return work(_unpacked(packed), task)


@lru_cache(maxsize=2)
def _unpacked(packed: bytes) -> Any:
    """What the parent packed; a worker unpacks it once, and knows it again by its bytes."""
    return pickle.loads(packed)  # ours: nobody else can send to our workers
