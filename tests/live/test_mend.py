"""What would do: offered only when a table comes of it, in the file's own units, several keys where one won't."""

from __future__ import annotations

from typing import Any

import pytest

from templategen.errors import TemplategenError
from templategen.live.mend import for_faults
from templategen.packet.build import in_units
from templategen.packet.shipped import shipped_text
from templategen.table.assembly import build_table
from templategen.table.profile.change import changed
from templategen.table.profile.model import Profile
from templategen.table.profile.read import profile_from_text


def refused(profile: Profile, changes: dict[str, Any]) -> TemplategenError:
    """Why these changes make no table."""
    with pytest.raises(TemplategenError) as caught:
        build_table(changed(profile, changes))
    return caught.value


@pytest.mark.parametrize(
    ("name", "changes", "key", "value"),
    [
        ("towpath-side", {"top.diameter": 9999}, "top.diameter", 4000),
        ("towpath-inch", {"slats.thickness": 2.2}, "slats.thickness", 1.5),
        ("towpath-side", {"legs.tenon": [999, 31, 22]}, "legs.tenon", None),
        ("towpath-hex", {"top.thickness": 16.8}, "slats.thickness", 16.8),
    ],
)
def test_what_is_refused_is_offered_a_value_that_makes_a_table(
    name: str, changes: dict[str, Any], key: str, value: float | None
) -> None:
    """A range, another size in inches, one of three sizes that still doesn't fit, and several keys at once."""
    profile = profile_from_text(shipped_text(name), name)
    faults = [in_units(fault, profile.units) for fault in refused(profile, changes).faults]
    offers = for_faults(profile, faults, changes)
    for offer in offers:
        build_table(changed(profile, {**changes, **offer["changes"]}))
    assert [one["changes"].get(key) for one in offers[:1]] == ([value] if value else [])
