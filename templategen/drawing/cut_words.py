"""The cuts of a board in words: at which angle, what lies at the fence, where fence or stop stands."""

from collections.abc import Sequence
from itertools import groupby

from templategen.catalogue import figured, worded
from templategen.nesting.saw_settings import SawSetting
from templategen.nesting.stock import Cut
from templategen.parts.sides import of_a_piece
from templategen.table.profile.choices import Units
from templategen.units import length_by_rule, off_square_words

FROM_THERE = (
    "Fence and stop are measured to the near side of the kerf; edges and ends are those of the piece in hand, lying"
    " as in the picture, a slanting end by its point. Past fence and stop's reach mark it and saw to the line."
    " A corner without a number stays on."
)


def cut_words(cuts: Sequence[Cut], settings: Sequence[SawSetting], units: Units) -> tuple[str, ...]:
    """The cuts in order; those alike that follow each other together."""
    told = []
    words = {cut.number: _words(cut, setting, units) for cut, setting in zip(cuts, settings, strict=True)}
    for text, alike in groupby(words, words.__getitem__):
        numbers = list(alike)
        first, last = numbers[0], numbers[-1]
        told_of = "cut {first}" if first == last else "cuts {first} to {last}"
        count = worded(told_of, first=first, last=last)
        told.append(f"{count}: {text}")
    return tuple(told)


def _words(cut: Cut, setting: SawSetting, units: Units) -> str:
    told = {
        "at": figured(length_by_rule(setting.distance, units)), "edge": of_a_piece(setting.edge),
        "end": of_a_piece(setting.end),
    }  # fmt: skip
    if not setting.end:
        return worded("rip, {edge} to the fence at {at}", **told)
    if cut.kind == "crosscut":
        return worded("crosscut, {end} to the stop at {at}", **told)
    angle = off_square_words(90 - abs(cut.angle))
    return worded("mitre, {angle}, {edge} to the fence, {end} to the stop at {at}", angle=angle, **told)
