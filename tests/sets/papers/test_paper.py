"""A paper from plan to PDFs, and what is made of its record."""

from __future__ import annotations

import json
import os
import re
import shutil
import signal
import sys
from io import BytesIO

import pytest
import zxingcpp
from PIL import ImageFilter
from pypdf import PdfReader

from sheetgen.bank import load_bank
from sheetgen.sets.folder import WORK
from sheetgen.sets.papers.record import load_record
from sheetgen.sets.papers.secret import load_key
from tests import samples
from tests.sets.papers.mock import BLOCKS, CODE, LIST, WEDGE, codes, in_the_corner, invoke, long, pages, paper, printed, streams
from tests.stops import Trial


@pytest.fixture(scope="module")
def made(tmp_path_factory):
    """A paper."""
    return printed(tmp_path_factory)


@pytest.fixture(scope="module", params=list(BLOCKS))
def either(request, made, tmp_path_factory):
    """A paper in each wording."""
    return made if request.param == "en" else printed(tmp_path_factory, wording=request.param)


def test_every_candidate_has_a_question_and_an_answer_of_each_item_with_number_seat_and_code(either):
    questions, answers = pages(either), pages(either, "answers.pdf")
    assert len(questions) == len(answers) == 12
    seats = ["1-1", "1-2", "1-3", "2-1", "2-3", "3-1"]
    for n, text in enumerate(zip(questions, answers, strict=True)):
        for page in text:
            assert f"{21 + n // 2}, seat {seats[n // 2]}" in page.replace("\n", " ")
            assert LIST.splitlines()[1 + n // 2].partition(",")[2] in page.replace("\n", " ")
            assert "mock paper" in page.lower() and f"Item {1 + n % 2}: " in page
            assert ("10 marks, 20 minutes" in page, "15 marks" in page) == (n % 2 == 0, n % 2 == 1)
    assert codes(either) == codes(either, "answers.pdf") and len(set(codes(either))) == 12


def test_the_code_of_every_sheet_is_read_from_a_scan(either):
    import pypdfium2

    for name in ("questions.pdf", "answers.pdf"):
        document = pypdfium2.PdfDocument(BytesIO((either / "out" / name).read_bytes()))
        for page, code in zip(document, codes(either, name), strict=True):
            picture = page.render(scale=150 / 72, grayscale=True).to_pil().rotate(1.5, fillcolor=255)
            read = zxingcpp.read_barcodes(picture.filter(ImageFilter.GaussianBlur(1.0)), formats=zxingcpp.BarcodeFormat.QRCode)
            assert [found.text for found in read] == [code.replace("-", "")]


def test_nothing_but_the_drawing_tells_family_seed_or_draw(made):
    """Whatever a file says of itself, its bookmarks and what the title block says, with the drawing's own words taken out."""
    key, record = load_key(made / "our.key"), load_record(made / "out" / "record.json", load_key(made / "our.key"))
    bits = re.search(r"[0-9a-f]{64}", (made / "our.key").read_text())[0]
    for name in ("questions.pdf", "answers.pdf"):
        raw = (made / "out" / name).read_bytes()
        reader = PdfReader(made / "out" / name)
        assert [mark["/Title"] for mark in reader.outline] == LIST.replace(",", " ").splitlines()[1:]
        for page in reader.pages:
            assert set(page) <= {"/Type", "/Parent", "/MediaBox", "/Contents", "/Resources", "/Rotate", "/Trans"}
        corners = in_the_corner(made, name)
        told = [*map(str, reader.metadata.values()), *(word for corner in corners for word in corner)]
        assert not re.search("step|slot|plain|seed|draw[^i]", " ".join(told).lower())
        assert bits.encode() not in raw and bytes.fromhex(bits) not in raw
        for place, corner in enumerate(corners):            # of two candidates the same, but for what is their own
            other = corners[place % 2]
            own = {*codes(made, name), *LIST.replace(",", " ").split()}
            assert _shared(corner, own) == _shared(other, own)
    assert not re.search(r"Ada|Brook|Sample|Specimen", json.dumps(record.said))
    text = (made / "out" / "record.json").read_text(encoding="utf-8")
    assert bits not in text and "Brook" not in text
    for candidate, lots in record.given.items():
        for item, index in enumerate(lots, 1):
            from sheetgen.sets.papers.decided import seed_of

            family = record.said["items"][item - 1]["families"][0]
            assert str(seed_of(key, record.paper, item, family, index)) not in text, candidate
    assert not any(code in text for code in codes(made)), "a record gives no code made"


def _shared(words, own):
    """The words that are nobody's own: no names, numbers, codes and seats."""
    return [word for word in (word.rstrip(",") for word in words) if word not in own and "-" not in word]


def test_pages_of_different_lots_have_their_objects_in_one_order(made):
    """Fonts, streams and bookmarks are numbered as the pages follow each other, whatever is drawn on them."""
    raw = (made / "out" / "questions.pdf").read_bytes()
    reader = PdfReader(made / "out" / "questions.pdf")
    numbers = [page.indirect_reference.idnum for page in reader.pages]
    contents = [page["/Contents"].idnum if hasattr(page["/Contents"], "idnum") else page.raw_get("/Contents").idnum
                for page in reader.pages]
    assert numbers == sorted(numbers) and contents == sorted(contents)
    assert raw.count(b"/ID") == 1


def test_the_same_plan_and_key_make_the_same_bytes_with_any_number_of_workers(made):
    """Two have made the paper."""
    paper(made, "--jobs", 1, out="one")
    for name in ("questions.pdf", "answers.pdf", "record.json"):
        assert (made / "one" / name).read_bytes() == (made / "out" / name).read_bytes(), name


@pytest.mark.skipif(sys.platform != "linux", reason="looks into /proc")
def test_a_paper_that_was_killed_is_gone_on_with_and_comes_to_the_same_bytes(made):
    words = ["paper", "plan.yaml", "--key", "our.key", "--only-bank", "bank", "--out", "killed", "--jobs", 1]
    for lots in (1, 8):
        trial = Trial(words, made)
        work = made / "killed" / WORK
        trial.wait_for(lambda lots=lots, work=work: len(list(work.glob("*.made"))) >= lots, f"{lots} lots")
        trial.stop(signal.SIGKILL)
        assert work.stat().st_mode & 0o777 == 0o700
        assert not (made / "killed" / "questions.pdf").exists()
    assert "Going on with what an earlier run" in paper(made, out="killed").output
    for name in ("questions.pdf", "answers.pdf", "record.json"):
        assert (made / "killed" / name).read_bytes() == (made / "out" / name).read_bytes()
    assert not (made / "killed" / WORK).exists()


def test_another_key_makes_another_paper(made):
    paper(made, key="other.key", out="other")
    assert not set(codes(made)) & set(codes(made, out="other"))
    assert len({PdfReader(made / out / "questions.pdf").metadata.creator for out in ("out", "other")}) == 2, "the mark too"
    assert not set(streams(made, "questions.pdf")) & set(streams(made, "questions.pdf", "other"))


def with_list(made, name, people):
    """The paper's bank, plan and key in a folder of their own, with another list."""
    place = made / name
    shutil.copytree(made / "bank", place / "bank")
    for file in ("our.key", "plan.yaml"):
        shutil.copy(made / file, place / file)
    (place / "people.csv").write_text(people, encoding="utf-8")
    return place


def test_who_comes_last_changes_nobodys_sheets(made):
    place = with_list(made, "again", LIST + "90,Zoe Extra\n")
    paper(place)
    assert streams(place, "questions.pdf")[:12] == streams(made, "questions.pdf")
    assert len(pages(place)) == 14


def test_only_prints_one_candidates_sheets_again_with_the_record_or_without(made):
    shutil.copytree(made / "out", made / "with", dirs_exist_ok=True)
    paper(made, "--only", 24, out="with")
    paper(made, "--only", 24, out="without")
    for name in ("questions-24.pdf", "answers-24.pdf"):
        assert (made / "with" / name).read_bytes() == (made / "without" / name).read_bytes()
    assert streams(made, "questions-24.pdf", "without") == streams(made, "questions.pdf")[6:8]
    assert not (made / "without" / "record.json").exists()
    assert "no candidate '99'" in paper(made, "--only", 99, out="without", code=2).output


def test_a_spare_is_other_sheets_within_the_same_bounds_and_stands_in_the_record(made):
    shutil.copytree(made / "out", made / "spares", dirs_exist_ok=True)
    for number in (1, 2):
        paper(made, "--only", 22, "--spare", number, out="spares")
    first = (made / "spares" / "questions-22-spare-1.pdf").read_bytes()
    paper(made, "--only", 22, "--spare", 1, out="spares")
    assert (made / "spares" / "questions-22-spare-1.pdf").read_bytes() == first
    seen = [*streams(made, "questions.pdf"), *(stream for number in (1, 2) for stream in streams(
        made, f"questions-22-spare-{number}.pdf", "spares"))]
    assert len(set(seen)) == 16
    record = load_record(made / "spares" / "record.json", load_key(made / "our.key"))
    assert set(record.spares) == {("22", 1), ("22", 2)}
    for one in record.said["reached"]:
        assert one["middle"] - one["bound"] <= one["least"] <= one["greatest"] <= one["middle"] + one["bound"]
    paper(made, out="spares")
    assert set(load_record(made / "spares" / "record.json", load_key(made / "our.key")).spares) == {("22", 1), ("22", 2)}
    [code, _] = codes(made, "questions-22-spare-2.pdf", "spares")
    answer(made, code, "spares")
    assert CODE.search(PdfReader(made / "one-answer" / f"{code}-answer.pdf").pages[0].extract_text())[0] == code


def answer(place, text, out="out", key="our.key", code=0):
    return invoke(place, "answer", text, "--key", place / key, "--record", place / out / "record.json", "--only-bank",
                  place / "bank", "--out", place / "one-answer", code=code)


def without_names(text):
    return re.sub(r"[A-Z][a-z]+ [A-Z][a-z]+, ", "", text)


def test_the_answer_of_a_code_is_the_very_answer_without_the_name(either):
    for place in (3, 8):
        code = codes(either)[place]
        answer(either, code.lower().replace("-", ""))
        [page] = PdfReader(either / "one-answer" / f"{code}-answer.pdf").pages
        assert sorted(page.extract_text().split()) == sorted(without_names(pages(either, "answers.pdf")[place]).split())
        if os.name == "posix":
            assert (either / "one-answer" / f"{code}-answer.pdf").stat().st_mode & 0o777 == 0o600


def test_a_code_of_another_paper_a_mistyped_one_and_a_foreign_key_get_no_answer(made):
    place = with_list(made, "foreign", "".join(LIST.splitlines(keepends=True)[:3]))
    shutil.copy(made / "other.key", place / "our.key")
    paper(place)
    foreign, own = codes(place)[0], codes(made)[0]
    assert "of none of the 6 candidates" in answer(made, foreign, code=2).output
    assert "mistyped" in answer(made, own[:-1] + ("X" if own[-1] != "X" else "Y"), code=2).output
    assert "not sealed" in answer(made, own, key="other.key", code=2).output
    assert "a code of a paper, wanted --key and --record" in invoke(made, "answer", own, code=2).output


def test_a_record_that_somebody_has_changed_is_found_out(made):
    text = (made / "out" / "record.json").read_text(encoding="utf-8")
    shutil.copytree(made / "out", made / "forged", dirs_exist_ok=True)
    (made / "forged" / "record.json").write_text(text.replace('"row": 1', '"row": 2', 1), encoding="utf-8")
    assert "has been changed since" in answer(made, codes(made)[0], "forged", code=2).output
    assert "has been changed since" in paper(made, "--only", 22, "--spare", 1, out="forged", code=2).output


def test_a_family_that_has_changed_since_gives_no_answer_and_a_paper_says_so(made):
    shutil.copytree(made / "out", made / "later", dirs_exist_ok=True)
    shutil.copytree(made / "bank", made / "bank-before", dirs_exist_ok=True)
    file = made / "bank" / "long-step.yaml"
    before = file.read_text(encoding="utf-8")
    try:
        file.write_text(before.replace("to: 120", "to: 121"), encoding="utf-8")
        assert "changed since" in answer(made, codes(made)[0], code=2).output
        assert "there have changed: the family long-step." in paper(made, out="later").output
        file.write_text(before.replace("Plain step", "Renamed step"), encoding="utf-8")
        answer(made, codes(made)[0])
    finally:
        file.write_text(before, encoding="utf-8")


@pytest.mark.skipif(os.name != "posix", reason="systems without modes have none to look at")
def test_books_and_what_waits_are_for_nobody_else_to_read(made, monkeypatch):
    from sheetgen.sets.papers.paper import PaperMaker

    seen = []
    assign = PaperMaker.assign

    def watched(self, candidates):
        found = assign(self, candidates)
        seen.append(self.shelf.folder.stat().st_mode & 0o777)
        return found
    monkeypatch.setattr(PaperMaker, "assign", watched)
    paper(made, "--jobs", 1, out="watched")
    assert seen == [0o700]
    assert [(made / "watched" / name).stat().st_mode & 0o777 for name in ("questions.pdf", "answers.pdf")] == [0o600] * 2


def test_a_paper_that_cannot_keep_its_bounds_says_which_item_and_by_how_much_and_draws_nothing(made, monkeypatch):
    from sheetgen.sets.papers.paper import PaperMaker

    monkeypatch.setattr(PaperMaker, "_draw", lambda self, variants: pytest.fail("drawn before it was told"))
    text = (made / "plan.yaml").read_text(encoding="utf-8")
    (made / "narrow.yaml").write_text(text + "bounds: {index: 0}\n", encoding="utf-8")
    said = paper(made, plan="narrow.yaml", out="narrow", code=2).output
    assert re.search(r"narrow.yaml:4: items\[1\]: found item 1, long-step: of 30 variants \d+ % lie within the bounds of one "
                     r"middle; their indices spread over 0\.\d+, wanted ±0\.\d+ where the bound is ±0;", said)
    assert not (made / "narrow").exists()


def test_a_name_that_has_no_room_is_told_with_its_line_and_the_number_is_printed_alone(made):
    place = with_list(made, "names", "No,Name\n21,Ada Example\n22," + "Wilhelmina " * 14 + "\n")
    said = paper(place).output
    assert re.search(r"Remark: people\.csv:3: name: found 'Wilhelmina .*, wanted a name that its cell can hold; the number is "
                     "printed alone", said)
    first, *_, last = [" ".join(text.split()) for text in pages(place)]
    assert "Ada Example, 21, seat 1-1" in first and "22, seat 1-2" in last and "Wilhelmina" not in last


def test_a_bank_of_few_sizes_is_told_by_its_item(made):
    place = made / "few"
    place.mkdir(exist_ok=True)
    samples.bank_of(place / "bank", long_step=samples.STEP, long_slot=long(WEDGE))
    for name in ("plan.yaml", "people.csv", "our.key"):
        shutil.copy(made / name, place / name)
    assert "item 1: no variant is left for candidate" in paper(place, code=2).output
    assert len(load_bank(place / "bank")) == 2
