"""How a plan outline reads on the underside."""

from templategen.geometry.outline import Outline
from templategen.geometry.placement import Placement

TURN_OVER = Placement(turned_over=True)


def on_bottom(outline: Outline) -> Outline:
    """The outline of a plan shape in the frame of the bottom face, which is seen turned over (u = -x)."""
    return TURN_OVER.outline(outline)
