"""Sentences about the table in use: its year outdoors, its stance, its sitters, its strength."""

from templategen.checks.sentences.sentence import Sentence

STRENGTH = (
    "most at {place:word}; rails, legs and ring as a frame with stiff glued joints[{bolted:?}, the legs turning "
    "on their bolts' give under the top, nothing counted of how hard these are drawn up][{pegged:?}, the legs "
    "turning on their pegs' give under the top, nothing counted of the draw], "
    "wet wood of class {grade} (EN 338), loads half as large again; shop boards aren't graded: prove it with "
    "a test load"
)

USED = "share of the wood's strength used when {case:case}[ with {load:N}]"

USE = {
    "moisture": Sentence(
        "moisture of the wood when built",
        "%",
        why="air of {low:g} to {high:g} % at {warmth:C} brings wood to {driest:.1f} and {wettest:.1f} % "
        "moisture; rain takes a surface further; measure your boards and write it down"
        "[{rots:?}; wood this wet rots, and no glue holds in it]"
        "[{wait:?}; let it come to the air it will stand in, between stickers, before it is planed]",
    ),
    "wettest-gap": Sentence(
        "gap between slats at the wettest",
        why="water and crumbs must fall through[; slats of {most:mm} or less would do at this gap, or {sawn:advice}]",
    ),
    "driest-gap": Sentence("gap between slats at the driest"),
    "finger-gap": Sentence(
        "gap between slats at the driest, where a finger can be caught",
        why="fingers are caught in such gaps (probes of EN 581-1; a test house may judge long slots otherwise)"
        "[; {count} slats with gaps of {gap:mm} stay clear all year]"
        '[; gaps of {low:mm} to {high:mm} as built stay clear all year][{hold:?}, with slats.hold = "gap"]',
        keys=("slats.hold",),
    ),
    "laps-free": Sentence(
        "squeeze of the rails in their laps at the wettest, as a share of their width",
        "%",
        why="drawn with {play:mm} of play for it; at the driest they stand {loose:mm} loose: glue near the "
        "middle only",
    ),
    "tenons-free": Sentence(
        "squeeze of the legs' tenons in their mortises at the wettest, as a share of their width",
        "%",
        why="drawn with {play:mm} of play for it; at the driest they stand {loose:mm} loose: the cheeks that "
        "lie along the grain hold them",
    ),
    "laps-squeezed": Sentence(
        "squeeze of the rails in their laps at the wettest, as a share of their width",
        "%",
        why="{width:mm} across the grain grow {over:mm} past the play of {play:mm}, in a joint that lies "
        "along the grain "
        'and stays; "auto" draws the play for it, or other wood: {sawn:advice}',
    ),
    "tenons-squeezed": Sentence(
        "squeeze of the legs' tenons in their mortises at the wettest, as a share of their width",
        "%",
        why="{width:mm} across the grain grow {over:mm} past the play of {play:mm}, in a joint that lies "
        "along the grain "
        'and stays; "auto" draws the play for it, or other wood: {sawn:advice}',
    ),
    "mitre-opening": Sentence(
        "opening of each mitre in a year, if nothing held it",
        why="width moves and length doesn't, so the angle does: {inside:mm} inside at the driest, {outside:mm} "
        "outside at the wettest, {ring:mm} over the ring; glue, splines and a finish must hold that; a narrower "
        "rim or more segments ask less of them, and {sawn:advice}",
    ),
    "slat-tongue-left": Sentence(
        "slat tongue left in its groove at the driest",
        why="rails and rim shrink {drawn:mm} away from the shoulders of a slat that slid home at one end",
    ),
    "rail-tenon-left": Sentence(
        "rail tenon left in the ring at the driest",
        why="the rim shrinks {drawn:mm} away from the rails' shoulders, and the rails keep their length",
    ),
    "shoulder-play": Sentence(
        "play at the slats' shoulders beside a rail",
        why="each side of a rail grows {grown:mm} by the wettest of the year",
    ),
    "shoulders-pushed": Sentence(
        "play at the slats' shoulders beside a rail",
        why='each side of a rail grows {grown:mm} and pushes the slats along; "auto" draws room for it',
    ),
    "sliding-play": Sentence(
        "play of the slats' tongues across their grooves",
        why='slats stay dry and must slide in their grooves, swollen too[{tight:?}; "auto" draws room for it]',
    ),
    "mass": Sentence(
        "mass of the wood",
        "kg",
        why="its centre lies {centre:mm} above the floor; the top alone weighs {top:kg}"
        "[{two:?}, for two or more persons to lift]",
    ),
    "tipping": Sentence(
        "load at the rim's edge that tips the table",
        "N",
        why="on level ground, empty, at its driest; [{soft:N} would where its feet sink in; ]so would {push:N} "
        "pushed sideways at the top; who sits or leans on the rim brings {least:N} to {most:N}"
        "[; base rails {longer:mm} longer would do]",
    ),
    "soft-ground": Sentence(
        "load at the rim's edge that tips the table where its feet sink in",
        "N",
        why="it turns over the feet's middles there, not over their outer edges; a longer base holds more",
        do="tell whoever gets the table that it stands on firm ground alone, or on slabs as large as its feet",
    ),
    "parasol-in-table": Sentence(
        "moment of a parasol {canopy:m} across in wind of {wind:m/s}",
        "N m",
        why="besides {low:N} to {high:N} of lift; close it in wind and when unattended; top.parasol = "
        '"own base" stands it in a weighted base of its own under the table',
        keys=("top.parasol",),
    ),
    "parasol-in-base": Sentence(
        "moment of a parasol {canopy:m} across in wind of {wind:m/s}",
        "N m",
        why="besides {low:N} to {high:N} of lift; close it in wind and when unattended; the table only guides "
        "the pole, and alone would stand {resists:N m}",
        do="stand the parasol in a base of its own, {across:mm} across and of {base:kg} or more",
    ),
    "parasol-no-room": Sentence(
        "height under the ground cross for the base of a parasol {canopy:m} across",
        why="wind of {wind:m/s} brings it {moment:N m}, besides {low:N} to {high:N} of lift; close it in wind and "
        "when unattended; the table only guides the pole, and alone would stand {resists:N m}",
        do="stand the parasol in a socket in the ground under the hole, or on a steel plate thinner than {under:mm} "
        "between the feet, {across:mm} across and of {base:kg} or more; a thicker base stands beside the table",
    ),
    "feet-outside": Sentence("the feet stand outside the rim, where toes and chairs are"),
    "rim-sinks": Sentence(
        "how far the rim sinks under {load:N} above an arm",
        why="the rail held by its leg; up to twice that where the wood is loaded for long",
    ),
    "strength": Sentence(USED, "%", why=STRENGTH + "[{beyond:?}; {place:would}]"),
    "strength-to-sit": Sentence(USED, "%", why=STRENGTH),
    "strength-never-to-sit": Sentence(
        USED,
        "%",
        why=STRENGTH,
        do="tell whoever gets the table that nobody may sit or stand on it",
    ),
    "seats": Sentence("room for {few:# sitter} with {easy:mm} of rim each; for {most} with {tight:mm}", ""),
    "other-height": Sentence("height outside the {low:mm} to {high:mm} that tables to sit at have"),
    "knee-room": Sentence("room for knees under the rim"),
    "foot-room": Sentence("rim beyond the feet", why="toes and chair legs come in further"),
    "access-knees": Sentence("clear height for a wheelchair user's knees, by {rule:word}"),
    "access-depth": Sentence(
        "depth for the knees from rim to leg, by {rule:word}", why="rules differ between countries"
    ),
    "access-height": Sentence("height of the top for a wheelchair user, by {rule:word}"),
}  # fmt: skip
