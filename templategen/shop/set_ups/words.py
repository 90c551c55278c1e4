"""Set-ups in words: how a piece lies, what is set from where, what is measured."""

from collections.abc import Iterable, Mapping

from templategen.shop.set_ups.set_up import Check, Cut, Lay, Setting, SettingName, SetUp
from templategen.units import MM_PER_INCH, angle_words, format_mm, inch_fraction, length_words, trimmed

SIDES = {
    "top": "top",
    "bottom": "underside",
    "low": "lower edge",
    "high": "upper edge",
    "left": "left end",
    "right": "right end",
}
"""As the part's drawing lies."""

RIM_SIDES = {**SIDES, "low": "inner edge", "high": "outer edge"}

NTH = {"1": "first", "2": "second", "3": "third", "4": "fourth", "5": "fifth", "6": "sixth"}

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
    ("spline slot", "fence"): "from the face", ("relief", "fence"): "left",
}  # fmt: skip
"""What a setting is called where it is marked on the wood, by operation; for all others see `name_of`."""

LEANING = ("mitre", "lap", "nib")
"""Cuts across a piece that may stand off square."""


def side(name: str, kind: str = "") -> str:
    """A face, edge or end in words; the cuts of an end with several are counted from below."""
    sides = RIM_SIDES if kind == "rim-segment" else SIDES
    base, _, number = name.partition("-")
    return f"{NTH.get(number, f'{number}th')} edge from below of the {sides[base]}" if number else sides[base]


def lies(set_up: SetUp, lay: Lay, kind: str = "") -> str:
    """How a piece lies, short: `cut the right end; underside up; outer edge to the fence; left end to the stop`."""
    if set_up.operation in HEIGHTS:
        return ""
    if set_up.operation in IN_THE_RING and kind == "spline":
        return "glued in: cut with the ring, never by itself"
    if set_up.way == "by hand" and set_up.operation not in IN_THE_RING:
        return _marked(set_up, lay, kind)
    told = [_corner(set_up, lay, kind) or f"cut the {side(lay.worked, kind)}"]
    if set_up.operation == "shoulder":
        return f"{told[0]}; lying on a face"
    if set_up.operation == "saw round" and set_up.does:
        return told[0]  # the way says how the ring lies
    if lay.up != lay.worked:
        told.append(f"{side(lay.up, kind)} up")
    if not _corner(set_up, lay, kind):
        told.append(f"{side(lay.against, kind)} {_held(set_up)}")
    if lay.stop_at:
        at = "corner on the " + side(lay.stop_at, kind) if lay.stop_at in ("low", "high") else side(lay.stop_at, kind)
        told.append(f"{at} to the stop" if set_up.operation != "bore" else f"measured from the {at}")
    elif set_up.operation in ("crosscut", "mitre"):
        told.append("no stop: only cut clean")
    if lay.swung:
        told.append("gauge swung to the other side of square")
    return "; ".join(told)


def _marked(set_up: SetUp, lay: Lay, kind: str) -> str:
    """How to mark out a cut made by hand: from which end, along or from which edge, which way it slants."""
    if corner := _corner(set_up, lay, kind) * (set_up.operation != "shoulder"):
        return corner
    told, edge = [f"cut the {side(lay.worked, kind)}"], side(lay.against, kind)
    held = _held(set_up)
    if held != "to the fence":
        return f"{told[0]}; {edge} {held}"
    across = set_up.operation in ("crosscut", *LEANING)
    if lay.stop_at in ("low", "high"):
        told.append(f"measured from its corner on the {side(lay.stop_at, kind)}")
    elif lay.stop_at:
        told.append(f"measured from the {side(lay.stop_at, kind)}{f', along the {edge}' if across else ''}")
    if across and not lay.stop_at:
        told.append("only cut clean")
    if not across:
        told.append(f"{'its shoulder ' if set_up.operation in ('rebate', 'shoulder') else 'gauged '}from the {edge}")
    elif set_up.operation in LEANING and set_up.value("angle"):
        back = f"back to the {side(lay.stop_at, kind)}" if lay.stop_at else "into the piece"
        told.append(f"from the {edge} it leans {back}")
    return "; ".join(told)


def _held(set_up: SetUp) -> str:
    match set_up.operation:
        case "saw round" | "trim":
            return "down"
        case "drip groove":
            return "is the one the guide runs on"
    return "to the fence"


def _corner(set_up: SetUp, lay: Lay, kind: str) -> str:
    """What is cut where two sides meet, "" where one alone is worked."""
    both = f"{side(lay.worked, kind)} and {side(lay.against, kind)}"
    match set_up.operation:
        case "round-over" | "chamfer" | "bead" | "edge round-over":
            return f"ease the arris between {both}"
        case "round corner":
            return f"round the corner of {both}"
        case "shoulder":
            return f"saw out the corner of {both}"
    return ""


def all_lies(set_up: SetUp, cut: Cut, kinds: Mapping[str, str]) -> str:
    """How all pieces of a cut lie; parts that lie alike are told together."""
    ways: dict[str, list[str]] = {}
    for code in cut.codes:
        told = dict.fromkeys(lies(set_up, lay, kinds[code]) for lay in cut.lays if lay.code == code)
        ways.setdefault(" THEN ".join(word for word in told if word), []).append(code)
    return " / ".join(f"{', '.join(codes)}: {way}" if len(ways) > 1 else way for way, codes in ways.items())


def pieces(*cuts: Cut) -> dict[str, int]:
    """How many pieces of each part pass through some cuts; a piece that lies several ways counts once."""
    found: dict[str, int] = {}
    for lay in (lay for cut in cuts for lay in cut.lays):
        found[lay.code] = max(lay.pieces, found.get(lay.code, 0))
    return found


def where(set_up: SetUp, cut: Cut, kinds: Mapping[str, str]) -> str:
    """In which faces it is made, "" where nothing else is set for the same parts."""
    if sum(one.codes == cut.codes for one in set_up.cuts if one.settings) < 2 or not cut.settings:
        return ""
    return " and ".join(dict.fromkeys(side(lay.worked, kinds[lay.code]) for lay in cut.lays))


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
        return fraction if float(off) == 0 else f"{fraction} {'less' if error > 0 else 'and'} {off} in"
    return number(setting)


def name_of(set_up: SetUp, setting: Setting) -> str:
    """The name of a setting: as set on a machine, or as marked out for hand tools."""
    if set_up.way != "by hand":
        return setting.name
    of_all = {"height": "depth", "stop": "at"}.get(setting.name, setting.name)
    return ON_THE_WOOD.get((set_up.operation, setting.name), of_all)


def set_of(set_up: SetUp) -> tuple[Setting, ...]:
    """What is set: for work by hand neither a cutter nor its passes, on a mitre saw no gauge."""
    unused = OF_A_MACHINE if set_up.way == "by hand" else ("gauge",) if "mitre saw" in set_up.needs else ()
    return tuple(one for one in set_up.settings if one.name not in unused)


def from_where(settings: Iterable[Setting]) -> str:
    """What each setting is measured from and to."""
    return "; ".join(f"{one.name}: {one.says}" for one in settings)


def checks(set_up: SetUp, inches: bool = False) -> str:
    """What is measured on the test piece, each with how far off it may be; for makers in inches in thousandths."""
    return "; ".join(
        f"{check.measure}{_wanted(check, inches)} (±{_bearing(check.tolerance, inches)})"
        for check in set_up.proof.checks
    )


def _wanted(check: Check, inches: bool) -> str:
    """What should be found, where the measure has a figure of its own."""
    return f": {_bearing(check.wanted, inches)}" if check.wanted else ""


def _bearing(tolerance: Setting, inches: bool) -> str:
    if inches and tolerance.figure.unit == "mm":
        return length_words(tolerance.figure.value, "in")
    return number(tolerance)


def explained_by(settings: Iterable[Setting]) -> str:
    """The quantities by which each setting is explained."""
    return "; ".join(f"{one.name} = {one.figure.quantity}" for one in settings)
