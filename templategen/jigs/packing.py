"""Packing pieces: scrap planed to the depth of a cut, laid into it so that what is bored there doesn't break out."""

from collections.abc import Iterable, Iterator, Mapping

from templategen.catalogue import translated
from templategen.checks.describe import said
from templategen.geometry.outline import rectangle
from templategen.geometry.point import Point
from templategen.jigs.jig import Jig
from templategen.jigs.piece import distance, of_offcut, shown
from templategen.parts.part import Part
from templategen.table.assembly import Table
from templategen.table.profile.choices import Units

LONG = 60.0
"""Length of what lies under a tongue or a tenon, mm."""

UNDER_TONGUE: Mapping[Units, float] = {"mm": 25.0, "in": 25.4}
"""How wide what lies under a tongue is at most, mm: under the bit, and clear of a stop that a slanting tongue's tip
touches (assumed)."""

EASY = 1.0
"""How much smaller than its mortise a piece is, mm."""

SAME = 0.05
"""Depths that agree within this share a piece, mm."""


def tongue_packing(table: Table) -> Iterator[Jig]:
    """For the bores in slats' tongues: as thick as a tongue stands off the table."""
    slats = [part for part in table.parts if part.cuts("pin-slot")]
    width = min((UNDER_TONGUE[table.profile.units], *(part.size[1] for part in slats)))
    depths = (feature.depth for part in slats for feature in part.cuts("tongue"))
    yield from _packing(table, "PACK-TONGUE", translated("packing under tongues"), slats, depths, (width, LONG))


def tenon_packing(table: Table) -> Iterator[Jig]:
    """For the bores in legs' tenons: as thick as the shoulder is deep."""
    legs = [part for part in table.parts if part.kind == "leg" and part.cuts("peg-hole")]
    width = max((part.thickness for part in legs), default=0.0)
    depths = (feature.depth for part in legs for feature in part.cuts("tenon"))
    yield from _packing(table, "PACK-TENON", translated("packing under tenons"), legs, depths, (width, LONG))


def mortise_packing(table: Table) -> Iterator[Jig]:
    """For the bolts' holes: what fills the mortise that they come out into."""
    rails = [part for part in table.parts if part.cuts("counterbore") and part.cuts("mortise")]
    found = [feature for part in rails for feature in part.cuts("mortise")]
    sizes = [(box.width - EASY, box.height - EASY) for box in (one.outline.bounds for one in found)]
    room = min(sizes, default=(0.0, 0.0))
    yield from _packing(
        table, "PACK-MORTISE", translated("packing for mortises"), rails, (one.depth for one in found), room
    )


def _packing(
    table: Table, code: str, name: str, parts: list[Part], depths: Iterable[float], size: tuple[float, float]
) -> Iterator[Jig]:
    """A piece for each depth, lowest first."""
    kept: list[float] = []
    for depth in sorted(depths):
        kept += [depth] if not kept or depth > kept[-1] + SAME else []
    if not kept:
        return
    codes = [code if len(kept) == 1 else f"{code}-{number}" for number in range(1, len(kept) + 1)]
    long, wide = size
    notes = (
        "gauged round a strip's end, sawn down the line by hand like a tenon's cheek, then to its size, and planed",
    )
    yield Jig(
        code,
        name,
        tuple(part.code for part in parts),
        tuple(of_offcut(table.profile, own, translated("packing"), thick, rectangle(0, 0, long, wide), notes=notes)
              for own, thick in zip(codes, kept, strict=True)),
        (),
        tuple(distance(said("length of {code}", code=own), own, Point(0, 0), Point(long, 0)) for own in codes),
        ("Lay it in the cut where the bit comes out, a board under all, clamp the piece down and bore into it.",),
        (said("It lies level with the wood beside it, within {near}.", near=shown(0.2, table.profile)),),
        ("Piece and packing clamped: what the bit catches it whirls round.",),
    )  # fmt: skip
