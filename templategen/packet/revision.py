"""The revision: a short name for the state of what is drawn."""

from __future__ import annotations

from collections.abc import Iterable
from hashlib import sha256

from templategen.parts.part import Part
from templategen.table.profile.model import Profile

REVISION = 8
"""Characters of a hash that name a revision."""


def revision(profile: Profile) -> str:
    """A short name for this state of the profile, from its hash."""
    return profile.sha256[:REVISION]


def part_revision(*parts: Part) -> str:
    """A short name for the wood of some parts: it changes when a shape, a thickness, a wood or work on a face does.

    Sizes count to a ten-thousandth of a millimetre; what a part is called, and how many are wanted, doesn't count.
    """
    return sha256("|".join(word for part in parts for word in _wood(part)).encode()).hexdigest()[:REVISION]


def _wood(part: Part) -> Iterable[str]:
    yield from (part.kind, part.wood, f"{part.thickness:.4f} {part.grain.x:.6f} {part.grain.y:.6f}")
    for outline in (part.blank, part.outline, *part.holes):
        yield _ring(outline)
    for feature in part.features:
        yield f"{feature.kind} {feature.face} {feature.depth:.4f} {feature.operation} {_ring(feature.outline)}"


def _ring(outline: Iterable[Iterable[float]]) -> str:
    return " ".join(repr(round(value, 4) + 0.0) for vertex in outline for value in vertex)
