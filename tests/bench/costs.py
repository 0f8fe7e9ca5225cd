"""What a paper costs, part by part, from which docs/scale.md reckons: processor milliseconds and bytes. Nothing is asserted.

    python tests/bench/costs.py [--candidates 60] [--tasks 3000]

A paper of three items is made in this process for so many candidates, and its parts are timed: to measure a variant, to draw a
pair, to put it aside, to bind and write a page of a book; and how large is what goes to a worker and comes back from it, packed
as for a cluster. Then a scheduler and two workers are started here, and pass on so many pieces of work that are none: what that
costs the scheduler, and what it holds.
"""

from __future__ import annotations

import argparse
import io
import os
import pickle
import subprocess
import sys
import tempfile
import time
import zlib
from collections.abc import Callable
from operator import getitem
from pathlib import Path
from typing import Any

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))
from sheetgen.bank import load_bank
from sheetgen.ink import writer_of
from sheetgen.sets import results
from sheetgen.sets.cluster import cluster_workers, parts_here
from sheetgen.sets.papers.lots import drawn, measured
from sheetgen.sets.papers.making import Printing
from sheetgen.sets.papers.paper import Paper
from sheetgen.sets.papers.plan import load_paper
from sheetgen.sets.papers.secret import Key
from sheetgen.sets.shelf import Shelf
from sheetgen.sheet import settings_of
from tests.bench.papers import bytes_in, plan_text
from tests.bench.worksheets import megabytes_of

LOTS = 30
"""Of each slot, measured and drawn by themselves."""


PAIR = 10_000
"""Bytes of a pair, packed."""


def taken(work: Callable[[], Any]) -> tuple[float, Any]:
    """Processor milliseconds, and what came of it."""
    start = time.process_time()
    found = work()
    return 1000 * (time.process_time() - start), found


def main() -> None:
    """Time and print."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--candidates", type=int, default=60)
    parser.add_argument("--tasks", type=int, default=3000)
    options = parser.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        file, place = Path(folder) / "paper.yaml", Path(folder) / "aside"
        place.mkdir()
        file.write_text(plan_text(options.candidates), encoding="utf-8")
        plan, bank = load_paper(file, load_bank())
        paper = Paper(plan, bank, settings_of(plan.style), Key(bytes(32)), "bench")
        printing, shelf = Printing(paper, Key(bytes(32)), None), Shelf(place)
        made = printing.make(shelf)
        variants = [sequence.variant(index) for sequence in _sequences(paper) for index in range(LOTS)]
        measure, _ = taken(lambda: [measured(paper.slots, variant) for variant in variants])
        draw, sheets = taken(lambda: [drawn(paper.slots, variant) for variant in variants])
        answers = [zlib.compress(pickle.dumps((one, None, ""), pickle.HIGHEST_PROTOCOL), 1) for one in sheets]
        put, _ = taken(lambda: [shelf.put(100_000 + n, one) for n, one in enumerate(sheets) if one])
        count = len(variants)
        print(f"measuring {measure / count:.1f} ms a variant; drawing {draw / count:.1f} ms a pair; putting aside "
              f"{put / count:.2f} ms a pair, {bytes_in(place) / len(list(place.glob('*.made'))) / 1000:.1f} kB")
        print(f"to workers: {len(pickle.dumps(paper.slots)) / 1000:.0f} kB once, and "
              f"{len(pickle.dumps((dict(parts_here()), drawn, variants[0]))) / 1000:.2f} kB with each pair; back "
              f"{sum(map(len, answers)) / count / 1000:.1f} kB a pair")
        for name, document in made.files:
            out = io.BytesIO()
            write, _ = taken(lambda document=document, out=out: writer_of(document, None)(out))
            pages = len(document.pages)
            print(f"{name}: {write / pages:.1f} ms and {out.tell() / pages / 1000:.1f} kB a page, {pages} pages")


    passed_on(options.tasks)


def passed_on(count: int) -> None:
    """Print what passing on costs a scheduler and its client."""
    port, pair, inner = 18790, os.urandom(PAIR), [sys.executable, "-m", "distributed.cli.dask_"]
    start = [[*inner[:2], f"{inner[2]}scheduler", "--port", str(port), "--no-dashboard"],
             *[[*inner[:2], f"{inner[2]}worker", f"127.0.0.1:{port}", "--nthreads", "1", "--no-dashboard"]] * 2]
    processes = [subprocess.Popen(words, stderr=subprocess.DEVNULL, stdout=subprocess.DEVNULL) for words in start]
    try:
        time.sleep(8.0)
        with cluster_workers(f"127.0.0.1:{port}") as workers:
            before, own, began = _busy(processes[0].pid), time.process_time(), time.perf_counter()
            made = sum(1 for _ in results(getitem, {0: pair, 1: bytes(100_000)}, (0 for _ in range(count)), workers))
            took, own = time.perf_counter() - began, time.process_time() - own
            busy = 1000 * (_busy(processes[0].pid) - before) / count
            print(f"{made} pieces of {PAIR / 1000:g} kB passed on: scheduler {busy:.2f} ms each and "
                  f"{megabytes_of({processes[0].pid}):.0f} MB, client {1000 * own / count:.2f} ms each, {count / took:.0f} a "
                  "second by two workers that do nothing")
    finally:
        for process in reversed(processes):
            process.terminate()
            process.wait()


def _busy(number: int) -> float:
    """Seconds of processor time of a process."""
    said = Path(f"/proc/{number}/stat").read_text(encoding="utf-8").rpartition(")")[2].split()
    return (int(said[11]) + int(said[12])) / os.sysconf("SC_CLK_TCK")


def _sequences(paper: Paper) -> list[Any]:
    from sheetgen.sets.papers.pools import Pools

    return Pools(paper.plan, paper.slots, paper.name, Key(bytes(32)), lambda _: [], lambda _: []).sequences


if __name__ == "__main__":
    main()
