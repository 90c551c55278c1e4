"""A sheet laid out for a routing machine tells how it is sawn by whoever has none, and what is minded at the saws."""

from __future__ import annotations

from dataclasses import replace

from templategen.drawing.cautions import ROUTING, sawing
from templategen.packet.page.stock import sawn_instead, stock
from templategen.packet.stages import LAID
from templategen.packet.table_stages import TABLE, begun
from tests.table.made import profile_of


def test_plywood_for_jigs_tells_the_saws_order_and_cautions_once() -> None:
    """On the first of three sheets: the sheet into parts, then the large pieces, then small ones."""
    worked = begun(profile_of(name="towpath-dining"), shares=("stock", "jigs"))
    table, laid = worked[TABLE], worked[LAID]
    section = stock(table, laid)
    assert section and laid
    first, *more = [one for one in section.sheets if one.name.startswith("jig plywood")]
    instead = next(line for line in first.words if "Without a routing machine" in line)
    order = ("circular saw along a guide", "bandsaw takes", "large ones first", "bored hole", "to the line")
    assert all(words in instead for words in order) and instead.index("large ones") < instead.index("small one while")
    saws = sawing(table.profile.shop.machines, table.profile.shop.hand_tools)
    assert set(first.cautions) >= {*ROUTING} and len(first.cautions) == len({*ROUTING, *saws})
    assert more and not any("Without a routing machine" in " ".join(one.words) or one.cautions for one in more)


def test_a_shop_that_saws_no_curve_is_not_told_to() -> None:
    """Neither bandsaw nor bow saw."""
    shop = profile_of(name="towpath-dining").shop
    assert "bow saw takes" in sawn_instead(replace(shop, machines=(), hand_tools=("rip saw", "bow saw")))
    assert not sawn_instead(replace(shop, machines=("circular saw",), hand_tools=("rip saw",)))
