"""The bandsaw pivot jig: the ring is sawn round on a pin that stands on the line of the teeth."""

from collections.abc import Iterator
from math import cos, degrees, pi, sin, tan

from templategen.checks.describe import said
from templategen.errors import DesignError
from templategen.geometry.point import Point
from templategen.jigs.bush import refused
from templategen.jigs.jig import Critical, Jig
from templategen.jigs.piece import distance, shown, tidy
from templategen.jigs.pivot_pieces import (
    HALF_SLIDE,
    base,
    centre_pieces,
    corner_gauge,
    has_plug,
    overhang,
    packer,
    runner,
    scribes,
    slide,
    supports,
    track,
)
from templategen.jigs.swing import CLEAR, SQUARE_OFF, Swing
from templategen.table.assembly import Table
from templategen.table.profile.model import Profile
from templategen.table.rails import lap_of
from templategen.table.sizes import Sizes

PROVED_OVER = pi / 6
"""The arc that is sawn first, radians: it goes on what boards and sheets leave over, and a pin off the tooth line
shows at its end as at the end of any."""

SCREWED = 25.0
"""Wood inside that arc, which the strip is screwed to, mm."""


def pivot(table: Table) -> Iterator[Jig]:
    """One pivot jig for a ring that is sawn round; none for a faceted one.

    Raises:
        DesignError: the pin comes through what it stands in.
    """
    if not table.sizes.is_sawn:
        return
    swing = Swing(table.sizes)
    refuse_long_pin(table.profile)
    yield Jig(
        "PIVOT",
        "bandsaw pivot jig",
        tuple(part.code for part in table.parts if part.kind == "rim-segment"),
        (base(swing), slide(swing), runner(swing), packer(swing), *supports(swing), corner_gauge(swing),
         *centre_pieces(swing.sizes, "PIVOT")),
        tuple(scribes(swing)),
        tuple(_figures(swing)),
        tuple(_use(swing)),
        tuple(_proof(swing)),
        (
            "Two or more persons lift and turn the top; stands or a second table carry what the saw's table doesn't.",
            "Blade guard and guide down to just above the work; only the working part of the blade bare.",
            ("Hands outside the blade's line and never between work and column. Don't back out of a running blade: "
            "stop it and wait."),
            "The corner of the blank comes off loose: leave it lying until the blade stands.",
        ),
    )  # fmt: skip


def refuse_long_pin(profile: Profile) -> None:
    """The pin must not reach past the plug or the bridge into wood that shows, nor lift the top."""
    jigs = profile.jigs
    if jigs.pin_depth > jigs.thickness:
        sizes = {"size": jigs.pin_depth, "most": jigs.thickness}
        raise DesignError(refused("jigs.pin_depth", "pin-through-sheet", profile, **sizes))


def _figures(swing: Swing) -> Iterator[Critical]:
    sizes, origin, pin = swing.sizes, Point(0, 0), Point(swing.radius, 0)
    middle = Point(-swing.kerf / 2, 0)
    yield distance("pin to the near edge of the cut", "PIVOT-BASE", pin, origin, "diameter / 2")
    yield distance("pin to the middle of the blade", "PIVOT-BASE", pin, middle, "diameter / 2 + kerf / 2")
    stop = Point(track(swing), HALF_SLIDE)
    yield distance("tooth line to the stop", "PIVOT-BASE", Point(track(swing), 0), stop, "half the slide")
    yield Critical("pin ahead of or behind the tooth line, at most", swing.pin_tolerance, "mm", how="R tan 0.5°")
    yield Critical("blade off square to the pin line, at most", degrees(SQUARE_OFF), "deg")
    yield Critical("first entry, from the blank's corner along its outer edge", swing.entry_from_corner, "mm",
                   how="A tan(pi/N) - R sin(pi/N) + c cos(pi/N)")  # fmt: skip
    yield Critical("flat that the entry trims off the corner, half of it", swing.half_flat, "mm",
                   how="c = (A - R cos(pi/N)) / sin(pi/N)")  # fmt: skip
    yield Critical("the whole flat", 2 * swing.half_flat, "mm", how="2 c")
    yield distance("corner outside the circle", "PIVOT-CORNER", Point(0, 0), Point(0, swing.corner_waste),
                   "A / cos(pi/N) - R")  # fmt: skip
    yield Critical("run of the slide to its stop", swing.travel, "mm", how=f"c + {shown(CLEAR, sizes.profile)}")
    yield Critical("base past the right edge of the saw's table", overhang(swing), "mm")
    jigs = sizes.profile.jigs
    yield Critical("pin above the slide", jigs.pin_depth, "mm", how="jigs.pin_depth")
    if not has_plug(sizes.profile):
        away = Point(sizes.profile.legs.centre_distance, 0)
        yield distance("pin to the middle of a foot", "PIVOT-BRIDGE", origin, away, "legs.centre_distance")


def _use(swing: Swing) -> Iterator[str]:
    profile = swing.sizes.profile

    def size(mm: float) -> str:
        return shown(mm, profile)

    middle, (_, front, right, _) = swing.kerf / 2, swing.table
    yield said(
        "Measure your saw's table from the middle of a test cut: here {right} to its right edge, {front} from the "
        "teeth to its front. Screw the cleats under the base by yours; slip it on from the right so that its "
        "slot takes the blade, the cleats over those edges, and clamp.",
        right=size(right + middle),
        front=size(-front),
    )
    yield (
        "Square the tooth line to the cut that the blade makes of itself (its drift), not to the table; clamp again."
    )
    if overhang(swing) > 0:
        yield said(
            "The base stands {over} over the table's right edge: screw the bearers under it, clear of the runner's "
            "slot, and prop its far end to the height of the saw's table.",
            over=size(overhang(swing)),
        )
    yield from _pin_in_the_top(swing.sizes)
    yield said(
        "Lay the top on the pin, underside down, the slide {travel} short of its stop and a joint's corner towards "
        "the blade. The cut enters {entry} from that corner on the outer edge and trims {flat} of flat until it "
        "touches the circle at the joint.",
        travel=size(swing.travel),
        entry=size(swing.entry_from_corner),
        flat=size(swing.half_flat),
    )
    yield said(
        "Draw that flat with the corner gauge beforehand, {long} long, square to the joint and {radius} from the "
        "centre: the cut must enter along it.",
        long=size(2 * swing.half_flat),
        radius=size(swing.radius),
    )
    yield said(
        "Start the saw, slide straight in to the stop, stop the saw. Once the blade stands, drop a dowel of {pin} "
        "through the end of the slide's arm into the base, left of the blade and outside the top; start again and "
        "turn the top clockwise.",
        pin=size(profile.jigs.pin),
    )
    yield (
        "All this is for a saw whose column stands to the left of its blade. With the column on the right, turn "
        "every piece over before it is scribed, and turn the work the other way."
    )
    yield "Inner edges stay straight: no bandsaw cuts a closed circle inside a glued ring."


def _pin_in_the_top(sizes: Sizes) -> Iterator[str]:
    """How the pin stands in the top's middle."""
    profile, depth = sizes.profile, shown(sizes.profile.jigs.pin_depth, sizes.profile)
    if has_plug(profile):
        yield said(
            "The pin is a steel rod of {pin}, glued right through the slide. Press the plug into the lowest rail's "
            "hole, flush below, with paper round it if it is loose; the pin stands {depth} into its {thick}.",
            pin=shown(profile.jigs.pin, profile),
            depth=depth,
            thick=shown(profile.jigs.thickness, profile),
        )
        return
    left = shown(profile.top.thickness / len(lap_of(sizes).codes), profile)
    yield said(
        "Glue the two feet under the bridge on their marks, press them into the leg mortises of the lowest rail "
        "and lay packers of the same sheet under the rim. The pin is a steel rod of {pin}, glued right through the "
        "slide; it stands {depth} into the bridge's {thick}, for the lowest rail is only {left} thick in the lap.",
        pin=shown(profile.jigs.pin, profile),
        depth=depth,
        thick=shown(profile.jigs.thickness, profile),
        left=left,
    )


def proof_offcut(swing: Swing) -> tuple[float, float]:
    """Length and width of the wood that an arc is tried on, mm."""
    profile = swing.sizes.profile
    long, deep = 2 * swing.radius * sin(PROVED_OVER / 2), swing.radius * (1 - cos(PROVED_OVER / 2))
    return tidy(profile, long), tidy(profile, deep + SCREWED)


def _proof(swing: Swing) -> Iterator[str]:
    profile = swing.sizes.profile
    off, (long, wide) = shown(swing.pin_tolerance, profile), proof_offcut(swing)
    yield said(
        "Saw an arc on an offcut {long} long and {wide} wide, screwed to a strip of waste that turns on the pin. "
        "From the pin to the sawn edge it measures {radius} at the start, the middle and the end, within {near}.",
        long=shown(long, profile),
        wide=shown(wide, profile),
        radius=shown(swing.radius, profile),
        near=shown(0.5, profile),
    )
    yield said(
        "A step or a spiral means that the pin is off the tooth line (most {off}) or that the radius gave way.",
        off=off,
    )
    turned = shown(swing.radius * tan(SQUARE_OFF), profile)
    yield said(
        "Check the pin line with a square against the blade: {turned} over the radius is already half a degree.",
        turned=turned,
    )
