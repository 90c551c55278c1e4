"""What belongs to the workshop, as values: tools, ways, rates, stock, paper; millimetres and radians."""

from dataclasses import dataclass
from typing import get_args

from templategen.english import CustomerLanguage, English, Language
from templategen.table.profile.choices import (
    ClosingWay,
    CornerRelief,
    DxfVersion,
    Guide,
    HandTool,
    Holding,
    Machine,
    Patterns,
    PlainWay,
    StockKind,
    StockMode,
    Units,
    WorkWay,
)
from templategen.wood.glue import GlueClass
from templategen.wood.movement import Sawn


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
    circular_saw_depth: float = 65.0
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
    planing: PlainWay = "auto"
    ripping: PlainWay = "auto"
    ends: PlainWay = "auto"
    laps: PlainWay = "auto"
    grooves: WorkWay = "auto"
    slots: WorkWay = "auto"
    tongues: PlainWay = "auto"
    mortises: PlainWay = "auto"
    holes: PlainWay = "auto"
    edges: PlainWay = "auto"
    rounding: PlainWay = "auto"


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
    bolt_price: float = 0.0
    glide_price: float = 0.0
    peg_price: float = 0.0
    glue_price: float = 0.0
    finish_price: float = 0.0
    waste: float = 10.0
    overhead: float = 0.0
    tax: float = 0.0
    doubt: float = 25.0
    valid: int = 30


@dataclass(frozen=True, slots=True)
class Maker:
    """Who makes the table: name, lines below it, the path of a mark, the currency of all prices, what is said of
    delivery; "" unsaid."""

    name: str = ""
    lines: tuple[str, ...] = ()
    mark: str = ""
    currency: str = ""
    delivery: str = ""


@dataclass(frozen=True, slots=True)
class Wording:
    """How a packet is told."""

    english: English = "british"
    language: Language = "english"
    customer: CustomerLanguage = "the same"


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
