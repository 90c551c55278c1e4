"""A packet's record as part of a larger one: codes and paths with its label before them, places counted on."""

from collections.abc import Mapping, Sequence
from typing import Any

Record = Mapping[str, Any]


def joint_parts(label: str, record: Record) -> list[dict[str, Any]]:
    """The parts, their mates and their files."""
    return [
        {
            **part,
            "code": f"{label}/{part['code']}",
            "features": [_feature(label, feature) for feature in part["features"]],
            "files": [f"{label}/{path}" for path in part["files"]],
        }
        for part in record["parts"]
    ]


def _feature(label: str, feature: Record) -> dict[str, Any]:
    told = {**feature, "mate": f"{label}/{feature['mate']}" if feature["mate"] else ""}
    if "mates" in feature:
        told["mates"] = [f"{label}/{code}" for code in feature["mates"]]
    return told


def joint_places(label: str, record: Record, before: int, steps: int) -> dict[str, list[dict[str, Any]]]:
    """Where copies stand, the joints between them and the steps that put them there, `before` places and `steps`
    steps after the first; each table in its own frame."""
    return {
        "placed": [{**placed, "code": f"{label}/{placed['code']}"} for placed in record["placed"]],
        "joints": [_joint(label, joint, before) for joint in record["joints"]],
        "assembly": [_step(label, step, before, steps) for step in record["assembly"]],
    }


def _joint(label: str, joint: Record, before: int) -> dict[str, Any]:
    codes = [f"{label}/{code}" for code in joint["parts"]]
    return {**joint, "parts": codes, "placed": [place + before for place in joint["placed"]]}


def _step(label: str, step: Record, before: int, steps: int) -> dict[str, Any]:
    moves = [{**move, "placed": move["placed"] + before, "code": f"{label}/{move['code']}"} for move in step["moves"]]
    adds = [f"{label}/{code}" for code in step["adds"]]
    return {**step, "step": step["step"] + steps, "adds": adds, "moves": moves}


def joint_findings_of(label: str, findings: Sequence[Record]) -> list[dict[str, Any]]:
    """Findings that say whose they are."""
    return [{**finding, "where": f"{label}: {finding['where']}"} for finding in findings]
