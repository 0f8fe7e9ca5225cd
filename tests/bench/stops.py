"""Stops a small worksheet or paper at random moments, over the sheets of another, and tells what is wrong. Nothing is asserted.

    python tests/bench/stops.py [--paper] [--kills 20] [--others 4] [--jobs 2] [--seed N]

Of each run that is killed: whether a process is left after two seconds, whether anything but the hidden folder and whole files of
one set lies there, and whether the next run comes to the bytes of an undisturbed one and leaves no hidden folder. Then so many by
SIGTERM, by a closed terminal and by Ctrl-C to the group: whether they say one line, and all is as before (unless they were
through).
"""

from __future__ import annotations

import argparse
import random
import shutil
import signal
import sys
import tempfile
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))
from sheetgen.sets.folder import WORK
from sheetgen.sets.papers.secret import new_key
from tests.stops import AT_ONCE, Trial, contents, faults_after_kill

PAIRS = 8
"""Of each family: enough that most kills find some of them made."""

FAMILIES = ("stepped-block", "counterbored-block")


CANDIDATES = 8
"""Of the paper, for the same reason."""


class Ground:
    """A folder with two plans, of worksheets or of papers, and what undisturbed runs make of them."""

    def __init__(self, folder: Path, jobs: int, paper: bool = False) -> None:
        self.folder, self.jobs, self.paper = folder, jobs, paper
        self.seconds = 0.0
        if paper:
            new_key(folder / "our.key")
        for name, seed in (("old", 50), ("new", 1)):
            text = _paper(name) if paper else _worksheet(seed)
            (folder / f"{name}.yaml").write_text(text, encoding="utf-8")
            start = time.monotonic()
            self.begun(folder / name, name).ended()
            self.seconds = time.monotonic() - start
        self.old, self.new = contents(folder / "old"), contents(folder / "new")

    def begun(self, out: Path, name: str = "new") -> Trial:
        """A run of a plan."""
        command = ["paper", "--key", "our.key"] if self.paper else ["worksheet"]
        return Trial([*command, f"{name}.yaml", "--out", out, "--jobs", self.jobs], self.folder)

    def stopped(self, number: int, after: float, group: bool = False) -> tuple[Trial, Path, float]:
        """A run over the old sheets, stopped after so many seconds; with its folder and the seconds until all of it had ended."""
        out = self.folder / "out"
        shutil.rmtree(out, ignore_errors=True)
        shutil.copytree(self.folder / "old", out)
        trial = self.begun(out)
        time.sleep(after)
        return trial, out, trial.stop(number, group=group) if trial.process.poll() is None else 0.0


def _worksheet(seed: int) -> str:
    lines = [f"  - {{family: {family}, count: {PAIRS}, first_seed: {seed}}}\n" for family in FAMILIES]
    return "problems:\n" + "".join(lines)


def _paper(name: str) -> str:
    items = [f"  - {{family: {family}, marks: 10}}\n" for family in FAMILIES]
    rooms = f"rooms: [{{name: Hall, rows: 3, columns: 3}}]\ncandidates: {CANDIDATES}\n"
    return f"title: Paper, {name}\nitems:\n{''.join(items)}{rooms}"


def kill(ground: Ground, after: float) -> tuple[str, list[str]]:
    """What a killed run had come to, and what is wrong."""
    trial, out, took = ground.stopped(signal.SIGKILL, after)
    trial.ended()
    found = faults_after_kill(out, ground.old, ground.new) + ([f"processes for {took:.1f} s"] if took > AT_ONCE else [])
    state = f"{len(list((out / WORK).glob('*.made')))} pairs aside" if (out / WORK).exists() else "no hidden folder"
    code, _, told = ground.begun(out).ended()
    found += [] if code == 0 else [f"the next run ended with {code}: {told}"]
    found += [] if contents(out) == ground.new else ["other bytes than undisturbed"]
    return state, found + (["a hidden folder is left"] if (out / WORK).exists() else [])


def stop(ground: Ground, number: int, after: float) -> tuple[str, list[str]]:
    """What a stopped run has said, and what is wrong."""
    trial, out, took = ground.stopped(number, after, group=number != signal.SIGTERM)
    code, said, told = trial.ended()
    found = [f"processes for {took:.1f} s"] if took > AT_ONCE else []
    wanted = ground.new if code == 0 else ground.old
    found += [] if contents(out) == wanted and not (out / WORK).exists() else ["not as before"]
    early = code == -number or "sheetgen.cli" in told       # before there was anybody to hear it
    found += [] if early or (said + told).count("\n") == 1 else [f"more than a line: {said}{told}"]
    return ("too early" if early else f"code {code}"), found


def main() -> None:
    """Stop and print."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--paper", action="store_true", help="a paper in the place of a worksheet")
    parser.add_argument("--kills", type=int, default=20)
    parser.add_argument("--others", type=int, default=4, help="by each of the other signals")
    parser.add_argument("--jobs", type=int, default=2)
    parser.add_argument("--seed", type=int, default=1)
    options = parser.parse_args()
    chance, wrong = random.Random(options.seed), 0
    with tempfile.TemporaryDirectory() as folder:
        ground = Ground(Path(folder), options.jobs, options.paper)
        print(f"an undisturbed run takes {ground.seconds:.1f} s")
        signals = [signal.SIGKILL] * options.kills
        signals += [one for one in (signal.SIGTERM, signal.SIGHUP, signal.SIGINT) for _ in range(options.others)]
        for number in signals:
            after = chance.uniform(0.2, ground.seconds)
            state, found = kill(ground, after) if number == signal.SIGKILL else stop(ground, number, after)
            wrong += bool(found)
            print(f"{number.name:8} after {after:4.2f} s: {state}: {'; '.join(found) or 'all is well'}", flush=True)
    print(f"{len(signals)} stopped, {wrong} of them with faults")


if __name__ == "__main__":
    main()
