"""The sentences of a stage, from what it draws, through the texts of the wording."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

import numpy as np
import shapely

from sheetgen.exercises.construction.board import SAME_PLACE, SIDES, Board, Need
from sheetgen.exercises.construction.clauses import RULED, Clauses
from sheetgen.exercises.construction.features import STANDING, Group, sizes_of
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
        lines: Sequence[AnswerLine], asked: str = "",
    ) -> None:
        self.asked = asked
        self.problem, self.settings, self.drawing = problem, settings, drawing
        self.board, self.groups, self.lines = board, groups, lines
        self.places = Places(problem, settings.wording)
        self.clauses = Clauses(board, self.places, groups, settings)
        self._say = settings.wording.render

    def heading(self, step: Step, number_: int, steps: int) -> str:
        """What stands over the sentences of a step."""
        what = (f"views.{step.view}" if step.part is Part.VIEW else "construction.one_box" if self.asked and
                step.part is Part.BOXES else f"construction.{step.part}")
        return self._say("construction.heading", step=number_, steps=steps, what=self._say(what))

    def sentences(self, step: Step, before: Sequence[Step]) -> list[str]:
        """What a step does, sentence by sentence; ``before``: the steps that went before it."""
        if step.dressed:
            return list(step.dressed.sentences)
        told = {
            Part.BOXES: self._boxes, Part.VIEW: self._view, Part.MITRE: self._mitre, Part.HIDDEN: self._hidden,
            Part.CURVES: self._curves, Part.CENTRES: self._centres, Part.SIZES: self._sizes}[step.part](step)
        framing = Part.BOXES, Part.PLANE, Part.VIEW, Part.MITRE
        framed = step.part not in framing and all(one.part in framing for one in before)
        rubbed = [self._say("construction.rub_out")] if framed else []
        return [*rubbed, *told, *(self._stops(step, before) if step.part is Part.VIEW else ())]

    def _boxes(self, _: Step) -> Iterator[str]:
        layout = self.drawing.layout
        if self.asked:
            wide, high = self.board.box(self.asked)[2].tolist()
            box = self._say("construction.box", view=self.clauses.view(self.asked), wide=number(wide), high=number(high))
            yield self._say("construction.draw_box", box=box)
            if layout.scale_name != "1:1":
                yield self._say("construction.to_scale", scale=layout.scale_name)
            return
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
            texts = self._joined([(text, 1) for text in self.clauses.of(drawn)])
            for place, (text, _) in enumerate(texts):
                if place:
                    yield self._say("construction.drawn_more", lines=text)
                else:
                    yield self._say("construction.drawn", feature=self._feature(drawn.group), lines=text)

    def _stops(self, step: Step, before: Sequence[Step]) -> Iterator[str]:
        """Where lines of a step end at nothing that is drawn yet."""
        known = [line for one in (*before, step) for line in one.lines if line.view == step.view]
        shapes = np.array([shapely.LineString(line.shape.points()) for line in known], dtype=object)
        found: dict[int, list[float]] = {}
        for line in step.lines:
            if line.way is None:
                continue
            away = np.array([shape is not None and line is not other for shape, other in zip(shapes, known, strict=True)])
            for end in line.ends:
                level = self.board.level(step.view, line.way, float(end[line.way]))
                near = shapely.distance(shapes[away], shapely.Point(end))
                if not self.places.on_edge(self.board.axis(step.view, line.way), level) and not (near < SAME_END).any():
                    found.setdefault(line.way, []).append(level)
        if not found:
            return
        if not all(self._of_corner(self.board.axis(step.view, way), level) for way, its in found.items() for level in its):
            yield self._say("construction.stops")
            return
        texts = [self._say(f"construction.stop_{('level', 'upright')[way]}", levels=self.places.at(
            self.board.axis(step.view, way), its)) for way, its in sorted(found.items())]
        lines = texts[0] if len(texts) == 1 else self._say("construction.stop_both", first=texts[0], second=texts[1])
        yield self._say("construction.stops_at", lines=lines)

    def _of_corner(self, axis: int, level: float) -> bool:
        """Whether a level can be set off with a ruler and is that of a corner of the part."""
        away = np.abs(self.problem.solid.vertices[:, axis] - level).min()
        return bool(away < SAME_PLACE) and abs(level / RULED - round(level / RULED)) < SAME_PLACE

    def _mitre(self, _: Step) -> Iterator[str]:
        for side in self.board.mitres:
            yield self._say("construction.draw_mitre", top=self.clauses.view("top"), side=self.clauses.view(side))
        depth = number(float(self.problem.solid.size[1]))
        listed = self.places.listed([self.clauses.view(side) for side in self.board.mitres])
        top, sides = self.clauses.view("top"), self.clauses.both if len(self.board.mitres) > 1 else listed
        yield self._say(f"construction.turn{'_back' if self.asked == 'top' else ''}", top=top, side=sides, depth=depth)

    def _hidden(self, step: Step) -> Iterator[str]:
        for group in dict.fromkeys(drawn.group for drawn in step.drawn):
            texts = list(self._hidden_of([drawn for drawn in step.drawn if drawn.group == group]))
            for place, (text, count) in enumerate(self._joined(texts)):
                several = "yes" if count > 1 else "no"
                if place:
                    yield self._say("construction.hidden_more", lines=text, several=several)
                else:
                    yield self._say("construction.hidden_of", feature=self._feature(group), sizes=self._round_sizes(group),
                                    lines=text, several=several)

    def _hidden_of(self, drawn: Sequence[Drawn]) -> Iterator[tuple[str, int]]:
        """The hidden lines of one group, view by view; of both side views together where the same is to be said of them."""
        told = {one.view: list(self._hidden_in(one, self.clauses.view(one.view))) for one in drawn}
        sides = [list(self._hidden_in(one, self.clauses.both)) for one in drawn if one.view in SIDES]
        if len(sides) == len(SIDES) and [text for text, _ in sides[0]] == [text for text, _ in sides[1]]:
            told = {view: texts for view, texts in told.items() if view not in SIDES}
            told["sides"] = [(text, count + more) for (text, count), (_, more) in zip(*sides, strict=True)]
        for texts in told.values():
            yield from texts

    def _hidden_in(self, drawn: Drawn, view: str) -> Iterator[tuple[str, int]]:
        """From where the hidden lines of a view come, and where those stand that come from nowhere; and how many there are."""
        whence = self.places.listed(self.clauses.sources(drawn))
        set_off = [need for need in drawn.needs if need not in drawn.whence]
        more = self._set_off(drawn, set_off) if not drawn.settled.issuperset(set_off) else []
        if whence:
            text = self._say("construction.hidden_in", view=view, whence=whence)
            with_it = list[str]()
            while more and len(text) + sum(map(len, with_it)) + len(more[0]) < LONGEST:
                with_it.append(more.pop(0))
            if with_it:
                text = self._say("construction.hidden_with", first=text, second=self.places.listed(with_it))
            yield text, len(drawn.lines)
        for lines in more:
            yield self._say("construction.hidden_off", view=view, lines=lines), len(drawn.lines)

    def _set_off(self, drawn: Drawn, needs: Sequence[Need]) -> list[str]:
        """Where hidden lines stand that come from nowhere; of the point of a drilled hole its angle."""
        square = [line for line in drawn.lines if line.way is not None or isinstance(line.shape, Arc)]
        group = self.groups[drawn.group]
        drilled = group.drilled and len(square) < len(drawn.lines)
        told = self.clauses.of(replace(drawn, lines=tuple(square)) if drilled else drawn, needs)
        if not drilled:
            return told
        several = "yes" if group.count > 1 else "no"
        return [*told, self._say("construction.drill_point", angle=number(DRILL_POINT), several=several)]

    def _curves(self, step: Step) -> Iterator[str]:
        told = defaultdict[tuple[str, ...], dict[int, dict[str, Counter[LineKind]]]](dict)
        for curve in step.curves:
            by_view = told[curve.views].setdefault(curve.line.group, {})
            by_view.setdefault(curve.line.view, Counter())[curve.line.kind] += 1
        for whence, groups in told.items():
            for group, by_view in groups.items():
                yield from self._plot(group, by_view)
            yield self._say("construction.points_stand", others=self.places.listed([self.clauses.view(name) for name in whence]))
        if any(curve.rings for curve in step.curves):
            yield self._say("construction.cone")
        yield self._say("construction.join")

    def _plot(self, group: int, by_view: Mapping[str, Counter[LineKind]]) -> Iterator[str]:
        """Which curves are to be plotted for the sake of a group."""
        alike = len(by_view) == len(SIDES) and set(by_view) == set(SIDES) and by_view["left"] == by_view["right"]
        for view, kinds in ({"sides": by_view["left"] + by_view["right"]} if alike else by_view).items():
            unseen = "no" if LineKind.HIDDEN not in kinds else "yes" if len(kinds) == 1 else "some"
            yield self._say("construction.curve", feature=self._feature(group), unseen=unseen,
                            view=self.clauses.both if alike else self.clauses.view(view),
                            several="yes" if kinds.total() > 1 else "no")

    def _centres(self, step: Step) -> Iterator[str]:
        if any(isinstance(line.shape, Arc) and line.shape.closed for line in self.lines if line.kind is not LineKind.CENTRE):
            yield self._say("construction.centre_circles")
        if any(self._crossed(line) for line in self.lines if line.rounds_off):
            yield self._say("construction.centre_ends")
        if self.problem.solid.axis_groups:
            yield self._say("construction.centre_axes")
        if self.problem.symmetry:
            yield self._say("construction.centre_symmetry")

    def _crossed(self, arc: AnswerLine) -> bool:
        """Whether centre lines cross at the centre of an arc."""
        if not isinstance(arc.shape, Arc):
            return False
        centre = shapely.Point(arc.shape.centre)
        ways = {line.way for line in self.lines if line.kind is LineKind.CENTRE and line.view == arc.view and shapely.distance(
            shapely.LineString(line.shape.points()), centre) < SAME_END}
        return {0, 1} <= ways

    def _sizes(self, _: Step) -> Iterator[str]:
        yield self._say("construction.put_sizes")
        for number_, placed in enumerate(self.drawing.views):
            sizes = sizes_on(number_, self.drawing)
            for some in _runs(sizes):
                view = self._say(f"views.{placed.view.name}")
                yield self._say("construction.sizes_on", view=view, sizes=self.places.listed(some))

    def _feature(self, group: int) -> str:
        return self.groups[group].called(self.settings.wording)

    def _round_sizes(self, group: int) -> str:
        """The diameters and radii of a group, as they are printed; none of what stands, whose lines are seldom round, nor of what
        is called by its size."""
        sizes = sizes_of(self.problem, self.groups[group].names)
        if self.groups[group].noun in STANDING or (self.groups[group].size and len(sizes) == 1):
            return ""
        return self.places.listed(sizes)

    def _joined(self, clauses: Sequence[tuple[str, int]]) -> list[tuple[str, int]]:
        """Clauses, each with how many lines it tells of, joined to texts that are not too long for a sentence."""
        texts: list[tuple[str, int]] = []
        for clause, count in clauses:
            if texts and len(texts[-1][0]) + len(clause) < LONGEST:
                text = self._say("construction.then", first=texts[-1][0], second=clause)
                texts[-1] = text, texts[-1][1] + count
            else:
                texts.append((clause, count))
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
