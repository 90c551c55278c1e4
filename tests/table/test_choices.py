"""A choice takes its own words only, however the profile was made."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from templategen.errors import DesignError, ProfileError
from templategen.geometry.outline import rectangle
from templategen.parts.feature import Feature
from templategen.table.profile.choices import choices_of
from templategen.table.profile.keys import KEYS
from templategen.table.profile.model import Base, Joints, Legs, Limits, Slats, Top
from templategen.table.profile.model_of_shop import Dxf, Jigs, Router, Shop, Stock, Work
from tests.table.made import profile_of

SECTIONS: dict[str, type] = {
    "top": Top, "slats": Slats, "joints": Joints, "legs": Legs, "base": Base, "shop": Shop, "limits": Limits,
    "dxf": Dxf, "jigs": Jigs, "router": Router, "work": Work,
}  # fmt: skip


@pytest.mark.parametrize("key", [key for key in KEYS.values() if key.kind == "choice" and key.section in SECTIONS])
def test_a_word_that_a_choice_does_not_take_is_refused_from_python(key: Any) -> None:
    """The refusal names the key, the word and what is wanted."""
    whole = profile_of()
    section = replace(getattr(whole, key.section), **{key.name: "wavy"})
    with pytest.raises(ProfileError) as refusal:
        replace(whole, **{key.section: section})
    (fault,) = refusal.value.faults
    assert (fault.where, fault.found) == (key.path, "'wavy' is not known here")
    assert all(f'"{word}"' in fault.remedy for word in key.choices)


def test_units_and_stock_are_refused_too() -> None:
    """What stands at the head of the file, and in its lists."""
    whole = profile_of()
    board = Stock("oak", "slab", "oak", 2000, 150, 30, None, 0, (), 0)  # type: ignore[arg-type]
    with pytest.raises(ProfileError, match=r"^units: 'cubit' is not known here"):
        replace(whole, units="cubit")  # type: ignore[arg-type]
    with pytest.raises(ProfileError, match=r"^stock oak.kind: 'slab' is not known here"):
        replace(whole, stock=(board,))


def test_the_model_and_the_table_of_keys_offer_the_same_words() -> None:
    """For every section, neither more nor fewer choices, in the same order."""
    for name, section in SECTIONS.items():
        offered = {key.name: key.choices for key in KEYS.values() if key.section == name and key.choices}
        assert choices_of(section) == offered
        assert offered


def test_work_of_no_known_kind_is_refused() -> None:
    """A feature's kind is one of the table's."""
    with pytest.raises(DesignError, match='"gouge" is no kind of work; try groove, '):
        Feature("gouge", "top", rectangle(0, 0, 7, 3), 2, "cut")  # type: ignore[arg-type]
