"""What a table that can't be built is refused with: a text for each kind, with places for its sizes, and what else
would do.

`{name:mm}` is a length in mm, `{name:deg}` an angle in degrees; `packet.build` tells lengths in the maker's units
and puts in the decimal sign.
"""

import re
from collections.abc import Mapping
from typing import NamedTuple

from templategen.catalogue import translated
from templategen.units import angle_words

Fields = Mapping[str, float | str]

_PLACE = re.compile(r"\{(\w+)(?::(\w+))?\}")


class Refusal(NamedTuple):
    """What is wrong, and what else would do."""

    found: str
    other: str = ""


REFUSALS = {
    "rim-over-radius": Refusal("{size:mm} is more than the whole radius of {radius:mm}"),
    "rim-inside-circle": Refusal(
        "{size:mm}: the finished circle passes inside the joint's inner corner by {by:mm}",
        "more segments, or less saw_allowance",
    ),
    "rail-over-segment": Refusal(
        "{size:mm} is wider than the inner edge of a segment, {edge:mm}", "fewer segments"
    ),
    "rail-over-least-segment": Refusal("{size:mm} is wider than the inner edge of a segment, {edge:mm}"),
    "rails-fill-top": Refusal(
        "the rails of {size:mm} fill the whole top; no field is left for slats",
        "a narrower rim or a larger diameter",
    ),
    "grooves-meet": Refusal("{size:mm}: the grooves of both sides, {depth:mm} each, meet", "shallower grooves"),
    "hole-cuts-rail": Refusal("a hole of {size:mm} leaves nothing of a lapped rail of {rail:mm}"),
    "rounds-over-thickness": Refusal("rounds of {size:mm} from both faces are more than the thickness of {thick:mm}"),
    "round-over-rim": Refusal("{size:mm} is wider than the rim"),
    "arris-over-cheek": Refusal(
        "{size:mm} takes the whole cheek of {cheek:mm} beside the groove", "a thinner tongue"
    ),
    "no-height-for-legs": Refusal(
        "{size:mm} leaves nothing for the legs: top, base and feet take {least:mm}, {over:mm} too much",
        "thinner top, base and feet",
    ),
    "slat-over-rim": Refusal("{size:mm} is thicker than the rim of {rim:mm}"),
    "chamfer-over-half": Refusal("{size:mm} is half the slat's thickness"),
    "arrises-meet-under-slat": Refusal("the eased edges meet under the slat"),
    "chamfers-meet": Refusal("the chamfers meet across the slat"),
    "no-tongue-in-groove": Refusal(
        "{size:mm} leaves no tongue after {end:mm} of end clearance", "less end_clearance"
    ),
    "groove-through-rim": Refusal("{size:mm} cuts through the finished rim", "a wider rim"),
    "no-tongue-in-glue": Refusal("{size:mm} leaves no tongue after the glue clearance"),
    "groove-out-of-rim": Refusal("a groove of {size:mm} breaks out of the {rim:mm} rim"),
    "tongue-over-slat": Refusal("{size:mm} is not thinner than the slats of {slat:mm}"),
    "spline-over-rim": Refusal("{size:mm} is not thinner than the rim of {rim:mm}"),
    "no-spline-in-glue": Refusal("nothing is left after the glue clearance"),
    "no-spline-in-slot": Refusal(
        "{size:mm} leaves no spline after {end:mm} of end clearance", "less end_clearance"
    ),
    "slots-meet": Refusal(
        "slots of {size:mm} from both ends meet in a segment {long:mm} long", "fewer segments"
    ),
    "no-room-for-spline": Refusal(
        "the wall at the joint leaves {left:mm} for a spline that needs {least:mm}",
        'widen top.rim_width, or set joints.spline to "none"',
    ),
    "no-slat-fits": Refusal(
        "no slat of {size:mm} with gaps of {gap:mm} fits into {span:mm}",
        "a smaller slats.gap, narrower rails or rim, or a larger diameter",
    ),
    "slats-do-not-fit": Refusal(
        "no {fewest} slats of {size:mm} with gaps of {gap:mm} fit into {span:mm}",
        "a smaller slats.gap, narrower rails or rim, or a larger diameter",
    ),
    "corners-meet": Refusal("{size:mm} meets across the leg"),
    "tenon-too-thick-for-leg": Refusal("{size:mm} thick leaves no shoulders on a leg of {leg:mm}"),
    "tenon-too-wide-for-leg": Refusal("{size:mm} wide leaves no shoulders on a leg of {leg:mm}"),
    "mortise-into-grooves": Refusal(
        "{size:mm} thick: the mortise breaks into the rail's grooves, {room:mm} apart",
        "a shorter tenon or wider rails",
    ),
    "mortise-out-of-rail": Refusal(
        "{size:mm} thick: the mortise breaks into the rail's sides, {room:mm} apart", "wider rails"
    ),
    "mortise-over-base": Refusal(
        "{size:mm} thick: the mortise is wider than the base rail", "wider base rails"
    ),
    "mortise-through": Refusal("a mortise {deep:mm} deep goes right through {key} {thick:mm}", "a larger {key}"),
    "mortise-into-relief": Refusal(
        "{size:mm} long: the mortise meets the relief under the base rail", "less relief or a thicker base"
    ),
    "mortise-into-lap": Refusal("{size:mm}: the mortise cuts into the lap", "longer or narrower rails"),
    "mortise-past-end": Refusal("{size:mm}: the mortise runs past the rail's end", "longer or narrower rails"),
    "legs-collide": Refusal("at {size:mm} neighbouring legs of {leg:mm} collide", "thinner legs"),
    "tenon-out-of-raked-leg": Refusal(
        "raked by {rake:deg}, the upright tenon runs out of the leg", "a narrower or shorter tenon"
    ),
    "drain-over-mortise": Refusal("a hole of {size:mm} is wider than the floor of a leg's mortise, {floor:mm}"),
    "pole-between-legs": Refusal(
        "a pole of {size:mm} does not pass between the legs, {room:mm} apart", "legs further apart"
    ),
    "head-into-grooves": Refusal(
        "a head of {size:mm} breaks into the rail's grooves, {room:mm} apart", "wider rails"
    ),
    "thread-over-head": Refusal("a thread of {size:mm} is wider than its head of {head:mm}"),
    "bolt-over-tenon": Refusal("a bolt of {size:mm} leaves nothing of a tenon {tenon:mm} wide"),
    "mortise-into-counterbore": Refusal(
        "a mortise {deep:mm} deep and a counterbore of {sink:mm} meet in {thick:mm} of rail",
        "a larger top.thickness",
    ),
    "thread-over-nut": Refusal("a nut of {size:mm} has no room for a thread of {thread:mm} across it"),
    "nut-over-leg": Refusal("a nut {size:mm} long lies in the open on a leg of {leg:mm}"),
    "nut-splits-leg": Refusal("a nut of {size:mm} splits a leg of {leg:mm}"),
    "bolt-over-legs": Refusal("a bolt {long:mm} long needs more than legs of {leg:mm}"),
    "bolt-out-of-leaning-leg": Refusal(
        "the bolt runs out of a leg of {size:mm} that leans so far", "legs more upright"
    ),
    "peg-behind-slats": Refusal(
        "a peg of {peg:mm} whose middle lies {size:mm} over the rail's underside comes out behind the slats, which "
        "begin {slats:mm} over it",
        "a larger top.thickness, thinner slats or a thinner peg",
    ),
    "peg-into-shoulder": Refusal(
        "a peg of {peg:mm} whose middle lies {size:mm} over the rail's underside leaves no wood at "
        "the leg's shoulder",
        "a thinner peg or less draw",
    ),
    "draw-over-peg": Refusal("a peg of {peg:mm} doesn't enter a hole that is {size:mm} off", "a thicker peg"),
    "peg-over-tenon": Refusal("a peg of {size:mm} leaves nothing of a tenon {tenon:mm} wide"),
    "peg-past-tenon": Refusal(
        "{size:mm} long: a peg of {peg:mm}, {at:mm} from the shoulder, leaves no wood at the tenon's end",
        "a thinner or a lower peg",
    ),
    "peg-between-rails": Refusal(
        "{size:mm} out, a peg {long:mm} long doesn't go in between two rails", "legs further out or narrower rails"
    ),
    "base-all-lap": Refusal("{size:mm} is all lap; the rails of {rail:mm} need more to cross"),
    "feet-into-lap": Refusal("feet of {size:mm} reach into the lap", "longer or narrower base rails"),
    "end-over-half": Refusal("{size:mm} is more than half the rail's width"),
    "end-over-foot": Refusal("the rounding is longer than the foot"),
    "arrises-leave-nothing": Refusal("{size:mm} from both sides leaves nothing of {least:mm}"),
    "relief-into-lap": Refusal(
        "a relief of {size:mm} out of {thick:mm} leaves too little of the lowest rail in the lap", "a thicker base"
    ),
    "drip-in-round-over": Refusal("at {size:mm} from the edge the groove cuts into the round-over of {round:mm}"),
    "drip-past-rim": Refusal(
        "a groove {size:mm} wide, {inwards:mm} from the edge, runs past the rim of {wall:mm}",
        "a groove nearer to the edge or a wider rim",
    ),
    "drip-into-slots": Refusal("{size:mm} deep the groove meets splines or tongues, {under:mm} up"),
    "glide-over-foot": Refusal(
        "a glide of {size:mm} doesn't lie on its foot, which has room for {room:mm}", "longer feet or fewer glides"
    ),
    "glide-over-drain": Refusal(
        "a glide of {size:mm} covers the drain hole; beside it is room for {room:mm}",
        "one glide to a foot, or legs that stand elsewhere",
    ),
    "glide-into-mortise": Refusal(
        "a screw or nail {size:mm} long comes through into a leg's mortise, {wood:mm} up", "thicker feet or base"
    ),
    "bit-through-bush": Refusal(
        "a bit of {bit:mm} doesn't go through a bush of {bush:mm}",
        'take a bush of {wide:mm} or more, or set jigs.guide to "bearing"',
    ),
    "bit-over-jig": Refusal(
        "a bit of {bit:mm} can't cut what is only {size:mm} across", "take a bit of {size:mm} or less"
    ),
    "bit-and-bush-over-jig": Refusal(
        "a bit of {bit:mm} can't cut what is only {size:mm} across",
        "take a bit of {size:mm} or less in a bush of {wide:mm} or more",
    ),
    "pin-through-sheet": Refusal(
        "a pin {size:mm} deep comes through the sheet it turns in",
        "{most:mm} at most, the thickness of the jigs' sheet",
    ),
    "router-over-pivot": Refusal(
        "a base of {size:mm} reaches the pivot of a trammel {reach:mm} long",
        "a smaller base, or a larger top.diameter",
    ),
    "bush-over-round": Refusal(
        "a bit of {bit:mm} led by a bush of {bush:mm} rounds no corner under {least:mm}; base.end_round is {size:mm}",
        "take a bush of {most:mm} or less",
    ),
    "no-bush-for-round": Refusal(
        "a bit of {bit:mm} led by a bush of {bush:mm} rounds no corner under {least:mm}; base.end_round is {size:mm}",
        'set jigs.guide to "bearing"',
    ),
}  # fmt: skip


def mm(size: float) -> str:
    """A size in words."""
    return f"{size:.1f} mm"


def refusal(kind: str, fields: Fields) -> Refusal:
    """The words of a kind with its fields."""
    found, other = (
        _PLACE.sub(lambda place: _form(fields[place[1]], place[2]), translated(text)) for text in REFUSALS[kind]
    )
    return Refusal(found, other)


def _form(value: float | str, form: str | None) -> str:
    if isinstance(value, str):
        return value
    return angle_words(value) if form == "deg" else mm(value)
