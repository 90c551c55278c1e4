"""A top that comes off: in the rails a bolt's counterbore and hole, in the legs the nut's bore and the bolt's hole;
or a peg's hole in both."""

from collections.abc import Iterator

from templategen.parts.part import Part
from templategen.shop.set_ups import tolerances
from templategen.shop.set_ups.crossings import Crossing
from templategen.shop.set_ups.ledger import Ledger
from templategen.shop.set_ups.set_up import Job, Lay, Proof, Setting, Side

INSIDE = "inside the line"


def rail_bolt_jobs(ledger: Ledger, crossing: Crossing, part: Part, ends: tuple[Side, ...]) -> Iterator[Job]:
    """From above, at each of the ends: the counterbore first, whose centre the hole is started from."""
    terms = {"L": crossing.length, "r": crossing.legs}
    stop = ledger.add(f"{crossing.named}.bolt_stop", "from a rail's end to its bolt", "mm", "L / 2 - r", **terms)
    middle = ledger.add(
        f"{crossing.name}.centre", "from a rail's edge to its middle line", "mm", "w / 2", w=crossing.width
    )
    edge = ledger.setting("edge", middle, "from the edge at the fence to the centre of the bit")
    own = (ledger.setting("stop", stop, "from the end to the centre of the bit"),)
    lays = tuple(Lay(part.code, part.count, "top", "top", "low", end) for end in ends)
    head = (
        edge,
        ledger.setting("width", "legs.counterbore", "diameter of the counterbore"),
        ledger.setting("height", "legs.counterbore_depth", "its depth"),
    )
    proof = tolerances.length(
        ledger, "legs.counterbore_depth", "the head lies under the face", "height", tolerances.STRIP
    )
    yield Job("counterbore", "flat-bottomed bit", head, own, lays, INSIDE, proof)
    hole = (edge, ledger.setting("width", "legs.bolt_hole", "diameter of the hole"))
    says = "the bolt drops through without force"
    proof = tolerances.length(ledger, "legs.bolt_hole", says, "width", tolerances.STRIP)
    yield Job("drill through", "bit", hole, own, lays, INSIDE, proof)


def leg_bolt_jobs(ledger: Ledger, part: Part) -> Iterator[Job]:
    """The nut's bore from the side that is drawn as the top, then the bolt's hole down through it from the end."""
    terms = {"d": "legs.nut_below", "l": "legs.stub", "w": "legs.tenon.width"}
    says = "from the tenon's corner to the middle of the nut, along the leg"
    stop = ledger.add("leg.nut_stop", says, "mm", "(d + l) * cos(lean) + w / 2 * sin(lean)", **terms)
    says = "from a leg's inner edge to the middle of the nut"
    edge = ledger.add("leg.nut_edge", says, "mm", "s / 2 + d * sin(rake)", d="legs.nut_below")
    shared = (
        ledger.setting("edge", edge, "from the edge at the fence to the centre of the bit"),
        ledger.setting("width", "legs.barrel_nut.diameter", "diameter of the bore: the nut goes in by hand"),
        ledger.setting("height", "legs.cross_bore_depth", "its depth"),
    )
    own = (ledger.setting("stop", stop, "from the tenon's end, at its corner, to the centre of the bit"),)
    lay = Lay(part.code, part.count, "top", "top", "low", "right")
    checks = (
        tolerances.sized(
            ledger, "legs.barrel_nut.diameter", "the nut goes in by hand and turns with a driver", "width"
        ),
        tolerances.alike(ledger, "from the tenon's end and the edge, all legs alike", "stop", "edge"),
    )
    proof = Proof(tolerances.STRIP, checks)
    yield Job("cross bore", "flat-bottomed bit", shared, own, (lay,), INSIDE, proof)
    yield _down(ledger, part)


def _down(ledger: Ledger, part: Part) -> Job:
    across = ledger.add("leg.bolt_across", "from a tenon's edge to its middle", "mm", "w / 2", w="legs.tenon.width")
    middle = ledger.add("leg.bolt_middle", "from a leg's side to its middle", "mm", "s / 2")
    shared: tuple[Setting, ...] = (
        ledger.setting("edge", across, "from the tenon's lower edge to the centre of the bit"),
        ledger.setting("middle", middle, "from the leg's underside to the centre of the bit, and from its top"),
        ledger.setting("width", "legs.bolt_hole", "diameter of the hole"),
        ledger.setting("height", "legs.bolt_hole_depth", "its depth from the tenon's end, square to that"),
    )
    lay = Lay(part.code, part.count, "right", "right", "low")
    says = "with the nut in its bore the bolt finds the thread by hand"
    proof = tolerances.length(ledger, "legs.bolt_hole", says, "edge", "STRIP-LEG, where it has the nut's bore")
    return Job("end bore", "long bit", shared, (), (lay,), INSIDE, proof)


def rail_peg_job(ledger: Ledger, crossing: Crossing, part: Part, ends: tuple[Side, ...]) -> Job:
    """From an edge through both cheeks, at each of the ends."""
    terms = {"L": crossing.length, "r": crossing.legs}
    stop = ledger.add(f"{crossing.named}.peg_stop", "from a rail's end to its peg", "mm", "L / 2 - r", **terms)
    shared = (
        ledger.setting("edge", "legs.peg.rise", "from the underside, at the fence, to the centre of the bit"),
        ledger.setting("width", "legs.peg.thickness", "diameter of the hole"),
    )
    own = (ledger.setting("stop", stop, "from the end to the centre of the bit"),)
    lays = tuple(Lay(part.code, part.count, "low", "low", "bottom", end) for end in ends)
    proof = tolerances.length(ledger, "legs.peg.thickness", tolerances.BORED, "width", tolerances.STRIP)
    return Job("peg bore", "bit", shared, own, lays, INSIDE, proof)


def leg_peg_job(ledger: Ledger, part: Part) -> Job:
    """Through the tenon, nearer to the shoulder by the draw, from the side that is drawn as the top."""
    terms = {"l": "legs.tenon.length", "i": "legs.peg_in_tenon", "w": "legs.tenon.width", "lean": "legs.lean"}
    says = "from the tenon's corner to the middle of its peg's hole, along the leg"
    stop = ledger.add("leg.peg_stop", says, "mm", "(l - i) * cos(lean) + w / 2 * sin(lean)", **terms)
    terms = {"s": "legs.section", "i": "legs.peg_in_tenon", "rake": "legs.rake"}
    says = "from a leg's inner edge to the middle of its peg's hole"
    edge = ledger.add("leg.peg_edge", says, "mm", "s / 2 - i * sin(rake)", **terms)
    shared = (
        ledger.setting("edge", edge, "from the edge at the fence to the centre of the bit"),
        ledger.setting("width", "legs.peg.thickness", "diameter of the hole"),
        ledger.setting("height", "legs.peg_bore", "its depth from the leg's side: through the tenon"),
    )
    own = (ledger.setting("stop", stop, "from the tenon's end, at its corner, to the centre of the bit"),)
    lay = Lay(part.code, part.count, "top", "top", "low", "right")
    alike = tolerances.alike(ledger, "from shoulder and edge, all legs alike", "stop", "edge")
    checks = (tolerances.drawn(ledger), alike)
    return Job(
        "tenon bore", "bit", shared, own, (lay,), INSIDE, Proof("TEST-TENON, home in a rail's mortise", checks)
    )
