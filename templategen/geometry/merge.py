"""Merging: straight lines that lie on each other become one, so that none is drawn twice."""

from collections.abc import Iterable
from math import atan2, cos, pi, sin

from templategen.geometry.edge import Line
from templategen.geometry.point import Point
from templategen.geometry.tolerance import ONE_LINE

SAME_WAY = 1e-9
"""Directions that differ by less are one; radians."""

Track = tuple[float, float, list[tuple[float, float]]]


def merged(lines: Iterable[Line]) -> tuple[Line, ...]:
    """The union of the lines: overlapping and adjoining runs on one track joined, tracks in order of appearance."""
    tracks: list[Track] = []
    for line in lines:
        if line.length > ONE_LINE:
            _lay(line, tracks)
    return tuple(line for track in tracks for line in _runs(track))


def _lay(line: Line, tracks: list[Track]) -> None:
    along = line.end.minus(line.start)
    angle = atan2(along.y, along.x) % pi
    if pi - angle < SAME_WAY:
        angle = 0.0
    for track in tracks:
        if abs(track[0] - angle) < SAME_WAY and all(
            abs(_off(track[0], p) - track[1]) < ONE_LINE for p in _ends(line)
        ):
            track[2].append(_span(track[0], line))
            return
    tracks.append((angle, _off(angle, line.start), [_span(angle, line)]))


def _ends(line: Line) -> tuple[Point, Point]:
    return line.start, line.end


def _off(angle: float, point: Point) -> float:
    return point.y * cos(angle) - point.x * sin(angle)


def _span(angle: float, line: Line) -> tuple[float, float]:
    first, last = sorted(point.x * cos(angle) + point.y * sin(angle) for point in _ends(line))
    return first, last


def _runs(track: Track) -> list[Line]:
    angle, off, spans = track
    runs: list[list[float]] = []
    for first, last in sorted(spans):
        if runs and first <= runs[-1][1] + ONE_LINE:
            runs[-1][1] = max(runs[-1][1], last)
        else:
            runs.append([first, last])
    c, s = cos(angle), sin(angle)

    def at(along: float) -> Point:
        return Point(along * c - off * s, along * s + off * c)

    return [Line(at(first), at(last)) for first, last in runs]
