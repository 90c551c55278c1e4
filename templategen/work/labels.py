"""Labels to cut out and stick on the blanks: which piece it is, how it lies, and the letter of each of its joints."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from templategen.joinery.joint import JOINTS
from templategen.shop.gluing.marks import Mark, copy_names
from templategen.table.assembly import Table
from templategen.work.plan import WorkPlan

Cell = str | float

UP: Mapping[str, tuple[str, str]] = {
    "rim-segment": ("top face", "outer edge"),
    "spline": ("either face", "outer edge of the rim"),
    "rail": ("top face", "upper edge as drawn"),
    "slat": ("top face", "upper edge as drawn; right tongue notched"),
    "leg": ("side drawn as its top", "edge away from the axis; right is the leg's top"),
    "base-rail": ("top face", "upper edge as drawn"),
    "foot": ("either face", "either edge"),
}
"""The face that the label is stuck to, and the edge that its arrow points to, by kind of part."""


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
        yield f"stick on: {self.face}"
        yield f"arrow to: {self.edge}"
        yield from (f"{letter}: {where}, {mate}" for letter, where, mate in self.joints)


def labels_of(table: Table, plan: WorkPlan) -> tuple[Label, ...]:
    """A label for every piece of all tables, table by table, in the order in which they stand in it."""
    marks = [mark for step in plan.gluing.steps for mark in step.marks]
    names = copy_names(table)
    kinds = {part.code: part for part in table.parts}
    found = []
    for index, placed in enumerate(table.placed):
        part = kinds[placed.code]
        face, edge = UP[part.kind]
        joints = tuple(_joints(table, index, marks, names))
        found.append((names[index], f"{part.name}, {part.wood}", face, edge, joints))
    return tuple(
        Label(name, says, number, face, edge, joints)
        for number in range(1, plan.tables + 1)
        for name, says, face, edge, joints in found
    )


def _joints(table: Table, index: int, marks: list[Mark], names: tuple[str, ...]) -> Iterator[tuple[str, str, str]]:
    """The glued joints of one copy. A spline has the letter of the mitre that it lies in."""
    for mark in marks:
        pair = table.joints[mark.joint].placed
        if index in pair:
            mate = pair[1] if pair[0] == index else pair[0]
            yield mark.letter, _where(table, index, mate, mark.kind), f"{JOINTS[mark.kind].glued} with {names[mate]}"
    segments = {other for joint in table.joints if joint.kind == "spline" and index in joint.placed
                for other in joint.placed if other != index}  # fmt: skip
    if table.part(table.placed[index].code).kind == "spline":
        for mark in marks:
            if mark.kind == "mitre" and segments == set(table.joints[mark.joint].placed):
                yield mark.letter, "both ends", "and ".join(f"{name} " for name in mark.copies).strip()


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
    if kind == "leg-tenon":
        return f"{side} end" if part == "leg" else f"{side} mortise"
    return "underside" if kind == "foot" and part == "foot" else f"{side} end"


def label_list(labels: tuple[Label, ...]) -> tuple[list[str], list[list[Cell]]]:
    """Header and rows."""
    rows: list[list[Cell]] = [
        [label.name, str(label.table), label.says, label.face, label.edge,
         "; ".join(f"{letter}: {where}, {mate}" for letter, where, mate in label.joints)]
        for label in labels
    ]  # fmt: skip
    return ["piece", "table", "what", "stuck_on", "arrow_to", "letters"], rows
