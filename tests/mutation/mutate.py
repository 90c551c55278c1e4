"""Small wrong changes to a module, one at a time: a comparison turned, a sign, a number one off, a "not" undone."""

from __future__ import annotations

import ast
import copy
from collections.abc import Iterator
from dataclasses import dataclass

COMPARE: dict[type[ast.cmpop], type[ast.cmpop]] = {
    ast.Lt: ast.GtE, ast.GtE: ast.Lt, ast.Gt: ast.LtE, ast.LtE: ast.Gt, ast.Eq: ast.NotEq, ast.NotEq: ast.Eq,
    ast.Is: ast.IsNot, ast.IsNot: ast.Is, ast.In: ast.NotIn, ast.NotIn: ast.In,
}  # fmt: skip
"""A comparison becomes its opposite. `<` for `<=` is left out: on measured floats it can't show."""

ARITHMETIC: dict[type[ast.operator], type[ast.operator]] = {
    ast.Add: ast.Sub, ast.Sub: ast.Add, ast.Mult: ast.Div, ast.Div: ast.Mult, ast.Mod: ast.Mult, ast.Pow: ast.Mult,
    ast.FloorDiv: ast.Mult,
}  # fmt: skip

NAMES = {"min": "max", "max": "min", "any": "all", "all": "any", "sin": "cos", "cos": "sin"}


@dataclass(frozen=True)
class Mutant:
    """One wrong change: where it is and what it does."""

    function: str
    line: int
    says: str
    tree: ast.Module


def mutants(source: str) -> Iterator[Mutant]:
    """Every mutant of a module; module constants, docstrings and annotations are left alone."""
    tree = ast.parse(source)
    for function, node in _functions(tree):
        for inner in ast.walk(node):
            if isinstance(inner, ast.expr | ast.stmt) and not _left_alone(node, inner):
                for says, change in _changes(inner):
                    yield _changed(tree, function, inner, says, change)


def _functions(tree: ast.Module) -> Iterator[tuple[str, ast.FunctionDef]]:
    for node in tree.body:
        if isinstance(node, ast.FunctionDef):
            yield node.name, node
        elif isinstance(node, ast.ClassDef):
            for inner in node.body:
                if isinstance(inner, ast.FunctionDef):
                    yield f"{node.name}.{inner.name}", inner


def _left_alone(node: ast.FunctionDef, inner: ast.AST) -> bool:
    spots: list[ast.AST] = [node.args, *node.decorator_list, *([node.returns] if node.returns else [])]
    spots += [walked.annotation for walked in ast.walk(node) if isinstance(walked, ast.AnnAssign)]
    raised = [walked for walked in ast.walk(node) if isinstance(walked, ast.Raise | ast.JoinedStr)]
    spots += [word for walked in ast.walk(node) if isinstance(walked, ast.Call) for word in walked.keywords
              if word.arg == "strict"]  # fmt: skip
    return any(inner is below for spot in (*spots, *raised) for below in ast.walk(spot))


def _changes(node: ast.AST) -> Iterator[tuple[str, ast.AST]]:
    if isinstance(node, ast.Compare) and type(node.ops[0]) in COMPARE:
        changed = copy.deepcopy(node)
        changed.ops[0] = COMPARE[type(node.ops[0])]()
        yield ast.unparse(changed), changed
    elif isinstance(node, ast.BinOp) and type(node.op) in ARITHMETIC:
        changed = copy.deepcopy(node)
        changed.op = ARITHMETIC[type(node.op)]()
        yield ast.unparse(changed), changed
    elif isinstance(node, ast.BoolOp):
        changed = copy.deepcopy(node)
        changed.op = ast.And() if isinstance(node.op, ast.Or) else ast.Or()
        yield ast.unparse(changed), changed
    elif isinstance(node, ast.UnaryOp) and isinstance(node.op, ast.USub | ast.Not):
        yield ast.unparse(node.operand), node.operand
    elif isinstance(node, ast.Constant) and not isinstance(node.value, str) and node.value is not None:
        value = not node.value if isinstance(node.value, bool) else node.value + 1
        yield f"{node.value} -> {value}", ast.Constant(value)
    elif isinstance(node, ast.Name) and node.id in NAMES:
        yield f"{node.id} -> {NAMES[node.id]}", ast.Name(NAMES[node.id], ast.Load())


def _changed(tree: ast.Module, function: str, node: ast.AST, says: str, change: ast.AST) -> Mutant:
    class Swap(ast.NodeTransformer):
        def visit(self, here: ast.AST) -> ast.AST:
            if here is node:
                return ast.copy_location(change, here)
            return super().visit(here)

    line = getattr(node, "lineno", 0)
    spot = _Spot(tree, node)
    whole = copy.deepcopy(tree)
    node = spot.same_in(whole)
    mutated = ast.fix_missing_locations(Swap().visit(whole))
    return Mutant(function, line, says[:80], mutated)


class _Spot:
    """Where a node is in a tree, by its number in the walk."""

    def __init__(self, tree: ast.Module, node: ast.AST) -> None:
        self.number = next(i for i, walked in enumerate(ast.walk(tree)) if walked is node)

    def same_in(self, tree: ast.AST) -> ast.AST:
        return next(walked for i, walked in enumerate(ast.walk(tree)) if i == self.number)
