"""A top that is bolted or pegged on: wood left round bolt, nut and peg, and what the year does under them."""

from collections.abc import Iterator
from math import sin

from templategen.checks.balance import balance_of
from templategen.checks.finding import Finding
from templategen.checks.levels import at_most, if_short, noted
from templategen.checks.wording import GRAVITY
from templategen.joinery.bolt import END, BoltAndNut
from templategen.joinery.peg import MOST, DrawPeg
from templategen.strength.held import holds
from templategen.strength.used import JERK, LOAD_FACTOR
from templategen.table.assembly import Table
from templategen.table.pedestal import leg_axis
from templategen.table.rails import top_bolt, top_leg_joint, top_peg
from templategen.table.seasons import seasons_of
from templategen.wood.grades import OUTDOORS, PARTIAL, grade_of
from templategen.wood.species import figures_of


def dry_leg_findings(table: Table) -> Iterator[Finding]:
    """Nothing where the top is glued."""
    if bolt := top_bolt(table.sizes):
        yield from _bolted(table, bolt)
    if peg := top_peg(table.sizes):
        yield from _pegged(table, peg)


def _bolted(table: Table, bolt: BoltAndNut) -> Iterator[Finding]:
    floor, cheek = table.profile.limits.mortise_floor, table.profile.limits.cheek
    under = bolt.grip - top_leg_joint(table.sizes).depth
    yield from if_short("under-the-head", "legs.bolt", under, floor)
    leans = bolt.below * abs(sin(leg_axis(table.sizes).rake))
    yield from if_short("beside-the-nut", "legs.barrel_nut", (bolt.section - bolt.nut) / 2 - leans, cheek)
    yield from if_short("behind-the-nut", "legs.barrel_nut", bolt.section - bolt.cross, floor)
    least = END * bolt.thread
    yield noted("nut-to-the-end", "legs.bolt", bolt.below, (least, None), times=END)
    loose, pressed = through_the_year(table, bolt.grip)
    yield noted("bolt-play", "legs.top_joint", loose, grip=bolt.grip, pressed=pressed)


def _pegged(table: Table, peg: DrawPeg) -> Iterator[Finding]:
    sizes, limits, where, half = table.sizes, table.profile.limits, "legs.peg", peg.thickness / 2
    yield from if_short("under-the-peg", where, peg.rise - half, limits.cheek)
    yield from if_short("peg-to-groove", where, sizes.groove.bottom - peg.rise - half, limits.cheek)
    yield from if_short("peg-to-shoulder", where, peg.in_tenon - half, limits.cheek)
    past = sizes.profile.legs.tenon[2] - peg.in_tenon - half
    yield from if_short("peg-to-tenon-end", "legs.tenon", past, limits.mortise_floor)
    yield at_most("peg-draw", where, peg.draw, (MOST * peg.thickness, None), peg=peg.thickness)
    loose, pressed = through_the_year(table, peg.rise)
    yield at_most("peg-play", where, loose, (peg.draw, None), rise=peg.rise, pressed=pressed)
    yield _lifted(table, peg)


def _lifted(table: Table, peg: DrawPeg) -> Finding:
    """What hangs on a peg when the table is lifted by its top: two pegs carry all under it, with the jerk."""
    profile = table.profile
    held = holds(table, grade_of(profile.wood, figures_of(profile.wood, profile.woods).density))
    assert held is not None
    balance = balance_of(table)
    under = balance.mass - balance.top_mass
    pull = LOAD_FACTOR * JERK * GRAVITY * under / 2
    bears = held.wood * OUTDOORS["instant"] / PARTIAL
    return at_most("peg-pull", "legs.peg", pull, (bears, None), under=under, peg=peg.thickness)


def through_the_year(table: Table, grip: float) -> tuple[float, float]:
    """What the rail held by a bolt's head or over a peg loses from built to the driest, across the grain, and what it
    gains to the wettest.

    The leg keeps its length along the grain: the bolt is as much too long, and the peg lets go as much of its draw.
    """
    year = seasons_of(table.profile)
    swings = [year.swing(share) for share in (year.figures.radial, year.figures.tangential)]
    loose, pressed = (grip * max(0.0, share) for share in (
        max(-swing.dry for swing in swings), max(swing.wet for swing in swings),
    ))  # fmt: skip
    return loose, pressed
