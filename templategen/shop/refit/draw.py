"""The draw of pegs whose holes were measured in rail and tenon: what came of it, and what to do where it is off."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import fsum, hypot

from templategen.checks.dry_legs import through_the_year
from templategen.checks.finding import Finding, Level
from templategen.checks.levels import noted
from templategen.joinery.peg import MOST, DrawPeg
from templategen.shop.refit.settle import Copy, Settled, named
from templategen.shop.refit.sizes import Best
from templategen.table.assembly import Table
from templategen.table.rails import top_peg

HARDLY = 0.005
"""Draws this near to each other are told as one, mm."""


@dataclass(frozen=True, slots=True)
class Drawn:
    """A leg in its rail: how far the rail's hole lies from where the shoulder bears, what of it the tenon's hole lies
    nearer, and one standard deviation of that, mm."""

    rail: Copy
    leg: Copy
    rise: float
    draw: float
    sure: float


def draw_findings(table: Table, settled: Settled) -> Iterator[Finding]:
    """A caution or a stop for each leg whose draw is too little for the year or too much for its peg, and a note on
    all others whose holes were both measured."""
    peg = top_peg(table.sizes)
    joints = tuple(_measured(table, settled)) if peg else ()
    if peg is None or not joints:
        return
    least, most = through_the_year(table, peg.rise)[0], MOST * peg.thickness
    fine = [one for one in joints if least <= one.draw <= most]
    if fine:
        yield _as_wanted(fine, peg, (least, most))
    yield from (_off(one, peg, (least, most)) for one in joints if one not in fine)


def _measured(table: Table, settled: Settled) -> Iterator[Drawn]:
    """Legs in rails whose holes were measured; a leg that is cut and wasn't measured is like those that were."""
    rails = [part.code for part in table.parts if part.kind == "rail"]
    measured = (sizes.get("peg_shoulder") for (code, _), sizes in sorted(settled.sizes.items()) if code == "LEG")
    legs = [one for one in measured if one is not None]
    for arm in range(table.sizes.arms if legs else 0):
        rail, leg = (rails[arm % len(rails)], 1), ("LEG", arm + 1)
        hole = settled.sizes.get(rail, {}).get("peg_rise")
        if hole is None or leg not in settled.cut:
            continue
        own = settled.sizes.get(leg, {}).get("peg_shoulder") or _like(legs)
        yield Drawn(rail, leg, hole.value, hole.value - own.value, hypot(hole.accuracy, own.accuracy))


def _like(legs: Sequence[Best]) -> Best:
    """What legs measure on the mean, known as well as the least known of them."""
    return Best(fsum(one.value for one in legs) / len(legs), max(one.accuracy for one in legs))


def _as_wanted(joints: Sequence[Drawn], peg: DrawPeg, limits: tuple[float, float]) -> Finding:
    """That of all that are left as they are which differs most from what was drawn."""
    furthest = max(joints, key=lambda one: abs(one.draw - peg.draw))
    least, most = (pick(one.draw for one in joints) for pick in (min, max))
    spread = most if most - least > HARDLY else None
    return noted(
        "draw-measured", "legs.peg", furthest.draw, limits, count=len(joints), least=least, most=spread,
        drawn=peg.draw, sure=furthest.sure, tip=peg.thickness - 2 * most,
    )  # fmt: skip


def _off(one: Drawn, peg: DrawPeg, limits: tuple[float, float]) -> Finding:
    """A stop where the peg would push the shoulder off, or where not even its tip would enter the tenon."""
    least, most = limits
    cure = {"more": one.draw - peg.draw} if one.draw > most else {"anew": one.rise - peg.draw}
    fields = {
        "rail": named(one.rail), "leg": named(one.leg), "drawn": peg.draw, "sure": one.sure, "least": least,
        "most": most, "pushes": one.draw <= 0, **cure,
    }  # fmt: skip
    level: Level = "caution" if 0 < one.draw < peg.thickness / 2 else "stop"
    return Finding("draw-off", level, "legs.peg", one.draw, limits, fields)
