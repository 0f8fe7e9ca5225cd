"""Moments in which this process is not to be stopped: some files are being exchanged for others, or taken away."""

from __future__ import annotations

import signal
import threading
from collections.abc import Iterator
from contextlib import contextmanager

from sheetgen.serving import STOPS


@contextmanager
def undisturbed() -> Iterator[None]:
    """Within the block, signals that ask to stop are not heard: it takes milliseconds, and what follows is the end anyway."""
    if threading.current_thread() is not threading.main_thread():
        yield                                          # signals come to the main thread alone
        return
    before = {number: signal.signal(number, signal.SIG_IGN) for number in STOPS}
    try:
        yield
    finally:
        for number, handler in before.items():
            signal.signal(number, signal.SIG_DFL if handler is None else handler)
