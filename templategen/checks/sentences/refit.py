"""Sentences about what was measured of pieces already cut."""

from templategen.checks.sentences.sentence import Sentence

CURE = (
    "[; recut {recut:all}][: first try its {side:side} alone, at {angle:deg} off square, which takes {inner:mm.2} "
    "off its inner edge and {outer:mm.2} off its outer one, then measure it and re-fit again][; a slot that is "
    "cut there gets up to {lost:mm.2} shallower: cut it to its depth again][{none:?}; make the ring anew]"
)

REFIT = {
    "uneven-copies": Sentence(
        "the {size:word} of {more_of} is more than that of {less_of}",
        why="{pick:pick} for what is still to cut; bring them to one size first, or measure again",
    ),
    "refitted-gap": Sentence(
        "widest gap left in a mitre of the ring", why="known to {sure:mm.2}, as well as the pieces were measured"
    ),
    "ring-gaps": Sentence(
        "the ring can't close: a gap is left in every mitre" + CURE,
        why="the mitres cut so far are {wedge:deg} {short:word} in all, and what is still to cut may differ by "
        "{allowed:deg} at each end (limits.refit_angle)",
    ),
    "ring-steps": Sentence(
        "the ring closes only with a step in a mitre" + CURE,
        why="what is still to cut may come out {allowed:mm} longer or shorter (limits.refit_length)",
    ),
    "rail-too-long": Sentence("{piece} is too long for the ring on arm {arm}; trim that shoulder"),
    "shoulder-off": Sentence(
        "the shoulder of {piece} stands off the rim on arm {arm}",
        why="the tenon still holds; a thin shim, or a longer rail, closes it",
    ),
    "slat-too-long": Sentence("{piece} is too long for its place; trim its shoulders"),
    "groove-too-short": Sentence(
        "the groove of {piece} ends too soon for the slats; lengthen it", why="before the slats go in"
    ),
    "draw-measured": Sentence(
        "draw of the pegs, by both their holes as measured",
        why="{count:# leg} with {least:mm.2}[ to {most:mm.2}], known to {sure:mm.2}; {drawn:mm.2} were drawn; tips "
        "of {tip:mm.2} enter the tenons",
    ),
    "draw-off": Sentence(
        "draw of the peg of {leg} in {rail}, by both its holes as measured[{pushes:?}: driven in, the peg would push "
        "the shoulder off the rail]",
        why="{drawn:mm.2} were drawn, known to {sure:mm.2}; with less than {least:mm.2} it lets go by the driest of "
        "the year, with more than {most:mm.2}, a quarter of its thickness, the peg bends or breaks",
        do="[file the tenon's hole {more:mm.2} longer, right through, on its side away from the shoulder alone]"
        "[plug the tenon's hole with a dowel of the same wood, glued in, and bore it anew {anew:mm.2} from the "
        "shoulder]; then try the peg's tip in both holes before it is driven",
    ),
    "lengths-contradict": Sentence(
        "{one} and {other} contradict each other on the {size:word} of {piece}",
        why="measure it again; until then both count by their accuracy",
    ),
    "angles-contradict": Sentence(
        "{one} and {other} contradict each other on the {size:word} of {piece}",
        "deg",
        why="measure it again; until then both count by their accuracy",
    ),
    "sizes-contradict": Sentence(
        "the sizes of {piece} contradict each other: {sizes:named}", why="one of them is misread; measure them again"
    ),
}  # fmt: skip
