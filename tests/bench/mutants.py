"""Plant small faults in a copy of the program, one at a time, and print those that no test finds.

    python tests/bench/mutants.py [--jobs 2] [--only TEXT] [--every N] [--thorough]

Of each fault the tests are run that matter for its folder, sampled, until one fails. Wanted: at least 95 % are found, without the
sweep. ``--only``: faults of files whose name has the text in it; ``--every N``: each Nth of them; ``--thorough``: no sampling.
"""

from __future__ import annotations

import argparse
import shutil
import subprocess
import sys
import tempfile
import time
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from pathlib import Path
from queue import SimpleQueue

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))
from tests.bench.planted import FAULTS, Planted

ROOT = Path(__file__).resolve().parents[2]
WANTED = 0.95
LONGEST = 900.0
"""Seconds for the tests of one fault; a fault that hangs the program is found too."""

SHEETS = ("tests/outside/test_every_sheet.py", "tests/outside/test_dimension_rules.py")
READING = ("tests/outside/test_reading_the_answer.py", "tests/outside/test_paper.py")
KERNEL = ("tests/outside/test_against_kernel.py", "tests/outside/test_centre_lines.py")
WATCHING: dict[str, tuple[str, ...]] = {
    "measures": ("tests/measures/test_measures.py", "tests/measures/test_proof.py", "tests/measures/test_mutations.py"),
    "problem": (
        "tests/problem", "tests/exercises/test_question.py", "tests/exercises/test_making.py", "tests/sets/test_worksheet.py"),
    "exercises": ("tests/exercises", "tests/placing/test_alike.py", "tests/sets/test_worksheet.py", *SHEETS, *READING),
    "certainty": ("tests/certainty", "tests/outside/test_certainty.py"),
    "codes": ("tests/codes", "tests/exercises/test_coding.py"),
    "sets": ("tests/sets", "tests/test_cli.py"),
    "choosing": ("tests/choosing", "tests/sets/test_plan.py", "tests/sets/test_terms.py"),
    "projection": ("tests/projection", *KERNEL),
    "sight": ("tests/sight", "tests/placing/test_alike.py", "tests/measures/test_measures.py"),
    "placing": ("tests/placing", "tests/measures/test_measures.py", *SHEETS, *READING),
    "sheet": ("tests/sheet", "tests/templating/test_titleblock.py", "tests/outside/test_placement.py", *SHEETS),
    "ink": ("tests/ink", *SHEETS),
    "solid": ("tests/solid", *KERNEL, "tests/projection"),
    "bank": ("tests/bank", "tests/measures"),
    "vetting": ("tests/vetting",),
    "templating": ("tests/templating", "tests/sets/test_plan.py"),
    "geometry": ("sheetgen/geometry", "tests/geometry", "tests/placing", "tests/projection/test_centre.py"),
    "cli": ("tests/test_cli.py", "tests/test_cli_choosing.py"),
    "records.py": ("tests/test_records.py", "tests/bank", "tests/sets/test_plan.py", "tests/templating"),
    "yamlines.py": ("tests/bank", "tests/test_records.py"),
    "yamlslips.py": ("tests/test_yamlslips.py", "tests/test_records.py"),
    "filekinds.py": ("tests/test_filekinds.py",),
}
"""By folder: the tests that matter for it, those that find most first."""

SAMPLED = 8
"""Of tests that run over every family only each so manieth case, unless the run is thorough (``--each`` of conftest.py)."""


@dataclass(frozen=True)
class Outcome:
    """What became of a fault: ``found`` by which test, or None; ``seconds``."""

    fault: Planted
    found: str | None
    seconds: float


def copied(folder: Path) -> Path:
    """A copy of the tree to plant faults in."""
    tree = folder / "tree"
    aside = shutil.ignore_patterns(".git", ".venv", "__pycache__", ".*_cache", ".hypothesis", "output")
    shutil.copytree(ROOT, tree, ignore=aside)
    return tree


def tried(fault: Planted, tree: Path, thorough: bool) -> Outcome:
    """Plant a fault in a copy, run its tests, and take it out again."""
    place, start = tree / "sheetgen" / fault.file, time.perf_counter()
    whole = place.read_text(encoding="utf-8")
    if whole.count(fault.text) != 1:
        return Outcome(fault, "nothing: its text is no longer there, so it was not planted", 0.0)
    place.write_text(whole.replace(fault.text, fault.instead), encoding="utf-8")
    try:
        found = _failure(WATCHING[fault.file.partition("/")[0]], tree, thorough)
    finally:
        place.write_text(whole, encoding="utf-8")
    return Outcome(fault, found, time.perf_counter() - start)


def _failure(tests: tuple[str, ...], tree: Path, thorough: bool) -> str | None:
    """The first test that fails, or None."""
    command = [sys.executable, "-m", "pytest", "-x", "-q", "--no-header", "--tb=no", "-p", "no:cacheprovider", *tests]
    command += [] if thorough else ["--each", str(SAMPLED)]
    try:
        done = subprocess.run(
            command, cwd=tree, env=_environment(tree), capture_output=True, text=True, check=False, timeout=LONGEST)
    except subprocess.TimeoutExpired:
        return f"takes longer than {LONGEST:g} s"
    failed = [line for line in done.stdout.splitlines() if line.startswith(("FAILED", "ERROR"))]
    return None if done.returncode == 0 else (failed or [(done.stdout + done.stderr).strip()[-200:]])[0]


def _environment(tree: Path) -> dict[str, str]:
    import os

    return {**os.environ, "PYTHONPATH": str(tree), "PYTHONDONTWRITEBYTECODE": "1"}


def main() -> int:
    """Plant, run, print."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--jobs", type=int, default=1)
    parser.add_argument("--only", default="")
    parser.add_argument("--every", type=int, default=1)
    parser.add_argument("--first", type=int, default=0, metavar="K", help="leave out the K before it")
    parser.add_argument("--thorough", action="store_true")
    parser.add_argument("--trust", action="store_true", help="do not find out first that the tests pass without a fault")
    options = parser.parse_args()
    faults = [fault for fault in FAULTS if options.only in fault.file][options.first::options.every]
    trees: SimpleQueue[Path] = SimpleQueue()
    with tempfile.TemporaryDirectory() as folder, ThreadPoolExecutor(options.jobs) as pool:
        for job in range(options.jobs):
            trees.put(copied(Path(folder) / str(job)))

        if not options.trust:
            for place in dict.fromkeys(fault.file.partition("/")[0] for fault in faults):
                if said := _failure(WATCHING[place], Path(folder) / "0" / "tree", options.thorough):
                    print(f"the tests for {place} fail without any fault: {said}")
                    return 2

        def run(fault: Planted) -> Outcome:
            tree = trees.get()
            try:
                return tried(fault, tree, options.thorough)
            finally:
                trees.put(tree)

        outcomes = []
        for outcome in pool.map(run, faults):
            outcomes.append(outcome)
            print(f"{'found' if outcome.found else 'SURVIVES':8} {outcome.seconds:6.1f} s  {_told(outcome.fault)}", flush=True)
            print(f"    {outcome.found or ''}", flush=True)
    planted = [outcome for outcome in outcomes if outcome.seconds]
    survivors = [outcome for outcome in planted if not outcome.found]
    share = 1 - len(survivors) / max(1, len(planted))
    print(f"{len(planted)} faults planted, {len(survivors)} survive: {100 * share:.1f} % found, wanted {100 * WANTED:g} %")
    for outcome in survivors:
        print(f"  {_told(outcome.fault)}")
    return int(share < WANTED)


def _told(fault: Planted) -> str:
    return f"{fault.file}: {' '.join(fault.text.split())[:70]!r} -> {' '.join(fault.instead.split())[:40]!r}"


if __name__ == "__main__":
    raise SystemExit(main())
