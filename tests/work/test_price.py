"""The price of a table, added up a second time from the written lists; every figure of it put wrong is noticed."""

from __future__ import annotations

import csv
from collections import Counter
from functools import cache
from io import StringIO

import pytest

from templategen.packet.make import Packet, make_packet
from templategen.packet.shipped import shipped_text
from templategen.proof.price import PRICE, price_differences
from templategen.table.profile.read import profile_from_text

RATES = """
[rates]
hourly = 41
pin_price = 0.35
glue_price = 23.4
finish_price = 31.2
waste = 7
overhead = 12
tax = 19
doubt = 30
"""


@cache
def packet() -> Packet:
    """The side table twice over, with prices of which no two are alike."""
    return make_packet(
        profile_from_text(shipped_text("towpath-side") + RATES, "priced"), ("lists", "stock"), tables=2
    )


class Written:
    """The packet's files, one of them changed."""

    def __init__(self, price: bytes) -> None:
        self.price = price

    def read(self, path: str) -> bytes | None:
        return self.price if path == PRICE else packet().files.get(path)


def rows(name: str) -> list[dict[str, str]]:
    return list(csv.DictReader(StringIO(packet().files[f"lists/{name}.csv"].decode())))


def found(price: bytes) -> list[str]:
    return [str(one) for one in price_differences(packet().record, Written(price), Counter())]  # type: ignore[arg-type]


@pytest.mark.wide
def test_the_price_is_the_sum_of_the_written_lists() -> None:
    wood = sum(float(row["cost"] or 0) for row in rows("buy-list"))
    unit = {"pieces": 0.35, "kg": 23.4, "l": 31.2}
    other = sum(float(row["amount"]) * unit[row["unit"]] for row in rows("hardware"))
    hours = float(rows("plan")[-1]["minutes"]) / 60
    bare = wood * 1.07 + other + hours * 41
    told = {row["item"]: row for row in rows("price")}
    assert wood > 0 and other > 0
    assert float(told["materials and work"]["cost"]) == pytest.approx(bare, abs=0.4)
    assert float(told["price"]["cost"]) == pytest.approx(bare * 1.12 * 1.19, abs=0.6)
    low, high = (float(word) for word in told["price"]["from"].split()[1::2])
    assert high - low == pytest.approx(2 * hours * 41 * 0.3 * 1.12 * 1.19, abs=0.6)


def test_the_proof_adds_it_up_and_sees_each_figure_put_wrong() -> None:
    text = packet().files[PRICE].decode()
    assert found(text.encode()) == []
    lines = text.split("\r\n")
    for number, line in enumerate(lines[1:-1], 1):
        cells = next(csv.reader([line]))
        for place in (1, 3, 4):
            if cells[place] and float(cells[place]):
                wrong = [*cells[:place], f"{float(cells[place]) * 1.02 + 1:.2f}", *cells[place + 1 :]]
                changed = "\r\n".join([*lines[:number], ",".join(f'"{one}"' for one in wrong), *lines[number + 1 :]])
                assert found(changed.encode()), f"{cells[0]}, cell {place}"


@pytest.mark.wide
def test_no_rate_no_price() -> None:
    assert PRICE not in make_packet(profile_from_text(shipped_text("towpath-side"), "plain"), ("lists",)).files
