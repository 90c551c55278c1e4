"""Seeded faults in finished parts, each caught by the finding that names it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import pytest

from templategen.checks.fit import fit_findings
from templategen.checks.shows import sharpest, show_findings
from templategen.fit.dry_fit import dry_fit
from templategen.geometry.outline import polygon
from templategen.geometry.placement import Placement
from templategen.packet.shipped import shipped_names, shipped_text
from templategen.parts.feature import Feature
from templategen.parts.part import Part
from templategen.table.assembly import Table, build_table
from templategen.table.profile.read import profile_from_text
from tests.random_profiles import tables

pytest.importorskip("manifold3d")


def shipped(name: str) -> Table:
    """A shipped table."""
    return build_table(profile_from_text(shipped_text(name), name))


def with_part(table: Table, code: str, change: Callable[[Part], Part]) -> Table:
    """The table with one kind of part cut otherwise than designed."""
    return replace(table, parts=tuple(change(part) if part.code == code else part for part in table.parts))


def with_features(kind: str, change: Callable[[Feature], Feature]) -> Callable[[Part], Part]:
    """A part whose features of one kind are changed."""
    return lambda part: replace(
        part, features=tuple(change(feature) if feature.kind == kind else feature for feature in part.features)
    )


def found(table: Table) -> set[tuple[str, str]]:
    """Level and key of what the dry fit finds."""
    return {(finding.level, finding.where) for finding in fit_findings(table, dry_fit(table))}


@pytest.mark.parametrize("name", shipped_names())
def test_shipped_tables_fit(name: str) -> None:
    """The shipped tables share no wood, touch only at joints, and every joint meets over its designed area."""
    assert found(shipped(name)) == set()


def test_a_tenon_longer_than_its_mortise_is_a_stop() -> None:
    """Mortises 0.3 mm shallower than the tenons are long are named by the leg's tenon."""
    shallow = with_features("mortise", lambda f: replace(f, depth=f.depth - 1.3))
    assert ("stop", "legs.tenon") in found(with_part(shipped("towpath-dining"), "RAIL-LOW", shallow))


def test_a_groove_a_millimetre_off_is_a_stop() -> None:
    """A groove 1 mm too high is named by the tongue."""
    off = with_features("groove", lambda f: replace(f, outline=Placement(y=1.0).outline(f.outline)))
    assert ("stop", "joints.tongue") in found(with_part(shipped("towpath-dining"), "RIM-A", off))


def test_a_mirrored_slat_is_a_stop() -> None:
    """A left-hand slat cut as its mirror image clashes where it is placed."""
    over = Placement(turned_over=True)

    def mirrored(part: Part) -> Part:
        shift = Placement(x=part.outline.bounds.right)
        flip = tuple(
            replace(
                f,
                outline=shift.outline(over.outline(f.outline))
                if f.face == "top"
                else over.outline(shift.outline(f.outline)),
            )
            for f in part.features
        )
        return replace(part, outline=shift.outline(over.outline(part.outline)), features=flip)

    assert ("stop", "joints.tongue") in found(with_part(shipped("towpath-hex"), "SLAT-02L", mirrored))


def test_a_lap_on_the_wrong_side_is_a_stop() -> None:
    """The lowest rail notched from below clashes with the rails that cross it."""
    wrong = with_features("lap", lambda f: replace(f, face="bottom"))
    assert ("stop", "top.rails") in found(with_part(shipped("towpath-dining"), "RAIL-LOW", wrong))


def test_a_short_tongue_is_a_stop() -> None:
    """Rebates cut 0.5 mm too deep leave a tongue that no longer meets its groove's cheeks."""
    deep = with_features("tongue", lambda f: replace(f, depth=f.depth + 0.5))
    assert ("stop", "joints.tongue") in found(with_part(shipped("towpath-dining"), "SLAT-03", deep))


def test_a_part_that_touches_without_a_joint_is_a_caution() -> None:
    """A slat wide enough to reach its neighbour is told to bind."""

    def wide(part: Part) -> Part:
        box = part.outline.bounds
        grown = polygon((x, y + 7.375 if y > box.top - 1 else y) for x, y, _ in part.outline)
        return replace(part, outline=grown)

    levels = {level for level, _ in found(with_part(shipped("towpath-dining"), "SLAT-02", wide))}
    assert levels & {"caution", "stop"}


def test_a_spline_into_the_groove_is_a_stop() -> None:
    """A slot that starts at the inner corner runs into the groove's end and is named."""

    def long(feature: Feature) -> Feature:
        box = feature.outline.bounds
        corners = ((0.0, box.bottom), (box.right, box.bottom), (box.right, box.top), (0.0, box.top))
        return replace(feature, outline=polygon(corners)) if feature.face == "end-1" else feature

    table = with_part(shipped("towpath-dining"), "RIM-A", with_features("spline-slot", long))
    findings = [f for f in show_findings(table) if f.where == "joints.spline" and f.level == "stop"]
    assert findings and findings[0].measured < 3.0


def test_a_sharp_point_is_measured() -> None:
    """The sharpest corner of a 3-4-5 triangle is 36.87 degrees."""
    assert sharpest(polygon(((0, 0), (4, 0), (4, 3)))) == pytest.approx(36.869898)


@pytest.mark.wide
def test_random_tables_have_nothing_to_settle_in_their_fit() -> None:
    """Random tables fit: no interference, all designed contacts; only a closed straight run lies against rails."""
    fitted = 0
    for table in tables(range(500, 508)):
        slats = table.profile.slats
        lies_against = slats.run == "straight" and slats.apex == "closed"
        assert found(table) <= ({("caution", "slats.apex")} if lies_against else set()), table.profile.title
        fitted += 1
    assert fitted >= 4


@pytest.mark.slow
def test_a_thousand_random_tables_fit() -> None:
    """A thousand random profiles fit, or say why they can't be built."""
    fitted = 0
    for table in tables(range(10_000, 11_000)):
        assert not {level for level, _ in found(table)} & {"stop"}, table.profile.title
        fitted += 1
    assert fitted >= 300
