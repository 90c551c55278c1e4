"""A commented profile to start from, written out of the table of keys so that it can't drift from it."""

from templategen.table.profile import keys
from templategen.table.profile.key import METRIC, Key
from templategen.table.profile.resolve import AUTO
from templategen.table.profile.workshop import SECTIONS
from templategen.units import show_length, trimmed

_WIDEST = 28
_EXAMPLES = {
    "stock.name": '"larch boards"',
    "stock.wood": '"european larch"',
    "stock.count": "6",
    "stock.faults": "[[600, 40, 60]]",
    "stock.fault_areas": "[[900, 0, 80, 45]]",
    "stock.mode": '"sawn"',
    "woods.radial": "3.3",
    "woods.tangential": "7.8",
}
_ABOUT = """\
# Every key below stands at its default, so any line may be left out; only format must stay.
# A bare number is in the units set here. In quotes a size has its own unit ("45 mm", "1-3/4 in", "2 ft 3 in")
# or is arithmetic over other keys and your own values: "joints.groove_depth - 1 mm", "values.board / 2",
# with + - * / ( ) min max round.
"""
_VALUES = """
# Your own named sizes, free to use in arithmetic. A bare number is a length; in quotes it is a plain number.
[values]
# board = 38
# guests = "6"
"""


OWN_SHOP = "own"
"""In place of a workshop file's name: the maker's own, which needn't be named."""


def starter_text(name: str, units: str = "mm", shop: str = "") -> str:
    """The text of a profile in which every key stands at its default, titled `name`; with a workshop file (`shop`)
    without what that says.

    In a profile that counts in inches a length's default is a clean inch size.
    """
    sections = "".join(_section(one, units) for one in keys.SECTIONS if not shop or one not in SECTIONS)
    lists = _lists(units) if not shop else "\n# Tools, stock, printers and rates: see your workshop file.\n"
    named = f"shop = {_quoted(shop)}\n" if shop not in ("", OWN_SHOP) else ""
    return f"format = {keys.FORMAT}\n{_head(name, units)}{named}\n{_ABOUT}{_VALUES}{sections}{lists}"


def workshop_text(units: str = "mm") -> str:
    """The text of a workshop file in which every key stands at its default."""
    unit = keys.HEAD[1]
    head = f"format = {keys.FORMAT}\n{_line(unit.name, _quoted(units), unit.told)}"
    sections = "".join(_section(section, units) for section in SECTIONS)
    return f"# A workshop file: what is the shop's, for every table.\n{head}\n{_ABOUT}{sections}{_lists(units)}"


def _head(name: str, units: str) -> str:
    title, unit, wood = keys.HEAD
    rows = ((title, _plain(name) or title.default), (unit, units), (wood, wood.default))
    return "".join(_line(key.name, _quoted(str(value)), key.told) for key, value in rows)


def _section(section: str, units: str) -> str:
    lines = (_line(key.name, _value(key, units), _doc(key)) for key in keys.SECTIONS[section])
    return f"\n# {section}: {keys.HEADINGS[section]}\n[{section}]\n{''.join(lines)}"


def _lists(units: str) -> str:
    """The parts that have no default: shown, and commented out."""
    stock = "".join(f"# {_line(key.name, _example(key, units), key.told)}" for key in keys.STOCK)
    woods = "".join(f"# {_line(key.name, _example(key, units), key.told)}" for key in keys.WOODS)
    return (
        f"\n# Boards, sheets and rolls you have or may buy; as many as you like.\n# [[stock]]\n{stock}"
        f'\n# A wood of your own, for wood = "my larch".\n# [woods."my larch"]\n{woods}'
    )


def _example(key: Key, units: str) -> str:
    """What a commented line shows: the default, or an example where leaving the key out says something."""
    return _EXAMPLES.get(key.path) or _value(key, units)


def _value(key: Key, units: str) -> str:
    if key.kind == "words":
        return f"[{', '.join(map(_quoted, key.choices))}]"
    if key.name in METRIC and units == "in":
        return f"[{', '.join(_quoted(_value(part, 'mm') + ' mm') for part in key.parts)}]"
    if key.kind == "list":
        return f"[{', '.join(_value(part, units) for part in key.parts)}]"
    if key.kind in ("rows", "lines"):
        return "[]"
    if isinstance(key.default, str):
        return _quoted(str(key.default_in(units)))
    if key.default is None and key.section in keys.SECTIONS:
        return _quoted(AUTO)
    number = trimmed(float(key.default), 6) if isinstance(key.default, (int, float)) else "0"
    if key.kind == "angle":
        return f'"{number} deg"'
    if key.kind == "length" and units == "in" and key.default:
        clean = key.clean_inches
        return _quoted(f"{number} mm" if clean is None else show_length(clean, units))
    return number


def _doc(key: Key) -> str:
    choices = f"{', '.join(key.choices)}: " if key.choices and key.kind != "words" else ""
    return f"{choices}{key.told}"


def _line(name: str, value: str, doc: str) -> str:
    return f"{f'{name} = {value}':<{_WIDEST}} # {doc}\n"


def _plain(name: str) -> str:
    """A name as a title may be written."""
    return "".join(sign if sign.isprintable() else " " for sign in name).strip()[: keys.LONGEST_TITLE].strip()


def _quoted(text: str) -> str:
    """A TOML text that nothing in it can end early."""
    escaped = text.replace("\\", "\\\\").replace('"', '\\"')
    return f'"{escaped}"'
