"""A sheet or board as a machine cuts it: every part's work in cutting order, and what holds it all to the end.

The underside comes first where it carries work; then the sheet is turned over about its middle line along X, laid on
two pins in its waste, and what frees the parts comes last.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from math import pi

from templategen.geometry.edge import Line
from templategen.geometry.outline import Outline, rectangle
from templategen.geometry.placement import Placement
from templategen.parts.part import Part
from templategen.router.bits import Bit
from templategen.router.fixing import pin_holes, screw_holes
from templategen.router.hold import Freed, Held, hold
from templategen.router.leaves import left_outside
from templategen.router.operation import Operation, face_work, through
from templategen.router.tabs import joint_lines
from templategen.table.profile.model import Router

OVER = Placement(turned_over=True)

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
    does, `beside` what is on edges and ends."""

    size: tuple[float, float]
    thickness: float
    underside: tuple[Step, ...]
    upper: tuple[Step, ...]
    held: Held
    router: Router
    pins: tuple[Outline, ...] = ()
    screws: tuple[Outline, ...] = ()
    bored: tuple[Outline, ...] = ()
    missed: tuple[str, ...] = ()
    beside: tuple[str, ...] = ()

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
    """What a sheet is cut with: the bit that frees the parts, all bits, and how work is held."""

    bit: Bit
    bits: tuple[Bit, ...]
    router: Router


def turned(width: float) -> Placement:
    """How a sheet of that width lies once it is turned over about its middle line along X."""
    return Placement(0.0, width, pi, True)


def sheet_work(laid: Sequence[Laid], size: tuple[float, float], thickness: float, machine: Machine) -> SheetWork:
    """Everything that a machine does to a sheet of that length and width, planed to that thickness.

    Raises:
        StockError: the waste has no room for the pins that the second face is laid on.
    """
    lower, upper, missed = list[Step](), list[Step](), list[str]()
    for one in laid:
        for steps, is_down in ((lower, True), (upper, False)):
            found, told = _pockets(one, machine.bits, is_down, size[1])
            steps += found
            missed += told
    inside, bored, told = _holes(laid, thickness + machine.router.through, machine.bits)
    missed += told
    held = _held(laid, size, thickness, machine, (*lower, *upper))
    outside = _outsides(laid, held, thickness, machine)
    cuts = (*upper, *inside, *outside)
    rings = [one.ring for one in laid]
    pins = pin_holes(rings, size, machine.bit.diameter) if lower else ()
    is_screwed = machine.router.held_by == "screws"
    screws = screw_holes(rings, size, machine.bit.diameter, machine.router.screw, pins) if is_screwed else ()
    return SheetWork(
        size, thickness, _in_order(lower), _in_order(cuts), held, machine.router, pins,
        screws, tuple(bored), tuple(dict.fromkeys(missed)),
        tuple(dict.fromkeys(told for one in laid for told in _beside(one))),
    )  # fmt: skip


def _pockets(one: Laid, bits: Sequence[Bit], down: bool, width: float) -> tuple[list[Step], list[str]]:
    """The pockets of the face that lies up or down, as the sheet lies when they are cut; work that no bit reaches."""
    if not one.finished:
        return [], []
    up = replace(one.way, turned_over=False)
    way = OVER.then(up).then(turned(width)) if down else up
    work = face_work(one.part, "top" if one.way.turned_over == down else "bottom", bits)
    missed = [f"{feature.traits.words} of {one.code}" for feature in work.missed]
    return [Step(one.code, operation.placed(way)) for operation in work.operations], missed


def _beside(one: Laid) -> Iterator[str]:
    """What is on edges and ends of a part that is finished here, and round its edges."""
    for feature in one.part.features if one.finished else ():
        if not feature.is_flat or feature.traits.arris:
            yield f"{feature.traits.words} of {one.code}"


def _holes(laid: Sequence[Laid], depth: float, bits: Sequence[Bit]) -> tuple[list[Step], list[Outline], list[str]]:
    """Holes right through, and those that no bit gets into, which are told in words too."""
    steps, bored, told = list[Step](), list[Outline](), list[str]()
    for one in laid:
        for hole in one.part.holes if one.finished else ():
            ring = one.way.outline(hole).anticlockwise
            found = through("inside", ring, depth, bits)
            if found is None:
                bored.append(ring)
                told.append(f"hole of {one.code}")
            else:
                steps.append(Step(one.code, found))
    return steps, bored, told


def _held(
    laid: Sequence[Laid], size: tuple[float, float], thickness: float, machine: Machine, pockets: Sequence[Step]
) -> Held:
    router, bit = machine.router, machine.bit
    freed = [one.freed for one in laid]
    if router.held_by == "vacuum":
        freed = [replace(one, hangs=abs(one.ring.area) < router.vacuum * 100.0) for one in freed]
    taken = [step.operation.outline for step in pockets]
    return hold(freed, rectangle(0, 0, *size), bit.diameter, router.tab[0], taken,
                range(len(freed)) if router.held_by == "skin" else ())  # fmt: skip


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


ORDER = {"pin-hole": 0, "pocket": 1, "inside": 2, "outside": 3}


def _in_order(steps: Sequence[Step]) -> tuple[Step, ...]:
    """Pockets before what goes through, inside before outside, small before large."""
    return tuple(
        sorted(steps, key=lambda one: (ORDER[one.operation.task], round(abs(one.operation.outline.area), 3)))
    )
