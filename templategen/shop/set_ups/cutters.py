"""Which cutter makes a cut, in how many passes across and how many levels down, and what does where none reaches."""

from collections.abc import Collection, Iterator
from dataclasses import dataclass
from math import ceil

from templategen.catalogue import figured, translated
from templategen.checks.describe import said
from templategen.geometry.tolerance import EQUAL
from templategen.shop.set_ups.choose import DRIVEN_BY, ways_for, wish_for
from templategen.shop.set_ups.ledger import PREFIX, Ledger
from templategen.shop.set_ups.remarks import IN_THE_FENCE
from templategen.shop.set_ups.set_up import Operation, Setting, SettingName, SetUp
from templategen.units import show_length

SLACK = 1e-6
"""How much wider than the cut a cutter may be and still count as no wider, mm: rounding."""

OVERLAP = 0.5
"""How much of what a pass cleared the next one takes once more at the least, mm: by cutters ground a little under
their size a ridge would stay."""

WIDTHS = {
    "the groove": "width of the groove", "the slot": "width of the slot", "the trench": "width of the trench",
    "the rebate": "width of the rebate", "groove cutter": "width of the groove cutter",
    "router bit": "width of the router bit", "the relief": "from foot to foot",
}  # fmt: skip
"""How the width of a cut is told, and that of a cutter."""

AT_THE_FENCE = 3.0
"""A cutter that comes nearer than this to the fence runs at a wooden face, mm: a setting that is a little off, or a
fence that gives, would have its teeth in metal (shop practice)."""

OWN = "cutter as wide as the cut"

SPACED = (
    "for each further pass stop the machine and clamp the piece so much further off the fence: between them one more"
    " strip this thick or more, less than the cutter is wide, taken out again before the machine starts"
)
"""How a piece comes off the fence by which its shoulder is set: all strips together reach to the cutter's near side,
so that none may stay there while it runs."""


@dataclass(frozen=True, slots=True)
class Tool:
    """A cutter: its name, and the quantities of its width, of how deep it reaches and of its deepest pass."""

    name: str
    width: str
    reach: str
    deepest: str


DISC = Tool("groove cutter", "shop.groove_cutter", "shop.groove_reach.reach", "shop.groove_reach.pass")
TOOLS = (
    DISC,
    Tool("router bit", "shop.router_bit", "shop.bit_length", "jigs.pass_depth"),
)
"""In order of preference where they need equally many passes."""


@dataclass(frozen=True, slots=True)
class Passes:
    """The cutter, its settings, and what the maker's own cutters can't do; `by_hand` if no machine makes the cut."""

    cutter: str
    settings: tuple[Setting, ...]
    warnings: tuple[str, ...] = ()
    by_hand: bool = False


def passes_for(
    ledger: Ledger,
    operation: Operation,
    name: str,
    size: tuple[str, str],
    words: str,
    buried: bool = False,
    turn: str = "",
    stops: Collection[SettingName] = (),
    by_hand: bool = False,
) -> Passes:
    """Passes for a cut as wide and as deep as the quantities `size`; the tool with the fewest, of equal ones the
    groove cutter. What none reaches is cut by hand. One that `stops` in the wood is a router bit's wherever one
    reaches: a disc as large as a saw's runs on past the line, through a mitre that is near, or leaves a ramp several
    times as long as the groove is deep; and one that starts there, with a "rear" block, never is a disc's, for the
    piece would be let down on it as it turns.

    With `buried` the cut ends at the fence, and a wider cutter does too, in one pass: the rest of it runs in the
    fence's wooden face. `turn` is the quantity of the angle at which a gauge's fence carries the piece past the
    cutter: along that fence the steps are longer. `by_hand` that no machine takes the piece, whatever it drives.
    """
    width, depth = size
    driven = () if by_hand else _driven(ledger, operation)
    counts = {tool: _count(ledger.value(width), ledger.value(tool.width), buried) for tool in driven}
    tools = tuple(tool for tool in driven if "rear" not in stops or tool is not DISC)
    fitting = [tool for tool in tools if counts[tool]]
    reaching = [tool for tool in fitting if ledger.value(tool.reach) >= ledger.value(depth) - SLACK]
    cut = ledger.setting("width", width, WIDTHS[words])
    if not reaching:
        settings = (cut, ledger.setting("cutter", width, "cleared at once"), *_once(ledger))
        if fitting:
            longest = show_length(max(ledger.value(tool.reach) for tool in fitting), ledger.profile.units)
            told = said(
                "{cut:word} goes deeper than the {longest} that your cutters reach, so it is cut by hand",
                cut=words, longest=figured(longest),
            )  # fmt: skip
            return Passes("", settings, (told,), by_hand=True)
        if not tools:
            return Passes("", settings, by_hand=True)
        narrow = (
            "{cut:word}: narrower than the groove cutter and the router bit; take a cutter just as wide"
            if len(tools) > 1
            else "{cut:word}: narrower than the {tool:word}; take a cutter just as wide"
        )
        told = said(narrow, cut=words, **({} if len(tools) > 1 else {"tool": tools[0].name}))
        return Passes(OWN, settings, (told,))
    tool = min(reaching, key=lambda fit: (bool(stops) and fit is DISC, counts[fit] * _levels(ledger, fit, depth)))
    settings = (
        cut,
        ledger.setting("cutter", tool.width, WIDTHS[tool.name]),
        *_steps(ledger, name, width, tool, counts[tool], buried, turn),
        *_down(ledger, name, depth, tool),
    )
    return Passes(tool.name, settings, tuple(_in_the_fence(ledger, tool, width)) if buried else ())


def _driven(ledger: Ledger, operation: Operation) -> tuple[Tool, ...]:
    """The cutters that this shop can drive; none where its first choice is to work by hand."""
    ways = ways_for(ledger.profile, operation)
    if not ways or ways[0].kind == "by hand":
        return ()
    kind = wish_for(ledger.profile, operation)
    machines = {tool for way in ways for tool in way.needs if kind in ("auto", way.kind)}
    return tuple(tool for tool in TOOLS if machines.intersection(DRIVEN_BY[tool.name]))


def _in_the_fence(ledger: Ledger, tool: Tool, width: str) -> Iterator[str]:
    """What a cutter runs in or along that is wider than the cut, or hardly less wide."""
    if ledger.value(tool.width) > ledger.value(width) - AT_THE_FENCE:
        yield translated(IN_THE_FENCE)


def _count(width: float, cutter: float, buried: bool) -> int:
    if cutter > width + SLACK:
        return 1 if buried else 0
    return ceil((width - cutter) / (cutter - OVERLAP) - SLACK) + 1


def _levels(ledger: Ledger, tool: Tool, depth: str) -> int:
    return max(1, ceil(ledger.value(depth) / ledger.value(tool.deepest) - SLACK))


def _once(ledger: Ledger) -> tuple[Setting, ...]:
    one = ledger.given("one_pass", "a cut made at once", 1.0, "", "the cutter is as wide as the cut")
    return (ledger.setting("passes", one, "passes"),)


def _steps(
    ledger: Ledger, name: str, width: str, tool: Tool, count: int, buried: bool, turn: str
) -> tuple[Setting, ...]:
    """How many passes, and how far apart: the first on the near side, the last to the full width."""
    says, source = "overlap of two passes of a cutter", "that no ridge is left between them"
    lap = ledger.given("overlap", says, OVERLAP, "mm", source)
    terms = {"w": width, "c": tool.width}
    name = f"{name}.{tool.name.replace(' ', '_')}"
    says, formula = (
        "passes of the cutter, the fewest that overlap",
        f"max(1, ceil((w - c) / (c - o) - {SLACK:.6f}) + 1)",
    )
    passes = ledger.add(f"{name}.passes", says, "", formula, o=lap, **terms)
    told = ledger.setting("passes", passes, "passes side by side, each at every level")
    if count < 2:
        return (told,)
    says = "how far piece or fence moves for each further pass, so that the last ends at the full width"
    formula = "(w - c) / (n - 1)" + (" / cos(turn)" if turn else "")
    terms |= {"turn": turn} if turn else {}
    step = ledger.add(f"{name}.step", says, "mm", formula, n=passes, **terms)
    moved = (
        SPACED
        if buried and at_a_machine(ledger)
        else "moved towards the end by about this for each further pass: it only clears what is left"
        if buried
        else "moved along the gauge's fence for each further pass" if turn
        else "moved square to the fence for each further pass"
    )  # fmt: skip
    return told, ledger.setting("step", step, moved)


def at_a_machine(ledger: Ledger) -> bool:
    """Whether rebates are cut with the piece over the cutter, its end at a fence."""
    ways = ways_for(ledger.profile, "rebate")
    return bool(ways) and ways[0].kind == "machine"


def marks_ends(ledger: Ledger, off: float) -> bool:
    """Whether an end `off` square, radians, is sawn against no stop: it is marked out on the wood."""
    far = off > ledger.value("shop.mitre_reach") + EQUAL
    ways = ways_for(ledger.profile, "mitre")
    return all(way.kind != "machine" or (far and way.needs == ("mitre saw",)) for way in ways)


def _down(ledger: Ledger, name: str, depth: str, tool: Tool) -> tuple[Setting, ...]:
    """How many depth steps it takes, none deeper than one pass of the tool may be."""
    name = f"{name}.{tool.name.replace(' ', '_')}.{depth.removeprefix(PREFIX).replace('.', '_')}"
    terms = {"d": depth, "p": tool.deepest}
    says = "levels that the cutter goes down in, the fewest whose passes are light enough"
    levels = ledger.add(f"{name}.levels", says, "", f"max(1, ceil(d / p - {SLACK:.6f}))", **terms)
    told = ledger.setting("levels", levels, "levels, the last at the full height")
    if ledger.value(levels) < 2:
        return (told,)
    deepen = ledger.add(f"{name}.deepen", "how much further the cutter goes out for each level", "mm", "d / n",
                        d=depth, n=levels)  # fmt: skip
    return told, ledger.setting(
        "deepen", deepen, "the cutter raised by so much for each level, the last to the full height"
    )


def spacers(set_up: SetUp) -> str:
    """What becomes of strips at the fence before the cutter runs, "" where none are told."""
    return "out" if any(one.says == SPACED for one in set_up.settings) else ""
