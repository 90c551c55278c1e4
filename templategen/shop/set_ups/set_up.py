"""The set-up: what is set at a machine, and every piece that is cut while it stands so."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from typing import Literal

from templategen.explain.book import Unit
from templategen.table.profile.choices import WorkWay

Operation = Literal[
    "plane", "rip", "crosscut", "mitre", "bore", "groove", "spline slot", "peg bore", "mortise", "drain",
    "counterbore", "drill through", "shoulder", "rebate", "nib", "pin slot", "tenon bore", "cross bore", "end bore",
    "round corner", "round-over", "chamfer", "bead", "lap", "relief", "saw round", "trim", "drip groove",
    "edge round-over",
]  # fmt: skip
"""In working order: every part passes its own from left to right, what is cut into before what goes into it, so that
the second can be tried in the first. Laps are the last that is cut into a rail of the top by itself: they leave it
little wood in its middle, and nothing is tried in them but the next rail. A relief comes after them, for their depth
is gauged from the face that it takes away, and edges on its floor after it. What follows is done to the glued ring.

A nib is a second shoulder at an end that has one; a shoulder is a tenon's narrow one, sawn while the face that it
lies on is whole."""

SettingName = Literal[
    "angle", "gauge", "fence", "stop", "start", "end", "height", "stays", "levels", "deepen", "width", "length",
    "passes", "step", "cutter", "kerf", "middle", "pivot", "aside", "inset", "apart", "edge", "radius", "size",
    "rear", "front", "line", "beyond", "channel", "tolerance", "wanted",
]  # fmt: skip

TO_A_LINE: tuple[Operation, ...] = ("rip", "crosscut", "mitre", "mortise")
"""Cut to a line where the tool is in the hand: neither fence nor stop carries the piece."""

Side = Literal[
    "top", "bottom", "low", "high", "left", "right",
    "left-1", "left-2", "left-3", "left-4", "left-5", "left-6",
    "right-1", "right-2", "right-3", "right-4", "right-5", "right-6",
]  # fmt: skip
"""Faces, edges and ends of a piece as its drawing lies: low is its edge of least y, left its end of least x. The
edges of an end that has several are counted from the low one."""


@dataclass(frozen=True, slots=True)
class Figure:
    """A number, and the quantity by which it is explained."""

    quantity: str
    value: float
    unit: Unit


@dataclass(frozen=True, slots=True)
class Setting:
    """One thing to set or check, in mm, degrees or as a count; `says` tells from where to where it is measured."""

    name: SettingName
    figure: Figure
    says: str


@dataclass(frozen=True, slots=True)
class Lay:
    """How one kind of piece lies in a cut.

    `pieces` is how many of it are cut so, all tables together. `worked` is the face, edge or end that is cut, `up`
    the one that lies up, `against` the one at the fence (for a rebate the end whose shoulder it makes), `stop_at`
    the end that distances are measured from, "" where nothing is at the stop. `swung` says that the gauge stands
    the other way from square.
    """

    code: str
    pieces: int
    worked: Side
    up: Side
    against: Side
    stop_at: Side | Literal[""] = ""
    swung: bool = False


@dataclass(frozen=True, slots=True)
class Cut:
    """What is reset while the set-up stands, mostly a stop, and the pieces cut with it; `otherwise` is what would be
    set if the tool went over the piece, or the piece over the tool."""

    settings: tuple[Setting, ...]
    lays: tuple[Lay, ...]
    otherwise: tuple[Setting, ...] = ()

    @property
    def codes(self) -> tuple[str, ...]:
        """The parts cut so, each once."""
        return tuple(dict.fromkeys(lay.code for lay in self.lays))


@dataclass(frozen=True, slots=True)
class Check:
    """What to measure on a test piece, and how far off it may be; `of` are the settings that it checks, `wanted` what
    should be found where that isn't one of the settings, `pieces` whose it is where not all of its set-up's;
    `one_way` that it may be off by more, never by less."""

    measure: str
    tolerance: Setting
    of: tuple[SettingName, ...] = ()
    wanted: Setting | None = None
    pieces: tuple[str, ...] = ()
    one_way: bool = False


BESIDES = "; "
"""What stands between test pieces of more than one kind."""


@dataclass(frozen=True, slots=True)
class Proof:
    """How a set-up is proved before good wood goes through it; `is_kept` that later ones are tried on the ends of its
    test pieces. Several kinds of these stand in `test_piece` with `BESIDES` between."""

    test_piece: str
    checks: tuple[Check, ...]
    is_kept: bool = False


@dataclass(frozen=True, slots=True)
class SetUp:
    """One setting of one machine.

    `settings` are made once, each cut's own while it stands. `kerf_side` says on which side of the line the blade or
    cutter stands. `way` and `does` tell how it is worked where that isn't the usual way, `needs` with
    which tools of the shop, `jigs` by which jigs once it has its place in a plan, `in_strip` that
    pieces still hang together, `relieved` that it is done on the floor of a relief, `on_half` that a router does it
    on the ends of half rings, `filler` like which part scrap is sawn besides, and how many, `warnings` what the
    maker's own tools can't do, `cautions` what keeps fingers on.
    """

    number: int
    operation: Operation
    machine: str
    cutter: str
    settings: tuple[Setting, ...]
    cuts: tuple[Cut, ...]
    kerf_side: str
    proof: Proof
    warnings: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    does: tuple[str, ...] = ()
    way: WorkWay = "auto"
    needs: tuple[str, ...] = ()
    jigs: tuple[str, ...] = ()
    in_strip: bool = False
    relieved: bool = False
    on_half: bool = False
    filler: tuple[str, int] = ("", 0)

    def setting(self, name: SettingName, cut: Cut | None = None) -> Setting | None:
        """The setting called `name`, a cut's own first."""
        own = cut.settings if cut else ()
        return next((one for one in (*own, *self.settings) if one.name == name), None)

    def value(self, name: SettingName, cut: Cut | None = None) -> float:
        """The value of the setting called `name`.

        Raises: KeyError where there is none.
        """
        found = self.setting(name, cut)
        if found is None:
            raise KeyError(f"{self.operation} has no {name}")
        return found.figure.value

    def told(self, name: SettingName, says: Callable[[Setting], str]) -> "SetUp":
        """The same, with what `says` tells of every setting called `name`."""

        def anew(settings: tuple[Setting, ...]) -> tuple[Setting, ...]:
            return tuple(replace(one, says=says(one)) if one.name == name else one for one in settings)

        cuts = tuple(replace(cut, settings=anew(cut.settings)) for cut in self.cuts)
        return replace(self, settings=anew(self.settings), cuts=cuts)

    @property
    def is_marked(self) -> bool:
        """Whether it is marked out on the wood: nothing of a machine is set for it."""
        return self.way == "by hand" or (self.way == "hand-held" and self.operation in TO_A_LINE)

    @property
    def figures(self) -> Iterator[Figure]:
        """Every figure of the set-up, its cuts and its proof."""
        for setting in (*self.settings, *(own for cut in self.cuts for own in cut.settings)):
            yield setting.figure
        for check in self.proof.checks:
            yield check.tolerance.figure
            if check.wanted:
                yield check.wanted.figure

    @property
    def codes(self) -> tuple[str, ...]:
        """The parts that pass through, each once."""
        return tuple(dict.fromkeys(code for cut in self.cuts for code in cut.codes))


@dataclass(frozen=True, slots=True)
class Job:
    """`shared` are the settings that make a set-up, `own` those that are set anew while it stands; `in_strip` that it
    is done before pieces are cut off their strip, `while_whole` before their joints are cut, `relieved` on the floor
    of their relief, `by_hand` that no machine makes the cut."""

    operation: Operation
    cutter: str
    shared: tuple[Setting, ...]
    own: tuple[Setting, ...]
    lays: tuple[Lay, ...]
    kerf_side: str
    proof: Proof
    warnings: tuple[str, ...] = ()
    in_strip: bool = False
    while_whole: bool = False
    relieved: bool = False
    by_hand: bool = False
