"""A browser for the checks of pages: Debian's chromium, or the one that BROWSER_PATH names. Without one they fail, not skip."""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, Playwright, sync_playwright

PLAIN = (
    "--no-sandbox", "--disable-gpu", "--disable-background-networking", "--disable-component-update", "--disable-sync",
    "--no-first-run",
)
"""A browser that asks for nothing of its own accord."""

IN_SOFTWARE = ("--use-angle=swiftshader", "--enable-unsafe-swiftshader")
"""Solids drawn without a graphics card."""

NO_SOLIDS = ("--disable-3d-apis",)
"""A browser that cannot draw any."""

OF_THE_MACHINE = ("GPU stall due to ReadPixels", "software WebGL")
"""What the browser says of drawing in software, and of the taking of pictures by these checks: no word of a page's."""


def browser_path() -> str:
    """Where the browser is."""
    found = os.environ.get("BROWSER_PATH") or shutil.which("chromium")
    assert found, "no browser: ./check-pages installs one"
    return found


@contextmanager
def browser_of(playwright: Playwright, *flags: str) -> Iterator[Browser]:
    """A fresh browser with an empty folder of its own."""
    browser = playwright.chromium.launch(executable_path=browser_path(), args=[*PLAIN, *flags])
    try:
        yield browser
    finally:
        browser.close()


@pytest.fixture(scope="session")
def playwright() -> Iterator[Playwright]:
    with sync_playwright() as started:
        yield started


@pytest.fixture(scope="session")
def browser(playwright: Playwright) -> Iterator[Browser]:
    """A browser that draws solids."""
    with browser_of(playwright, *IN_SOFTWARE) as started:
        yield started


@pytest.fixture(scope="session")
def browser_without_solids(playwright: Playwright) -> Iterator[Browser]:
    """One that does not."""
    with browser_of(playwright, *NO_SOLIDS) as started:
        yield started


class Opened:
    """Pages opened from a folder, and what they did that they should not: ``faults``, and ``requests`` that left the folder."""

    def __init__(self) -> None:
        self.faults: list[str] = []
        self.requests: list[str] = []
        self._contexts = []

    def open(self, browser: Browser, path: Path, *, width: int = 1440, height: int = 900, **options) -> Page:
        """The page in the file ``path`` in a window of ``width`` by ``height`` CSS pixels; options: those of a context."""
        context = browser.new_context(viewport={"width": width, "height": height}, **options)
        self._contexts.append(context)
        page = context.new_page()
        own = path.parent.as_uri() + "/"
        page.on("request", lambda request: self._notice(request.url, own))
        page.on("pageerror", lambda error: self.faults.append(str(error)))
        page.on("console", lambda said: self._hear(said.type, said.text))
        page.goto(path.as_uri())
        return page

    def _notice(self, url: str, own: str) -> None:
        if not url.startswith((own, "data:", "blob:")):
            self.requests.append(url)

    def _hear(self, kind: str, text: str) -> None:
        if kind in ("error", "warning") and not any(words in text for words in OF_THE_MACHINE):
            self.faults.append(f"{kind}: {text}")

    def close(self) -> None:
        for context in self._contexts:
            context.close()


@pytest.fixture
def opened() -> Iterator[Opened]:
    """Open pages with it; at the end none has complained, or asked for anything outside its folder."""
    pages = Opened()
    yield pages
    pages.close()
    assert pages.faults == []
    assert pages.requests == []
