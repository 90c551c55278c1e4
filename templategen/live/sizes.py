"""The form: every key with what it means, its kind, range and default, as it is written and what that comes to."""

from collections.abc import Mapping
from math import degrees
from pathlib import Path
from typing import Any

from templategen.catalogue import translated
from templategen.table.profile import keys
from templategen.table.profile.key import Key
from templategen.table.profile.model import Profile
from templategen.table.profile.workshop import FILE, own_part
from templategen.units import decimal_figure, is_amount, literals, show_length, trimmed

OF_THE_TABLE = ("top", "slats", "joints", "legs", "base", "edges")
"""Sections that describe the table; all others are the shop's and the packet's."""

OF_PARTS: Mapping[str, tuple[str, ...]] = {
    "rim-segment": ("top.diameter", "top.segments", "top.edge", "top.thickness", "top.rim_width",
                    "top.saw_allowance", "top.edge_round", "joints.groove_depth", "edges.rim"),
    "rail": ("top.rails", "top.rail_width", "top.thickness", "top.pole_hole", "joints.tongue",
             "joints.lap_clearance", "edges.rail"),
    "slat": ("slats.run", "slats.width", "slats.gap", "slats.hold", "slats.apex", "slats.thickness", "slats.face",
             "slats.chamfer", "joints.tongue", "edges.slat"),
    "spline": ("joints.spline", "joints.spline_thickness", "joints.spline_depth"),
    "leg": ("top.height", "legs.section", "legs.centre_distance", "legs.base_centre_distance", "legs.tenon",
            "legs.corner", "legs.corner_size", "legs.top_joint", "legs.stub", "legs.bolt", "legs.barrel_nut",
            "legs.peg"),
    "base-rail": ("base.length", "base.rail_width", "base.thickness", "base.feet", "base.end_round", "edges.base"),
    "foot": ("base.feet", "base.foot_thickness", "base.foot_length"),
}  # fmt: skip
"""Which keys say most of what a kind of part is."""


def form(profile: Profile) -> dict[str, Any]:
    """What may be set, in the order of the table of keys; ranges and units are those of the profile."""
    return {
        "head": [_asked(key, profile.units) for key in keys.HEAD],
        "sections": [
            {"name": name, "heading": keys.HEADINGS[name], "table": name in OF_THE_TABLE,
             "keys": [_asked(key, profile.units) for key in section]}
            for name, section in keys.SECTIONS.items()
        ],
        "stock": [_asked(key, profile.units) for key in keys.STOCK],
        "of_parts": OF_PARTS,
    }  # fmt: skip


def held(profile: Profile) -> dict[str, dict[str, Any]]:
    """Each key as it is written in the table's file (None where it is left out), what it comes to, and `of` which
    line of the workshop's file it is where that sets it."""
    found = {key.path: _held(key, profile.written.get(key.name), getattr(profile, key.name), profile.units)
             for key in keys.HEAD}  # fmt: skip
    for name, section in keys.SECTIONS.items():
        written, values = profile.written.get(name, {}), getattr(profile, name)
        own = written if isinstance(written, dict) else {}
        found |= {
            key.path: _held(key, own.get(key.name), getattr(values, key.name), profile.units) | _of(profile, key.path)
            for key in section
        }
    return found


def _of(profile: Profile, path: str) -> dict[str, Any]:
    workshop = profile.of_workshop(path)
    return {"of": f"line {profile.line_of(path)} of {Path(workshop.file).name}"} if workshop else {}


def workshop_of(profile: Profile, given: str | None) -> dict[str, Any]:
    """Which workshop file holds (`file`, empty where none does), what the profile names, the `key` at which it does,
    and whether the command named one, which goes before."""
    _, named = own_part(profile.written)
    key = f"shop.{FILE}" if isinstance(profile.written.get("shop"), dict) else "shop"
    file = Path(profile.workshop.file).name if profile.workshop else ""
    return {"file": file, "named": named, "key": key, "given": given is not None}


def rack(profile: Profile) -> list[dict[str, Any]]:
    """The boards as they are written, the size of each in mm for a picture, and `of` which workshop file it is."""
    written = profile.in_force.get("stock")
    entries = written if isinstance(written, list) else []
    workshop = profile.of_workshop("stock")
    of = Path(workshop.file).name if workshop else ""
    return [
        {"written": dict(entry), "of": of, "length": one.length, "width": one.width, "thickness": one.thickness,
         "faults": one.faults, "areas": one.fault_areas, "bad_ends": one.bad_ends, "wood": one.wood, "mode": one.mode}
        for entry, one in zip(entries, profile.stock, strict=False)
    ]  # fmt: skip


def _asked(key: Key, units: str) -> dict[str, Any]:
    return {
        "path": key.path, "name": key.name, "kind": key.kind, "doc": key.told, "choices": key.choices,
        "unit": _unit(key, units), "default": _shown(key, key.default_in(units), units, bare=True),
        "why": translated(key.why),
        "low": _bound(key, key.low, units), "high": _bound(key, key.high, units),
        "parts": [{"doc": part.told, "unit": _unit(part, units), "low": _bound(part, part.low, units),
                   "high": _bound(part, part.high, units)} for part in key.parts],
    }  # fmt: skip


def _held(key: Key, written: object, value: Any, units: str) -> dict[str, Any]:
    return {"written": written, "value": _shown(key, value, units), "reckoned": _is_arithmetic(key, written)}


def _is_arithmetic(key: Key, written: object) -> bool:
    """Whether it is worked out of others, so that dragging or stepping it would lose that."""
    if not isinstance(written, str) or key.kind not in ("length", "number", "count", "angle"):
        return False
    return written.strip() != "auto" and not is_amount(written) and not _is_size(written)


def _is_size(written: str) -> bool:
    """A size with its unit, such as 1-3/4 in, is no arithmetic."""
    return literals().fullmatch(written.strip()) is not None


def _unit(key: Key, units: str) -> str:
    return {"length": units, "angle": "°"}.get(key.kind, "")


def _bound(key: Key, value: float, units: str) -> str:
    return show_length(value, units) if key.kind == "length" else trimmed(value, 4)


def _shown(key: Key, value: Any, units: str, bare: bool = False) -> Any:
    """A value as it is told: sizes in the maker's units. Angles of the model are radians, of a default degrees."""
    if value is None:
        return "auto"
    if key.kind == "length":
        return decimal_figure(value, units, (3, 4))
    if key.kind == "angle":
        return trimmed(float(value) if bare else degrees(value), 4)
    if key.kind in ("list", "words", "rows", "faults") and isinstance(value, (tuple, list)):
        pairs = zip(key.parts, value, strict=False)
        return [_shown(part, one, units, bare) for part, one in pairs] if key.kind == "list" else list(value)
    if isinstance(value, (tuple, list)):
        return list(value)
    return value if isinstance(value, str) else trimmed(float(value), 4)
