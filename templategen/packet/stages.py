"""What is worked out of a profile before anything is drawn or written: a line for each stage."""

from __future__ import annotations

from collections.abc import Callable
from operator import attrgetter

from templategen.checks.finding import ORDER, Finding
from templategen.checks.run import Examination, examine
from templategen.fit.plan import Plan
from templategen.packet.jigs import NO_JIGS, JigPlan, plan_jigs
from templategen.packet.lay_out import LaidStock, lay_out_together, stock_findings
from templategen.packet.pipeline import Stage, share, stage
from templategen.packet.supply import Order
from templategen.shop.closing.finding import closing_findings
from templategen.shop.closing.study import ClosingStudy, closing_study
from templategen.shop.explained import explained
from templategen.shop.gluing.plan import gluing_plan
from templategen.shop.hardware import hardware
from templategen.shop.set_ups.run import set_ups
from templategen.table.assembly import Table, build_table
from templategen.table.profile.model import Profile, Stock

Tell = Callable[[str, float], None]
"""Told what is being made and how much of all the work is done, 0 to 1."""

LARGEST_PRICE = 1e5
"""Costs from here on are areas in mm2: the stock has no prices."""

LAYING_OUT = (0.1, 0.3)
"""From where to where of all the work stock is laid out."""


def _ordered(*lists: tuple[Finding, ...]) -> tuple[Finding, ...]:
    """All findings, the gravest first."""
    found = (finding for one in lists for finding in one)
    return tuple(sorted(found, key=lambda finding: ORDER[finding.level]))


def _checked(seen: Examination, table: Table) -> tuple[Finding, ...]:
    return _ordered(seen.findings, closing_findings(table))


def _orders(table: Table, tables: int, jigs: JigPlan) -> tuple[Order, ...]:
    return (Order(table, tables, jigs=jigs.of_sheet(table.profile)),)


def _laid_out(orders: tuple[Order, ...], stock: tuple[Stock, ...], effort: float | None, tell: Tell) -> LaidStock:
    first, last = LAYING_OUT
    return lay_out_together(
        orders, stock, effort, lambda done, best: tell(nesting_now(best), first + (last - first) * done)
    )


def nesting_now(best: float | None) -> str:
    """What is being made while stock is laid out: the best cost so far, or its area in m2 where no price is given."""
    if best is None:
        return "stock"
    return f"stock, best {best:.2f}" if best < LARGEST_PRICE else f"stock, best {best / 1e6:.2f} m2"


def _stock_findings(
    orders: tuple[Order, ...], stock: tuple[Stock, ...], laid: LaidStock | None
) -> tuple[Finding, ...]:
    return stock_findings(orders, stock, laid) if laid else ()


PROFILE: Stage[Profile] = Stage("profile")
TABLES: Stage[int] = Stage("number of tables")
EFFORT: Stage[float | None] = Stage("seconds for nesting")
TELL: Stage[Tell] = Stage("who is told of progress", compared=False)

TABLE = stage("table", build_table, PROFILE)
EXAMINED = stage("proofs of fit", examine, TABLE)
PLAN: Stage[Plan] = stage("order of assembly", attrgetter("plan"), EXAMINED)
CHECKED = stage("findings of the table", _checked, EXAMINED, TABLE)
CLOSING: Stage[ClosingStudy] = stage("closing study", closing_study, stage("sizes", attrgetter("sizes"), TABLE))
JIGS = share("jigs", "jigs", plan_jigs, TABLE, without=NO_JIGS)
SET_UPS = stage("set-ups", set_ups, TABLE, TABLES)
GLUING = stage("gluing plan", gluing_plan, TABLE, PLAN)
HARDWARE = stage("hardware", hardware, TABLE, GLUING, TABLES)
FIGURES = stage("figures explained", explained, TABLE, PLAN)

ORDERS = stage("orders", _orders, TABLE, TABLES, JIGS)
STOCK: Stage[tuple[Stock, ...]] = stage("stock", attrgetter("stock"), PROFILE)
LAID: Stage[LaidStock | None] = share("layouts", "stock lists", _laid_out, ORDERS, STOCK, EFFORT, TELL, without=None)
OF_STOCK = stage("findings of the stock", _stock_findings, ORDERS, STOCK, LAID)
LEFT_OUT: Stage[tuple[Finding, ...]] = stage("jigs left out", attrgetter("left_out"), JIGS)
FINDINGS = stage("findings", _ordered, CHECKED, OF_STOCK, LEFT_OUT)
