"""The revision of a part: a short name for the state of its wood."""

from collections.abc import Iterable, Iterator
from hashlib import sha256

from templategen.parts.part import Part

REVISION = 8
"""Characters of a hash that name a revision."""

OFF_TIES = 3.14159e-5
"""Added before a size is rounded, mm: many sizes in inches end on half a ten-thousandth, and the last digit of a sine
must not decide to which side such a size goes."""


def part_revision(*parts: Part) -> str:
    """A short name for the wood of some parts: it changes when a shape, a thickness, a wood or work on a face does.

    Sizes count to a ten-thousandth of a millimetre; what a part is called, and how many are wanted, doesn't count.
    """
    return named(wood_figures(*parts))


def named(told: Iterable[str]) -> str:
    """A short name for what is told."""
    return sha256("|".join(told).encode()).hexdigest()[:REVISION]


def wood_figures(*parts: Part) -> Iterator[str]:
    """All that is told of the wood of some parts."""
    for part in parts:
        yield from (part.kind, part.wood, f"{_size(part.thickness)} {part.grain.x:.6f} {part.grain.y:.6f}")
        yield from (point_figures(outline) for outline in (part.blank, part.outline, *part.holes))
        for one in part.features:
            deep = f"{_size(one.floor)} {_size(one.depth)}" if one.floor else _size(one.depth)
            yield f"{one.kind} {one.face} {deep} {one.operation} {point_figures(one.outline)}"


def point_figures(points: Iterable[Iterable[float]]) -> str:
    """The figures of some points in a row."""
    return " ".join(_size(value) for point in points for value in point)


def _size(value: float) -> str:
    return f"{value + OFF_TIES:.4f}".replace("-0.0000", "0.0000")
