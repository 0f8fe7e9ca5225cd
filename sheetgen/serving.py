"""A worker's life: it does what its parent sends, one piece after another, and ends when there is no parent any more.

A worker imports this before anything that takes long, so that from its first moments it cannot outlive its parent.
"""

from __future__ import annotations

import multiprocessing
import os
import pickle
import signal
import threading
import traceback
from collections.abc import Callable
from functools import partial
from multiprocessing.connection import Connection
from typing import Any

STOPS = tuple(getattr(signal, name) for name in ("SIGINT", "SIGTERM", "SIGHUP") if hasattr(signal, name))
"""The signals by which people and systems ask a program to end: Ctrl-C, kill and shutdown, a closed terminal."""


def serve(line: Connection) -> None:
    """Answer each parcel that comes along ``line``, (function, arguments), with (what came of it, the error, its traceback)."""
    for number in STOPS:
        signal.signal(number, signal.SIG_IGN)        # they go to the whole family; the parent alone answers, and ends its workers
    threading.Thread(target=_end_with_parent, daemon=True).start()
    while True:
        try:
            parcel = line.recv_bytes()
        except (EOFError, OSError):
            return                                   # there is no more work
        line.send_bytes(answer(partial(pickle.loads, parcel)))  # our parent's: nobody else has the other end of the line


def answer(unpacked: Callable[[], tuple[Callable[..., Any], Any, Any]]) -> bytes:
    """What comes of a piece of work, packed: (what came of it, the error, its traceback). ``unpacked``: gives the function, and
    what it is called with."""
    try:
        work, words, named = unpacked()
        return pickle.dumps((work(*words, **named), None, ""), pickle.HIGHEST_PROTOCOL)
    except BaseException as error:      # whatever it is, it is told where the work was asked for, as any executor does
        return pickle.dumps((None, error, traceback.format_exc()), pickle.HIGHEST_PROTOCOL)


def _end_with_parent() -> None:
    """Wait until the parent has ended, however it ended; then nobody wants what is being made here."""
    parent = multiprocessing.parent_process()
    assert parent is not None
    parent.join()
    os._exit(1)
