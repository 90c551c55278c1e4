"""Reads a profile: every fault in it is told at once, each with its file, line and key."""

from __future__ import annotations

import os
from collections.abc import Mapping
from typing import Any

from templategen.errors import Fault, ProfileError
from templategen.table.profile import keys
from templategen.table.profile.collect import Collector, Enough
from templategen.table.profile.entries import (
    read_measured,
    read_paper,
    read_paper_size,
    read_stock,
    read_values,
    read_wood,
    read_woods,
)
from templategen.table.profile.judge import plain_text, unknown_keys
from templategen.table.profile.limits import Limits
from templategen.table.profile.load import Source, source_from_file, source_from_text, toml_values
from templategen.table.profile.locate import line_of, lines_of, locate_faults
from templategen.table.profile.model import (
    Base,
    Dxf,
    Edges,
    Jigs,
    Joints,
    Legs,
    Paper,
    Profile,
    Rates,
    Router,
    Shop,
    Slats,
    Top,
    Work,
)  # fmt: skip
from templategen.table.profile.resolve import Resolver, described
from templategen.table.profile.suit import read_suit
from templategen.wood.species import plain_name

__all__ = ["line_of", "locate_faults", "profile_from_text", "read_profile"]


def read_profile(path: str | os.PathLike[str]) -> Profile:
    """The profile in the file at `path`, in mm and radians, every key present.

    Raises: ProfileError with every fault found: the file, the TOML, unknown keys, kinds, ranges, arithmetic.
    """
    return _profile(source_from_file(path))


def profile_from_text(text: str, name: str, file: str = "") -> Profile:
    """The profile written in `text`; `file` is only named in messages.

    Raises: ProfileError as `read_profile`.
    """
    return _profile(source_from_text(text, name, file))


def _profile(source: Source) -> Profile:
    data = toml_values(source)
    head = keys.HEAD[1]
    units = data.get("units", head.default)
    units = units.strip().casefold() if isinstance(units, str) else ""
    units = units if units in keys.UNITS else "mm"
    sections = {name: body for name, body in data.items() if isinstance(body, dict)}
    collector = Collector(Resolver(sections, units), units)
    try:
        profile = _read(source, data, collector, units)
    except Enough:
        collector.faults.append(Fault("", "there are more faults than these", "put these right first"))
    if collector.faults:
        raise ProfileError(locate_faults(source.text, source.file, collector.faults))
    return profile


def _read(source: Source, data: Mapping[str, object], collector: Collector, units: str) -> Profile:
    title_key, units_key, wood_key = keys.HEAD
    _judge_format(data, collector)
    for fault in unknown_keys("", list(data), keys.TOP_LEVEL, list(keys.KEYS)):
        collector.tell(fault)
    collector.choice(units_key, "", data)
    title = str(title_key.default)
    with collector.trying():
        title = plain_text("title", data.get("title", title), keys.LONGEST_TITLE)
    values = read_values(collector, collector.table("values", data.get("values")))
    woods = read_woods(collector, data.get("woods"))
    wood = str(wood_key.default)
    named = data.get("woods")
    own = [*woods, *map(plain_name, named)] if isinstance(named, dict) else []
    with collector.trying():
        wood = read_wood("wood", data.get("wood", wood), own)
    sections = _sections(collector, data)
    with collector.trying():
        written = collector.table("jigs", data.get("jigs")).get("wood", keys.KEYS["jigs.wood"].default)
        sections["jigs"]["wood"] = read_wood("jigs.wood", written, own)
    _judge_relations(collector, sections)
    return Profile(
        name=source.name,
        title=title,
        units="in" if units == "in" else "mm",
        wood=wood,
        top=Top(**sections["top"]),
        slats=Slats(**sections["slats"]),
        joints=Joints(**sections["joints"]),
        legs=Legs(**sections["legs"]),
        base=Base(**sections["base"]),
        edges=Edges(**sections["edges"]),
        shop=Shop(**sections["shop"]),
        jigs=Jigs(**sections["jigs"]),
        router=Router(**sections["router"]),
        rates=Rates(**sections["rates"]),
        work=Work(**sections["work"]),
        limits=Limits(**sections["limits"]),
        stock=read_stock(collector, data.get("stock"), wood, own, _bits(sections)),
        paper=Paper(**read_paper(collector, sections["paper"], units if units in keys.UNITS else "mm")),
        dxf=Dxf(**sections["dxf"]),
        woods=woods,
        values=values,
        measured=read_measured(collector, data.get("measured")),
        suit=read_suit(collector, collector.table("suit", data.get("suit")), _by_path(sections)),
        sha256=source.sha256,
        text=source.whole,
        file=source.file,
        lines=lines_of(source.text) if not collector.faults else {},
        written=data,
    )


def _bits(sections: Mapping[str, Mapping[str, Any]]) -> list[tuple[float, float]]:
    """Diameter of every router bit and how deep it frees a part, the shop's own first."""
    shop, router = sections["shop"], sections["router"]
    own = (shop["router_bit"], shop["bit_length"])
    return [(row[0], row[1] - router["through"]) for row in (own, *router["bits"])]


def _by_path(sections: Mapping[str, Mapping[str, Any]]) -> dict[str, Any]:
    return {f"{name}.{key}": value for name, section in sections.items() for key, value in section.items()}


def _sections(collector: Collector, data: Mapping[str, object]) -> dict[str, dict[str, Any]]:
    """The values of every plain section by its name."""
    sections: dict[str, dict[str, Any]] = {}
    for name, known in keys.SECTIONS.items():
        written = collector.table(name, data.get(name))
        sections[name] = collector.section(known, name, written)
        if name == "paper":
            size = written.get("size", known[0].default)
            sections[name]["size"] = read_paper_size(collector, known[0], size)
    return sections


def _judge_format(data: Mapping[str, object], collector: Collector) -> None:
    if "format" not in data:
        collector.tell(Fault("format", "is missing", "add format = 1 as the first line"))
    elif data["format"] != keys.FORMAT or isinstance(data["format"], bool):
        found = f"{described(data['format'])} is not a format known here"
        collector.tell(Fault("format", found, "write format = 1"))


def _judge_relations(collector: Collector, sections: Mapping[str, Mapping[str, Any]]) -> None:
    """Rules between keys that can be told before anything is built."""
    rails, segments = sections["top"]["rails"], sections["top"]["segments"]
    step = 2 * rails
    if segments % step and not _told(collector, "top.rails", "top.segments"):
        valid = [number for number in range(step, 25, step) if number >= 6]
        near = min(valid, key=lambda number: abs(number - segments))
        remedy = f"with {rails} rails it is a multiple of {step}: {', '.join(map(str, valid))}; try {near}"
        collector.tell(Fault("top.segments", str(segments), remedy))
    low, high = sections["shop"]["humidity"]
    if low >= high:
        remedy = "write the driest air first, then the dampest, such as [45, 85]"
        collector.tell(Fault("shop.humidity", f"{low:g} to {high:g} is no range", remedy))
    for key in keys.SECTIONS["limits"]:
        pair = sections["limits"][key.name]
        if key.kind == "list" and pair[0] > pair[1]:
            collector.tell(Fault(key.path, f"{pair[0]:g} to {pair[1]:g} is no range", "write the smaller one first"))


def _told(collector: Collector, *paths: str) -> bool:
    return any(fault.where in paths for fault in collector.faults)
