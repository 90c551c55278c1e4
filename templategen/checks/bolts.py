"""A bolted top: wood left round head and nut, and what the year does under the bolts."""

from collections.abc import Iterator
from math import sin

from templategen.checks.finding import Finding
from templategen.checks.levels import if_short, noted
from templategen.joinery.bolt import END, BoltAndNut
from templategen.table.assembly import Table
from templategen.table.pedestal import leg_axis
from templategen.table.rails import top_bolt, top_leg_joint
from templategen.table.seasons import seasons_of


def bolt_findings(table: Table) -> Iterator[Finding]:
    """Nothing where the top is glued."""
    bolt = top_bolt(table.sizes)
    if bolt is None:
        return
    floor, cheek = table.profile.limits.mortise_floor, table.profile.limits.cheek
    under = bolt.grip - top_leg_joint(table.sizes).depth
    yield from if_short("under-the-head", "legs.bolt", under, floor)
    leans = bolt.below * abs(sin(leg_axis(table.sizes).rake))
    yield from if_short("beside-the-nut", "legs.barrel_nut", (bolt.section - bolt.nut) / 2 - leans, cheek)
    yield from if_short("behind-the-nut", "legs.barrel_nut", bolt.section - bolt.cross, floor)
    least = END * bolt.thread
    yield noted("nut-to-the-end", "legs.bolt", bolt.below, (least, None), times=END)
    yield _through_the_year(table, bolt)


def _through_the_year(table: Table, bolt: BoltAndNut) -> Finding:
    """What the rail under a head loses from built to the driest, across the grain, and what it gains to the wettest.

    The leg keeps its length along the grain, so the bolt is as much too long.
    """
    year = seasons_of(table.profile)
    swings = [year.swing(share) for share in (year.figures.radial, year.figures.tangential)]
    loose, pressed = (bolt.grip * max(0.0, share) for share in (
        max(-swing.dry for swing in swings), max(swing.wet for swing in swings),
    ))  # fmt: skip
    return noted("bolt-play", "legs.top_joint", loose, grip=bolt.grip, pressed=pressed)
