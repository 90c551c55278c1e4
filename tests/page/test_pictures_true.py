"""Pictures of set-ups held to the record, by what the packet's files say alone.

How a piece lies is worked out anew in space, and every figure is read back from its words.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from html import escape, unescape
from typing import Any
from xml.etree import ElementTree

import numpy as np
import pytest
from shapely import affinity
from shapely.geometry import Polygon
from svgelements import Path

from templategen.fit.plan import plan_assembly
from templategen.output.packet_json import part_json
from templategen.output.plan_json import plan_json
from templategen.packet.page.machines import machines as page_machines
from templategen.packet.shipped import shipped_names, shipped_text
from templategen.table.assembly import build_table
from templategen.table.profile.read import profile_from_text
from templategen.work.plan import work_plan
from tests.shipped_packets import packet_files, page_of

FIGURE = re.compile(
    r'<svg [^>]*aria-labelledby="d-set-up-(\d+)-(\w)-t.*?</svg>.*?<figcaption[^>]*>(.*?)</figcaption>', re.S
)
WRITTEN = re.compile(r"(?:(\d+)-)?(\d+(?:\.\d+)?)(?:/(\d+))?( in)?(?: (and|less) (0\.\d+) in)?( mm|°)?(?![\d/-])")

INCH = 25.4
PLAY = 0.12
"""A shape may be off by this, mm: large pictures are written to a tenth."""

NORMALS = {
    "top": (0, 0, 1),
    "bottom": (0, 0, -1),
    "low": (0, -1, 0),
    "high": (0, 1, 0),
    "left": (-1, 0, 0),
    "right": (1, 0, 0),
}
NAMES = {
    "top": "top",
    "bottom": "underside",
    "low": "lower edge",
    "high": "upper edge",
    "left": "left end",
    "right": "right end",
}
OF_RIM = {**NAMES, "low": "inner edge", "high": "outer edge"}
NTH = ("", "first", "second", "third", "fourth", "fifth", "sixth")

PLANS = {"crosscut", "mitre", "nib", "lap", "relief", "mortise", "bore", "drain", "counterbore", "drill through",
         "cross bore", "tenon bore", "pin slot", "peg bore"}  # fmt: skip
"""Seen from above with the fence on the far side."""

INSIDE = PLANS - {"crosscut", "mitre", "nib"} | {"groove", "spline slot", "rebate", "shoulder"}
"""What is cut away lies within the piece."""

GUIDED = ("plane", "rip", "trim", "saw round")
"""Of which no words say what lies against what."""

TOLD = {"fence", "stop", "start", "end", "height", "width", "length", "edge", "radius", "size", "angle", "rear",
        "front", "line"}  # fmt: skip
"""Settings that a picture tells where they are set."""

UNTOLD = {("crosscut", "height"), ("pin slot", "height")}


@dataclass(frozen=True)
class Shown:
    """A picture: its set-up and lay in the record, the part, its words and its shapes by what they stand for."""

    where: str
    operation: str
    set_up: Mapping[str, Any]
    cut: Mapping[str, Any]
    lay: Mapping[str, Any]
    part: Mapping[str, Any]
    caption: str
    words: Sequence[str]
    wood: Sequence[Polygon]
    waste: Sequence[Polygon]
    machine: Sequence[Polygon]
    jigs: Sequence[Polygon] = ()

    @property
    def over(self) -> bool:
        """Whether the tool goes over the piece."""
        return bool(self.lay["up"] == self.lay["worked"])

    def upright(self, shapes: Sequence[Polygon]) -> list[Polygon]:
        """Shapes as on a machine, with what is cut down."""
        return [affinity.scale(one, 1, -1, origin=(0, 0)) for one in shapes] if self.over else list(shapes)

    def side(self, name: str) -> str:
        base, _, number = name.partition("-")
        told = (OF_RIM if self.part["kind"] == "rim-segment" else NAMES)[base]
        return f"{NTH[int(number)]} edge from below of the {told}" if number else told

    def values(self) -> dict[str, tuple[float, str]]:
        """What is set, by name, with its unit."""
        return {one["name"]: (one["value"], one["unit"]) for one in (*self.set_up["settings"], *self.cut["settings"])}


def shapes(svg: ElementTree.Element, layer: str) -> list[Polygon]:
    """The filled shapes of a layer, y upwards."""
    found = []
    for group in svg.iter():
        if f"l-{layer}" in group.get("class", "").split():
            for path in (one for one in group.iter() if one.tag.endswith("path")):
                for sub in Path(path.get("d", "")).as_subpaths():
                    points = [(seg.end.x, -seg.end.y) for seg in Path(sub) if seg.end is not None]
                    found += [Polygon(points)] if len(points) > 3 else []
    return found


def block_at(lay: Mapping[str, Any]) -> str:
    """Which block an end touches as a piece is fed from right to left over a cutter below, the fence behind it."""
    right = np.cross(normal(lay["worked"]), normal(lay["against"]))
    return "rear block" if normal(lay["stop_at"]).dot(right) > 0 else "front block"


def fits(lay: Mapping[str, Any], kind: str, caption: str, by_hand: bool) -> bool:
    """Whether the words under a picture say that a piece lies so."""
    told = Shown("", "", {}, {}, lay, {"kind": kind}, "", (), (), (), ())
    stop = not re.search(r"to the (stop|(rear|front) block)", caption)
    if lay["stop_at"]:
        held = (f"{told.side(lay['stop_at'])} to the {block}" for block in ("stop", block_at(lay)))
        free = "measured from" in caption or "no stop: along its scribed line" in caption
        stop = any(one in caption for one in held) or free
    if by_hand:
        end = told.side(lay["stop_at"]) if lay["stop_at"] else ""
        stop = f" {end}" in caption if end else "measured from" not in caption
        return told.side(lay["worked"]) in caption and stop
    return (
        told.side(lay["worked"]) in caption
        and (
            lay["up"] == lay["worked"]
            or f"{told.side(lay['up'])} up" in caption
            or "arris" in caption
            or "corner of" in caption
        )
        and told.side(lay["against"]) in caption
        and stop
    )


def read(page: str, record: Mapping[str, Any]) -> Iterator[Shown]:
    """The pictures of a page, each with the lay of its set-up in the record that its words tell."""
    parts = {part["code"]: part for part in record["parts"]}
    ups = {
        one["set_up"]["number"]: (one["operation"], one["set_up"])
        for one in record["plan"]["operations"]
        if "set_up" in one
    }
    for found in FIGURE.finditer(page):
        operation, up = ups[int(found[1])]
        caption = unescape(found[3])
        svg = ElementTree.fromstring(found[0][: found[0].index("</svg>") + 6])
        code = next(word for word in re.findall(r"[A-Z0-9-]{3,}", caption.split(";")[0]) if word in parts)
        lays = [(cut, lay) for cut in up["cuts"] for lay in cut["lays"] if lay["code"] == code]
        by_hand, kind = is_marked(operation, up["way"]), parts[code]["kind"]
        lays = [one for one in lays if operation in GUIDED or fits(one[1], kind, caption, by_hand)]
        assert lays, (up["number"], caption)
        layers = {layer: shapes(svg, layer) for layer in ("WOOD_MIDDLE", "HIGHLIGHT", "THERE_DARK", "ADDED_MIDDLE")}
        texts = tuple("".join(one.itertext()) for one in svg.iter() if one.tag.endswith("text"))
        told = (
            Shown(f"{up['number']}{found[2]} {caption}", operation, up, cut, lay, parts[code], caption, texts,
                  layers["WOOD_MIDDLE"], layers["HIGHLIGHT"], layers["THERE_DARK"], layers["ADDED_MIDDLE"])
            for cut, lay in lays
        )  # fmt: skip
        yield min(told, key=lambda one: len(list(figures(one, record["units"] == "in"))))


def is_marked(operation: str, way: str) -> bool:
    """Whether it is cut to lines on the wood, and nothing of a machine is drawn."""
    return way == "by hand" or (way == "hand-held" and operation in ("rip", "crosscut", "mitre"))


def lengths(text: str) -> Iterator[float]:
    """The figures written in words, mm or degrees."""
    for whole, number, below, inch, way, rest, metric in WRITTEN.findall(text):
        value = int(whole or 0) + float(number) / int(below or 1)
        value += {"and": 1, "less": -1}.get(way, 0) * float(rest or 0)
        if inch or metric:
            yield value * INCH if inch else value


def said(wrong: bool, fault: str) -> Iterator[str]:
    """The fault where something is wrong."""
    if wrong:
        yield fault


def figures(one: Shown, inches: bool) -> Iterator[str]:
    """Every figure is one that is set, and what is set is told."""
    least = 0.0006 * INCH if inches else 0.0051
    values = one.values()
    known = [value for value, unit in values.values() if unit]
    known += [90 - value for value, unit in values.values() if unit == "deg"]
    told = [figure for text in one.words for figure in lengths(text)]
    yield from (f"{figure:g} is not set" for figure in told if all(abs(figure - value) > least for value in known))
    for name, (value, unit) in values.items():
        shown_so = unit and name in TOLD and value > 1e-9 and (one.operation, name) not in UNTOLD
        if shown_so and all(abs(figure - value) > least for figure in told):
            yield f"{name} {value:g} is not told"


def plan(one: Shown) -> Iterator[str]:
    """The eye above, what lies at the fence away from it."""
    up, away = (np.array(NORMALS[one.lay[name].partition("-")[0]]) for name in ("up", "against"))
    right, cut = np.cross(away, up), one.waste[0] if one.waste else None
    wood = one.wood[0]
    if one.operation in ("crosscut", "mitre", "nib"):
        wood, *strip = sorted(one.wood, key=lambda shape: shape.centroid.x * normal(one.lay["worked"]).dot(right))
        yield from said(
            bool(strip) != ("strip, clamped" in one.words and not {"loose block", "piece"}.isdisjoint(one.words)),
            "a strip isn't told",
        )
        yield from said(bool(strip) and wood.distance(strip[0]) > PLAY, "the piece doesn't come off its strip")
    if not any(one.side(one.lay["up"]) + " up" in text for text in one.words):
        yield "what lies up is not told"
    yield from turned(one, wood, right, away)
    yield from leaning(one, right, away)
    if one.operation in ("crosscut", "mitre", "nib") and cut:
        aside = (cut.centroid.x - wood.centroid.x) * normal(one.lay["worked"]).dot(right)
        yield from said(aside <= 0, "the waste is at the other end")
        yield from said(cut.intersection(wood).area > 0.01 * cut.area, "the waste is kept")
    if is_marked(one.operation, one.set_up["way"]):
        return
    lined = [strip for strip in one.jigs if abs(strip.bounds[1] - wood.bounds[3]) < PLAY]
    named = any(word.startswith("STOP-STRIP") for word in one.words)
    yield from said(len(lined) != named, "a strip that isn't named, or none by its name")
    back = lined[0].bounds[3] if lined else wood.bounds[3]
    fence = [rest for rest in one.machine if abs(rest.bounds[1] - back) < PLAY]
    yield from said(not fence, "no fence touches the piece")
    yield from stopped(one, wood, right)
    yield from sized(one, wood, cut)


def normal(name: str) -> np.ndarray:
    return np.array(NORMALS[name.partition("-")[0]])


def stopped(one: Shown, wood: Polygon, right: np.ndarray) -> Iterator[str]:
    """The stop touches the end that is named, or nothing stands at either."""
    left_, _, right_, _ = wood.bounds
    ends = {1: [r for r in one.machine if abs(r.bounds[0] - right_) < PLAY and beside(r, wood)],
            -1: [r for r in one.machine if abs(r.bounds[2] - left_) < PLAY and beside(r, wood)]}  # fmt: skip
    stops = one.lay["stop_at"] and "no stop: along its scribed line" not in one.where
    side = int(np.sign(normal(one.lay["stop_at"]).dot(right))) if stops else 0
    for way, found in ends.items():
        if bool(found) != (way == side):
            yield f"a stop at the wrong end, or none: {one.lay['stop_at']}"


def beside(block: Polygon, wood: Polygon) -> bool:
    return (
        block.bounds[1] < wood.bounds[3] - PLAY
        and block.bounds[3] > wood.bounds[1] + PLAY
        and block.bounds[0] != wood.bounds[0]
    )


def edges(ring: Sequence[Sequence[float]]) -> Iterator[np.ndarray]:
    """The outward normals of an outline's edges."""
    points = np.array([point[:2] for point in ring])
    area = sum(a[0] * b[1] - a[1] * b[0] for a, b in zip(points, np.roll(points, -1, 0), strict=True))
    for a, b in zip(points, np.roll(points, -1, 0), strict=True):
        way = b - a
        if np.hypot(*way) > 1e-6:
            yield np.array([way[1], -way[0]]) / np.hypot(*way) * np.sign(area)


def turned(one: Shown, wood: Polygon, right: np.ndarray, upward: np.ndarray) -> Iterator[str]:
    """Each slanting edge of the piece looks the way that one of the part does as it lies."""
    if abs(np.cross(right, upward)[2]) < 0.5:
        return
    own = [np.array([*edge, 0.0]) for ring in (one.part["blank"], one.part["outline"]) for edge in edges(ring)]
    lying = [np.array([edge.dot(right), edge.dot(upward)]) for edge in own]
    for edge in edges(list(wood.exterior.coords)[:-1]):
        if min(abs(edge)) > 0.02 and all(edge.dot(other) < 0.9999 for other in lying):
            yield f"an edge that the part hasn't: {edge.round(3)}"


def leaning(one: Shown, right: np.ndarray, away: np.ndarray) -> Iterator[str]:
    """A trench leans as a lap of its face does."""
    if one.operation != "lap":
        return
    face = next(face for face in one.part["faces"] if face["name"] == one.lay["worked"])
    along, up = np.array(face["along"]), np.array(face["up"])
    own = [along * edge[0] + up * edge[1] for lap in one.part["features"] if lap["kind"] == "lap"
           and lap["face"] == face["name"] for edge in edges(lap["outline"])]  # fmt: skip
    for edge in edges(list(one.waste[0].exterior.coords)[:-1]):
        lies = (abs(edge.dot((other.dot(right), other.dot(away)))) > 0.9999 for other in own)
        yield from said(not any(lies), f"a trench that leans as no lap does: {edge.round(3)}")


def sized(one: Shown, wood: Polygon, cut: Polygon | None) -> Iterator[str]:
    """What is cut away is as large as set, and as far from the fence."""
    values = {name: value for name, (value, _) in one.values().items()}
    if cut is None or one.operation not in (
        "mortise",
        "bore",
        "drain",
        "counterbore",
        "pin slot",
        "peg bore",
        "tenon bore",
    ):
        return
    _, low, _, high = cut.bounds
    from_fence = wood.bounds[3] - (high if one.operation == "mortise" else (low + high) / 2)
    for told, found in (("edge", from_fence), ("width", high - low)):
        yield from said(abs(found - values[told]) > PLAY, f"{told} is drawn as {found:g}, set to {values[told]:g}")


def standing(one: Shown) -> Iterator[str]:
    """Along the feed, then from the operator's side: what is worked lies down, what is at the fence away."""
    values = {name: value for name, (value, _) in one.values().items()}
    (end, run), (cut, along) = one.upright(one.wood), one.upright(one.waste)
    left, _, right, high = cut.bounds
    drawn = {"fence": left - end.bounds[0], "width": right - left, "height": high - end.bounds[1]}
    for told, found in drawn.items():
        yield from said(abs(found - values[told]) > PLAY, f"{told} is drawn as {found:g}")
    faces = [np.array([*edge, 0.0]) for edge in edges(one.part["blank"])]
    down = max(faces, key=lambda edge: edge.dot(normal(one.lay["worked"])))
    across = np.cross(down, normal(one.lay["against"]))
    corners = [np.array([*point[:2], 0.0]) for point in one.part["blank"]]
    whole = Polygon([(corner.dot(across), -corner.dot(down)) for corner in corners])
    yield from lies_down(one)
    yield from said(one.side(one.lay["against"]) not in one.words, "the fence tells another face")
    yield from turned(one, run, across, -down)
    if one.set_up["way"] == "machine":
        yield from blocked(one, values)
    elif one.set_up["way"] != "by hand":
        yield from stopped(replace(one, machine=one.upright(one.machine)), run, across)
    size = (run.bounds[2] - run.bounds[0]) / (whole.bounds[2] - whole.bounds[0])
    tall = (run.bounds[3] - run.bounds[1]) / (whole.bounds[3] - whole.bounds[1])
    if abs(size - tall) < 0.001:
        near = affinity.scale(whole, size, size, origin=(0, 0))
        near = affinity.translate(near, run.bounds[0] - near.bounds[0], run.bounds[1] - near.bounds[1])
        yield from said(near.symmetric_difference(run).area > 0.005 * run.area, "another shape")
        side = np.sign(normal(one.lay["stop_at"]).dot(across)) if one.lay["stop_at"] else 0
        far = run.bounds[2 if side > 0 else 0]
        level = [x for x, y in along.exterior.coords if y < along.bounds[1] + PLAY]
        reached = {"rear": run.bounds[2] - along.bounds[0], "front": max(level) - run.bounds[0],
                   "line": run.bounds[2] - max(level)}  # fmt: skip
        for told, reach in reached.items():
            if told in values and abs(reach / size - values[told]) > 3 * PLAY / size:
                yield f"{told} is drawn as {reach / size:g}, set to {values[told]:g}"
        for told, x in (("start", max(level, key=lambda x: x * side)), ("end", min(level, key=lambda x: x * side))):
            if told in values and abs(abs(far - x) / size - values[told]) > 3 * PLAY / size:
                yield f"{told} is drawn as {abs(far - x) / size:g}, set to {values[told]:g}"


def blocked(one: Shown, values: Mapping[str, float]) -> Iterator[str]:
    """A rear block touches the piece from the right; a front block stands to the left, and touches it where it is
    the only one."""
    run, blocks = one.upright(one.wood)[1], one.upright(one.machine)[3:]
    right = [block for block in blocks if abs(block.bounds[0] - run.bounds[2]) < PLAY and beside(block, run)]
    left = [block for block in blocks if block.bounds[2] < run.bounds[0] + PLAY and beside(block, run)]
    touching = [block for block in left if block.bounds[2] > run.bounds[0] - PLAY]
    yield from said(len(right) != ("rear" in values), "a rear block that isn't set, or none")
    yield from said(len(left) != ("front" in values), "a front block that isn't set, or none")
    yield from said("front" in values and bool(touching) == ("rear" in values), "the front block is touched wrongly")
    yield from said(len(left) + len(right) != len(blocks), "a block that touches nothing")


def lies_down(one: Shown) -> Iterator[str]:
    """What is worked lies on a machine's table, or under a router's base."""
    face = one.side(one.lay["worked"])
    way = "up" if one.over else "down"
    told = {f"table, {face} {way}", f"base, {face}", f"{face} {way}"} & set(one.words)
    yield from said(not told, "the table tells another face")


def rebated(one: Shown) -> Iterator[str]:
    """The end at the fence, what is worked down on the table."""
    values = {name: value for name, (value, _) in one.values().items()}
    wood, cut = one.upright(one.wood)[0], one.upright(one.waste)[0]
    drawn = {"fence": cut.bounds[2] - wood.bounds[0], "height": cut.bounds[3] - wood.bounds[1]}
    for told, found in drawn.items():
        yield from said(abs(found - values[told]) > PLAY, f"{told} is drawn as {found:g}")
    yield from lies_down(one)
    yield from said(not one.over and f"{one.side(one.lay['up'])} up" not in one.words, "what lies up is another face")


def eased(one: Shown) -> Iterator[str]:
    """The corner between both faces, the bearing on the second."""
    values = {name: value for name, (value, _) in one.values().items()}
    size, wood = values.get("radius", values.get("size", 0.0)), one.wood[0]
    for cut in one.waste[:1]:
        yield from said(cut.bounds[2] - cut.bounds[0] > size + PLAY, "the corner is drawn larger or smaller")
        yield from said(
            abs(cut.bounds[3] - wood.bounds[3]) + abs(cut.bounds[2] - wood.bounds[2]) > PLAY, "another corner"
        )
    for face in ("worked", "against"):
        yield from said(one.side(one.lay[face]) not in one.words, f"{one.lay[face]} isn't told")


ASKED = {**dict.fromkeys(PLANS, plan), "groove": standing, "spline slot": standing, "rebate": rebated,
         **dict.fromkeys(("chamfer", "round-over", "bead", "edge round-over"), eased)}  # fmt: skip


ROUNDED = 0.02
"""Twice the hundredths that a picture's corners are written in, mm: by so much shapes that touch may overlap."""


def faults(one: Shown, inches: bool) -> Iterator[str]:
    """What a picture shows otherwise than the record has it."""
    yield from figures(one, inches)
    yield from ASKED.get(one.operation, lambda _: iter(()))(one)
    for cut in one.waste if one.operation in INSIDE else ():
        if all(cut.difference(wood.buffer(PLAY)).area > 0.01 * cut.area for wood in one.wood):
            yield "cut away where there is no wood"
    for block in one.machine:
        if any(block.intersection(wood.buffer(-ROUNDED)).area > 0.01 for wood in (*one.wood, *one.waste)):
            yield "the machine stands in the wood"


@pytest.mark.parametrize("name", shipped_names())
def test_every_picture_of_a_set_up_is_true(name: str) -> None:
    """Figures, the side of the fence, the end at the stop, what lies up, what is cut away."""
    found = list(read(page_of(name), json.loads(packet_files(name)["packet.json"])))
    assert len(found) > 40
    assert not [(one.where, fault) for one in found for fault in faults(one, "inch" in name)]


ROUTER = ("hand router", "mitre saw", "drill", "circular saw")


@pytest.mark.parametrize("machines", [(), pytest.param(ROUTER, marks=pytest.mark.slow)])
def test_pictures_for_tools_in_the_hand_are_true(machines: Sequence[str]) -> None:
    """What is cut lies up then; a table of six segments and raked legs."""
    text = shipped_text("towpath-hex").replace("[shop]\n", f"[shop]\nmachines = {json.dumps(machines)}\n")
    table = build_table(profile_from_text(text, "hands"))
    plan_ = work_plan(table, plan_assembly(table))
    pictures = [picture for sheet in page_machines(table, plan_).sheets for picture in sheet.pictures]
    page = "".join(f"{one.svg}<figcaption>{escape(one.caption)}</figcaption>" for one in pictures)
    parts = [part_json(part, ()) for part in table.parts]
    record = json.loads(json.dumps({"units": "mm", "parts": parts, "plan": plan_json(plan_, table.profile)}))
    found = list(read(page, record))
    below = ("lap", "groove", "spline slot", "rebate")
    assert sum(one.over for one in found if one.operation in below) > 10
    assert not [(one.where, fault) for one in found for fault in faults(one, False)]
