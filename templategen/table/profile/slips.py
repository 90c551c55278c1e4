"""What a maker most likely meant by a line that is not TOML: the slip by name, and the line as it would do."""

import re
from collections.abc import Iterator

from templategen.catalogue import translated, worded
from templategen.errors import UnitError
from templategen.table.profile.key import NUMBERS
from templategen.table.profile.keys import KEYS, SECTIONS
from templategen.units import is_amount, parse_angle, parse_length

Slip = tuple[str, str]
"""What was found, and what to write instead."""

LISTED = ("stock", "measured")
"""Sections of which a file has several."""

_CURLY = str.maketrans(dict.fromkeys("\u201c\u201d\u201e\u201f\u00ab\u00bb\u2033\u2018\u2019\u201a", '"'))
_WORDS_OF_TRUTH = {"yes": "true", "on": "true", "true": "true", "no": "false", "off": "false", "false": "false"}


def slip_in(text: str, line: int, reason: str) -> Slip | None:
    """The slip on a line (counted from 1) that the TOML reader refused for `reason`; None where it is none of those
    that are common."""
    lines = text.split("\n")
    if (found := _unclosed(lines[: line or None], reason)) or not 1 <= line <= len(lines):
        return found
    written = lines[line - 1].strip()
    if "twice" in reason or "overwrite" in reason:
        return _twice(lines, line, written)
    if written.startswith("["):
        return _header(written)
    key, sign, value = (part.strip() for part in written.partition("="))
    if not sign:
        return _no_sign(written)
    if re.fullmatch(r"\w+(\s+\w+)+", key):
        return translated("there is a space in the key"), worded(
            "write {key} = {value}", key=re.sub("[ \t]+", "_", key), value=value
        )
    found = _number_wanted(key, _uncommented(value)) or _value(_uncommented(value))
    return found and (found[0], worded("write {key} = {value}", key=key, value=found[1]))


def _unclosed(lines: list[str], reason: str) -> Slip | None:
    """A list or a quote that is opened and never closed: the reader stumbles over what comes after it."""
    quote = re.search(r"expected \"?'\"?$", reason, re.IGNORECASE)
    if not quote and "array" not in reason:
        return None
    for number in range(len(lines), 0, -1):
        key, _, value = (part.strip() for part in lines[number - 1].partition("="))
        value = _uncommented(value)
        if quote and value.startswith("'") and value.count("'") == 1:
            return translated("a quote is missing"), worded("write {key} = {value}", key=key, value=f'"{value[1:]}"')
        if not quote and value.startswith("[") and value.count("[") > value.count("]"):
            found = worded("the list that begins on line {line} isn't closed", line=number)
            whole = value + "]" * (value.count("[") - value.count("]"))
            alone = worded("write {key} = {value}", key=key, value=whole)
            return found, alone if re.fullmatch(r".*[\d\]\"']", value) else translated("write ] at its end")
    return None


def _number_wanted(key: str, value: str) -> Slip | None:
    """Nothing, or a word, where a number is wanted."""
    known = [one for one in KEYS.values() if one.name == key]
    if not value:
        return translated("no value stands behind ="), translated("... with a value, or leave the line out")
    if known and all(one.kind in NUMBERS for one in known) and re.fullmatch(r"(?!auto$)[A-Za-z][A-Za-z ]*", value):
        return translated("words stand here where a number is wanted"), worded(
            "{number}, or another number", number=known[0].default
        )
    return None


def _section(name: str) -> Slip | None:
    """A section that is written otherwise than in brackets."""
    if name not in (*SECTIONS, "values", "woods", *LISTED):
        return None
    header = f"[[{name}]]" if name in LISTED else f"[{name}]"
    return translated("a section stands here without its brackets"), worded("write {header}", header=header)


def _no_sign(written: str) -> Slip | None:
    """A line without =, which may be a section, or have a colon or nothing at all in its place."""
    key, sign, value = (part.strip() for part in _uncommented(written).partition(":"))
    if not value and (section := _section(key.strip("(){}<> "))):
        return section
    if sign and key:
        return translated("a colon stands where = is wanted"), worded(
            "write {key} = {value}", key=key, value=_mended(value)
        )
    key, sign, value = written.partition(" ")
    found = worded("write {key} = {value}", key=key, value=_mended(_uncommented(value.strip())))
    return (
        (translated("there is no = between key and value"), found) if sign and re.fullmatch(r"[a-z_]+", key) else None
    )


def _twice(lines: list[str], line: int, written: str) -> Slip | None:
    """A section or key that stands there already."""
    if written.startswith("["):
        name = written.strip("[] ")
        first = next((n for n, other in enumerate(lines, 1) if other.strip().startswith(f"[{name}]")), 0)
        if name in LISTED:
            return worded("[{name}] stands here for one of several", name=name), worded(
                "write [[{name}]] with two brackets, once for each", name=name
            )
        what = worded("the section [{name}] stands here again", name=name)
        what += worded(", it began on line {first}", first=first) if first < line else ""
        return what, worded("put all its keys under one [{name}]", name=name)
    key = written.partition("=")[0].strip()
    for number in range(line - 1, 0, -1):
        other = lines[number - 1].strip()
        if other.startswith("["):
            break
        if other.partition("=")[0].strip() == key:
            return worded("{key} stands here again, it is set on line {number}", key=key, number=number), translated(
                "leave one of the two out"
            )
    return None


def _header(written: str) -> Slip | None:
    several = re.findall(r"\[[\w.]+\]", written)
    if len(several) > 1 and "#" not in written and not written.startswith("[["):
        return translated("several sections stand on one line"), translated("write each on a line of its own")
    opened = re.fullmatch(r"(\[{1,2})\s*([\w.]+)\s*\]*\s*(#.*)?", written)
    if opened is None:
        return None
    return translated("a bracket of the section is missing"), worded(
        "write {header}", header=f"{opened[1]}{opened[2]}{']' * len(opened[1])}"
    )


def _uncommented(value: str) -> str:
    """A value without the remark behind it."""
    return re.sub(r"\s+#.*$", "", value)


def _value(value: str) -> Slip | None:
    """What is wrong with a value, and how it is written; the first slip that it shows."""
    return next(_slips(value), None)


def _mended(value: str) -> str:
    """A value as it is written where it shows a slip, or as it stands."""
    found = None if re.fullmatch(r'-?\d+(\.\d+)?|true|false|"[^"]*"|\[.*\]', value) else _value(value)
    return found[1] if found else value


def _slips(value: str) -> Iterator[Slip]:
    feet = re.fullmatch(r"(\d+)\s*['\u2032\u2019]\s*(?:([\d/ -]*\d)\s*[\"\u2033\u201d]?)?", value)
    if feet:
        inches = f" {feet[2]} in" if feet[2] else ""
        yield translated("feet and inches stand here as signs"), f'"{feet[1]} ft{inches}"'
    plain = value.translate(_CURLY)
    if plain != value:
        bare = plain.strip('"')
        yield translated("curly quotes stand here"), bare if re.fullmatch(r"-?\d+(\.\d+)?", bare) else plain
    coin = re.fullmatch(
        r"(?:[A-Z]{3}|[$\u20ac\u00a3\u00a5])?\s*(\d+(?:\.\d+)?)\s*(?:[A-Z]{3}|[$\u20ac\u00a3\u00a5])?", value
    )
    if coin and coin[1] != value:
        yield translated("a price is a number alone"), coin[1]
    bare, slashes, remark = value.partition("//")
    if slashes and '"' not in value:
        yield translated("a remark begins with # here"), f"{_mended(bare.strip())}  # {remark.strip()}"
    if value.endswith(";"):
        yield translated("a semicolon stands at the end of the line"), _mended(value.rstrip("; "))
    if re.fullmatch(r"-?\d+(\.\d+)?\s*%", value):
        yield translated("a percent sign stands here"), value.rstrip("% ")
    if value.lower() in _WORDS_OF_TRUTH and value not in ("true", "false"):
        yield worded("{value} stands here bare", value=value), _WORDS_OF_TRUTH[value.lower()]
    comma = re.fullmatch(r"(\d+),(\d+)( ?[a-z]*)", value)
    if comma:
        whole = f"{comma[1]}.{comma[2]}{comma[3]}"
        grouped = ""
        if len(comma[2]) == 3:
            grouped = worded(", or {whole} if the comma parts thousands", whole=comma[1] + comma[2])
        yield (
            translated("a comma stands in a number, and decimals take a point"),
            (f'"{whole}"' if comma[3] else whole) + grouped,
        )
    if is_amount(value):
        yield translated("a fraction stands here without quotes and unit"), f'"{value} in"'
    with_unit = re.sub(r"\s*(\u201d|\u2033|\")$", " in", value).replace("\u00b0", " deg")
    if _is_size(with_unit):
        yield translated("a size with its unit stands here without quotes"), f'"{with_unit}"'
    if re.fullmatch(r'"[^"]*', value) or re.fullmatch(r'[^"]+"', value):
        yield translated("a quote is missing"), '"' + value.strip('"') + '"'
    if re.fullmatch(r"[A-Za-z][\w -]*", value):
        yield translated("words stand here without quotes"), f'"{value}"'
    if re.fullmatch(r"[\w. ()+*/-]+", value):
        yield (
            translated("arithmetic stands here without quotes"),
            worded('"{value}", each length with its unit, such as "2 * 670 mm"', value=value),
        )


def _is_size(text: str) -> bool:
    for read in (parse_length, parse_angle):
        try:
            read(text)
        except UnitError:
            continue
        return True
    return False
