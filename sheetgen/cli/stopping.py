"""Signals that ask the program to stop: Ctrl-C, a system that shuts down, a terminal that is closed. All clean up alike."""

from __future__ import annotations

import signal
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from types import FrameType

from sheetgen.serving import STOPS


class StoppedError(KeyboardInterrupt):
    """A signal has come. ``code``: the exit code that tells a shell which."""

    def __init__(self, number: int) -> None:
        super().__init__()
        self.code = 128 + number


@contextmanager
def stops_heard() -> Iterator[None]:
    """Within the block, the first such signal raises StoppedError; what follows is cleaning up, and later ones do not disturb it.

    A signal that was not to be heard (``nohup``) is not.
    """
    if threading.current_thread() is not threading.main_thread():
        yield                                          # signals come to the main thread alone
        return
    before = {number: handler for number in STOPS if (handler := signal.getsignal(number)) not in (signal.SIG_IGN, None)}

    def stop(number: int, _: FrameType | None) -> None:
        for each in before:
            signal.signal(each, signal.SIG_IGN)
        raise StoppedError(number)

    for number in before:
        signal.signal(number, stop)
    try:
        yield
    finally:
        for number, handler in before.items():
            signal.signal(number, handler)
