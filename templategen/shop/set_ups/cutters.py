"""Which cutter makes a width, in how many passes, and how far it moves between them."""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil

from templategen.shop.set_ups.ledger import Ledger
from templategen.shop.set_ups.set_up import Setting

SLACK = 1e-6
"""How much too wide a cutter may seem through rounding, mm."""

OWN = "cutter as wide as the cut"

TOOLS = (("groove cutter", "shop.groove_cutter"), ("router bit", "shop.router_bit"))
"""In the order of preference where they need as many passes."""


@dataclass(frozen=True, slots=True)
class Passes:
    """The cutter, the settings that go with it, and what is amiss with the maker's own."""

    cutter: str
    settings: tuple[Setting, ...]
    warnings: tuple[str, ...] = ()


def passes_for(ledger: Ledger, name: str, width: str, words: str, buried: bool = False, turn: str = "") -> Passes:
    """Passes for a cut as wide as the quantity `width`; the tool with the fewest, of equal ones the groove cutter.

    With `buried` a wider cutter does too, in one pass: the rest of it runs in the fence. `turn` is the quantity of
    the angle at which a gauge's fence carries the piece past the cutter: along that fence the steps are longer.
    """
    size = ledger.value(width)
    counts = {tool: _count(size, ledger.value(key), buried) for tool, key in TOOLS}
    fitting = [(tool, key) for tool, key in TOOLS if counts[tool]]
    cut = ledger.setting("width", width, f"width of {words}")
    if not fitting:
        told = f"{words}: narrower than the groove cutter and the router bit; take a cutter just as wide"
        settings = (cut, ledger.setting("cutter", width, "width of the cutter"), *_once(ledger))
        return Passes(OWN, settings, (told,))
    tool, key = min(fitting, key=lambda fit: counts[fit[0]])
    wide = next(
        (f"{words}: the {one} is wider than the cut; the {tool} makes it" for one, _ in TOOLS if not counts[one]), ""
    )
    settings = (
        cut,
        ledger.setting("cutter", key, f"width of the {tool}"),
        *_steps(ledger, name, width, key, counts[tool], turn),
    )
    return Passes(tool, settings, (wide,) if wide and tool == "router bit" else ())


def _count(width: float, cutter: float, buried: bool) -> int:
    if cutter > width + SLACK:
        return 1 if buried else 0
    return ceil(width / cutter - SLACK)


def _once(ledger: Ledger) -> tuple[Setting, ...]:
    one = ledger.given("one_pass", "a cut made at once", 1.0, "", "the cutter is as wide as the cut")
    return (ledger.setting("passes", one, "passes"),)


def _steps(ledger: Ledger, name: str, width: str, cutter: str, count: int, turn: str) -> tuple[Setting, ...]:
    """How many passes, and how far apart: the first on the near side, the last to the full width."""
    terms = {"w": width, "c": cutter}
    says = "passes of the cutter, the fewest that reach"
    passes = ledger.add(f"{name}.passes", says, "", f"max(1, ceil(w / c - {SLACK:.6f}))", **terms)
    told = ledger.setting("passes", passes, "passes")
    if count < 2:
        return (told,)
    says = "how far piece or fence moves for each further pass, so that the last ends at the full width"
    formula = "(w - c) / (n - 1)" + (" / cos(turn)" if turn else "")
    terms |= {"turn": turn} if turn else {}
    step = ledger.add(f"{name}.step", says, "mm", formula, n=passes, **terms)
    moved = "along the gauge's fence" if turn else "square to the fence"
    return told, ledger.setting("step", step, f"moved {moved} for each further pass")
