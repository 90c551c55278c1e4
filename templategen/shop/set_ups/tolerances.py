"""How far off a set-up may be, and how to check that before good wood is cut."""

from collections.abc import Mapping
from dataclasses import replace

from templategen.catalogue import worded
from templategen.checks.describe import said
from templategen.jigs.angle_gauge import ANGLE, ShownTwice
from templategen.parts.part import Part, PartKind
from templategen.shop.set_ups.ledger import Ledger
from templategen.shop.set_ups.set_up import Check, Proof, SettingName

ISO_MEDIUM = ((6.0, 0.1), (30.0, 0.2), (120.0, 0.3), (400.0, 0.5), (1000.0, 0.8), (2000.0, 1.2), (4000.0, 2.0))
"""Sizes up to so many mm, and how far they may be off either way, mm."""

ISO = "ISO 2768-1, class m, for timber at a stated moisture"

GLUE_LINE = 0.05
"""The tightest tolerance worth asking of a fit, mm: glue lines want surfaces 0.05 to 0.15 mm apart."""

LAST_GAP = 0.3
"""How far the last joint of a ring may stand open when all errors add up there, mm."""

ALIKE = 0.1
"""How closely a stop block repeats, mm."""

LEVEL = 0.1
"""How far faces that should be flush may be apart, mm: more is felt, and planed off."""

SHOULDER = 0.2
"""How far a shoulder may stand off its mate, mm: more shows."""

CENTRED = 0.2
"""How far off its place a hole may be that the top turns on, mm: as far is the rim off that is sawn about it."""

DRAWN = 0.3
"""How far a peg's draw may be off, mm."""

FACE_TO_FACE = (
    "in the middle: run once more, its other face to the fence, a test piece's slot comes wider by twice what the"
    " fence is off, which is a mitre's step"
)

AT_THE_FENCE = "from the face at the fence"
"""How deep in the wood a groove lies, where all are cut off one face."""

FROM_EITHER = "from the top to the groove, on one piece cut with either face at the fence"
"""The same where some are cut off the other."""

FROM_THE_TOP = "from the top to its near side, at every end alike"
"""What is measured instead where every groove or slot is cut off the top."""

BEARS = "may be off by, either way"
DEEPER = "may be off by, further in alone"

FIRST = "the first piece, left over size until it is right"
STRIP = "STRIP"
"""The test strip of the section in hand, see `strip_of`."""

SCRAP_RING = "SCRAP-RING"

STRIPS: Mapping[PartKind, str] = {
    "leg": "STRIP-LEG", "rail": "STRIP-RAIL", "rim-segment": "STRIP-RAIL", "base-rail": "STRIP-BASE",
    "foot": "STRIP-BASE", "slat": "STRIP-SLAT",
}  # fmt: skip
"""The test strip of each kind of part: of its section, or as thick as it is where that is enough."""

BORED = "diameter of the hole"


def fit_borne(glue_clearance: float) -> float:
    """Tolerance across a fit, mm: half of its play, or what a glue line allows."""
    return max(glue_clearance / 2, GLUE_LINE)


def end_borne(end_clearance: float) -> float:
    """Tolerance of a depth or a stopped end, mm: half of the play there, or how closely a stop repeats."""
    return max(end_clearance / 2, ALIKE)


def length(ledger: Ledger, quantity: str, measure: str, of: SettingName, test_piece: str = FIRST) -> Proof:
    """For a size that nothing fits into: the general tolerance of its length."""
    return Proof(test_piece, (sized(ledger, quantity, measure, of),))


def sized(ledger: Ledger, quantity: str, measure: str, *of: SettingName) -> Check:
    """The general tolerance of a size."""
    size = ledger.value(quantity)
    most, off = next((row for row in ISO_MEDIUM if size <= row[0]), ISO_MEDIUM[-1])
    says = worded("tolerance of sizes up to {most:.0f} mm", most=most)
    return _check(ledger, measure, ledger.given(f"tolerance.up_to_{most:.0f}", says, off, "mm", ISO), of)


def alike(ledger: Ledger, measure: str, *of: SettingName) -> Check:
    """The accuracy of repeated cuts to a stop block."""
    return _check(ledger, measure, _alike(ledger), of)


def level(ledger: Ledger, measure: str, *of: SettingName) -> Check:
    """For faces that should be flush."""
    return _check(ledger, measure, _level(ledger), of)


def midway(ledger: Ledger, measure: str, *of: SettingName) -> Check:
    """For a slot in the middle of its thickness, whose mate has the other face at the fence: both errors add up."""
    says = "how far a slot may be off the middle: half of what faces may lie apart"
    return _check(ledger, measure, ledger.add("tolerance.midway", says, "mm", "level / 2", level=_level(ledger)), of)


def shouldered(ledger: Ledger, measure: str) -> Check:
    """For the length between shoulders, that is the whole length less the tongues."""
    says, source = "how far a shoulder may stand off", "rule of this program: more shows"
    return _check(ledger, measure, ledger.given("tolerance.shoulder", says, SHOULDER, "mm", source), ("stop",))


def fitted(ledger: Ledger, measure: str, *of: SettingName) -> Check:
    """Half of a joint's play across, or what a glue line allows."""
    source = "glue lines want surfaces 0.05 to 0.15 mm apart"
    least = ledger.given("tolerance.glue_line", "least that is asked of a fit", GLUE_LINE, "mm", source)
    says = "tolerance of a fit: half of its play"
    return _check(ledger, measure, ledger.add("tolerance.fit", says, "mm", "max(cg / 2, least)", least=least), of)


def laid_in(ledger: Ledger, size: str, clearance: str, measure: str, *of: SettingName) -> Check:
    """For a trench that what is laid into it doesn't fill: the general tolerance of its width where the play takes
    that, else as for a fit."""
    width, play = ledger.value(size), ledger.value(clearance)
    general = next((off for most, off in ISO_MEDIUM if width <= most), ISO_MEDIUM[-1][1])
    return sized(ledger, size, measure, *of) if general <= play / 2 else fitted(ledger, measure, *of)


def at_end(ledger: Ledger, measure: str, *of: SettingName) -> Check:
    """Half of the play at a joint's end, for depths and stopped ends."""
    says, least = "tolerance of depths: half of the play at a joint's end", _alike(ledger)
    return _check(ledger, measure, ledger.add("tolerance.depth", says, "mm", "max(ce / 2, least)", least=least), of)


def below(ledger: Ledger, measure: str, *of: SettingName) -> Check:
    """For a shoulder beside others in one plane: as much as a joint's end has room for, and one way alone, since what
    stands proud of them holds the joint open."""
    check = at_end(ledger, measure, *of)
    return replace(check, tolerance=replace(check.tolerance, says=DEEPER), one_way=True)


def centred(ledger: Ledger, measure: str) -> Check:
    """For a hole that the top turns on as its rim is sawn."""
    says, source = "how far a hole's centre may be off", "rule of this program: the rim is off by as much"
    off = ledger.given("tolerance.centre", says, CENTRED, "mm", source)
    return _check(ledger, measure, off, ("stop", "edge"))


def drawn(ledger: Ledger) -> Check:
    """For a peg's draw, as it is seen through the rail's hole."""
    says, source = "how far a draw may be off", "rule of this program: less closes little, more bends the peg"
    off = ledger.given("tolerance.draw", says, DRAWN, "mm", source)
    measure = (
        "the tenon home in its mortise: through the rail's hole a crescent of the tenon shows, at the side of the "
        "tenon's end, at its widest"
    )
    wanted = ledger.setting("wanted", "legs.peg.draw", "the draw")
    return Check(measure, ledger.setting("tolerance", off, BEARS), ("stop",), wanted)


def closing(ledger: Ledger) -> Proof:
    """For the ring's mitres, whose errors all add up in the last gap."""
    source = "rule of this program; both ends of all segments add up there"
    gap = ledger.given("tolerance.last_gap", "last gap of the ring that is borne", LAST_GAP, "mm", source)
    says = "error of each mitre at which the last gap comes to that"
    angle = ledger.add("tolerance.mitre", says, "deg", "gap / (2 * N * face) * 180 / pi", gap=gap)
    checks = (
        _check(ledger, "a scrap ring of all segments: its last gap", gap),
        _check(ledger, "angle of each mitre, which no scale shows so finely: the scrap ring does", angle),
        alike(ledger, "lengths, segment against segment", "stop"),
    )
    return Proof(SCRAP_RING, checks)


def turned(ledger: Ledger, angle: str, strip: str, *others: Check) -> Proof:
    """For ends at the quantity `angle` off square that meet a shoulder or a groove, tried on two pieces of a `strip`;
    `others` is measured besides.

    They show it as `ShownTwice` tells.
    """
    says = "tolerance of an angle that nothing closes on"
    twice = ShownTwice(ledger.value(angle), ledger.profile.units)
    off = ledger.given("tolerance.angle", says, ANGLE, "deg", "good gauges hold it")
    source = "as long as scrap is"
    reach = ledger.given("trial.reach", "how far out the test pieces are measured", twice.far, "mm", source)
    name = angle.removeprefix("set_up.")
    fall = twice.is_fall
    wanted, borne = ("r * sin(2 * a)", "2 * r * cos(2 * a)") if fall else ("2 * r * cos(a)", "2 * r * sin(a)")
    says = (
        "fall of one test piece's edge from the line of the other's" if fall else "distance across both test pieces"
    )
    found = ledger.add(f"{name}.trial", says, "mm", wanted, r=reach, a=angle)
    bears = ledger.add(
        f"{name}.trial_tolerance", "what the angle's tolerance makes of it", "mm", f"{borne} * off * pi / 180",
        r=reach, a=angle, off=off,
    )  # fmt: skip
    check = Check(twice.measure, ledger.setting("tolerance", bears, BEARS), (), ledger.setting("wanted", found, says))
    told = "two pieces of {strip}, each {long} long, cut one after the other and kept"
    pair = said(told, strip=strip, long=twice.long)
    return Proof(pair, (check, *others), is_kept=True)


def strip_of(part: Part) -> str:
    """The code of the test strip that a part's set-ups are tried on."""
    return STRIPS[part.kind]


def _level(ledger: Ledger) -> str:
    says, source = "how far apart level faces may lie", "rule of this program: more is felt"
    return ledger.given("tolerance.level", says, LEVEL, "mm", source)


def _alike(ledger: Ledger) -> str:
    says, source = "what a stop keeps pieces alike to", "a stop block, always from the same face"
    return ledger.given("tolerance.alike", says, ALIKE, "mm", source)


def _check(ledger: Ledger, measure: str, name: str, of: tuple[SettingName, ...] = ()) -> Check:
    return Check(measure, ledger.setting("tolerance", name, BEARS), of)
