"""One house for all tests: every package is imported the ordinary way before pytest collects; and any order can be tried.

Doctests are collected by file. Where a package imports a module of its own that pytest is about to load, pytest would load it a
second time, and its classes would be others than those that tests import.
"""

from __future__ import annotations

import importlib
import os
import pkgutil
import random
from collections import defaultdict
from tempfile import TemporaryDirectory

import pytest

import sheetgen

for _found in pkgutil.walk_packages(sheetgen.__path__, "sheetgen."):
    if _found.ispkg:
        importlib.import_module(_found.name)


MANY = 20
"""Cases of a test that runs over families, not over examples worked by hand."""

LONG = ("tests/sets/", "tests/outside/", "tests/cli/", "tests/vetting/")
"""Where whole files are made, which takes long: these tests come first, so that of two workers none has them left at the end."""


def pytest_configure(config: pytest.Config) -> None:
    """A cache folder of the tests' own, from the first import on: they neither lean on the user's nor leave anything in it."""
    folder = TemporaryDirectory(prefix="sheetgen-tests-")
    config.add_cleanup(folder.cleanup)
    os.environ["XDG_CACHE_HOME"] = folder.name


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption("--shuffle", type=int, metavar="N", help="run the tests in an order drawn from N: none may lean on another")
    parser.addoption("--each", type=int, metavar="N", help="of a test of many cases run only each Nth")


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    if each := config.getoption("--each"):
        cases = defaultdict[str, list[pytest.Item]](list)
        for item in items:
            cases[item.nodeid.partition("[")[0]].append(item)
        kept = {id(item) for several in cases.values() for item in several[::each if len(several) > MANY else 1]}
        items[:] = [item for item in items if id(item) in kept]
    number = config.getoption("--shuffle")
    if number is None:
        items.sort(key=lambda item: not item.nodeid.startswith(LONG))
    else:
        random.Random(number).shuffle(items)
