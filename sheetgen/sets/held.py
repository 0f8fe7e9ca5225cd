"""Moments in which this process is not to be stopped: files are being exchanged for others, or workers are being born."""

from __future__ import annotations

import signal
import sys
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from types import FrameType

from sheetgen.serving import STOPS

Handler = Callable[[int, FrameType | None], object] | signal.Handlers


@contextmanager
def undisturbed() -> Iterator[None]:
    """Within the block, signals that ask to stop are not heard: it takes milliseconds, and what follows is the end anyway."""
    with _answered_by(signal.SIG_IGN):
        yield


@contextmanager
def stopped_later() -> Iterator[None]:
    """Within the block, a signal that asks to stop waits until its end; and processes that are started in it never hear any.

    (They inherit what is blocked, save on Windows. Blocking alone would not do: another thread, of a library, might be asked.)
    """
    came: list[int] = []
    with _answered_by(lambda number, _: came.append(number)):
        if sys.platform == "win32":
            yield
        else:
            before = signal.pthread_sigmask(signal.SIG_BLOCK, STOPS)
            try:
                yield
            finally:
                signal.pthread_sigmask(signal.SIG_SETMASK, before)
    for number in came[:1]:
        signal.raise_signal(number)


@contextmanager
def _answered_by(answer: Handler) -> Iterator[None]:
    if threading.current_thread() is not threading.main_thread():
        yield                                          # signals come to the main thread alone
        return
    before = {number: signal.signal(number, answer) for number in STOPS if signal.getsignal(number) is not None}
    try:
        yield
    finally:
        for number, handler in before.items():
            signal.signal(number, handler)
