"""A pen that writes down what it is given: the oracle for every other pen."""

from __future__ import annotations

from dataclasses import dataclass, field
from math import pi

from templategen.drawing.drawing import Drawing, Shape, Stroke, Words
from templategen.drawing.layer import Layer
from templategen.geometry.edge import Arc, Line, arc_round
from templategen.geometry.outline import Outline, circle
from templategen.geometry.point import Point, Vertex


@dataclass
class Recorder:
    """What was drawn, in order, as (verb, layer, ...); a track, too, whose steps follow the mark they belong to."""

    said: list[tuple[object, ...]] = field(default_factory=list)

    def ring(self, shape: Shape) -> None:
        self.said.append(("ring", shape.layer.name))
        for edge in shape.edges:
            edge.walk(self)

    def stroke(self, stroke: Stroke) -> None:
        self.said.append(("stroke", stroke.layer.name))
        stroke.edge.walk(self)

    def words(self, words: Words) -> None:
        self.said.append(("words", words.layer.name, words.text, words.at, words.height, words.anchor, words.turn))

    def line(self, line: Line) -> None:
        self.said.append(("line", line.start, line.end))

    def arc(self, arc: Arc) -> None:
        self.said.append(("arc", arc.start, arc.point_at(0.5), arc.end))

    def walks(self) -> list[tuple[str, str, list[tuple[object, ...]]]]:
        """Verb, layer and steps of each ring and stroke."""
        found: list[tuple[str, str, list[tuple[object, ...]]]] = []
        for verb, *rest in self.said:
            if verb in ("ring", "stroke"):
                found.append((str(verb), str(rest[0]), []))
            elif verb in ("line", "arc"):
                found[-1][2].append((verb, *rest))
        return found


def recorded(drawing: Drawing) -> Recorder:
    """Everything a drawing gives a pen."""
    recorder = Recorder()
    drawing.draw(recorder)
    return recorder


CUT = Layer("CUT", "cut", "vermilion", "continuous", 0.5, cuts=True)
THIN = Layer("THIN", "seen", "blue", "long-dash-dot", 0.18)
SAID = Layer("SAID", "words", "green", weight=0.25)


def lopsided() -> Drawing:
    """No symmetry, no size twice, arcs of both senses, all three ends of words; both layers taken by turns."""
    ring = Outline((Vertex(3, 2), Vertex(87, 5, 0.37), Vertex(91, 44, -0.21), Vertex(31, 61), Vertex(-4, 23, 0.05)))
    marks = (
        Shape(CUT, ring, "A"),
        Stroke(THIN, Line(Point(-7, 1), Point(101, 13)), "B"),
        Stroke(THIN, arc_round(Point(40, 20), 17, 0.3, 1.9), "A"),
        Shape(CUT, circle(61, 29, 6.5)),
        Stroke(THIN, arc_round(Point(12, 70), 23, 2.5, -2.75), "A"),
        Words(SAID, Point(5, 90), 3.5, "first end", "start"),
        Stroke(CUT, Line(Point(55, 71), Point(48, 99))),
        Words(SAID, Point(17, 101), 5.0, "middle", "middle", pi / 7),
        Words(SAID, Point(77, 93), 7.0, "last", "end", -pi / 2),
    )
    return Drawing("lopsided", marks)
