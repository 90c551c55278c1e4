"""Sentences about the finished parts: walls, shoulders, grain, slats, the dry fit."""

from templategen.checks.sentences.sentence import Sentence

OTHERS = "[these too drain and stay clear of fingers all year: {good:choice}][; these don't: {bad:choice}]"


def lacking(says: str, why: str, do: str = "") -> Sentence:
    """A sentence about a size that is too small, which ends with how much more of it would do."""
    return Sentence(says, why=f"{why}; {{more:up}} more would do", do=do)


WOOD = {
    "ring-wall": lacking(
        "wall along the joint of the finished ring: groove, spline and round-over share it",
        why="a thin ring splits at its joints when it is clamped or leaned on; a wider rim, a shallower groove or "
        "a smaller round-over leaves more",
    ),
    "cheek-under-groove": lacking(
        "cheek under the groove in rim and rails of {of:mm}",
        why="thin cheeks split as tongues swell; a thinner tongue or thicker rails leave more",
    ),
    "cheek-over-groove": lacking(
        "cheek over the groove in rim and rails of {of:mm}",
        why="thin cheeks split as tongues swell; a thinner tongue, thicker slats or slats in the middle of the "
        "rim leave more",
    ),
    "slat-shoulder": lacking(
        "shoulder of the slats' tongues on each face",
        why="shoulders hide the groove and hold the slat level; thicker slats or a thinner tongue leave more",
    ),
    "rail-web": lacking(
        "rail left between the grooves of both sides",
        why="the rail carries the top across its grooves; wider rails or shallower grooves leave more",
    ),
    "spline-cheek": lacking(
        "cheek on each side of a spline slot",
        why="thin cheeks split when the glued spline swells; a thinner spline leaves more",
    ),
    "between-spline-slots": lacking(
        "wood between the spline slots at both ends of a segment's inner edge",
        why="what is left between the slots holds the segment's inner edge; shallower slots or fewer segments "
        "leave more",
    ),
    "mortise-floor": lacking(
        "floor under the leg mortise in {parts}",
        why="a thin floor bursts when the tenon is driven or the glue pressed; a shorter tenon or thicker rails "
        "leave more",
    ),
    "mortise-holds-water": Sentence(
        "drain hole through the floor of the mortises in the ground cross",
        why="rain runs down the legs into mortises that open upwards and stands there at the tenons' end grain, "
        "which rots first; a narrower hole holds a drop that bridges it",
    ),
    "holds-water": Sentence(
        "depth of water that stands in {part}[ ({places} places)] over {area:cm2} of floor",
        why="{out:mm} from the table's middle and {high:mm} above the ground it has walls all round and no way out; "
        "a "
        "drain hole, a floor that falls to one side or an open end lets it out",
    ),
    "recess-holds-water": Sentence(
        "depth of the counterbores in the top's face over the bolts ({places} places, {area:cm2} each)",
        why="rain stands in them round the bolts' heads",
        do="fill each with wax over the bolt's head, or press a cap into it, once the table has been tried",
    ),
    "level-wood": Sentence(
        "bare, level area of the ground cross",
        "cm2",
        why="water lies there until it dries, longest in the corners between its rails and round the legs, where the "
        "finish wears first",
    ),
    "feet-on-the-floor": Sentence(
        "how high the feet stand off the floor",
        why="wood that stands on a wet floor drinks through its ends and its underside, and rots there; "
        "base.glides = \"screwed\" keeps it off",
        do="flood the feet's ends and undersides with finish until they take no more, as the plan of work says, and "
        "once a year again",
        keys=("base.glides",),
    ),
    "feet-on-glides": Sentence(
        "how high the feet stand off the floor",
        why="air and water pass under them; the table's height counts it, and its legs are shorter by as much",
    ),
    "mortise-wall": lacking(
        "wall beside the leg mortise in {parts}",
        why="thin walls burst as the tenon swells; a thinner tenon, wider rails or shallower grooves leave more",
    ),
    "mortise-to-lap": lacking(
        "wood between leg mortise and lap in {parts}",
        why="short wood shears off along the grain; legs further out leave more",
    ),
    "mortise-to-end": lacking(
        "wood between leg mortise and the rail's end in {parts}",
        why="short wood shears off along the grain; legs further in or a longer rail leave more",
    ),
    "tenon-shoulder": lacking(
        "shoulder of the legs' tenons",
        why="shoulders carry the table and hide the mortise; a smaller tenon, a thicker leg or less taken off its "
        "corners leave more",
    ),
    "tenon-shoulder-at-corner": lacking(
        "shoulder of the legs' tenons at the eased corners",
        why="shoulders carry the table and hide the mortise; a smaller tenon, a thicker leg or less taken off its "
        "corners leave more",
    ),
    "under-the-head": lacking(
        "rail left between a bolt's head and the mortise under it",
        why="it must bear what the bolt is drawn up with; a lower head, a shorter stub or thicker rails leave more",
    ),
    "beside-the-nut": lacking(
        "leg left beside its barrel nut",
        why="a nut that is drawn up splits what is thin; a thinner nut, a thicker or more upright leg leaves more",
    ),
    "behind-the-nut": lacking(
        "leg left behind its barrel nut",
        why="the bore must keep a floor, or the nut shows and lets water through; a shorter nut or a thicker leg "
        "leaves more",
    ),
    "nut-to-the-end": Sentence(
        "leg between its shoulder and the middle of the barrel nut",
        why="what a bolt pulls on shears off along the grain: {times:g} thicknesses of it at least (EN 1995-1-1, "
        "loaded end)",
    ),
    "bolt-play": Sentence(
        "what the rails shrink under the bolts' heads by the driest of the year",
        why="{grip:mm} of rail across the grain, while legs and bolts keep their length; by the wettest it grows "
        "{pressed:mm}, and the washers press in by as much; water comes in at head and nut",
        do="a spring washer under each head; flood holes and bores with finish; draw the bolts up again after the "
        "first dry season, as the plan of work and the customer's sheet say",
    ),
    "under-the-peg": lacking(
        "rail left under a peg",
        why="it is what carries the legs when the table is lifted; a thinner or a higher peg leaves more",
    ),
    "peg-to-groove": lacking(
        "rail left between a peg and the grooves for the slats",
        why="thin wood splits out there; a lower or a thinner peg, or thicker rails leave more",
    ),
    "peg-to-shoulder": lacking(
        "tenon left between its peg and the shoulder",
        why="the peg presses on the far side, but what is thin breaks out as it is bored; a thinner or a higher peg "
        "leaves more",
    ),
    "peg-to-tenon-end": lacking(
        "tenon left past its peg",
        why="the draw shears it off along the grain; a longer tenon, a lower or a thinner peg leaves more",
    ),
    "peg-draw": Sentence(
        "draw of the pegs: how much nearer to the shoulder the tenon's hole lies",
        why="it bends a peg of {peg:mm} and closes the shoulder without glue; a quarter of the peg at most "
        "(trade rule), and less in hard wood than in soft; try one joint in scrap of the same wood",
    ),
    "peg-play": Sentence(
        "what the rails shrink over the pegs by the driest of the year, out of their draw",
        why="{rise:mm} of rail across the grain between shoulder and peg, while the legs keep their length; by the "
        "wettest it grows {pressed:mm} and the pegs bend by as much; water comes in at their ends",
        do="pegs of dry hard wood; flood their holes with finish; look at the shoulders after the first dry season, "
        "and put new pegs in where one can be turned by hand, as the customer's sheet says",
    ),
    "peg-pull": Sentence(
        "what pulls on a peg when the table is lifted by its top",
        "N",
        why="two pegs of {peg:mm} carry the {under:kg} under the top, with the jerk and half as much again; what is "
        "wanted is the least that an oak peg, the tenon's end and the rails' grain bear (screening: shop wood isn't "
        "graded)",
    ),
    "past-the-legs": Sentence(
        "base rail past its legs",
        why="a leg that is carried over its whole foot stands firm; a longer base or legs further in carry it",
    ),
    "lap-left": lacking(
        "wood left in the lap in {parts}",
        why="the lap carries the load across the centre; thicker rails leave more",
    ),
    "hole-side": lacking(
        "wood beside the pole hole in {parts}",
        why="the lap is weakest at the hole; a smaller hole or wider rails leave more",
    ),
    "slot-to-groove": lacking(
        "wood between spline slot and groove in {parts}",
        why="a slot that meets the groove leaves the tongue unheld and lets water in; a thinner tongue or spline, "
        "or a shallower groove, keeps them apart",
    ),
    "spline-to-rim": lacking(
        "wood between the end of a stopped spline and the finished rim",
        why="a spline nearer to the rim shows when the ring is sawn; a wider rim or a smaller round-over hides it",
    ),
    "thin-wood": lacking(
        "wood between {work:both} in {parts}",
        why="wood so thin breaks out as it is cut, or splits as the joint swells; a size of either cut moves the "
        "two apart",
    ),
    "wafer": lacking(
        "wood between {work:both} in {parts}",
        why="wood so thin breaks out as it is cut, or splits as the joint swells; a size of either cut moves the "
        "two apart",
        do="pare it away before the joint is tried: a piece so small holds nothing, and breaks off in the glue",
    ),
    "splines-show": Sentence(
        "splines show at the finished rim",
        "places",
        why="they were slid in from outside, so that segments can come on one by one; stopped ones would hide",
    ),
    "edge-gave-way": Sentence(
        "taken off these arrises, in place of the {usual:mm} that is taken where no size is given: it has no room "
        "here",
        why="{beside:word} leaves {room:mm}; a size of your own must stay under that",
    ),
    "spline-in-round-over": Sentence(
        "wood between the round-over and the splines that show at the rim",
        why="the round-over cuts into them; end grain of the spline feathers out in the rounding; a "
        "smaller round-over clears it",
    ),
    "steep-grain": Sentence(
        "grain at the segments' ends runs out steeply",
        "along to 1 across",
        why="horns with steep grain break in handling; more segments run straighter",
        do="saw the mitres with waste clamped behind the points, and lift and clamp the segments by their middles "
        "until the ring is glued",
    ),
    "sharp-points": Sentence("sharp points of {parts}", "deg", why="they splinter; ease them by hand"),
    "sliver": lacking(
        "width of {parts} at its widest",
        why="a sliver can't be held safely at the machine nor leaned on; other slat widths or gaps avoid it",
    ),
    "edge-in-rail": Sentence(
        "by which a long edge of {parts} reaches past a rail's shoulder, and would be a tongue",
        why="nothing cuts a tongue along a slat; another gap or width of the slats, or another run, moves them off "
        "the rail",
    ),
    "draining-gap": lacking(
        "gap between slats, through which water must drain",
        why="rain, crumbs and swelling need room; narrower slats or a wider gap give it",
    ),
    "solved-gap": Sentence("gap with the width held and {count:# slat} to a field", why=OTHERS),
    "solved-width": Sentence("width of the slats with the gap held and {count:# slat} to a field", why=OTHERS),
    "same-wood": Sentence(
        "{one} and {other}[ ({places} places)] claim the same wood where they stand",
        "mm3",
        why="one of them can't be cut as drawn; move or shrink the joint",
    ),
    "touch": Sentence(
        "{one} and {other}[ ({places} places)] touch where no joint is",
        why="they bind as the wood moves and hold water[{closed:?}; an open apex keeps slats off the rails]",
    ),
    "missed-joint": Sentence(
        "{one} and {other} meet over another area than their {joint:word} is drawn for",
        "mm2",
        why="measured by pushing the solids together through their play; the two sides don't mate as designed",
    ),
    "locked": Sentence(
        "parts lock each other: {pairs}",
        "pairs",
        why="each part must come home along a straight line; through splines or longer grooves would free them",
    ),
    "ring-shut-out": Sentence(
        "the ring can't be closed over what stands inside",
        "pairs",
        why="each part must come home along a straight line; through splines or longer grooves would free them",
    ),
    "goes-together": Sentence("it goes together in {stages:# stage}: {ring:word}", ""),
    "leg-shoulders": lacking(
        "leg between its shoulders",
        why="a leg shorter than it is thick is a block; a higher table or thinner base makes it longer",
    ),
}  # fmt: skip
