"""What stands in the file of a clamping: how the piece is laid, what is cut in which order, what is left to do."""

from collections.abc import Iterator, Sequence

from templategen.catalogue import translated, worded
from templategen.checks.describe import said
from templategen.drawing.clamping_layers import eased_layer, hand_layer, operation_layer
from templategen.drawing.layers import depth_words, face_words, feature_layer
from templategen.drawing.manner import Manner
from templategen.geometry.edge import Arc, Edge
from templategen.geometry.outline import Outline
from templategen.geometry.tolerance import MET
from templategen.parts.feature import Feature
from templategen.parts.kinds import KINDS
from templategen.router.bits import bits_of, longest
from templategen.router.clamping import PIN_DEPTH, Clamping, comes_off_a_strip, cut_depth, freed
from templategen.router.operation import Operation
from templategen.table.profile.model import Profile

RECESS_DEPTH = 6.0
"""How deep a recess is routed at most, mm; thin parts lie in one half as deep as they are thick."""

ELSEWHERE = "lists/set-ups.csv"
"""Where work is told that stays with other machines."""

SKIN = "Outline and holes end {skin} above the bed. This skin is cut with a knife, then trimmed flush."

FOR_SHEETS = ("tabs", "screws")
"""What holds nothing on a piece of its own."""

BORED_BY_HAND = "Holes on BORED_HOLE are too small for any bit: bored by hand."

NAMES = {
    "outside": "outline",
    "inside": "hole",
    "pin-hole": "hole for a pin",
    "corner-relief": "corner relief, the bit along the middle",
}


def clamping_notes(one: Clamping, profile: Profile, manner: Manner, tables: int = 1) -> Iterator[str]:
    """The notes, in the order in which they are needed."""
    yield worded(
        "X0 Y0: lower left corner of the box round the piece. Z0: its upper face. Figures in {unit}.",
        unit=manner.unit_name,
    )
    yield _piece(one, manner)
    if one.is_rough and not one.is_second and comes_off_a_strip(one.part, profile, tables):
        yield translated("For this file it is sawn out by itself, not in a strip with others as in the cut list.")
    yield from _registered(one, manner)
    yield from _held(one, profile, manner)
    yield from _cuts(one, manner)
    yield from _by_hand(one, manner)
    yield from _left_out(one, profile, manner)


def _piece(one: Clamping, manner: Manner) -> str:
    box = one.piece.bounds
    sizes = " x ".join(manner.figure(size) for size in (box.width, box.height, one.part.thickness))
    how = "as sawn out, planed to thickness" if one.is_rough else "sawn and planed to size"
    how = "as it comes from the first clamping" if one.is_second else how
    return worded(
        "Piece: {sizes}, {how}; {count} of them for each table.", sizes=f"{sizes} {manner.units}",
        how=translated(how), count=one.part.count,
    )  # fmt: skip


def _registered(one: Clamping, manner: Manner) -> Iterator[str]:
    """How the piece is laid on, and by what the other face agrees with this one."""
    if one.is_second and one.turn is not None:
        at = manner.size(one.turn.start.x)
        yield worded("Turned over left to right, about the line X = {at}: what was at X0 is now at the right.", at=at)
    if one.pins:
        yield from _pins(one, manner)
    if one.recess:
        deep = manner.depth(min(RECESS_DEPTH, one.part.thickness / 2))
        yield worded(
            "Laid in a recess of the line RECESS, {deep}, routed in a board on the bed with the same X0 Y0:",
            deep=deep,
        )
        yield translated("the bit inside the line, corners drilled out, so that the part goes in without play.")
    elif not (one.pins and one.is_second):
        yield translated("Laid against fences along X0 and Y0, square to each other.")


def _pins(one: Clamping, manner: Manner) -> Iterator[str]:
    middles = sorted(pin.bounds.centre for pin in one.pins)
    spots = translated(" and ").join(f"X {manner.figure(x)} Y {manner.figure(y)}" for x, y in middles)
    wide, proud = (manner.size(size) for size in (one.pins[0].bounds.width, PIN_DEPTH - 1))
    told = (
        "Laid on two {wide} pins at {spots}, {proud} proud of the bed, their holes cut in the first clamping."
        if one.is_second
        else "Its second face is laid on two {wide} pins at {spots}, {proud} proud of the bed, their holes cut in the"
        " first clamping."
    )
    yield worded(told, wide=wide, spots=spots, proud=proud)


def _held(one: Clamping, profile: Profile, manner: Manner) -> Iterator[str]:
    if one.held == "clamps":
        yield translated("Held by clamps clear of every cut: nothing is cut free here.")
    elif one.held == "suction":
        yield translated("Held by suction under the part; what falls away is cleared with the machine stopped.")
    else:
        skin, wish = manner.size(profile.router.skin), profile.router.held_by
        yield translated(
            "Held to the bed by all of its lower face, by suction or by tape made for it: pull at it first."
        )
        yield worded(SKIN, skin=skin)
        if wish in FOR_SHEETS:
            yield worded(
                "No {wish} here: the bit takes the waste along its edges, and ends and worked edges take no tab.",
                wish=translated(wish),
            )
        yield translated(
            'Where neither holds, list its stock with mode = "routed": on a board it hangs on tabs to the end.'
        )


def _cuts(one: Clamping, manner: Manner) -> Iterator[str]:
    """Every cut, in order: like ones in one line."""
    layers: dict[str, list[Operation]] = {}
    for cut in one.operations:
        layers.setdefault(operation_layer(one.face, cut, manner.layers).name, []).append(cut)
    for number, (layer, alike) in enumerate(layers.items(), 1):
        yield cut_line(number, alike, layer, manner)


def cut_line(number: int, alike: Sequence[Operation], layer: str, manner: Manner) -> str:
    """What is cut along the lines of a layer: how deep, where, with which bit, in how many passes."""
    first = alike[0]
    what = KINDS[first.kind].words if first.kind else NAMES[first.task]
    places = worded(", {many} places", many=len(alike)) if len(alike) > 1 else ""
    each = exact(first.depth / first.passes, manner)
    return worded(
        "Cut {number}: {what}, {deep} deep{places}, {bit} bit, {passes} [{layer}]", number=number,
        what=translated(what), deep=exact(first.depth, manner), places=places, layer=layer,
        bit=exact(first.bit.diameter, manner),
        passes=worded("{many} passes of {each}" if first.passes > 1 else "1 pass", many=first.passes, each=each),
    )  # fmt: skip


def exact(mm: float, manner: Manner) -> str:
    """A size as a machine is set by."""
    return depth_words(mm, manner.layers)


def _by_hand(one: Clamping, manner: Manner) -> Iterator[str]:
    """What the bit leaves in corners: how much, how often, and what is done about it."""
    told: dict[tuple[str, str], list[Operation]] = {}
    for cut in one.operations:
        layer = hand_layer(one.face, cut.depth, manner.layers).name
        for left in cut.left:
            told.setdefault((layer, _size(left, cut, manner)), []).append(cut)
    for (layer, size), cuts in told.items():
        radius = manner.size(cuts[0].bit.radius)
        rounded = worded(", or the tenons' corners rounded to {radius}", radius=radius)
        yield worded(
            "By hand: {corners} squared with a chisel, {size} left by the bit in each{rounded} [{layer}]",
            corners=said("{count:# corner}", count=len(cuts)), size=size,
            rounded=rounded if cuts[0].kind == "mortise" else "", layer=layer,
        )  # fmt: skip


def _size(left: Outline, cut: Operation, manner: Manner) -> str:
    """How far from the corner the wood stands along the lines."""
    lines = (edge for edge in left.edges if not _is_bend(edge, cut))
    along = sorted((edge.length for edge in lines), reverse=True)
    return " x ".join(manner.figure(length) for length in along) + f" {manner.units}"


def _is_bend(edge: Edge, cut: Operation) -> bool:
    """Whether an edge is the bit's own round."""
    return isinstance(edge, Arc) and abs(edge.radius - cut.bit.radius) < MET


def _left_out(one: Clamping, profile: Profile, manner: Manner) -> Iterator[str]:
    """What this machine doesn't do: why, and where it is told how else."""
    reach = exact(longest(bits_of(profile)), manner)
    for feature in _once(one.missed, manner):
        layer, deep = feature_layer(feature, manner.layers).name, exact(feature.depth, manner)
        why = "your bits cut {reach} deep at most" if feature.depth > longest(bits_of(profile)) else "no bit enters"
        yield worded(
            "Left out: {what}, {deep} deep, since {why}: another bit, or {there} [{layer}]", layer=layer, deep=deep,
            what=translated(feature.traits.words), why=worded(why, reach=reach), there=ELSEWHERE,
        )  # fmt: skip
    if one.thick:
        deep = exact(cut_depth(one.part, profile, freed(one.part)), manner)
        yield worded(
            "Outline and holes would take a bit that cuts {deep} deep; yours cut {reach}: {there}.", deep=deep,
            reach=reach, there=ELSEWHERE,
        )  # fmt: skip
    if one.bored:
        yield translated(BORED_BY_HAND)
    for feature in {(feature.kind, feature.depth, feature.floor): feature for feature, _ in one.eased}.values():
        under = worded(", {size} under this face", size=exact(feature.floor, manner)) if feature.floor else ""
        yield worded(
            "Eased afterwards, not on this machine: {what} of {size} along {layer}{under}; {there}.",
            what=translated(feature.traits.words), size=exact(feature.depth, manner), there=ELSEWHERE, under=under,
            layer=eased_layer(feature.floor, manner.layers).name,
        )  # fmt: skip
    beside = dict.fromkeys(
        worded("{work} on {face}", work=translated(one.traits.words), face=face_words(one.face))
        for one in one.left_to_set_ups
    )
    if beside:
        yield worded("Not for this machine: {work}; {there}.", work=", ".join(beside), there=ELSEWHERE)


def _once(features: Sequence[Feature], manner: Manner) -> Iterator[Feature]:
    yield from {feature_layer(feature, manner.layers).name: feature for feature in features}.values()
