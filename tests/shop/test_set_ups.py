"""Set-ups: made once for all that share them, every figure explained, cautions where the work is, a list to print."""

from __future__ import annotations

import csv
import io
import re
from collections import Counter
from fractions import Fraction
from functools import cache
from itertools import pairwise
from math import acos, asin, atan, atan2, ceil, cos, degrees, floor, isclose, pi, radians, sin, sqrt, tan
from typing import Any

import pytest
from shapely.affinity import translate
from shapely.geometry import Polygon, box

from templategen.catalogue import figured
from templategen.explain.quantities import book_of
from templategen.jigs.fences import tall_fence
from templategen.jigs.lap_sled import BEARS, lap_sled, set_back
from templategen.jigs.piece import shown, tidy
from templategen.output.table_csv import csv_bytes
from templategen.packet.shipped import shipped_names, shipped_text
from templategen.parts.sides import tip_edge
from templategen.shop.boards import rough_in
from templategen.shop.cautions import DEFER, DUST
from templategen.shop.explained import explained, write_set_ups
from templategen.shop.rough import SQUARED
from templategen.shop.set_ups import tolerances, words
from templategen.shop.set_ups.cutters import OWN
from templategen.shop.set_ups.feed import is_closed
from templategen.shop.set_ups.remarks import FACET, ON_THE_CUTTER, TALLER
from templategen.shop.set_ups.rows import set_up_list
from templategen.shop.set_ups.run import BOUGHT, EVERY, set_ups
from templategen.shop.set_ups.sawn_ends import OFF_A_STRIP
from templategen.shop.set_ups.set_up import SetUp
from templategen.shop.set_ups.slats import LEAST_FACET, POINTED
from templategen.shop.set_ups.tolerances import DEEPER
from templategen.table.assembly import Table, build_table
from templategen.table.profile.read import profile_from_text
from templategen.units import MM_PER_INCH, length_by_rule
from tests.random_profiles import tables
from tests.table.made import shaped, table_of

ARITHMETIC: dict[str, Any] = {
    "sin": lambda a: sin(radians(a)), "cos": lambda a: cos(radians(a)), "tan": lambda a: tan(radians(a)),
    "asin": lambda x: degrees(asin(x)), "acos": lambda x: degrees(acos(x)), "atan": lambda x: degrees(atan(x)),
    "sqrt": sqrt, "min": min, "max": max, "floor": floor, "ceil": ceil, "round": round, "abs": abs, "pi": pi,
    "__builtins__": {},
}  # fmt: skip
"""What a formula may use, by Python's own arithmetic."""


@cache
def shipped(name: str) -> Table:
    """A shipped table."""
    return build_table(profile_from_text(shipped_text(name), name))


def rows(table: Table, made: int = 1) -> list[dict[str, str]]:
    """The list as a spreadsheet reads it."""
    text = csv_bytes(*set_up_list(set_ups(table, made), table)).decode()
    return list(csv.DictReader(io.StringIO(text, newline="")))


def of(found: tuple[SetUp, ...], operation: str) -> list[SetUp]:
    """The set-ups of one operation."""
    return [one for one in found if one.operation == operation]


def unexplained(table: Table) -> list[str]:
    """Figures of set-ups without a quantity of their value and unit, and quantities whose formula gives another."""
    own = {quantity.name: quantity for quantity in write_set_ups(book_of(table), table)}
    known = {**book_of(table).pages, **own}
    wrong = [
        f"{figure.quantity} = {figure.value}"
        for one in set_ups(table)
        for figure in one.figures
        if figure.quantity not in known
        or (known[figure.quantity].value, known[figure.quantity].unit) != (figure.value, figure.unit)
    ]
    for quantity in own.values():
        if quantity.formula:
            values = {symbol: known[name].value for symbol, name in quantity.terms}
            value = eval(quantity.formula, ARITHMETIC, values)
            if not isclose(value, quantity.value, rel_tol=1e-9, abs_tol=1e-9):
                wrong.append(f"{quantity.name}: {value} is not {quantity.value}")
        elif not quantity.source:
            wrong.append(f"{quantity.name} has neither formula nor source")
    return wrong


@pytest.mark.parametrize("name", shipped_names())
def test_every_figure_is_explained(name: str) -> None:
    """Each figure, tolerances too, is the value of a quantity, and each formula evaluated by Python gives it."""
    assert unexplained(shipped(name)) == []


@pytest.mark.wide
def test_every_figure_of_random_tables_is_explained() -> None:
    """The same for a few random tables."""
    assert [found for table in tables(range(30, 34)) for found in unexplained(table)] == []


@pytest.mark.slow
def test_every_figure_of_many_random_tables_is_explained() -> None:
    """The same for many."""
    assert [found for table in tables(range(34, 100)) for found in unexplained(table)] == []


def test_explain_knows_every_figure() -> None:
    """What the command explains holds every figure of the set-ups, with the value that they show."""
    table = shipped("towpath-side")
    known = explained(table)
    for one in set_ups(table):
        for figure in one.figures:
            assert known[figure.quantity].value == figure.value


def test_quantities_of_set_ups_go_in_no_circle() -> None:
    """Each quantity only uses what stands before it, so that every chain ends at the maker's keys or at a source."""
    table = shipped("towpath-hex")
    known = set(book_of(table).pages)
    for quantity in write_set_ups(book_of(table), table):
        assert quantity.name not in known
        assert {name for _, name in quantity.terms} <= known, quantity.name
        known.add(quantity.name)


@pytest.mark.parametrize("name", shipped_names())
def test_each_setting_is_made_once(name: str) -> None:
    """No two set-ups of one machine and operation are set alike, strips and work after a relief apart, nor two
    cuts of one set-up."""
    found = set_ups(shipped(name))
    reliefs = [number for number, one in enumerate(found) if one.operation == "relief"]
    settings = [
        (
            any(number > relief for relief in reliefs),
            one.operation,
            one.machine,
            one.cutter,
            one.in_strip,
            *((s.name, round(s.figure.value, 6)) for s in one.settings),
        )
        for number, one in enumerate(found)
    ]
    assert len(settings) == len(set(settings))
    for one in found:
        cuts = [tuple((s.name, round(s.figure.value, 6)) for s in cut.settings) for cut in one.cuts]
        assert len(cuts) == len(set(cuts))


@pytest.mark.parametrize("name", shipped_names())
def test_every_feature_is_cut_as_often_as_it_comes(name: str) -> None:
    """Grooves, slots, mortises and holes are cut once for each feature of each piece."""
    table = shipped(name)
    cuts: Counter[tuple[str, str]] = Counter()
    for one in set_ups(table):
        cuts.update((lay.code, one.operation) for cut in one.cuts for lay in cut.lays)
    one_to_one = {
        "groove": "groove",
        "spline-slot": "spline slot",
        "mortise": "mortise",
        "hole": "bore",
    }
    for part in table.parts:
        kinds: Counter[str] = Counter(feature.kind for feature in part.features)
        for kind, operation in one_to_one.items():
            made = cuts[part.code, operation] + (cuts[part.code, "drain"] if kind == "hole" else 0)
            assert made == kinds[kind], (part.code, kind)
        assert cuts[part.code, "plane"] == cuts[part.code, "rip"] == 1


def test_pieces_are_counted_for_all_tables() -> None:
    """Three tables take three times the pieces of one, in the same set-ups."""
    table = shipped("towpath-dining")
    one, three = set_ups(table), set_ups(table, 3)
    assert len(one) == len(three)
    for single, triple in zip(one, three, strict=True):
        for cut, more in zip(single.cuts, triple.cuts, strict=True):
            assert [3 * lay.pieces for lay in cut.lays] == [lay.pieces for lay in more.lays]
    counts = {part.code: part.count for part in table.parts}
    assert all(lay.pieces == counts[lay.code] for single in one for cut in single.cuts for lay in cut.lays)


def test_angles_are_told_both_ways() -> None:
    """Eight segments are mitred at 22.5 degrees off square, which a gauge reads as 67.5."""
    mitre = of(set_ups(table_of({"top.segments": 8, "top.rails": 2})), "mitre")[0]
    assert (mitre.value("angle"), mitre.value("gauge")) == (22.5, 67.5)


def test_the_gauge_is_swung_where_it_must_be() -> None:
    """The lowest of three rails is trenched both ways into one face, once with the gauge swung; two cross square."""
    found = [lay for one in of(set_ups(table_of()), "lap") for cut in one.cuts for lay in cut.lays]
    lowest = [lay for lay in found if lay.code == "RAIL-LOW"]
    assert sorted(lay.swung for lay in lowest) == [False, True]
    assert {lay.worked for lay in lowest} == {"top"}
    square = of(set_ups(shipped("towpath-inch")), "lap")
    assert not any(lay.swung for one in square for cut in one.cuts for lay in cut.lays)


def test_laps_leave_each_rail_its_third() -> None:
    """Of three rails the lowest loses two thirds from above, the highest two thirds and one from below."""
    depths: dict[tuple[str, str], set[float]] = {}
    for one in of(set_ups(table_of()), "lap"):
        for lay in (lay for cut in one.cuts for lay in cut.lays):
            depths.setdefault((lay.code, lay.worked), set()).add(round(one.value("height") / 38 * 3, 6))
    assert depths["RAIL-LOW", "top"] == {2.0}
    assert depths["RAIL-MID", "top"] == depths["RAIL-MID", "bottom"] == {1.0}
    assert depths["RAIL-HIGH", "bottom"] == {1.0, 2.0}


def test_the_pivot_stands_half_a_kerf_further() -> None:
    """The blade's middle runs half a kerf outside the finished circle."""
    found = of(set_ups(table_of({"shop.bandsaw_blade": (13.0, 1.4)})), "saw round")[0]
    assert found.value("middle") == pytest.approx(670 + 0.7)
    assert found.value("radius") == 670


def test_a_mitre_is_held_by_what_the_ring_bears() -> None:
    """Twice the segments, times the mitre's tolerance, times the joint face, is the last gap of 0.3 mm."""
    table = table_of()
    checks = of(set_ups(table), "mitre")[0].proof.checks
    angle = next(check.tolerance.figure for check in checks if check.tolerance.figure.unit == "deg")
    assert 2 * 12 * radians(angle.value) * 126 / cos(pi / 12) == pytest.approx(0.3)


def test_for_too_wide_a_cutter_the_bit_is_taken() -> None:
    """A groove cutter wider than the groove can't make it: the router bit does. Its card names the bit; that another
    cutter was no good is nothing to do."""
    found = of(set_ups(table_of({"shop.groove_cutter": 14.0, "shop.router_bit": 8.0})), "groove")[0]
    assert found.cutter == "router bit" and found.value("passes") == 2
    assert found.value("step") == pytest.approx(4.0)
    assert not any("groove cutter" in words for words in found.warnings)


def test_no_cutter_fits_is_told() -> None:
    """Where both cutters are too wide, a cutter as wide as the groove is asked for."""
    found = of(set_ups(table_of({"shop.groove_cutter": 14.0, "shop.router_bit": 13.0})), "groove")[0]
    assert found.value("cutter") == found.value("width") == 12
    assert any("narrower than" in words for words in found.warnings)


def test_reach_of_saw_and_stop_is_told() -> None:
    """A saw that turns less than a mitre and a stop shorter than a rail are told where they matter."""
    found = set_ups(table_of({"shop.mitre_reach": radians(10), "shop.stop_reach": 600.0}))
    sled = "further than the saw turns: on SLED"
    assert all(any(sled in words for words in one.warnings) for one in of(found, "mitre"))
    assert any("longer fence" in words for one in of(found, "crosscut") for words in one.warnings)


def test_cautions_stand_at_every_set_up() -> None:
    """Each set-up has a caution of its own operation, then dust and the line that defers to the manual."""
    for one in set_ups(shipped("towpath-dining")):
        assert len(one.cautions) >= 3
        assert one.cautions[-2:] == (DUST, DEFER)


def test_short_pieces_are_named_with_their_length() -> None:
    """Where pieces under the shop's shortest are handled singly, they are named with their measured lengths."""
    found = set_ups(shipped("towpath-dining"))
    crosscut = " ".join(of(found, "crosscut")[0].cautions)
    assert "SPLINE (46 mm)" in crosscut and "FOOT (110 mm)" in crosscut and "RAIL" not in crosscut
    rebates = " ".join(caution for one in of(found, "rebate") for caution in one.cautions)
    assert "SLAT-01 (104.2 mm)" in rebates and "SLAT-07" not in rebates


def test_shop_sets_what_is_short() -> None:
    """The shortest piece that may be fed by hand is the maker's own."""
    found = set_ups(table_of({"shop.holding": 100.0}))
    assert "FOOT" not in " ".join(of(found, "crosscut")[0].cautions)


def test_the_list_has_a_row_for_each_cut() -> None:
    """Every cut is a row under its set-up's number, in order, with the same columns everywhere."""
    table = shipped("towpath-hex")
    expected = [(str(one.number), str(i)) for one in set_ups(table) for i in range(1, len(one.cuts) + 1)]
    found = rows(table)
    assert [(row["set_up"], row["cut"]) for row in found] == expected
    assert all(None not in row and None not in row.values() for row in found)
    assert list(found[0]) == list(rows(table_of())[0])


def test_ends_of_many_edges_are_told() -> None:
    """Wide slats under a ring of many short segments have ends of four edges, each cut and told on its own."""
    table = shaped(2, 24, {"slats.width": 150.0, "slats.hold": "gap", "base.length": 500.0})
    assert any("fourth edge from below of the right end" in row["how_it_lies"] for row in rows(table))


def test_a_facet_too_short_for_a_saw_is_planed_by_hand_when_all_is_sawn() -> None:
    """SLAT-07 of the inch table ends with an edge of a quarter of a millimetre: no saw is set for it, no tongue is
    rebated from it; its outline stays, and its length is proved when the point is off."""
    table = shipped("towpath-inch")
    facet = min(edge.length for edge in table.part("SLAT-07L").outline.edges)
    found = set_ups(table)
    mitres = [one for one in of(found, "mitre") if "SLAT-07L" in {lay.code for cut in one.cuts for lay in cut.lays}]
    sawn, planed = mitres
    assert facet < LEAST_FACET and planed.number > max(one.number for one in of(found, "mitre") if one != planed)
    assert planed.way == "by hand" and planed.warnings == (FACET,) and sawn.way != "by hand"
    assert {lay.code for cut in planed.cuts for lay in cut.lays} == {"SLAT-07L", "SLAT-07R"}
    assert [check.measure for check in planed.proof.checks] == ["length from point to point"]
    lengths = [check for check in sawn.proof.checks if check.measure == "length from point to point"]
    assert all("SLAT-07L" not in check.pieces and check.pieces for check in lengths)
    tongues = [lay for one in of(found, "rebate") for cut in one.cuts for lay in cut.lays if lay.code == "SLAT-07L"]
    assert tongues and not [lay for lay in tongues if lay.against == "right-1"]


def test_listed_lengths_are_the_figures() -> None:
    """Lengths are written to a hundredth of a millimetre, angles to a thousandth of a degree."""
    table = shipped("towpath-dining")
    mitre = next(row for row in rows(table) if row["operation"] == "mitre" and row["stop_mm"])
    assert (mitre["angle_deg"], mitre["gauge_deg"]) == ("15.000", "75.000")
    assert float(mitre["stop_mm"]) == pytest.approx(2 * 675 * tan(pi / 12), abs=0.005)
    assert mitre["how_it_lies"] == "cut the right end; underside up; outer edge to the fence; left end to the stop"


def inches(text: str) -> Fraction:
    """Millimetres of an inch fraction as written."""
    return sum(map(Fraction, text.removesuffix(" in").split("-")), Fraction(0)) * Fraction(127, 5)


def test_inch_profiles_get_fractions_with_their_error() -> None:
    """Each length has its nearest 64th of an inch, and what that shows too much; mm profiles have no such columns."""
    checked = 0
    for row in rows(shipped("towpath-inch")):
        for column in [name for name in row if name.endswith("_mm") and not name.endswith("error_mm") and row[name]]:
            name = column.removesuffix("_mm")
            shown, error = float(inches(row[f"{name}_in"])), float(row[f"{name}_in_error_mm"])
            assert shown - error == pytest.approx(float(row[column]), abs=0.0056)
            assert abs(error) <= 25.4 / 128 + 1e-3
            checked += 1
    assert checked > 80
    assert not any(name.endswith("_in") for name in rows(shipped("towpath-dining"))[0])


@pytest.mark.wide
def test_too_coarse_fractions_are_told() -> None:
    """A segment's stop is to be set by the mm where a 64th is off by more than the tenth that segments may differ; a
    slat's bears the fifth that a shoulder may stand off, and no 64th is further off than that."""
    seen = set()
    for diameter in (1310.0, 1312.0, 1314.0):
        found = rows(table_of({"top.diameter": diameter}, "towpath-inch"))
        for row in (row for row in found if row["operation"] == "mitre" and row["stop_mm"]):
            off, rim = abs(float(row["stop_in_error_mm"])), row["parts"].startswith("RIM")
            assert ("stop" in row["inches"]) == (rim and off > 0.1)
            seen.add((rim, off > 0.1))
    assert seen == {(True, True), (True, False), (False, True), (False, False)}


def test_the_list_is_the_same_bytes_each_time() -> None:
    """Two runs write the same list."""
    table = shipped("towpath-side")
    one, other = (csv_bytes(*set_up_list(set_ups(table), table)) for _ in range(2))
    assert one == other


def test_the_saw_without_a_stop_is_told_of_the_pieces_that_have_none() -> None:
    """What else is sawn in the set-up goes to its stop."""
    (sawn,) = (one for one in of(set_ups(table_of(name="towpath-inch")), "crosscut"))
    (told,) = (told for told in sawn.warnings if "without a stop" in told)
    assert told.startswith("SLAT-08L, SLAT-08R: ")


def test_a_point_too_short_for_a_saw_is_planed_and_nothing_else() -> None:
    """No saw, no shooting board for which there is no fence at its angle."""
    found = [one for one in set_ups(table_of(name="towpath-inch")) if FACET in one.warnings]
    assert found
    for one in found:
        assert "saw" not in " ".join((one.machine, *one.needs)) and "shooting" not in " ".join(one.does)


def test_nobody_lays_a_hand_on_wood_over_a_turning_bit() -> None:
    """What starts over its hole is held by featherboards and moved by push blocks, as the tall fence's sheet says."""
    table = table_of(name="towpath-inch")
    closed = [one for one in of(set_ups(table), "groove") if ON_THE_CUTTER in one.warnings]
    (fence,) = tall_fence(table)
    for told in (ON_THE_CUTTER, " ".join(fence.cautions)):
        assert ("push block" in told or "TALL-FENCE-PUSH" in told) and "no hand on the wood" in told
    assert closed and "hand on either end" not in ON_THE_CUTTER


@pytest.mark.parametrize("name, let_down", [("in inches", True), ("of six sides", False)])
def test_it_is_told_where_what_presses_down_stands(name: str, let_down: bool) -> None:
    """On the fence's face, over wood that lies there as the piece starts; of nothing where no piece is let down on a
    cutter."""
    table = table_of(name={"in inches": "towpath-inch", "of six sides": "towpath-hex"}[name])
    closed = [one for one in of(set_ups(table), "groove") if ON_THE_CUTTER in one.warnings]
    (fence,) = tall_fence(table)
    told = [line for line in fence.use if "the one that presses down is clamped to the face" in line]
    assert bool(closed) is bool(told) is let_down and "TALL-FENCE tells" in ON_THE_CUTTER
    before = float(MM_PER_INCH) * 2.5 if let_down else 0.0
    assert all("2-1/2 in before the cutter" in line for line in told)
    assert not any("what overhangs" in line for line in told)
    for one in (cut for set_up in closed for cut in set_up.cuts if is_closed(cut)):
        assert all(before < own.figure.value for own in one.settings if own.name == "rear")


@pytest.mark.parametrize("name", ["towpath-dining", "towpath-side"])
def test_what_holds_a_pieces_end_down_is_told(name: str) -> None:
    """At the front block a piece reaches back no further than its own end's distance from the groove: what presses it
    down, 50 mm before the cutter, has let go of it before, and earlier still presses behind the last wood that stands
    on the table, by 10 mm to spare."""
    table = table_of(name=name)
    part = table.part("RIM-A")
    (groove,) = part.cuts("groove")
    upper = part.blank.bounds.right - part.side_cut(groove).bounds.right
    lower = upper - (part.size[0] - part.face(groove.face).outline.bounds.width) / 2
    left = 50 - (2 * lower - upper) + 10
    (fence,) = tall_fence(table)
    told = " ".join(fence.use)
    last = (
        f"over a cut's last {shown(tidy(table.profile, left), table.profile)} it presses what overhangs: a soft push"
    )
    assert upper < 50 and last in told and "50 mm before the cutter" in told


@pytest.mark.parametrize(
    "bit, cutters", [(8.0, {"router bit"}), (3.0, {"router bit"}), (13.0, {"groove cutter", OWN})]
)
def test_what_stops_in_the_wood_is_no_disc_s_where_a_bit_reaches(bit: float, cutters: set[str]) -> None:
    """A disc would run on past the line; where no bit is narrow enough, it cuts what runs out at one end, but
    nothing is let down on it as it turns: for what starts in the wood a narrower bit is asked for."""
    found = of(set_ups(table_of({"shop.groove_cutter": 12.0, "shop.router_bit": bit})), "groove")
    stopped = [(one, {set_.name for cut in one.cuts for set_ in cut.settings}) for one in found]
    assert {one.cutter for one in found} == cutters
    assert not [one for one, names in stopped if "rear" in names and one.cutter == "groove cutter"]
    assert all((ON_THE_CUTTER in one.warnings) == ("rear" in names) for one, names in stopped)
    assert OWN not in cutters or any("just as wide" in told for one in found for told in one.warnings)


@pytest.mark.parametrize("name", shipped_names())
def test_a_point_at_the_stop_is_told_where_one_comes_there(name: str) -> None:
    """Ends are sawn set-up by set-up: only an end of two edges of which one is sawn aslant by then is a point."""
    aslant: set[tuple[str, str]] = set()
    for one in of(set_ups(shipped(name)), "mitre"):
        lays = [lay for cut in one.cuts for lay in cut.lays]
        aslant |= {(lay.code, lay.worked) for lay in lays}
        far = {"right": "left-", "left": "right-"}
        stopped = [(lay.code, far[lay.worked.split("-")[0]]) for lay in lays if lay.stop_at]
        met = any(code == other and end.startswith(side) for code, side in stopped for other, end in aslant)
        assert (POINTED in one.warnings) == (met and one.way != "by hand"), (one.number, stopped)


def test_a_strip_gives_its_pieces_with_one_saw_set_once() -> None:
    """Slanting pieces lie all one way and come off by cuts like their first end, as far apart as told; the strip
    holds as many, side by side, and an end to hold it by. No other end is cut while they hang together."""
    table = table_of(name="towpath-hex")
    found, shop = set_ups(table), table.profile.shop
    part = table.part("SLAT-01L")
    first, *others = [(one, cut) for one in of(found, "mitre") for cut in one.cuts if part.code in cut.codes]
    lean, rough = radians(first[0].value("angle")), rough_in(table.profile, part)
    apart, wide = first[0].value("apart", first[1]), rough.width
    assert any(OFF_A_STRIP.split("]")[1] in told for told in first[0].warnings) and not any(
        lay.stop_at for lay in first[1].lays
    )
    assert all(lay.stop_at for _, cut in others for lay in cut.lays) and others
    piece = Polygon([(point.x, point.y) for point in part.blank.points])
    row = [translate(piece, -number * apart) for number in range(rough.pieces)]
    right = max(point.x for point in part.blank.points)
    strip = box(right - rough.length, 0, right, wide)
    for one, other in pairwise(row):
        assert one.distance(other) > shop.saw_kerf and strip.buffer(SQUARED).contains(one)
    left = right - rough.pieces * apart - wide * tan(lean)
    assert abs(left - (right - rough.length) - shop.strip_end) < 0.01


def test_mortisers_are_told_their_chisel_and_its_bites() -> None:
    """The chisel goes in, its rows and bites reach across and along; nothing is told of it where none is used."""
    for made in of(set_ups(table_of(name="towpath-hex")), "mortise"):
        (told,) = [words for words in made.does if words.startswith("hollow chisel")]
        wide, rows, bites = (
            float(found) for found in re.findall(r"with (\d+) mm (\d+) rows of (\d+) bites", told)[0]
        )
        for many, size in ((rows, made.value("width")), (bites, made.value("length"))):
            assert (many - 1) * wide < size <= many * wide and wide <= size
    bare = table_of({"shop.machines": ("mitre saw", "drill press")})
    assert not any("hollow chisel" in words for one in set_ups(bare) for words in one.does)


def test_a_square_tip_is_cut_once() -> None:
    """A slat whose end has a square edge between two slants is cut clean there, and not once more through air."""
    cuts = [
        lay.worked for one in of(set_ups(table_of(name="towpath-hex")), "crosscut")
        for cut in one.cuts for lay in cut.lays if lay.code == "SLAT-03"
    ]  # fmt: skip
    assert cuts == ["left-2", "right"]


def test_wood_between_feet_is_taken_by_passes_across() -> None:
    """Nothing that must come in from an end: a cutter as for laps, to a depth and a width from foot to foot, its stop
    the same for both feet. HEIGHTS has that depth."""
    table = table_of(name="towpath-hex")
    (relief,) = of(set_ups(table), "relief")
    base = table.part("BASE-LOW")
    assert relief.needs == ("groove cutter",) and relief.value("height") == table.profile.base.foot_thickness
    assert all(lay.worked == "bottom" and lay.up == "top" for cut in relief.cuts for lay in cut.lays)
    assert relief.value("width") + 2 * relief.value("stop", relief.cuts[0]) == pytest.approx(base.size[0])
    small = table_of({"shop.machines": ("mitre saw", "bandsaw", "hand router")}, name="towpath-hex")
    (relief,) = of(set_ups(small), "relief")
    assert relief.needs == ("hand router",) and any("stands on both" in told for told in relief.does)


@pytest.mark.parametrize("name", shipped_names())
def test_passes_side_by_side_overlap(name: str) -> None:
    """A cutter ground a little under its size would leave a ridge between passes as far apart as it is wide."""
    found = [(one, cut) for one in set_ups(shipped(name)) for cut in one.cuts if one.setting("step", cut)]
    assert found
    for one, cut in found:
        across = one.value("step", cut) * (cos(radians(one.value("angle", cut))) if one.operation == "lap" else 1.0)
        assert across <= one.value("cutter", cut) - 0.5 + 1e-6, (one.operation, across)


@pytest.mark.parametrize("apart", [165.0, 225.0, 195.0])
def test_a_gauge_carries_a_raked_leg_by_its_lean(apart: float) -> None:
    """Square it would touch the fence by one corner of its end: the gauge stands by the end's lean, and the other way
    for the face that lies up in the other picture."""
    table = table_of({"legs.centre_distance": apart}, name="towpath-hex")
    (rebate,) = [one for one in of(set_ups(table), "rebate") if "LEG" in one.codes]
    outline = table.part("LEG").outline
    seen: dict[bool, set[bool]] = {True: set(), False: set()}
    for lay in (lay for cut in rebate.cuts for lay in cut.lays):
        start, end = tip_edge(outline, lay.against)
        lean = degrees(atan2(end.x - start.x, end.y - start.y)) % 180
        lean -= 180 if lean > 90 else 0
        assert abs(lean) == pytest.approx(rebate.value("angle") if rebate.setting("angle") else 0.0, abs=1e-9)
        seen[lay.swung].add((lean > 0) == (lay.up == "top"))
    if apart == 195.0:
        assert not rebate.setting("angle") and not seen[True]
    else:
        assert seen[True] and seen[False] and not seen[True] & seen[False]
        assert rebate.value("gauge") == pytest.approx(90 - rebate.value("angle"))
        assert any("set by BEVEL" in words for words in rebate.does)


def test_no_pass_of_a_rebate_cuts_into_the_fence_unsaid() -> None:
    """Strips hold the end off the fence while it is clamped for further passes, and none stays; a cutter as wide as
    the rebate, or nearly, runs at a wooden face, and one that stays clear of the fence doesn't."""
    found = of(set_ups(table_of({"shop.groove_cutter": 8.0, "shop.router_bit": 8.0})), "rebate")
    steps = [step.says for one in found for step in one.settings if step.name == "step"]
    assert steps and all("clamp the piece" in says and "taken out again" in says for says in steps)
    assert not any("FENCE-FACE" in told for one in found for told in one.warnings)
    wide = of(set_ups(table_of({"shop.groove_cutter": 20.0, "shop.router_bit": 20.0})), "rebate")
    assert any("FENCE-FACE" in told for one in wide for told in one.warnings)
    by_hand = of(set_ups(table_of({"shop.groove_cutter": 20.0, "shop.machines": ("hand router",)})), "rebate")
    assert by_hand and not any("FENCE-FACE" in told for one in by_hand for told in one.warnings)


@pytest.mark.parametrize("name", shipped_names())
def test_a_block_on_the_bandsaws_fence_counts(name: str) -> None:
    """The fence stands off the blade by the shoulder's distance and the block that the end touches; where that ends
    is told, and what ends the cut."""
    table = table_of(name=name)
    thick = table.profile.jigs.thickness
    found = [one for one in of(set_ups(table), "shoulder") if one.way == "machine"]
    assert found
    for one in found:
        size, *fences = (
            figured(length_by_rule(at, table.profile.units))
            for at in (thick, *(one.value("fence", cut) + thick for cut in one.cuts))
        )
        (told,) = (told for told in one.does if "jig board" in told)
        assert f"{size} thick" in told and all(at in told for at in fences)
        assert "before the blade" in one.does[0] and "meets a stop" in one.does[0]


@pytest.mark.parametrize("name", shipped_names())
def test_a_laps_stop_meets_ends_past_their_rounded_corners(name: str) -> None:
    """Base rails come to it rounded: the card tells how far the stop stands out, which its layers reach."""
    table = table_of(name=name)
    (sled,) = lap_sled(table)
    (stop,) = [part for part in sled.parts if part.code == "LAP-SLED-STOP"]
    for one in of(set_ups(table), "lap"):
        back = max(set_back(table.part(code)) for code in one.codes)
        told = [told for told in one.does if "past its corner" in told]
        assert len(told) == (back > 0 and one.way == "machine")
        out = figured(length_by_rule(back + BEARS, table.profile.units, 0, 8))
        assert all(out in words for words in told) and stop.count * stop.thickness >= back + BEARS


@pytest.mark.parametrize("name", shipped_names())
def test_shoulders_of_edges_never_stand_proud_of_those_of_faces(name: str) -> None:
    """One way alone, and a cut whose waste lies free: the other edge runs along the fence."""
    table = table_of(name=name)
    for one in of(set_ups(table), "shoulder"):
        cheek, shoulder = one.proof.checks
        assert shoulder.tolerance.says == DEEPER and "(0 to +" in words.checks(one), one.number
        assert cheek.tolerance.says != DEEPER
        if one.setting("angle") is None:
            whole = one.value("edge") + one.value("height")
            assert all(table.part(code).size[1] == pytest.approx(whole) for code in one.codes)
        if "bandsaw" in one.needs:
            assert any("the other edge at the fence" in says for says in one.does)


@pytest.mark.parametrize("name", shipped_names())
def test_a_hole_that_the_top_turns_on_is_measured_in_its_place(name: str) -> None:
    """Its diameter tells nothing of where it is: the rim is off by what it is off."""
    for one in of(set_ups(table_of(name=name)), "bore"):
        assert ["both ends" in check.measure for check in one.proof.checks] == [False, True]
        assert one.proof.checks[1].tolerance.figure.value == 0.2 and one.proof.checks[1].of == ("stop", "edge")


def test_boards_of_the_thickness_are_made_alike() -> None:
    """Nothing is over to try on; what is left between two rebates is as even as the pieces are."""
    planed = of(set_ups(table_of()), "plane")
    bought = [one for one in planed if BOUGHT in one.does]
    assert bought and len(bought) < len(planed)
    for one in bought:
        assert one.proof.test_piece == EVERY and one.proof.test_piece != tolerances.FIRST
        even = next(check for check in one.proof.checks if "piece against piece" in check.measure)
        rebated = {"RAIL-LOW", "SLAT-01"}.intersection(one.codes)
        assert even.tolerance.figure.value == (0.05 if rebated else 0.1), one.number


def test_a_slot_off_the_middle_shows_before_the_ring_does() -> None:
    """Each mitre joins a slot made from the top with one made from the underside: both errors are a step there."""
    (slots,) = of(set_ups(table_of()), "spline slot")
    faces = {(lay.code, lay.against) for cut in slots.cuts for lay in cut.lays}
    assert {against for _, against in faces} == {"top", "bottom"}
    check = next(one for one in slots.proof.checks if "twice what the fence is off" in one.measure)
    assert check.tolerance.figure.value == 0.05 and check.of == ("fence",)


def test_the_circle_is_measured_where_a_rule_goes() -> None:
    """The pivot lies under the top, a glued spline in its slot: neither is measured from once it is so."""
    (sawn,) = of(set_ups(table_of()), "saw round")
    (check,) = sawn.proof.checks
    assert "from above along the joint" in check.measure and check.wanted is not None
    assert check.wanted.figure.value == pytest.approx(670 - 549 / cos(radians(15)), abs=0.01)
    says = {one.name: one.says for cut in sawn.cuts for one in cut.settings}
    assert says["inset"].endswith("when that was glued in") and says["pivot"].startswith(
        "on the underside, before sawing"
    )


def test_blocks_are_told_once() -> None:
    """One line for each block, whether it stops a mitred piece or a square one."""
    grooves = of(set_ups(table_of()), "groove")
    for one in grooves:
        says: dict[str, set[str]] = {}
        for setting in (setting for cut in one.cuts for setting in cut.settings):
            says.setdefault(setting.name, set()).add(setting.says)
        assert all(len(told) == 1 for told in says.values()), says
        assert (TALLER in one.warnings) == any(code.startswith("RIM") for code in one.codes)


def test_what_goes_off_its_strip_to_a_line_is_told_of_no_stop() -> None:
    """One rule on a card: without a stop, or where stops are for what is off the strip, there is no block to take
    away."""
    seen = 0
    for name in shipped_names():
        for one in set_ups(shipped(name)):
            short = [told for told in one.cautions if "Cut them off a longer strip" in told]
            for told in short:
                cuts = [cut for cut in one.cuts if any(f"{code} (" in told for code in cut.codes)]
                has = {name for name in ("stop", "apart") for cut in cuts if one.setting(name, cut)}
                stopped = has == {"stop"}
                assert ("block at the stop" in told) == stopped, (name, one.number, told)
                seen += not stopped
    assert seen


def test_a_sawn_rings_edge_is_eased_with_its_grain_in_mind() -> None:
    """Where the outer edge was sawn round the grain runs out of it between joint and middle."""
    for name in shipped_names():
        table = shipped(name)
        for one in (one for one in set_ups(table) if one.operation == "edge round-over"):
            told = any("from the middle back to the joint" in words for words in map(str, one.does))
            assert told == table.sizes.is_sawn, name


def test_scrap_in_a_trench_is_screwed_clear_of_the_cutter() -> None:
    """A relief's passes take away what tape holds on to: the scrap hangs on the trench's floor, every head further up
    than the cutter comes."""
    (relief,) = of(set_ups(shipped("towpath-hex")), "relief")
    (told,) = (line for line in relief.does if "scrap" in line)
    sunk = re.search(r"screws hold each on the trench's floor, heads sunk (\d+) mm or more", told)
    assert sunk and float(sunk[1]) > relief.value("height")
    assert "tape" not in told


def test_a_channel_from_a_drain_hole_is_the_last_cut_in_a_sole() -> None:
    """Cut before the relief it would end in wood that goes; its depth and its way out are told."""
    told = {
        one.operation: [line for line in one.does if "channel" in line] for one in set_ups(shipped("towpath-hex"))
    }
    (line,) = told.pop("relief")
    assert "5 mm deep, from the hole to where that foot ends nearest" in line
    assert not any(told.values())
