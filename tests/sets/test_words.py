"""Where the words on sheets come from: the wording, the bank and the plan, nowhere else; and that longer words find room too."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from pathlib import Path

import pytest

from sheetgen.bank import Family, load_bank
from sheetgen.exercises import (
    ASKED,
    ONCE,
    PRINTED,
    USUAL,
    Exercise,
    Particulars,
    RefusedSeedError,
    Role,
    kinds,
    make_exercise,
    making,
    sheets_of,
)
from sheetgen.exercises.construction import stages_of
from sheetgen.exercises.contact import Portrait, contact_sheets, portrait_of
from sheetgen.exercises.description import description_of
from sheetgen.exercises.hints import hint_pages
from sheetgen.exercises.kinds.match.one import OTHER_SIDE, PLACES, WHOLE, Option
from sheetgen.exercises.kinds.match.reasons import reason_of
from sheetgen.exercises.kinds.match.siblings import siblings
from sheetgen.exercises.kinds.views.question import task_of
from sheetgen.exercises.marking import Marking
from sheetgen.ink import Document, Page, Text
from sheetgen.problem import problem_of, solid_of
from sheetgen.refusals import RefusedError
from sheetgen.sets import Shelf, WorksheetMaker, document_of_one, edition_of, load_plan
from sheetgen.sets.documents import described, title_of_set
from sheetgen.sets.packs import Pack, load_pack
from sheetgen.sets.packs.listing import Listed, files_of_list
from sheetgen.sets.packs.solids import words_of
from sheetgen.sets.papers.cover import Cover
from sheetgen.sets.papers.equity import EquitySheets
from sheetgen.sets.papers.making import Printing
from sheetgen.sets.papers.paper import Paper
from sheetgen.sets.papers.plan import load_paper
from sheetgen.sets.papers.seating import SeatingSheets
from sheetgen.sets.papers.secret import Key
from sheetgen.sheet import Settings, Style, settings_of
from sheetgen.templating import TitleBlockValues, Wording, load_marking, load_wording, wording_names
from tests.exercises.hints.bare import hinted
from tests.exercises.hints.odd import ODD
from tests.families import sample
from tests.samples import EVERY_WORD, bank_of, family_of
from tests.sets.papers.invented import BARN, HALL, lots, paper, reached
from tests.wordings import INVENTED, nonsense, twice_as_long

VALUES = TitleBlockValues(school="EXAMPLEFORD", course="DRAWING", teacher="SQUARE", group="YEAR TEN", date="MAY", status="DRAFT")
"""What a plan says."""

SHEETS = {
    "holes through, counterbored and blind, on large paper": ("counterbored-block", Style(paper="A2", side="right")),
    "holes that end in a bore": ("bored-tee", Style(side="both", projection="third", title_block="quarry")),
    "a hole that ends in a hollow": ("vented-tunnel", Style()),
    "countersunk holes": ("countersunk-plate", Style(side="both", projection="third", drawn="cabinet")),
    "circles that face the front, and others": ("slotted-slide", Style(drawn="cavalier", grid=True)),
    "symmetric both ways, an arrow for each side view": ("conical-boss", Style(side="both", figures="upright", arrows="each")),
    "symmetric from left to right, a slot and a channel, the small pictorial to no scale, of a plan without a status": (
        "bearing-support", Style(values=replace(VALUES, status=""))),
    "a keyway": ("keyed-hub", Style()),
    "a tunnel": ("trestle", Style(title_block="quarry", missing="top", grid=True)),
    "a hole in a slope": ("pipe-clamp", Style(projection="third")),
    "rounds about one centre": ("skew-ended-tunnel", Style()),
    "slots, one of them blind": ("half-slotted", Style()),
    "a slot in a slope": ("slotted-slope", Style()),
    "views at a reduced scale": ("bevelled-block", Style(paper="A4", title_block="quarry")),
    "views at a reduced scale, the pictorial full size": ("angle-bracket-bored", Style(projection="third", title_block="quarry")),
    "several answers to a third view": ("stepped-bridge", Style(missing="front", any_answer=True)),
    "ellipses in a slope": ("slant-cut-spigot", Style()),
    "a hole of which front and side view show no circle": ("tool-post", Style()),
    "the whole of an auxiliary view": ("slotted-wedge", Style(projection="third", whole=True)),
    "a slanting line drawn wrong": ("bevelled-block", Style(paper="A4", title_block="quarry")),
    "views and pictorial at two reduced scales": ("flanged-foot", Style(paper="A4", side="both", title_block="quarry")),
}
"""Of each sort of sheet one: family and style. They are made in the usual kind."""

IN_EVERY_KIND = ("holes through, counterbored and blind, on large paper", "slots, one of them blind",
                 "views at a reduced scale, the pictorial full size")
IN_ONE_MORE = {
    *(("section", sort) for sort in ("symmetric both ways, an arrow for each side view", "countersunk holes")),
    *(("auxiliary", sort) for sort in (
        "ellipses in a slope", "a hole of which front and side view show no circle", "the whole of an auxiliary view")),
    *(("third-view", sort) for sort in ("several answers to a third view", "a tunnel")),
    *(("missing-lines", sort) for sort in ("several answers to a third view", "a tunnel")),
    *(("pictorial", sort) for sort in ("a tunnel", "countersunk holes", "circles that face the front, and others")),
    *(("match", sort) for sort in ("a hole in a slope", "a tunnel", "holes that end in a bore", "countersunk holes")),
    *(("mistakes", sort) for sort in (
        "a tunnel", "holes that end in a bore", "countersunk holes", "a keyway",
        "symmetric both ways, an arrow for each side view", "a slanting line drawn wrong", "a hole in a slope")),
}
"""Those that are made in every kind, and in one: a kind that has words which the first do not print gets its own here. That a
part is none for a kind takes long to find out, so parts of all are flat enough for any."""

HALF_SLOTTED = """\
title: Half-slotted block
topics: [slots]
rung: 1
symmetry: [y]
sizes:
  width: {from: 70, to: 90, step: 5}
features:
  - {add: block, name: base, x: [0, width], y: [0, 50], z: [0, 30]}
  - {cut: slot, name: whole, x: [width - 25, open], y: [18, 32]}
  - {cut: slot, name: half, x: [open, 20], y: [18, 32], z: [18, open]}
measures:
  - base.left to base.right
  - base.front to base.back
  - base.bottom to base.top
  - whole.left to base.right
  - whole.front to whole.back
  - base.left to half.right
  - base.bottom to half.bottom
"""
FOUR_HOLED = """\
title: Four-holed plate
topics: [through holes]
rung: 1
symmetry: [x, y]
sizes:
  width: {from: 80, to: 95, step: 5}
features:
  - {add: block, name: base, x: [0, width], y: [0, 60], z: [0, 20]}
  - {cut: hole, name: holes, mouth: top, at: [[15, 15], [width - 15, 15], [15, 45], [width - 15, 45]], diameter: 10}
measures:
  - base.left to base.right
  - base.front to base.back
  - base.bottom to base.top
  - diameter of holes
  - holes.1.axis to holes.2.axis
  - holes.1.axis to holes.3.axis
"""
HOLED_WALL = """\
title: Plate with holes one behind the other
topics: [through holes]
rung: 1
symmetry: [y]
sizes:
  width: {from: 80, to: 95, step: 5}
features:
  - {add: block, name: base, x: [0, width], y: [0, 60], z: [0, 20]}
  - {cut: hole, name: holes, mouth: top, at: [[20, 15], [20, 45]], diameter: 10}
measures:
  - base.left to base.right
  - base.front to base.back
  - base.bottom to base.top
  - diameter of holes
  - base.left to holes.1.axis
  - holes.1.axis to holes.2.axis
"""
KEYED_HUB = """\
title: Keyed hub
topics: [bosses]
rung: 2
symmetry: [y]
sizes:
  width: {from: 30, to: 60, step: 5}
features:
  - {add: boss, name: hub, axis: x, at: [30, 30], diameter: 60, x: [0, width]}
  - {cut: bore, name: bore, axis: x, at: [30, 30], diameter: 24}
  - {cut: slot, name: key, y: [26, 34], z: [30, 46]}
measures:
  - hub.left to hub.right
  - diameter of hub
  - diameter of bore
  - key.front to key.back
  - bore.axis to key.top
"""
SLOTTED_SLOPE = """\
title: Slotted wedge
topics: [slots]
rung: 2
symmetry: [y]
sizes:
  width: {from: 70, to: 90, step: 5}
features:
  - {add: block, name: base, x: [0, width], y: [0, 50], z: [0, 30]}
  - {cut: slant, name: ramp, plane: front, line: [[15, 30], [width, 12]], remove: above}
  - {cut: closed_slot, name: slot, plane: top, centres: [[30, 25], [45, 25]], width: 14}
measures:
  - base.left to base.right
  - base.front to base.back
  - base.bottom to base.top
  - base.left to edge of ramp.face and base.top along x
  - base.bottom to edge of ramp.face and base.right along z
  - base.left to slot.1.axis
  - slot.1.axis to slot.2.axis
  - radius of slot.1.round and slot.2.round
"""
RECESSED = """\
title: Recessed block
topics: [recesses]
rung: 3
sizes:
  width: {from: 90, to: 110, step: 5}
features:
  - {add: block, name: base, x: [0, width], y: [0, 50], z: [0, 40]}
  - {cut: recess, name: pocket, x: [12, 30], y: [12, 40], z: [28, open]}
  - {cut: bore, name: bore, axis: y, at: [width / 2, 14], diameter: 10}
measures:
  - base.left to base.right
  - base.front to base.back
  - base.bottom to base.top
  - base.left to pocket.left
  - pocket.left to pocket.right
  - base.front to pocket.front
  - pocket.front to pocket.back
  - pocket.bottom to base.top
  - base.left to bore.axis
  - base.bottom to bore.axis
  - diameter of bore
"""
VENTED_TUNNEL = """\
title: Vented tunnel
topics: [arches]
rung: 2
symmetry: [y]
sizes:
  width: {from: 60, to: 90, step: 5}
features:
  - {add: block, name: base, x: [0, width], y: [0, 50], z: [0, 48]}
  - {cut: open_slot, name: tunnel, plane: right, centre: [25, 22], width: 26, toward: up, foot: open}
  - {cut: hole, name: vent, mouth: top, at: [24, 25], diameter: 10, depth: 26}
measures:
  - base.left to base.right
  - base.front to base.back
  - base.bottom to base.top
  - radius of tunnel.round
  - base.bottom to tunnel.axis
  - diameter of vent
  - base.left to vent.axis
"""
OURS = {"half-slotted": HALF_SLOTTED, "keyed-hub": KEYED_HUB, "slotted-slope": SLOTTED_SLOPE, "vented-tunnel": VENTED_TUNNEL,
        "recessed": RECESSED, "four-holed": FOUR_HOLED, "holed-wall": HOLED_WALL}
"""Families with what no family of the bank has."""

HINTED = (
    "bored-tee", "corner-block", "counterbored-block", "cross-drilled-boss", "crossed-channels", "dovetail-guide",
    "dovetail-tongue", "forked-foot", "hinge-lug", "nosed-clamp", "pipe-clamp", "pipe-saddle", "skew-ended-tunnel",
    "slant-cut-spigot", "sloped-arm", "stepped-bridge", "tapered-spindle-block", "twin-ribbed-bracket",
    "vee-block-footed")
"""Families whose hints have, together with those of parts that the bank has not, all words that hints can have."""

CONSTRUCTIONS = {
    "recessed": Style(), "four-holed": Style(), "holed-wall": Style(),
    "dovetail-tongue": Style(side="right"), "dovetail-guide": Style(projection="third"),
    "tapered-spindle-block": Style(side="both"), "slant-cut-spigot": Style(side="right"), "stepped-block": Style(),
    "cross-block": Style(projection="third"), "conical-boss": Style(),
    **dict.fromkeys(("hinge-lug", "forked-foot", "flanged-foot", "trestle", "sloped-arm", "pipe-clamp", "bevelled-block",
                     "slotted-slide", "pipe-saddle"), Style()),
}
"""Families whose construction sheets have words that those above have not, and their styles."""

SEEDS = {"views at a reduced scale, the pictorial full size": 4, "views at a reduced scale": 2, "countersunk holes": 3}
"""Of those of which seed 1 gives another sort."""

MARKED = ((20, "by-parts"), (4, "by-deductions"), (12.5, "even-split"))
"""Marks and schemes of the marking sheets, in turn."""

WORD = re.compile(r"[^\W\d_]{2,}")


def words(texts: Sequence[str]) -> set[str]:
    """Whatever has two letters or more, in small letters."""
    return {word.lower() for text in texts for word in WORD.findall(text)}


def on_page(page: Page) -> list[str]:
    return [mark.text for mark in page.marks if isinstance(mark, Text)]


def of_file(document: Document) -> list[str]:
    """What a file says of itself."""
    return [document.title, document.author, document.subject, document.keywords, *(title for title, _ in document.outline)]


def file_of(exercise: Exercise, role: Role, settings: Settings) -> Document:
    """The sheets of one role of an exercise, as a file."""
    code, problem = exercise.particulars.code, exercise.problem
    return document_of_one(exercise.sheets[role], role, problem.title, code, problem.topics, settings)


def of_bank(family: Family) -> set[str]:
    return words([family.name, family.title, *family.topics])


def of_block(settings: Settings) -> set[str]:
    """The words of the title block's own file: those that come with us have none."""
    return words([cell.own_label for cell in settings.block.cells])


def settings_with(style: Style, wording: Wording) -> Settings:
    return replace(settings_of(replace(style, values=style.values if style.values.school else VALUES)), wording=wording)


def asked_of(kind: str) -> tuple[Role, ...]:
    """All sheets that a kind has."""
    return tuple(role for role in (*PRINTED, *ONCE) if role in kinds()[kind].roles)


def contact(families: Sequence[Family], wording: Wording) -> Document:
    """A contact sheet of every rung; one family cannot be drawn."""
    portraits = [portrait_of(family) for family in families[:4]]
    ranked = [replace(each, family=replace(each.family, rung=rung)) for rung, each in enumerate(portraits, 1)]
    return contact_sheets([*ranked, Portrait(replace(families[4], rung=5), None)], wording)


def class_texts(wording: Wording, folder: Path) -> list[str]:
    """What stands on the sheets of a class of three, and in their files, in week 2 of a term: with shared problems, and with
    problems of their own."""
    texts: list[str] = []
    (folder / "list.csv").write_text("No,Name\n1,Quin\n2,Quin\n3,Zed\n", encoding="utf-8")
    for whose in ("all", "each"):
        (folder / "plan.yaml").write_text(
            f"class_list: list.csv\nproblems_for: {whose}\nbooks: hundreds\ndouble_sided: yes\nanswer_key: yes\nterm: Autumn\n"
            "problems:\n  - {family: stepped-block}\n", encoding="utf-8")
        plan = load_plan(folder / "plan.yaml", load_bank(), week=2)
        edition = edition_of(plan, settings_with(Style(week=plan.style.week), wording), (Role.QUESTION, Role.MARKING))
        maker = WorksheetMaker(plan, edition.jobs, edition.settings, Shelf(folder / whose))
        (folder / whose).mkdir()
        assert len(list(maker.run())) == len(edition.jobs)
        for _, document in edition.files(maker):
            texts += [*of_file(document), *(text for page in document.pages for text in on_page(page))]
        texts += [text.decode("utf-8-sig") for _, text in edition.lists(maker)]
    return texts


def split_texts(wording: Wording) -> list[str]:
    """What a construction says where its sentences are so long that they must be split."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("sheetgen.exercises.construction.words.LONGEST", 20)
        problem, settings = problem_of(load_bank()["counterbored-block"].sample(1)), settings_with(Style(), wording)
        stages = stages_of(problem, settings, task_of(problem, settings).drawing)
    return [sentence for stage in stages for sentence in stage.sentences]


def hint_texts(wording: Wording, folder: Path) -> list[str]:
    """What stands on hint sheets of some families of the bank, and of parts that the bank has not."""
    bank = {**load_bank(), **load_bank(bank_of(folder, **ODD))}
    texts: list[str] = []
    for number, name in enumerate((*HINTED, *ODD)):
        settings = settings_with(Style(side="both" if number % 2 else "left"), wording)
        problem = problem_of(bank[name].sample(1 + number % 2))
        for page in hint_pages(problem, settings, hinted(problem, settings)[1], Particulars()):
            texts += on_page(page)
    return texts


def paper_pages_texts(wording: Wording) -> tuple[list[str], set[str]]:
    """What stands on covers, plans of rooms and pictures of a paper of two rooms, one of them in several parts; and which words
    of it are the plan's."""
    plan = paper(60, (HALL, replace(BARN, gaps=BARN.gaps | {(1, 3)})), timed=True)
    settings, assignment = settings_with(plan.style, wording), lots(60)
    found = [replace(one, bound=0.0) if one.quantity == "index" else one for one in reached(assignment)]
    documents = [SeatingSheets(plan, settings).document, EquitySheets(plan, assignment, found, settings).document]
    texts = [text for document in documents for text in of_file(document)]
    pages = [Cover(plan, settings).page(plan.candidates[0]), *(page for document in documents for page in document.pages)]
    given = [plan.title, plan.board, plan.date, plan.candidates[0].name, "EX", *(room.name for room in plan.rooms)]
    return [*texts, *(text for page in pages for text in on_page(page))], words(given)


def paper_texts(wording: Wording, folder: Path) -> list[str]:
    """What stands on the sheets of a paper for two candidates, and in its files: in one room with the item's time, and in two
    rooms without."""
    texts: list[str] = []
    for rooms, minutes in (("- {rows: 1, columns: 2}", ", minutes: 20"),
                           ("- {name: Attic, rows: 1, columns: 1}\n- {name: Cellar, rows: 1, columns: 1}", "")):
        (folder / "plan.yaml").write_text(
            f"title: Exam\ncandidates: 2\nbooks: hundreds\nmarking: yes\noverlay: yes\nrooms:\n{rooms}\nitems:\n"
            f"- {{family: stepped-block, marks: 5{minutes}}}\n", encoding="utf-8")
        plan, bank = load_paper(folder / "plan.yaml", load_bank())
        style = Style(title_block="quarry", values=replace(VALUES, status=""))
        paper = Paper(plan, bank, settings_with(style, wording), Key(bytes(32)), "1")
        made = Printing(paper, Key(bytes(32)), None).make(Shelf(folder))
        for _, document in made.files:
            texts += [*of_file(document), *(text for page in document.pages for text in on_page(page))]
        texts += [text.decode("utf-8-sig") for _, text in made.lists]
        for path in folder.iterdir():
            path.unlink()
    return texts


def pack_texts(wording: Wording, folder: Path) -> tuple[list[str], set[str]]:
    """What the page of a pack says, what is said of parts in it, and what a list of packs says; and which words it may have."""
    (folder / "plan.yaml").write_text("problems: [{rung: [1, 2, 3, 4, 5], count: 8}]", encoding="utf-8")
    read = load_pack(folder / "plan.yaml", load_bank())
    pack = Pack(read, settings_with(read.plan.style, wording), "1")
    texts = [re.sub("%[a-z_]+%", "", text) for text in pack.site.texts().values()]
    texts += [pack.title, *(pack.site.rung_title(rung) for rung in range(1, 6)), wording.render("pack.advice", paper="A3"),
              wording.render("pack.set", mark="0")]
    told = [family_of(folder / "odd", EVERY_WORD), *(load_bank()[name] for name in sample("descriptions"))]
    texts += [description_of(variant, solid_of(variant), wording) for family in told for variant in map(family.sample, (1, 2))]
    packs = [Listed("one/index.html", "Zed", "", 8, (1,), ("quin",))]
    texts += re.findall(">([^<]+)<", dict(files_of_list(packs, wording))["index.html"].decode())
    texts += [wording.render("packs.shown", shown="1", all="2"), wording.render("packs.none")]
    return texts, {"zed", "quin"}


def match_texts(wording: Wording) -> list[str]:
    """Why each sort of wrong drawing to match is wrong: no one sheet has them all."""
    settings, problem = settings_with(Style(), wording), problem_of(load_bank()["counterbored-block"].sample(1))
    options = [Option((), OTHER_SIDE), Option((), PLACES), *(Option((), each.sort, each) for each in siblings(problem))]
    return [reason_of(option, "", problem, settings, WHOLE) for option in options]


@pytest.fixture(scope="module")
def bank(tmp_path_factory) -> Mapping[str, Family]:
    folder = tmp_path_factory.mktemp("families")
    return {**load_bank(), **load_bank(bank_of(folder, **{name.replace("-", "_"): text for name, text in OURS.items()}))}


@pytest.fixture(scope="module", autouse=True)
def the_first_draw_that_can_be_printed():
    """Of each seed, not the cleanest of some: words are the same on all, and to draw them takes long."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(making, "CLEANEST_OF", 1)
        yield


@pytest.fixture(scope="module")
def printed(bank, tmp_path_factory) -> dict[str, tuple[list[str], set[str]]]:
    """What stands on every sort of sheet and in its file, in a wording of invented words, and which others may stand there."""
    wording, found = nonsense(), {}
    given = words([VALUES.school, VALUES.course, VALUES.teacher, VALUES.group, VALUES.date, VALUES.status, wording.language])
    for sort, (name, style) in SHEETS.items():
        settings, texts = settings_with(style, wording), list[str]()
        codes = set[str]()
        marks, scheme = MARKED[len(found) % len(MARKED)]
        said = Particulars(marking=Marking.of(marks, load_marking(scheme)))
        for kind in kinds():
            if kind != USUAL and sort not in IN_EVERY_KIND and (kind, sort) not in IN_ONE_MORE:
                continue
            try:
                exercise = make_exercise(bank[name], SEEDS.get(sort, 1), settings, asked_of(kind), kind, said)
            except RefusedSeedError:
                assert not kinds()[kind].of_every
                continue
            codes.add(exercise.particulars.code)
            texts += [text for pages in exercise.sheets.values() for page in pages for text in on_page(page)]
            for role, pages in exercise.sheets.items():
                texts += of_file(file_of(exercise, role, settings))
                texts += of_file(described(pages, title_of_set("", role, settings), settings, (), ()))
        found[sort] = texts, given | of_bank(bank[name]) | of_block(settings) | words([*codes])
    for name, style in CONSTRUCTIONS.items():
        settings = settings_with(style, wording)
        exercise = make_exercise(bank[name], 1, settings, (*ASKED, Role.CONSTRUCTION))
        texts = [text for page in exercise.sheets[Role.CONSTRUCTION] for text in on_page(page)]
        found[f"construction of {name}"] = (
            texts, given | of_bank(bank[name]) | of_block(settings) | words([exercise.particulars.code]))
    found["construction in short sentences"] = split_texts(wording), given | of_bank(bank["counterbored-block"])
    families = [bank[name] for name, _ in SHEETS.values()][:5]
    sheets = contact(families, wording)
    texts = [*of_file(sheets), *(text for page in sheets.pages for text in on_page(page))]
    found["contact sheets"] = texts, set().union(*map(of_bank, families))
    own = given | of_bank(bank["stepped-block"]) | {"quin", "zed"}
    texts = class_texts(wording, tmp_path_factory.mktemp("class"))
    codes = [code for text in texts for code in re.findall(r"\b(?:[0-9A-Z]{6}-){2}[0-9A-Z]{6}\b", text)]
    assert len(set(codes)) == 3                              # of the problem that all have, and the first as theirs, and two more
    found["a class's sheets"] = texts, own | words(codes)
    found["hint sheets"] = hint_texts(wording, tmp_path_factory.mktemp("hints")), given | set().union(
        *map(of_bank, bank.values()), *(words([text.partition("\n")[0]]) for text in ODD.values()))
    texts = paper_texts(wording, tmp_path_factory.mktemp("paper"))
    codes = [code for text in texts for code in re.findall(r"\b(?:[0-9A-Z]{6}-){2}[0-9A-Z]{6}\b", text)]
    found["a paper's sheets"] = texts, given | {"exam", "attic", "cellar"} | words(codes)     # and no word of the family's
    texts, own = paper_pages_texts(wording)
    found["a paper's pages"] = texts, given | own
    found["reasons of drawings to match"] = match_texts(wording), given | of_bank(bank["counterbored-block"])
    found["the viewer of a pack's page"] = [*words_of(wording, "first").values()], set()
    texts, own = pack_texts(wording, tmp_path_factory.mktemp("pack"))
    found["the page of a pack"] = texts, given | own
    return found


PAPERS = ("a paper's sheets", "a paper's pages")

PAGES = ("the viewer of a pack's page", "the page of a pack")

SORTS = (*SHEETS, *(f"construction of {name}" for name in CONSTRUCTIONS), "construction in short sentences", "contact sheets",
         "a class's sheets", "hint sheets", "reasons of drawings to match",
         *PAPERS, *PAGES)


@pytest.mark.parametrize("sort", SORTS)
def test_every_word_on_a_sheet_is_of_the_wording_the_bank_the_plan_or_the_title_block(printed, sort):
    texts, allowed = printed[sort]
    assert words(texts) - set(INVENTED.values()) - allowed == set()


def test_every_text_of_a_wording_is_printed_somewhere(printed):
    seen = set().union(*(words(texts) for texts, _ in printed.values()))
    assert " ".join(key for key, word in INVENTED.items() if word not in seen) == ""


def test_language_status_and_student_come_from_wording_plan_and_class_list():
    settings = settings_with(Style(), nonsense())
    exercise = make_exercise(load_bank()["stepped-block"], 1, settings, PRINTED)
    for pages in exercise.sheets.values():
        assert {"QAA", "DRAFT"} <= set(on_page(pages[0]))


@pytest.mark.parametrize(("kind", "name", "sort"), [
    (kind, name, sort) for kind in kinds() for w, name in enumerate(wording_names()) for k, sort in enumerate(SHEETS)
    if k % 2 == w % 2 and (kind == USUAL or sort in IN_EVERY_KIND)])
def test_sheets_of_every_kind_can_be_printed_in_every_wording_that_comes_with_us(bank, kind, name, sort):
    family, style = SHEETS[sort]
    settings = settings_with(style, load_wording(name))
    if kind != USUAL:
        try:
            assert make_exercise(bank[family], 1, settings, asked_of(kind), kind)
        except RefusedSeedError:
            assert not kinds()[kind].of_every
        return
    made = make_exercise(bank[family], 1, settings, asked_of(kind))
    titles = {settings.wording.render(f"views.{view}") for view in ("front", "top")}
    assert titles <= set(on_page(made.sheets[Role.ANSWER][0]))
    assert file_of(made, Role.ANSWER, settings).language == settings.wording.language


def refused(wording: Wording, jobs: Sequence[tuple[str, int, Style]]) -> Iterator[str]:
    """The pairs, by family and seed, that cannot be printed in this wording."""
    bank = load_bank()
    for family, seed, style in jobs:
        try:
            sheets_of(problem_of(bank[family].sample(seed)), settings_with(style, wording))
        except RefusedError as error:
            yield f"{family}-{seed}: {error}"


def test_words_twice_as_long_find_room_on_nearly_all_sheets():
    # other languages take up to twice the room of English; at most one of a dozen variants may be lost by it
    styles = [Style(side=side, projection=projection) for side in ("left", "right") for projection in ("first", "third")]
    jobs = [(name, 1, styles[k % 4]) for k, name in enumerate(sample("long words"))]
    lost = list(refused(twice_as_long(), jobs))
    assert len(lost) <= 1, lost
