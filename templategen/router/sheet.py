"""A sheet or board as a machine cuts it: every part's work in cutting order, and what holds it all to the end.

The underside comes first where it carries work; then the sheet is turned over about its middle line along X, laid on
two pins in its waste, and what frees the parts comes last.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from math import pi

from templategen.catalogue import translated, worded
from templategen.geometry.edge import Line
from templategen.geometry.outline import Outline, rectangle
from templategen.geometry.placement import OVER, Placement
from templategen.parts.feature import Feature
from templategen.parts.part import Part
from templategen.router.bits import Bit
from templategen.router.fixing import pin_holes, screw_holes
from templategen.router.hold import Freed, Held, hold
from templategen.router.leaves import kept_off, kept_on, left_outside
from templategen.router.operation import Operation, face_work, relieved, through
from templategen.router.tabs import borne_by, joint_lines
from templategen.table.profile.model_of_shop import Router

MM2_PER_CM2 = 100.0

INTO_BED = 10.0
"""How far pins stand in the bed under the sheet, mm."""


@dataclass(frozen=True, slots=True)
class Laid:
    """A part where it lies: its line is in its own frame, and `finished` says that this is the part's own outline, so
    that its flat faces are worked too. `clean` are edges besides joints that nothing may be left on."""

    code: str
    part: Part
    line: Outline
    way: Placement
    finished: bool
    clean: tuple[Line, ...] = ()

    @property
    def ring(self) -> Outline:
        """The line where it lies."""
        return self.way.outline(self.line).anticlockwise

    @property
    def freed(self) -> Freed:
        """The same for what holds it."""
        lines = (*joint_lines(self.part, self.line), *self.clean)
        placed = (self.way.edge(line) for line in lines)
        return Freed(self.ring, tuple(line for line in placed if isinstance(line, Line)))


@dataclass(frozen=True, slots=True)
class Step:
    """One operation of a sheet: whose part, and whether it frees a finished part, a blank, or cuts to a skin only."""

    code: str
    operation: Operation
    blank: bool = False
    skin: bool = False


@dataclass(frozen=True, slots=True)
class SheetWork:
    """A sheet's clampings: steps of the underside, seen turned over (none where it carries no work), then of the
    upper face, in whose frame all else is told. `bored` are holes too small for any bit, `missed` is work that no bit
    does, `unheld` work of the underside after which nothing would hold its part, `left_to_set_ups` what edges and
    ends carry.
    """

    size: tuple[float, float]
    thickness: float
    underside: tuple[Step, ...]
    upper: tuple[Step, ...]
    held: Held
    router: Router
    pins: tuple[Outline, ...] = ()
    screws: tuple[Outline, ...] = ()
    bored: tuple[Outline, ...] = ()
    missed: tuple[tuple[str, Feature], ...] = ()
    unheld: tuple[tuple[str, Feature], ...] = ()
    left_to_set_ups: tuple[str, ...] = ()

    @property
    def skinned(self) -> Iterator[str]:
        """The codes of the parts that a skin holds."""
        return (step.code for step in self.upper if step.skin)

    @property
    def finished(self) -> frozenset[str]:
        """The codes of the parts that leave the machine with their own outline."""
        return frozenset(step.code for step in self.upper if step.operation.task == "outside" and not step.blank)

    @property
    def is_turned(self) -> bool:
        """Whether both faces are worked."""
        return bool(self.underside)


@dataclass(frozen=True, slots=True)
class Machine:
    """What a sheet is cut with: the bit that frees the parts, all bits, how work is held, what clears corners."""

    bit: Bit
    bits: tuple[Bit, ...]
    router: Router
    relief: str = "none"


def turned(width: float) -> Placement:
    """How a sheet of that width lies once it is turned over about its middle line along X."""
    return Placement(0.0, width, pi, True)


def sheet_work(laid: Sequence[Laid], size: tuple[float, float], thickness: float, machine: Machine) -> SheetWork:
    """Everything that a machine does to a sheet of that length and width, planed to that thickness.

    Raises:
        StockError: the waste has no room for the pins that the second face is laid on.
    """
    rings, over = [one.ring for one in laid], turned(size[1])
    work, held = _held_work(laid, size, thickness, machine)
    pins = pin_holes(rings, size, machine.bit.diameter) if work.lower else ()
    is_screwed = machine.router.held_by == "screws"
    return SheetWork(
        size,
        thickness,
        underside=_in_order((*_pin_steps(pins, over, thickness, machine), *work.lower), machine.relief),
        upper=_in_order((*work.upper, *work.inside, *_outsides(laid, held, thickness, machine)), machine.relief),
        held=held,
        router=machine.router,
        pins=pins,
        screws=screw_holes(rings, size, machine.bit.diameter, machine.router.screw, pins) if is_screwed else (),
        bored=tuple(work.bored),
        missed=tuple(work.missed),
        unheld=tuple(work.unheld),
        left_to_set_ups=tuple(dict.fromkeys(told for one in laid for told in _left_to_set_ups(one))),
    )


@dataclass(frozen=True, slots=True)
class _Flat:
    """The work of the flat faces of all parts, but for what frees them."""

    lower: list[Step] = field(default_factory=list)
    upper: list[Step] = field(default_factory=list)
    inside: list[Step] = field(default_factory=list)
    bored: list[Outline] = field(default_factory=list)
    missed: list[tuple[str, Feature]] = field(default_factory=list)
    unheld: list[tuple[str, Feature]] = field(default_factory=list)

    @property
    def is_plain(self) -> bool:
        """Whether everything of one kind and depth is cut with one bit, so that a layer names one."""
        bits: dict[object, Bit] = {}
        for face, steps in enumerate((self.lower, self.upper, self.inside)):
            for one in (step.operation for step in steps):
                if bits.setdefault((face, one.kind, round(one.depth, 3)), one.bit) != one.bit:
                    return False
        return True


def _held_work(
    laid: Sequence[Laid], size: tuple[float, float], thickness: float, machine: Machine
) -> tuple[_Flat, Held]:
    """The work with what holds the parts: those that the underside's pockets would cut loose all round keep their
    underside whole."""
    whole: frozenset[str] = frozenset()
    over = turned(size[1])
    while True:
        work = _with_bits(laid, size, thickness, machine, whole)
        below = [(over.outline(one.outline), one.bit.diameter / 2) for one in (step.operation for step in work.lower)]
        taken = [*(step.operation.outline for step in work.upper), *(outline for outline, _ in below)]
        held = _held(laid, size, thickness, machine, taken, below)
        more = {laid[i].code for i in held.loose} - whole
        if not more:
            return work, held
        whole |= more


def _with_bits(
    laid: Sequence[Laid], size: tuple[float, float], thickness: float, machine: Machine, whole: frozenset[str]
) -> _Flat:
    """The work with the bits in the maker's order; the narrow ones first where parts would ask for unlike bits."""
    depth = thickness + machine.router.through
    found = _flat_work(laid, size, depth, machine.bits, whole)
    narrow = tuple(sorted(machine.bits, key=lambda bit: bit.diameter))
    return found if found.is_plain else _flat_work(laid, size, depth, narrow, whole)


def _flat_work(
    laid: Sequence[Laid], size: tuple[float, float], depth: float, bits: Sequence[Bit], whole: frozenset[str]
) -> _Flat:
    work = _Flat()
    above = [one.ring for one in laid]
    below = [turned(size[1]).outline(ring).anticlockwise for ring in above]
    for i, one in enumerate(laid):
        for steps, rings, is_down in ((work.lower, below, True), (work.upper, above, False)):
            if is_down and one.code in whole:
                work.unheld.extend((one.code, feature) for feature in _pockets_down(one))
                continue
            found, told = _pockets(one, bits, is_down, size[1])
            kept = (kept_on(kept_off(step.operation, rings, i), size) for step in found)
            steps += (replace(step, operation=done) for step, done in zip(found, kept, strict=True))
            work.missed.extend(told)
        for hole in one.part.holes if one.finished else ():
            ring = one.way.outline(hole).anticlockwise
            cut = through("inside", ring, depth, bits)
            if cut is None:
                work.bored.append(ring)
            else:
                work.inside.append(Step(one.code, cut))
    return work


def _pin_steps(pins: Sequence[Outline], over: Placement, thickness: float, machine: Machine) -> Iterator[Step]:
    """The holes for pins go on into the bed; they are the first to be cut, with the bit that frees the parts."""
    for pin in pins:
        yield Step("", Operation("pin-hole", over.outline(pin), thickness + INTO_BED, machine.bit))


def _pockets(
    one: Laid, bits: Sequence[Bit], down: bool, width: float
) -> tuple[list[Step], list[tuple[str, Feature]]]:
    """The pockets of the face that lies up or down, as the sheet lies when they are cut; work that no bit reaches."""
    if not one.finished:
        return [], []
    up = replace(one.way, turned_over=False)
    way = OVER.then(up).then(turned(width)) if down else up
    work = face_work(one.part, "top" if one.way.turned_over == down else "bottom", bits)
    missed = [(one.code, feature) for feature in work.missed]
    return [Step(one.code, operation.placed(way)) for operation in work.operations], missed


def _pockets_down(one: Laid) -> Iterator[Feature]:
    """The pockets of the face that lies down."""
    face = "top" if one.way.turned_over else "bottom"
    yield from (feature for feature in one.part.features_on(face) if feature.traits.is_pocket)


def _left_to_set_ups(one: Laid) -> Iterator[str]:
    """What is on edges and ends of a part that is finished here, and round its edges."""
    for feature in one.part.features if one.finished else ():
        if not feature.is_flat or feature.traits.arris:
            yield worded("{work} of {code}", work=translated(feature.traits.words), code=one.code)


def _held(
    laid: Sequence[Laid],
    size: tuple[float, float],
    thickness: float,
    machine: Machine,
    taken: Sequence[Outline],
    below: Sequence[tuple[Outline, float]],
) -> Held:
    router, bit = machine.router, machine.bit
    freed = [replace(one.freed, borne=borne_by(one.ring, thickness, router.tab)) for one in laid]
    if router.held_by == "vacuum":
        freed = [replace(one, hangs=abs(one.ring.area) < router.vacuum * MM2_PER_CM2) for one in freed]
    skinned = range(len(freed)) if router.held_by == "skin" else ()
    return hold(freed, rectangle(0, 0, *size), bit.diameter, router.tab[0], taken, skinned, below)


def _outsides(laid: Sequence[Laid], held: Held, thickness: float, machine: Machine) -> Iterator[Step]:
    """The cuts that free the parts, or stop at a skin."""
    for i, one in enumerate(laid):
        is_skinned = i in held.skinned
        depth = thickness - machine.router.skin if is_skinned else thickness + machine.router.through
        done = through("outside", one.ring, depth, (machine.bit,))
        if done is None:
            left = left_outside(one.ring, machine.bit.diameter)
            done = Operation("outside", one.ring, depth, machine.bit, None, left)
        yield Step(one.code, done, not one.finished, is_skinned)


ORDER = {"pin-hole": 0, "pocket": 1, "corner-relief": 2, "inside": 3, "outside": 4}


def _in_order(steps: Sequence[Step], relief: str) -> tuple[Step, ...]:
    """Pockets and corners before what goes through, inside before outside, small before large."""
    every = [replace(step, operation=one) for step in steps for one in relieved(step.operation, relief)]
    return tuple(sorted(every, key=_place))


def _place(step: Step) -> tuple[int, float]:
    return ORDER[step.operation.task], round(abs(step.operation.outline.area), 3)
