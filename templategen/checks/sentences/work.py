"""Sentences about the work: glue, tools, the ring, the stock, jigs, files."""

from templategen.checks.sentences.sentence import Sentence

WORK = {
    "glue-unfit": Sentence(
        "the glue, {glue:word}, isn't fit for outdoors ({water:word})",
        "",
        why="rain and sun open its joints, and a table that comes apart drops what stands on it; {fit} are fit",
    ),
    "glue-under-finish": Sentence(
        "glue fit for outdoors under a finish: {glue:word}",
        "",
        why="{water:word}; bare wood left in the weather is beyond its class, so keep the finish up",
    ),
    "glue-cold": Sentence(
        "wood at gluing is colder than {glue:word} takes",
        "C",
        why="cold glue chalks and holds little; warm the wood itself, not just the air, or use another glue",
    ),
    "open-time": Sentence(
        '"{step}" closes {joints:# glued joint} at once, longer than the glue stays open',
        "min",
        why="glue that skins over before the joint is home doesn't hold; a slower glue gives more time",
    ),
    "open-time-of-ring": Sentence(
        '"{step}" closes {joints:# glued joint} at once, longer than the glue stays open',
        "min",
        why="glue that skins over before the joint is home doesn't hold; through splines, slid in from outside, "
        "let the segments come on one at a time",
    ),
    "open-time-to-spare": Sentence(
        'time for {joints:# glued joint} of "{step}", where each face takes {seconds} seconds',
        "min",
        do='two persons spread the glue of "{step}" at once, or take one that stays open {needed} minutes or longer, '
        "and write that as shop.open_time",
    ),
    "groove-too-narrow": Sentence(
        "width of the {cut:word}, narrower than any cutter", why="a wider groove, or a cutter that fits it"
    ),
    "passes": Sentence(
        "the {cut:word} take {passes:# pass} of the {tool:word}",
        "",
        why="the last set to a try of the fit",
    ),
    "bit-instead": Sentence(
        "width of the {cut:word}, too narrow for the groove cutter", why="the router bit makes them"
    ),
    "bit-too-wide": Sentence("router bit, wider than the leg mortises", why="take a smaller bit, or chop them"),
    "round-corners": Sentence(
        "radius that a bit of {bit:mm} leaves in inside corners",
        do="square the round corners in mortises[ and {ends:# stopped end} of grooves and slots] with a chisel",
    ),
    "round-ends": Sentence(
        "radius that a bit of {bit:mm} leaves in inside corners",
        do="square {ends:# stopped end} of grooves and slots with a chisel",
    ),
    "round-mates": Sentence(
        "radius that a bit of {bit:mm} leaves in inside corners",
        do="take the corners of tongues and splines off until they go home at {ends:# stopped end} of grooves and "
        "slots: your shop has no chisels",
    ),
    "blade-too-wide": Sentence("radius of the top, for a blade of {blade:mm}", why="take a narrower blade"),
    "past-the-saw": Sentence(
        "reach of the top past the bandsaw's table",
        do="carry the top[{pivot:?}, and the pivot's board which lies off the saw's table too,] on boards or "
        "stands, each as high as what lies on it, while the rim is sawn round",
    ),
    "short-pieces": Sentence(
        "shortest of {kinds:# kind} of short piece",
        do="never feed {parts} by hand: work them on longer strips, cut them off last and hold them as each "
        "operation tells",
    ),
    "mitre-past-saw": Sentence(
        "mitres of the ring, off square",
        "deg",
        why="every joint of the ring needs this cut and the saw doesn't turn so far; more segments need less",
        do="saw the ring's mitres on a sled with a fixed fence, tried on scrap until a whole ring of it closes",
    ),
    "slat-end-past-saw": Sentence(
        "end of {parts}, off square",
        "deg",
        do="saw the end of {parts} on a sled whose fence stands {off:deg} off the blade's line",
    ),
    "past-the-stop": Sentence(
        "length of {parts}, to be set by a stop", do="clamp a stop block to a longer fence for {parts}"
    ),
    "ring-closes": Sentence(
        "chance that every gap in the ring stays under {limit:mm.2} (way of working: {way:word})",
        "%",
        why="with cuts as exact in angle and length as the profile says and the saw's setting off as far as one "
        "cut: {others}",
    ),
    "closing-not-as-wished": Sentence(
        "the ring can't be closed in the way wished for ({wish:word}), since here {ring:word}; planned instead: "
        "{way:word}",
        "",
    ),
    "no-tool": Sentence(
        "{operation:word} of {parts:all}: nothing in your shop does this", "", why="it takes {takes:ways}"
    ),
    "other-tool": Sentence(
        "{operation:word}: your shop hasn't the tools for the way wished for; planned is {machine:word}",
        "",
        why="it takes {takes:ways}",
    ),
    "bits-too-short": Sentence(
        "depth that the routing machine's bits would have to cut in {parts}",
        do="saw and bore what the routing machine leaves out as the set-ups tell, or get bits that cut deep enough: "
        "{depths:depth}",
        keys=("router.bits",),
    ),
    "bits-too-short-to-free": Sentence(
        "depth that the routing machine's bits would have to cut in {parts}",
        do="list bits that cut deep enough under router.bits, or let their stock be sawn: {depths:depth}",
        keys=("router.bits",),
    ),
    "bits-too-short-for-stock": Sentence(
        "depth that a bit must cut to free what lies on {stock}, which has no file for the machine",
        do='list a bit that cuts {deep:mm.2} deep under router.bits, or write mode = "sawn"',
        keys=("router.bits",),
    ),
    "stock-short": Sentence(
        "the stock can't hold {left:all}[; {buy:all}]"
        "[ without the faults of {clean:all}][{buy:?} would hold everything]"
        "[ for {cost:g}][{none:?}; add stock that they fit on][; no stock of their wood "
        "and thickness has clear room for {never:all}][: {lacks:all}]"
        "[{counts:?}; or leave out a count to buy what is needed]",
        "parts",
    ),
    "laid-plainer": Sentence(
        "straight cuts could not free the closest layout of {stock:all}; their parts were laid out again, each in a "
        "rectangle of its own, which may take more wood",
        "boards",
    ),
    "too-thick-for-stock": Sentence(
        "no stock of their wood is thick enough for {parts:all}; they are on the buy list", "parts"
    ),
    "no-stock": Sentence("the profile lists no stock, so nothing is nested; the buy list has the net sizes", "parts"),
    "no-sheets": Sentence(
        "the profile lists no {kinds:sheet} for the jigs; their pieces are on the buy list", "pieces"
    ),
    "sawn-flatwise": Sentence(
        "no {wood:word} near their thickness; {parts:all} are sawn flatwise out of {out_of:mm}"
    ),
    "jig-left-out": Sentence("a jig is left out: {found}; {remedy}", ""),
    "no-letters": Sentence(
        'letters of "{name}" that PDFs have no face for ({letters})',
        "letters",
        why="they print as question marks; write it in Latin, Greek, Cyrillic or Hebrew letters to tell sheets apart",
    ),
    "plan-goes-wrong": Sentence(
        "{place}: {found}",
        "",
        why="A bench that does just what the plan says doesn't end with the table, so don't cut by it: either "
        "the shop can't do it, or it is a mistake of ours; change what is named, or send us the profile.",
    ),
    "not-made": Sentence(
        "couldn't be made ({trouble})",
        "",
        why="This is a mistake in templategen, not in your profile; send profile and words to whoever looks "
        "after it.",
    ),
    "not-written": Sentence("{what} isn't written: {found}", "", do="{remedy}"),
}  # fmt: skip
