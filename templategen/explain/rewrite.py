"""The maker's own arithmetic as a quantity's formula: units worked out, other keys as terms."""

import ast
import re
from dataclasses import dataclass, field

from templategen.errors import UnitError
from templategen.units import MM_PER_INCH, literals, read_literal


@dataclass(frozen=True, slots=True)
class Rewritten:
    """A formula in mm and degrees, and what each of its symbols names."""

    formula: str
    terms: tuple[tuple[str, str], ...]


def rewritten(text: str, units: str) -> Rewritten | None:
    """Arithmetic as a profile holds it (`"joints.groove_depth - 1 mm"`), or None where it names no other key."""
    sizes: list[float] = []

    def keep(match: re.Match[str]) -> str:
        sizes.append(float(read_literal(match)[1]))
        return f" literal[{len(sizes) - 1}] "

    try:
        tree = ast.parse(literals().sub(keep, text).strip(), mode="eval").body
    except (SyntaxError, UnitError, ValueError):
        return None
    rewriter = _Rewriter(sizes, float(MM_PER_INCH) if units == "in" else 1.0)
    formula = ast.unparse(ast.fix_missing_locations(rewriter.visit(tree)))
    return Rewritten(formula, tuple(rewriter.terms.items())) if rewriter.terms else None


@dataclass
class _Rewriter(ast.NodeTransformer):
    """Puts sizes in mm for literals, symbols for keys, and plain rounding for rounding to a step."""

    sizes: list[float]
    unit: float
    terms: dict[str, str] = field(default_factory=dict)

    def visit_Subscript(self, node: ast.Subscript) -> ast.expr:
        assert isinstance(node.slice, ast.Constant)
        return ast.Constant(self.sizes[int(str(node.slice.value))])

    def visit_Attribute(self, node: ast.Attribute) -> ast.expr:
        assert isinstance(node.value, ast.Name)
        symbol = f"{node.value.id}_{node.attr}"
        self.terms[symbol] = f"{node.value.id}.{node.attr}"
        return ast.Name(symbol)

    def visit_Call(self, node: ast.Call) -> ast.expr:
        args: list[ast.expr] = [self.visit(arg) for arg in node.args]
        if not isinstance(node.func, ast.Name) or node.func.id != "round":
            return ast.Call(node.func, args, [])
        step = self._step(args)
        whole = ast.Call(ast.Name("round"), [ast.BinOp(args[0], ast.Div(), step)], [])
        return ast.BinOp(whole, ast.Mult(), step)

    def _step(self, args: list[ast.expr]) -> ast.expr:
        """What is rounded to: the profile's unit, a decimal of it, or a step as written."""
        if len(args) == 1:
            return ast.Constant(self.unit)
        step = args[1]
        if isinstance(step, ast.Constant) and isinstance(step.value, int):
            return ast.Constant(self.unit / 10**step.value)
        return step
