"""What an operator must know of a routed sheet, in words."""

from collections.abc import Iterable, Iterator
from math import ceil

from templategen.checks.wording import format_size
from templategen.drawing.clamping_layers import hand_layer
from templategen.drawing.clamping_notes import BORED_BY_HAND, cut_line
from templategen.drawing.layers import depth_words, feature_layer
from templategen.drawing.manner import Manner
from templategen.drawing.routed_sheet import step_layer
from templategen.parts.feature import Feature
from templategen.router.operation import Operation
from templategen.router.sheet import SheetWork, Step

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
        yield IN_ITS_MARGIN
    else:
        yield from _holding(work, manner)
        yield from _after(work, manner)
    yield from _left(steps, face, manner)


def _zero(work: SheetWork, underside: bool) -> str:
    which = (
        ("Clamping 1 of 2, underside up" if underside else "Clamping 2 of 2") if work.is_turned else "One clamping"
    )
    return f"{which}: X0 Y0 is the lower left corner, Z0 the upper face as it lies."


def _thickness(work: SheetWork, manner: Manner, planed: bool) -> str:
    """What depths are reckoned from; a sheet is as thick as it is sold, or not quite."""
    thick = f"{manner.figure(work.thickness)} {manner.units}"
    if planed:
        return f"Plane the board to {thick} first: depths are reckoned from that."
    return (
        f"Depths are reckoned from {thick}: measure the sheet. A thinner one has less left of tabs and skins, out of "
        "a thicker one parts don't come free: write what you measured as its thickness, and make the files anew."
    )


def _cuts(steps: Iterable[Step], face: str, manner: Manner) -> Iterator[str]:
    """Every cut, in order: like ones in one line."""
    layers: dict[str, list[Operation]] = {}
    for step in steps:
        layers.setdefault(step_layer(step, face, manner).name, []).append(step.operation)
    for number, (layer, alike) in enumerate(layers.items(), 1):
        yield cut_line(number, alike, layer, manner)
    yield (
        "In this order, and each by its numbers. Outside of outer lines, inside of inner ones; of pockets and inner "
        "lines all the wood is cleared, so that no core comes loose."
    )


def _turning(work: SheetWork, underside: bool, manner: Manner) -> Iterator[str]:
    pin = f"{manner.figure(work.pins[0].bounds.width)} {manner.units}"
    if underside:
        yield (
            f"Mill the two {pin} pin holes through the board and on into the bed first. After the last pass turn the "
            "board over about TURN_LINE, left end staying left, and lay it on two pins in the bed: zero stays."
        )
    else:
        yield (
            f"The underside was cut before. The board lies turned over about TURN_LINE on two {pin} pins in the bed; "
            "it goes on one way only. Check that the underside's work lies under its parts before cutting."
        )


def _holding(work: SheetWork, manner: Manner) -> Iterator[str]:
    router, skinned = work.router, _codes(work.skinned)
    width, height = (manner.figure(size) for size in router.tab)
    if work.held.tabs:
        yield (
            f"Tabs {width} {manner.units} wide, {height} {manner.units} high: inside a HOLDING_TAB box no pass "
            "of any part goes lower. Where two parts face each other they hang on one. Saw tabs and pare them flush."
        )
    if skinned:
        skin = f"{manner.figure(router.skin)} {manner.units}"
        yield (
            f"No room for tabs on {skinned}: a skin of {skin} stays under their line, too thin to hold them alone: "
            "lay them on suction or tape too. Slit it with a knife and trim it flush."
        )
    if router.held_by == "vacuum":
        least = format_size(router.vacuum, "cm2", manner.units)
        yield (
            f"Suction holds parts of {least} and more; check its gauge before the last pass, and keep "
            "the bed round them sealed."
        )
    elif work.screws:
        yield "Screw the board down at the HOLDING_SCREW circles, heads sunk below the deepest pass beside them."
    else:
        yield IN_ITS_MARGIN


def _after(work: SheetWork, manner: Manner) -> Iterator[str]:
    blanks = _codes(step.code for step in work.upper if step.blank)
    if blanks:
        yield f"{blanks}: blanks as sawn out; the plan of work goes on with them."
    if work.finished:
        yield (
            "All others come finished: their outline and the work of their flat faces, which the plan of work then "
            "leaves out."
        )
    if work.left_to_set_ups:
        yield f"Not on this machine, still by their set-ups: {', '.join(work.left_to_set_ups)}."
    if work.bored:
        yield BORED_BY_HAND
    yield from _left_out(work.missed, "no bit gets in or reaches", manner)
    yield from _left_out(work.unheld, "nothing would hold them after it", manner)
    yield from _waste(work, manner)


def _left_out(told: Iterable[tuple[str, Feature]], why: str, manner: Manner) -> Iterator[str]:
    """Work that stays with the set-ups, like work in one line."""
    alike: dict[str, tuple[str, list[str]]] = {}
    for code, feature in told:
        what = f"{feature.traits.words}, {depth_words(feature.depth, manner.layers)} deep"
        alike.setdefault(feature_layer(feature, manner.layers).name, (what, []))[1].append(code)
    for layer, (what, codes) in alike.items():
        yield f"Left out: {what}, of {_codes(codes)}: {why}; by their set-ups [{layer}]"


def _waste(work: SheetWork, manner: Manner) -> Iterator[str]:
    """Waste that nothing holds once it is cut round."""
    if work.held.waste:
        sides = (max(one.bounds.width, one.bounds.height) for one in work.held.waste)
        many = (
            f"{len(work.held.waste)} pieces of waste come" if len(work.held.waste) > 1 else "A piece of waste comes"
        )
        it = "them" if len(work.held.waste) > 1 else "it"
        yield (
            f"{many} loose between the parts, up to {manner.figure(max(sides))} {manner.units} long, drawn on "
            f"LOOSE_WASTE: stop the spindle and take {it} out before the bit comes back, or tape {it} down first."
        )


def _left(steps: Iterable[Step], face: str, manner: Manner) -> Iterator[str]:
    """The wood that round bits leave: where, how many corners, how far at the most."""
    corners: dict[str, list[float]] = {}
    layers: dict[str, None] = {}
    for step in steps:
        for left in step.operation.left:
            corners.setdefault(step.code, []).append(max(left.bounds.width, left.bounds.height))
            layers[hand_layer(face, step.operation.depth, manner.layers).name] = None
    told = (
        f"{code} {len(sizes)} (up to {manner.figure(ceil(max(sizes) * 10) / 10)} {manner.units})"
        for code, sizes in corners.items()
    )
    if corners:
        yield f"By hand: corners squared with a chisel, {', '.join(told)} [{', '.join(layers)}]"


def _codes(codes: Iterable[str]) -> str:
    return ", ".join(dict.fromkeys(codes))
