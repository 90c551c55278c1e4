"""The jigs of a re-fit: those that come out otherwise by the measured sizes are made anew, the others are told."""

import re
from collections.abc import Iterator
from dataclasses import dataclass

from templategen.jigs.jig import Jig
from templategen.packet.jigs import JigPlan
from templategen.shop.refit.refit import Refit
from templategen.work.jigs import BY, jigs_of
from templategen.work.plan import WorkPlan

HAIR = 0.05
"""How far a jig's sizes and lines may be off what would be drawn now, mm: a knife's line is wider."""

TURN = 0.01
"""And its angles, degrees."""


@dataclass(frozen=True, slots=True)
class RefitJigs:
    """`plan` are the jigs made anew; `first` the codes of the first packet's that hold the drawing's sizes and not
    those of parts drawn anew, `still` of those that hold for all that is left to do."""

    plan: JigPlan
    first: tuple[str, ...]
    still: tuple[str, ...]


def refit_jigs(found: Refit, work: WorkPlan) -> RefitJigs:
    """Which of the jigs that the plan of what is left names are made anew.

    A jig that comes out as it was, and yet serves a part drawn anew, stands by sizes of the whole table: no part has
    one of its own there that it could follow. Joints keep their letters: the order of assembly stays.
    """
    done = [one.operation for one in work.operations]
    before = {jig.code: jig for jig in jigs_of(found.drawn, BY, done)[0]}
    own = set(found.rest.new)
    anew, first, still = [], [], []
    for jig in work.jigs.jigs if found.rest.to_cut else ():
        old = before.get(jig.code)
        if old is None or not _within_a_hair(jig, old):
            anew.append(jig)
        elif own.intersection(jig.serves) and jig.revision == old.revision:
            first.append(jig.code)
        else:
            still.append(jig.code)
    return RefitJigs(JigPlan(tuple(anew), ()), tuple(first), tuple(still))


def _within_a_hair(jig: Jig, before: Jig) -> bool:
    """Whether pieces, scribes and figures are the first packet's, as near as they can be made and read."""
    now, then = tuple(_measures(jig)), tuple(_measures(before))
    return len(now) == len(then) and all(
        one == other
        and len(values) == len(kept)
        and all(abs(a - b) <= near for a, b in zip(values, kept, strict=True))
        for (one, values, near), (other, kept, _) in zip(now, then, strict=True)
    )


def _measures(jig: Jig) -> Iterator[tuple[object, tuple[float, ...], float]]:
    """What is made, scribed and told of a jig: what must be the same, what may be off, and by how much."""
    yield jig.ways, (), 0.0
    for part in jig.parts:
        rings = (part.outline, *part.holes, *(feature.outline for feature in part.features))
        sizes = (number for ring in rings for vertex in ring for number in (vertex.x, vertex.y, vertex.bulge))
        yield (part.code, part.count), (part.thickness, *sizes), HAIR
    for scribe in jig.scribes:
        ends = (scribe.edge.start, scribe.edge.point_at(0.5), scribe.edge.end)
        words = re.sub(r"[\d.,/ -]+", " ", scribe.words)
        yield (scribe.part, scribe.kind, words), tuple(x for end in ends for x in end), HAIR
    for figure in jig.figures:
        yield (figure.part, figure.unit), (figure.value,), TURN if figure.unit == "deg" else HAIR
