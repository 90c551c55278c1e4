"""Where rain stands in the wood: mortises that open upwards and drain too slowly, measured from finished parts."""

from collections.abc import Iterator

from templategen.checks.finding import Finding
from templategen.checks.levels import noted
from templategen.geometry.point import Point
from templategen.parts.feature import Feature
from templategen.parts.part import Part
from templategen.table.assembly import Table

DRAINS = 6.0
"""A narrower hole is bridged by a drop, mm (assumed)."""


def water_findings(table: Table) -> Iterator[Finding]:
    """The mortises of the ground cross, whose floors are the lowest place that rain comes to."""
    rails = [part for part in table.parts if part.kind == "base-rail"]
    drains = [(_drain(part, mortise), _wanted(mortise)) for part in rails for mortise in part.cuts("mortise")]
    widest, wanted = min(drains)
    if widest < wanted:
        yield Finding("mortise-holds-water", "caution", "base.drain_hole", widest, (wanted, None))
    yield noted("feet-on-glides" if table.sizes.glide_height else "feet-on-the-floor", "base.glides",
                table.sizes.glide_height)  # fmt: skip


def _wanted(mortise: Feature) -> float:
    """No hole is wider than its mortise."""
    box = mortise.outline.bounds
    return min(DRAINS, box.width, box.height)


def _drain(part: Part, mortise: Feature) -> float:
    """Diameter of the widest hole through a mortise's floor, 0 where there is none."""
    rounds = (hole.circle for hole in part.holes)
    return max((2 * ring[1] for ring in rounds if ring and mortise.outline.contains(Point(*ring[0]))), default=0.0)
