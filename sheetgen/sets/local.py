"""Workers of this machine, as an executor: each a fresh process with a line of its own, so that one can be killed at any moment.

(The pool of the standard library shares queues among its processes: one that is killed while it writes leaves the others, and the
parent, waiting for ever.)
"""

from __future__ import annotations

import pickle
import sys
import threading
from collections.abc import Callable, Iterator
from concurrent.futures import BrokenExecutor, Executor, Future
from multiprocessing import get_context, resource_tracker
from multiprocessing.connection import Connection
from multiprocessing.context import SpawnProcess
from queue import Empty, SimpleQueue
from typing import Any, ParamSpec, TypeVar

from sheetgen.serving import serve
from sheetgen.sets.held import stopped_later

P = ParamSpec("P")
T = TypeVar("T")

AHEAD_EACH = 4
"""Pieces of work for each worker that wait or are being done: enough to keep it busy, few enough to keep memory flat."""


class WorkerLostError(BrokenExecutor):
    """A worker has ended, and nobody here has ended it."""


class TracebackThereError(Exception):
    """Where an error arose in a worker, for developers: the cause of that error here."""


class LocalWorkers(Executor):
    """Processes of this machine, once they are started. They are fresh ones, not copies of this one, which may have threads (a
    progress bar has), and end with it, however it ends."""

    def __init__(self) -> None:
        self._todo: SimpleQueue[tuple[Future[object], bytes] | None] = SimpleQueue()
        self._broken = self._ended = False
        self._processes: list[SpawnProcess] = []
        self._threads: list[threading.Thread] = []

    @property
    def ahead(self) -> int:
        """Pieces of work that wait or are being done, so that all are kept busy."""
        return AHEAD_EACH * len(self._processes)

    def start(self, count: int) -> None:
        """Start so many. If that is not to be, ``kill`` ends those that there are. Raises: OSError."""
        if sys.platform != "win32":
            resource_tracker.ensure_running()          # Python's own helper; its start would let signals through again
        with stopped_later():
            for _ in range(count):
                self._begin()

    def _begin(self) -> None:
        context = get_context("spawn")
        here, there = context.Pipe()
        process = context.Process(target=serve, args=(there,), daemon=True)
        process.start()
        self._processes.append(process)
        there.close()                                  # so that the line breaks when the worker ends
        thread = threading.Thread(target=self._attend, args=(here,), daemon=True)
        thread.start()
        self._threads.append(thread)

    def submit(self, fn: Callable[P, T], /, *args: P.args, **kwargs: P.kwargs) -> Future[T]:
        """Have some work done. Raises: WorkerLostError if a worker was lost; RuntimeError after ``shutdown``."""
        if self._broken:
            raise WorkerLostError
        if self._ended:
            raise RuntimeError("workers that were told to end")
        future: Future[T] = Future()
        self._todo.put((future, pickle.dumps((fn, args, kwargs), pickle.HIGHEST_PROTOCOL)))  # type: ignore[arg-type]
        return future

    def _attend(self, line: Connection) -> None:
        """Send work to one worker and take what comes back, until there is none or the worker is lost."""
        with line:
            while (task := self._todo.get()) is not None:
                future, parcel = task
                if not future.set_running_or_notify_cancel():
                    continue
                try:
                    line.send_bytes(parcel)
                    answer = line.recv_bytes()
                except (EOFError, OSError):
                    self._lost(future)
                    return
                settle(future, answer)

    def _lost(self, future: Future[object]) -> None:
        """What a lost worker was at, and all that waits, comes to nothing."""
        self._broken = True
        future.set_exception(WorkerLostError())
        for other in self._waiting():
            if other.set_running_or_notify_cancel():
                other.set_exception(WorkerLostError())

    def _waiting(self) -> Iterator[Future[object]]:
        """Take what waits. What tells a thread to end is left to it, or it would wait for ever."""
        ends = 0
        while True:
            try:
                task = self._todo.get_nowait()
            except Empty:
                break
            if task is None:
                ends += 1
            else:
                yield task[0]
        for _ in range(ends):
            self._todo.put(None)

    def shutdown(self, wait: bool = True, *, cancel_futures: bool = False) -> None:
        """Let the workers end when they have done what waits (with ``cancel_futures``: what they are at)."""
        self._ended = True
        for future in self._waiting() if cancel_futures else ():
            future.cancel()
        for _ in self._threads:
            self._todo.put(None)
        if wait:
            for thread in self._threads:
                thread.join()
            for process in self._processes:
                process.join()

    def kill(self) -> None:
        """End the workers at once, whatever they are at."""
        for process in self._processes:
            process.kill()
        self.shutdown(wait=True, cancel_futures=True)


def settle(future: Future[Any], answer: bytes) -> None:
    """Give a future what a worker has answered."""
    try:
        found, error, where = pickle.loads(answer)  # our worker's: nobody else has the other end of the line
    except BaseException as unread:                 # an error that cannot travel is an error too, and somebody waits
        future.set_exception(unread)
        return
    if error is None:
        future.set_result(found)
        return
    error.__cause__ = TracebackThereError(where)
    future.set_exception(error)
