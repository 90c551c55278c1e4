"""From what stands in the file to exact quantities: bare numbers, sizes with units, arithmetic over keys."""

import math
from collections.abc import Callable, Mapping
from fractions import Fraction

from templategen.catalogue import fault_of, translated, worded
from templategen.errors import Fault, UnitError
from templategen.expression import Quantity, evaluate
from templategen.table.profile.keys import KEYS, SECTIONS
from templategen.table.profile.suggest import did_you_mean
from templategen.units import LARGEST_MM, MM_PER_INCH, is_amount, quoted

AUTO = "auto"
"""What a maker writes, or leaves out, where a size is to be reckoned."""

LONGEST_CHAIN = 10
WANTED = {"length": "a length", "angle": "an angle", "number": "a number", "count": "a whole number"}
_EXAMPLE = {
    "length": 'such as 45 or "45 mm"',
    "angle": 'such as "0.1 deg"',
    "number": "such as 1.5",
    "count": "such as 12",
}


class Resolver:
    """Works out keys on demand, each once, following references; not thread-safe.

    `units_of` gives the units of bare numbers where a key stands, which a workshop file has of its own.
    """

    def __init__(self, sections: Mapping[str, Mapping[str, object]], units_of: Callable[[str], str]) -> None:
        self._sections = sections
        self.units_of = units_of
        self._known: dict[str, Quantity | UnitError] = {}
        self._open: list[str] = []

    def quantity(self, path: str) -> Quantity:
        """The value, or default, of a number key (`slats.gap`) or of the maker's own (`values.board`).

        Raises: UnitError with the `where` of the key at fault, which may be one that this one leans on.
        """
        section, _, name = path.partition(".")
        kind = "length" if section == "values" else KEYS[path].kind
        if path not in self._known:
            written = self._sections.get(section, {})
            try:
                self._known[path] = (
                    self.read(path, written[name], kind)
                    if name in written and not (kind == "length" and is_auto(written[name]))
                    else default_quantity(path, self.units_of(path))
                )
            except UnitError as problem:
                self._known[path] = problem
                raise
        known = self._known[path]
        if isinstance(known, UnitError):
            raise known
        return known

    def read(self, path: str, raw: object, kind: str) -> Quantity:
        """What `raw`, written at `path`, comes to as a `kind`.

        Raises: UnitError with the `where` of the key at fault.
        """
        self._open.append(path)
        try:
            units = self.units_of(path)
            found = self._raw(raw, kind, units)
            # The maker's own values may be anything; keys want one kind.
            return found if path.startswith("values.") else _wanted(found, raw, kind, units)
        except UnitError as problem:
            raise UnitError(
                fault if fault.where else Fault(path, fault.found, fault.remedy) for fault in problem.faults
            ) from None
        finally:
            self._open.pop()

    def _raw(self, raw: object, kind: str, units: str) -> Quantity:
        if isinstance(raw, bool) or not isinstance(raw, (int, float, str)):
            raise UnitError(
                fault_of(
                    "",
                    "{raw} stands here",
                    "{wanted} is wanted, {example}",
                    raw=described(raw),
                    wanted=translated(WANTED[kind]),
                    example=translated(_EXAMPLE[kind]),
                )
            )
        if isinstance(raw, str):
            return evaluate(raw, units, self._reference)
        return _bare(raw, kind, units)

    def _reference(self, name: str) -> Quantity:
        section, _, key = name.partition(".")
        written = self._sections.get(section, {})
        if section == "values" and key not in written:
            raise UnitError(
                Fault(
                    "",
                    worded("{name} is not set", name=name),
                    did_you_mean(key, list(written), "values.") or translated("set it under [values]"),
                )
            )
        if section != "values":
            _refuse_no_number(name)
        if name in self._open:
            chain = [*self._open[self._open.index(name) :], name]
            raise UnitError(
                fault_of(
                    name, "goes round in a circle: {chain}", "give one of them a plain size", chain=" -> ".join(chain)
                )
            )
        if len(self._open) > LONGEST_CHAIN:
            raise UnitError(
                fault_of(
                    "",
                    "leans on more than {most} keys in a row",
                    "give one of them a plain size",
                    most=LONGEST_CHAIN,
                )
            )
        return self.quantity(name)


def is_auto(raw: object) -> bool:
    """Whether a maker leaves a size to us."""
    return isinstance(raw, str) and raw.strip().casefold() == AUTO


def default_quantity(path: str, units: str) -> Quantity:
    """The default of a number key where sizes are counted in `units`.

    Raises: UnitError for one that has none but is reckoned from the finished table.
    """
    key = KEYS[path]
    if key.default is None:
        found = translated("is reckoned from the wood and the year, so arithmetic can't lean on it")
        raise UnitError(
            Fault(path, found, translated("give it a size, or name a size in [values] and use it in both places"))
        )
    amount = key.clean_inches if units == "in" else None
    return Quantity(amount or Fraction(repr(key.default)), "number" if key.kind == "count" else key.kind)


def described(raw: object) -> str:
    """What was written, in a few words, for a message."""
    if isinstance(raw, bool):
        return "true" if raw else "false"
    if isinstance(raw, str):
        return quoted(raw)
    if isinstance(raw, (int, float)):
        # Whole numbers too long to print in decimals exist in TOML as hexadecimal.
        return (
            f"{raw:g}" if isinstance(raw, float) else str(raw) if abs(raw) < 10**15 else translated("a huge number")
        )
    return translated("a table" if isinstance(raw, dict) else "a list" if isinstance(raw, list) else "a date or time")


def _bare(raw: float, kind: str, units: str) -> Quantity:
    if isinstance(raw, float) and not math.isfinite(raw):
        raise UnitError(fault_of("", "{raw} is no size", "write a number", raw=raw))
    if abs(raw) > LARGEST_MM * 1000:
        raise UnitError(fault_of("", "{raw} is far too large", "check the number", raw=described(raw)))
    amount = Fraction(raw) if isinstance(raw, int) else Fraction(repr(raw))
    if kind == "length" and units == "in":
        amount *= MM_PER_INCH
    return Quantity(amount, "number" if kind == "count" else kind)


def _wanted(found: Quantity, raw: object, kind: str, units: str) -> Quantity:
    named, kind = translated(WANTED[kind]), "number" if kind == "count" else kind
    if found.kind == kind:
        return found
    remedy = worded("write {named}, {example}", named=named, example=translated(_EXAMPLE[kind]))
    if found.kind == "number":
        unit = units if kind == "length" else "deg"
        amount = raw.strip() if isinstance(raw, str) and is_amount(raw) else f"{float(found.amount):g}"
        remedy = worded('add the unit, such as "{amount} {unit}", or leave the quotes out', amount=amount, unit=unit)
    elif kind == "number":
        remedy = translated(
            'write a plain number; one of your own in [values] is plain when it stands in quotes, as "6"'
        )
    both = worded(
        "{raw} is {wanted}, and {named} is wanted",
        raw=described(raw),
        wanted=translated(WANTED[found.kind]),
        named=named,
    )
    raise UnitError(Fault("", both, remedy))


def _refuse_no_number(name: str) -> None:
    """Turns away references to what holds no single number."""
    section, _, key = name.partition(".")
    if section in ("stock", "woods", "measured"):
        raise UnitError(
            fault_of(
                "",
                "{name} can't be used in arithmetic, there may be several",
                "name the size in [values] and use it in both places",
                name=name,
            )
        )
    if section not in SECTIONS:
        raise UnitError(
            Fault(
                "",
                worded("{name} is not known", name=name),
                did_you_mean(section, ["values", *SECTIONS], "", f".{key}"),
            )
        )
    if name not in KEYS:
        raise UnitError(
            Fault(
                "",
                worded("{name} is not known", name=name),
                did_you_mean(key, [k.name for k in SECTIONS[section]], f"{section}."),
            )
        )
    if KEYS[name].kind == "list":
        raise UnitError(
            fault_of(
                "",
                "{name} is a list, and arithmetic wants one size",
                "name the size in [values] and use it in both places",
                name=name,
            )
        )
    if KEYS[name].kind not in WANTED:
        raise UnitError(fault_of("", "{name} is a word, not a number", "use a key that holds a size", name=name))
