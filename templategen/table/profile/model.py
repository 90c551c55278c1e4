"""The profile as values: millimetres and radians, every key present."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any, get_args

from templategen.english import English
from templategen.errors import ProfileError
from templategen.table.profile.choices import (
    Apex,
    ClosingWay,
    Corner,
    CornerRelief,
    DxfVersion,
    Edge,
    EdgeShape,
    Feet,
    Guide,
    HandTool,
    Hold,
    Holding,
    Machine,
    Parasol,
    Patterns,
    Run,
    SlatFace,
    Spline,
    StockKind,
    StockMode,
    Units,
    WorkWay,
    unknown_words,
)  # fmt: skip
from templategen.table.profile.limits import Limits
from templategen.table.profile.locate import nearest_line
from templategen.table.profile.wish import Suit
from templategen.table.profile.workshop import Workshop, is_the_workshop_s, together
from templategen.wood.glue import GlueClass
from templategen.wood.movement import Sawn


@dataclass(frozen=True, slots=True)
class Top:
    """Rim and rails of the table top."""

    diameter: float
    height: float
    rails: int
    segments: int
    edge: Edge
    thickness: float
    rail_width: float
    rim_width: float
    saw_allowance: float
    edge_round: float
    pole_hole: float
    parasol: Parasol = "own base"


@dataclass(frozen=True, slots=True)
class Slats:
    """How the fields between the arms are filled."""

    run: Run
    width: float
    gap: float
    hold: Hold
    apex: Apex
    thickness: float
    face: SlatFace
    chamfer: float


@dataclass(frozen=True, slots=True)
class Joints:
    """Tongues, grooves, clearances and splines; a clearance that is None is reckoned from the wood and the year."""

    tongue: float
    groove_depth: float
    end_clearance: float
    glue_clearance: float
    spline: Spline
    spline_thickness: float
    spline_depth: float
    slide_clearance: float | None = None
    shoulder_clearance: float | None = None
    lap_clearance: float | None = None
    tenon_clearance: float | None = None


@dataclass(frozen=True, slots=True)
class Legs:
    """The pedestal's legs; `tenon` is thickness, width, length."""

    section: float
    centre_distance: float
    base_centre_distance: float
    tenon: tuple[float, float, float]
    corner: Corner
    corner_size: float


@dataclass(frozen=True, slots=True)
class Base:
    """The ground cross and its feet."""

    length: float
    rail_width: float
    thickness: float
    feet: Feet
    foot_thickness: float
    foot_length: float
    end_round: float
    drain_hole: float


@dataclass(frozen=True, slots=True)
class Edges:
    """Arrises besides the rim's outer ones, the slats' upper ones and the legs': what is taken off each, mm."""

    shape: EdgeShape = "chamfered"
    rim: float = 2.0
    rail: float = 2.0
    slat: float = 1.0
    base: float = 3.0


@dataclass(frozen=True, slots=True)
class Shop:
    """The maker's tools and the air the table lives in; `humidity` in %, `temperature` in degrees Celsius.

    `mitre_saw` is height and width of its cut, `planer` width and height of what it takes.
    `open_time` in minutes, 0 for the least of the `glue`'s class; `spread` in g/m2, `band` in N, `waste` in %.
    """

    mitre_error: float
    length_error: float
    saw_kerf: float
    groove_cutter: float
    groove_reach: tuple[float, float]
    router_bit: float
    bit_length: float
    guide_bush: float
    bandsaw_blade: tuple[float, float]
    bandsaw_table: tuple[float, float]
    humidity: tuple[float, float]
    temperature: float
    build_moisture: float
    sawn: Sawn
    open_time: float
    mitre_reach: float
    stop_reach: float
    holding: float
    longer: float
    wider: tuple[float, float, float]
    strip_end: float
    machines: tuple[Machine, ...] = get_args(Machine)
    hand_tools: tuple[HandTool, ...] = get_args(HandTool)
    saw_depth: float = 80.0
    mitre_saw: tuple[float, float] = (90.0, 300.0)
    bandsaw_height: float = 200.0
    planer: tuple[float, float] = (260.0, 160.0)
    planing: float = 6.0
    resaw_face: float = 2.0
    glue: GlueClass = "polyurethane"
    glue_temperature: float = 20.0
    spread: float = 200.0
    band: float = 0.0
    waste: float = 20.0
    coats: int = 2


@dataclass(frozen=True, slots=True)
class Work:
    """The ways of working that the maker picks; "auto" is the first that the shop's tools can do."""

    closing: ClosingWay = "auto"
    planing: WorkWay = "auto"
    ripping: WorkWay = "auto"
    ends: WorkWay = "auto"
    laps: WorkWay = "auto"
    grooves: WorkWay = "auto"
    slots: WorkWay = "auto"
    tongues: WorkWay = "auto"
    mortises: WorkWay = "auto"
    holes: WorkWay = "auto"
    edges: WorkWay = "auto"
    rounding: WorkWay = "auto"


@dataclass(frozen=True, slots=True)
class Rates:
    """The maker's own pace and prices: `day` in hours, work in minutes as the keys say for what, then money for an
    hour, a pin, a kilogram of glue and a litre of finish, shares in %, and the days that a price is `valid`."""

    day: float = 6.0
    set_up: float = 15.0
    cut: float = 1.5
    plane: float = 1.0
    mitre: float = 2.0
    lap: float = 15.0
    mortise: float = 8.0
    tenon: float = 6.0
    glue_joint: float = 3.0
    slat_fit: float = 4.0
    sand: float = 6.0
    oil: float = 3.0
    hourly: float = 0.0
    pin_price: float = 0.0
    glue_price: float = 0.0
    finish_price: float = 0.0
    waste: float = 10.0
    overhead: float = 0.0
    tax: float = 0.0
    doubt: float = 25.0
    valid: int = 30


@dataclass(frozen=True, slots=True)
class Maker:
    """Who makes the table: name, lines below it, the currency of all prices, what is said of delivery; "" unsaid."""

    name: str = ""
    lines: tuple[str, ...] = ()
    currency: str = ""
    delivery: str = ""


@dataclass(frozen=True, slots=True)
class Wording:
    """How a packet is told."""

    english: English = "british"


@dataclass(frozen=True, slots=True)
class Stock:
    """One kind of board, sheet or roll; `count` None means as many as needed, `price` in the maker's currency.

    `faults` are knots (x, y, diameter), `fault_areas` rectangles (x, y, length, width) from their lower left corner,
    `bad_ends` what is no use of the left and of the right end. `margin` is trimmed from every edge, or from left,
    right, bottom and top. `mode` says how parts are freed, `gap` how far apart they lie where a router frees them
    with a `bit` of that diameter.
    """

    name: str
    kind: StockKind
    wood: str
    length: float
    width: float
    thickness: float
    count: int | None
    price: float
    faults: tuple[tuple[float, float, float], ...]
    margin: float | tuple[float, float, float, float]
    fault_areas: tuple[tuple[float, float, float, float], ...] = ()
    bad_ends: tuple[float, float] = (0.0, 0.0)
    mode: StockMode = "sawn"
    gap: float = 0.0
    bit: float = 0.0


@dataclass(frozen=True, slots=True)
class Paper:
    """Paper for 1:1 templates; `size` is a name, or width and height in mm, or a roll's width alone.

    `skew` is how far the printer leans, radians, positive where the top of a sheet goes to the right.
    `trace_offset` is the distance outwards of a second line to trace, mm. `measured` are the test sheet's
    width, height, rising and falling diagonal as printed, mm, of which the scales and the skew were made.
    """

    size: str | tuple[float, ...]
    margin: float
    overlap: float
    scale_x: float
    scale_y: float
    skew: float = 0.0
    trace_offset: float = 0.0
    measured: tuple[float, ...] = ()


@dataclass(frozen=True, slots=True)
class Dxf:
    """How the router's software wants its files."""

    version: DxfVersion
    units: Units
    corner_relief: CornerRelief


@dataclass(frozen=True, slots=True)
class Jigs:
    """What jigs are made of and for.

    `blade_place` is the bandsaw's tooth line from the left and the front edge of its table, noughts for the middle.
    `leave` is what the saw leaves for a router to true.
    """

    wood: str = "plywood"
    thickness: float = 12.0
    pin: float = 6.0
    pin_depth: float = 6.0
    blade_place: tuple[float, float] = (0.0, 0.0)
    blade_gap: float = 3.0
    trammel_bit: float = 12.0
    router_base: float = 160.0
    pass_depth: float = 3.0
    leave: float = 1.0
    strip: float = 40.0
    guide: Guide = "bush"
    patterns: Patterns = "none"


@dataclass(frozen=True, slots=True)
class Router:
    """The routing machine. `bits` are those besides `shop.router_bit`: diameter, cutting length, depth of one pass.

    `held_by` says what holds parts until the last pass: `tab` has width and height, `screw` its hole's diameter and
    how far it keeps from cuts, `vacuum` is the least area in cm2. `through` is how far cuts go into the bed. How far
    parts lie apart is a matter of the stock.
    """

    bits: tuple[tuple[float, float, float], ...] = ()
    held_by: Holding = "tabs"
    tab: tuple[float, float] = (8.0, 2.5)
    skin: float = 0.5
    screw: tuple[float, float] = (5.0, 6.0)
    vacuum: float = 150.0
    through: float = 0.5


@dataclass(frozen=True, slots=True)
class Wood:
    """A species of the maker's own: shrinkage in % green to ovendry, density in kg/m3 at 12 % moisture."""

    radial: float
    tangential: float
    density: float
    fibre_saturation: float
    stiffness: float


@dataclass(frozen=True, slots=True)
class Measured:
    """One size found on the bench, kept as written until re-fitting reads it."""

    entries: Mapping[str, object]


@dataclass(frozen=True, slots=True)
class Profile:
    """The whole input of a project, in millimetres and radians; `written` is what the file says, as read,
    `text` the file itself, of whose bytes, and those of the `workshop` file where there is one, `sha256` is.

    Raises:
        ProfileError: a choice holds a word that it does not take.
    """

    name: str
    title: str
    units: Units
    wood: str
    top: Top
    slats: Slats
    joints: Joints
    legs: Legs
    base: Base
    shop: Shop
    limits: Limits
    stock: tuple[Stock, ...]
    paper: Paper
    dxf: Dxf
    woods: Mapping[str, Wood] = field(default_factory=dict)
    values: Mapping[str, float] = field(default_factory=dict)
    measured: tuple[Measured, ...] = ()
    sha256: str = ""
    file: str = ""
    lines: Mapping[str, int] = field(default_factory=dict, compare=False)
    written: Mapping[str, object] = field(default_factory=dict, compare=False)
    jigs: Jigs = field(default_factory=Jigs)
    router: Router = field(default_factory=Router)
    text: str = field(default="", compare=False)
    rates: Rates = field(default_factory=Rates)
    work: Work = field(default_factory=Work)
    suit: Suit = field(default_factory=Suit)
    edges: Edges = field(default_factory=Edges)
    maker: Maker = field(default_factory=Maker)
    words: Wording = field(default_factory=Wording)
    workshop: Workshop | None = None

    def __post_init__(self) -> None:
        sections = (  # those that hold words of a few
            "top", "slats", "joints", "legs", "base", "edges", "shop", "limits", "dxf", "jigs", "router", "work",
            "words",
        )  # fmt: skip
        named = (("", self), *((name, getattr(self, name)) for name in sections))
        stocks = ((f"stock {stock.name}", stock) for stock in self.stock)
        if faults := [fault for where, section in (*named, *stocks) for fault in unknown_words(where, section)]:
            raise ProfileError(faults)

    @property
    def in_force(self) -> Mapping[str, Any]:
        """What the file and the workshop's say together, as read."""
        return together(self.written, self.workshop)

    def of_workshop(self, key: str) -> Workshop | None:
        """The workshop file, where that and not the profile sets `key`."""
        return self.workshop if is_the_workshop_s(key, self.written, self.workshop) else None

    def file_of(self, key: str) -> str:
        """The file in which `key` stands, or would."""
        workshop = self.of_workshop(key)
        return workshop.file if workshop else self.file

    def line_of(self, key: str) -> int:
        """The line of that file on which `key`, or its first entry, stands; 0 where it is a default."""
        workshop = self.of_workshop(key)
        lines = workshop.lines if workshop else self.lines
        return nearest_line(lines, key) if key in lines or f"{key}[1]" in lines else 0

    def units_of(self, key: str) -> Units:
        """What a bare number is in where `key` is set."""
        workshop = self.of_workshop(key)
        return workshop.units if workshop else self.units
