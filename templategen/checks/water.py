"""Where rain stands in the wood: mortises that open upwards and drain too slowly, measured from finished parts."""

from collections.abc import Iterator
from math import hypot

from templategen.checks.finding import Finding
from templategen.checks.levels import noted
from templategen.fit.basins import SPANNED, Basin, standing
from templategen.geometry.point import Point
from templategen.parts.feature import Feature
from templategen.parts.part import Part
from templategen.table.assembly import Table

MM2_PER_CM2 = 100.0

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


KEYS = {"rail": "legs.top_joint", "base-rail": "base.drain_hole", "leg": "base.drain_hole", "foot": "base.drain_hole"}
"""The key to look at first where water stands in a part; else how the slats lie."""


def standing_findings(table: Table) -> Iterator[Finding]:
    """Basins in the finished table, those alike told once, and how much of the ground cross is level."""
    found, closed = standing(table), table.spacing.gap < SPANNED  # such gaps are told by themselves
    alike: dict[tuple[str, float], list[Basin]] = {}
    for one in (one for one in found.basins if not (closed and table.part(one.code).kind == "slat")):
        alike.setdefault((one.code, round(one.depth, 1)), []).append(one)
    sunk = [group for (code, _), group in alike.items() if table.part(code).cuts("counterbore")]
    if sunk:
        yield noted("recess-holds-water", "legs.top_joint", sunk[0][0].depth, area=sunk[0][0].area / MM2_PER_CM2,
                    places=sum(map(len, sunk)))  # fmt: skip
    for (code, depth), group in alike.items():
        if group not in sunk:
            first = group[0]
            fields = {"part": code, "area": first.area / MM2_PER_CM2, "out": hypot(*first.at), "high": first.height,
                      "places": len(group) if len(group) > 1 else None}  # fmt: skip
            yield Finding(
                "holds-water", "caution", KEYS.get(table.part(code).kind, "slats.face"), depth, (None, 0.0), fields
            )
    yield noted("level-wood", "edges.base", round(found.level / MM2_PER_CM2))


def _wanted(mortise: Feature) -> float:
    """No hole is wider than its mortise."""
    box = mortise.outline.bounds
    return min(DRAINS, box.width, box.height)


def _drain(part: Part, mortise: Feature) -> float:
    """Diameter of the widest hole through a mortise's floor, 0 where there is none."""
    rounds = (hole.circle for hole in part.holes)
    return max((2 * ring[1] for ring in rounds if ring and mortise.outline.contains(Point(*ring[0]))), default=0.0)
