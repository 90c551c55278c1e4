"""Why a wall must be what it is, and which change would bring it there."""

from __future__ import annotations

from math import ceil

from templategen.geometry.tolerance import MET

REASONS = {
    "wall along the joint": "a thin ring splits at its joints when it is clamped or leaned on; "
    "a wider rim, a shallower groove or a smaller round-over leaves more",
    "cheek under the groove": "thin cheeks split as tongues swell; a thinner tongue or thicker rails leave more",
    "cheek over the groove": "thin cheeks split as tongues swell; a thinner tongue, thicker slats or slats in the "
    "middle of the rim leave more",
    "shoulder of the slats": "shoulders hide the groove and hold the slat level; thicker slats or a thinner tongue "
    "leave more",
    "rail left between": "the rail carries the top across its grooves; wider rails or shallower grooves leave more",
    "cheek on each side of a spline": "thin cheeks split when the glued spline swells; a thinner spline leaves more",
    "wood between the spline slots": "what is left between the slots holds the segment's inner edge; shallower slots "
    "or fewer segments leave more",
    "floor under the leg": "a thin floor bursts when the tenon is driven or the glue pressed; a shorter tenon or "
    "thicker rails leave more",
    "wall beside the leg": "thin walls burst as the tenon swells; a thinner tenon, wider rails or shallower grooves "
    "leave more",
    "wood between leg mortise and lap": "short wood shears off along the grain; legs further out leave more",
    "wood between leg mortise and the rail": "short wood shears off along the grain; legs further in or a longer "
    "rail leave more",
    "shoulder of the legs' tenons": "shoulders carry the table and hide the mortise; a smaller tenon, a thicker leg "
    "or less taken off its corners leave more",
    "wood left in the lap": "the lap carries the load across the centre; thicker rails leave more",
    "wood beside the pole hole": "the lap is weakest at the hole; a smaller hole or wider rails leave more",
    "wood between spline slot and groove": "a slot that meets the groove leaves the tongue unheld and lets water in; "
    "a thinner tongue or spline, or a shallower groove, keeps them apart",
    "wood between the end of a stopped": "a spline nearer to the rim shows when the ring is sawn; a wider rim or a "
    "smaller round-over hides it",
    "wood between": "wood so thin breaks out as it is cut, or splits as the joint swells; a size of "
    "either cut moves the two apart",
    "width of SLAT": "a sliver can't be held safely at the machine nor leaned on; other slat widths or gaps avoid it",
    "solved gap": "rain, crumbs and swelling need room; narrower slats or a wider gap give it",
    "leg between its shoulders": "a leg shorter than it is thick is a block; a higher table or thinner base makes it "
    "longer",
}
"""By what a finding's text begins with."""


def reason(says: str, short: float, unit: str) -> str:
    """Why the thing measured matters, and how much more would do, rounded up so that it does."""
    words = next((why for start, why in REASONS.items() if says.startswith(start)), "")
    more = f"{ceil(short * 10 - MET) / 10:.1f} {unit} more would do"
    return f"{words}; {more}" if words else more
