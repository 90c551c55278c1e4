"""Pictures of bodies with hidden edges removed, as marks: tones first, then lines."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from templategen.drawing.drawing import Mark, Shape, Stroke
from templategen.drawing.tones import SHOWN, Manners, tone_of
from templategen.geometry.bounds import Bounds
from templategen.geometry.edge import Line
from templategen.geometry.outline import polygon
from templategen.geometry.point import Point
from templategen.view.runs import VisibleRun, runs
from templategen.view.shade import Patch, patches
from templategen.view.sight import Body, Sight, see


@dataclass(frozen=True, slots=True)
class Subject:
    """A body to be pictured: whose it is and how it is drawn."""

    body: Body
    code: str
    manners: Manners = SHOWN


@dataclass(frozen=True, slots=True)
class Picture:
    """Marks of a picture, the patches from which labels find their parts, and the box of all; `patches` count the
    subjects."""

    marks: tuple[Mark, ...]
    patches: tuple[Patch, ...]
    box: Bounds


def pictured(subjects: Sequence[Subject], sight: Sight, toned: bool = True) -> Picture:
    """The picture of all subjects together."""
    seen = see([subject.body for subject in subjects], sight)
    shown = patches(seen) if toned else ()
    ends = (*seen.starts.tolist(), *seen.ends.tolist())
    box = Bounds.around(Bounds(x, y, x, y) for x, y in ends)
    return Picture((*_toned(subjects, shown), *_lined(subjects, runs(seen))), shown, box)


def _toned(subjects: Sequence[Subject], shown: Sequence[Patch]) -> Iterator[Mark]:
    for patch in shown:
        subject = subjects[patch.body]
        layer = tone_of(patch.normal, subject.manners)
        for ring in patch.rings:
            yield Shape(layer, polygon(ring), subject.code)


def _lined(subjects: Sequence[Subject], lines: Sequence[Sequence[VisibleRun]]) -> Iterator[Mark]:
    for subject, own in zip(subjects, lines, strict=True):
        for run in own:
            layer = subject.manners.contour if run.contour else subject.manners.inner
            for one, other in pairwise(run.points):
                yield Stroke(layer, Line(Point(*one), Point(*other)), subject.code)
