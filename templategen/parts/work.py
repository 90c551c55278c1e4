"""The kinds of work on a part, each with how often and how deep."""

from dataclasses import dataclass

from templategen.parts.feature import Feature
from templategen.parts.kinds import FeatureKind
from templategen.parts.part import Part
from templategen.units import format_mm


@dataclass(frozen=True, slots=True)
class CountedWork:
    """One kind of work to one depth (None where it goes right through), `count` times; `place` numbers the depths of
    a kind from 1, `first` is the first feature of it."""

    kind: FeatureKind
    depth: float | None
    count: int
    place: int
    first: Feature


def works(part: Part) -> tuple[CountedWork, ...]:
    """All work on a part in the order it is listed; the two rebates of a tongue count once, as do both round-overs
    of an edge."""
    groups: dict[tuple[FeatureKind, str], list[Feature]] = {}
    for feature in part.features:
        if feature.face == "bottom" and feature.traits.paired:
            continue
        depth = "" if feature.traits.bored else format_mm(feature.depth, 2)
        groups.setdefault((feature.kind, depth), []).append(feature)
    met: dict[str, int] = {}
    found = []
    for (kind, depth), features in groups.items():
        met[kind] = met.get(kind, 0) + 1
        first = features[0]
        found.append(CountedWork(kind, first.depth if depth else None, len(features), met[kind], first))
    return tuple(found)
