"""The price of a table made with a workshop file, summed a second time from lists; what was slipped in is seen."""

from __future__ import annotations

import csv
from collections import Counter
from fractions import Fraction
from io import StringIO

import pytest

from templategen.proof.price import PLAN, PRICE, price_differences
from templategen.proof.read_record import read_record
from tests.job.made import made, weir


class Written:
    """The packet's files, some of them changed."""

    def __init__(self, **changed: bytes) -> None:
        self.changed = {f"lists/{name}.csv": data for name, data in changed.items()}

    def read(self, path: str) -> bytes | None:
        return self.changed.get(path, made(path))


def rows(path: str) -> list[list[str]]:
    return list(csv.reader(StringIO(made(path).decode())))


def data(some: list[list[str]]) -> bytes:
    text = StringIO()
    csv.writer(text).writerows(some)
    return text.getvalue().encode()


def found(**changed: bytes) -> list[str]:
    return [str(one) for one in price_differences(read_record(weir()), Written(**changed), Counter())]  # type: ignore[arg-type]


def test_the_total_follows_from_the_lists_in_exact_money() -> None:
    """Boards by their prices in the rack, pins, glue and finish by theirs, hours by the plan, each rounded once."""
    price = {"larch 38": "21.5", "larch 22": "13.3", "larch 58": "19.8", "larch posts": "16", "jig plywood": "38"}
    pieces = Counter(sheet["name"] for sheet in read_record(weir())["stock"])
    bought = [row for row in rows("lists/buy-list.csv") if row[1] == "test strip" and row[8]]
    assert [row[0] for row in bought] == ["larch 58, for test strips"]
    pieces["larch 58"] += sum(int(row[3]) for row in bought)
    wood = sum(count * Fraction(price[name]) for name, count in pieces.items())
    unit = {"pieces": Fraction("0.12"), "kg": Fraction(18), "l": Fraction(26)}
    hardware = sum(Fraction(row[1]) * unit[row[2]] for row in rows("lists/hardware.csv")[1:])
    hours = Fraction(rows(PLAN)[-1][9]) / 60
    total = (wood * Fraction("1.1") + hardware + hours * 34) * Fraction("1.12") * Fraction("1.2")
    told = {row[0]: row for row in rows(PRICE)}
    assert float(told["price"][4]) == pytest.approx(float(total), abs=0.5 / 60 * 34 * 1.4 + 0.05)
    assert found() == []


def test_a_charge_that_no_other_list_has_is_seen() -> None:
    """Slipped in with all sums made to agree."""
    *charges, bare, overhead, tax, total = rows(PRICE)
    sums = [Fraction(bare[4]) + 40]
    sums += [sums[0] * Fraction("0.12")]
    sums += [(sums[0] + sums[1]) * Fraction("0.2")]
    for row, wanted in zip((bare, overhead, tax, total), (*sums, sum(sums)), strict=True):
        row[4] = f"{float(wanted):.2f}"
    extra = ["brass plate", "1", "pieces", "40.00", "40.00", "as agreed"]
    assert found(price=data([*charges, extra, bare, overhead, tax, total])) == [
        f"{PRICE}: brass plate: 1 pieces, the other lists say 0"
    ]


def test_an_operation_dropped_from_the_plan_is_seen() -> None:
    heaviest = max(rows(PLAN)[1:-1], key=lambda row: float(row[9]))
    assert "the operations listed come to" in found(plan=data([row for row in rows(PLAN) if row != heaviest]))[0]


def test_a_board_counted_twice_is_seen() -> None:
    head, first, *rest = rows(PRICE)
    assert any(first[0] in said for said in found(price=data([head, first, first, *rest])))
