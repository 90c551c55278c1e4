"""Every figure of a table, each with the formula that it comes from.

Names: keys of the profile keep theirs (`top.rim_width`; of lists each part, `legs.tenon.width`), `top.`, `slats.`,
`joints.`, `legs.`, `base.`, `splines.`, `pins.` hold what follows from them, `part.CODE.` a part's length, width,
thickness, end_angle_1..., count, volume, mass, for its work `KIND.count` and `KIND.depth` (a second depth
`KIND_b.depth`), for single grooves and slots `groove_1.start`, `.end`, `.length`; `joint.KIND.contact` areas; `year.`
the seasons. `slat.F.N.`, `field.`, `arm.`, `segment.` and `groove.` are the lines that a slat lies between.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import hypot

from templategen.catalogue import translated, worded
from templategen.explain.book import Book, write_total
from templategen.explain.contacts import write_contacts
from templategen.explain.given import write_given
from templategen.explain.grooves import (
    Owed,
    reaches_of,
    write_groove_rules,
    write_rail_grooves,
    write_rim_grooves,
    write_tenons,
)
from templategen.explain.hardware import write_bolt_spring, write_bolts, write_peg_spring, write_pegs, write_pins
from templategen.explain.line import middle_of
from templategen.explain.parts import Terms, write_legs, write_sizes_of, write_volume, write_work_rules
from templategen.explain.sizes import write_sizes
from templategen.explain.slats import ExplainedSlat, fields_that_differ, write_slats
from templategen.explain.spacing import write_spacing
from templategen.explain.splines import ExplainedSplines, write_slots, write_splines
from templategen.explain.stance import write_stance
from templategen.explain.tongues import Reach, arm_starts, write_tongues
from templategen.explain.year import write_density, write_gaps
from templategen.geometry.centroid import centroid
from templategen.parts.part import Part
from templategen.table.assembly import Table

INNER = ("slat.", "field.", "arm.", "segment.", "groove.")
"""How the names of quantities begin that only serve others."""


def book_of(table: Table) -> Book:
    """A book of all the table's quantities, to which more can be added; what a formula uses stands before it."""
    book, profile = Book(), table.profile
    write_given(book, profile)
    write_sizes(book, profile)
    write_spacing(book, profile, table.spacing.count)
    slats = write_slats(book, profile, table.spacing.count)
    owed = Owed(write_tongues(book, slats), arm_starts(book, slats), fields_that_differ(profile))
    write_tenons(book, owed)
    write_groove_rules(book)
    reaches = [reaches_of(book, profile, owed, segment) for segment in range(profile.top.segments)]
    splines = write_splines(book, profile, reaches)
    write_legs(book)
    if profile.legs.top_joint != "glued":
        (write_bolts if profile.legs.top_joint == "bolted" else write_pegs)(book)
    write_work_rules(book, profile)
    write_pins(book, profile)
    _Parts(book, table, slats, reaches, splines, owed).write()
    write_contacts(book, profile, _joints(table, reaches, splines))
    write_gaps(book)
    _totals(book, table)
    write_stance(book, profile)
    if profile.legs.top_joint != "glued":
        (write_bolt_spring if profile.legs.top_joint == "bolted" else write_peg_spring)(book, profile)
    return book


def _joints(
    table: Table, reaches: Sequence[Sequence[Reach]], splines: ExplainedSplines
) -> frozenset[tuple[str, bool]]:
    """The kinds of mitre: which spline, and whether a groove runs out through it."""
    after = (*reaches[1:], reaches[0])
    grooved = [
        any(r.to_joint for r in one) or any(r.from_joint for r in other)
        for one, other in zip(reaches, after, strict=True)
    ]
    codes = splines.codes or ("",) * table.profile.top.segments
    return frozenset(zip(codes, grooved, strict=True))


@dataclass(frozen=True, slots=True)
class _Parts:
    """Writes the parts. Which places a code stands for is read from the table; sizes are not."""

    book: Book
    table: Table
    slats: Sequence[ExplainedSlat]
    reaches: Sequence[Sequence[Reach]]
    splines: ExplainedSplines
    owed: Owed

    def write(self) -> None:
        table, book = self.table, self.book
        says, source = "how often a field comes again, turned", worded("fields that differ: {n}", n=self.owed.fields)
        book.add("top.turned_copies", says, "", f"arms / {self.owed.fields}", source)
        homes = _slat_homes(table, self.slats)
        for part in table.parts:
            slat = homes[part.code][0].name if part.kind == "slat" else ""
            write_sizes_of(book, part, slat, self._count(part, homes.get(part.code, ())))
            self._grooves(part)
            write_volume(book, part, write_density(book, table.profile, part.wood))

    def _count(self, part: Part, homes: Sequence[ExplainedSlat]) -> tuple[str, Terms, str]:
        """How often a part comes: in each field that differs, by how often that comes again; no formula for one."""
        if part.kind in ("leg", "foot"):
            return "arms", {}, translated("one for each arm")
        if part.kind in ("rail", "base-rail"):
            return "", {}, translated("one for each place in the crossing")
        copies = self.book.value("top.turned_copies")
        if part.kind == "slat":
            of_field, alike = "{number} of field {field}", float(len(homes))
            where = ", ".join(worded(of_field, number=slat.number, field=slat.field) for slat in homes)
        else:
            alike, where = part.count / copies, translated("of those that differ, by their grooves and slots")
        says = worded("places of {code} among the fields that differ", code=part.code)
        source = worded("counted, alike in shape: {where}", where=where)
        self.book.given(f"part.{part.code}.alike", says, alike, "", source)
        terms = {"alike": f"part.{part.code}.alike", "copies": "top.turned_copies"}
        return "alike * copies", terms, ""

    def _grooves(self, part: Part) -> None:
        """Where single grooves and slots begin and end."""
        segments, rails = self.table.profile.top.segments, self.table.profile.top.rails
        if part.kind == "rim-segment":
            index = next(i for i in range(segments) if self.table.placed[i].code == part.code)
            write_rim_grooves(self.book, part.code, self.reaches[index])
            if self.splines.codes:
                write_slots(self.book, part.code, self.splines.codes[index - 1], self.splines.codes[index])
        elif part.kind == "rail":
            number = [p.code for p in self.table.parts if p.kind == "rail"].index(part.code)
            write_rail_grooves(self.book, part.code, number, rails, self.owed)


def _slat_homes(table: Table, slats: Sequence[ExplainedSlat]) -> dict[str, list[ExplainedSlat]]:
    """The slats, of the fields that differ, that go by each code: those whose middles lie where a copy is placed."""
    kinds = {part.code: part for part in table.parts if part.kind == "slat"}
    middles = {code: centroid(part.outline) for code, part in kinds.items()}
    spots = []
    for placed in table.placed:
        if placed.code in kinds:
            middle = middles[placed.code]
            spots.append((placed.code, placed.point(middle.x, middle.y, 0.0)))
    homes: dict[str, list[tuple[int, ExplainedSlat]]] = {}
    for slat in slats:
        x, y = middle_of(slat.corners)
        near = min(range(len(spots)), key=lambda place: hypot(spots[place][1].x - x, spots[place][1].y - y))
        homes.setdefault(spots[near][0], []).append((near, slat))
    return {code: [slat for _, slat in sorted(own, key=lambda pair: pair[0])] for code, own in homes.items()}


def _totals(book: Book, table: Table) -> None:
    """The table's mass: each part's by its count."""
    addends = [(f"part.{part.code}.mass", f"part.{part.code}.count") for part in table.parts]
    write_total(book, "table.mass", "all the wood at 12 % moisture", "kg", addends)
