"""A worksheet for a class, from the plan and the list to the PDFs, read back as a teacher would leaf through them."""

from __future__ import annotations

import re
from collections import Counter
from functools import cache
from io import BytesIO

import pdfplumber
import pytest
from pypdf import PdfReader

from sheetgen.bank import load_bank
from sheetgen.codes import Code, family_number
from sheetgen.exercises import ASKED
from sheetgen.ink import write_pdf
from sheetgen.sets import ClassListError, PlanError, Shelf, WorksheetMaker, edition, edition_of, load_plan, local_workers, run_of
from sheetgen.sets.marks import MarkingRoleError
from sheetgen.sheet import settings_of
from tests import samples

PROBLEMS = "  - {family: stepped-block, seed: 7}\n  - {family: slotted-wedge, seed: 2}\n"
FIRST = ("Ada", "Ben", "Cai", "Dora", "Eva", "Finn", "Gil", "Hana")
LAST = ("Ashby", "Brook", "Crane", "Dale")
CLASS = "No,First name,Surname,Form,Room\n" + "".join(
    f"{k + 1},{FIRST[k % 8]},{LAST[k // 8]},{'10A' if k < 20 else '10B'},W{k % 2 + 1}\n" for k in range(32))
NAMES = [f"{FIRST[k % 8]} {LAST[k // 8]}, {k + 1}" for k in range(32)]


def planned(folder, said="", listed=CLASS, problems=PROBLEMS, bank=None):
    folder.mkdir(exist_ok=True)
    (folder / "list.csv").write_text(listed, encoding="utf-8")
    (folder / "plan.yaml").write_text(f"title: Week 3\nclass_list: list.csv\n{said}problems:\n{problems}", encoding="utf-8")
    return load_plan(folder / "plan.yaml", bank or load_bank())


def made(folder, said="", *, listed=CLASS, problems=PROBLEMS, jobs=2, settings=None, bank=None):
    """The files by name; made as the command makes them."""
    plan = planned(folder, said, listed, problems, bank)
    settings = settings or settings_of(plan.style)
    made_of = edition_of(plan, settings, ASKED)
    (folder / "shelf").mkdir()
    maker = WorksheetMaker(plan, made_of.jobs, made_of.settings, Shelf(folder / "shelf"), "123456789abc")
    with local_workers(jobs) as executor:
        assert len(list(maker.run(executor))) == len(made_of.jobs)
    files = {}
    for name, document in made_of.files(maker):
        files[name] = BytesIO()
        write_pdf(document, files[name])
    return files


@cache
def cells(file):
    """What the title block of each page says: student, group, sheet, code; None for a page that has none."""
    found = []
    with pdfplumber.open(file) as pdf:
        for page in pdf.pages:
            lines = [line["text"] for line in page.extract_text_lines(return_chars=False)]
            words = " ".join(lines)
            if "PRACTICE PART" not in words:
                found.append(None)
                continue
            student = next((name for name in NAMES if re.search(rf"{name}(?!\d)", words)), "")
            sheet = re.search(r"\b\d+/\d+\b", words)
            code = re.search(r"\b(?:[0-9A-Z]{6}-){2}[0-9A-Z]{6}\b", words)
            found.append((student, "10A" if "10A" in words else "10B" if "10B" in words else "", sheet[0], code[0]))
    return found


def block_told(code):
    """Family, seed and draw that a code tells."""
    read = Code.read(code)
    [family] = [name for name in ("stepped-block", "slotted-wedge", "step") if family_number(name) == read.family]
    return family, read.seed, read.draw


@pytest.fixture(scope="module")
def own(tmp_path_factory):
    """A class of 32, each with problems of their own."""
    return made(tmp_path_factory.mktemp("own") / "set", "problems_for: each\nanswer_key: yes\n")


def test_every_student_of_a_class_has_every_question_and_its_answer_counted_for_the_student(own):
    for book in ("questions.pdf", "answers.pdf"):
        found = cells(own[book])
        assert [student for student, *_ in found] == [name for name in NAMES for _ in range(2)]
        assert [sheet for _, _, sheet, _ in found] == ["1/2", "2/2"] * 32
        assert Counter(group for _, group, _, _ in found) == {"10A": 40, "10B": 24}


def test_every_students_own_question_has_its_answer_at_the_same_place(own):
    asked, answered = (cells(own[book]) for book in ("questions.pdf", "answers.pdf"))
    assert asked == answered
    assert len({code for *_, code in asked}) == 64
    assert [block_told(code)[0] for *_, code in asked] == ["stepped-block", "slotted-wedge"] * 32


def test_the_code_on_a_sheet_is_of_a_block_that_no_other_student_has(own):
    bank, blocks = load_bank(), []
    for *_, code in cells(own["answers.pdf"]):
        family, seed, draw = block_told(code)
        blocks.append(bank[family].sample(seed, draw).features)
    assert len(set(blocks)) == 64


def test_every_student_has_a_bookmark_at_the_first_of_their_sheets(own):
    reader = PdfReader(own["questions.pdf"])
    marks = [(mark.title, reader.get_destination_page_number(mark)) for mark in reader.outline]
    assert marks[:2] == [("1 Ada Ashby", 0), ("2 Ben Ashby", 2)] and len(marks) == 32 and marks[-1] == ("32 Hana Dale", 62)


def test_the_key_has_the_code_the_sheet_and_the_student_of_every_answer(own):
    with pdfplumber.open(own["answer-key.pdf"]) as pdf:
        text = "\n".join(page.extract_text() for page in pdf.pages)
        assert len(pdf.pages) <= 64 / 4
        for page in pdf.pages:
            assert (round(page.width * 25.4 / 72), round(page.height * 25.4 / 72)) == (420, 297)
    for (_, _, sheet, code), name in zip(cells(own["answers.pdf"]), [name for name in NAMES for _ in range(2)], strict=True):
        called = " ".join(reversed(name.split(", ")))
        assert re.search(rf"\b{re.escape(code)}\b", text) and f"Sheet {sheet[0]}: {called}" in text
    assert text.count("SIDE VIEW FROM THE LEFT") == 64
    reader = PdfReader(own["answer-key.pdf"])
    for mark in reader.outline:
        page = reader.pages[reader.get_destination_page_number(mark)]
        assert f"Sheet 1: {mark.title}" in page.extract_text()
    assert len(reader.outline) == 32


def test_no_row_of_the_key_has_answers_of_two_students(own):
    rows = Counter()
    with pdfplumber.open(own["answer-key.pdf"]) as pdf:
        for number, page in enumerate(pdf.pages):
            for line in page.extract_text_lines(return_chars=False):
                whose = re.findall(r"Sheet \d: (\d+ \w+ \w+)", line["text"])
                rows[number, round(line["top"])] += len(whose)
                assert len(set(whose)) <= 1, whose
    assert sum(rows.values()) == 64


def test_the_same_problems_for_all_are_drawn_once_and_say_the_same_as_if_each_had_been_drawn(tmp_path, monkeypatch):
    few = "\n".join(CLASS.split("\n")[:4])
    shared = made(tmp_path / "shared", listed=few, jobs=1)
    assert len(list((tmp_path / "shared" / "shelf").glob("*.made"))) == 2
    monkeypatch.setattr(edition, "_separable", lambda _: False)
    drawn = made(tmp_path / "drawn", listed=few, jobs=1)
    assert len(list((tmp_path / "drawn" / "shelf").glob("*.made"))) == 6
    for name in ("questions.pdf", "answers.pdf"):
        with pdfplumber.open(shared[name]) as one, pdfplumber.open(drawn[name]) as other:
            for left, right in zip(one.pages, other.pages, strict=True):
                assert sorted(map(_place, left.chars)) == sorted(map(_place, right.chars))
                assert len(left.lines) == len(right.lines) and len(left.curves) == len(right.curves)


def _place(char):
    return char["text"], round(char["x0"], 2), round(char["top"], 2), round(char["size"], 2)


# ---------------------------------------------------------------- books

STEPS = "  - {family: step, seed: 4}\n  - {family: step, seed: 1}\n  - {family: step, seed: 2}\n"
FIVE = "No,Name,Form,Room\n1,Ada Ashby,10A,W1\n2,Ben Ashby,10B,W2\n3,Cai Ashby,10A,W2\n4,Dora Ashby,10B,W1\n5,Eva Ashby,10A,W1\n"


@pytest.fixture(scope="module")
def steps(tmp_path_factory):
    return load_bank(samples.bank_of(tmp_path_factory.mktemp("bank"), step=samples.STEP))


@pytest.fixture
def five(tmp_path, steps):
    """Makes the worksheet of a class of five, all with the same three problems."""
    return lambda said: made(tmp_path / "set", said, listed=FIVE, problems=STEPS, jobs=1, bank=steps)


def who(file):
    return [page and (page[0].partition(" ")[0], page[2]) for page in cells(file)]


def test_sheets_stand_student_by_student_or_problem_by_problem(tmp_path, steps):
    names = ["Ada", "Ben", "Cai", "Dora", "Eva"]
    by = {order: made(tmp_path / order, f"order: {order}\n", listed=FIVE, problems=STEPS, jobs=1, bank=steps)
          for order in ("student", "problem")}
    for book in ("questions.pdf", "answers.pdf"):
        assert who(by["student"][book]) == [(name, f"{k}/3") for name in names for k in (1, 2, 3)]
        assert who(by["problem"][book]) == [(name, f"{k}/3") for k in (1, 2, 3) for name in names]
    reader = PdfReader(by["problem"]["questions.pdf"])
    marks = [re.fullmatch(r"(\d)\. Plain step \((.+)\)", mark.title).groups() for mark in reader.outline]
    assert [(number, block_told(code)[1]) for number, code in marks] == [("1", 4), ("2", 1), ("3", 2)]
    assert [reader.get_destination_page_number(mark) for mark in reader.outline] == [0, 5, 10]


@pytest.mark.parametrize("order", ["student", "problem"])
def test_printed_on_both_sides_no_sheet_of_paper_has_pages_of_two_students(five, order):
    for book, file in five(f"double_sided: yes\norder: {order}\n").items():
        pages = who(file)
        assert len(pages) % 2 == 0, book
        for front, back in zip(pages[::2], pages[1::2], strict=True):
            assert front is not None and (back is None or back[0] == front[0])
        backs = [page.extract_text() for page, said in zip(PdfReader(file).pages, pages, strict=True) if said is None]
        assert backs == ["This page is left blank."] * (5 if order == "student" else 15)
    reader = PdfReader(file)
    fronts = [reader.get_destination_page_number(mark) for mark in reader.outline]
    assert all(page % 2 == 0 for page in fronts)


def test_answers_never_stand_in_the_file_of_questions(five):
    files = five("double_sided: yes\n")
    assert list(files) == ["questions.pdf", "answers.pdf"]
    for name, word in (("questions.pdf", "Question sheet"), ("answers.pdf", "Answer sheet")):
        texts = [page.extract_text() for page in PdfReader(files[name]).pages]
        assert all(word in text or text == "This page is left blank." for text in texts)


@pytest.mark.parametrize(("books", "names", "first"), [
    ("groups", ["10A", "10B"], ["Ada", "Cai", "Eva"]), ("rooms", ["W1", "W2"], ["Ada", "Dora", "Eva"]),
    ("students", ["1", "2", "3", "4", "5"], ["Ada"]), ("hundreds", ["1-5"], ["Ada", "Ben", "Cai", "Dora", "Eva"])])
def test_books_hold_a_group_a_room_a_student_or_a_hundred(five, books, names, first):
    files = five(f"books: {books}\n")
    assert list(files) == [f"{role}-{name}.pdf" for role in ("questions", "answers") for name in names]
    assert [name for name, sheet in who(files[f"questions-{names[0]}.pdf"]) if sheet == "1/3"] == first


def test_the_book_of_a_group_says_so_in_its_title(five):
    files = five("books: groups\n")
    assert PdfReader(files["answers-10B.pdf"]).metadata.title == "Week 3: answers, 10B"


def test_a_large_class_is_parted_by_the_hundred(tmp_path, steps):
    listed = "Name\n" + "".join(f"Student {k}\n" for k in range(1, 202))
    plan = planned(tmp_path / "set", listed=listed, problems=STEPS, bank=steps)
    made_of = edition_of(plan, settings_of(plan.style), ASKED)
    assert [(book.file, len(book.students)) for book in made_of._books(None)] == [
        ("001-100", 100), ("101-200", 100), ("201-201", 1)]
    assert [len(book.students) for book in made_of._books("whole")] == [201]


def test_hostile_numbers_and_groups_lead_to_no_file_elsewhere(tmp_path, steps):
    listed = 'No,Name,Group\n../../x,=1+1,../..\n"C:\\y",@SUM,"a/b"\n'
    for books in ("students", "groups"):
        files = made(tmp_path / books, f"books: {books}\n", listed=listed, problems=STEPS, jobs=1, bank=steps)
        assert all(re.fullmatch(r"(questions|answers)-[A-Za-z0-9-]+\.pdf", name) for name in files) and len(files) == 4


def test_a_long_name_and_a_strange_one_come_through_every_file(tmp_path, steps):
    listed = f"No,Name\n1,{'Wolfe ' * 90}\n2,Жуков\n3,\u202egnp.exe\n"
    for whose in ("all", "each"):
        files = made(tmp_path / whose, f"problems_for: {whose}\nbooks: students\nanswer_key: yes\n", listed=listed,
                     problems="  - {family: step, seed: 4}\n", jobs=1, bank=steps)
        assert set(files) == {*(f"{role}-{k}.pdf" for role in ("questions", "answers") for k in (1, 2, 3)), "answer-key.pdf"}


def test_a_week_of_a_term_knows_what_each_student_had_in_the_weeks_before(tmp_path):
    (tmp_path / "list.csv").write_text("Name\nAnn\nBen\n", encoding="utf-8")
    (tmp_path / "plan.yaml").write_text(
        "class_list: list.csv\nproblems_for: each\nterm: Autumn 2031\nproblems:\n  - {family: stepped-block, count: 2}\n",
        encoding="utf-8")
    had = {"Ann": [], "Ben": []}
    for week in (1, 2, 3):
        plan = load_plan(tmp_path / "plan.yaml", load_bank(), week=week)
        assert len(plan.problems.earlier) == week - 1
        for job in edition_of(plan, settings_of(plan.style), ASKED).jobs:
            had[job.particulars.student] += [job.family.sample(job.seed, draw).features for draw in job.draws]
    assert all(len(set(blocks)) == len(blocks) == 3 * 2 * 5 for blocks in had.values())


# ---------------------------------------------------------------- what is told before the work


def test_a_plan_may_refuse_names_that_cannot_be_printed_as_they_are(tmp_path, steps):
    plan = planned(tmp_path / "set", "doubtful_names: refuse\n", "Name\nAnn\nAnn\nЖуков\n", STEPS, steps)
    with pytest.raises(ClassListError) as told:
        edition_of(plan, settings_of(plan.style), ASKED)
    assert [fault.line for fault in told.value.faults] == [2, 3, 4]


@pytest.mark.parametrize(("said", "found"), [
    ("class_list: ../list.csv", "class_list: found '../list.csv', wanted the name of a .csv file beside the plan"),
    ("class_list: other.csv", "class_list: found 'other.csv'"),
    ("problems_for: every", "problems_for: found 'every', wanted one of all, each"),
    ("books: pairs", "books: found 'pairs'"),
    ("double_sided: maybe", "double_sided: found 'maybe', wanted one of no, yes"),
    ("encoding: latin1", "encoding: found 'latin1'"),
    ("columns: {nam: Name}", "columns: found an unknown column 'nam', wanted name"),
    ("columns: Name", "columns: found 'Name', wanted fields name, first_name"),
])
def test_words_of_a_plan_that_tell_nothing_are_told_with_those_that_do(tmp_path, steps, said, found):
    (tmp_path / "list.csv").write_text("Name\nAnn\n", encoding="utf-8")
    (tmp_path / "plan.yaml").write_text(f"{said}\nproblems:\n{STEPS}", encoding="utf-8")
    with pytest.raises(PlanError) as told:
        load_plan(tmp_path / "plan.yaml", steps)
    assert len(told.value.faults) == 1 and found in str(told.value)


def test_a_link_beside_the_plan_to_a_list_elsewhere_is_not_followed(tmp_path, steps):
    (tmp_path / "secret.csv").write_text("Name\nAnn\n", encoding="utf-8")
    (tmp_path / "plans").mkdir()
    (tmp_path / "plans" / "list.csv").symlink_to(tmp_path / "secret.csv")
    (tmp_path / "plans" / "plan.yaml").write_text(f"class_list: list.csv\nproblems:\n{STEPS}", encoding="utf-8")
    with pytest.raises(PlanError, match="class_list"):
        load_plan(tmp_path / "plans" / "plan.yaml", steps)


@pytest.mark.parametrize(("said", "listed", "found"), [
    ("books: groups\n", "Name\nAnn\n", "list.csv: group: found a list without groups"),
    ("books: rooms\n", "Name\nAnn\n", "list.csv: room: found a list without rooms"),
    ("", "Name\n" + "".join(f"S {k}\n" for k in range(3334)),
     "list.csv: found 3334 students with 3 problems each, wanted at most 10,000"),
])
def test_what_a_list_cannot_serve_is_told(tmp_path, steps, said, listed, found):
    plan = planned(tmp_path / "set", said, listed, STEPS, steps)
    with pytest.raises(ClassListError) as told:
        edition_of(plan, settings_of(plan.style), ASKED)
    assert str(told.value).startswith(found)


@pytest.mark.parametrize("said", ["problems_for: each", "books: groups"])
def test_what_needs_a_class_list_is_told_without_one(tmp_path, steps, said):
    (tmp_path / "plan.yaml").write_text(f"{said}\nproblems:\n{STEPS}", encoding="utf-8")
    plan = load_plan(tmp_path / "plan.yaml", steps)
    with pytest.raises(ClassListError, match="without a class list"):
        edition_of(plan, settings_of(plan.style), ASKED)


def test_a_kind_without_an_answers_drawing_has_no_key(tmp_path):
    plan = planned(tmp_path / "set", "answer_key: yes\nkind: match\n")
    with pytest.raises(MarkingRoleError, match="answer_key: found the kind match, which has none"):
        edition_of(plan, settings_of(plan.style), ASKED)


MIXED = ("  - {family: stepped-block, seed: 7, kind: mistakes}\n  - {family: slotted-wedge, seed: 2}\n"
         "  - {family: counterbored-block, kind: section}\n")


def test_lines_may_name_kinds_and_sheets_that_one_lacks_are_told_and_made_of_the_others(tmp_path):
    said = "problems_for: each\nanswer_key: yes\nmarking: yes\nconstruction: yes\n"
    listed = "Name\nAda Ashby\nBen Brook\n"
    files = made(tmp_path / "set", said, listed=listed, problems=MIXED)
    assert sorted(files) == ["answer-key.pdf", "answers.pdf", "construction.pdf", "marking.pdf", "questions.pdf"]
    assert len(PdfReader(files["questions.pdf"]).pages) == 8             # of mistakes there are two pages
    codes = {sheet: [code for name in ("questions.pdf", "answers.pdf") for _, _, other, code in cells(files[name])
                     if other == sheet] for sheet in ("1/3", "2/3", "3/3")}
    assert [samples.told(codes[sheet][0])[2] for sheet in codes] == ["E", "", "S"]
    key = "".join(page.extract_text() for page in PdfReader(files["answer-key.pdf"]).pages)
    assert not any(code in key for code in codes["1/3"])
    assert all(code in key for sheet in ("2/3", "3/3") for code in codes[sheet])
    built = {code for _, _, _, code in cells(files["construction.pdf"])}
    assert built == {*codes["2/3"], *codes["3/3"]}
    plan = planned(tmp_path / "again", said, listed, MIXED)
    told = [str(remark) for remark in edition_of(plan, settings_of(plan.style), ASKED).remarks]
    assert [re.search("(?<=: )(construction|answer_key): found the kind mistakes, which has none", each) is not None
            for each in told] == [True, True]


def test_the_mark_of_a_set_hangs_on_the_names_and_on_how_it_is_bound(tmp_path, steps):
    def mark(said, listed):
        plan = planned(tmp_path / "set", said, listed, STEPS, steps)
        made_of = edition_of(plan, settings_of(plan.style), ASKED)
        return run_of(plan.title, made_of.jobs, made_of.settings, "1.0", made_of.decides).mark

    marks = [mark(*each) for each in (("", "Name\nAnn\n"), ("", "Name\nBen\n"), ("order: problem\n", "Name\nAnn\n"),
                                      ("double_sided: yes\n", "Name\nAnn\n"), ("problems_for: each\n", "Name\nAnn\n"))]
    assert len(set(marks)) == 5 and marks[0] == mark("", "Name\nAnn\n")
