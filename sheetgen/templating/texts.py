"""The texts of a wording by name, each with the values it may show: what is printed on sheets, beside those of hint sheets and of
pages, which have files of their own."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from sheetgen.templating.auxiliary import AUXILIARY_CHOICES, AUXILIARY_NEEDED, AUXILIARY_PHRASES
from sheetgen.templating.construction import CONSTRUCTION_CHOICES, CONSTRUCTION_NEEDED, CONSTRUCTION_PHRASES
from sheetgen.templating.hints import HINT_CHOICES, HINT_NEEDED, HINT_PHRASES
from sheetgen.templating.pages import PAGE_CHOICES, PAGE_NEEDED, PAGE_PHRASES
from sheetgen.templating.pictorial import PICTORIAL_CHOICES, PICTORIAL_NEEDED, PICTORIAL_PHRASES
from sheetgen.templating.pieces import PIECE_CHOICES, PIECE_NEEDED, PIECE_PHRASES

LABELS = (
    "school_and_course", "title", "student", "class", "document_type", "scale", "sheet", "set_by", "date_of_issue",
    "identification_number", "status", "paper", "language", "topic", "number", "approved_by",
)
"""The labels that cells of title blocks can have, by name; what they say stands in the wording."""

INSTRUCTIONS = ("closed", "own", "whole", "time", "answers", "sizes", "pencil", "alone", "square", "devices", "end")
"""The instructions on the cover of a paper, in the order in which they are printed."""

OF_PAPER = ("items", "marks", "minutes")
"""What an instruction may show of its paper: how many items, marks in all, minutes ("" if none are given)."""

PHRASES: Mapping[str, tuple[str, ...]] = MappingProxyType({
    "language.code": (),
    "notice": (), "units": (), "status": (), "sheet_of": ("sheet", "sheets"),
    "check_bar": (),
    # titles under the views, and the same views inside a sentence
    **{f"views.{view}": () for view in ("front", "top", "left", "right", "auxiliary")},
    **{f"named.{view}": ("arrow",) for view in ("front", "top", "left", "right")},
    **{f"letters.{letter}": () for letter in ("arrow_front", "arrow_left", "arrow_right", "first", "second", "third", "fourth")},
    "projection.first": (), "projection.third": (),
    **{f"documents.{role}": () for role in ("question", "answer", "blank", "marking", "construction", "projectors")},
    # notes of holes
    "hole.depth": ("depth",), "hole.flat": ("depth",), "hole.through": ("size",),
    "hole.to_bore": ("size", "bore"), "hole.to_hollow": ("size", "hollow"),
    "hole.counterbore": ("size",), "hole.countersink": ("size",),
    # the question
    "scale.full": ("scale",), "scale.reduced": ("scale",),
    "question.task": ("scale", "projection"),
    "question.view": ("letter", "view", "last"),
    "question.symmetry_x": (), "question.symmetry_y": (), "question.symmetry_xy": (),
    "question.hidden": (), "question.centre_lines": (), "question.dimension": (), "question.sheet": (),
    # the question of a part in section
    "section.letter": (), "section.name": ("view", "letter", "half"),
    "section.task": ("scale", "projection"), "section.view": ("letter", "view", "last"),
    "section.full": ("view", "letter"), "section.half": ("view", "letter"),
    "section.plane": ("letter", "sectioned", "place"), "section.offset": ("letter", "sectioned", "place"),
    "section.turn": ("turn", "sectioned", "place"), "section.place": ("sectioned", "at", "middle", "holes", "several"),
    "section.show": ("letter", "home"), "section.think": ("letter",),
    "section.draw_plane": ("letter", "home", "turns"), "section.hatch": ("angle", "spacing"), "section.rib": (),
    "section.half_line": (),
    "section.hidden": ("half",), "section.leave_rib": (), "section.half_turn": (),
    "section.centre_lines": (), "section.dimension": (),
    # the question of the kind faces
    "faces.task": (), "faces.given": ("scale", "projection"), "faces.arrow": ("arrow",), "faces.leaders": ("dots",),
    **{f"faces.{text}": () for text in ("edge_on", "area", "unseen", "award")},
    "faces.face": (), "faces.none": (), "faces.look_flat": (), "faces.look_edge": (), "faces.one": ("face", "view", "number"),
    # the question of the kind mistakes, and what is wrong
    "mistakes.task": ("scale", "projection"), "mistakes.asked": (), "mistakes.view": ("letter", "view", "last"),
    "mistakes.count": ("count",), **{f"mistakes.sorts_{of}": () for of in ("lines", "views", "sizes")},
    "mistakes.mark": ("listed",), "mistakes.heading": ("count",), "mistakes.list": (),
    "mistakes.row": ("number", "view", "what"),
    **{f"mistakes.{sort}": ("line",) for sort in ("missing", "extra", "as_hidden", "as_visible")}, "mistakes.side": (),
    "mistakes.struck": (), "mistakes.unsaid": (),
    "mistakes.place": ("projection",), "mistakes.wrong": ("right", "wrong"), "mistakes.radius": ("right", "wrong"),
    "mistakes.left_out": ("right",), "mistakes.twice": ("right",),
    "mistakes.award": (), "mistakes.worth": ("row", "marks"), "mistakes.deduct": (),
    **{f"mistakes.how_{of}": () for of in ("lines", "edges", "sizes")},
    "mistakes.counts": ("of_lines", "of_sizes", "of_views"), "mistakes.in_view": ("view", "count"), "mistakes.one": ("row",),
    # the question of the kind match, and what is wrong with candidates
    "match.one": ("first", "last", "view"), "match.whole": ("first", "last", "projection"),
    "match.four": ("first", "last", "count", "projection"), "match.drawn": ("scale",), "match.arrow": ("arrow",),
    **{f"match.{text}": () for text in ("write", "pictorials", "table", "answer", "look_one", "look_four", "look_hidden")},
    **{f"match.{sort}": ("letter",) for sort in ("right", "other_side")},
    **{f"match.{sort}": ("letter", "what") for sort in ("dropped", "blind", "through")},
    "match.mirrored": ("letter", "way"), "match.moved": ("letter", "what", "toward"), "match.places": ("letter", "projection"),
    **{f"match.{sort}": ("letter", "hidden", "several", "what", "view") for sort in ("missing", "as_hidden", "as_visible")},
    "match.pair": ("letter", "number"), "match.worth": ("name", "right", "marks"),
    # which line of a view is meant, and of what a size is
    "said.straight": ("drawn", "run", "length", "at"), "said.starting": ("at", "start"),
    "said.slant": ("drawn", "length", "one", "other"), "said.round": ("drawn", "size", "at"),
    "said.size": ("size", "what"), "said.of": ("what",),
    # questions of given views
    "given.square": (), "given.holes": (), "given.upright": ("view",), "given.too_many": (), "given.answer": ("number", "count"),
    "third.given": ("first", "second", "scale", "projection"), "third.task": ("view",), "third.hidden": (),
    "third.centre_lines": (), "third.any": (), "third.one_of": ("count",),
    "third.all": ("count",), "third.box": ("view", "wide", "high"), "third.carry": ("first", "second", "turned"),
    "third.think": ("first", "second"),
    "missing.given": ("scale", "projection"), "missing.task": ("count",), "missing.of_view": ("view", "visible", "hidden"),
    "missing.put_back": ("count",), "missing.row": ("number", "view", "line"),
    "missing.centres": (), "missing.think": (), "missing.corners": (),
    "missing.begin": ("view", "count"), "missing.carry": (),
    # the question of the kind pictorial
    **PICTORIAL_PHRASES,
    # the kind auxiliary
    **AUXILIARY_PHRASES,
    # general notes
    **{f"notes.through_{cut}": ("several",) for cut in ("slot", "keyway", "groove", "channel", "tunnel", "rebate")},
    "notes.through_hollow": ("several", "size"), "notes.through_cuts": (),
    "notes.sloping_hole": ("several", "faces", "way", "size"), "notes.sloping_slot": ("several", "faces", "way"),
    "notes.drill_points": ("angle",), "notes.concentric": ("one", "other"),
    "notes.isometric_full": (), "notes.isometric_reduced": ("scale",), "notes.not_to_scale": (),
    # how the views were spaced
    "spacing.heading": (),
    "spacing.space": ("length", "breadth"),
    "spacing.sizes": ("width", "depth", "height"),
    **{f"spacing.across{scaled}": ("length", "sizes", "gaps", "gap", "scale") for scaled in ("", "_scaled")},
    **{f"spacing.up{scaled}": ("breadth", "kept", "sizes", "gaps", "gap", "scale") for scaled in ("", "_scaled", "_kept")},
    # what parts are made of, and how the answer is built, stage by stage
    **PIECE_PHRASES, **CONSTRUCTION_PHRASES,
    # the marking sheet: the scheme, what is looked at, and the errors that are likely
    "marking.heading": ("marks",), "marking.award": (), "marking.deduct": (),
    **{f"marking.{text}": () for text in (
        "line", "forward", "figures", "wrong_view", "part", "numbers", "count", "right", "off", "marks", "given", "total",
        "arrangement", "outlines", "curves", "hidden", "centre", "lines", "hatching", "cutting_plane", "along",
        "sloping", "box", "direction", "bold", "thin_lines", "box_axes", "box_sizes", "side_shown", "arrow", "dimensions",
        "line_work", "title_block", "in_line", "widths", "dashes", "clean",
        "filled_in", "lettering", "likely", "alike", "projected", "carried", "true_sizes", "swapped", "picture_other")},
    "marking.tolerance": ("scale",), "marking.between": ("first", "last"), "marking.step": ("count", "marks"),
    "marking.at_most": ("marks", "most"), "marking.where": ("view", "where"), "marking.symbol": ("projection",),
    "marking.sizes": ("view",),
    **{f"marking.{why}": ("view", "lines") for why in ("unseen", "partly", "short")},
    "marking.joins": ("view", "count"), "marking.doubled": ("sizes", "view", "other"),
    "marking.wrong_side": ("view",), "marking.wrong_side_off": ("view", "marks"), "marking.wrong_projection": ("projection",),
    "marking.picture": ("scale",),
    # the film that is laid over a script
    "overlay.view": ("view", "scale"), "overlay.code": ("code", "title"), "overlay.film": (),
    # the hint sheets
    **HINT_PHRASES,
    # the list of marks
    **{f"marks.{heading}": () for heading in ("number", "name", "group")},
    "marks.code": ("item",), "marks.part": ("item", "part", "marks"), "marks.total": ("item", "marks"),
    "marks.sum": ("marks",),
    # labels in the cells of title blocks
    **{f"labels.{label}": () for label in LABELS},
    # what the PDF files are called and are about
    **{f"files.{role}": ("title", "code")
       for role in ("question", "answer", "blank", "marking", "overlay", "hints", "construction", "projectors")},
    **{f"files.{role}s": ("title",) for role in ("question", "answer", "blank", "marking", "overlay", "construction")},
    "files.all_hints": ("title",), "files.all_projectors": ("title",),
    "files.keys": ("title",), "files.seating": ("title",), "files.equity": ("title",), "files.book": ("title", "book"),
    "files.span": ("first", "last"), "files.worksheet": (), "files.week": ("title", "week"), "files.subject": ("projection",),
    # of a class, and of the key to its answers
    "students.named": ("name", "number"), "students.left_blank": (),
    "key.reduced": (), "key.sheet": ("sheet", "title"), "key.of_student": ("student", "sheet"),
    # the cover sheet of a paper
    **{f"cover.{label}": () for label in (
        "number", "seat", "room", "name", "date", "time", "marks", "items", "item", "out_of", "time_of_item", "awarded", "total",
        "instructions")},
    "cover.minutes": ("minutes",), "cover.for_examiner": ("awarded",),
    **{f"instructions.{name}": OF_PAPER for name in INSTRUCTIONS},
    # the plan of a room
    "seating.plan": ("title", "date"), "seating.room": ("room", "candidates", "seats", "rows"), "seating.list": ("room",),
    "seating.part": ("rows", "columns"), "seating.ahead": ("rows",),
    "seating.span": ("first", "last"),
    **{f"seating.{text}": () for text in (
        "front", "row", "looking", "desk", "free_seat", "number", "name", "place", "rooms", "of_room", "seats", "taken", "free",
        "sheets", "total")},
    # how even a paper is
    "equity.title": ("title",), "equity.item": ("item",), "equity.candidates": ("candidates", "variants"),
    "equity.candidates_whole": ("candidates", "items", "marks"),
    **{f"equity.{text}": () for text in (
        "whole", "index", "visible", "hidden", "centre", "dimensions", "how", "how_whole", "quantity", "middle", "bound", "least",
        "mean", "greatest", "reached", "within", "met", "missed", "uncalibrated", "not_proven")},
    # of a paper, an examination
    "paper.item": ("item",), "paper.allowed": ("item", "marks", "minutes"), "paper.status": (),
    "paper.seat": ("row", "column"), "paper.seat_in": ("room", "row", "column"), "paper.seated": ("number", "seat"),
    "paper.film": ("code", "item", "who"),
    # the part that a pack's page turns: buttons, and what is said of them
    **{f"turn.{word}": () for word in (
        "look", "pictorial", "front", "top", "left", "right", "hidden", "unfold", "folding", "boxed", "turning", "keys",
        "turn_left", "turn_right", "turn_up", "turn_down", "larger", "smaller", "back")},
    "turn.unfolded": ("projection",),
    # the page of a pack, the list of packs, a part told in words
    **PAGE_PHRASES,
    # contact sheets of the bank
    "contact.title": (), "contact.subject": (),
    "contact.heading": ("rung", "what"), "contact.sheet": ("sheet", "sheets"), "contact.below": ("rung", "topics"),
    "contact.undrawn": (),
    **{f"contact.rung_{rung}": () for rung in range(1, 6)},
})
"""Every text by name, with the values it may show."""

NEEDED = (
    "hole.", "scale.reduced", "question.task", "question.view", "section.task", "section.view", "section.turn",
    "mistakes.task", "mistakes.view", "mistakes.count", "mistakes.row", "mistakes.wrong", "mistakes.radius", "mistakes.left_out",
    "faces.one", "match.one", "match.whole", "match.four", "match.pair", "match.worth", "match.right",
    "mistakes.twice", "mistakes.missing", "mistakes.extra", "mistakes.as_", "mistakes.worth", "mistakes.in_view", "mistakes.one",
    "match.moved", "match.dropped", "match.blind", "match.through",
    "given.upright", "third.given", "third.task", "third.box", "third.all", "third.one_of",
    "missing.task", "missing.given", "missing.row", *AUXILIARY_NEEDED, "said.starting", "said.size", "said.of",
    "notes.through_hollow", "notes.sloping_hole",
    "notes.drill_points", "notes.concentric",
    "notes.isometric_reduced", "students.named", "cover.minutes", "paper.", "marking.heading",
    "marking.between", "marking.step", "marking.at_most", "marking.sizes", "marking.unseen", "marking.partly", "marking.short",
    "marks.part", "marks.total", "marks.sum", "overlay.view", *PIECE_NEEDED, *CONSTRUCTION_NEEDED, *HINT_NEEDED, *PAGE_NEEDED,
    *PICTORIAL_NEEDED,
)
"""Beginnings of the names of texts that must show each of their values as it is, because without it the sheet would be wrong: a
note of a hole without its size, a task without its scale."""

CHOICES: Mapping[str, tuple[str, ...]] = MappingProxyType({
    "last": ("no", "yes"), "several": ("no", "yes"), "faces": ("no", "yes"), "way": ("up", "wide", "deep"),
    "where": ("above", "below", "left", "right"), "sectioned": ("front", "top", "side"), "home": ("front", "top"),
    "middle": ("no", "yes"), "turns": ("no", "yes"), "half": ("no", "yes"), "listed": ("no", "yes"), "turned": ("no", "yes"),
    "drawn": ("any", "visible", "hidden", "centre"),
    "dots": ("no", "yes"), "toward": ("left", "right", "front", "back", "down", "up", "opposite"),
    **AUXILIARY_CHOICES, **PIECE_CHOICES, **CONSTRUCTION_CHOICES, **HINT_CHOICES, **PAGE_CHOICES, **PICTORIAL_CHOICES,
})
"""Values that a text chooses by and does not show, and what they can be."""

COMPOSED = ("pieces.", "hints.", "construction.", "said.")
"""Beginnings of the names of texts that others are put into, sentences of their parts."""
