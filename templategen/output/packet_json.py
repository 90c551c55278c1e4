"""packet.json: the whole packet for machines."""

import json
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import asdict
from hashlib import sha256
from math import degrees
from typing import Any

from templategen.checks.assembly import minutes
from templategen.checks.finding import Finding
from templategen.fit.plan import Plan
from templategen.geometry.outline import Outline
from templategen.parts.face import Face
from templategen.parts.feature import Feature
from templategen.parts.part import Part
from templategen.parts.revision import part_revision
from templategen.shop.gluing.hold import glued_area
from templategen.table.assembly import Table
from templategen.table.placed import Placed

DIGITS = 9
"""Decimals of written numbers: a picometre, far under any tolerance, so that reading back loses nothing."""


def number(value: float, digits: int = DIGITS) -> float:
    """A number with fixed decimals and never a negative nought."""
    return round(float(value), digits) + 0.0


def numbers(values: Iterable[float]) -> list[float]:
    """Several of them."""
    return [number(value) for value in values]


def outline_json(outline: Outline) -> list[list[float]]:
    """An outline as [x, y, bulge], closed, anticlockwise."""
    return [numbers(vertex) for vertex in outline.anticlockwise]


def table_json(table: Table, mass_kg: float) -> dict[str, Any]:
    """The table at a glance."""
    profile, sizes = table.profile, table.sizes
    return {
        "diameter": number(profile.top.diameter),
        "height": number(profile.top.height),
        "rails": profile.top.rails,
        "segments": profile.top.segments,
        "edge": profile.top.edge,
        "inner_apothem": number(sizes.inner_apothem),
        "outer_apothem": number(sizes.outer_apothem),
        "mitre_deg": number(degrees(sizes.mitre)),
        "joint_face": number(sizes.joint_face),
        "wall_at_joint": number(sizes.wall_at_joint),
        "leg_height": number(sizes.leg_height),
        "run": profile.slats.run,
        "slats_per_field": table.slats_per_field,
        "slat_width": number(table.spacing.width),
        "slat_gap": number(table.spacing.gap),
        "slat_width_asked": number(profile.slats.width),
        "slat_gap_asked": number(profile.slats.gap),
        "mass_kg": number(mass_kg, 3),
    }


def part_json(part: Part, files: Sequence[str], revised: str = "") -> dict[str, Any]:
    """One part; a jig's piece is of its jig's revision."""
    body = {"body": outline_json(part.body)} if part.body else {}
    return {
        "code": part.code,
        "name": part.name,
        "kind": part.kind,
        "count": part.count,
        "hand": part.handed,
        "revision": revised or part_revision(part),
        "wood": part.wood,
        "size": numbers(part.size),
        "grain": numbers(part.grain),
        "blank": outline_json(part.blank),
        "outline": outline_json(part.outline),
        **body,
        "holes": [outline_json(hole) for hole in part.holes],
        "faces": [_face(face) for face in part.faces],
        "features": [_feature(feature) for feature in part.features],
        "notes": list(part.notes),
        "files": list(files),
    }


def _face(face: Face) -> dict[str, Any]:
    return {
        "name": face.name,
        "origin": numbers(face.origin),
        "along": numbers(face.along),
        "up": numbers(face.up),
    }


def _feature(feature: Feature) -> dict[str, Any]:
    return {
        "kind": feature.kind,
        "face": feature.face,
        "outline": outline_json(feature.outline),
        "depth": number(feature.depth),
        "operation": feature.operation,
        "mate": feature.mates[0] if feature.mates else "",
        "mates": list(feature.mates),
        "clearance": number(feature.clearance),
        "end_clearance": number(feature.end_clearance),
        **({"floor": number(feature.floor)} if feature.floor else {}),
    }


def placed_json(placed: Placed) -> dict[str, Any]:
    """Where one copy stands."""
    return {
        "code": placed.code,
        "at": numbers(placed.at),
        "turn": number(degrees(placed.turn)),
        "turned_over": placed.turned_over,
        "axes": [numbers(axis) for axis in placed.axes],
    }


def joints_json(table: Table) -> list[dict[str, Any]]:
    """The joints between placed copies; `placed` are positions in the list of placed parts."""
    return [
        {
            "kind": joint.kind,
            "parts": list(joint.parts),
            "placed": list(joint.placed),
            "contact_mm2": number(joint.contact_mm2, 3),
            "clearance": number(joint.clearance),
        }
        for joint in table.joints
    ]


def assembly_json(table: Table, plan: Plan) -> list[dict[str, Any]]:
    """The order of assembly: `along` is the one way of a step's moves, noughts where they differ (see `moves`)."""
    return [
        {
            "step": place,
            "does": step.does,
            "adds": sorted({move.code for move in step.moves}),
            "along": numbers(step.along),
            "together": step.together,
            "glued_joints": len(step.glued),
            "glue_mm2": number(sum(glued_area(table, table.joints[joint]) for joint in step.glued), 1),
            "at_once": step.at_once,
            "minutes": number(minutes(step), 1),
            "moves": [
                {"placed": move.index, "code": move.code, "along": numbers(move.way), "pace": number(move.pace)}
                for move in step.moves
            ],
        }
        for place, step in enumerate(plan.steps, 1)
    ]


def finding_json(finding: Finding, units: str) -> dict[str, Any]:
    """One finding, its words with sizes in `units`."""
    words = finding.described(units)
    return {
        "kind": finding.kind,
        "level": finding.level,
        "where": finding.where,
        "says": words.says,
        "measured": number(finding.measured, 6),
        "wanted": [None if value is None else number(value, 6) for value in finding.wanted],
        "unit": finding.unit,
        "why": words.why,
        "do": words.do,
        **({"spot": asdict(finding.spot)} if finding.spot else {}),
    }


def sealed(told: Mapping[str, Any]) -> dict[str, Any]:
    """The record with a digest over all the rest of it: keys in order of their letters, no blanks, UTF-8."""
    unsealed = {key: value for key, value in told.items() if key != "seal"}
    plain = json.dumps(unsealed, ensure_ascii=False, allow_nan=False, sort_keys=True, separators=(",", ":"))
    return {**unsealed, "seal": sha256(plain.encode()).hexdigest()}


def dumps(value: Mapping[str, Any]) -> str:
    """JSON that a person can read too: a line for each leaf list and each flat object."""
    return _render(value, 0) + "\n"


def _render(value: Any, depth: int) -> str:
    flat = json.dumps(value, ensure_ascii=False, allow_nan=False)
    if not isinstance(value, dict | list) or not value or _is_short(value, flat):
        return flat
    pad, close = " " * (depth + 1), " " * depth
    if isinstance(value, dict):
        inner = [f"{pad}{json.dumps(k, ensure_ascii=False)}: {_render(v, depth + 1)}" for k, v in value.items()]
        return "{\n" + ",\n".join(inner) + "\n" + close + "}"
    return "[\n" + ",\n".join(pad + _render(item, depth + 1) for item in value) + "\n" + close + "]"


def _is_short(value: Any, flat: str) -> bool:
    return len(flat) <= 110 or (all(not isinstance(v, dict) for v in value) and _is_outline(value))


def _is_outline(value: Any) -> bool:
    return isinstance(value, list) and all(isinstance(v, list) and len(v) == 3 for v in value)
