"""Letters for the glued joints, marked on both parts at the dry fit: A to A, B to B."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import reduce

from templategen.catalogue import worded
from templategen.fit.plan import Plan, Step
from templategen.joinery.joint import JOINTS, LEG_TENONS, JointKind
from templategen.table.assembly import Table

PLAIN = "ABCDEFGHJKLMNPQRSTUVWXYZ"
"""Letters that can't be mistaken for figures when written in pencil."""


@dataclass(frozen=True, slots=True)
class Mark:
    """One letter: the joint (its position in the table's list) and the two copies it stands on, `RIM-A 3`."""

    letter: str
    joint: int
    kind: JointKind
    copies: tuple[str, str]


def copy_names(table: Table) -> tuple[str, ...]:
    """Every placed copy by its code and its number among its like, from arm 0 anticlockwise; alone without one."""
    counts = {part.code: part.count for part in table.parts}
    met: dict[str, int] = {}
    names = []
    for placed in table.placed:
        met[placed.code] = met.get(placed.code, 0) + 1
        names.append(placed.code if counts[placed.code] == 1 else f"{placed.code} {met[placed.code]}")
    return tuple(names)


def marks_of(table: Table, plan: Plan) -> dict[int, Mark]:
    """The letter of each glued joint by its position, in the order of assembly.

    A spline's two joints go by the letter of the mitre it lies in, so it has none of its own.
    """
    names = copy_names(table)
    marks: dict[int, Mark] = {}
    for number in (joint for step in plan.steps for joint in step.glued):
        joint = table.joints[number]
        if joint.kind == "spline":
            continue
        marks[number] = Mark(letter(len(marks)), number, joint.kind, _on(table, number, names))
    return marks


def every_mark(table: Table, plan: Plan) -> dict[int, Mark]:
    """The letters of the glued joints, and behind them those of what stays dry."""
    glued = marks_of(table, plan)
    return {**glued, **dry_marks(table, plan, len(glued))}


def dry_in(table: Table, step: Step) -> tuple[int, ...]:
    """The dry joints of the slats that come home in a step, slat by slat; letting the whole top down closes those of
    the legs."""
    kinds = {table.part(move.code).kind for move in step.moves}
    if {"rail", "rim-segment"} <= kinds:
        legs = ((number, joint) for number, joint in enumerate(table.joints) if joint.kind in LEG_TENONS)
        return tuple(number for number, joint in legs if joint.traits.dry)
    if kinds != {"slat"}:
        return ()
    dry = [(number, joint.placed) for number, joint in enumerate(table.joints) if joint.kind == "tongue-and-groove"]
    return tuple(number for move in step.moves for number, placed in dry if move.index in placed)


def dry_marks(table: Table, plan: Plan, before: int) -> dict[int, Mark]:
    """The letter of each joint that stays dry: the first after the `before` that are glued."""
    names = copy_names(table)
    dry = [number for step in plan.steps for number in dry_in(table, step)]
    return {
        number: Mark(letter(before + place), number, table.joints[number].kind, _on(table, number, names))
        for place, number in enumerate(dry)
    }


def _on(table: Table, number: int, names: Sequence[str]) -> tuple[str, str]:
    one, other = table.joints[number].placed
    return names[one], names[other]


def joint_name(kind: JointKind) -> str:
    """What a joint is called where its letter is told."""
    return JOINTS[kind].name


def letters_on(table: Table, glued: Iterable[int], marks: Mapping[int, Mark]) -> tuple[str, ...]:
    """The letters of some glued joints, each once, in order; both joints of a spline have the letter of its mitre."""
    mitres = {frozenset(mark.copies): mark.letter for mark in marks.values() if mark.kind == "mitre"}
    between, found = _segments_of(table), list[str]()
    for number in glued:
        if number in marks:
            found.append(marks[number].letter)
        elif ends := [between[one] for one in table.joints[number].placed if one in between]:
            found += [mitres[ends[0]]] if ends[0] in mitres else []
    return tuple(dict.fromkeys(found))


def _segments_of(table: Table) -> dict[int, frozenset[str]]:
    """The two copies that each copy of a spline lies between."""
    names, beside = copy_names(table), dict[int, set[str]]()
    for joint in table.joints:
        for one, other in (joint.placed, joint.placed[::-1]) if joint.kind == "spline" else ():
            if table.part(table.placed[one].code).kind == "spline":
                beside.setdefault(one, set()).add(names[other])
    return {one: frozenset(segments) for one, segments in beside.items()}


def letter(place: int) -> str:
    """The letter of place 0, 1, ...: A to Z without I and O, then AA, AB, ..."""
    word = ""
    place += 1
    while place > 0:
        place, rest = divmod(place - 1, len(PLAIN))
        word = PLAIN[rest] + word
    return word


def _place(word: str) -> int:
    """The place of a letter: what `letter` was made of."""
    return reduce(lambda place, one: place * len(PLAIN) + PLAIN.index(one) + 1, word, 0) - 1


def spans(letters: Iterable[str]) -> str:
    """Letters with runs shortened to their first and last: `A to F, K`."""
    runs: list[list[str]] = []
    for word in sorted(letters, key=_place):
        if runs and _place(word) == _place(runs[-1][-1]) + 1:
            runs[-1].append(word)
        else:
            runs.append([word])
    return ", ".join(
        worded("{first} to {last}", first=run[0], last=run[-1]) if len(run) > 2 else ", ".join(run) for run in runs
    )
