"""Works out a quantity's formula: plain arithmetic over named values, with angles in degrees."""

import ast
import math
import operator
from collections.abc import Callable, Mapping
from functools import lru_cache

from templategen.errors import Fault, UnitError

LONGEST = 4000
DEEPEST = 60

CONSTANTS = {"pi": math.pi}

FUNCTIONS: Mapping[str, Callable[..., float]] = {
    "sin": lambda angle: math.sin(math.radians(angle)),
    "cos": lambda angle: math.cos(math.radians(angle)),
    "tan": lambda angle: math.tan(math.radians(angle)),
    "asin": lambda share: math.degrees(math.asin(share)),
    "acos": lambda share: math.degrees(math.acos(share)),
    "atan": lambda share: math.degrees(math.atan(share)),
    "sqrt": math.sqrt,
    "min": min,
    "max": max,
    "floor": math.floor,
    "ceil": math.ceil,
    "round": lambda value: float(round(value)),
    "abs": abs,
}
"""sin, cos and tan take degrees, asin, acos and atan give them; round goes to the even neighbour from a half."""

OPERATORS: Mapping[type[ast.operator], Callable[[float, float], float]] = {
    ast.Add: operator.add,
    ast.Sub: operator.sub,
    ast.Mult: operator.mul,
    ast.Div: operator.truediv,
    ast.Pow: math.pow,
}


def evaluate(formula: str, values: Mapping[str, float]) -> float:
    """The value of `formula` with `values` for its symbols.

    The text is parsed, never run: numbers, the symbols of `values`, + - * / **, parentheses, `FUNCTIONS` and pi.

    Raises: UnitError for anything else, for a symbol without a value, and where the arithmetic has no result.
    """
    try:
        result = float(_value(parsed(formula), values, 0))
    except (ArithmeticError, ValueError, TypeError) as trouble:
        if isinstance(trouble, UnitError):
            raise
        raise UnitError(Fault("", f'"{formula}" has no result: {trouble}', "check the values it takes")) from None
    if not math.isfinite(result):
        raise UnitError(Fault("", f'"{formula}" has no finite result', "check the values it takes"))
    return result


@lru_cache(maxsize=4096)
def parsed(formula: str) -> ast.expr:
    """The formula as a tree.

    Raises: UnitError where it can't be read.
    """
    if len(formula) > LONGEST:
        raise UnitError(Fault("", "the formula is too long", f"keep it under {LONGEST} signs"))
    try:
        return ast.parse(formula.strip(), mode="eval").body
    except (SyntaxError, ValueError, MemoryError, RecursionError):
        raise UnitError(Fault("", f'"{formula}" is no formula that can be read')) from None


@lru_cache(maxsize=4096)
def symbols_of(formula: str) -> tuple[str, ...]:
    """The names in a formula that are none of its functions or constants, in the order in which they stand in it."""
    names = (node for node in ast.walk(parsed(formula)) if isinstance(node, ast.Name))
    ordered = dict.fromkeys(name.id for name in sorted(names, key=lambda name: name.col_offset))
    return tuple(name for name in ordered if name not in FUNCTIONS and name not in CONSTANTS)


def _value(node: ast.expr, values: Mapping[str, float], depth: int) -> float:
    """Whatever is not named here is refused."""
    if depth > DEEPEST:
        raise UnitError(Fault("", "the formula is nested too deep"))
    match node:
        case ast.Constant(value=int() | float() as number) if not isinstance(number, bool):
            return float(number)
        case ast.Name(id=name) if name in values:
            return values[name]
        case ast.Name(id=name) if name in CONSTANTS:
            return CONSTANTS[name]
        case ast.Name(id=name):
            raise UnitError(Fault("", f'"{name}" has no value'))
        case ast.UnaryOp(op=ast.USub(), operand=inner):
            return -_value(inner, values, depth + 1)
        case ast.UnaryOp(op=ast.UAdd(), operand=inner):
            return _value(inner, values, depth + 1)
        case ast.BinOp(left=left, op=op, right=right) if type(op) in OPERATORS:
            # A long sum leans to the left: only its right arms make it deep.
            return OPERATORS[type(op)](_value(left, values, depth), _value(right, values, depth + 1))
        case ast.Call(func=ast.Name(id=name), args=args, keywords=[]) if name in FUNCTIONS and args:
            return FUNCTIONS[name](*(_value(arg, values, depth + 1) for arg in args))
    raise UnitError(Fault("", f"{type(node).__name__} is not plain arithmetic"))
