"""The profile as values: millimetres and radians, every key present; the workshop's share is in `model_of_shop`."""

from collections.abc import Mapping
from dataclasses import dataclass, field, fields, is_dataclass
from typing import Any

from templategen.errors import ProfileError
from templategen.parts.revision import REVISION
from templategen.table.profile.choices import (
    Apex,
    Corner,
    Edge,
    EdgeShape,
    Feet,
    Glides,
    Hold,
    Parasol,
    Run,
    SlatFace,
    Spline,
    TopJoint,
    Units,
    unknown_words,
)  # fmt: skip
from templategen.table.profile.limits import Limits
from templategen.table.profile.locate import nearest_line
from templategen.table.profile.model_of_shop import Dxf, Jigs, Maker, Paper, Rates, Router, Shop, Stock, Wording, Work
from templategen.table.profile.wish import Suit
from templategen.table.profile.workshop import Workshop, is_the_workshop_s, merged_with


@dataclass(frozen=True, slots=True)
class Top:
    """Rim and rails of the table top; `drip_groove` is from the edge, width, depth, no depth for none."""

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
    drip_groove: tuple[float, float, float] = (14.0, 6.0, 0.0)


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

    @property
    def lie_along_a_rail(self) -> bool:
        """Whether the first of them lie beside a rail, no gap between: of a straight run whose apex is closed."""
        return self.run == "straight" and self.apex == "closed"


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
    """The pedestal's legs; `tenon` is thickness, width, length, `stub` its length at the top where it stays dry,
    `bolt` thread, width and height of its head, `barrel_nut` diameter and length, `peg` thickness, draw, and its
    middle over the rails' underside."""

    section: float
    centre_distance: float
    base_centre_distance: float
    tenon: tuple[float, float, float]
    corner: Corner
    corner_size: float
    top_joint: TopJoint = "glued"
    stub: float = 10.0
    bolt: tuple[float, float, float] = (10.0, 30.0, 8.5)
    barrel_nut: tuple[float, float] = (16.0, 24.0)
    peg: tuple[float, float, float] = (8.0, 1.2, 10.0)


@dataclass(frozen=True, slots=True)
class Base:
    """The ground cross and its feet; `glide` is diameter, thickness and how deep its screw or nail goes."""

    length: float
    rail_width: float
    thickness: float
    feet: Feet
    foot_thickness: float
    foot_length: float
    end_round: float
    drain_hole: float
    glides: Glides = "none"
    glides_each: int = 1
    glide: tuple[float, float, float] = (30.0, 5.0, 20.0)


@dataclass(frozen=True, slots=True)
class Edges:
    """Arrises besides the rim's outer ones, the slats' upper ones and the legs': what is taken off each, mm."""

    shape: EdgeShape = "chamfered"
    rim: float = 2.0
    rail: float = 2.0
    slat: float = 1.0
    base: float = 3.0


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
        sections = ((one.name, getattr(self, one.name)) for one in fields(self))
        named = (("", self), *((name, section) for name, section in sections if is_dataclass(section)))
        stocks = ((f"stock {stock.name}", stock) for stock in self.stock)
        if faults := [fault for where, section in (*named, *stocks) for fault in unknown_words(where, section)]:
            raise ProfileError(faults)

    @property
    def revision(self) -> str:
        """A short name for this state of the profile, from its hash."""
        return self.sha256[:REVISION]

    @property
    def in_force(self) -> Mapping[str, Any]:
        """What the file and the workshop's say merged_with, as read."""
        return merged_with(self.written, self.workshop)

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
