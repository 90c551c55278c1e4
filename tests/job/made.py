"""A packet made with a workshop file, once in a run for all its workers; the files it was made from are gone."""

from __future__ import annotations

import os
from functools import cache
from pathlib import Path

from templategen.packet.make import make_packet
from templategen.packet.shipped import shipped_folder
from templategen.packet.write import write_packet
from templategen.table.profile.read import read_profile
from tests.conftest import SHARED
from tests.shipped_packets import alone

TABLE = """format = 1
title = "Weir & <lock> table"
shop = "weir-shop.toml"
[top]
diameter = 820
segments = 6
[slats]
gap = 7
"""


def shop_text() -> str:
    """The workshop file, two of its boards counted."""
    text = (shipped_folder() / "workshops" / "towpath.toml").read_text(encoding="utf-8")
    counted = text.replace("price = 21.50", "count = 8  # on Sunday\nprice = 21.50")
    return counted.replace("price = 16.00", "count = 3\nprice = 16.00")


@cache
def weir() -> Path:
    """The packet's folder, with lists and the customer's sheet, to be read and not changed."""
    shared = Path(os.environ[SHARED])
    folder, profile, shop = (shared / name for name in ("weir", "weir.toml", "weir-shop.toml"))
    with alone(shared / "weir.lock"):
        if not folder.exists():
            profile.write_text(TABLE, encoding="utf-8")
            shop.write_text(shop_text(), encoding="utf-8")
            write_packet(make_packet(read_profile(profile), ("lists", "customer")), folder)
            profile.unlink()
            shop.unlink()
    return folder


def made(path: str) -> bytes:
    """A file of it."""
    return (weir() / path).read_bytes()
