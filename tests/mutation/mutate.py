"""Small wrong changes to a module, one at a time.

Such as a hand makes: arguments swapped, x for y, left for right, first for last, least for most, a sign, a number one
off; and such as only a machine makes: a comparison turned round, a "not" undone, a product for a quotient.
"""

from __future__ import annotations

import ast
import copy
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

COMPARE: dict[type[ast.cmpop], type[ast.cmpop]] = {
    ast.Lt: ast.GtE, ast.GtE: ast.Lt, ast.Gt: ast.LtE, ast.LtE: ast.Gt, ast.Eq: ast.NotEq, ast.NotEq: ast.Eq,
    ast.Is: ast.IsNot, ast.IsNot: ast.Is, ast.In: ast.NotIn, ast.NotIn: ast.In,
}  # fmt: skip
"""A comparison becomes its opposite. `<` for `<=` is left out: on measured floats it can't show."""

ARITHMETIC: dict[type[ast.operator], type[ast.operator]] = {
    ast.Add: ast.Sub, ast.Sub: ast.Add, ast.Mult: ast.Div, ast.Div: ast.Mult, ast.Mod: ast.Mult, ast.Pow: ast.Mult,
    ast.FloorDiv: ast.Mult,
}  # fmt: skip


def _both_ways(pairs: str) -> dict[str, str]:
    split = [pair.split("/") for pair in pairs.split()]
    return {a: b for one, other in split for a, b in ((one, other), (other, one))}


NAMES = _both_ways("min/max any/all sin/cos")
"""Functions that are taken for each other."""

SIDES = _both_ways(
    "x/y left/right top/bottom start/end width/height length/thickness low/high first/last inner/outer near/far "
    "across/along u/v"
)
"""Attributes that are taken for each other."""


@dataclass(frozen=True)
class Mutant:
    """One wrong change: where it is and what it does."""

    source: str
    function: str
    line: int
    says: str
    by_hand: bool
    node: int
    """Its number in the walk through the module's tree."""

    change: ast.AST

    def tree(self) -> ast.Module:
        """The module with the change."""
        whole = ast.parse(self.source)
        here = next(walked for i, walked in enumerate(ast.walk(whole)) if i == self.node)
        change = self.change

        class Swap(ast.NodeTransformer):
            def visit(self, node: ast.AST) -> ast.AST:
                return ast.copy_location(change, node) if node is here else super().visit(node)

        return ast.fix_missing_locations(Swap().visit(whole))


def mutants(source: str) -> Iterator[Mutant]:
    """Every mutant of a module; module constants, docstrings, annotations and what is said of errors are left
    alone."""
    tree = ast.parse(source)
    numbers = {id(node): number for number, node in enumerate(ast.walk(tree))}
    for name, function in _functions(tree):
        alone = _left_alone(function)
        for node in ast.walk(function):
            if isinstance(node, ast.expr | ast.stmt) and id(node) not in alone:
                for by_hand, change in _changes(node):
                    says = f"{ast.unparse(node)} -> {ast.unparse(change)}"
                    yield Mutant(source, name, node.lineno, says[:160], by_hand, numbers[id(node)], change)


def _functions(tree: ast.Module) -> Iterator[tuple[str, ast.FunctionDef]]:
    for node in tree.body:
        if isinstance(node, ast.FunctionDef):
            yield node.name, node
        elif isinstance(node, ast.ClassDef):
            for inner in node.body:
                if isinstance(inner, ast.FunctionDef):
                    yield f"{node.name}.{inner.name}", inner


def _left_alone(function: ast.FunctionDef) -> set[int]:
    spots: list[ast.AST] = [
        function.args,
        *function.decorator_list,
        *([function.returns] if function.returns else []),
    ]
    for node in ast.walk(function):
        if isinstance(node, ast.AnnAssign):
            spots.append(node.annotation)
        elif isinstance(node, ast.Raise | ast.JoinedStr | ast.Assert):
            spots.append(node)
        elif isinstance(node, ast.Call):
            spots += [word for word in node.keywords if word.arg == "strict"]
    return {id(below) for spot in spots for below in ast.walk(spot)}


def _changes(node: ast.AST) -> Iterator[tuple[bool, ast.AST]]:
    """Each change of a node, and whether a hand might have made it."""
    if isinstance(node, ast.Compare) and type(node.ops[0]) in COMPARE:
        changed = copy.deepcopy(node)
        changed.ops[0] = COMPARE[type(node.ops[0])]()
        yield False, changed
    elif isinstance(node, ast.BinOp) and type(node.op) in ARITHMETIC:
        changed = copy.deepcopy(node)
        changed.op = ARITHMETIC[type(node.op)]()
        yield isinstance(node.op, ast.Add | ast.Sub), changed
    elif isinstance(node, ast.BoolOp):
        changed = copy.deepcopy(node)
        changed.op = ast.And() if isinstance(node.op, ast.Or) else ast.Or()
        yield False, changed
    elif isinstance(node, ast.UnaryOp) and isinstance(node.op, ast.USub | ast.Not):
        yield isinstance(node.op, ast.USub), node.operand
    elif isinstance(node, ast.Constant):
        yield from _other_value(node)
    elif isinstance(node, ast.Name) and node.id in NAMES:
        yield True, ast.Name(NAMES[node.id], ast.Load())
    elif isinstance(node, ast.Attribute) and node.attr in SIDES and "profile" not in ast.unparse(node.value):
        yield True, ast.Attribute(node.value, SIDES[node.attr], ast.Load())
    elif isinstance(node, ast.Subscript):
        yield from _other_end(node)
    elif isinstance(node, ast.Call):
        yield from _swapped_arguments(node)


def _other_value(node: ast.Constant) -> Iterator[tuple[bool, ast.AST]]:
    if isinstance(node.value, bool):
        yield True, ast.Constant(not node.value)
    elif isinstance(node.value, int | float):
        yield True, ast.Constant(node.value + 1)


def _other_end(node: ast.Subscript) -> Iterator[tuple[bool, ast.AST]]:
    """The last for the first and the other way round."""
    first = isinstance(node.slice, ast.Constant) and node.slice.value == 0
    last = isinstance(node.slice, ast.UnaryOp) and ast.unparse(node.slice) == "-1"
    if (first or last) and isinstance(node.ctx, ast.Load):
        yield True, ast.Subscript(node.value, ast.Constant(-1 if first else 0), ast.Load())


def _swapped_arguments(node: ast.Call) -> Iterator[tuple[bool, ast.AST]]:
    """Two neighbours exchanged; a number or a word as written is left alone."""
    if isinstance(node.func, ast.Name) and node.func.id in ("isinstance", "getattr", "hasattr"):
        return
    for i, (one, other) in enumerate(pairwise(node.args)):
        plain = not any(
            isinstance(a, ast.Starred | ast.Constant | ast.Lambda | ast.GeneratorExp) for a in (one, other)
        )
        if plain and ast.dump(one) != ast.dump(other):
            changed = copy.deepcopy(node)
            changed.args[i], changed.args[i + 1] = changed.args[i + 1], changed.args[i]
            yield True, changed
