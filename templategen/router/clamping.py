"""Clampings: a part as it lies on the machine with one face up, where its zero is, and what is cut in which order."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Literal

from templategen.geometry.edge import Edge, Line
from templategen.geometry.outline import Outline, circle
from templategen.geometry.placement import OVER, Placement
from templategen.geometry.point import Point
from templategen.geometry.tolerance import MET
from templategen.parts.arris import stretches_of
from templategen.parts.feature import Feature
from templategen.parts.part import Part
from templategen.router.bits import Bit, bits_of
from templategen.router.operation import Operation, face_work, relieved, through
from templategen.shop.rough import on_a_strip, single_outline
from templategen.shop.routed import CUT_LATER
from templategen.table.edges import IN_THE_RING
from templategen.table.profile.model import Profile
from templategen.table.profile.routing import MARGIN, pin_of

Up = Literal["top", "bottom"]

Held = Literal["skin", "suction", "clamps"]
"""What holds the part: a skin left under the last pass, suction, or clamps where nothing is cut free."""

FACES: tuple[Up, ...] = ("top", "bottom")

PLACE_OF_PINS = 0.35
"""How far up the width the pins stand: off the middle, so that a part turned the wrong way doesn't go on."""

PIN_DEPTH = 12.0
"""How far a pin stands out of the bed into the wood, mm."""

MM2_PER_CM2 = 100.0


@dataclass(frozen=True, slots=True)
class Clamping:
    """One part on the machine. All outlines are in the machine's frame: X0 Y0 is the lower left corner of the box
    round the `piece`, Z0 its upper face.

    `piece` is the wood as it is laid on, rough or to size, `recess` that it lies in a recess of its own outline;
    `frees` is what is cut out of it here, None where nothing is. `turn` is the line about which it was or will be
    turned over, `pins` are the holes for two pins, `bored` those too small for any bit. `missed` is work of this face
    that no bit makes; the part is `thick` where no bit is long enough for its outline, which is left to the saw.
    `eased` are the edges of this face that a shaped cutter eases afterwards, each with its feature.
    """

    part: Part
    face: Up
    piece: Outline
    operations: tuple[Operation, ...]
    frees: Outline | None
    held: Held
    turn: Line | None = None
    pins: tuple[Outline, ...] = ()
    bored: tuple[Outline, ...] = ()
    recess: bool = False
    is_rough: bool = False
    is_second: bool = False
    missed: tuple[Feature, ...] = ()
    thick: bool = False
    eased: tuple[tuple[Feature, Edge], ...] = ()

    @property
    def left_to_set_ups(self) -> tuple[Feature, ...]:
        """Work on edges and ends, what is eased once the ring is glued, and on a face that isn't laid up."""
        return tuple(one for one in self.part.features if not one.is_flat or self._is_elsewhere(one))

    def _is_elsewhere(self, one: Feature) -> bool:
        return _in_the_ring(one, self.face) or (one.traits.arris and one.face != self.face and self.turn is None)


def _in_the_ring(feature: Feature, face: str) -> bool:
    return feature.operation in IN_THE_RING and feature.face == face


def _eased(part: Part, face: Up) -> tuple[tuple[Feature, Edge], ...]:
    """The edges of a face that are eased, in its frame."""
    features = (one for one in part.features_on(face) if one.traits.arris and not _in_the_ring(one, face))
    return tuple((one, edge) for one in features for stretch in stretches_of(part, one) for edge in stretch.edges)


def freed(part: Part) -> Outline:
    """The outline that a router cuts a part out by."""
    return part.blank if part.kind in CUT_LATER else part.outline


def clampings(part: Part, profile: Profile) -> tuple[Clamping, ...]:
    """How a part is worked on the machine: no clamping, one, or two, in order.

    The outline is cut in the last clamping where pins find room in the waste. Elsewhere it is cut in the first, and
    the second face is registered by a recess of just that outline.
    """
    bits = bits_of(profile)
    works = {face: face_work(part, face, bits) for face in FACES}
    cut = _through_cuts(part, profile, bits)
    faces = [face for face in FACES if works[face].operations]
    if not faces and cut and not _is_box(freed(part)):
        faces = ["top"]
    rough = single_outline(profile.shop, part) if cut else part.blank
    pins = _pins(rough, part, profile, bits) if cut and len(faces) > 1 else ()
    last = len(faces) - 1 if pins else 0
    made = []
    for place, face in enumerate(faces):
        here = bool(cut) and place == last
        whole = bool(pins) or place == 0
        one = Clamping(
            part,
            face,
            rough if whole else freed(part) if cut else part.blank,
            (*(pins if place == 0 else ()), *works[face].operations, *(cut if here else ())),
            freed(part) if here else None,
            _held(profile, freed(part)) if here else "clamps",
            pins=tuple(pin.outline for pin in pins),
            bored=_bored(part, cut) if here else (),
            is_rough=bool(cut) and whole,
            is_second=place > 0,
            missed=works[face].missed,
            thick=not cut,
            eased=_eased(part, face),
        )
        made.append(_on_machine(one, len(faces) > 1, profile.dxf.corner_relief))
    return tuple(made)


def cut_depth(part: Part, profile: Profile, frees: Outline) -> float:
    """How deep a cut right through goes: into the bed, or not quite to it where a skin is left."""
    return part.thickness + (profile.router.through if _held(profile, frees) != "skin" else -profile.router.skin)


def _held(profile: Profile, frees: Outline | None) -> Held:
    """Round a blank of its own waste is narrower than a bit: tabs and screws would hold nothing there."""
    if frees is None:
        return "clamps"
    enough = profile.router.vacuum * MM2_PER_CM2
    return "suction" if profile.router.held_by == "vacuum" and abs(frees.area) >= enough else "skin"


def _through_cuts(part: Part, profile: Profile, bits: Sequence[Bit]) -> tuple[Operation, ...]:
    """Holes, then the outline; none where no bit reaches through."""
    frees = freed(part)
    depth = cut_depth(part, profile, frees)
    outline = through("outside", frees, depth, bits)
    holes = (through("inside", hole.anticlockwise, depth, bits) for hole in part.holes)
    return (*(hole for hole in holes if hole), outline) if outline else ()


def _bored(part: Part, cut: Sequence[Operation]) -> tuple[Outline, ...]:
    """The holes that aren't among the cuts."""
    made = [one.outline for one in cut]
    return tuple(hole for hole in part.holes if hole.anticlockwise not in made)


def _is_box(ring: Outline) -> bool:
    """Whether an outline is a plain rectangle, which no one takes to a router."""
    return abs(abs(ring.area) - ring.bounds.width * ring.bounds.height) < MET * ring.bounds.width


def _pins(rough: Outline, part: Part, profile: Profile, bits: Sequence[Bit]) -> tuple[Operation, ...]:
    """Two holes in the waste at the ends, alike from both; none where a pin has no room beside the bit."""
    box, inner = rough.bounds, freed(part).bounds
    pin, widest = pin_of(profile.shop.router_bit), max(bit.diameter for bit in bits)
    room = min(inner.left - box.left, box.right - inner.right)
    if room < widest + pin + 2 * MARGIN - MET or not _is_box(rough):
        return ()
    off, up = MARGIN + pin / 2, box.bottom + box.height * PLACE_OF_PINS
    holes = (circle(x, up, pin / 2) for x in (box.left + off, box.right - off))
    depth = PIN_DEPTH if part.thickness > PIN_DEPTH else part.thickness + profile.router.through
    cut = [through("pin-hole", hole, depth, bits) for hole in holes]
    return tuple(one for one in cut if one) if all(cut) else ()


def _on_machine(one: Clamping, turned: bool, relief: str) -> Clamping:
    """The clamping, told in the part's own frame, laid with its piece's lower left corner on X0 Y0."""
    over = OVER if one.face == "bottom" else Placement()
    box = over.outline(one.piece).bounds
    shift = Placement(-box.left, -box.bottom)
    way = over.then(shift)
    middle = box.width / 2
    cuts = (again for done in one.operations for again in relieved(_seen(done, shift, way), relief))
    return replace(
        one,
        piece=way.outline(one.piece),
        operations=tuple(cuts),
        frees=way.outline(one.frees) if one.frees else None,
        turn=Line(Point(middle, 0.0), Point(middle, box.height)) if turned else None,
        pins=tuple(map(way.outline, one.pins)),
        bored=tuple(map(way.outline, one.bored)),
        eased=tuple((feature, shift.edge(edge)) for feature, edge in one.eased),
        recess=turned and not one.is_rough,
    )


def _seen(done: Operation, shift: Placement, way: Placement) -> Operation:
    """An operation on the machine: pockets are told in their face's frame, cuts right through in the part's."""
    if done.task == "pocket":
        return done.placed(shift)
    return replace(done, outline=way.outline(done.outline), left=tuple(map(way.outline, done.left)))


def comes_off_a_strip(part: Part, profile: Profile, tables: int = 1) -> bool:
    """Whether the cut list has the part sawn out in a strip with others, where the machine wants it by itself."""
    return on_a_strip(profile.shop, part, part.count * tables) > 1
