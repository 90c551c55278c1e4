"""Rebates and shoulders, cut with the end at the fence: a shoulder's distance from it then holds at any angle."""

from collections.abc import Iterator, Sequence
from dataclasses import replace

from templategen.parts.part import Part
from templategen.shop.set_ups import tolerances
from templategen.shop.set_ups.choose import ways_for
from templategen.shop.set_ups.cutters import at_a_machine, passes_for
from templategen.shop.set_ups.ledger import PREFIX, Ledger
from templategen.shop.set_ups.sawn_ends import SQUARE, SawnEnd, angle_settings, is_square, up_for
from templategen.shop.set_ups.set_up import Job, Lay, Proof, Setting, Side

CUTTER_SIDE = "the cutter's far side on the shoulder line; further passes move towards the end"

STAYS = "from the top to the underside of tongue or tenon: the depth there is the measured thickness - this"

SLANTING = "off square, of the straightedge: all ends in one slanting line, the scrap's too"

NIB_SIDE = "on the tongue's side of the shoulder; the wood from there to the end goes too"

SAW_SIDE = "on the waste side of both lines: shoulder first, then the cheek"


def rebate_job(
    ledger: Ledger, name: str, length: str, height: str, left: str, lays: Sequence[Lay], is_first: bool = False,
    angle: str = "", by_hand: bool = False, own: tuple[Setting, ...] = (),
) -> Job:  # fmt: skip
    """One face's share of tongues or tenons `length` long: all that lies above `height` is taken off their ends, and
    both faces' shares leave a thickness of `left`; `is_first` that the other face's has a set-up of its own later,
    `angle` the quantity by which ends lean that a gauge carries, `by_hand` that no machine takes the pieces, `own`
    what is set for these alone."""
    sizes = length, height
    made = passes_for(ledger, "rebate", f"{name}.rebate", sizes, "the rebate", buried=True, by_hand=by_hand)
    shared = (
        *(angle_settings(ledger, angle) if angle else ()),
        ledger.setting("fence", length, "from the fence to the cutter's far side: the shoulder"),
        ledger.setting("height", height, "of the cutter over what the piece lies on"),
        *(setting for setting in made.settings if setting.name != "width"),
    )
    measure = "thickness of what both rebates leave: it goes into its groove or mortise by hand"
    wanted = ledger.setting("wanted", left, "thickness of the tongue or tenon")
    checks = (
        tolerances.fitted(ledger, "depth of the rebate, from the face", "height")
        if is_first
        else replace(tolerances.fitted(ledger, measure, "height"), wanted=wanted),
        tolerances.alike(ledger, "shoulder to end, at both faces", "fence", "step"),
    )
    proof = Proof(tolerances.STRIP, checks)
    return Job(
        "rebate", made.cutter, shared, own, tuple(lays), CUTTER_SIDE, proof, made.warnings, by_hand=made.by_hand
    )


def stays(ledger: Ledger, face: Side, height: str, left: str) -> tuple[Setting, ...]:
    """What must stay under the rebate of the underside, where the other face's is as deep as `height` and a tongue
    `left` thick: cut by tools that go over the piece it then lies as drawn under the top, whatever the boards
    measure. At a machine's table, and for the top, nothing."""
    if face != "bottom" or at_a_machine(ledger):
        return ()
    name = f"{height.removeprefix(PREFIX)}.{left.rpartition('.')[2]}.stays"
    says = "from the top to the underside of the tongue"
    kept = ledger.add(name, says, "mm", "over + left", over=height, left=left)
    return (ledger.setting("stays", kept, STAYS),)


def slanting(ledger: Ledger, angle: str) -> tuple[Setting, ...]:
    """How a straightedge lies that leads a router along an end off square; nothing where another way does it."""
    ways = ways_for(ledger.profile, "rebate")
    led = bool(ways) and ways[0].kind == "hand-held" and abs(ledger.value(angle)) > SQUARE
    return (ledger.setting("angle", angle, SLANTING),) if led else ()


def nib_jobs(ledger: Ledger, part: Part, shoulder: SawnEnd) -> Iterator[Job]:
    """A slat's shoulder that is cut to a stop, on both faces, as deep as its tongue's rebates."""
    shared = (
        *angle_settings(ledger, shoulder.angle),
        ledger.setting("height", "joints.tongue_shoulder", "of the blade over what the piece lies on"),
    )
    far: Side = "left" if shoulder.end == "right" else "right"
    own = (
        ledger.setting(
            "stop", shoulder.stop, "along the fence, from a square stop at the far end's point to the shoulder"
        ),
    )
    checks = (
        tolerances.shouldered(ledger, "from the far end's point to the shoulder"),
        tolerances.fitted(ledger, "depth: level with the rebate beside it", "height"),
    )
    proof = Proof(tolerances.STRIP, checks)
    faces: tuple[tuple[Side, Side], ...] = (("top", "bottom"), ("bottom", "top"))
    for worked, up in faces:
        swung = up != up_for(shoulder.end, shoulder.against) and not is_square(ledger, shoulder)
        lay = Lay(part.code, part.count, worked, up, shoulder.against, far, swung)
        yield Job("nib", "saw blade", shared, own, (lay,), NIB_SIDE, proof)


def shoulder_job(
    ledger: Ledger, length: str, height: str, width: str, lays: Sequence[Lay], angle: str = "", each: bool = False
) -> Job:
    """A tenon's narrow shoulders: a corner `length` along and `height` in from the edge of a piece `width` wide,
    right through; `each` that the other end's tenon has another length. At a machine the other edge runs along the
    fence, so that what falls off is never caught between that and the blade."""
    fence = (ledger.setting("fence", length, "from the end to the shoulder, square to the end"),)
    shared = [
        *(() if each else fence),
        ledger.setting("height", height, "from the edge to the cheek, along the shoulder"),
    ]
    raked = bool(angle) and abs(ledger.value(angle)) > 1e-9
    if raked:
        shared.insert(
            0,
            ledger.setting(
                "angle", angle, "off square: the shoulder parallel to the raked end, the cheek square to both"
            ),
        )
    else:
        name = f"{height.removeprefix(PREFIX)}.from_other_edge"
        edge = ledger.add(name, "from the other edge to a tenon's cheek", "mm", "w - in_", w=width, in_=height)
        shared.append(ledger.setting("edge", edge, "from the other edge, at the fence, to the cheek"))
    checks = (
        tolerances.at_end(ledger, "from the edge to the cheek", "height", "edge"),
        tolerances.below(ledger, "from the end to the shoulder, never short of the faces' shoulders", "fence"),
    )
    proof = Proof(tolerances.STRIP, checks)
    own = fence if each else ()
    return Job("shoulder", "saw", tuple(shared), own, tuple(lays), SAW_SIDE, proof, by_hand=raked)
