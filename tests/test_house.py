"""The house itself: which folder may import which, and that what is installed is whole."""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
import sysconfig
import tarfile
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent


def run(*words, **options):
    """Run a program; its output, whatever way it ends."""
    done = subprocess.run([str(word) for word in words], capture_output=True, text=True, check=False, **options)
    assert done.returncode == 0, done.stdout + done.stderr
    return done.stdout


def test_work_flows_one_way_through_the_folders():
    """The import contract of pyproject.toml."""
    said = run(sys.executable, "-c", "from importlinter.cli import lint_imports_command as c; c()", "--no-cache", cwd=ROOT)
    assert "work flows one way KEPT" in said


@pytest.mark.parametrize("tests", [
    ("sheetgen/sheet/layout.py", "tests/outside/test_placement.py", "-k", "smallest_scale or layout"),
    ("sheetgen/refusals.py", "sheetgen/placing/search.py", "tests/exercises/test_drawing.py"),
    ("tests/placing/test_weights.py", "sheetgen/placing/weights.py", "--shuffle", "3"),
])
def test_any_tests_can_be_run_with_any_doctests_in_any_order(tests):
    """A module that pytest loads a second time has classes of its own, which no ``except`` knows."""
    run(sys.executable, "-m", "pytest", "-q", "-p", "no:cacheprovider", *tests, cwd=ROOT)


@pytest.fixture(scope="module")
def installed(tmp_path_factory):
    """The ``bin`` folder of a fresh environment that has the wheel, and everything else from here."""
    folder = tmp_path_factory.mktemp("wheel")
    run(sys.executable, "-m", "build", "--wheel", "--no-isolation", "--outdir", folder, ROOT)
    [wheel] = folder.glob("*.whl")
    run(sys.executable, "-m", "venv", "--without-pip", folder / "venv")
    python = folder / "venv" / "bin" / "python"
    run(sys.executable, "-m", "pip", "--python", python, "install", "--quiet", "--no-deps", "--no-index", wheel)
    library = Path(run(python, "-c", "import sysconfig; print(sysconfig.get_path('purelib'))").strip())
    (library / "beside.pth").write_text(f"{sysconfig.get_path('purelib')}\n{sysconfig.get_path('platlib')}\n", encoding="utf-8")
    return python.parent


def elsewhere(folder):
    """Options for a program that must not find the checkout."""
    return {"cwd": folder, "env": {name: value for name, value in os.environ.items() if name != "PYTHONPATH"}}


def test_the_installed_command_makes_a_sheet_in_another_folder(installed, tmp_path):
    place = run(installed / "python", "-c", "import sheetgen; print(sheetgen.__file__)", **elsewhere(tmp_path)).strip()
    assert Path(place).is_relative_to(installed.parent)
    run(installed / "sheetgen", "sheet", "stepped-block", "--seed", "7", **elsewhere(tmp_path))
    assert sorted(path.name for path in (tmp_path / "output").iterdir()) == [
        "stepped-block-7-answer.pdf", "stepped-block-7-question.pdf"]


def test_families_and_templates_put_into_the_checkout_are_found_after_the_readmes_own_install(tmp_path):
    """The README installs the folder as it is (``-e``), and the program looks beside itself."""
    assert ".venv/bin/pip install -q -e . &&" in (ROOT / "README.md").read_text(encoding="utf-8")
    for name in ("sheetgen", "problem_bank", "templates"):
        shutil.copytree(ROOT / name, tmp_path / name, ignore=shutil.ignore_patterns("__pycache__"))
    shutil.copy(ROOT / "docs" / "steps" / "step-7.yaml", tmp_path / "problem_bank" / "our-stop.yaml")
    shutil.copy(ROOT / "templates" / "title_blocks" / "quarry.yaml", tmp_path / "templates" / "title_blocks" / "ours.yaml")
    run(sys.executable, "-m", "sheetgen", "sheet", "our-stop", "--title-block", "ours", cwd=tmp_path,
        env={**os.environ, "PYTHONPATH": f"{tmp_path}{os.pathsep}{os.environ.get('PYTHONPATH', '')}"})
    assert len(list((tmp_path / "output").glob("our-stop-1-*.pdf"))) == 2


LINKED = re.compile(r"\]\(([^)#:]+)\)")


def test_what_the_readme_names_comes_with_the_source(tmp_path):
    run(sys.executable, "-m", "build", "--sdist", "--no-isolation", "--outdir", tmp_path, ROOT)
    [place] = tmp_path.glob("*.tar.gz")
    with tarfile.open(place) as archive:
        names = {name.partition("/")[2] for name in archive.getnames()}
        about = archive.extractfile(f"{place.name.removesuffix('.tar.gz')}/PKG-INFO").read().decode()
    links = LINKED.findall((ROOT / "README.md").read_text(encoding="utf-8"))
    assert len(links) >= 8 and {"check", "conftest.py", "tests/test_house.py"} <= names
    for link in links:
        assert link in names or any(name.startswith(f"{link}/") for name in names), link
    assert "Classifier: Topic :: Education\n" in about and "Keywords: " in about and "Project-URL" not in about


def test_the_wheel_holds_the_guides_and_files_to_begin_with(installed, tmp_path):
    code = "from sheetgen.shared import shipped\nprint(shipped('docs'))"
    place = Path(run(installed / "python", "-c", code, **elsewhere(tmp_path)).strip())
    assert {path.name for path in place.glob("*.md")} == {path.name for path in (ROOT / "docs").glob("*.md")}
    run(installed / "sheetgen", "new", "plan", "ours.yaml", **elsewhere(tmp_path))
    assert (tmp_path / "ours.yaml").read_bytes() == (ROOT / "templates" / "start" / "plan.yaml").read_bytes()


def test_the_wheel_holds_every_family_and_every_template(installed, tmp_path):
    code = "from sheetgen.shared import shipped\nfor n in ('problem_bank', 'templates'): print(shipped(n))"
    for place in map(Path, run(installed / "python", "-c", code, **elsewhere(tmp_path)).split()):
        assert place.is_relative_to(installed.parent)
        found = {path.relative_to(place) for path in place.rglob("*.yaml")}
        assert found == {path.relative_to(ROOT / place.name) for path in (ROOT / place.name).rglob("*.yaml")}


def test_the_wheel_holds_the_page_of_packs(installed, tmp_path):
    code = "import sheetgen, pathlib\nprint(pathlib.Path(sheetgen.__file__).parent / 'sets' / 'packs' / 'page')"
    place = Path(run(installed / "python", "-c", code, **elsewhere(tmp_path)).strip())
    assert place.is_relative_to(installed.parent)
    assert {path.name for path in place.iterdir()} == {path.name for path in (ROOT / "sheetgen/sets/packs/page").iterdir()}
    (tmp_path / "plan.yaml").write_text("problems: [{family: stepped-block, seed: 7}]", encoding="utf-8")
    run(installed / "sheetgen", "pack", "plan.yaml", "--out", "pack", **elsewhere(tmp_path))
    assert (tmp_path / "pack" / "index.html").is_file() and (tmp_path / "pack.zip").is_file()
