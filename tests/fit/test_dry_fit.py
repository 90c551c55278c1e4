"""The dry fit measured: areas where joints meet, and what is in the way."""

from __future__ import annotations

from dataclasses import replace

import pytest

from templategen.fit.dry_fit import dry_fit
from tests.table.made import table_of

pytest.importorskip("manifold3d")


@pytest.mark.parametrize("name", ["towpath-dining", "towpath-hex"])
def test_every_joint_has_its_contact_measured(name: str) -> None:
    """Each joint is measured, in their order, within half a percent of its closed formula (a mitre's rounded edge
    put back)."""
    table = table_of(name=name)
    fit = dry_fit(table)
    assert fit.clashes == fit.touches == ()
    assert [contact.joint for contact in fit.contacts] == list(table.joints)
    for contact in fit.contacts:
        if contact.joint.kind != "mitre":
            assert contact.area == pytest.approx(contact.joint.contact_mm2, rel=5e-3), contact.joint


def test_wood_in_the_way_is_measured() -> None:
    """One leg raised by 2 mm presses both of its tenons' shoulders into the rail above: that volume, that pair."""
    table = table_of()
    index = next(i for i, spot in enumerate(table.placed) if spot.code == "LEG")
    spot = table.placed[index]
    raised = replace(spot, at=(spot.at[0], spot.at[1], spot.at[2] + 2.0))
    fit = dry_fit(replace(table, placed=(*table.placed[:index], raised, *table.placed[index + 1 :])))
    rails = {code for clash in fit.clashes for code in clash.parts} - {"LEG"}
    assert len(rails) == 1 and next(iter(rails)).startswith("RAIL-")
    thick, wide, _ = table.profile.legs.tenon
    joints, section = table.profile.joints, table.profile.legs.section
    mortise = (thick + joints.glue_clearance) * (wide + table.sizes.clearances.tenon)
    pressed = 2.0 * (section**2 - mortise) + (2.0 - joints.end_clearance) * thick * wide
    (clash,) = fit.clashes
    assert clash.volume == pytest.approx(pressed, rel=0.03), "raked legs are a little longer across"
