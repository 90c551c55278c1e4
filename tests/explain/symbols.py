"""What a formula leans on."""

import ast

from templategen.explain.evaluate import CONSTANTS, FUNCTIONS, parsed


def symbols(formula: str) -> tuple[str, ...]:
    """The symbols that `formula` needs values for, each once, in the order met."""
    nodes = (node for node in ast.walk(parsed(formula)) if isinstance(node, ast.Name))
    return tuple(dict.fromkeys(node.id for node in nodes if node.id not in FUNCTIONS and node.id not in CONSTANTS))
