"""One house for all tests: every package is imported the ordinary way before pytest collects; and any order can be tried.

Doctests are collected by file. Where a package imports a module of its own that pytest is about to load, pytest would load it a
second time, and its classes would be others than those that tests import.
"""

from __future__ import annotations

import importlib
import pkgutil
import random

import pytest

import sheetgen

for _found in pkgutil.walk_packages(sheetgen.__path__, "sheetgen."):
    if _found.ispkg:
        importlib.import_module(_found.name)


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption("--shuffle", type=int, metavar="N", help="run the tests in an order drawn from N: none may lean on another")


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    number = config.getoption("--shuffle")
    if number is not None:
        random.Random(number).shuffle(items)
