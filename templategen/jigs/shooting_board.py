"""The shooting board: ends are planed on it to their lines, at every angle that the table's ends have."""

from collections.abc import Iterator
from math import cos, degrees, sin

from templategen.catalogue import figured
from templategen.checks.describe import said
from templategen.geometry.outline import rectangle
from templategen.geometry.point import Point
from templategen.jigs.angle_gauge import by_angle, end_angles
from templategen.jigs.jig import Critical, Jig
from templategen.jigs.piece import distance, line, piece, shown
from templategen.table.assembly import Table
from templategen.units import angle_words

BED = (500.0, 220.0)
"""Length along the plane's run and depth of what the pieces lie on, mm."""

RUN = 90.0
"""How wide the strip is on which the plane lies on its side, mm."""

FENCE = (200.0, 45.0)
"""Length and width of the fence, mm."""

PIVOT = Point(BED[0] - 55.0, 4.0)
"""Where the fence's face ends, a little off the bed's edge, so that no iron meets it."""

HIGH = 24.0
"""How high the fence is at least, mm."""

TALLEST = 45.0
"""Thicker ends stand out over the iron of a plane on its side, mm (shop practice)."""


def shot(table: Table) -> tuple[str, ...]:
    """The parts whose ends are planed on it: those that lie under a plane's iron."""
    return tuple(part.code for part in table.parts if part.thickness <= TALLEST)


def shooting_board(table: Table) -> Iterator[Jig]:
    """Base, bed and fence, and the fence's line on the bed for each angle off square."""
    profile, codes = table.profile, shot(table)
    if not codes:
        return
    layers = -int(-HIGH // profile.jigs.thickness)
    bed, fence = "SHOOTING-BED", "SHOOTING-FENCE"
    turned = [angle for angle, _ in angles_shot(table)]
    glued = (said("{layers} glued on each other", layers=layers),) if layers > 1 else ()
    yield Jig(
        "SHOOTING-BOARD",
        "shooting board",
        codes,
        (
            piece(profile, "SHOOTING-BASE", "base", rectangle(0, -RUN, *BED)),
            piece(profile, bed, "bed", rectangle(0, 0, *BED)),
            piece(profile, fence, "fence block", rectangle(0, 0, *FENCE), count=layers, notes=glued),
        ),
        tuple(
            line(bed, PIVOT, PIVOT.plus(along(angle), FENCE[0] * 0.9), figured(angle_words(degrees(angle))))
            for angle in (0.0, *turned)
        ),
        (
            distance("the plane's run", "SHOOTING-BASE", Point(0, -RUN), Point(0, 0), "a plane on its side"),
            *(Critical("off square", degrees(angle), "deg", bed) for angle in turned),
        ),
        (
            (
                "Screw the bed on the base, back edges level. A block under the base hooks over the bench's edge, and"
                " clamps hold it; wax the run."
            ),
            (
                "The plane lies on its side on the run, its sole along the bed's edge; set fine. A few strokes"
                " without a piece leave a step there that guides it from then on."
            ),
            (
                "The fence's face along the line of the angle that the set-up tells, turned until the triangle"
                " of that angle, or a try square, agrees; two screws from above, clear of the run."
            ),
            (
                "The edge with the end's point at the fence, scrap as thick as the piece between them: it ends at the"
                " bed's edge, too. The knife line on that edge; push the piece after the iron as it shortens, and"
                " stop in the middle of the line. A long one has packing as high as base and bed under its far end."
            ),
        ),
        (
            said(
                "Shoot two pieces of scrap square, lay them end to end, one turned over, along a straightedge: no"
                " light; likewise at each angle two together on its gauge. A strip of paper at the fence mends it:"
                " {paper} thick.",
                paper=shown(0.1, profile),
            ),
        ),
        ("The iron is bare at the side: fingers behind fence and piece, never before the plane.",),
    )  # fmt: skip


def angles_shot(table: Table) -> tuple[tuple[float, tuple[str, ...]], ...]:
    """The angles off square at which segments and slats end, radians, smallest first, each with its parts."""
    rim = ((table.sizes.mitre, part.code) for part in table.parts if part.kind == "rim-segment")
    return by_angle((*rim, *((angle, code) for angle, codes in end_angles(table) for code in codes)))


def along(angle: float) -> Point:
    """Which way the fence's face runs from the plane, its far end leaning over the bed."""
    return Point(-sin(angle), cos(angle))
