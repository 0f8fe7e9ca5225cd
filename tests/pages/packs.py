"""Packs for the checks of pages: small ones, with all that a page can help with, whatever the kinds have."""

from __future__ import annotations

from contextlib import contextmanager
from dataclasses import replace
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from threading import Thread

import numpy as np

from sheetgen.bank import load_bank
from sheetgen.exercises import Help, Length, Stage, kinds, making
from sheetgen.ink import Pen, Stroke, dashed, write_pdf
from sheetgen.sets import OutFolder
from sheetgen.sets.packs import Pack, load_pack
from sheetgen.sheet import settings_of

TITLE = "</script> & <b>bold</b>"
"""What a stranger may call a pack."""

PLAN = f"""\
title: "{TITLE}"
about: "<img src=x onerror=alert(1)> {{{{ 7 * 7 }}}}"
problems:
  - {{family: stepped-block, seed: 7}}
  - {{family: slotted-wedge, seed: 2}}
  - {{family: bearing-support, seed: 1}}
  - {{family: conical-boss, seed: 1}}
"""

LENGTHS = (("How wide the front view is", 80.0), ("How high it is", 42.5), ("From the left to the slot", 15.0),
           ("How deep the top view is", 60.0), ("A slanting line", 33.3))


def helped(problem, settings, task):
    """All that a kind can help with: stages cut out of the answer, hints and lengths made up."""
    views = [mark for mark in dashed(task.drawing.marks) if isinstance(mark, Stroke)]
    outlines, rest = ([mark for mark in views if (mark.pen is Pen.OUTLINE) is first] for first in (True, False))
    stages = (Stage(tuple(outlines[:6]), "The boxes", ("Draw a box for each view.",)),
              Stage(tuple(outlines[6:]), "The outlines", ("Draw what shows.", "Begin with the front view."),
                    (Stroke(np.array([[60.0, 90.0], [160.0, 90.0]]), Pen.CONSTRUCTION),)),
              Stage(tuple(rest), "The sizes", ("Add the rest.",)))
    return Help(("Draw the views.", "Show <all> hidden detail."), stages,
                (("Look at the top.",), ("Begin with the base.", "Then the slot."), ("One line is often missed.",)),
                tuple(Length(where, value) for where, value in LENGTHS), task.drawing.layout)


@contextmanager
def with_help(help):
    """Within it the kind of views helps so, or with nothing."""
    before = making.kinds
    making.kinds = lambda: {"views": replace(kinds()["views"], help=help)}
    try:
        yield
    finally:
        making.kinds = before


def pack_in(folder: Path, plan: str = PLAN, *, single: bool = False, helping: bool = True) -> Path:
    """The page of a new pack in ``folder``."""
    folder.mkdir(parents=True, exist_ok=True)
    (folder / "plan.yaml").write_text(plan, encoding="utf-8")
    read = load_pack(folder / "plan.yaml", load_bank())
    pack = Pack(read, settings_of(read.plan.style), "1", single)
    with OutFolder(folder / "pack", pack.run, archived=True) as out:
        maker = pack.maker(out.shelf)
        with with_help(helped if helping else None):
            list(maker.run())
        for name, document in pack.documents(maker):
            out.add(name, partial(write_pdf, document))
        for name, content in pack.files(maker):
            out.add(name, lambda file, content=content: file.write(content))
        out.archive()
    return folder / "pack" / "index.html"


@contextmanager
def served(folder: Path):
    """A plain server of files on this machine; its address."""
    class Quiet(SimpleHTTPRequestHandler):
        def log_message(self, *_):
            return

    server = ThreadingHTTPServer(("127.0.0.1", 0), partial(Quiet, directory=str(folder)))
    Thread(target=server.serve_forever, daemon=True).start()
    try:
        yield f"http://127.0.0.1:{server.server_port}"
    finally:
        server.shutdown()
        server.server_close()
