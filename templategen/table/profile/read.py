"""Reads a profile: every fault in it is told at once, each with its file, line and key."""

import os
from collections.abc import Callable, Iterable, Mapping
from dataclasses import replace
from typing import Any

from templategen.catalogue import fault_of, translated, worded
from templategen.english import spoken_in
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
from templategen.table.profile.load import Source, digest, source_from_file, source_from_text, toml_values
from templategen.table.profile.locate import line_of, lines_of, locate_faults
from templategen.table.profile.model import Base, Edges, Joints, Legs, Profile, Slats, Top
from templategen.table.profile.model_of_shop import Dxf, Jigs, Maker, Paper, Rates, Router, Shop, Wording, Work
from templategen.table.profile.read_workshop import workshop_for
from templategen.table.profile.resolve import Resolver, described
from templategen.table.profile.suit import read_suit
from templategen.table.profile.workshop import Workshop, is_the_workshop_s, merged_with
from templategen.wood.species import plain_name

__all__ = ["line_of", "locate_faults", "placed_in", "profile_from_text", "read_profile"]


def read_profile(path: str | os.PathLike[str], shop: str | None = None) -> Profile:
    """The profile in the file at `path`, in mm and radians, every key present.

    `shop` is a workshop file, or "none"; left out it is the one that the profile names, else the maker's own.

    Raises: ProfileError with every fault found: the files, the TOML, unknown keys, kinds, ranges, arithmetic.
    """
    return _with_shop(source_from_file(path), shop)


def profile_from_text(text: str, name: str, file: str = "", workshop: Workshop | None = None) -> Profile:
    """The profile written in `text`, with this `workshop` file or none; `file` is only named in messages.

    Raises: ProfileError as `read_profile`.
    """
    source = source_from_text(text, name, file)
    with spoken_in(source.text):
        written = toml_values(source)
    return _profile(source, written, workshop)


def profile_in_place(text: str, path: str, shop: str | None = None) -> Profile:
    """What `read_profile` would give if the file at `path` held `text`; raises as that does."""
    name = os.path.splitext(os.path.basename(path))[0]
    return _with_shop(source_from_text(text, name, path), shop)


def _with_shop(source: Source, shop: str | None) -> Profile:
    with spoken_in(source.text):
        written = toml_values(source)
        workshop = workshop_for(source, written, shop)
    return _profile(source, written, workshop)


def _profile(source: Source, written: dict[str, object], workshop: Workshop | None) -> Profile:
    with spoken_in(source.text, workshop.text if workshop else ""):
        return _merged(source, written, workshop)


def _merged(source: Source, written: dict[str, object], workshop: Workshop | None) -> Profile:
    data = merged_with(written, workshop)
    head = keys.HEAD[1]
    units = data.get("units", head.default)
    units = units.strip().casefold() if isinstance(units, str) else ""
    units = units if units in keys.UNITS else "mm"
    sections = {name: body for name, body in data.items() if isinstance(body, dict)}

    def of_workshop(path: str) -> bool:
        return is_the_workshop_s(path, written, workshop)

    def units_of(path: str) -> str:
        return workshop.units if workshop and of_workshop(path) else units

    collector = Collector(Resolver(sections, units_of), units)
    try:
        profile = _read(source, data, collector, units)
    except Enough:
        collector.faults.append(fault_of("", "there are more faults than these", "put these right first"))
    if collector.faults:
        raise ProfileError(located(collector.faults, source.text, source.file, workshop, of_workshop))
    from templategen.table.edge_room import with_room
    from templategen.table.foot_room import with_foot_room

    asked = {f"{name}.{key}" for name, body in sections.items() for key in body}
    profile = with_room(with_foot_room(profile, asked), asked)
    return replace(profile, written=written, workshop=workshop, sha256=seal_of(source.sha256, workshop))


def located(
    faults: Iterable[Fault], text: str, file: str, workshop: Workshop | None, of_workshop: Callable[[str], bool]
) -> tuple[Fault, ...]:
    """Faults with file and line, those of the profile before those of its workshop file."""
    faults = tuple(faults)
    if workshop is None:
        return locate_faults(text, file, faults)
    there = [fault for fault in faults if not fault.line and of_workshop(fault.where)]
    here = [fault for fault in faults if fault not in there]
    return (*locate_faults(text, file, here), *locate_faults(workshop.text, workshop.file, there))


def placed_in(profile: Profile, faults: Iterable[Fault]) -> tuple[Fault, ...]:
    """Faults of a profile that was read, with file and line."""
    there = profile.workshop
    return located(
        faults,
        profile.text.removeprefix("\ufeff"),
        profile.file,
        there,
        lambda key: profile.of_workshop(key) is not None,
    )


def seal_of(sha256: str, workshop: Workshop | None) -> str:
    """The hash that names what a profile says: its file's own, or one of both files."""
    return digest(f"{sha256} {workshop.sha256}".encode()) if workshop else sha256


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
        maker=Maker(**sections["maker"]),
        words=Wording(**sections["words"]),
        work=Work(**sections["work"]),
        limits=Limits(**sections["limits"]),
        stock=read_stock(collector, data.get("stock"), wood, own, _bits(sections)),
        paper=Paper(**read_paper(collector, sections["paper"])),
        dxf=Dxf(**sections["dxf"]),
        woods=woods,
        values=values,
        measured=read_measured(collector, data.get("measured")),
        suit=read_suit(collector, collector.table("suit", data.get("suit")), _by_path(sections)),
        sha256=source.sha256,
        text=source.whole,
        file=source.file,
        lines=lines_of(source.text) if not collector.faults else {},
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
            size = written.get("size", known[0].default_in(collector.units_of("paper.size")))
            sections[name]["size"] = read_paper_size(collector, known[0], size)
    return sections


def _judge_format(data: Mapping[str, object], collector: Collector) -> None:
    if "format" not in data:
        collector.tell(fault_of("format", "is missing", "add format = 1 as the first line"))
    elif data["format"] != keys.FORMAT or isinstance(data["format"], bool):
        found = worded("{raw} is not a format known here", raw=described(data["format"]))
        collector.tell(Fault("format", found, translated("write format = 1")))


def _judge_relations(collector: Collector, sections: Mapping[str, Mapping[str, Any]]) -> None:
    """Rules between keys that can be told before anything is built."""
    rails, segments = sections["top"]["rails"], sections["top"]["segments"]
    step = 2 * rails
    if segments % step and not _is_refused(collector, "top.rails", "top.segments"):
        valid = [number for number in range(step, 25, step) if number >= 6]
        near = min(valid, key=lambda number: abs(number - segments))
        remedy = worded(
            "with {rails} rails it is a multiple of {step}: {names}; try {near}",
            rails=rails,
            step=step,
            names=", ".join(map(str, valid)),
            near=near,
        )
        collector.tell(Fault("top.segments", str(segments), remedy))
    low, high = sections["shop"]["humidity"]
    if low >= high:
        remedy = translated("write the driest air first, then the dampest, such as [45, 85]")
        collector.tell(Fault("shop.humidity", worded("{low:g} to {high:g} is no range", low=low, high=high), remedy))
    for key in keys.SECTIONS["limits"]:
        pair = sections["limits"][key.name]
        if key.kind == "list" and pair[0] > pair[1]:
            collector.tell(
                fault_of(
                    key.path,
                    "{low:g} to {high:g} is no range",
                    "write the smaller one first",
                    low=pair[0],
                    high=pair[1],
                )
            )


def _is_refused(collector: Collector, *paths: str) -> bool:
    return any(fault.where in paths for fault in collector.faults)
