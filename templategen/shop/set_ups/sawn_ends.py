"""Ends sawn off against a stop: square, mitred, or of two edges."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from templategen.catalogue import worded
from templategen.parts.part import Part
from templategen.shop.rough import SQUARED
from templategen.shop.set_ups import tolerances
from templategen.shop.set_ups.ledger import PREFIX, Ledger
from templategen.shop.set_ups.remarks import SLED
from templategen.shop.set_ups.set_up import Check, Job, Lay, Operation, Proof, Setting, Side

WASTE = "on the waste side of the line, away from the stop; the stop is measured to the near face of the kerf"

OFF_A_STRIP = (
    "[{codes}: ]pieces lie in their strip all one way: cut its end clean, then one piece after another off it, the"
    " saw as it stands, to a pencil line and without a stop; the other ends go to the stop once all are off"
)
OFF_A_STRIP_MARKED = (
    "[{codes}: ]pieces lie in their strip all one way: cut its end clean, then one piece after another off it, as far"
    " apart as told, each to a pencil line; the other ends are marked once all are off"
)
"""One saw is never set anew for each piece, and no strip is turned over: its arrises may be eased by then."""

TOO_FAR = "further than the stop reaches: clamp a block to a longer fence"

SQUARE = 1e-6
"""An end this close to square counts as square, degrees."""


@dataclass(frozen=True, slots=True)
class SawnEnd:
    """One straight cut off an end.

    `end` is the end it makes, `against` the edge at the gauge's fence: the one along which the end's point lies, so
    that every angle leans the same way. `angle` is the quantity of the angle off square, `stop` that of the distance
    along the fence from the far end to the blade; "" for the first end of a piece, which is only cut clean.
    `leans_out` says that a line is marked instead, and that by then no wood is left along `against` where it would
    be told: `against` is the other edge then, from which it leans away from the far end.
    """

    end: Side
    against: Side
    angle: str
    stop: str
    leans_out: bool = False


def up_for(end: Side, against: Side) -> Side:
    """Which face lies up, so that gauge and stop can stay as they are: turning a piece end for end puts its other
    edge at the fence, and turning it over brings the first one back."""
    return "top" if (end.startswith("right"), against) in ((True, "low"), (False, "high")) else "bottom"


def sawn_jobs(
    ledger: Ledger, part: Part, ends: Sequence[SawnEnd], length: str, square: Proof, *turned: Check
) -> tuple[Job, ...]:
    """The jobs that saw a part's ends, in the order given; `length` is that from point to point. `square` proves
    them; with `turned`, ends off square are proved by their angle and by these checks."""

    def proof(end: SawnEnd) -> Proof:
        return (
            tolerances.turned(ledger, end.angle, strip, *turned) if turned and not is_square(ledger, end) else square
        )

    strip = tolerances.strip_of(part) if turned else ""
    first, *others = (_job(ledger, part, end, proof(end)) for end in ends)
    if part.blank.bounds.width < ledger.value("shop.holding") and not all(is_square(ledger, end) for end in ends[:2]):
        first = replace(first, own=(_apart(ledger, part, ends[0], length),), warnings=(*first.warnings, OFF_A_STRIP))
    return first, *others


def _apart(ledger: Ledger, part: Part, first: SawnEnd, length: str) -> Setting:
    """How far apart pieces leave their strip by cuts like their first end: each is whole between two of them, however
    its other end leans."""
    says, source = "trimmed between two pieces of a strip", "shop practice"
    squared = ledger.given("squared", says, SQUARED, "mm", source)
    terms = {"L": length, "kerf": "shop.saw_kerf", "off": first.angle, "sq": squared}
    told = worded("what each {code} takes of its strip", code=part.code)
    name = ledger.add(f"{part.code}.apart", told, "mm", "L + kerf / cos(off) + sq", **terms)
    return ledger.setting("apart", name, "along the edge of the strip that they come off, from point to point")


def is_square(ledger: Ledger, end: SawnEnd) -> bool:
    """Whether it is cut square."""
    return abs(ledger.value(end.angle)) < SQUARE


def _job(ledger: Ledger, part: Part, end: SawnEnd, proof: Proof) -> Job:
    off, square = ledger.value(end.angle), is_square(ledger, end)
    operation: Operation = "crosscut" if square else "mitre"
    up: Side = "top" if square else up_for(end.end, end.against)
    far: Side = "left" if end.end.startswith("right") else "right"
    lay = Lay(part.code, part.count, end.end, up, end.against, far if end.stop else "")
    own: tuple[Setting, ...] = ()
    warnings: tuple[str, ...] = ()
    if end.leans_out:
        own = (ledger.setting("beyond", end.stop, "along the edge, from the far end's point to the line"),)
    elif end.stop:
        own = (
            ledger.setting(
                "stop", end.stop, "along the fence, from a square stop at the far end's point to the blade"
            ),
        )
        if ledger.value(end.stop) > ledger.value("shop.stop_reach"):
            warnings = (TOO_FAR,)
    if off > ledger.value("shop.mitre_reach") + SQUARE:
        warnings += (SLED,)
    shared = angle_settings(ledger, end.angle)
    return Job(operation, "saw blade", shared, own, (lay,), WASTE, proof, warnings)


def angle_settings(ledger: Ledger, angle: str) -> tuple[Setting, Setting]:
    """An angle in both ways of reading: off square as a saw's scale has it, and 90 where square as a gauge's has."""
    name = angle.removeprefix(PREFIX)
    gauge = ledger.add(f"{name}.gauge", "the same as a gauge reads it, 90 where square", "deg", "90 - off", off=angle)
    return (
        ledger.setting("angle", angle, "off square, as the saw's scale reads it"),
        ledger.setting("gauge", gauge, "between fence and blade, as a mitre gauge reads it"),
    )


def square_angle(ledger: Ledger) -> str:
    """The quantity of a square cut."""
    return ledger.given("square", "a square cut", 0.0, "deg", "the part's end is square to its edge")


def square_ends(ledger: Ledger, length: str) -> tuple[SawnEnd, SawnEnd]:
    """Both ends of a bar: one cut clean, the other to the stop."""
    square = square_angle(ledger)
    return SawnEnd("left", "low", square, ""), SawnEnd("right", "low", square, length)
