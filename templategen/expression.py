"""Arithmetic in a profile: sizes, other keys by name, + - * / and min, max, round; nothing else is ever run.

The text is parsed, never executed; every value is an exact fraction with its kind, so that a length plus a
plain number is refused instead of guessed.
"""

import ast
import math
import re
import string
import warnings
from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction
from unicodedata import normalize

from templategen.catalogue import fault_of, translated, worded
from templategen.errors import UnitError
from templategen.units import (
    LARGEST_MM,
    LONGEST_TEXT,
    MM_PER_INCH,
    literals,
    quoted,
    read_literal,
    refuse_decimal_comma,
)

DEEPEST = 24
LARGEST_NUMBER = 1_000_000_000
MOST_BITS = 512
_ALLOWED = frozenset(string.ascii_letters + string.digits + "_ \t\n.,()+-*/")
_A = {"length": "a length", "angle": "an angle", "number": "a plain number"}

SPELT_OUT = {
    "\u00b0": 'write degrees out, such as "15 deg"',
    "'": 'write feet and inches out, such as "4 ft 6 in"',
    "\u2032": 'write feet and inches out, such as "4 ft 6 in"',
    '"': 'write inches out, such as "4-1/2 in"',
    "\u2033": 'write inches out, such as "4-1/2 in"',
    "\u00d7": "write * for times",
    "\u00b7": "write * for times",
    "\u2212": "write - for minus",
    "\u00f7": "write / for divided by",
}
"""Signs that stand for words or other signs here."""


@dataclass(frozen=True, slots=True)
class Quantity:
    """An exact amount and its kind: `length` in mm, `angle` in degrees, `number` without a unit."""

    amount: Fraction
    kind: str

    def __post_init__(self) -> None:
        limit = LARGEST_MM if self.kind == "length" else LARGEST_NUMBER
        if abs(self.amount) > limit:
            raise _refusal("the result is too large", "check the numbers and their units")
        if self.amount.denominator.bit_length() > MOST_BITS:
            raise _refusal("the result has too many digits", "use rounder numbers")


Lookup = Callable[[str], Quantity]


def evaluate(text: str, units: str, lookup: Lookup) -> Quantity:
    """The value of `text`; `lookup` gives that of `section.key`, and `round` goes to whole `units`.

    Raises: UnitError for anything but plain arithmetic, mixed kinds, division by zero, results out of bounds,
    and whatever `lookup` refuses.
    """
    _refuse_shape(text)
    sizes: list[Quantity] = []

    def keep(match: re.Match[str]) -> str:
        kind, amount = read_literal(match)
        sizes.append(Quantity(amount, kind))
        return f" literal[{len(sizes) - 1}] "

    source = literals().sub(keep, text).strip()
    _refuse_bare_fraction(source)
    tree = _parsed(text, source)
    return _Walker(sizes, units, lookup).value(tree, 0)


def _refuse_shape(text: str) -> None:
    if not text.strip():
        raise _refusal("nothing is written here", 'write a size such as "45 mm"')
    if len(text) > LONGEST_TEXT:
        raise _refusal(
            "{text} is too long",
            "keep arithmetic under {most} signs, with [values] for parts",
            text=quoted(text),
            most=LONGEST_TEXT,
        )
    refuse_decimal_comma(text)
    strange = next((sign for sign in text if sign not in _ALLOWED), "")
    if strange:
        usual = translated("use numbers, units, keys, + - * / and parentheses")
        plain = _plain_inches(text)
        remedy = worded('write "{plain}"', plain=plain) if plain else translated(SPELT_OUT.get(strange, usual))
        named = translated("an inch sign") if strange == '"' else quoted(strange)
        raise _refusal(worded("{text} holds {named}", text=quoted(text), named=named), remedy)


def _plain_inches(text: str) -> str:
    """What was meant by an inch sign or a fraction in one sign; nothing where that isn't all that is strange."""
    plain = re.sub(r"\s*([\u00bc-\u00be\u2150-\u215e])", lambda found: f"-{normalize('NFKC', found[1])}", text)
    plain = re.sub(r"\s*[\"\u2033\u201d]\s*$", " in", plain.replace("\u2044", "/")).lstrip("-")
    return plain if plain != text and literals().fullmatch(plain) else ""


def _refuse_bare_fraction(source: str) -> None:
    """Turns away `1-3/4` and `1 3/4` without a unit: a maker means one and three quarters, arithmetic a quarter."""
    found = re.search(r"(?<![\w.])(\d+)(?:-| +)(\d+/\d+)", source, re.ASCII)
    if found:
        whole, part = found.groups()
        remedy = worded(
            'write "{whole}-{part} in" for a length, or {whole} - {part} for arithmetic', whole=whole, part=part
        )
        raise _refusal(worded("{found} has no unit", found=found[0]), remedy)


def _parsed(text: str, source: str) -> ast.expr:
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            return ast.parse(source, mode="eval").body
    except (SyntaxError, ValueError, MemoryError, RecursionError):
        remedy = translated('write a size ("45 mm") or arithmetic ("top.thickness - 1 mm")')
        raise _refusal(worded("{text} can't be read", text=quoted(text)), remedy) from None


@dataclass(frozen=True, slots=True)
class _Walker:
    """Walks a parsed text; whatever is not named here is refused."""

    sizes: list[Quantity]
    units: str
    lookup: Lookup

    def value(self, node: ast.expr, depth: int) -> Quantity:
        if depth > DEEPEST:
            raise _refusal("the arithmetic is nested too deep", "name a part of it in [values]")
        match node:
            case ast.Constant(value=int() | float() as number) if not isinstance(number, bool):
                return _plain(number)
            case ast.Subscript(value=ast.Name(id="literal"), slice=ast.Constant(value=int() as index)):
                return self.sizes[index]
            case ast.Attribute(value=ast.Name(id=section), attr=name):
                return self.lookup(f"{section}.{name}")
            case ast.UnaryOp(op=ast.USub(), operand=operand):
                inner = self.value(operand, depth + 1)
                return Quantity(-inner.amount, inner.kind)
            case ast.UnaryOp(op=ast.UAdd(), operand=operand):
                return self.value(operand, depth + 1)
            case ast.BinOp(left=left, op=op, right=right):
                return _combine(op, self.value(left, depth + 1), self.value(right, depth + 1), self.units)
            case ast.Call(func=ast.Name(id=name), args=args, keywords=[]):
                return self.call(name, [self.value(arg, depth + 1) for arg in args])
            case _:
                raise _unreadable(node)

    def call(self, name: str, args: list[Quantity]) -> Quantity:
        if name not in ("min", "max", "round"):
            raise _refusal("{name}() is not known here", "min, max and round are", name=name)
        if not args:
            raise _refusal("{name}() is empty", "write {name}(first, second)", name=name)
        if name == "round":
            return self.rounded(args)
        _same_kind(name, args, self.units)
        pick = min if name == "min" else max
        return Quantity(pick(arg.amount for arg in args), args[0].kind)

    def rounded(self, args: list[Quantity]) -> Quantity:
        """`round(x)` to whole units of the profile, `round(x, 2)` to digits, `round(x, 1 mm)` to a step."""
        amount, kind = args[0].amount, args[0].kind
        unit = MM_PER_INCH if kind == "length" and self.units == "in" else Fraction(1)
        step = unit if len(args) == 1 else self.step(args, unit)
        return Quantity(round(amount / step) * step, kind)

    def step(self, args: list[Quantity], unit: Fraction) -> Fraction:
        value, step = args[0], args[1]
        if len(args) == 2 and step.kind == "number" and step.amount in range(10):
            return unit / Fraction(10) ** int(step.amount)
        if len(args) == 2 and step.kind == value.kind != "number" and step.amount > 0:
            return step.amount
        raise _refusal(
            "round() wants a value and, if need be, digits or a step", "write round(x), round(x, 1) or round(x, 1 mm)"
        )


def _combine(op: ast.operator, left: Quantity, right: Quantity, units: str) -> Quantity:
    match op:
        case ast.Add() | ast.Sub():
            sign = "+" if isinstance(op, ast.Add) else "-"
            _same_kind(sign, [left, right], units)
            return Quantity(left.amount + (right.amount if sign == "+" else -right.amount), left.kind)
        case ast.Mult():
            return _product(left, right)
        case ast.Div():
            return _quotient(left, right)
        case ast.Pow():
            raise _refusal("powers (**) are not known here", "multiply instead")
    raise _refusal("only + - * / are known here", "write it with these")


def _product(left: Quantity, right: Quantity) -> Quantity:
    if "number" not in (left.kind, right.kind):
        raise _refusal(
            "{one} times {other} is no size",
            "multiply by a plain number",
            one=translated(_A[left.kind]),
            other=translated(_A[right.kind]),
        )
    return Quantity(left.amount * right.amount, right.kind if left.kind == "number" else left.kind)


def _quotient(left: Quantity, right: Quantity) -> Quantity:
    if right.kind not in ("number", left.kind):
        raise _refusal(
            "{one} can't be divided by {other}",
            "divide by a plain number",
            one=translated(_A[left.kind]),
            other=translated(_A[right.kind]),
        )
    if not right.amount:
        raise _refusal("division by zero", "check the value that is divided by")
    return Quantity(left.amount / right.amount, left.kind if right.kind == "number" else "number")


def _same_kind(sign: str, args: list[Quantity], units: str) -> None:
    first = args[0]
    other = next((arg for arg in args if arg.kind != first.kind), None)
    if other is None:
        return
    found = worded(
        '{one} and {other} can\'t go together in "{sign}"',
        one=translated(_A[first.kind]),
        other=translated(_A[other.kind]),
        sign=sign,
    )
    bare = first if first.kind == "number" else other
    if bare.kind != "number":
        raise _refusal(found, translated("use one kind"))
    unit = units if "length" in (first.kind, other.kind) else "deg"
    shown = f"{sign} {float(abs(bare.amount)):g} {unit}" if sign in "+-" else f"{float(bare.amount):g} {unit}"
    raise _refusal(found, worded("give the number its unit: write {shown}", shown=shown))


def _plain(number: float) -> Quantity:
    # A whole number of any length and an overflowing 1e999 both end here; Fraction takes neither.
    if (isinstance(number, float) and not math.isfinite(number)) or abs(number) > LARGEST_NUMBER:
        raise _refusal("a number is too large", "check the digits")
    return Quantity(Fraction(number) if isinstance(number, int) else Fraction(repr(number)), "number")


def _unreadable(node: ast.expr) -> UnitError:
    if isinstance(node, ast.Name):
        return _refusal(
            "{name} alone is no value",
            "name a key with its section, such as top.thickness or values.board",
            name=quoted(node.id),
        )
    if isinstance(node, ast.Tuple):
        return _refusal("there are several values with commas between", "write one value; decimals take a point")
    return _refusal(
        "this is not plain arithmetic", "use + - * /, parentheses, min, max, round and keys such as top.thickness"
    )


def _refusal(found: str, remedy: str = "", **fields: object) -> UnitError:
    return UnitError(fault_of("", found, remedy, **fields))
