"""Practice packs: folder and archive, whole or not at all, the same bytes, and nothing of a stranger's in the page but text."""

from __future__ import annotations

import hashlib
import json
import re
import zipfile
from dataclasses import replace
from functools import partial
from html.parser import HTMLParser
from io import BytesIO

import pytest
from click.testing import CliRunner
from pypdf import PdfReader

from sheetgen.bank import load_bank
from sheetgen.cli import main
from sheetgen.exercises import ASKED, Help, Length, Stage, kinds, making
from sheetgen.faults import Fault
from sheetgen.ink import packed, unpacked, write_pdf
from sheetgen.sets import FolderError, OutFolder, PlanError, WorkersError, local_workers
from sheetgen.sets.packs import Pack, load_pack
from sheetgen.sets.packs.site import hidden, plain
from sheetgen.sheet import settings_of
from tests import samples

PLAN = """\
title: Two rungs
about: To practise on.
school: EXAMPLEFORD SCHOOL
problems:
  - {family: slotted-wedge, seed: 2}
  - {family: stepped-block, seed: 7}
  - {family: corner-steps, seed: 1}
"""

ONE = PLAN.replace("  - {family: slotted-wedge, seed: 2}\n", "").replace("  - {family: corner-steps, seed: 1}\n", "")
"""Of one problem, for what has nothing to do with how many there are."""


def pack_in(folder, text=PLAN, bank=None, **options):
    folder.mkdir(parents=True, exist_ok=True)
    (folder / "plan.yaml").write_text(text, encoding="utf-8")
    read = load_pack(folder / "plan.yaml", bank or load_bank())
    return Pack(read, settings_of(read.plan.style), "1", **options)


def written(pack, out, executor=None):
    """Make a pack as the command does."""
    with OutFolder(out, pack.run, archived=True) as folder:
        fill(folder, pack, executor)
    return out


def fill(folder, pack, executor=None):
    """Make what is not made yet, and the files."""
    maker = pack.maker(folder.shelf)
    list(maker.run(executor))
    for name, document in pack.documents(maker):
        folder.add(name, partial(write_pdf, document))
    for name, content in pack.files(maker):
        folder.add(name, lambda file, content=content: file.write(content))
    folder.archive()


def piece_of(path):
    """What a script of data hands over."""
    text = path.read_text(encoding="utf-8")
    found = re.fullmatch(r'sheetgenPack\("([a-z0-9-]+)",(.*)\);\n', text)
    assert found and found[1] == path.stem
    return json.loads(found[2])


@pytest.fixture(scope="module")
def made(tmp_path_factory):
    home = tmp_path_factory.mktemp("pack")
    return written(pack_in(home), home / "out")


def test_problems_stand_rung_by_rung(made):
    pack = piece_of(made / "pack.js")
    assert [(one["number"], one["rung"], one["title"]) for one in pack["problems"]] == [
        (1, 1, "Stepped block"), (2, 1, "Corner stepped three ways"), (3, 2, "Slotted wedge")]
    assert [rung["title"] for rung in pack["rungs"]] == ["Rung 1: faces square to the axes", "Rung 2: inclined faces"]


def test_each_rung_has_its_books_and_the_page_knows_where_each_problem_stands(made):
    pack = piece_of(made / "pack.js")
    for one in pack["problems"]:
        for role, (book, page) in one["pages"].items():
            reader = PdfReader(made / pack["books"][book]["file"])
            text = reader.pages[page - 1].extract_text()
            assert one["title"] in text and one["code"] in text, role
            assert reader.metadata.title.startswith("Two rungs: ") and f"Rung {one['rung']}" in reader.metadata.title
    words = {"questions", "answers"} | {role.value for role in kinds()["views"].roles if role.value in ("construction", "hints")}
    assert {path.name for path in made.glob("*.pdf")} == {f"{word}-rung-{rung}.pdf" for word in words for rung in (1, 2)}


def test_the_archive_holds_the_folder_and_nothing_else_and_its_dates_say_nothing(made):
    with zipfile.ZipFile(made.with_name("out.zip")) as archive:
        assert archive.testzip() is None
        assert sorted(archive.namelist()) == sorted(f"out/{path.name}" for path in made.iterdir())
        assert {info.date_time for info in archive.infolist()} == {(2000, 1, 1, 0, 0, 0)}
        for info in archive.infolist():
            assert archive.read(info) == (made / info.filename.removeprefix("out/")).read_bytes()


def digests(folder):
    """Of all files of a pack."""
    archive = folder.with_name(f"{folder.name}.zip")
    files = {path.name: path.read_bytes() for path in (*folder.iterdir(), archive)}
    return {name: hashlib.sha256(content).hexdigest() for name, content in files.items()}


def test_the_same_plan_makes_the_same_bytes_whoever_works_at_it(made, tmp_path):
    with local_workers(2) as executor:
        assert digests(written(pack_in(tmp_path), tmp_path / "out", executor)) == digests(made)


def test_a_pack_whose_making_was_stopped_is_gone_on_with_and_comes_to_the_same(made, tmp_path):
    pack = pack_in(tmp_path)
    with pytest.raises(WorkersError), OutFolder(tmp_path / "out", pack.run, archived=True) as folder:
        next(iter(pack.maker(folder.shelf).run()))
        raise WorkersError([Fault("the workers", 0, "", "one that was lost", "another")])
    assert not (tmp_path / "out.zip").exists() and not (tmp_path / "out" / "index.html").exists()
    with OutFolder(tmp_path / "out", pack.run, archived=True) as folder:
        assert folder.taken_up
        assert list(pack.maker(folder.shelf).kept) == [1]
        fill(folder, pack)
    assert digests(tmp_path / "out") == digests(made)


def test_the_pictures_are_the_marks_of_the_sheets(made, tmp_path):
    pack = pack_in(tmp_path)
    with OutFolder(tmp_path / "out", pack.run) as folder:
        maker = pack.maker(folder.shelf)
        list(maker.run())
        pages = {(number, role.value): folder.shelf.sheets(number, role) for number in maker.kept for role in ASKED}
    sheet = piece_of(made / "sheet.js")["sheet"]
    for (number, role), sheets in pages.items():
        problem = piece_of(made / f"problem-{number}.js")
        for page, shown in zip(sheets, problem["pages"][role], strict=True):
            layers = [sheet, problem["common"], shown["rest"], shown["drawing"]]
            count = sum(len(unpacked(layer)) for layer in layers)
            inked = {packed([mark]) for mark in page.marks}                     # what is drawn twice is told once
            assert count == len(inked - {""})
            assert {packed([mark]) for layer in layers for mark in unpacked(layer)} == inked - {""}
            assert len(json.dumps([problem["common"], shown])) <= 8192


def test_what_is_small_is_small(made):
    first = sum((made / name).stat().st_size for name in ("index.html", "page.css", "page.js", "pack.js", "small-1.js"))
    assert first <= 150_000
    assert all(len(json.dumps(picture)) <= 700 for picture in piece_of(made / "small-1.js"))


class Reader(HTMLParser):
    """What a page is made of."""

    def __init__(self, text):
        super().__init__()
        self.tags, self.texts, self.scripts = [], [], []
        self.feed(text)

    def handle_starttag(self, tag, attrs):
        self.tags.append((tag, dict(attrs)))

    def handle_data(self, data):
        (self.scripts if self.tags and self.tags[-1][0] == "script" else self.texts).append(data)


def test_the_page_asks_for_nothing_from_elsewhere(made):
    page = Reader((made / "index.html").read_text(encoding="utf-8"))
    named = [attrs[key] for _, attrs in page.tags for key in ("src", "href") if key in attrs]
    assert named and all(name.startswith(("#", "data:,")) or (made / name).is_file() for name in named)
    policy = next(attrs["content"] for _, attrs in page.tags if attrs.get("http-equiv") == "Content-Security-Policy")
    assert "default-src 'none'" in policy and "http" not in policy and "unsafe-eval" not in policy


HOSTILE = "</script><img src=x onerror=alert(1)>\u2028&\"'"
BANK = """\
title: "{title}"
topics: [steps, "{topic}"]
rung: 1
sizes:
  width: {{from: 70, to: 90, step: 5}}
features:
  - {{add: block, name: base, x: [0, width], y: [0, 50], z: [0, 40]}}
  - {{cut: step, name: step, x: [width - 30, open], z: [18, open]}}
measures:
  - base.left to base.right
  - base.front to base.back
  - base.bottom to base.top
  - step.left to base.right
  - base.bottom to step.bottom
"""


@pytest.mark.parametrize("single", [False, True])
def test_titles_and_topics_of_strangers_are_text_and_nothing_more(tmp_path, single):
    written_title = "</script><img src=x onerror=alert(1)> & 'quoted'"
    (tmp_path / "ours").mkdir()
    (tmp_path / "ours" / "odd-block.yaml").write_text(
        BANK.format(title=written_title, topic="notches"), encoding="utf-8")
    plan = f"title: \"{written_title}\"\nabout: \"<script>alert(2)</script>\"\nbanks: [ours]\n" + (
        "problems:\n  - {family: odd-block, seed: 1}\n")
    out = written(pack_in(tmp_path, plan, single=single), tmp_path / "out")
    page = Reader((out / "index.html").read_text(encoding="utf-8"))
    assert {tag for tag, _ in page.tags} <= {
        "html", "head", "meta", "title", "link", "style", "body", "a", "header", "p", "h1", "h2", "main", "noscript", "section",
        "form", "div", "ul", "li", "span", "footer", "script"}
    assert written_title in page.texts and "<script>alert(2)</script>" in page.texts
    data = [text for text in page.scripts if text.startswith(("{", "["))] if single else [
        path.read_text(encoding="utf-8") for path in out.glob("*.js") if path.name not in ("page.js", "viewer.js")]
    assert data and not any("<" in text or "\u2028" in text for text in data)
    assert any("\\u003c/script\\u003e" in text for text in data)


def test_data_within_a_page_cannot_end_its_script():
    text = plain([HOSTILE])
    assert json.loads(text) == [HOSTILE] and text.isascii() and not set("<>&") & set(text)


def test_the_single_file_has_everything_in_it_and_no_script_but_those_that_its_policy_names(tmp_path):
    out = written(pack_in(tmp_path, single=True), tmp_path / "out")
    assert {path.suffix for path in out.iterdir()} == {".html", ".json", ".pdf"}
    text = (out / "index.html").read_text(encoding="utf-8")
    page = Reader(text)
    assert not [attrs for tag, attrs in page.tags if "src" in attrs or (tag == "link" and attrs["href"] != "data:,")]
    assert {attrs["data-piece"] for _, attrs in page.tags if "data-piece" in attrs} == {
        "pack", "sheet", "small-1", *(f"{what}-{n}" for what in ("problem", "solid") for n in (1, 2, 3))}
    assert "Permission is hereby granted" in text                # the licence of the viewer's library comes with it
    assert text.count("sha256-") == 2


def test_lengths_to_be_measured_do_not_show_at_a_glance():
    assert hidden(40.0, 0) != hidden(40.0, 1) and "40" not in str(hidden(40.0, 0))


@pytest.mark.parametrize(("line", "field", "wanted"), [
    ("class_list: ours.csv", "class_list", ""), ("about: Ж", "about", "letters"), ("kind: sculpture", "kind", "views"),
    ("about: \"" + "x" * 301 + "\"", "about", "300")])
def test_what_a_pack_cannot_have_is_told_with_its_line(tmp_path, line, field, wanted):
    with pytest.raises(PlanError) as told:
        pack_in(tmp_path, f"{line}\n{PLAN.replace('about: To practise on.', '')}")
    [fault] = told.value.faults
    assert (fault.line, fault.field) == (1, field) and wanted in fault.wanted


def test_a_line_may_ask_in_a_kind_of_its_own(tmp_path):
    pack = pack_in(tmp_path, PLAN.replace("seed: 7}", "seed: 7, kind: views}"))
    assert {job.kind for job in pack.jobs} == {"views"}
    with pytest.raises(PlanError, match="kind"):
        pack_in(tmp_path, PLAN.replace("seed: 7}", "seed: 7, kind: sculpture}"))


def test_help_that_a_kind_has_is_in_the_page(tmp_path, monkeypatch):
    views = kinds()["views"]

    def helped(problem, settings, task):
        marks = tuple(task.drawing.marks)[:5]
        return Help(("Draw it.",), (Stage(marks, "The boxes", ("Draw three boxes.",), marks[:2]),), (("Look.", "And think."),),
                    (Length("How wide it is", 80.0),))

    monkeypatch.setattr(making, "kinds", lambda: {"views": replace(views, help=helped)})
    one = piece_of(written(pack_in(tmp_path, ONE), tmp_path / "out") / "problem-1.js")
    assert one["task"] == ["Draw it."] and one["hints"] == [["Look.", "And think."]]
    assert one["lengths"] == [["How wide it is", hidden(80.0, 0)]]
    [[picture, heading, sentences, thin]] = one["stages"]
    assert len(unpacked(picture)) == 5 and heading == "The boxes" and sentences == ["Draw three boxes."] and len(picture) <= 2048
    assert len(unpacked(thin)) == 2


def run(*words):
    return CliRunner().invoke(main, [str(word) for word in words])


def test_the_command_makes_page_and_archive_and_a_smaller_pack_leaves_nothing_of_a_larger_one(tmp_path):
    plan = tmp_path / "plan.yaml"
    plan.write_text(PLAN, encoding="utf-8")
    told = run("pack", plan, "--out", tmp_path / "out")
    assert told.exit_code == 0, told.output
    assert re.search("^3 problems, [0-9]+ PDF files: ", told.output, re.M) and "out.zip" in told.output
    (tmp_path / "out" / "notes.txt").write_text("mine", encoding="utf-8")
    plan.write_text(PLAN.replace("  - {family: slotted-wedge, seed: 2}\n", ""), encoding="utf-8")
    assert run("pack", plan, "--out", tmp_path / "out").exit_code == 0
    left = {path.name for path in (tmp_path / "out").iterdir()}
    assert not left & {"questions-rung-2.pdf", "answers-rung-2.pdf", "problem-3.js", "solid-3.js"}
    assert {"notes.txt", "problem-2.js", "index.html"} <= left and ".sheetgen-work" not in left
    assert run("pack", plan, "--out", tmp_path / "out", "--no-overwrite").exit_code == 2


def test_no_record_of_a_stranger_has_files_taken_away_that_no_pack_has(tmp_path):
    out = tmp_path / "out"
    out.mkdir()
    for name in ("thesis.pdf", "problem-99.js"):
        (out / name).write_text("mine", encoding="utf-8")
    (tmp_path / "secret.pdf").write_text("mine", encoding="utf-8")
    record = {"sheetgen": "pack", "files": ["thesis.pdf", "../secret.pdf", "problem-99.js", 7, "/etc/passwd"]}
    (out / "pack.json").write_text(json.dumps(record), encoding="utf-8")
    (tmp_path / "plan.yaml").write_text(ONE, encoding="utf-8")
    assert run("pack", tmp_path / "plan.yaml", "--out", out).exit_code == 0
    assert (out / "thesis.pdf").exists() and (tmp_path / "secret.pdf").exists() and not (out / "problem-99.js").exists()


def test_where_no_archive_can_stand_beside_the_folder_nothing_is_made(tmp_path):
    (tmp_path / "out.zip").mkdir()
    with pytest.raises(FolderError, match=r"out\.zip"):
        written(pack_in(tmp_path), tmp_path / "out")
    assert not (tmp_path / "out").exists()


def test_an_archive_of_somebody_elses_is_never_replaced(tmp_path):
    with zipfile.ZipFile(tmp_path / "photos.zip", "w") as archive:
        archive.writestr("photos/1.jpg", b"mine")
    before = (tmp_path / "photos.zip").read_bytes()
    (tmp_path / "plan.yaml").write_text(PLAN, encoding="utf-8")
    told = run("pack", tmp_path / "plan.yaml", "--out", tmp_path / "photos")
    assert told.exit_code == 2 and "photos.zip" in told.output and (tmp_path / "photos.zip").read_bytes() == before


def test_a_list_leads_to_the_packs_within_its_folder(tmp_path):
    plan = tmp_path / "plan.yaml"
    plan.write_text(ONE.replace("title: Two rungs", "title: \"A <b>bold</b> pack\""), encoding="utf-8")
    assert run("pack", plan, "--out", tmp_path / "web" / "first one").exit_code == 0
    (tmp_path / "web" / "second").mkdir()
    record = {"sheetgen": "pack", "title": HOSTILE, "topics": [HOSTILE, 3], "rungs": [1, "x", 9], "problems": "many"}
    (tmp_path / "web" / "second" / "pack.json").write_text(json.dumps(record), encoding="utf-8")
    (tmp_path / "web" / "second" / "index.html").write_text("", encoding="utf-8")
    told = run("pack", "--list", *sorted((tmp_path / "web").iterdir()), "--out", tmp_path / "web")
    assert told.exit_code == 0 and "2 packs: " in told.output
    page = Reader((tmp_path / "web" / "index.html").read_text(encoding="utf-8"))
    assert [attrs["href"] for tag, attrs in page.tags if tag == "a"] == ["first%20one/index.html", "second/index.html"]
    assert "A <b>bold</b> pack" in page.texts and "img" not in {tag for tag, _ in page.tags}
    assert sum(tag == "script" for tag, _ in page.tags) == 1


@pytest.mark.parametrize(("words", "wanted"), [
    (["--list"], "folders of packs"), (["--list", "nowhere", "--out", "."], "nowhere"),
    (["--list", "..", "--out", "."], "within"),
    (["one.yaml", "two.yaml"], "one plan"), (["--single-file", "--list", "x"], "one pack")])
def test_what_the_command_cannot_do_is_told(tmp_path, monkeypatch, words, wanted):
    monkeypatch.chdir(tmp_path)
    told = run("pack", *words)
    assert told.exit_code == 2 and wanted in told.output


def test_a_page_without_scripts_still_leads_to_its_files(made):
    page = Reader((made / "index.html").read_text(encoding="utf-8"))
    links = [attrs["href"] for tag, attrs in page.tags if tag == "a" and attrs["href"].endswith(".pdf")]
    assert sorted(links) == sorted(path.name for path in made.glob("*.pdf"))
    assert PdfReader(BytesIO((made / links[0]).read_bytes())).pages


def test_each_line_takes_families_that_serve_the_kind_that_it_names(tmp_path):
    bank = load_bank(samples.bank_of(tmp_path / "bank", clipped=samples.CLIPPED, step=samples.STEP))
    (tmp_path / "plan.yaml").write_text(
        "problems:\n  - {topic: steps, count: 2}\n  - {topic: steps, count: 2, first_seed: 9, kind: third-view}\n",
        encoding="utf-8")
    entries = load_pack(tmp_path / "plan.yaml", bank).plan.entries
    assert sorted((entry.kind, entry.family) for entry in entries) == [
        ("", "clipped"), ("", "step"), ("third-view", "step"), ("third-view", "step")]
