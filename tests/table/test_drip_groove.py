"""A drip groove under the rim: as much wood as its ring, cut once the ring is glued, left out by the router."""

from __future__ import annotations

from math import cos, pi, tan
from typing import Any

import pytest

from templategen.errors import DesignError
from templategen.explain.quantities import book_of
from templategen.fit.dry_fit import dry_fit
from templategen.parts.volume import volume
from templategen.router.clamping import clampings
from templategen.shop.finish import surface
from templategen.table.assembly import Table
from tests.proof.followed import alone, falsified, faults, written
from tests.table.made import table_of

ASKED = (11.3, 5.7, 4.1)
SAWN: dict[str, Any] = {"top.drip_groove": ASKED}
FACETED: dict[str, Any] = {**SAWN, "top.edge": "faceted"}


def ring_volume(table: Table) -> float:
    """Wood in all segments."""
    return sum(part.count * volume(part) for part in table.parts if part.kind == "rim-segment")


def without(changes: dict[str, Any], name: str) -> Table:
    """The same table with no groove."""
    return table_of({**changes, "top.drip_groove": (11.3, 5.7, 0.0)}, name)


@pytest.mark.parametrize("name", ["towpath-dining", "towpath-side"])
@pytest.mark.parametrize("changes", [SAWN, FACETED])
def test_it_takes_a_ring_of_wood(changes: dict[str, Any], name: str) -> None:
    """The annulus, or for facets the polygon's band, times the depth; its two walls are new surface."""
    table, plain = table_of(changes, name), without(changes, name)
    inwards, width, depth = ASKED
    outer, n = table.sizes.radius - inwards, table.sizes.segments
    inner = outer - width
    share = pi if table.sizes.is_sawn else n * tan(pi / n)
    assert ring_volume(plain) - ring_volume(table) == pytest.approx(share * (outer**2 - inner**2) * depth)
    part = next(one for one in table.parts if one.kind == "rim-segment")
    ends = 2 * width * depth / (1 if table.sizes.is_sawn else cos(pi / n))
    walls = 2 * share * (outer + inner) / n * depth
    gained = surface(part) - surface(plain.part(part.code))
    assert gained == pytest.approx(walls - ends, rel=1e-6)


@pytest.mark.parametrize("changes", [SAWN, FACETED])
def test_mitres_meet_over_so_much_less(changes: dict[str, Any]) -> None:
    """As the solids measure it, and as it is explained; glued before, they are glued as without."""
    table = table_of(changes, "towpath-side")
    mitre = next(one for one in dry_fit(table).contacts if one.joint.kind == "mitre")
    lost = without(changes, "towpath-side").joints[0].contact_mm2 - mitre.joint.contact_mm2
    assert lost == pytest.approx(5.7 * 4.1 / (1 if table.sizes.is_sawn else cos(pi / table.sizes.segments)))
    pages = book_of(table).pages
    told = [page.value for name, page in pages.items() if name.startswith("joint.mitre") and name.endswith("contact")]
    assert min(abs(value - mitre.joint.contact_mm2) for value in told) < 1e-6


@pytest.mark.parametrize("changes", [SAWN, pytest.param(FACETED, marks=pytest.mark.slow)])
def test_the_bench_cuts_it_and_a_wrong_figure_shows(changes: dict[str, Any]) -> None:
    """By the set-up's own figures in the glued ring; any of them wrong spoils the segment."""
    record = alone(written(table_of(changes, "towpath-side")), {"RIM-A", "RIM-B", "SPLINE"})
    record["assembly"] = []
    for one in record["plan"]["operations"]:
        one.pop("step", None)
    assert faults(record) == []
    wrong = [(says, bool(faults(record))) for says in falsified(record) if "drip groove: " in says]
    wrong = [(says, shows) for says, shows in wrong if not says.partition(": ")[2].startswith(("number", "minutes"))]
    assert len(wrong) > 6 and all(shows for _, shows in wrong), wrong


def test_no_router_cuts_it_in_a_segment() -> None:
    """It is left to the set-ups, as the round-over is."""
    table = table_of({**SAWN, "joints.spline": "none"}, "towpath-side")
    part = next(one for one in table.parts if one.kind == "rim-segment")
    for one in clampings(part, table.profile):
        assert all(done.kind != "drip-groove" for done in one.operations)


@pytest.mark.parametrize(
    ("groove", "kind"),
    [
        ((7.9, 6.0, 5.0), "drip-in-round-over"),
        ((14.0, 105.0, 5.0), "drip-past-rim"),
        ((14.0, 6.0, 14.1), "drip-into-slots"),
    ],
)
def test_what_does_not_fit_is_refused(groove: tuple[float, float, float], kind: str) -> None:
    """In the round-over, past the rim's inner edge, into the splines."""
    with pytest.raises(DesignError) as refused:
        table_of({"top.drip_groove": groove})
    assert kind in [fault.kind for fault in refused.value.faults]
