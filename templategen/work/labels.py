"""Labels to cut out and stick on the blanks: which piece it is, how it lies, and the letter of each of its joints."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from math import hypot

from templategen.catalogue import translated, worded
from templategen.checks.describe import said
from templategen.joinery.joint import LEG_TENONS
from templategen.parts.sides import RIM_SIDES, SIDES, of_a_piece
from templategen.shop.gluing.marks import Mark, copy_names, joint_name
from templategen.shop.listing import Cell, Listing
from templategen.table.assembly import Table
from templategen.table.placed import Placed
from templategen.work.plan import WorkPlan

UP: Mapping[str, tuple[str, str]] = {
    "rim-segment": ("top face", "outer edge"),
    "spline": ("either face", "outer edge of the rim"),
    "rail": ("top face", "upper edge as drawn"),
    "slat": ("top face", "upper edge as drawn; right tongue slotted"),
    "leg": ("side drawn as its top", "edge away from the axis; right is the leg's top"),
    "base-rail": ("top face", "upper edge as drawn"),
    "foot": ("either face", "either edge"),
}
"""The face that the label is stuck to, and the edge that its arrow points to, by kind of part."""


PLACES = ("left mortise", "right mortise", "at the crossing", "both ends")
"""Places of joints besides the sides of a piece."""


@dataclass(frozen=True, slots=True)
class Label:
    """One piece: its `name` as marks have it (`RIM-A 3`), what it is, of which table; `joints` are letter, where on
    the piece, and with which other."""

    name: str
    says: str
    table: int
    face: str
    edge: str
    joints: tuple[tuple[str, str, str], ...]

    @property
    def lines(self) -> Iterator[str]:
        """What stands under its name."""
        yield self.says
        yield worded("stick on: {face}", face=self.face)
        yield worded("arrow to: {edge}", edge=self.edge)
        yield from self.told

    @property
    def told(self) -> Iterator[str]:
        """Its joints."""
        yield from (f"{translated(letter)}: {_place(where)}, {mate}" for letter, where, mate in self.joints)


def labels_of(table: Table, plan: WorkPlan) -> tuple[Label, ...]:
    """A label for every piece of all tables, table by table, in the order in which they stand in it."""
    marks = [mark for step in plan.gluing.steps for mark in step.marks]
    names = copy_names(table)
    kinds = {part.code: part for part in table.parts}
    found = []
    for index, placed in enumerate(table.placed):
        part = kinds[placed.code]
        face, edge = UP[part.kind]
        joints = tuple(joints_of_copy(table, index, marks, names))
        told = f"{part.name}, {translated(part.wood)}"
        found.append((names[index], told, translated(face), translated(edge), joints))
    return tuple(
        Label(name, says, number, face, edge, joints)
        for number in range(1, plan.tables + 1)
        for name, says, face, edge, joints in found
    )


def joints_of_copy(
    table: Table, index: int, marks: Sequence[Mark], names: Sequence[str]
) -> Iterator[tuple[str, str, str]]:
    """The letter, place on the piece and mate of each joint of one copy; the many of its grooves with slats are only
    counted. A spline has the letter of the mitre that it lies in."""
    grooves = 0
    for mark in marks:
        pair = table.joints[mark.joint].placed
        if index in pair:
            mate = pair[1] if pair[0] == index else pair[0]
            if mark.kind == "tongue-and-groove" and table.part(table.placed[index].code).kind != "slat":
                grooves += 1
            else:
                yield (
                    mark.letter,
                    _where(table, index, mate, mark.kind),
                    worded("{joint} with {mate}", joint=translated(joint_name(mark.kind)), mate=names[mate]),
                )
    if grooves:
        yield "slats", said("{count:# letter}", count=grooves), translated("on its drawing")
    segments = {other for joint in table.joints if joint.kind == "spline" and index in joint.placed
                for other in joint.placed if other != index}  # fmt: skip
    if table.part(table.placed[index].code).kind == "spline":
        for mark in marks:
            if mark.kind == "mitre" and segments == set(table.joints[mark.joint].placed):
                yield mark.letter, "both ends", translated(" and ").join(mark.copies)


def _place(where: str) -> str:
    return of_a_piece(where) if where in (*SIDES.values(), *RIM_SIDES.values()) else translated(where)


def _where(table: Table, index: int, mate: int, kind: str) -> str:
    """Where on a piece a joint is, as its drawing lies."""
    own, other = table.placed[index], table.placed[mate]
    along = own.axes[0]
    at = sum((one - two) * axis for one, two, axis in zip(other.at, own.at, along, strict=True))
    side, part = "right" if at > 0 else "left", table.part(own.code).kind
    if kind in ("half-lap", "three-way-lap"):
        return "at the crossing"
    if kind == "rail-tenon" and part == "rim-segment":
        return "inner edge"
    if kind in LEG_TENONS:
        return f"{side} end" if part == "leg" else f"{side} mortise"
    if part == "slat":
        return f"{_end_at(table, own, other)} end"
    return "underside" if kind == "foot" and part == "foot" else f"{side} end"


def _end_at(table: Table, slat: Placed, mate: Placed) -> str:
    """The end of a slat that is nearer to its mate: to a rail's axis, to the middle of a segment's inner edge."""
    off = mate.axes[0]

    def far(share: float) -> float:
        x, y = (spot - mate.at[axis] for axis, spot in enumerate(_spot(table, slat, share)))
        return abs(x * off.y - y * off.x) if table.part(mate.code).kind == "rail" else hypot(x, y)

    return "right" if far(1.0) < far(0.0) else "left"


def _spot(table: Table, slat: Placed, share: float) -> tuple[float, float]:
    """A spot half way up a slat, that share of its length from its left end, seen from above."""
    box, (along, across, _) = table.part(slat.code).outline.bounds, slat.axes
    x, y = box.left + share * box.width, (box.bottom + box.top) / 2
    return slat.at[0] + x * along.x + y * across.x, slat.at[1] + x * along.y + y * across.y


def label_list(labels: tuple[Label, ...]) -> Listing:
    """Header and rows."""
    rows: list[list[Cell]] = [
        [label.name, str(label.table), label.says, label.face, label.edge,
         "; ".join(label.told)]
        for label in labels
    ]  # fmt: skip
    return ["piece", "table", "what", "stuck_on", "arrow_to", "letters"], rows
