"""Packets of the shipped tables for the browser, each made once in a process."""

from __future__ import annotations

from functools import cache

import pytest

from templategen.packet.make import Packet, make_packet
from templategen.packet.shipped import shipped_text
from templategen.table.profile.read import profile_from_text

NAMES = ("towpath-dining", "towpath-hex", "towpath-inch", "towpath-side")

FILLS = 300
"""A tenth of the usual work on layouts: what is asked here is that they show, not that they are cheap."""


@cache
def packet_of(name: str) -> Packet:
    """Everything but parts and paper, which take the longest; those are linked only where they are."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("templategen.nesting.engines.rectangles.DEFAULT_FILLS", FILLS)
        return make_packet(profile_from_text(shipped_text(name), name), ("stock", "jigs", "lists", "page"))


def page_of(name: str) -> str:
    """Its page."""
    return packet_of(name).files["index.html"].decode()
