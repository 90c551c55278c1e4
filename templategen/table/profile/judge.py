"""Single values against the table of keys: kind, range and the nearest value that would do."""

import math
import unicodedata
from collections.abc import Iterator, Sequence
from fractions import Fraction

from templategen.catalogue import fault_of, translated, worded
from templategen.errors import Fault, ProfileError
from templategen.expression import Quantity
from templategen.table.profile.choices import unbuilt
from templategen.table.profile.key import Key
from templategen.table.profile.resolve import described
from templategen.table.profile.suggest import did_you_mean, nearest
from templategen.units import MM_PER_INCH, show_length, trimmed

# Signs that turn the reading direction round: they can make a sheet say something else than the file does.
_TURNING = frozenset("\u061c\u200e\u200f\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069")


def ranged(key: Key, where: str, found: Quantity, raw: object, units: str) -> float:
    """The value of a number key as the model holds it: mm, radians or plain.

    Raises: ProfileError out of range, or for a count that is not whole.
    """
    amount = found.amount
    low, high = Fraction(repr(key.low)), Fraction(repr(key.high))
    shown = _written(key, raw, amount, units)
    if not low <= amount <= high:
        limits = worded(
            "{least} to {most}", least=_limit(key, low, True, units), most=_limit(key, high, False, units)
        )
        near = _limit(key, low, True, units) if amount < low else _limit(key, high, False, units)
        why = worded(", since {why}", why=translated(key.why)) if key.why else ""
        raise ProfileError(
            Fault(
                where,
                shown,
                worded(
                    "{limits} is allowed{why}; try {near}{other_unit}",
                    limits=limits,
                    why=why,
                    near=near,
                    other_unit=_other_unit(key, raw, amount, units),
                ),
            )
        )
    if key.kind == "count" and amount.denominator != 1:
        raise ProfileError(
            fault_of(where, "{shown} is not a whole number", "try {amount}", shown=shown, amount=round(amount))
        )
    return math.radians(float(amount)) if key.kind == "angle" else float(amount)


def chosen(key: Key, where: str, raw: object) -> str:
    """The choice that was written, in the spelling of the table of keys.

    Raises: ProfileError for any other word.
    """
    offered = translated(" or ").join(f'"{name}"' for name in key.choices)
    if not isinstance(raw, str):
        raise ProfileError(
            fault_of(where, "{raw} stands here", "{offered} is wanted", raw=described(raw), offered=offered)
        )
    for name in key.choices:
        if name.casefold() == raw.strip().casefold():
            return name
    if why := unbuilt(key.path, raw):
        raise ProfileError(Fault(where, why, worded("{offered} is wanted", offered=offered)))
    meant = did_you_mean(raw, key.choices) if len(key.choices) > 2 else ""
    remedy = worded("{offered} is wanted", offered=offered) + (
        f"; {meant}" if meant and nearest(raw, key.choices) else ""
    )
    raise ProfileError(Fault(where, worded("{raw} is not known here", raw=described(raw)), remedy))


def plain_text(where: str, raw: object, longest: int) -> str:
    """Text that can stand on a sheet: one line, not too long, without signs that can't be seen.

    Raises: ProfileError.
    """
    if not isinstance(raw, str):
        raise ProfileError(
            fault_of(where, "{raw} stands here", 'text in quotes is wanted, such as "terrace"', raw=described(raw))
        )
    for sign in raw:
        if unicodedata.category(sign) in ("Cc", "Cs", "Zl", "Zp") or sign in _TURNING:
            found = worded("holds the control character U+{sign:04X}", sign=ord(sign))
            raise ProfileError(Fault(where, found, translated("write it in plain text on one line")))
    if len(raw) > longest:
        raise ProfileError(
            fault_of(
                where,
                "{raw} has {count} characters",
                "{longest} fit on a sheet",
                raw=described(raw),
                count=len(raw),
                longest=longest,
            )
        )
    if not raw.strip():
        raise ProfileError(fault_of(where, "nothing is written here", "write a few words, or leave the key out"))
    return raw.strip()


def unknown_keys(section: str, names: Sequence[str], known: Sequence[str], homes: Sequence[str]) -> Iterator[Fault]:
    """A fault for each name that the section does not know; `homes` are the full paths of all keys."""
    return (_unknown(section, name, known, homes) for name in names if name not in known)


def _unknown(section: str, name: str, known: Sequence[str], homes: Sequence[str]) -> Fault:
    where = f"{section}.{name}" if section else name
    home = next((path for path in homes if path.partition(".")[2] == name), "")
    remedy = did_you_mean(name, known)
    if home and not nearest(name, known):
        remedy = worded("{name} belongs under [{home}]", name=name, home=home.partition(".")[0])
    return Fault(where, translated("is not known"), remedy)


def _written(key: Key, raw: object, amount: Fraction, units: str) -> str:
    """What was found: the bare number with its unit, or the maker's own words and what they come to."""
    if not isinstance(raw, str):
        return _shown(key, amount, units)
    return worded("{written} is {size}", written=described(raw), size=_shown(key, amount, units))


def _other_unit(key: Key, raw: object, amount: Fraction, units: str) -> str:
    """What to write where a bare number would do in the other unit, or as metres or thousands."""
    if key.kind != "length" or isinstance(raw, str):
        return ""
    thousandfold = amount * 1000
    if units == "mm" and amount.denominator != 1 and key.low <= thousandfold <= key.high:
        return worded(
            ", or {size} mm if metres are meant or the point parts thousands", size=trimmed(float(thousandfold), 6)
        )
    other, meant = ("mm", amount / MM_PER_INCH) if units == "in" else ("in", amount * MM_PER_INCH)
    if not Fraction(repr(key.low)) <= meant <= Fraction(repr(key.high)):
        return ""
    return worded(
        ', or, if {unit} are meant, "{raw} {other}" (units = "{other}" for all sizes)',
        unit=translated("inches") if other == "in" else "mm",
        raw=raw,
        other=other,
    )


def _shown(key: Key, amount: Fraction, units: str) -> str:
    if key.kind == "length":
        return show_length(amount, units)
    return trimmed(float(amount), 6) + (" deg" if key.kind == "angle" else "")


def _limit(key: Key, limit: Fraction, low: bool, units: str) -> str:
    """A limit that may itself be written: in inches rounded inward, to a 64th or a thousandth."""
    if key.kind != "length" or units != "in":
        return _shown(key, limit, units)
    step = MM_PER_INCH / (64 if limit >= MM_PER_INCH / 8 else 1000)
    steps = math.ceil(limit / step) if low else math.floor(limit / step)
    return show_length(steps * step, units)
