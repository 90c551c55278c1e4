"""The price added up a second time, from the other lists of the packet."""

import csv
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence

from templategen.catalogue import translated, worded
from templategen.proof.difference import Difference
from templategen.proof.files import Held
from templategen.proof.lists import Row, read_rows
from templategen.proof.read_record import Record

PRICE, PLAN, HARDWARE = "lists/price.csv", "lists/plan.csv", "lists/hardware.csv"
BUY_LIST = "lists/buy-list.csv"

CENT = 0.0051
"""Half of the last digit of money, and rounding."""

HALF_A_MINUTE = 0.5 / 60 + 5e-4 + 1e-9
"""What the plan's sum of minutes leaves open, in hours, and the hours told to a thousandth."""


def price_differences(record: Record, files: Held, measured: Counter[str]) -> Iterator[Difference]:
    """Amounts that the layouts, the hardware or the plan don't bear out; sums that don't add up."""
    if files.read(PRICE) is None:
        return
    measured["by the sums of its price"] += 1
    try:
        told = {path: _rows(files, path) for path in (PRICE, PLAN, HARDWARE, BUY_LIST)}
        yield from (Difference(PRICE, where, says) for where, says in _unlike(record, told))
    except (ValueError, LookupError, TypeError, csv.Error) as trouble:
        yield Difference(PRICE, "", worded("can't be read ({trouble})", trouble=str(trouble)[:100]))


def _rows(files: Held, path: str) -> list[Row]:
    data = files.read(path)
    if data is None:
        raise ValueError(worded("{path} is missing", path=path))
    return read_rows(data.decode("utf-8"))


def _unlike(record: Record, told: Mapping[str, Sequence[Row]]) -> Iterator[tuple[str, str]]:
    *charges, bare, overhead, tax, total = told[PRICE]
    of_the_wood = translated("of the wood")
    pieces = Counter(sheet["name"] for sheet in record["stock"])
    amounts: dict[str, float] = {name: float(count) for name, count in pieces.items()}
    amounts |= {row["item"]: float(row["amount"]) for row in told[HARDWARE]}
    strips = [row for row in told[BUY_LIST] if row["kind"] == translated("test strip")]
    amounts |= {row["item"]: float(row["pieces"]) for row in strips}
    *operations, whole = told[PLAN]
    hours = float(whole["minutes"]) / 60
    listed = sum(float(row["minutes"]) for row in operations)
    if abs(listed - 60 * hours) > 0.51 * (len(operations) + 1):
        yield (
            "work at the bench",
            worded("is of {n:.0f} minutes, the operations listed come to {listed:.0f}", n=60 * hours, listed=listed),
        )
    prices = {sheet["name"]: float(sheet["price"]) for sheet in record["stock"]}
    prices |= {row["item"]: float(row["price_each"] or 0) for row in strips}
    wood = sum(amounts[name] * prices[name] for name in prices)
    for row in charges:
        amount, each, cost = (float(row[cell]) for cell in ("amount", "price_each", "cost"))
        known = row["unit"] in ("h", of_the_wood)
        wanted, near = amounts.pop(row["item"], amount if known else 0.0), 1e-3
        if row["unit"] == "h":
            wanted, near = hours, HALF_A_MINUTE
        if row["unit"] == of_the_wood and abs(each - wood) > CENT:
            yield row["item"], worded("is a share of {each:.2f}, the boards come to {wood:.2f}", each=each, wood=wood)
        if row["item"] in prices and abs(each - prices[row["item"]]) > CENT:
            yield (
                row["item"],
                worded("{each:.2f} each, the record says {prices:.2f}", each=each, prices=prices[row["item"]]),
            )
        if abs(amount - wanted) > near:
            yield (
                row["item"],
                worded(
                    "{amount:g} {unit}, the other lists say {wanted:g}",
                    amount=amount,
                    unit=row["unit"],
                    wanted=wanted,
                ),
            )
        if abs(amount * each - cost) > CENT + 5e-4 * each:
            yield (
                row["item"],
                worded(
                    "{amount:g} at {each:g} come to {n:.2f}, not {cost:.2f}",
                    amount=amount,
                    each=each,
                    n=amount * each,
                    cost=cost,
                ),
            )
    yield from ((item, translated("is bought and has no price")) for item in amounts)
    yield from _sums([float(row["cost"]) for row in charges], bare, overhead, tax, total)


def _sums(costs: Sequence[float], bare: Row, overhead: Row, tax: Row, total: Row) -> Iterator[tuple[str, str]]:
    sums = sum(costs)
    on_top = sums * float(overhead["amount"]) / 100
    taxed = (sums + on_top) * float(tax["amount"]) / 100
    for row, wanted in ((bare, sums), (overhead, on_top), (tax, taxed), (total, sums + on_top + taxed)):
        if abs(float(row["cost"]) - wanted) > 3 * CENT:
            yield (
                row["item"],
                worded("{cost}, the lines above it come to {wanted:.2f}", cost=row["cost"], wanted=wanted),
            )
