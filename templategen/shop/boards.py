"""Boards to buy by wood and thickness: how much wood the parts hold, and how much to ask the yard for."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from math import fsum

from templategen.catalogue import translated
from templategen.parts.part import Part
from templategen.shop.listing import Cell, Listing
from templategen.shop.rough import Rough, rough_of
from templategen.table.assembly import Table
from templategen.table.profile.model import Profile
from templategen.table.profile.model_of_shop import Stock
from templategen.units import MM_PER_INCH, format_mm, inch_fraction

MM3_PER_M3 = 1e9
MM3_PER_BOARD_FOOT = 25.4**3 * 144
INCH = float(MM_PER_INCH)

THICKER = ((50.0, 5.0), (1e9, 7.0))
"""What to allow for planing, mm, for thicknesses up to the first figure: 5 to 6 mm up to 50 mm, 6 to 8 mm above (shop
practice)."""

SAWN_MM = (19.0, 22.0, 25.0, 27.0, 32.0, 38.0, 44.0, 50.0, 63.0, 75.0, 100.0, 125.0, 150.0)
"""Sawn thicknesses that metric yards stock, mm; national lists differ."""

QUARTERS = (4, 5, 6, 8, 10, 12, 16)
"""Sawn thicknesses that yards sell by the quarter inch."""

LEAST_TALLIED = INCH
"""Stock thinner than an inch is counted as an inch."""


@dataclass(frozen=True, slots=True)
class Boards:
    """The parts of one wood that come out of one thickness: codes, pieces, their net volume in m3.

    `bought` is that thickness in mm: of the profile's stock, else `rough`, the thinnest that a yard saws from which
    they can be planed (0 where no series reaches). `sawn` is the thickness by which a yard reckons, mm: the rough one
    where boards are bought planed. `volume` in m3 is what to ask for of that, allowances and waste included.
    """

    wood: str
    bought: float
    rough: float
    sawn: float
    codes: tuple[str, ...]
    pieces: int
    net: float
    volume: float
    stock: tuple[Stock, ...]

    @property
    def quarters(self) -> str:
        """The rough thickness in quarters of an inch, `6/4`."""
        return f"{round(self.rough / INCH * 4)}/4" if self.rough else ""

    @property
    def board_feet(self) -> float:
        """The volume to ask for in board feet; stock under an inch is counted as an inch."""
        return self.volume * MM3_PER_M3 / MM3_PER_BOARD_FOOT * max(1.0, LEAST_TALLIED / self.sawn)

    @property
    def net_board_feet(self) -> float:
        """The wood in the parts alone, in board feet."""
        return self.net * MM3_PER_M3 / MM3_PER_BOARD_FOOT


def boards_of(table: Table, tables: int = 1) -> tuple[Boards, ...]:
    """The boards for so many tables, thickest of each wood first."""
    profile = table.profile
    groups: dict[tuple[str, float], list[Part]] = {}
    for part in table.parts:
        groups.setdefault((part.wood, bought_thickness(profile, part)), []).append(part)
    ordered = sorted(groups.items(), key=lambda item: (item[0][0], -item[0][1]))
    return tuple(_boards(profile, bought, parts, tables) for (_, bought), parts in ordered)


def bought_thickness(profile: Profile, part: Part) -> float:
    """The thickness a part is made from: the thinnest stock that is thick enough, else the next that a yard saws."""
    rough = rough_thickness(part.thickness, profile.units)
    return thinnest(part, profile.stock) or rough or part.thickness + allowance(part.thickness)


def thinnest(part: Part, stock: Iterable[Stock]) -> float | None:
    """The thickness of the thinnest stock of the part's wood that is thick enough; None where there is none."""
    fit = (one.thickness for one in stock if one.wood == part.wood and one.thickness >= part.thickness - THIN)
    return min(fit, default=None)


def rough_in(profile: Profile, part: Part, tables: int = 1) -> Rough:
    """What is sawn out for a part, from boards of the thickness that is bought for it."""
    return rough_of(profile.shop, part, tables, bought_thickness(profile, part))


def is_planed(table: Table, part: Part) -> bool:
    """Whether its boards have the part's thickness as they come."""
    return abs(bought_thickness(table.profile, part) - part.thickness) < THIN


def _boards(profile: Profile, bought: float, parts: list[Part], tables: int) -> Boards:
    sizes = [(part.count * tables, *part.size) for part in parts]
    net = fsum(count * length * width * thick for count, length, width, thick in sizes)
    roughs = [rough_of(profile.shop, part, tables, bought) for part in parts]
    asked = fsum(rough.count * rough.length * rough.width for rough in roughs)
    thickest = max(part.thickness for part in parts)
    rough = rough_thickness(thickest, profile.units)
    sawn = max(bought, rough) if abs(bought - thickest) < THIN else bought
    volume = asked * sawn * (1 + profile.shop.waste / 100)
    stock = tuple(one for one in profile.stock if one.wood == parts[0].wood and one.thickness == bought)
    codes, pieces = tuple(part.code for part in parts), sum(count for count, *_ in sizes)
    return Boards(parts[0].wood, bought, rough, sawn, codes, pieces, net / MM3_PER_M3, volume / MM3_PER_M3, stock)


def allowance(thickness: float) -> float:
    """What planing takes off the thickness, mm."""
    return next(more for most, more in THICKER if thickness <= most)


def rough_thickness(thickness: float, units: str) -> float:
    """The thinnest sawn thickness that a yard keeps from which the part can be planed, mm; 0 where none is."""
    series = [quarter * INCH / 4 for quarter in QUARTERS] if units == "in" else SAWN_MM
    return next((sawn for sawn in series if sawn >= thickness + allowance(thickness)), 0.0)


def tally(stock: Stock, pieces: int) -> float:
    """Board feet of bought stock as yards tally them: each piece's surface measure to whole feet, by its thickness,
    which is an inch at least."""
    surface = round(stock.length * stock.width / INCH**2 / 144)
    return float(pieces * max(1, surface) * max(LEAST_TALLIED, stock.thickness) / INCH)


def boards_list(table: Table, used: Mapping[str, int], tables: int = 1) -> Listing:
    """Header and rows: one for each wood and thickness to buy, with what the layouts use of the stock."""
    inches = table.profile.units == "in"
    header = ["wood", "bought_mm", *(["bought_in", "rough_quarters"] if inches else ["rough_mm"]), "parts", "pieces"]
    header += [
        "net_m3",
        *(["net_board_feet"] if inches else []),
        "waste_percent",
        "to_buy_m3",
        *(["to_buy_board_feet"] if inches else []),
    ]
    header += ["stock", "stock_pieces", "stock_m3", *(["stock_board_feet"] if inches else []), "stock_cost", "yield"]
    return header, [list(_row(table.profile, boards, used)) for boards in boards_of(table, tables)]


def _row(profile: Profile, boards: Boards, used: Mapping[str, int]) -> Iterator[Cell]:
    inches = profile.units == "in"
    yield from (translated(boards.wood), format_mm(boards.bought, 1))
    if inches:
        yield from (inch_fraction(boards.bought)[0], boards.quarters)
    else:
        yield format_mm(boards.rough, 0) if boards.rough else ""
    yield from (", ".join(boards.codes), str(boards.pieces), format_mm(boards.net, 4))
    if inches:
        yield format_mm(boards.net_board_feet, 1)
    yield from (format_mm(profile.shop.waste, 0), format_mm(boards.volume, 4))
    if inches:
        yield format_mm(boards.board_feet, 1)
    yield from _stock_cells(boards, used, inches)


def _stock_cells(boards: Boards, used: Mapping[str, int], inches: bool) -> Iterator[Cell]:
    """The stock of this wood and thickness as the layouts use it."""
    counts = [(one, used[one.name]) for one in boards.stock if used.get(one.name)]
    if not counts:
        yield from ("", "", "", *([""] if inches else []), "", "")
        return
    volume = fsum(count * one.length * one.width * one.thickness for one, count in counts) / MM3_PER_M3
    yield from (", ".join(one.name for one, _ in counts), str(sum(count for _, count in counts)))
    yield format_mm(volume, 4)
    if inches:
        yield format_mm(fsum(tally(one, count) for one, count in counts), 1)
    yield format_mm(fsum(count * one.price for one, count in counts), 2)
    yield format_mm(boards.net / volume, 3)


THIN = 0.05
"""Stock measured this much thinner than a part still serves it, mm."""
