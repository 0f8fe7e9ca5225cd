"""Family files that are hostile, mistaken or only odd, each in its own way: all are told soon, in plain lines."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

import pytest
from click.testing import CliRunner

from sheetgen.cli import main
from tests.bank.samples import BLOCK, changed

BROKEN = Path(__file__).parent / "broken"
SOUND = {"combining-marks", "four-byte-signs", "template-in-about", "template-in-the-title", "windows-line-ends"}
"""Odd, but what a teacher may write."""
WHOLE = {"empty", "falls-apart", "nothing-left", "picture", "ten-megabytes"}
"""No one line is at fault."""
SECONDS, MEGABYTES = 2.0, 500.0

LONGEST_SUM = "+".join("w" * 28)
GENERATED = {
    "ten-thousand-brackets": "[" * 10_000, "ten-thousand-braces": "a: " + "{b: " * 10_000,
    "ten-megabytes": "# " + "x" * 10_000_000,
    "thousands-of-features": changed(BLOCK, ("measures:", "  - {add: block, name: p}\n" * 6_000 + "measures:")),
    "thousands-of-measures": BLOCK + "  - base.left to base.right\n" * 6_000,
    "sums-as-long-as-can-be": changed(BLOCK, ("features:", "\n".join([
        "  w: {from: 1, to: 1000, step: 1}", "values:", *(f"  v{k}: {LONGEST_SUM}" for k in range(40)),
        "rules:", *(f"  - {LONGEST_SUM} < {k}" for k in range(40)), "features:"]))),
    "holes-as-large-as-can-be": changed(BLOCK, ("measures:", "".join(
        f"  - {{cut: hole, name: h{k}, mouth: top, at: [{', '.join(f'[{j}, {k}]' for j in range(40))}], diameter: 9999}}\n"
        for k in range(59)) + "measures:")),
}
TOLD = {
    "a-sieve": ":9: features[3] h1: found there are too many round faces",
    "a-thousand-million-steps": ":5: sizes.width: found 500 of 500 choices of sizes refused: 999999001 steps",
    "alias-bomb": ":3: found an anchor &'a'",
    "anchor-of-itself": ":2: found an anchor &'loop'",
    "attribute-access": ":5: sizes.width.from: found ')' at column 2",
    "bidi-title": r":1: title: found 'Plain \u202ekcolb'",
    "call-of-a-module": ":5: sizes.width.to: found '__import__(' at column 1",
    "cyclic-values": ":7: values.a: found 'b'",
    "deep-brackets-in-a-formula": ":7: values.v: found more than 20 brackets",
    "division-by-zero": ":7: values.v: found 500 of 500 choices of sizes refused: a division by 0",
    "duplicate-keys": ":8: found 'sizes' a second time",
    "empty": ": found an empty file",
    "falls-apart": ": features: found the solid falls",
    "huge-part": ":8: features[2] giant: diameter: found 999999, wanted at most 10000",
    "latin-1": ":1: found a letter that is not UTF-8",
    "list-at-the-top": ":1: found a list of 2",
    "lone-surrogate": ":1: found something that YAML cannot read",
    "many-minus-signs": ":7: values.v: found too many minus signs",
    "measure-of-a-missing-feature": ":9: measures[1]: found 'bsae', wanted base",
    "merge-key": ":8: features[2]: found a merge key <<",
    "name-with-a-path": ":7: values./etc/passwd: found '/etc/passwd'",
    "not-a-number": ":5: sizes.width.from: found '.' at column 1 of '.nan'",
    "nothing-left": ": features: found the features leave nothing",
    "nul-escape": r":1: title: found 'Plain\x00block'",
    "number-of-1e308": ":5: sizes.width.to: found 'e308' at column 2",
    "number-of-400-digits": ":5: sizes.width.to: found 400 characters",
    "picture": ": found a picture, wanted a .yaml file",
    "python-object": ":1: found a tag 'tag:yaml.org,2002:python/object/apply:os.system'",
    "raw-nul": r":1: found an invisible sign '\x00'",
    "rule-never-kept": ":7: rules[1]: found 500 of 500 choices of sizes refused",
    "side-that-is-cut-away":
        ":10: measures `base.left to base.right`: found nothing is left of the side base.right: low in line 8",
    "step-of-a-nanometre": ":5: sizes.width: found 500 of 500 choices of sizes refused: a step of 1e-09",
    "tabs": ":3: found a tab",
    "tower-of-powers": ":7: values.v: found '**' at column 2",
    "two-documents": ":10: found a second document",
    "unknown-fields": ":6: colour: found an unknown field 'colour'",
    "utf-16": ":1: found a letter that is not UTF-8",
    "very-long-key": ":6: kkkkkkkk",
    "very-long-title": ":1: title: found 5000 characters",
    "wrong-types": ":1: title: found a list of 1",
    "zero-width-space": r":8: features[2] ga\u200bp: name: found 'ga\u200bp'",
    "ten-thousand-brackets": ":1: found more than 12 levels",
    "ten-thousand-braces": ":1: found more than 12 levels",
    "ten-megabytes": ": found a file of more than 200 kB",
    "thousands-of-features": ":4004: found more than 20000 entries",
    "thousands-of-measures": ":13: measures: found a list of 6001",
    "sums-as-long-as-can-be": ":50: rules[1]: found 500 of 500 choices of sizes refused",
    "holes-as-large-as-can-be": ":13: features[2] h0: found there are too many round faces",
}


@pytest.fixture(scope="module")
def outcomes(tmp_path_factory):
    """Name of each file -> what was told of it and how long it took; and the memory that all of them took."""
    folder = tmp_path_factory.mktemp("generated")
    for name, text in GENERATED.items():
        (folder / f"{name}.yaml").write_text(text, encoding="utf-8")
    paths = sorted([*BROKEN.glob("*.yaml"), *folder.iterdir()])
    done = subprocess.run([sys.executable, "-m", "tests.bank.outcome", *map(str, paths)], cwd=Path(__file__).parents[2],
                          check=True, capture_output=True, text=True, timeout=300)
    *found, megabytes = json.loads(done.stdout)
    return {path.stem: outcome for path, outcome in zip(paths, found, strict=True)}, megabytes


def test_every_file_is_spoken_of_here():
    assert {path.stem for path in BROKEN.glob("*.yaml")} | set(GENERATED) == SOUND | set(TOLD)


@pytest.mark.parametrize("name", sorted(TOLD))
def test_a_broken_file_is_told_by_name_and_line_in_lines_that_can_be_printed(outcomes, name):
    lines, _ = outcomes[0][name]
    assert lines[0].startswith(f"{name}.yaml{TOLD[name]}")
    for line in lines:
        place = line.removeprefix(f"{name}.yaml:")
        assert (place[0].isdigit() and not place.startswith("0:")) or name in WHOLE, line
        assert " found " in line and ", wanted " in line and line.isprintable() and len(line) < 500, line


@pytest.mark.parametrize("name", sorted(SOUND))
def test_what_is_only_odd_can_be_used(outcomes, name):
    assert outcomes[0][name][0] == []


def test_no_file_takes_long_or_much_memory(outcomes):
    found, megabytes = outcomes
    assert not {name: seconds for name, (_, seconds) in found.items() if seconds > SECONDS}
    assert megabytes < MEGABYTES


@pytest.mark.parametrize("name", [
    "alias-bomb", "python-object", "latin-1", "utf-16", "empty", "rule-never-kept", "falls-apart", "four-byte-signs",
    "huge-part"])
def test_the_command_line_tells_a_broken_file_and_writes_nothing(tmp_path, name):
    outcome = CliRunner().invoke(main, ["sheet", str(BROKEN / f"{name}.yaml"), "--seed", "1", "--out", str(tmp_path / "out")])
    assert outcome.exit_code == 2
    assert outcome.stdout == "" and " found " in outcome.stderr and "Traceback" not in outcome.stderr
    assert not (tmp_path / "out").exists() or not list((tmp_path / "out").iterdir())
