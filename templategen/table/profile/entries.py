"""The parts of a profile that are lists or the maker's own: values, woods, stock, measured sizes, paper."""

import keyword
import math
import re
from collections.abc import Iterator, Mapping, Sequence
from typing import Any, cast

from templategen.catalogue import fault_of, translated, worded
from templategen.errors import Fault, ProfileError
from templategen.table.profile import keys
from templategen.table.profile.choices import StockKind
from templategen.table.profile.collect import Collector
from templategen.table.profile.judge import plain_text
from templategen.table.profile.key import Key, length, section
from templategen.table.profile.model import Measured, Wood
from templategen.table.profile.model_of_shop import Stock
from templategen.table.profile.printer import contradiction, correction
from templategen.table.profile.resolve import described
from templategen.table.profile.routing import routed_gap, routed_margin, routing_faults, stock_bit
from templategen.table.profile.suggest import did_you_mean, nearest
from templategen.units import quoted
from templategen.wood.species import SHEET_WOOD, SPECIES, plain_name

PAPER_NAMES = (*(f"{row}{n}" for row in "AB" for n in range(7)), "letter", "legal", "tabloid")
(_PAPER_SIDE,) = section("paper", length("size", 0, 50, 10_000, "a template is printed on it", "width or height"))
_ON_IT = "it lies on the board"
_FAULT_PARTS = section(
    "stock",
    length("x", 0, 0, 100_000, _ON_IT, "x"),
    length("y", 0, 0, 10_000, _ON_IT, "y"),
    length("diameter", 0, 0.1, 1000, _ON_IT, "diameter"),
)
_AREA_PARTS = (
    *_FAULT_PARTS[:2],
    *section(
        "stock", length("length", 0, 0.1, 100_000, _ON_IT, "length"), length("width", 0, 0.1, 10_000, _ON_IT, "width")
    ),
)
_MARGIN_PARTS = section(
    "stock",
    *(length("margin", 5, 0, 10_000, "it is trimmed off", edge) for edge in ("left", "right", "bottom", "top")),
)


def read_values(collector: Collector, written: Mapping[str, object]) -> dict[str, float]:
    """The maker's own named sizes: lengths in mm, angles in radians, numbers as they are."""
    values: dict[str, float] = {}
    for name in written:
        where = f"values.{name}"
        if not re.fullmatch(r"[A-Za-z_]\w*", name, re.ASCII) or keyword.iskeyword(name):
            usable = re.sub(r"\W+", "_", name, flags=re.ASCII).strip("_") or "size"
            usable = (
                f"{usable}_" if keyword.iskeyword(usable) else usable if not usable[0].isdigit() else f"n{usable}"
            )
            collector.tell(
                fault_of(
                    where,
                    "{name} can't be used in arithmetic",
                    "name it {usable}",
                    name=quoted(name),
                    usable=usable[:40],
                )
            )
        elif (found := collector.resolved(where)) is not None:
            values[name] = math.radians(found.amount) if found.kind == "angle" else float(found.amount)
    return values


def read_woods(collector: Collector, written: object) -> dict[str, Wood]:
    """The maker's own woods by their plain name."""
    woods: dict[str, Wood] = {}
    for name, body in collector.table("woods", written).items():
        where = f"woods.{name}"
        table = collector.table(where, body)
        if not isinstance(body, dict):
            continue
        collector.unknown(where, table, keys.WOODS)
        for needed in keys.NEEDED_OF_WOODS:
            if needed not in table:
                collector.tell(
                    fault_of(f"{where}.{needed}", "is missing", "write its shrinkage in %, green to ovendry")
                )
        with collector.trying():
            plain = plain_name(plain_text(where, name, keys.LONGEST_NAME))
            if plain in woods:
                raise ProfileError(fault_of(where, "is there twice", "give each wood its own name"))
            woods[plain] = Wood(**{key.name: collector.number(key, where, table) for key in keys.WOODS})
    return woods


def read_wood(where: str, raw: object, own: Sequence[str]) -> str:
    """The plain name of a wood that the built-in table or the maker's own woods hold.

    Raises: ProfileError with the nearest one.
    """
    name = plain_name(plain_text(where, raw, keys.LONGEST_NAME))
    if name in own or name in SPECIES:
        return name
    remedy = did_you_mean(name, [*own, *SPECIES])
    remedy = (
        remedy
        if nearest(name, [*own, *SPECIES])
        else worded("templategen list woods shows them, or add [woods.{name}]", name=quoted(name))
    )
    raise ProfileError(Fault(where, worded("{raw} is not a wood known here", raw=described(raw)), remedy))


def read_stock(
    collector: Collector, written: object, wood: str, own: Sequence[str], bits: Sequence[Sequence[float]]
) -> tuple[Stock, ...]:
    """All stock; each of its own name, however it is spelled, since files are named after it. `bits` are diameters
    and cutting lengths of the router's."""
    stock: list[Stock] = []
    names: set[str] = set()
    for number, body in enumerate(collector.tables("stock", written), 1):
        where = f"stock[{number}]"
        collector.unknown(where, body, keys.STOCK)
        one = _one_stock(collector, where, body, wood, own, bits)
        if one.name.casefold() in names:
            remedy = translated("files are named after it: give each its own name")
            collector.tell(
                Fault(f"{where}.name", worded("{name} is the name of another stock", name=quoted(one.name)), remedy)
            )
        names.add(one.name.casefold())
        collector.tell(*_stock_relations(where, one), *routing_faults(where, one, collector.units))
        stock.append(one)
    return tuple(stock)


def _one_stock(
    collector: Collector,
    where: str,
    body: Mapping[str, object],
    wood: str,
    own: Sequence[str],
    bits: Sequence[Sequence[float]],
) -> Stock:
    by_name = {key.name: key for key in keys.STOCK}
    name = f"stock {where[6:-1]}"
    kind = cast("StockKind", collector.choice(by_name["kind"], where, body))
    timber = SHEET_WOOD if kind == "sheet" else wood
    with collector.trying():
        name = plain_text(f"{where}.name", body.get("name", name), keys.LONGEST_NAME)
    with collector.trying():
        timber = read_wood(f"{where}.wood", body.get("wood", timber), own) if "wood" in body else timber
    sizes: dict[str, Any] = {
        k: collector.number(by_name[k], where, body) for k in ("length", "width", "thickness", "price")
    }
    count = int(collector.number(by_name["count"], where, body)) if "count" in body else None
    faults = collector.rows(_FAULT_PARTS, f"{where}.faults", body.get("faults", []))
    areas = collector.rows(_AREA_PARTS, f"{where}.fault_areas", body.get("fault_areas", []))
    ends = (0.0, 0.0)
    if "bad_ends" in body:
        read = collector.parts(by_name["bad_ends"].parts, f"{where}.bad_ends", body["bad_ends"], "left, right")
        ends = (read[0], read[1]) if read is not None else ends
    mode = collector.choice(by_name["mode"], where, body) if "mode" in body else ""
    if mode not in ("sawn", "routed"):
        mode = "sawn" if kind == "board" else "routed"
    bit = stock_bit(bits, sizes["thickness"]) if mode == "routed" else 0.0
    spare: dict[str, Any] = {"margin": routed_margin(bit), "gap": routed_gap(bit)} if bit else {}
    sizes["margin"] = _margin(collector, by_name["margin"], where, body)
    sizes["gap"] = collector.number(by_name["gap"], where, body) if "gap" in body else 0.0
    sizes |= {name: value for name, value in spare.items() if name not in body}
    marks: dict[str, Any] = {"faults": faults, "fault_areas": areas, "bad_ends": ends, "mode": mode, "bit": bit}
    return Stock(name=name, kind=kind, wood=timber, count=count, **sizes, **marks)


def _margin(
    collector: Collector, key: Key, where: str, body: Mapping[str, object]
) -> float | tuple[float, float, float, float]:
    """One margin for every edge, or four."""
    raw = body.get(key.name)
    if not isinstance(raw, list):
        return collector.number(key, where, body)
    read = collector.parts(_MARGIN_PARTS, f"{where}.margin", raw, "left, right, bottom, top")
    return (read[0], read[1], read[2], read[3]) if read is not None else 0.0


def _stock_relations(where: str, one: Stock) -> Iterator[Fault]:
    """What one piece of stock says against itself."""
    if one.kind != "roll" and not one.thickness:
        yield fault_of(f"{where}.thickness", "a {kind} has some thickness", "measure it", kind=translated(one.kind))
    left, right, bottom, top = one.margin if isinstance(one.margin, tuple) else (one.margin,) * 4
    if left + right >= one.length or bottom + top >= one.width:
        yield fault_of(f"{where}.margin", "nothing is left between the margins", "write a smaller margin")
    ends = [max(left, one.bad_ends[0]), max(right, one.bad_ends[1])]
    if any(one.bad_ends) and sum(ends) >= one.length:
        yield fault_of(f"{where}.bad_ends", "nothing is left between the bad ends", "leave the stock out")
    for number, (x, y, *_) in enumerate(one.fault_areas, 1):
        if x >= one.length or y >= one.width:
            remedy = translated("x runs along the length and y across it, from the lower left corner")
            yield Fault(
                f"{where}.fault_areas[{number}]",
                worded("the fault lies off the {kind}", kind=translated(one.kind)),
                remedy,
            )
    for number, (x, y, diameter) in enumerate(one.faults, 1):
        if x - diameter / 2 >= one.length or y - diameter / 2 >= one.width:
            remedy = translated("x runs along the length and y across it, from the lower left corner")
            yield Fault(
                f"{where}.faults[{number}]", worded("the knot lies off the {kind}", kind=translated(one.kind)), remedy
            )


def read_measured(collector: Collector, written: object) -> tuple[Measured, ...]:
    """Sizes as found on the bench, kept whole; only their shape is judged here."""
    measured: list[Measured] = []
    for number, body in enumerate(collector.tables("measured", written), 1):
        for name, value in body.items():
            with collector.trying():
                _refuse_nested(f"measured[{number}].{name}", value)
        measured.append(Measured(body))
    return tuple(measured)


def _refuse_nested(where: str, value: object) -> None:
    if isinstance(value, str):
        plain_text(where, value, keys.LONGEST_TITLE)
    elif not isinstance(value, (bool, int, float)) or abs(value) > 1e9 or value != value:
        raise ProfileError(fault_of(where, "{raw} stands here", "a number or a text is wanted", raw=described(value)))


def read_paper(collector: Collector, section: Mapping[str, Any]) -> dict[str, Any]:
    """The paper's values; measured lengths, where there are any, make scale and skew."""
    values = dict(section)
    measured = tuple(float(value) for value in section["measured"])
    values["measured"] = measured if any(measured) else ()
    if not any(measured):
        return values
    units = collector.units_of("paper.measured")
    fault = contradiction(measured, units) if all(measured) else _not_all(measured)
    both = [key for key, plain in (("scale_x", 1.0), ("scale_y", 1.0), ("skew", 0.0)) if section[key] != plain]
    if both:
        found = translated("stands beside paper.measured, which says the same")
        collector.tell(Fault(f"paper.{both[0]}", found, translated("keep one of the two")))
    elif fault:
        collector.tell(fault)
    else:
        values["scale_x"], values["scale_y"], values["skew"] = correction(measured, units)
    return values


def _not_all(measured: Sequence[float]) -> Fault:
    found = worded("{given} of 4 lengths are given", given=sum(value > 0 for value in measured))
    return Fault(
        "paper.measured", found, translated("measure width, height, rising and falling diagonal of the square")
    )


def read_paper_size(collector: Collector, key: Key, raw: object) -> str | tuple[float, ...]:
    """A paper's name, or width and height in mm, or the width of a roll alone."""
    if isinstance(raw, list):
        if len(raw) in (1, 2):
            names = "width, height" if len(raw) == 2 else "width"
            return collector.parts((_PAPER_SIDE,) * len(raw), key.path, raw, names) or "A4"
        collector.tell(
            fault_of(
                key.path,
                "a list of {count} stands here",
                "write [width, height], or [width] for a roll",
                count=len(raw),
            )
        )
        return "A4"
    if isinstance(raw, str):
        for name in PAPER_NAMES:
            if name.casefold() == raw.strip().casefold():
                return name
    meant = did_you_mean(raw, PAPER_NAMES) if isinstance(raw, str) else ""
    remedy = meant if isinstance(raw, str) and nearest(raw, PAPER_NAMES) else worded("write {doc}", doc=key.told)
    collector.tell(Fault(key.path, worded("{raw} is not a paper size", raw=described(raw)), remedy))
    return "A4"
