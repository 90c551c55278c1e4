"""What the plan tells of a top that comes off its legs: finish, bolts or pegs, and putting it on."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from templategen.catalogue import figured
from templategen.checks.describe import said
from templategen.shop.cautions import HAND_SAW
from templategen.shop.hardware import SPARE_PEGS, peg_sizes
from templategen.table.assembly import Table
from templategen.table.profile.choices import TopJoint
from templategen.work.operation import Operation


@dataclass(frozen=True, slots=True)
class DryTop:
    """`flooded` before gluing and `again` with each coat, the `tools` that it is put on with, what is done `before`
    it is let down and `home` when it lies, and what its owner is told of the `year`."""

    flooded: str
    again: str
    tools: str
    before: str
    home: tuple[str, ...]
    year: str


LETTERED = "letter to letter; no glue: the top stays one piece by itself"

DRY_TOPS: Mapping[TopJoint, DryTop] = {
    "bolted": DryTop(
        "not what stays dry: the legs' upper tenons, their mortises, and every bolt's hole, counterbore and cross "
        "bore, where water comes in, are flooded until they take no more",
        "once more into the bolts' holes and counterbores, and on the legs' upper tenons",
        "the bolts' key, a screwdriver for the nuts",
        "grease the bolts' threads; a barrel nut in each leg's cross bore, its slot along the leg, so that a bolt "
        "dropped down the hole finds the thread: turn each in by hand once, and out again",
        (
            LETTERED,
            (
                "all bolts in by hand, each with its spring washer, then draw them up one after the other across the "
                "table, a quarter of a turn at a time, until every shoulder is closed and the washers lie flat; no "
                "further"
            ),
            (
                "take it apart once and put it together again, so that it is known to go; bolts and nuts travel in a "
                "bag tied under the top"
            ),
        ),
        "say that the bolts are drawn up again after the first dry season, and whenever the top was off; give them "
        "the key",
    ),
    "draw-bored": DryTop(
        "not what stays dry: the legs' upper tenons, their mortises and the pegs' holes in both, where water comes "
        "in, are flooded until they take no more",
        "once more into the pegs' holes, and on the legs' upper tenons",
        "mallet, a steel drift thinner than the pegs",
        "pegs stay dry: no finish on them, wax on their tips alone",
        (
            LETTERED,
            (
                "kneel beside the table, nobody leaning on it, and look through each rail's hole: a crescent of the "
                "tenon shows, at the side of the tenon's end; where none does, the tenon is bored anew, not driven"
            ),
            (
                "all pegs the same way round the table, thin end first, one after the other across the table, a few "
                "light taps each, until every shoulder is closed and the taper stands out at the far side"
            ),
            (
                "take it apart once and put it together again, so that it is known to go: each peg back on its thin "
                "end, the last of it with the drift; one that has bent is replaced"
            ),
        ),
        "say that the pegs are driven out from their thin ends, and tried by hand after the first dry season; give "
        "them the spare pegs",
    ),
}
"""By the joint, where it isn't glued."""


def pegs_made(table: Table, tables: int) -> Iterator[Operation]:
    """Pegs, where the legs are draw-bored."""
    sizes = peg_sizes(table)
    if sizes is None:
        return
    thick, long, tip, end = map(figured, sizes)
    count = table.sizes.arms * tables + SPARE_PEGS
    yield Operation(
        "make the pegs",
        "chisel, block plane, mallet",
        "group",
        said("{count} pegs, {spare} of them spare", count=count, spare=SPARE_PEGS),
        (
            said(
                "split pieces {long} long out of dry, straight-grained hard wood such as oak or robinia: what is "
                "split runs with the grain, what is sawn across it breaks",
                long=long,
            ),
            said(
                "plane them eight-sided, then round, until they go through a hole of {thick}, bored in a test strip "
                "with the same bit, with light taps and not by hand",
                thick=thick,
            ),
            said("taper {tip} of one end to {end}", tip=tip, end=end),
        ),
        "each is driven through that hole and out again whole",
        (HAND_SAW,),
        minutes=table.profile.rates.cut * 2 * count,
    )
