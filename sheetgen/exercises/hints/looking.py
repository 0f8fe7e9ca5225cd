"""The first hint in sentences: what to look for. Its numbers are sizes of the part, mm."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence

import numpy as np

from sheetgen.bank.features import Rib
from sheetgen.exercises.drawing import Drawing
from sheetgen.exercises.hints.lists import counted, counted_noun, listed
from sheetgen.exercises.hints.rounds import curves, holes
from sheetgen.exercises.hints.sentences import along_words, axis_of, one_a_side, several, shapes, standing, view_words
from sheetgen.exercises.nouns import FACES
from sheetgen.exercises.pieces import Piece, own
from sheetgen.exercises.surfaces import inclined, oblique
from sheetgen.measures.measures import number
from sheetgen.problem import Problem
from sheetgen.projection import LineKind
from sheetgen.sheet import Settings
from sheetgen.solid import Solid


def look(problem: Problem, settings: Settings, drawing: Drawing, pieces: Sequence[Piece]) -> Iterator[str]:
    """What to look for, the most needed first."""
    say = settings.wording.render
    wide, deep, high = (number(float(size)) for size in problem.solid.size)
    yield say("hints.over_all", width=wide, depth=deep, height=high)
    yield from _made_of(problem.solid, settings, pieces)
    yield from standing(problem, settings, drawing, pieces)
    yield from shapes(settings, drawing, pieces)
    yield from _slopes(problem, settings, drawing, pieces)
    yield from curves(settings, drawing, pieces)
    yield from holes(settings, drawing, pieces)
    if problem.solid.edges.tangent.any():
        yield say("hints.joins")
    yield from _hidden(settings, drawing)


def _made_of(solid: Solid, settings: Settings, pieces: Sequence[Piece]) -> Iterator[str]:
    """What the part is built up of, what is cut out of it, and what is cut off its pieces."""
    say, wording = settings.wording.render, settings.wording
    added = [piece for piece in pieces if not piece.cut]
    cut = [piece for piece in pieces if piece.cut and piece.noun not in FACES]
    names = counted(added, wording)
    if sum(piece.count for piece in added) == 1:
        yield say("hints.one_piece", what=names[0])
    elif names:
        yield say("hints.built_up", what=listed(names, wording))
    if cut:
        yield say("hints.cut_out", what=listed(counted(cut, wording), wording),
                  several=several(sum(piece.count for piece in cut)))
    hosts: dict[int, list[Piece]] = {}
    for piece in pieces:
        if piece.noun in FACES:
            hosts.setdefault(_host(solid, piece, pieces), []).append(piece)
    for host, faces in hosts.items():
        whole = pieces[host].called(wording) if pieces[host].known else counted_noun(pieces[host].noun, 1, wording)
        yield say("hints.cut_on", piece=whole, what=listed(counted(faces, wording), wording))


def _host(solid: Solid, face: Piece, pieces: Sequence[Piece]) -> int:
    """The place of the piece that a face is cut on: that with the most edges round it."""
    mine = own(solid, face)
    pair = solid.edges.pair[solid.edges.sharp]
    round_it = pair[np.isin(pair, mine).any(axis=1)].ravel().tolist()
    added = [place for place, piece in enumerate(pieces) if not piece.cut]
    return max(added, key=lambda place: (sum(k in pieces[place].surfaces and k not in mine for k in round_it), -place))


def _slopes(problem: Problem, settings: Settings, drawing: Drawing, pieces: Sequence[Piece]) -> Iterator[str]:
    """In which view sloping faces are seen edge on, and that no view shows oblique ones so."""
    say, wording, told = settings.wording.render, settings.wording, Counter[int]()
    for surface, axis in inclined(problem.solid).items():
        ribs = sum(isinstance(piece.feature, Rib) and surface in piece.surfaces for piece in pieces)
        told[axis] += max(ribs, 1)                 # those of two ribs alike lie in one plane
    for axis in map(axis_of, one_a_side(drawing)):
        if count := told[axis]:
            key, noun = ("hints.askew", "upright_face") if axis == 2 else ("hints.edge_on", "slope")
            yield say(key, view=along_words(axis, settings), what=counted_noun(noun, count, wording), several=several(count))
    if count := len(oblique(problem.solid)):
        yield say("hints.oblique", several=several(count))


def _hidden(settings: Settings, drawing: Drawing) -> Iterator[str]:
    """Where most of the hidden lines are."""
    counts = [len(placed.lines(LineKind.HIDDEN)) for placed in drawing.views]
    if not any(counts):
        yield settings.wording.render("hints.none_hidden")
    elif counts.count(max(counts)) == 1:
        view = view_words(drawing.views[counts.index(max(counts))], settings)
        key = "hints.only_hidden" if max(counts) == sum(counts) else "hints.most_hidden"
        yield settings.wording.render(key, view=view, several=several(max(counts)))
