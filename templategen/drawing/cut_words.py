"""The cuts of a board in words: at which angle, what lies at the fence, where fence or stop stands."""

from collections.abc import Mapping, Sequence
from itertools import groupby

from templategen.catalogue import figured, worded
from templategen.nesting.saw_settings import SawSetting
from templategen.nesting.stock import Cut
from templategen.parts.sides import of_a_piece
from templategen.table.profile.choices import Machine, Units
from templategen.units import angle_words, length_by_rule, off_square_words
from templategen.work.stock import marks_boards

FROM_THERE = (
    "Fence and stop are measured to the near side of the kerf; edges and ends are those of the piece in hand, lying"
    " as in the picture, a slanting end by its point. Past fence and stop's reach mark it and saw to the line."
    " A corner without a number stays on."
)


TO_LINES = (
    "Mark each line; distances are to the near side of the kerf. Edges and ends are those of the piece in hand, lying"
    " as in the picture, a slanting end by its point. A corner without a number stays on."
)

GUIDED = (
    "Mark each line, clamp the saw's guide beside it; what is longer than that is sawn to a chalk line. Distances are"
    " to the near side of the kerf. Edges and ends are those of the piece in hand, lying as in the picture, a"
    " slanting end by its point. A corner without a number stays on."
)


def from_there(machines: Sequence[Machine]) -> str:
    """From where cuts of a board are measured, and how the saw is led, in a shop with these machines."""
    if not marks_boards(machines):
        return FROM_THERE
    return GUIDED if "circular saw" in machines else TO_LINES


def cut_words(
    cuts: Sequence[Cut], settings: Sequence[SawSetting], units: Units, marked: bool = False
) -> tuple[str, ...]:
    """The cuts in order; those alike that follow each other together. `marked` tells lines, not fence and stop."""
    told = []
    words = {cut.number: _words(cut, setting, units, marked) for cut, setting in zip(cuts, settings, strict=True)}
    for text, alike in groupby(words, words.__getitem__):
        numbers = list(alike)
        first, last = numbers[0], numbers[-1]
        told_of = "cut {first}" if first == last else "cuts {first} to {last}"
        count = worded(told_of, first=first, last=last)
        told.append(f"{count}: {text}")
    return tuple(told)


def _words(cut: Cut, setting: SawSetting, units: Units, marked: bool) -> str:
    told = {
        "at": figured(length_by_rule(setting.distance, units)), "edge": of_a_piece(setting.edge),
        "end": of_a_piece(setting.end),
    }  # fmt: skip
    if marked:
        return _line(cut, setting, told)
    if not setting.end:
        return worded("rip, {edge} to the fence at {at}", **told)
    if cut.kind == "crosscut":
        return worded("crosscut, {end} to the stop at {at}", **told)
    angle = off_square_words(90 - abs(cut.angle))
    return worded("mitre, {angle}, {edge} to the fence, {end} to the stop at {at}", angle=angle, **told)


def _line(cut: Cut, setting: SawSetting, told: Mapping[str, str]) -> str:
    """Where a cut is marked."""
    if not setting.end:
        return worded("rip, {at} from the {edge}", **told)
    if cut.kind == "crosscut":
        return worded("crosscut, {at} from the {end}", **told)
    off = worded("{angle} off square", angle=figured(angle_words(90 - abs(cut.angle))))
    return worded("mitre, {angle}, {at} from the {end}, along the {edge}", angle=off, **told)
