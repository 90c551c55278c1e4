"""What is counted of the shipped packets: `python -m tests.figures` counts anew, writes `figures.toml` and tells what
has changed."""

from __future__ import annotations

import csv
import io
import json
import tomllib
from collections import Counter
from collections.abc import Mapping
from pathlib import Path

FILE = Path(__file__).with_name("figures.toml")

HEAD = """# What is counted of each shipped packet. The same profile gives the same figures on every machine;
# whoever means to change one runs `python -m tests.figures`, which writes this file anew and tells what has changed.
"""

JIGS = ("jig", "gauge", "template", "caul", "spacer")

Figures = dict[str, int | float | str]


def figures(files: Mapping[str, bytes]) -> Figures:
    """The figures of one packet, from its record, its lists and its page."""
    record = json.loads(files["packet.json"])
    parts = [part for part in record["parts"] if part["kind"] not in JIGS]
    steps = record["assembly"]
    set_ups = list(csv.DictReader(io.StringIO(files["lists/set-ups.csv"].decode())))
    kinds = Counter(path.rpartition(".")[2] for path in files)
    return {
        "kinds of part": len(parts),
        "parts": sum(part["count"] for part in parts),
        **_by_kind("work", Counter(f["kind"] for part in parts for f in part["features"])),
        **_by_kind("work on", Counter(f["face"].partition("-")[0] for part in parts for f in part["features"])),
        **_by_kind("joints", Counter(joint["kind"] for joint in record["joints"])),
        "mass, kg": record["table"]["mass_kg"],
        "slat gap, mm": record["table"]["slat_gap"],
        "jigs": len(record["jigs"]),
        "pieces of jigs": sum(part["count"] for part in record["parts"] if part["kind"] in JIGS),
        "rows of set-ups": len(set_ups),
        "set-ups": len({row["set_up"] for row in set_ups}),
        "steps of assembly": len(steps),
        "joints glued": sum(step["glued_joints"] for step in steps),
        **_by_kind("pieces of", Counter(sheet["name"] for sheet in record["stock"])),
        "saw cuts": sum(len(sheet["cuts"]) for sheet in record["stock"]),
        "offcuts": sum(len(sheet["offcuts"]) for sheet in record["stock"]),
        "cost of stock": round(sum(sheet["price"] for sheet in record["stock"]), 2),
        "least cost of stock": record["stock_bound"]["cost"],
        "sheets of paper": record["paper"]["sheets"],
        "sheets, the plain way": record["paper"]["plain_sheets"],
        **_by_kind("findings,", Counter(finding["level"] for finding in record["findings"])),
        **_by_kind("files,", kinds),
        "sheets of the page": files["index.html"].count(b"<article"),
        "drawings on the page": files["index.html"].count(b"<svg"),
    }


def _by_kind(name: str, count: Counter[str]) -> Figures:
    return {f"{name} {kind}": count[kind] for kind in sorted(count)}


def kept() -> dict[str, Figures]:
    """The figures as they were last written."""
    return tomllib.loads(FILE.read_text(encoding="utf-8")) if FILE.exists() else {}


def changes(old: Mapping[str, Figures], new: Mapping[str, Figures]) -> list[str]:
    """Each figure that is another, with both."""
    none: Figures = {}
    return [
        f"{name}: {figure}: was {a}, is {b}"
        for name in {**old, **new}
        for figure in {**old.get(name, none), **new.get(name, none)}
        if (a := old.get(name, none).get(figure, 0)) != (b := new.get(name, none).get(figure, 0))
    ]


def written(found: Mapping[str, Figures]) -> str:
    """The file."""
    blocks = []
    for name, told in found.items():
        lines = [f"{json.dumps(figure)} = {json.dumps(value)}" for figure, value in told.items()]
        blocks.append("\n".join([f"[{name}]", *lines, ""]))
    return "\n".join([HEAD, *blocks])


def recount() -> list[str]:
    """Writes the file anew; what has changed."""
    import templategen
    from templategen.packet.shipped import shipped_names, shipped_text

    found = {}
    for name in shipped_names():
        profile = templategen.profile_from_text(shipped_text(name), name)
        found[name] = figures(templategen.make_packet(profile, second_core=True).files)
    told = changes(kept(), found)
    FILE.write_text(written(found), encoding="utf-8")
    return told


if __name__ == "__main__":
    print("\n".join(recount()) or "as they were")
