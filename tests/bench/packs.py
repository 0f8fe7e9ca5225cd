"""A pack of 60 problems: seconds to make it, megabytes of it, and how soon its first page can be used. Nothing is asserted.

    python tests/bench/packs.py [--problems 60] [--jobs 2] [--no-browser]

The pack is made by the command line in a process of its own, as a folder and as a single file; kB are those of files as they lie
there, not compressed, because a plain server sends them so. The first page is opened in the browser of the page checks, over a
network of 1.6 Mbit/s with 150 ms there and back and a processor slowed four times; what is told is when the first problem can be
opened, and what had been sent by then.
"""

from __future__ import annotations

import argparse
import os
import shutil
import subprocess
import sys
import tempfile
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT))

SLOW = {"offline": False, "latency": 150, "downloadThroughput": 1_600_000 / 8, "uploadThroughput": 750_000 / 8}
"""A telephone on a poor day: bytes a second, ms."""


def plan_of(count: int) -> str:
    """A plan with problems of all rungs."""
    lines = "".join(f"  - {{rung: {rung}, count: {count // 5 + (rung <= count % 5)}}}\n" for rung in range(1, 6))
    return f"title: A pack of {count}\nproblems:\n{lines}"


def made(folder: Path, jobs: int, *words: str) -> tuple[float, float]:
    """Make a pack; seconds by the clock, and of all processors."""
    start, before = time.perf_counter(), os.times()
    subprocess.run([sys.executable, "-m", "sheetgen", "pack", "plan.yaml", "--quiet", "--jobs", str(jobs), *words],
                   cwd=folder, check=True, env={**os.environ, "PYTHONPATH": str(ROOT)})
    after = os.times()
    return time.perf_counter() - start, sum(after[2:4]) - sum(before[2:4])


def tell_sizes(folder: Path) -> None:
    """Kilobytes of what a pack has."""
    def kb(*patterns: str) -> list[float]:
        return [path.stat().st_size / 1000 for pattern in patterns for path in folder.glob(pattern)]

    first = sum(kb("index.html", "page.css", "page.js", "pack.js", "small-1.js"))
    print(f"first page {first:.0f} kB; viewer {sum(kb('viewer.js')):.0f} kB; sheet {sum(kb('sheet.js')):.0f} kB")
    for name in ("problem-*.js", "solid-*.js"):
        sizes = sorted(kb(name))
        print(f"{name}: {len(sizes)}, middle {sizes[len(sizes) // 2]:.1f} kB, largest {sizes[-1]:.1f} kB")
    print(f"PDF files {sum(kb('*.pdf')):.0f} kB; folder {sum(kb('*')) / 1000:.2f} MB; archive "
          f"{folder.with_name(folder.name + '.zip').stat().st_size / 1e6:.2f} MB")


def tell_first_use(folder: Path) -> None:
    """How soon the first page can be used."""
    from playwright.sync_api import sync_playwright

    from tests.pages.packs import served

    path = os.environ.get("BROWSER_PATH") or shutil.which("chromium")
    with served(folder) as address, sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=path, args=["--no-sandbox"])
        for _ in range(3):
            context = browser.new_context(viewport={"width": 360, "height": 740})
            page, sent = context.new_page(), []
            page.on("response", lambda response, sent=sent: sent.append(int(response.headers.get("content-length", 0))))
            session = context.new_cdp_session(page)
            session.send("Network.enable")
            session.send("Network.emulateNetworkConditions", SLOW)
            session.send("Emulation.setCPUThrottlingRate", {"rate": 4})
            start = time.perf_counter()
            page.goto(address, wait_until="commit")
            page.wait_for_selector("body.ready .card a")
            usable = time.perf_counter() - start
            page.wait_for_selector(".card svg path", state="attached")
            print(f"usable after {usable:.2f} s, first picture after {time.perf_counter() - start:.2f} s, "
                  f"{sum(sent) / 1000:.0f} kB sent in {len(sent)} answers")
            context.close()
        browser.close()


def main() -> None:
    reader = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    reader.add_argument("--problems", type=int, default=60)
    reader.add_argument("--jobs", type=int, default=2)
    reader.add_argument("--no-browser", action="store_true")
    asked = reader.parse_args()
    with tempfile.TemporaryDirectory() as place:
        folder = Path(place)
        (folder / "plan.yaml").write_text(plan_of(asked.problems), encoding="utf-8")
        clock, processor = made(folder, asked.jobs, "--out", "pack")
        print(f"{asked.problems} problems: {clock:.1f} s by the clock with {asked.jobs} workers, {processor:.1f} s of processors")
        tell_sizes(folder / "pack")
        made(folder, asked.jobs, "--single-file", "--out", "single")
        print(f"single file {(folder / 'single' / 'index.html').stat().st_size / 1e6:.2f} MB")
        if not asked.no_browser:
            tell_first_use(folder / "pack")


if __name__ == "__main__":
    main()
