"""The sentences of a stage, from what it draws, through the texts of the wording."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

import numpy as np

from sheetgen.exercises.construction.board import Board, Need
from sheetgen.exercises.construction.clauses import Clauses
from sheetgen.exercises.construction.features import Group, sizes_of
from sheetgen.exercises.construction.order import Drawn, Step
from sheetgen.exercises.construction.places import Places
from sheetgen.exercises.construction.record import AnswerLine, Part
from sheetgen.exercises.drawing import Drawing
from sheetgen.exercises.marking.likely import sizes_on
from sheetgen.exercises.spacing import spacing_lines
from sheetgen.measures import DRILL_POINT
from sheetgen.measures.measures import number
from sheetgen.problem import Problem
from sheetgen.projection import Arc, LineKind
from sheetgen.sheet import Settings

SAME_END = 0.03
"""mm in the view: ends nearer than this meet."""

LONGEST = 200
"""Signs of what a sentence lists; more make another sentence, which keeps all under the limit of a text."""


class Words:
    """Says what the steps of one construction do."""

    def __init__(
        self, problem: Problem, settings: Settings, drawing: Drawing, board: Board, groups: Sequence[Group],
        lines: Sequence[AnswerLine],
    ) -> None:
        self.problem, self.settings, self.drawing = problem, settings, drawing
        self.board, self.groups, self.lines = board, groups, lines
        self.places = Places(problem, settings.wording)
        self.clauses = Clauses(board, self.places, settings)
        self._say = settings.wording.render

    def heading(self, step: Step, number_: int, steps: int) -> str:
        """What stands over the sentences of a step."""
        what = f"views.{step.view}" if step.part is Part.VIEW else f"construction.{step.part}"
        return self._say("construction.heading", step=number_, steps=steps, what=self._say(what))

    def sentences(self, step: Step) -> list[str]:
        """What a step does, sentence by sentence."""
        return list({
            Part.BOXES: self._boxes, Part.VIEW: self._view, Part.MITRE: self._mitre, Part.HIDDEN: self._hidden,
            Part.CURVES: self._curves, Part.CENTRES: self._centres, Part.SIZES: self._sizes}[step.part](step))

    def _boxes(self, _: Step) -> Iterator[str]:
        layout = self.drawing.layout
        boxes = []
        for name in self.board.views:
            wide, high = self.board.box(name)[2].tolist()
            boxes.append(self._say("construction.box", view=self.clauses.view(name), wide=number(wide), high=number(high)))
        yield self._say("construction.draw_boxes", boxes=self.places.listed(boxes))
        if layout.scale_name != "1:1":
            yield self._say("construction.to_scale", scale=layout.scale_name)
        yield from ("", *spacing_lines(self.problem, self.settings, layout))

    def _view(self, step: Step) -> Iterator[str]:
        for drawn in step.drawn:
            for text in self._joined(self.clauses.of(drawn)):
                yield self._say("construction.drawn", feature=self._feature(drawn.group), lines=text)
        if self._stops_short(step):
            yield self._say("construction.stops")

    def _stops_short(self, step: Step) -> bool:
        """Whether a line of the step ends where a curve will begin."""
        tips = [line.ends for line in self.lines if line.curve and line.view == step.view and line.kind is LineKind.VISIBLE]
        ends = [line.ends for line in step.lines if line.way is not None]
        if not sum(map(len, tips)) or not sum(map(len, ends)):
            return False
        away = np.concatenate(ends)[:, None] - np.concatenate(tips)
        return bool((np.hypot(away[..., 0], away[..., 1]) < SAME_END).any())

    def _mitre(self, _: Step) -> Iterator[str]:
        for side in self.board.mitres:
            yield self._say("construction.draw_mitre", top=self.clauses.view("top"), side=self.clauses.view(side))
        depth = number(float(self.problem.solid.size[1]))
        sides = self.places.listed([self.clauses.view(side) for side in self.board.mitres])
        yield self._say("construction.turn", top=self.clauses.view("top"), side=sides, depth=depth)

    def _hidden(self, step: Step) -> Iterator[str]:
        for group in dict.fromkeys(drawn.group for drawn in step.drawn):
            texts = [text for drawn in step.drawn if drawn.group == group for text in self._hidden_in(drawn)]
            for text in self._joined(texts):
                sizes = self._round_sizes(group)
                yield self._say("construction.hidden_of", feature=self._feature(group), sizes=sizes, lines=text)

    def _hidden_in(self, drawn: Drawn) -> Iterator[str]:
        """From where the hidden lines of a view come, and where those stand that come from nowhere."""
        view, whence = self.clauses.view(drawn.view), self.places.listed(self.clauses.sources(drawn))
        set_off = [need for need in drawn.needs if need not in drawn.whence]
        more = self._set_off(drawn, set_off) if set_off else []
        if whence:
            text = self._say("construction.hidden_in", view=view, whence=whence)
            if more and len(text) + len(more[0]) < LONGEST:
                text = self._say("construction.hidden_with", first=text, second=more.pop(0))
            yield text
        for lines in more:
            yield self._say("construction.hidden_off", view=view, lines=lines)

    def _set_off(self, drawn: Drawn, needs: Sequence[Need]) -> list[str]:
        """Where hidden lines stand that come from nowhere; of the point of a drilled hole its angle."""
        square = [line for line in drawn.lines if line.way is not None or isinstance(line.shape, Arc)]
        drilled = self.groups[drawn.group].drilled and len(square) < len(drawn.lines)
        some = replace(drawn, lines=tuple(square)) if drilled else drawn
        told = self.clauses.of(some, needs)
        return [*told, self._say("construction.drill_point", angle=number(DRILL_POINT))] if drilled else told

    def _curves(self, step: Step) -> Iterator[str]:
        told = dict.fromkeys((curve.line.view, curve.line.group, curve.views) for curve in step.curves)
        for view, group, whence in told:
            others = [self.clauses.view(name) for name in whence]
            yield self._say("construction.curve", feature=self._feature(group), view=self.clauses.view(view),
                            others=self.places.listed(others))
        if any(curve.rings for curve in step.curves):
            yield self._say("construction.cone")
        yield self._say("construction.join")

    def _centres(self, step: Step) -> Iterator[str]:
        closed = [line for line in self.lines if isinstance(line.shape, Arc) and line.kind is not LineKind.CENTRE]
        if closed:
            yield self._say("construction.centre_circles")
        if self.problem.solid.axis_groups:
            yield self._say("construction.centre_axes")
        if self.problem.symmetry:
            yield self._say("construction.centre_symmetry")

    def _sizes(self, _: Step) -> Iterator[str]:
        yield self._say("construction.put_sizes")
        for number_, placed in enumerate(self.drawing.views):
            sizes = sizes_on(number_, self.drawing)
            for some in _runs(sizes):
                view = self._say(f"views.{placed.view.name}")
                yield self._say("construction.sizes_on", view=view, sizes=self.places.listed(some))

    def _feature(self, group: int) -> str:
        one = self.groups[group]
        return self._say(f"construction.the_{one.noun}", several="yes" if one.count > 1 else "no")

    def _round_sizes(self, group: int) -> str:
        """The diameters and radii of a group, as they are printed."""
        return self.places.listed(sizes_of(self.problem, self.groups[group].names))

    def _joined(self, clauses: Sequence[str]) -> list[str]:
        """Clauses joined to texts that are not too long for a sentence."""
        texts: list[str] = []
        for clause in clauses:
            if texts and len(texts[-1]) + len(clause) < LONGEST:
                texts[-1] = self._say("construction.then", first=texts[-1], second=clause)
            else:
                texts.append(clause)
        return texts


def _runs(texts: Sequence[str]) -> Iterator[list[str]]:
    """Texts in runs that are not too long for a sentence."""
    run: list[str] = []
    for text in texts:
        if run and sum(map(len, run)) + 2 * len(run) + len(text) > LONGEST:
            yield run
            run = []
        run.append(text)
    if run:
        yield run
