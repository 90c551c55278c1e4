"""What an operator must know of a routed sheet, in words."""

from collections.abc import Iterable, Iterator
from math import ceil

from templategen.catalogue import figured, translated, worded
from templategen.checks.wording import format_size
from templategen.drawing.clamping_layers import hand_layer
from templategen.drawing.clamping_notes import BORED_BY_HAND, cut_line
from templategen.drawing.layers import depth_words, feature_layer
from templategen.drawing.manner import Manner
from templategen.drawing.routed_sheet import step_layer
from templategen.parts.feature import Feature
from templategen.router.operation import Operation
from templategen.router.sheet import SheetWork, Step

SUCTION = (
    "Suction holds parts of {least} and more; check its gauge before the last pass, and keep the bed round them"
    " sealed."
)
IN_ITS_MARGIN = "Screw or clamp the board down in its margin, outside the reach of the bit."


def routed_notes(work: SheetWork, underside: bool, manner: Manner, planed: bool = True) -> Iterator[str]:
    """Zero, bits and passes, what holds the parts, what is turned over how, what is left to be done by hand; a
    board is `planed` before, a sheet isn't."""
    steps = work.underside if underside else work.upper
    yield _zero(work, underside)
    yield _thickness(work, manner, planed)
    face = "bottom" if underside else "top"
    yield from _cuts(steps, face, manner)
    yield from _turning(work, underside, manner) if work.is_turned else ()
    if underside:
        yield translated(IN_ITS_MARGIN)
    else:
        yield from _holding(work, manner)
        yield from _after(work, manner, planed)
    yield from _left(steps, face, manner)


def _zero(work: SheetWork, underside: bool) -> str:
    which = (
        ("Clamping 1 of 2, underside up" if underside else "Clamping 2 of 2") if work.is_turned else "One clamping"
    )
    return worded("{which}: X0 Y0 is the lower left corner, Z0 the upper face as it lies.", which=translated(which))


def _thickness(work: SheetWork, manner: Manner, planed: bool) -> str:
    """What depths are reckoned from; a sheet is as thick as it is sold, or not quite."""
    told = (
        "Plane the board to {thick} first: depths are reckoned from that."
        if planed
        else "Depths are reckoned from {thick}: measure the sheet. A thinner one has less left of tabs and skins, "
        "out of a thicker one parts don't come free: write what you measured as its thickness, and make the files "
        "anew."
    )
    return worded(told, thick=manner.size(work.thickness))


def _cuts(steps: Iterable[Step], face: str, manner: Manner) -> Iterator[str]:
    """Every cut, in order: like ones in one line."""
    layers: dict[str, list[Operation]] = {}
    for step in steps:
        layers.setdefault(step_layer(step, face, manner).name, []).append(step.operation)
    for number, (layer, alike) in enumerate(layers.items(), 1):
        yield cut_line(number, alike, layer, manner)
    yield translated(
        "In this order, and each by its numbers. Outside of outer lines, inside of inner ones; of pockets and inner "
        "lines all the wood is cleared, so that no core comes loose."
    )


def _turning(work: SheetWork, underside: bool, manner: Manner) -> Iterator[str]:
    told = (
        "Mill the two {pin} pin holes through the board and on into the bed first. After the last pass turn the "
        "board over about TURN_LINE, left end staying left, and lay it on two pins in the bed: zero stays."
        if underside
        else "The underside was cut before. The board lies turned over about TURN_LINE on two {pin} pins in the bed; "
        "it goes on one way only. Check that the underside's work lies under its parts before cutting."
    )
    yield worded(told, pin=manner.size(work.pins[0].bounds.width))


def _holding(work: SheetWork, manner: Manner) -> Iterator[str]:
    router, skinned = work.router, _codes(work.skinned)
    width, height = (manner.size(size) for size in router.tab)
    if work.held.tabs:
        yield worded(
            "Tabs {width} wide, {height} high: inside a HOLDING_TAB box no pass of any part goes lower. Where two "
            "parts face each other they hang on one. Saw tabs and pare them flush.",
            width=width, height=height,
        )  # fmt: skip
    if skinned:
        yield worded(
            "No room for tabs on {parts}: a skin of {skin} stays under their line, too thin to hold them alone: lay "
            "them on suction or tape too. Slit it with a knife and trim it flush.",
            parts=skinned, skin=manner.size(router.skin),
        )  # fmt: skip
    if router.held_by == "vacuum":
        yield worded(SUCTION, least=figured(format_size(router.vacuum, "cm2", manner.units)))
    elif work.screws:
        yield translated(
            "Screw the board down at the HOLDING_SCREW circles, heads sunk below the deepest pass beside them."
        )
    else:
        yield translated(IN_ITS_MARGIN)


def _after(work: SheetWork, manner: Manner, planed: bool) -> Iterator[str]:
    blanks = _codes(step.code for step in work.upper if step.blank)
    if blanks:
        yield worded("{parts}: blanks as sawn out; the plan of work goes on with them.", parts=blanks)
    if work.finished and planed:
        yield translated(
            "All others come finished: their outline and the work of their flat faces, which the plan of work then "
            "leaves out."
            if blanks
            else "All come finished: their outline and the work of their flat faces, which the plan of work then "
            "leaves out."
        )
    elif work.finished:
        yield translated("Pieces come finished: their outline and the work of their flat faces.")
    if work.left_to_set_ups:
        yield worded("Not on this machine, still by their set-ups: {work}.", work=", ".join(work.left_to_set_ups))
    if work.bored:
        yield translated(BORED_BY_HAND)
    yield from _left_out(work.missed, "no bit gets in or reaches", manner)
    yield from _left_out(work.unheld, "nothing would hold them after it", manner)
    yield from _waste(work, manner)


def _left_out(told: Iterable[tuple[str, Feature]], why: str, manner: Manner) -> Iterator[str]:
    """Work that stays with the set-ups, like work in one line."""
    alike: dict[str, tuple[str, list[str]]] = {}
    for code, feature in told:
        what = worded(
            "{what}, {size} deep", what=translated(feature.traits.words),
            size=depth_words(feature.depth, manner.layers),
        )  # fmt: skip
        alike.setdefault(feature_layer(feature, manner.layers).name, (what, []))[1].append(code)
    for layer, (what, codes) in alike.items():
        yield worded(
            "Left out: {what}, of {parts}: {why}; by their set-ups [{layer}]", what=what, parts=_codes(codes),
            why=translated(why), layer=layer,
        )  # fmt: skip


def _waste(work: SheetWork, manner: Manner) -> Iterator[str]:
    """Waste that nothing holds once it is cut round."""
    if work.held.waste:
        sides = (max(one.bounds.width, one.bounds.height) for one in work.held.waste)
        told = (
            "{many} pieces of waste come loose between the parts, up to {size} long, drawn on LOOSE_WASTE: stop the "
            "machine and take them out before the bit comes back, or tape them down first."
            if len(work.held.waste) > 1
            else "A piece of waste comes loose between the parts, up to {size} long, drawn on LOOSE_WASTE: stop the "
            "machine and take it out before the bit comes back, or tape it down first."
        )
        yield worded(told, many=len(work.held.waste), size=manner.size(max(sides)))


def _left(steps: Iterable[Step], face: str, manner: Manner) -> Iterator[str]:
    """The wood that round bits leave: where, how many corners, how far at the most."""
    corners: dict[str, list[float]] = {}
    layers: dict[str, None] = {}
    for step in steps:
        for left in step.operation.left:
            corners.setdefault(step.code, []).append(max(left.bounds.width, left.bounds.height))
            layers[hand_layer(face, step.operation.depth, manner.layers).name] = None
    told = (
        worded(
            "{code} {count} (up to {size})", code=code, count=len(sizes), size=manner.size(ceil(max(sizes) * 10) / 10)
        )
        for code, sizes in corners.items()
    )
    if corners:
        yield worded(
            "By hand: corners squared with a chisel, {corners} [{layers}]", corners=", ".join(told),
            layers=", ".join(layers),
        )  # fmt: skip


def _codes(codes: Iterable[str]) -> str:
    return ", ".join(dict.fromkeys(codes))
