"""How a piece is fed over a cutter: before its fence, from right to left as its maker sees it.

A block before it ends the cut; where the cut starts in the wood a block stands behind it, and the cutter in a bored
hole. Tools that go over the piece, and hands, go by the top and by where the cut starts and ends on the wood.
"""

from collections.abc import Iterable
from dataclasses import replace
from typing import Literal

from templategen.shop.set_ups.set_up import Cut, Lay, Operation, Setting, SettingName, Side

FED: tuple[Operation, ...] = ("groove", "spline slot")
"""What is cut along an edge or an end."""

ACROSS: tuple[Operation, ...] = ("lap", "relief", "rebate")
"""What a router in the hand cuts along a straightedge that is clamped across the pieces."""

OVER_THE_CUTTER: tuple[SettingName, ...] = ("rear", "front", "line")
ON_THE_PIECE: tuple[SettingName, ...] = ("start", "end")
"""How long such a cut is, as it is set at a machine that the piece goes over, and for all else."""

OTHER: dict[Side, Side] = {"left": "right", "right": "left", "low": "high", "high": "low"}

SAME = 6
"""Decimals to which figures must agree to be one."""


def rear_of(lay: Lay) -> Side:
    """The end, or for work on an end the edge, that lies behind as the piece is fed."""
    from_top = lay.against == "top"
    if lay.worked in ("low", "high"):
        return "left" if (lay.worked == "low") is from_top else "right"
    return "low" if (lay.worked == "right") is from_top else "high"


def open_first(worked: Literal["left", "right"], stopped: bool) -> Side:
    """Which face goes to the fence so that a slot in the middle of an end is entered where it is open, at the outer
    corner; where it is `stopped` there too, that corner lies behind, at the block."""
    return "bottom" if (worked == "left") is not stopped else "top"


def ended(cuts: Iterable[Cut], over_a_cutter: bool) -> tuple[Cut, ...]:
    """Cuts by the blocks that pieces fed `over_a_cutter` start and stop at, else by where they start and end on the
    wood, all from the top, so that slots meet however thick the wood is: a cut has a fence of its own where the open
    end goes first so. Those alike are one."""
    without = ON_THE_PIECE if over_a_cutter else (*OVER_THE_CUTTER, "fence")
    found: dict[tuple[object, ...], Cut] = {}
    for cut in cuts:
        every = (*cut.settings, *cut.otherwise)
        settings = tuple(one for one in every if one.name not in without)
        otherwise = tuple(one for one in every if one.name in without)
        turned = any(one.name == "fence" for one in otherwise)
        lays = tuple(_at_its_block(lay, settings) if over_a_cutter
                     else replace(lay, against="top") if turned or lay.worked in ("left", "right") else lay
                     for lay in cut.lays)  # fmt: skip
        key = tuple((one.name, round(one.figure.value, SAME)) for one in settings)
        known = found.get(key, Cut(settings, (), otherwise))
        found[key] = replace(known, lays=(*known.lays, *lays))
    return tuple(found.values())


def is_closed(cut: Cut) -> bool:
    """Whether it starts in the wood, over a hole that is bored there."""
    return any(one.name == "rear" for one in cut.settings)


def _at_its_block(lay: Lay, settings: Iterable[Setting]) -> Lay:
    """The piece at the block that it is let down at, or else at the one where the cut ends."""
    if not lay.stop_at:
        return lay
    rear = rear_of(lay)
    return replace(lay, stop_at=rear if any(one.name == "rear" for one in settings) else OTHER[rear])
