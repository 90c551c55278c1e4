"""Every figure has its story, and the stories' closed formulas agree with the parts that clipping made."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator, Mapping
from math import degrees

import pytest
from shapely import Polygon

from templategen.checks.movement import movement_findings
from templategen.explain.book import Quantity
from templategen.explain.contacts import mitre_name
from templategen.explain.quantities import INNER, book_of
from templategen.geometry.placement import Placement
from templategen.geometry.refine import fine_polyline
from templategen.shop.cut_list import cut_list
from templategen.shop.weigh import mass_kg
from templategen.table.assembly import Table
from templategen.table.profile.keys import SECTIONS
from templategen.table.seasons import board_swing, seasons_of
from templategen.table.slat import base_fields, fit_slats
from tests.explain.book_of_tables import by_python, shipped, told_tables
from tests.explain.listed_figures import cut_list_figures
from tests.explain.symbols import symbols
from tests.random_profiles import tables
from tests.table.made import TIGHT, table_of

NEAR = 1e-7
"""Closed formula and clipping agree within this, mm; corners nearer than a millionth are one."""


@pytest.mark.wide
def test_every_number_of_the_cut_list_is_explained() -> None:
    """Each figure of the cut list has a quantity, with the value that the part itself has."""
    for table, pages in told_tables():
        for name, value in cut_list_figures(table):
            assert pages[name].value == pytest.approx(value, abs=NEAR), (table.profile.name, name)


def test_no_number_of_the_cut_list_is_left_out() -> None:
    """The numbers in the list's own cells are those figures, as they are written."""
    for table, _ in shipped():
        header, rows = cut_list(table)
        figures = list(cut_list_figures(table))
        for row in rows:
            cells = dict(zip(header, row, strict=True))
            own = [value for name, value in figures if name.startswith(f"part.{cells['code']}.")]
            shown = Counter(f"{float(f'{value:.2f}'):g}" for value in own)
            words = " ".join(
                str(cells[column])
                for column in header
                if column.endswith("_mm") and "_in_" not in column and not column.startswith("rough")
            )
            for angle, gauge in re.findall(r"([\d.]+)° off square \(gauge ([\d.]+)°\)", str(cells["ends"])):
                assert float(angle) + float(gauge) == pytest.approx(90.0, abs=1e-9)
            ends = re.sub(r" \(gauge [\d.]+°\)", "", str(cells["ends"]))
            listed = f"{cells['count']} {words} {ends} {cells['features']}"
            found = Counter(f"{float(number):g}" for number in re.findall(r"(?<![\w-])\d+(?:\.\d+)?", listed))
            assert found == shown, cells["code"]


@pytest.mark.wide
def test_each_formula_gives_its_value() -> None:
    """Evaluated by other arithmetic from its terms' values, each formula comes to its quantity's value."""
    for _, pages in told_tables():
        for quantity in pages.values():
            if quantity.formula:
                values = {symbol: pages[name].value for symbol, name in quantity.terms}
                assert by_python(quantity.formula, values) == pytest.approx(quantity.value, rel=1e-9, abs=1e-9)
                assert set(symbols(quantity.formula)) == set(values), quantity.name


@pytest.mark.wide
def test_stories_end_in_what_was_given() -> None:
    """Nothing goes in a circle: terms stand before what uses them, and what has no formula has a source."""
    keys = {key.path for section in SECTIONS.values() for key in section}
    for _, pages in told_tables():
        seen: set[str] = set()
        for name, quantity in pages.items():
            assert quantity.name == name and quantity.says
            assert all(term in seen for _, term in quantity.terms), name
            assert quantity.formula or quantity.source, name
            seen.add(name)
            if name in keys and "values." not in quantity.formula and "auto" not in quantity.source:
                assert quantity.source.startswith(("profile line", "default")), name


def test_every_number_of_the_profile_is_there() -> None:
    """Each key that holds a number is a quantity of its own name; lists part by part."""
    table, pages = shipped()[0]
    for section in SECTIONS.values():
        for key in section:
            value = getattr(getattr(table.profile, key.section), key.name)
            if value is None:
                continue
            if key.kind in ("length", "number", "count"):
                assert pages[key.path].value == value
            elif key.kind == "angle":
                assert pages[key.path].value == pytest.approx(degrees(value))
    assert [pages[f"legs.tenon.{name}"].value for name in ("thickness", "width", "length")] == [38, 46, 24]


SIZES = {
    "top.radius": "radius", "top.outer_apothem": "outer_apothem", "top.inner_apothem": "inner_apothem",
    "top.inner_length": "inner_length", "top.outer_length": "outer_length", "top.joint_face": "joint_face",
    "top.inner_corner": "inner_corner", "top.wall_at_joint": "wall_at_joint", "top.wall_at_middle": "wall_at_middle",
    "top.apex": "apex", "top.apex_along_arm": "apex_along_arm", "top.field_end": "field_end",
    "slats.level": "slat_level", "joints.tongue_length": "tongue_length", "top.underside": "top_underside",
    "base.foot_height": "foot_height", "base.top": "base_top", "legs.height": "leg_height",
    "top.segments_per_field": "segments_per_field",
}  # fmt: skip


def test_derived_sizes_are_the_tables_own() -> None:
    """The sizes under their plain names are those that the table is built from."""
    for table, pages in told_tables():
        for name, attribute in SIZES.items():
            assert pages[name].value == pytest.approx(getattr(table.sizes, attribute), abs=1e-9), name
        assert pages["top.mitre"].value == pytest.approx(degrees(table.sizes.mitre))
        rim = next(part for part in table.parts if part.kind == "rim-segment")
        assert pages["top.segment_area"].value == pytest.approx(rim.outline.area, abs=1e-5)


def test_slats_lie_where_they_are_said_to() -> None:
    """Number, width, gap and both edges of every slat agree with the spacing that was solved."""
    for table, pages in told_tables():
        assert pages["slats.count"].value == table.spacing.count
        assert pages["slats.solved_gap"].value == pytest.approx(table.spacing.gap, abs=1e-9)
        assert pages["slats.solved_width"].value == pytest.approx(table.spacing.width, abs=1e-9)
        for number, band in enumerate(table.spacing.bands, 1):
            edges = (pages[f"slats.{number}.low"].value, pages[f"slats.{number}.high"].value)
            assert edges == pytest.approx(band, abs=1e-9)


def test_slats_bodies_are_as_clipped() -> None:
    """Length and width between the shoulders of every slat are those of the clipped body; no slat is missed."""
    for table, pages in told_tables():
        met = {
            name.rpartition(".")[0] for name in pages if name.startswith("slat.") and name.endswith(".body_length")
        }
        for field in base_fields(table.sizes):
            for slat in fit_slats(field, table.spacing):
                name = f"slat.{field.number}.{table.spacing.bands.index(slat.band) + 1}"
                box = slat.to_band.outline(slat.body).bounds
                assert pages[f"{name}.body_length"].value == pytest.approx(box.width, abs=NEAR)
                assert pages[f"{name}.body_width"].value == pytest.approx(box.height, abs=NEAR)
                met.remove(name)
        assert not met


def test_grooves_and_slots_begin_and_end_where_they_are_cut() -> None:
    """Start and end of every groove and spline slot agree with the features of the parts."""
    for table, pages in told_tables():
        for part in table.parts:
            for kind in ("groove", "spline-slot"):
                for number, feature in enumerate((f for f in part.features if f.kind == kind), 1):
                    box, name = feature.outline.bounds, f"part.{part.code}.{kind}_{number}"
                    told = (pages[f"{name}.start"].value, pages[f"{name}.end"].value)
                    assert told == pytest.approx((box.left, box.right), abs=NEAR), (table.profile.name, name)


def _contacts(table: Table, pages: Mapping[str, Quantity]) -> Iterator[tuple[str, float, float]]:
    """Each joint that has one closed formula: its name, its area in the table, its area as told."""
    crosses = {"RAIL": "joint.top_lap", "BASE": "joint.base_lap"}
    for joint in table.joints:
        one, other = joint.parts
        if joint.kind == "spline":
            yield other, joint.contact_mm2, pages[f"part.{other}.area"].value
        elif joint.kind in ("half-lap", "three-way-lap"):
            outer = {one[5:], other[5:]} == {"LOW", "HIGH"} and table.sizes.rails == 3
            yield one, joint.contact_mm2, pages[f"{crosses[one[:4]]}{'.outer' if outer else ''}.contact"].value
        elif joint.kind in ("leg-tenon", "foot"):
            yield joint.kind, joint.contact_mm2, pages[f"joint.{joint.kind.replace('-', '_')}.contact"].value
        elif joint.kind == "rail-tenon":
            told = [q.value for name, q in pages.items() if re.fullmatch(r"tenon\.\d\.contact", name)]
            yield joint.kind, joint.contact_mm2, min(told, key=lambda area: abs(area - joint.contact_mm2))


def test_contact_areas_are_the_joints_own() -> None:
    """Splines, laps, tenons and pads have the area that the table's joints have."""
    for table, pages in told_tables():
        for name, area, told in _contacts(table, pages):
            assert told == pytest.approx(area, rel=1e-9), (table.profile.name, name)


def test_mitres_have_the_area_they_are_told() -> None:
    """Each mitre's area is that of one of the kinds of mitre told, and each kind is met."""
    for table, pages in told_tables():
        told = {n: q.value for n, q in pages.items() if n.startswith("joint.mitre.") and n.endswith(".contact")}
        met = set()
        for joint in table.joints:
            if joint.kind == "mitre":
                near = min(told, key=lambda name: abs(told[name] - joint.contact_mm2))
                assert told[near] == pytest.approx(joint.contact_mm2, rel=1e-9)
                met.add(told[near])
        assert met == set(told.values())
        assert mitre_name("", True) not in told or table.profile.joints.spline == "none"


def slotted(table: Table) -> Iterator[float]:
    """What each pin's slot takes of the wood that a mate of its slat covers, by shapely, mm2."""
    lying: dict[int, list[Polygon]] = {}
    for number, spot in enumerate(table.placed):
        part, way = table.part(spot.code), Placement(spot.at.x, spot.at.y, spot.turn, spot.turned_over)
        rings = [one.outline for one in part.cuts("pin-slot")] if part.kind == "slat" else [part.outline]
        lying[number] = [Polygon(fine_polyline(way.outline(ring).anticlockwise, 1e-4)) for ring in rings]
    for joint in table.joints:
        if joint.kind == "tongue-and-groove":
            yield from (lying[joint.placed[0]][0].intersection(slot).area for slot in lying[joint.placed[1]])


@pytest.mark.wide
def test_tongues_have_the_area_they_are_told() -> None:
    """The tongues of all slats together have the area of all tongue and groove joints and of the pins' slots."""
    for table, pages in told_tables():
        copies = pages["top.turned_copies"].value
        told = copies * sum(q.value for n, q in pages.items() if n.startswith("slat.") and n.endswith(".contact"))
        area = sum(joint.contact_mm2 for joint in table.joints if joint.kind == "tongue-and-groove")
        assert told == pytest.approx(area + 2 * sum(slotted(table)), rel=1e-6)


def test_the_year_is_that_of_the_checks() -> None:
    """Moisture, swing and gaps at both ends of the year are those that the findings are measured from."""
    for table, pages in shipped():
        year, swing = seasons_of(table.profile), board_swing(table.profile)
        assert pages["year.driest"].value == pytest.approx(year.driest, rel=1e-12)
        assert pages["year.wettest"].value == pytest.approx(year.wettest, rel=1e-12)
        assert pages["year.built"].value == pytest.approx(year.built, rel=1e-12)
        assert pages["year.wettest.swing"].value == pytest.approx(swing.wet, rel=1e-12)
        found = {finding.kind: finding.measured for finding in movement_findings(table)}
        assert pages["slats.gap_at_wettest"].value == pytest.approx(found["wettest-gap"])


def test_mass_is_what_the_table_weighs() -> None:
    """The parts' masses by their counts are the table's mass."""
    for table, pages in told_tables():
        assert pages["table.mass"].value == pytest.approx(mass_kg(table), rel=1e-9)


def test_a_wrong_size_shows() -> None:
    """Quantities of a table whose rim is a millimetre wider don't agree with this one's parts."""
    table, other = table_of(), book_of(table_of({"top.rim_width": 127.0})).pages
    wrong = [name for name, value in cut_list_figures(table) if abs(other[name].value - value) > NEAR]
    assert {"part.RIM-A.width", "part.RAIL-LOW.length", "part.SLAT-07.length"} <= set(wrong)


def test_the_worked_tables_come_out() -> None:
    """The lengths of the worked table for twelve segments and three rails, from independent clipping, are told."""
    pages = book_of(table_of(TIGHT | {"slats.hold": "width"})).pages
    bodies = [pages[f"slat.0.{number}.body_length"].value for number in range(1, 8)]
    assert bodies == pytest.approx([75.489, 150.977, 226.466, 301.954, 377.443, 452.931, 476.254], abs=6e-4)
    whole = [pages[f"part.SLAT-0{number}.length"].value for number in range(1, 8)]
    assert whole == pytest.approx([105.511, 180.999, 256.488, 331.976, 407.465, 482.954, 511.771], abs=6e-4)


def test_what_only_serves_is_kept_apart() -> None:
    """More figures serve others than are listed for the maker, and every part's stand among the listed."""
    table, pages = shipped()[0]
    listed = [name for name in pages if not name.startswith(INNER)]
    assert all(f"part.{part.code}.length" in listed for part in table.parts)
    assert len(listed) < len(pages)


@pytest.mark.slow
def test_many_random_tables_agree() -> None:
    """Sizes, grooves and slots of hundreds of random tables agree with their formulas."""
    for table in tables(range(100, 500)):
        pages = book_of(table).pages
        for name, value in cut_list_figures(table):
            assert pages[name].value == pytest.approx(value, abs=NEAR), (table.profile.name, name)
