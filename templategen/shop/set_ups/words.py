"""Set-ups in words: how a piece lies, what is set from where, what is measured."""

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence

from templategen.catalogue import TWO_MEANINGS, figured, meant, translated
from templategen.checks.describe import said
from templategen.parts.sides import side
from templategen.shop.set_ups.feed import ACROSS, FED, rear_of
from templategen.shop.set_ups.set_up import Check, Cut, Lay, Setting, SettingName, SetUp, Side
from templategen.units import MM_PER_INCH, angle_words, format_mm, inch_fraction, length_words, trimmed

DIGITS = {"mm": 2, "deg": 3}
"""Decimals by unit; counts are whole."""

HEIGHTS = ("plane", "rip")
"""Where only the machine's own table and rollers guide a piece: nothing is said of how it lies."""


IN_THE_RING = ("saw round", "trim", "drip groove", "edge round-over")
"""Done to the glued ring."""


OF_A_MACHINE: tuple[SettingName, ...] = ("gauge", "cutter", "passes", "step", "levels", "deepen")
"""Settings that don't apply to chisels and planes."""

ON_THE_WOOD: Mapping[tuple[str, SettingName], str] = {
    ("rip", "fence"): "width", ("plane", "height"): "thickness", ("rebate", "fence"): "shoulder",
    ("shoulder", "fence"): "shoulder", ("shoulder", "height"): "cheek", ("groove", "fence"): "from the face",
    ("spline slot", "fence"): "from the face",
}  # fmt: skip
"""What a setting is called where it is marked on the wood, by operation; for all others see `name_of`."""

OF_A_GROOVE: Mapping[SettingName, str] = {"start": "near end", "end": "far end"}
"""What the ends of a groove are called that are told along the wood: whatever goes over it may begin at either."""

WITH_A_GUIDE: Mapping[SettingName, str] = {"fence": "guide", "height": "depth", **OF_A_GROOVE}
"""What a setting is called on a router in the hand."""

TO_THE_FENCE = "{side} to the fence"
TO_THE_BLOCK = {
    "stop": "{side} to the stop", "rear": "{side} to the rear block", "front": "{side} to the front block"
}  # fmt: skip
HELD: Mapping[str, str] = {
    "end bore": "measured from the {side}", "saw round": "{side} down", "trim": "{side} down",
    "drip groove": "{side} is the one the guide runs on",
}  # fmt: skip
"""What is told of a side instead, where none is at a fence."""

BLOCKS = {"rear": "rear block", "front": "front block"}
"""What stands for a setting's name where it is told to people."""

_EASED = "ease the arris between {one} and {other}"
CORNERS: Mapping[str, str] = {
    "round-over": _EASED, "chamfer": _EASED, "bead": _EASED, "edge round-over": _EASED,
    "round corner": "round the corner of {one} and {other}", "shoulder": "saw out the corner of {one} and {other}",
}  # fmt: skip
"""What is cut where two sides meet."""

LEANING = ("mitre", "lap", "relief", "nib")
"""Cuts across a piece that may stand off square."""


RIPPED = {
    True: "the straight {edge} to the fence, {face} up; fed away from you",
    False: "measured from the straight {edge}, {face} up",
}
"""How a piece lies as it is ripped, by whether that is done at a machine."""


def lies(set_up: SetUp, lay: Lay, kind: str = "") -> str:
    """How a piece lies, short: `cut the right end; underside up; outer edge to the fence; left end to the stop`."""
    if set_up.operation == "rip":
        against, up = side(lay.against, kind), side(lay.up, kind)
        return said(RIPPED[set_up.way == "machine"], edge=against, face=up)
    if set_up.operation in HEIGHTS:
        return ""
    if set_up.operation in IN_THE_RING and kind == "spline":
        return translated("glued in: cut with the ring, never by itself")
    if (set_up.is_marked and set_up.operation not in IN_THE_RING) or is_along_a_straightedge(set_up):
        return _marked(set_up, lay, kind)
    guided = set_up.operation in FED and set_up.way == "hand-held"
    told = [_corner(set_up, lay, kind) or said("cut the {side}", side=side(lay.worked, kind))]
    if set_up.operation == "shoulder":
        return f"{told[0]}; {translated('lying on a face')}"
    if set_up.operation == "saw round" and set_up.way != "machine":
        return told[0]  # the way says how the ring lies
    if lay.up != lay.worked:
        told.append(said("{side} up", side=side(lay.up, kind)))
    if not _corner(set_up, lay, kind):
        held = HELD["drip groove"] if guided else HELD.get(set_up.operation, TO_THE_FENCE)
        told.append(said(held, side=side(lay.against, kind)))
    if is_scribed(set_up):
        told.append(translated("no stop: along its scribed line"))
    elif lay.stop_at:
        bored, cornered = set_up.operation == "bore", lay.stop_at in ("low", "high")
        block = "stop" if set_up.way != "machine" or set_up.operation not in FED else _block(lay)
        at = side(lay.stop_at, kind)
        if guided:
            told.append(
                said("measured from its corner on the {side}" if cornered else "measured from the {side}", side=at)
            )
        else:
            at = said("corner on the {side}", side=at) if cornered else at
            told.append(said("measured from the {side}" if bored else TO_THE_BLOCK[block], side=at))
    elif set_up.operation in ("crosscut", "mitre"):
        told.append(translated("no stop: only cut clean"))
    if lay.swung:
        told.append(translated("gauge swung to the other side of square"))
    return "; ".join(told)


def is_scribed(set_up: SetUp) -> bool:
    """Whether an end is sawn off along a line scribed on the piece, which no stop is set for."""
    return set_up.operation == "mitre" and any(one.name == "length" for cut in set_up.cuts for one in cut.settings)


def _block(lay: Lay) -> str:
    """Whether a piece that is fed over a cutter touches the block behind it or the one before it."""
    return "rear" if lay.stop_at == rear_of(lay) else "front"


def _marked(set_up: SetUp, lay: Lay, kind: str) -> str:
    """How to mark out a cut made by hand: from which end, along or from which edge, which way it slants."""
    if corner := _corner(set_up, lay, kind) * (set_up.operation != "shoulder"):
        return corner
    told, edge = [said("cut the {side}", side=side(lay.worked, kind))], side(lay.against, kind)
    if set_up.operation in HELD:
        return f"{told[0]}; {said(HELD[set_up.operation], side=edge)}"
    across = set_up.operation in ("crosscut", *LEANING)
    end = side(lay.stop_at, kind) if lay.stop_at else ""
    if lay.stop_at in ("low", "high"):
        told.append(said("measured from its corner on the {side}", side=end))
    elif lay.stop_at:
        told.append(said("measured from the {side}[, along the {edge}]", side=end, edge=edge if across else ""))
    if is_scribed(set_up):
        return f"{told[0]}; {translated('along its scribed line')}"
    if across and not lay.stop_at:
        told.append(translated("only cut clean"))
    if not across:
        shouldered = set_up.operation in ("rebate", "shoulder")
        told.append(said("its shoulder from the {side}" if shouldered else "gauged from the {side}", side=edge))
    elif set_up.operation in LEANING and set_up.value("angle"):
        leans = "from the {edge} it leans back to the {end}" if end else "from the {edge} it leans into the piece"
        if any(lay in cut.lays and one.name == "beyond" for cut in set_up.cuts for one in cut.settings):
            leans = "from the {edge} it leans away from the {end}"
        told.append(said(leans, edge=edge, **({"end": end} if end else {})))
    return "; ".join(told)


def _corner(set_up: SetUp, lay: Lay, kind: str) -> str:
    """What is cut where two sides meet, "" where one alone is worked."""
    one, other = side(lay.worked, kind), side(lay.against, kind)
    return said(CORNERS[set_up.operation], one=one, other=other) if set_up.operation in CORNERS else ""


def all_lies(set_up: SetUp, cut: Cut, kinds: Mapping[str, str]) -> str:
    """How all pieces of a cut lie; parts that lie alike are told together."""
    ways: dict[str, list[str]] = {}
    for code in cut.codes:
        told = dict.fromkeys(lies(set_up, lay, kinds[code]) for lay in cut.lays if lay.code == code)
        ways.setdefault(translated(" THEN ").join(word for word in told if word), []).append(code)
    return " / ".join(f"{', '.join(codes)}: {way}" if len(ways) > 1 else way for way, codes in ways.items())


def pieces(*cuts: Cut) -> dict[str, int]:
    """How many pieces of each part pass through some cuts; a piece that lies several ways counts once."""
    found: dict[str, int] = {}
    for lay in (lay for cut in cuts for lay in cut.lays):
        found[lay.code] = max(lay.pieces, found.get(lay.code, 0))
    return found


def counted(set_up: SetUp, cuts: Sequence[Cut], kinds: Mapping[str, str]) -> str:
    """The pieces that pass through some cuts, `RIM-A x 4`; of slots in ends how many at either, `RIM-A: right end x
    4, left end x 2`, since some ends may wait."""
    if set_up.operation != "spline slot":
        return ", ".join(f"{code} x {count}" for code, count in pieces(*cuts).items())
    ends: dict[str, Counter[Side]] = {}
    for lay in (lay for cut in cuts for lay in cut.lays):
        ends.setdefault(lay.code, Counter())[lay.worked] += lay.pieces
    return "; ".join(
        f"{code}: {', '.join(f'{side(end, kinds[code])} x {count}' for end, count in found.items())}"
        for code, found in ends.items()
    )


def where(set_up: SetUp, cut: Cut, kinds: Mapping[str, str]) -> str:
    """In which faces it is made, of a tenon's narrow shoulders at which end; "" where nothing else is set for the
    same parts."""
    faced, ended = set_up.operation == "rebate", set_up.operation == "shoulder"
    if sum(one.codes == cut.codes for one in set_up.cuts if one.settings or faced) < 2 or not (cut.settings or faced):
        return ""
    sides = (side(lay.against if ended else lay.worked, kinds[lay.code]) for lay in cut.lays)
    return translated(" and ").join(dict.fromkeys(sides))


def times(cut: Cut) -> int:
    """How many times something is cut, all pieces and lays together."""
    return sum(lay.pieces for lay in cut.lays)


def number(setting: Setting) -> str:
    """A figure with its unit, short: `105.51 mm`, `22.5°`, `3`."""
    figure = setting.figure
    if figure.unit == "deg":
        return angle_words(figure.value)
    if not figure.unit:
        return str(round(figure.value))
    return f"{trimmed(figure.value, DIGITS.get(figure.unit, 3))} {figure.unit}"


def figure(setting: Setting, units: str) -> str:
    """A figure in the maker's own units: lengths of inch profiles as fractions, with thousandths besides."""
    if setting.figure.unit == "mm" and units == "in":
        fraction, error = inch_fraction(setting.figure.value)
        off = format_mm(abs(error) / float(MM_PER_INCH), 3)
        told = "{fraction} less {off} in" if error > 0 else "{fraction} and {off} in"
        return fraction if float(off) == 0 else said(told, fraction=fraction, off=off)
    return number(setting)


def name_of(set_up: SetUp, setting: Setting) -> str:
    """The name of a setting: as set on a machine, or as marked out for hand tools."""
    if set_up.way == "hand-held" and set_up.operation in FED:
        return _named(WITH_A_GUIDE.get(setting.name, setting.name))
    if not set_up.is_marked and not is_along_a_straightedge(set_up):
        return _named(setting.name)
    of_a_groove = OF_A_GROOVE if set_up.operation in FED else {}
    of_all = {"height": "depth", "stop": "at", "beyond": "at", **of_a_groove}.get(setting.name, setting.name)
    return _named(ON_THE_WOOD.get((set_up.operation, setting.name), of_all))


def is_along_a_straightedge(set_up: SetUp) -> bool:
    """Whether a router in the hand goes along a straightedge: its lines are marked on the wood."""
    return set_up.way == "hand-held" and set_up.operation in ACROSS


def _named(name: str) -> str:
    told = BLOCKS.get(name, name)
    return meant(told, TWO_MEANINGS.get(told, told))


def set_of(set_up: SetUp) -> tuple[Setting, ...]:
    """What is set: for work by hand neither a cutter nor its passes, on a mitre saw no gauge."""
    ungauged = "mitre saw" in set_up.needs or is_along_a_straightedge(set_up)
    unused = OF_A_MACHINE if set_up.is_marked else ("gauge",) if ungauged else ()
    if set_up.way == "by hand" and set_up.operation == "shoulder":
        unused += ("edge",)
    return tuple(one for one in set_up.settings if one.name not in unused)


def from_where(settings: Iterable[Setting]) -> str:
    """What each setting is measured from and to."""
    return "; ".join(f"{_named(one.name)}: {translated(one.says)}" for one in settings)


def checks(set_up: SetUp, inches: bool = False) -> str:
    """What is measured on the test piece, each with how far off it may be; for makers in inches in thousandths."""
    return "; ".join(
        f"{_whose(check)}{translated(check.measure)}{_wanted(check, inches)} ({_off(check, inches)})"
        for check in set_up.proof.checks
    )


def _off(check: Check, inches: bool) -> str:
    """How far off it may be: either way, or one way alone."""
    told = _bearing(check.tolerance, inches)
    return said("0 to +{off}", off=told) if check.one_way else f"±{told}"


def _whose(check: Check) -> str:
    """The pieces that it is measured on; many are told by what their codes begin with."""
    kinds = tuple(dict.fromkeys(code.partition("-")[0] for code in check.pieces))
    told = check.pieces if len(check.pieces) <= FEW else kinds
    return f"{', '.join(told)}: " if told else ""


FEW = 3
"""So many codes are told one by one."""


def _wanted(check: Check, inches: bool) -> str:
    """What should be found, where the measure has a figure of its own."""
    return f": {_bearing(check.wanted, inches)}" if check.wanted else ""


def _bearing(tolerance: Setting, inches: bool) -> str:
    if inches and tolerance.figure.unit == "mm":
        return figured(length_words(tolerance.figure.value, "in"))
    return figured(number(tolerance))


def explained_by(settings: Iterable[Setting]) -> str:
    """The quantities by which each setting is explained."""
    return "; ".join(f"{one.name} = {one.figure.quantity}" for one in settings)
