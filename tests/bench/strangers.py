"""Give the program files that a stranger might send: mutants of families, plans and title blocks, some with fields added.

    python tests/bench/strangers.py [--count 2000] [--first N] [--kind family|plan|block] [--keep DIR]

Wanted of each: sheets or plain faults (never exit code 70), within 10 s of one processor and 500 MB. Those that fail are kept in
DIR, whence they may go to tests/bank/nasty, which the tests run. The same number always makes the same mutant.
"""

from __future__ import annotations

import argparse
import json
import os
import random
import selectors
import subprocess
import sys
import tempfile
from collections import Counter
from collections.abc import Iterator, Sequence
from copy import deepcopy
from pathlib import Path
from typing import Any

import yaml

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))
from tests.memory import most_megabytes

ROOT = Path(__file__).resolve().parents[2]
SECONDS, MEGABYTES = 10.0, 500.0
PATIENCE = 90.0
"""Seconds by the clock after which a worker is ended; it counts as slow."""

SOURCES = {"family": "problem_bank", "plan": "templates/plans", "block": "templates/title_blocks"}
ODD: tuple[Any, ...] = (
    None, True, "", "open", 0, -1, 1e-6, 0.5, 3, 7, 12, 40, 99, 1000, 9999, 10_001, 10**30, "width", "width/0", "width - width",
    "min(width, 3)", "if(width > 90, 1, 200)", "é", "\u202e", "x" * 500, [], {}, [1, 2], [[0, 0], [1, 1]], {"from": 1, "to": 2},
    "front", "top", "right", "left", "up", "down", "x", "y", "z", "base.left to base.right", "diameter of bore")
ADDED: dict[str, dict[str, tuple[Any, ...]]] = {
    "family": {
        "depth": (5, "depth", 400), "point": (120, 90), "level": (10, -5), "counterbore": ({"diameter": 30, "depth": 4},),
        "countersink": ({"diameter": 20, "angle": 90},), "foot": ("open", 3), "when": ("width > 90", "1 == 1"),
        "x": (["open", "open"], [1, 9]), "y": (["open", 20],), "z": ([5, "open"], [0, 1]), "symmetry": (["x"], ["y"], ["x", "y"]),
        "values": ({"more": "width / 3"},), "rules": (["width > 0"],), "about": ("a block",), "one of": ([1, 2, 3],),
        "because": ("so",), "centre": ([5, 5],), "turn": ("left",), "side": ("flank",)},
    "plan": {
        "term": ("Autumn",), "weeks": (1, 52),
        "count": (1, 4, 500), "first_seed": (0, 999_999_999), "seed": (3,), "rung": (1, [1, 5]),
        "topic": ("holes", ["slots", "nothing"]), "paper": ("A4", "11x17"), "figures": ("upright",), "arrows": ("all",),
        "kind": ("views",), "projection": ("third",), "wording": ("en-elevations",),
        "status": ("x" * 80,), "class": ("2B",)},
    "block": {
        "symbol": ("code", "projection"), "own_label": ("W" * 60,), "least": ("1.8", "10"), "height": ("10", "2.5"),
        "ruled": ("no",),
        "text": ("{{ notice }}", "{{ title ~ title }}", "{{ 'W' }}"), "drawing": ([{"lines": [["0", "0", "9", "9"]]}],),
        "arcs": ([["5", "5", "3", "0", "360"]],), "pen": ("thick",), "at": (["1", "1"],)},
}
"""By kind of file, fields that many entries lack, and what they may say."""


def mutant(kind: str, number: int) -> str:
    """The text of a mutant."""
    dice = random.Random(f"{kind} {number}")
    source = dice.choice(sorted((ROOT / SOURCES[kind]).glob("*.yaml")))
    tree: Any = yaml.safe_load(source.read_text(encoding="utf-8"))
    for _ in range(dice.choice((1, 1, 2, 3, 6))):
        _change(dice, kind, tree)
    text = yaml.safe_dump(tree, allow_unicode=True, sort_keys=False)
    if dice.random() < 0.15:
        at = dice.randrange(len(text))
        text = text[:at] + dice.choice(("[", "}", ":", "\t", "&a ", "- ", "\n  ", "'", "0")) + text[at + dice.choice((0, 1, 9)):]
    return text


def _change(dice: random.Random, kind: str, tree: Any) -> None:
    """One change somewhere in a tree."""
    holders = list(_holders(tree))
    holder = dice.choice(holders)
    fields = [each for each in holders if isinstance(each, dict)]
    what = dice.choice(("odd", "odd", "number", "number", "gone", "again", "many", "add", "add", "swap"))
    if what == "add":
        field = dice.choice(sorted(ADDED[kind]))
        dice.choice(fields)[field] = deepcopy(dice.choice(ADDED[kind][field]))
        return
    key = dice.choice(list(holder)) if isinstance(holder, dict) else dice.randrange(len(holder))
    if what == "odd":
        holder[key] = deepcopy(dice.choice(ODD))
    elif what == "number" and isinstance(holder[key], int | float) and not isinstance(holder[key], bool):
        holder[key] = dice.choice((holder[key] * 10, -holder[key], holder[key] + 1, holder[key] / 3, holder[key] * 0.01))
    elif what == "gone":
        del holder[key]
    elif what in ("again", "many") and isinstance(holder, list):
        copies = json.loads(json.dumps([holder[key]] * (1 if what == "again" else dice.choice((5, 60)))))
        for place, each in enumerate(copies):
            if isinstance(each, dict) and isinstance(each.get("name"), str):
                each["name"] += f"_{place}"
        holder.extend(copies)
    elif what == "swap":
        other = dice.choice(holders)
        theirs = dice.choice(list(other)) if isinstance(other, dict) else dice.randrange(len(other))
        holder[key], other[theirs] = json.loads(json.dumps([other[theirs], holder[key]], default=str))


def _holders(tree: Any) -> Iterator[Any]:
    """All lists and sets of fields that hold something."""
    if isinstance(tree, dict | list) and tree:
        yield tree
        for inner in list(tree.values()) if isinstance(tree, dict) else tree:
            yield from _holders(inner)


def asked(kind: str, path: Path, out: Path) -> list[str]:
    """The command line that is given a file."""
    if kind == "plan":
        return ["worksheet", str(path), "--dry-run", *(["--week", "2"] if "term:" in path.read_text(encoding="utf-8") else [])]
    if kind == "block":
        return ["sheet", "stepped-block", "--title-block", str(path), "--out", str(out)]
    return ["sheet", str(path), "--out", str(out)]


def work() -> None:
    """A worker: command lines from the standard input, and for each the exit code, processor seconds and megabytes, and words."""
    import time

    from click.testing import CliRunner

    from sheetgen.cli import main as command

    for line in sys.stdin:
        begin = time.process_time()
        outcome = CliRunner().invoke(command, json.loads(line))
        print(json.dumps([outcome.exit_code, time.process_time() - begin, most_megabytes(), outcome.output[-600:]]), flush=True)


class Worker:
    """A process that takes command lines one by one; a new one after one that hung, or took much memory."""

    def __init__(self) -> None:
        self._process: subprocess.Popen[str] | None = None

    def outcome(self, arguments: Sequence[str]) -> tuple[int, float, float, str]:
        """Exit code, seconds, megabytes and last words of a command."""
        if self._process is None:
            environment = {**os.environ, "PYTHONPATH": str(ROOT)}
            self._process = subprocess.Popen([sys.executable, __file__, "--work"], stdin=subprocess.PIPE, stdout=subprocess.PIPE,
                                             text=True, env=environment)
        process = self._process
        assert process.stdin and process.stdout
        process.stdin.write(json.dumps(list(arguments)) + "\n")
        process.stdin.flush()
        with selectors.DefaultSelector() as selector:
            selector.register(process.stdout, selectors.EVENT_READ)
            line = process.stdout.readline() if selector.select(PATIENCE) else ""
        if not line:
            self.end()
            return 70, PATIENCE, 0.0, "no answer"
        code, seconds, most, words = json.loads(line)
        if most > MEGABYTES:
            self.end()
        return code, seconds, most, words

    def end(self) -> None:
        """End the process."""
        if self._process is not None:
            self._process.kill()
            self._process.wait()
            self._process = None


def main() -> int:
    """Make mutants, give them to the program, print what failed."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--count", type=int, default=2000)
    parser.add_argument("--first", type=int, default=1)
    parser.add_argument("--kind", choices=tuple(SOURCES))
    parser.add_argument("--keep", type=Path, metavar="DIR", help="keep the files that fail there")
    parser.add_argument("--work", action="store_true", help=argparse.SUPPRESS)
    options = parser.parse_args()
    if options.work:
        work()
        return 0
    kinds = (options.kind,) if options.kind else ("family", "family", "plan", "block")
    worker, codes, failed, slowest = Worker(), Counter[int](), 0, 0.0
    with tempfile.TemporaryDirectory() as folder:
        for number in range(options.first, options.first + options.count):
            kind = kinds[number % len(kinds)]
            path = Path(folder) / f"{kind}-{number}.yaml"
            path.write_text(mutant(kind, number), encoding="utf-8")
            code, seconds, most, words = worker.outcome(asked(kind, path, Path(folder) / "out"))
            codes[code] += 1
            slowest = max(slowest, seconds)
            if code == 70 or seconds > SECONDS or most > MEGABYTES:
                failed += 1
                print(f"{path.name}: code {code}, {seconds:.1f} s, {most:.0f} MB: {words.strip()[-200:]}", flush=True)
                if options.keep:
                    options.keep.mkdir(parents=True, exist_ok=True)
                    (options.keep / path.name).write_bytes(path.read_bytes())
            path.unlink()
    worker.end()
    counted = ", ".join(f"{count} ended with {code}" for code, count in sorted(codes.items()))
    print(f"{options.count} mutants: {counted}; the slowest took {slowest:.1f} s; {failed} failed")
    return int(failed > 0)


if __name__ == "__main__":
    raise SystemExit(main())
