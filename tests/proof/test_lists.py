"""The cut list held against the record: every size, every count, every row."""

from __future__ import annotations

from collections import Counter
from typing import Any

import pytest

from templategen.proof.lists import list_differences

HEADER = "code,name,count,wood,length_mm,width_mm,thickness_mm,ends,features,revision\r\n"
ROWS = (
    "RAIL,rail,2,ash,1124.00,84.00,38.00,square,,00000001",
    "LEG,leg,6,ash,630.25,70.00,69.50,5.00 deg off square,,00000002",
)
KEYS = ("code", "name", "wood", "kind", "count", "revision", "size")


def record(**changes: Any) -> Any:
    """Two parts, no two sizes alike."""
    rail = ("RAIL", "rail", "ash", "rail", 2, "00000001", [1124, 84, 38])
    leg = ("LEG", "leg", "ash", "leg", 6, "00000002", [630.254, 70, 69.5])
    return {"parts": [dict(zip(KEYS, one, strict=True)) for one in (rail, leg)], **changes}


class Listed:
    """A packet's folder with a cut list alone."""

    def __init__(self, data: bytes) -> None:
        self.data = data

    def read(self, path: str) -> bytes | None:
        """The cut list."""
        return self.data if path == "lists/cut-list.csv" else None


def said(record: Any, *rows: str) -> list[str]:
    """What is told of a list of these rows."""
    data = (HEADER + "\r\n".join(rows) + "\r\n").encode()
    return [str(one) for one in list_differences(record, Listed(data), Counter())]


def test_a_list_as_the_record_says_is_true() -> None:
    """To half of its last digit; for several tables so many times as much; whatever the order of its rows."""
    assert said(record(), *ROWS) == []
    assert said(record(), *reversed(ROWS)) == []
    assert said(record(tables=3), *(row.replace(",2,", ",6,").replace("leg,6", "leg,18") for row in ROWS)) == []


@pytest.mark.parametrize(
    ("old", "new"),
    [("1124.00", "1124.02"), ("84.00", "83.98"), ("38.00", "38.02"), ("1124.00,84.00", "84.00,1124.00"),
     ("84.00,38.00", "38.00,84.00")],
)  # fmt: skip
def test_each_size_is_compared_with_its_own(old: str, new: str) -> None:
    """Two hundredths of a millimetre off in any of the three, or two of them exchanged."""
    found = said(record(), ROWS[0].replace(old, new), ROWS[1])
    assert len(found) == 1 and "RAIL" in found[0] and "sizes" in found[0]


def test_counts_rows_and_figures_are_asked_for() -> None:
    """One piece too few, a row left out, words where a size should be."""
    (found,) = said(record(), ROWS[0], ROWS[1].replace("leg,6", "leg,5"))
    assert "LEG" in found and "5 pieces" in found and "6" in found
    (found,) = said(record(), ROWS[1])
    assert "RAIL" in found and "isn't listed" in found
    (found,) = said(record(), ROWS[0], ROWS[1].replace("00000002", "00000001"))
    assert "LEG" in found and "revision 00000001" in found and "00000002" in found
    (found,) = said(record(), ROWS[0].replace("84.00", "wide"), ROWS[1])
    assert "RAIL" in found and "can't be read" in found
