"""What a routing machine makes of routed boards: parts with their own outline, or blanks for the plan of work."""

from templategen.geometry.tolerance import MET
from templategen.parts.part import Part
from templategen.shop.boards import Boards
from templategen.table.assembly import Table

CUT_LATER = ("rim-segment", "spline")
"""Kinds whose finished outline is cut once they are glued up; until then they keep their blank's."""


def is_finished(part: Part, board: float) -> bool:
    """Whether a router makes the part's own outline and the work of its flat faces out of a board planed to that
    thickness; else it frees a blank for the plan of work to go on with."""
    return part.kind not in CUT_LATER and abs(part.thickness - board) <= MET


def is_routed(boards: Boards) -> bool:
    """Whether a router frees all that comes out of these boards."""
    return bool(boards.stock) and all(one.mode == "routed" for one in boards.stock)


def planed_to(table: Table, boards: Boards) -> float:
    """The thickness that routed boards have on the machine: of the thickest part that isn't sawn flatwise, mm."""
    parts = (table.part(code).thickness for code in boards.codes)
    return max((one for one in parts if boards.bought <= one + table.profile.shop.planing), default=boards.bought)


def finished_of(table: Table, boards: Boards) -> tuple[str, ...]:
    """The codes of the parts that come off the machine with their own outline."""
    planed = planed_to(table, boards)
    return tuple(code for code in boards.codes if is_routed(boards) and is_finished(table.part(code), planed))
